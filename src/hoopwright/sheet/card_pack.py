"""How the cells of the card are packed: heights from the shipped type's own widths, column by
column, with pictures as tall as the paper allows."""

from __future__ import annotations

import re
from collections.abc import Sequence

from hoopwright.drawing.font import text_width
from hoopwright.frozen import dataclass
from hoopwright.sheet.content import HELD_UNITS, Diagram

#: All on the card is set at 10 points [m]; from line to line as the template sets it.
SIZE = 10 * 0.0254 / 72
LINE = 1.17 * SIZE
#: Between two lines, which the last line of a paragraph has not under it.
LEADING = 0.481 * SIZE
#: A number is held to its fraction and its unit, as the template holds them.
_HELD = re.compile(rf"(?<=\d) (?=\d+/\d+|%|(?:{HELD_UNITS})\b)")
#: Round a cell, a caution's box, and between a picture and the words beside it [m].
GAP, BOX, BESIDE = 0.0022, 0.0024, 0.0025
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
    """Return how tall a cell is [m of paper]."""
    head = " ".join((cell.number, cell.title, *cell.marks)).strip()
    height = GAP + (LINE * lines_of(head, width, bold=True) if head and not cell.run_in else 0.0)
    beside = is_beside(cell, width)
    room = width - (cell.picture.width + BESIDE if beside and cell.picture else 0.0)
    first = f"{cell.title}: " if cell.run_in else ""
    words = LINE * sum(
        lines_of(first + text if n == 0 else text, room) for n, text in enumerate(cell.words)
    )
    if cell.picture is not None:
        tall = cell.picture.height + 0.001
        height += max(words, tall) if beside else words + tall
    else:
        height += words
    for _, what, _ in cell.rows:
        height += LINE * lines_of(what, width - COUNT_WIDTH - COST_WIDTH - 0.002)
    height -= LEADING if cell.words and not cell.rows else 0.0
    for caution in cell.cautions:
        height += (
            BOX - LEADING + LINE * lines_of(f"{caution.letter}  {caution.text}", width - 0.004)
        )
    return height


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
