"""How the cells of the card are packed: heights from the shipped type's own widths, column by
column, with pictures as tall as the paper allows."""

import re
from collections.abc import Sequence
from itertools import pairwise

from hoopwright.drawing.font import text_width
from hoopwright.frozen import dataclass
from hoopwright.sheet.content import HELD_UNITS, Diagram
from hoopwright.tables.constants import INCH

#: All on the card is set at 10 points [m]; from line to line as the template sets it.
SIZE = 10 * INCH / 72
LINE = 1.17 * SIZE
#: Between two lines, which the last line of a paragraph has not under it.
LEADING = 0.481 * SIZE
#: A number is held to its fraction and its unit, as the template holds them.
_HELD = re.compile(
    rf"(?<=\d) (?=\d+/\d+|%|(?:{HELD_UNITS})\b)|(?<=\d ft) (?=(?:\d+ )?\d+(?:/\d+)? in\b)"
)
#: Under a cell, under its picture, over and under a caution, and between a picture and the words
#: beside it [m], as the template has them; of two gaps that meet the larger holds.
GAP, UNDER, OVER_BOX, UNDER_BOX, BESIDE = 0.0018, 0.0004, 0.0012, 0.0017, 0.0025
#: What a letter's box takes beside its letter [m].
LETTER = 0.002
#: Columns of a row of numbers: how many, and what it costs [m].
COUNT_WIDTH, COST_WIDTH = 0.007, 0.016


@dataclass(frozen=True)
class Marked:
    """A caution with its letter; `text` is empty where it was told before."""

    letter: str
    text: str


@dataclass(frozen=True)
class Cell:
    """What stands together on the card.

    number   : of a step, or ""
    rows     : (how many, what, what it costs)
    cautions : those told here; marks: letters of those told before
    run_in   : True where the title begins the first line of the words
    """

    title: str
    words: tuple[str, ...] = ()
    number: str = ""
    picture: Diagram | None = None
    rows: tuple[tuple[str, str, str], ...] = ()
    cautions: tuple[Marked, ...] = ()
    marks: tuple[str, ...] = ()
    run_in: bool = False


def lines_of(words: str, width: float, *, bold: bool = False) -> int:
    """Return how many lines words take in a width [m of paper].

    What fits by a hair here may not as it is set, and counts as one line more.
    """
    count, used, width = 1, 0.0, width - 0.0003
    space = text_width(" ", SIZE)
    for word in _HELD.sub("\u00a0", words).split(" "):
        wide = text_width(word, SIZE, bold=bold)
        if used and used + space + wide > width:
            count, used = count + 1, wide
        else:
            used += (space if used else 0.0) + wide
    return count


def is_beside(cell: Cell, width: float) -> bool:
    """Return whether the words stand beside the picture and not under it."""
    return cell.picture is not None and cell.picture.width <= 0.45 * width


def height_of(cell: Cell, width: float) -> float:
    """Return how tall a cell is [m of paper], the gap under it with it."""
    # What stands one under another: (least gap over it, height, least gap under it).
    parts: list[tuple[float, float, float]] = []

    def text(words: str, room: float, *, bold: bool = False) -> None:
        parts.append((LEADING, LINE * lines_of(words, room, bold=bold) - LEADING, LEADING))

    head = " ".join((cell.number, cell.title, *cell.marks)).strip()
    if head and not cell.run_in:
        text(head, width - LETTER * len(cell.marks), bold=True)
    first = f"{cell.title}: " if cell.run_in else ""
    words = [first + said if n == 0 else said for n, said in enumerate(cell.words)]
    picture = cell.picture
    if picture is not None and is_beside(cell, width):
        room = width - picture.width - BESIDE
        beside = LINE * sum(lines_of(said, room) for said in words) - LEADING
        parts.append((LEADING, max(beside, picture.height), LEADING))
    else:
        for said in words:
            text(said, width)
        if picture is not None:
            parts.append((LEADING, picture.height, UNDER))
    for _, what, _ in cell.rows:
        text(what, width - COUNT_WIDTH - COST_WIDTH - 0.002)
    for caution in cell.cautions:
        lines = lines_of(f"{caution.letter}  {caution.text}", width - 0.0016 - LETTER)
        parts.append((OVER_BOX, LINE * lines - LEADING, UNDER_BOX))
    gaps = sum(max(over[2], under[0]) for over, under in pairwise(parts))
    return GAP + sum(tall for _, tall, _ in parts) + gaps


def packed(heights: Sequence[float], tall: float) -> list[list[int]]:
    """Return which cells stand in each column so tall [m], in order from top to bottom."""
    columns: list[list[int]] = [[]]
    used = 0.0
    for index, high in enumerate(heights):
        if columns[-1] and used + high > tall:
            columns.append([])
            used = 0.0
        columns[-1].append(index)
        used += high
    return columns
