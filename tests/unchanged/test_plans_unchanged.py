"""Twenty plans that differ in every choice: whole ladders, orders and seasons as they were.

A change shows its reach here in one diff; whether the new numbers are right, other tests say. After
looking, write them anew with

    HOOPWRIGHT_FREEZE=1 python -m pytest tests/unchanged

Numbers are printed to 5 digits and compared to 1 in 2,000, so that machines whose sums differ in
the last places agree; a line whose numbers agree keeps its text. Seasons are of two years only, so
that whatever works on them is run and the test stays short.
"""

from __future__ import annotations

import difflib
import json
import math
import os
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from hoopwright.caching import kept
from hoopwright.cli.main import app

PLANS = sorted((Path(__file__).parent / "plans").glob("*.toml"))
COMMANDS = (("check",), ("limits", "--no-changes"), ("cut",), ("season",))
# Words, and what other numbers say already.
LEFT_OUT = {
    "says", "do", "source", "sources", "sentence", "cautions", "curve_m", "bound", "kerf_m",
    "frost_curves", "origin", "units", "example_prices", "price_date", "harm", "stretches",
}  # fmt: skip
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?")
RELATIVE, ABSOLUTE = 5e-4, 1e-6
WIDTH = 150


def answers(words: tuple[str, ...], plan: Path) -> Any:
    """Return what a command answers a machine."""
    command, *options = words
    asked = [command, str(plan), "--json", *options]
    done = CliRunner().invoke(app, asked, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def short(value: Any) -> str:
    """Return a value on one line, numbers to 5 digits."""
    if isinstance(value, float):
        return f"{value:.5g}" if math.isfinite(value) else "none"
    if isinstance(value, list):
        return "[" + ", ".join(map(short, value)) + "]"
    if isinstance(value, dict):
        kept = ((name, part) for name, part in value.items() if name not in LEFT_OUT)
        return ", ".join(f"{name} {short(part)}" for name, part in kept if part not in ({}, []))
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "none" if value is None else str(value)


def lines(name: str, value: Any, depth: int = 0) -> Iterator[str]:
    """Yield the lines of an answer: one where it fits, else one for each part below it."""
    if isinstance(value, dict) and "pieces" in value:
        value = {**value, "pieces": counted(value["pieces"])}
    indent = "  " * depth
    whole = f"{indent}{name}: {short(value)}"
    if len(whole) <= WIDTH or not isinstance(value, dict | list):
        yield whole
        return
    yield f"{indent}{name}:"
    if isinstance(value, list):
        for number, part in enumerate(value, start=1):
            named = isinstance(part, dict) and (part.get("name") or part.get("thing"))
            yield from lines(str(named or number), _unnamed(part), depth + 1)
        return
    for key, part in value.items():
        if key not in LEFT_OUT:
            yield from lines(key, part, depth + 1)


def _unnamed(part: Any) -> Any:
    return {k: v for k, v in part.items() if k != "name"} if isinstance(part, dict) else part


def counted(pieces: list[dict[str, Any]]) -> list[str]:
    """Return the pieces cut from a stick or roll, alike ones together."""
    sizes = [
        " x ".join(short(value) for name, value in piece.items() if isinstance(value, float))
        for piece in pieces
    ]
    return [f"{count} of {size}" for size, count in sorted(Counter(sizes).items())]


def said_now(plan: Path) -> list[str]:
    """Return everything the program says of a plan."""
    return [
        line
        for words in COMMANDS
        for name, part in answers(words, plan).items()
        if name not in LEFT_OUT
        for line in lines(f"{words[0]} {name}", part)
    ]


def agree(old: str, new: str) -> bool:
    """Return whether two lines say the same, numbers within the tolerance."""
    if NUMBER.sub("#", old) != NUMBER.sub("#", new):
        return False
    pairs = zip(NUMBER.findall(old), NUMBER.findall(new), strict=True)
    return all(
        math.isclose(float(a), float(b), rel_tol=RELATIVE, abs_tol=ABSOLUTE) for a, b in pairs
    )


def settled(old: list[str], now: list[str]) -> list[str]:
    """Return the lines of now, in the text of old where they agree."""
    plain = [[NUMBER.sub("#", line) for line in text] for text in (old, now)]
    text = list(now)
    for a, b, size in difflib.SequenceMatcher(None, *plain, autojunk=False).get_matching_blocks():
        for step in range(size):
            if agree(old[a + step], now[b + step]):
                text[b + step] = old[a + step]
    return text


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.stem)
def test_the_plan_gives_what_it_gave(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "load", lambda *_: None)  # nothing from an earlier run
    path = plan.with_suffix(".txt")
    old = path.read_text(encoding="utf-8").splitlines() if path.exists() else []
    text = settled(old, said_now(plan))
    if os.environ.get("HOOPWRIGHT_FREEZE"):
        path.write_text("\n".join(text) + "\n", encoding="utf-8")
        return
    moved = list(difflib.unified_diff(old, text, "frozen", "now", lineterm="", n=0))
    assert not moved, "\n".join(moved[:40])


@pytest.mark.parametrize(
    ("key", "least"),
    {
        "pipe": 11, "material": 12, "species": 8, "rail": 5, "batten": 3, "stake": 4, "soil": 3,
        "sides": 4, "ridge": 3, "roll_up": 3, "barrier": 3, "exposure": 2, "board": 6,
    }.items(),
)  # fmt: skip
def test_the_plans_differ_in_every_choice(key: str, least: int) -> None:
    """Each choice stands in at least so many ways, the default not counted."""
    text = "\n".join(plan.read_text(encoding="utf-8") for plan in PLANS)
    assert len(set(re.findall(rf'^{key} = "([^"]+)"', text, re.MULTILINE))) >= least
