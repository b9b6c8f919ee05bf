"""One name for one thing, and one room for the units: read off the source itself."""

import ast
import re
from collections import defaultdict
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "hoopwright"
ROOMS_WITH_UNITS = {"units", "cli", "web", "sheet", "drawing", "__main__.py"}
#: The plan's key says which units, and the starter writes a plan in them.
KEY = {"plan/model.py", "plan/starter.py"}
ASKS = re.compile(r"\.units ==|system\.name|== \"metric\"|== \"us\"|\bmetric: bool")


def classes():
    found = defaultdict(list)
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                found[node.name].append(str(path.relative_to(SOURCE)))
    return found


def test_no_class_name_stands_for_two_things():
    twice = {name: places for name, places in classes().items() if len(places) > 1}
    assert not twice, "one name, one thing: rename one of each pair"


def test_only_units_and_the_doors_ask_for_the_units_shown():
    asking = {
        str(path.relative_to(SOURCE)): ASKS.findall(path.read_text(encoding="utf-8"))
        for path in sorted(SOURCE.rglob("*.py"))
        if path.relative_to(SOURCE).parts[0] not in ROOMS_WITH_UNITS
        and str(path.relative_to(SOURCE)) not in KEY
    }
    assert len(asking) > 200
    assert {path: found for path, found in asking.items() if found} == {}


def test_the_middle_of_a_range_is_called_likely():
    """But for a bar on a page, whose number may have no range."""
    wrong = []
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and node.name != "RangeBar":
                fields = {one.target.id for one in node.body if isinstance(one, ast.AnnAssign)}
                if fields >= {"low", "high"} and fields & {"value", "best"}:
                    wrong.append(node.name)
    assert wrong == []


def test_gravity_is_written_once():
    places = [
        str(path.relative_to(SOURCE))
        for path in SOURCE.rglob("*.py")
        if "9.8066" in path.read_text(encoding="utf-8")
    ]
    assert places == ["units/convert.py"]
