"""Text for a terminal: wrapped, indented, and no wider than it is; and a bar of progress."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.progress import Progress

GUIDANCE = (
    "Guidance for small garden covers that nobody shelters in. Local codes rule; ask a licensed "
    "engineer where people could be hurt."
)


def width() -> int:
    """Return how wide to write: the terminal, but no wider than reads well."""
    return min(96, max(40, shutil.get_terminal_size((80, 24)).columns))


def paragraph(text: str, *, first: str = "", rest: str = "") -> str:
    """Return text wrapped to the terminal behind a first and a following indent."""
    return textwrap.fill(text, width(), initial_indent=first, subsequent_indent=rest)


def indented(text: str) -> str:
    """Return text wrapped behind the usual indent."""
    return paragraph(text, first="  ", rest="  ")


def labelled(label: str, text: str, column: int = 18) -> str:
    """Return a label and its text in two columns; a label too long stands on its own line."""
    if len(label) > column - 2:
        return indented(label) + "\n" + labelled("", text, column)
    return paragraph(text, first=f"  {label:<{column}}", rest=" " * (column + 2))


def table(head: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> str:
    """Return rows in columns under a ruled head; the first column is wrapped to fit the width.

    Where that does not fit, heads of several words go over several lines; where even that does
    not, each row stands by itself, a line for each cell.
    right : columns set to the right, for numbers
    """
    cells = [max([0, *(len(row[column]) for row in rows)]) for column in range(len(head))]
    whole = [max(size, len(name)) for size, name in zip(cells, head, strict=True)]
    words = [max([size, *map(len, name.split())]) for size, name in zip(cells, head, strict=True)]
    for widths in (whole, words):
        spare = width() - 2 - sum(widths[1:]) - 2 * (len(widths) - 1)
        if spare >= min(16, widths[0]):
            break
    else:
        return "\n".join(_stacked(head, row) for row in rows)
    widths[0] = min(widths[0], max(spare, 16))

    def one(cells: Sequence[str]) -> str:
        first, *more = textwrap.wrap(cells[0], widths[0]) or [""]
        placed = [
            cell.rjust(size) if column in right else cell.ljust(size)
            for column, (cell, size) in enumerate(zip([first, *cells[1:]], widths, strict=True))
        ]
        below = [f"    {line}" for line in more]
        return "\n".join([("  " + "  ".join(placed)).rstrip(), *below])

    rule = "  " + "-" * (sum(widths) + 2 * (len(widths) - 1))
    return "\n".join([*map(one, _heads(head, widths)), rule, *map(one, rows)])


def _heads(head: Sequence[str], widths: Sequence[int]) -> list[tuple[str, ...]]:
    """Return the lines of a head whose names are wrapped, each standing on the rule."""
    wrapped = [textwrap.wrap(n, max(1, size)) for n, size in zip(head, widths, strict=True)]
    tall = max(map(len, wrapped))
    return list(zip(*([""] * (tall - len(name)) + name for name in wrapped), strict=True))


def _stacked(head: Sequence[str], row: Sequence[str]) -> str:
    """Return one row for a terminal too narrow for its columns: each cell behind its head."""
    first, *more = row
    named = [
        paragraph(f"{name}: {cell}" if name else cell, first="    ", rest="      ")
        for name, cell in zip(head[1:], more, strict=True)
        if cell
    ]
    return "\n".join([paragraph(first, first="  ", rest="    "), *named])


def as_json(data: Any) -> str:
    """Return data as JSON that a person can read too, in ASCII where not all letters can go out."""
    whole = (sys.stdout.encoding or "").lower().startswith("utf")
    return json.dumps(data, indent=2, ensure_ascii=not whole, allow_nan=False)


def bar() -> Progress:
    """Return a bar with its words and the time left, on the error stream; gone when it ends."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}"), BarColumn(), TimeRemainingColumn())
    return Progress(*columns, console=Console(stderr=True), transient=True)


def print_files(paths: Iterable[Path], json: bool) -> None:
    """Print the files written, a line each or as JSON."""
    names = [str(path) for path in paths]
    print(as_json({"files": names}) if json else "\n".join(names))
