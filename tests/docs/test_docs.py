"""Documentation that cannot rot: pages printed from the code, names all explained."""

import ast
import importlib.util
import re
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"


def generator():
    sys.path.insert(0, str(DOCS))  # the page of sources is made by a file beside it
    spec = importlib.util.spec_from_file_location("generate", DOCS / "generate.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("page", ["guide/plan-keys.md", "guide/commands.md", "sources.md"])
def test_pages_printed_from_the_code_are_up_to_date(page):
    assert (DOCS / page).read_text() == generator().PAGES[page](), "run `make docs`"


def test_every_command_stands_in_the_readme():
    readme = (ROOT / "README.md").read_text()
    commands = re.findall(r"^## hoopwright (\w+)", (DOCS / "guide/commands.md").read_text(), re.M)
    assert len(commands) >= 7
    missing = [name for name in commands if f"hoopwright {name}" not in readme]
    assert not missing


def test_every_link_in_the_documentation_leads_somewhere():
    for page in [*DOCS.rglob("*.md"), ROOT / "README.md", ROOT / "CONTRIBUTING.md"]:
        for target in re.findall(r"\]\(([^)#:]+)\)", page.read_text()):
            assert (page.parent / target).exists(), f"{page}: {target}"


def test_every_table_is_mentioned_in_the_sources_page():
    sources = (DOCS / "sources.md").read_text()
    tables = sorted(path.stem for path in (ROOT / "src/hoopwright/tables/data").glob("*.csv"))
    missing = [table for table in tables if f"`{table}`" not in sources]
    assert not missing


def test_modules_and_functions_stay_readable():
    """Under 400 lines a module and under 80 a function, but for the march through the year."""
    long = {}
    for path in (ROOT / "src").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        if (lines := len(text.splitlines())) >= 400:
            long[str(path.relative_to(ROOT))] = lines
        for part in ast.walk(ast.parse(text)):
            if isinstance(part, ast.FunctionDef) and part.end_lineno - part.lineno >= 80:
                long[part.name] = part.end_lineno - part.lineno + 1
    assert list(long) == ["march"]
