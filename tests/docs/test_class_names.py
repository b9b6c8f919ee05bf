"""One idea, one name: no class of these rooms shares its name with another class."""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "hoopwright"
ROOMS = ("cutting", "materials", "programme", "readings", "tables")
SHARED = {"Choice", "Growth", "Option"}
"""Names of the search for a cover that other rooms have too; they may only become fewer."""


def test_a_class_of_these_rooms_has_a_name_of_its_own() -> None:
    """`Cut`, `Job`, `Line`, `Share` and `Station` each meant two or three things."""
    places: dict[str, set[str]] = defaultdict(set)
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef):
                places[node.name].add(str(path.relative_to(SOURCE)))
    twice = {
        name
        for name, files in places.items()
        if len(files) > 1 and any(file.startswith(ROOMS) for file in files)
    }
    assert twice <= SHARED
