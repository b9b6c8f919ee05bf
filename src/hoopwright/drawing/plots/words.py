"""Lines of a plot, told apart without colour by width and dashes, and its words: wrapped
headings, labels kept apart beside the ends of their lines."""

import itertools
from collections.abc import Sequence

from hoopwright.drawing.font import text_height, text_width
from hoopwright.drawing.placing import spread
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    TITLE_SIZE,
    Anchor,
    Item,
    Layer,
    Point,
    Text,
    Trace,
    Weight,
)
from hoopwright.drawing.style import ACCENT, CHAIN, DASHED, INK
from hoopwright.frozen import dataclass

GRID = "#d4d3d0"
GREY = "#77756f"


@dataclass(frozen=True)
class Look:
    """Colour, width and dashes of a line."""

    color: str
    weight: Weight
    dashes: tuple[float, ...] = ()

    def trace(self, *paths: tuple[Point, ...]) -> Trace:
        """Return lines that look so."""
        return Trace(paths, self.color, self.weight, self.dashes)


#: The thing the plot is about.
CHANGED = Look(ACCENT, Weight.THICK)
PLAIN = Look(INK, Weight.MEDIUM)
DASHES = Look(INK, Weight.MEDIUM, DASHED)
DASHES_AND_DOTS = Look(INK, Weight.MEDIUM, CHAIN)
HEAVY = Look(INK, Weight.THICK)
RULE = Look(GRID, Weight.THIN)
MONTH = Look("#a9a8a4", Weight.THIN)
HATCH = Look(GREY, Weight.THIN)
HALO = Look("#ffffff", Weight.THICK)
EDGE = Look(INK, Weight.THIN)
#: Where water freezes: dotted, as no other line is.
FREEZING = Look(INK, Weight.MEDIUM, (0.0003, 0.0010))


#: From one line of words to the next [m].
LINE = 1.28 * TEXT_SIZE
TITLE_LINE = 1.2 * TITLE_SIZE
#: Clear paper between words and what they stand beside [m].
GAP = 0.0016
#: Half the height of capitals: how far a base line lies under the middle of its words [m].
MIDDLE = 0.5 * (text_height(TEXT_SIZE)[1] - 0.05 * TEXT_SIZE)


def wrapped(text: str, width: float, size: float = TEXT_SIZE, bold: bool = False) -> list[str]:
    """Return a text in lines no wider than `width` [m]; a single longer word stands alone."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split():
            longer = f"{line} {word}".strip()
            if line and text_width(longer, size, bold=bold) > width:
                lines.append(line)
                line = word
            else:
                line = longer
        lines.append(line)
    return lines


def balanced(text: str, width: float, size: float = TEXT_SIZE, bold: bool = False) -> list[str]:
    """Return a text wrapped to the fewest lines, and those as even as they come."""
    fewest = len(wrapped(text, width, size, bold))
    narrow, wide = 0.3 * width, width
    while wide - narrow > 0.001:
        middle = (narrow + wide) / 2
        fits = len(wrapped(text, middle, size, bold)) <= fewest
        narrow, wide = (narrow, middle) if fits else (middle, wide)
    return wrapped(text, wide, size, bold)


def heading(title: str, note: str, left: float, bottom: float, width: float) -> list[Item]:
    """Return the finding in bold and a note under it, standing on `bottom` [m]."""
    notes = wrapped(note, width) if note else []
    titles = balanced(title, width, TITLE_SIZE, bold=True)
    items: list[Item] = []
    y = bottom + text_height(TEXT_SIZE)[0]
    for line in reversed(notes):
        items.append(Text((left, y), line))
        y += LINE
    if notes:
        y += 0.3 * LINE
    for line in reversed(titles):
        items.append(Text((left, y), line, size=TITLE_SIZE, bold=True))
        y += TITLE_LINE
    return items[::-1]


def end_labels(
    left: float, wanted: Sequence[float], labels: Sequence[str], lowest: float, highest: float
) -> list[Item]:
    """Return words at the right of a field, each beside the end of its line.

    left   : right edge of the field [m]; wanted : [m] where each line ends
    Words that would touch are moved apart and tied to their line by a thin stroke.
    """
    order = sorted(range(len(labels)), key=lambda index: wanted[index])
    blocks = [wrapped(labels[index], 1.0) for index in order]
    heights = [len(block) * LINE for block in blocks]
    apart = [(a + b) / 2 for a, b in itertools.pairwise(heights)]
    ends = [min(max(wanted[index], lowest), highest) for index in order]
    places = spread(ends, apart)
    items: list[Item] = []
    for end, place, block in zip(ends, places, blocks, strict=True):
        shift = GAP
        if abs(place - end) > 0.25 * LINE:
            items.append(EDGE.trace(((left + 0.3 * GAP, end), (left + 2.2 * GAP, place))))
            shift = 2.6 * GAP
        top = place + (len(block) - 1) * LINE / 2 - MIDDLE
        items += [
            Text((left + shift, top - number * LINE), line, Layer.TEXT, Anchor.START)
            for number, line in enumerate(block)
        ]
    return items


def end_room(labels: Sequence[str]) -> float:
    """Return the paper that words at the right of a field need [m]."""
    lines = [line for label in labels for line in label.split("\n")]
    widest = max((text_width(line, TEXT_SIZE) for line in lines), default=0.0)
    return widest + 2.6 * GAP
