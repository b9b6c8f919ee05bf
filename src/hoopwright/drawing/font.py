"""How wide words are in the shipped type, Fira Sans, without opening the font file.

The advance widths come from a table that `python tools/measure_font.py` writes from
the font itself. Kerning is left out, so a word measures a little wider than it prints.
"""

import csv
import io
import re
from collections.abc import Iterator
from functools import cache, lru_cache
from importlib.resources import files

FAMILY = "Fira Sans"
#: Digits of a fraction, as a share of the letter body, and how far they are lifted and lowered.
FRACTION_SIZE = 0.72
NUMERATOR_LIFT = 0.24
#: Fira Sans: capitals reach 0.689 of the body and descenders 0.265 below the line (its OS/2 and
#: hhea tables).
CAPITAL_HEIGHT = 0.689
DESCENT = 0.22

_FRACTION = re.compile(r"(?:(?<=\d) |(?<![\d/]))(\d+)/(\d+)(?![\d/])")


@cache
def _widths(bold: bool) -> dict[str, float]:
    column = "semibold [em]" if bold else "regular [em]"
    path = files("hoopwright.drawing").joinpath("data/fira_sans_widths.csv")
    rows = csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"), newline=""))
    return {row["character"]: float(row[column]) for row in rows}


def in_type(mark: str) -> bool:
    """Return whether the shipped type is known to have a letter or sign."""
    return mark in _widths(False)


def runs(text: str) -> Iterator[tuple[str, float, float]]:
    """Return the pieces of a text with the size and lift of each, fractions built up.

    Gives (characters, size, lift), the last two as shares of the letter body. The characters put
    together are the text itself, so that copied text still reads "37 1/2 in".
    """
    at = 0
    for found in _FRACTION.finditer(text):
        if found.start() > at:
            yield text[at : found.start()], 1.0, 0.0
        if text[found.start()] == " ":
            yield " ", 0.5, 0.0
        yield found.group(1), FRACTION_SIZE, NUMERATOR_LIFT
        yield "/", 1.0, 0.0
        yield found.group(2), FRACTION_SIZE, 0.0
        at = found.end()
    if at < len(text):
        yield text[at:], 1.0, 0.0


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Return how wide a line of words is [m of paper].

    size : [m] the letter body
    """
    return size * _bodies(text, bold)


# A drawing is tried at many scales, and a card's words in many columns.
@lru_cache(maxsize=8192)
def _bodies(text: str, bold: bool) -> float:
    """Return how wide a line of words is, in letter bodies."""
    widths = _widths(bold)
    usual = widths["n"]
    return sum(
        share * sum(widths.get(character, usual) for character in characters)
        for characters, share, _ in runs(text)
    )


def text_height(size: float) -> tuple[float, float]:
    """Return how far a line of words reaches below and above its base line [m of paper]."""
    return DESCENT * size, (CAPITAL_HEIGHT + 0.05) * size
