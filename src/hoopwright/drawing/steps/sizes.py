"""Heights written beside their arrow, level with the reader: a small picture has no room beside it
for words set upright."""

from __future__ import annotations

from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Item,
    Layer,
    Line,
    Text,
    Weight,
)


def upright_size(
    at: float, low: float, high: float, words: str, *, leftward: bool = False
) -> list[Item]:
    """Return a height from `low` to `high` [m] at a place along, its words beside it."""
    half = 0.1 * (high - low)
    ends = (low, high)
    lines: list[Item] = [Line((at, low), (at, high), Layer.DIMENSIONS, Weight.MEDIUM)]
    lines += [Line((at - half, y), (at + half, y), Layer.DIMENSIONS, Weight.MEDIUM) for y in ends]
    sign, anchor = (-1, Anchor.END) if leftward else (1, Anchor.START)
    # A letter body is as tall as the words; half its capitals below the middle centres them.
    place = (at + sign * 1.6 * half, (low + high) / 2)
    return [*lines, Text(place, words, anchor=anchor, clear=True, size=TEXT_SIZE)]


def level_size(left: float, right: float, low: float, words: str) -> list[Item]:
    """Return a length from `left` to `right` [m] under a place so low, its words on its line."""
    y, half = low - 0.045 * (right - left), 0.018 * (right - left)
    lines: list[Item] = [Line((left, y), (right, y), Layer.DIMENSIONS, Weight.MEDIUM)]
    lines += [
        Line((x, y - half), (x, y + half), Layer.DIMENSIONS, Weight.MEDIUM) for x in (left, right)
    ]
    place = ((left + right) / 2, y - half)
    return [*lines, Text(place, f" {words} ", anchor=Anchor.MIDDLE, clear=True, size=TEXT_SIZE)]
