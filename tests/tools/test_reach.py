"""The reachability step: what it names, and what it must leave alone."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "tools"))

import reach

SOURCE = {
    "__init__": "",
    "__main__": "",
    "web/__init__": "",
    "web/app": "app = object()\n",
    "cli/__init__": "",
    "cli/main": """
from hoopwright.bed import Bed, bed_of

def main() -> None:
    bed = bed_of(2.0)
    print(bed.width, twice(bed))

def twice(bed: Bed) -> float:
    return 2.0 * bed.area()

def nobody_calls() -> None:
    nor_this()

def nor_this() -> None: ...
""",
    "bed": """
from dataclasses import dataclass

LEAST, MOST = 0.1, 9.0
UNREAD = 3.0

@dataclass(frozen=True)
class Bed:
    width: float
    def area(self) -> float:
        return max(self.width, LEAST)
    def volume(self) -> float:
        return 0.0

@dataclass(frozen=True)
class Barrel:
    def area(self) -> float:
        return 0.0

def bed_of(width: float) -> Bed:
    return Bed(width)
""",
}


@pytest.fixture
def program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Write a small program with dead parts, and take away the real one's exceptions."""
    for name, text in SOURCE.items():
        path = tmp_path / "src" / "hoopwright" / f"{name}.py"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    monkeypatch.setattr(reach, "EXCEPTIONS", {})
    return tmp_path


def test_what_no_door_reaches_is_named_and_nothing_else(program: Path) -> None:
    named = {one.shown for one in reach.unreachable(program)}
    assert named == {"nobody_calls", "nor_this", "UNREAD", "Bed.volume", "Barrel"}


def test_a_name_fetched_by_its_word_is_in_use(program: Path) -> None:
    main = program / "src" / "hoopwright" / "cli" / "main.py"
    main.write_text(main.read_text().replace("bed.area()", 'getattr(bed, "volume")()'))
    named = {one.shown for one in reach.unreachable(program)}
    assert "Bed.volume" not in named


def test_an_exception_that_names_nothing_is_refused(
    program: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reach, "EXCEPTIONS", {"hoopwright.bed.gone": "a reason"})
    with pytest.raises(SystemExit, match="names nothing"):
        reach.unreachable(program)
