"""Heights written beside their arrow, level with the reader: a small picture has no room beside it
for words set upright."""

from __future__ import annotations

from collections.abc import Iterable

from hoopwright.drawing.scene import Anchor, Item, Layer, Line, Point, Text, Weight


def upright_size(
    at: float, low: float, high: float, words: str, *, leftward: bool = False
) -> list[Item]:
    """Return a height from `low` to `high` [m] at a place along, its words beside it."""
    half = 0.1 * (high - low)
    ends = (((at, low), (at, high)), *(((at - half, y), (at + half, y)) for y in (low, high)))
    sign, anchor = (-1, Anchor.END) if leftward else (1, Anchor.START)
    return _sized(ends, (at + sign * 1.6 * half, (low + high) / 2), words, anchor)


def level_size(left: float, right: float, low: float, words: str) -> list[Item]:
    """Return a length from `left` to `right` [m] under a place so low, its words on its line."""
    y, half = low - 0.045 * (right - left), 0.018 * (right - left)
    ends = (((left, y), (right, y)), *(((x, y - half), (x, y + half)) for x in (left, right)))
    return _sized(ends, ((left + right) / 2, y - half), f" {words} ", Anchor.MIDDLE)


def _sized(
    lines: Iterable[tuple[Point, Point]], place: Point, words: str, anchor: Anchor
) -> list[Item]:
    drawn = [Line(a, b, Layer.DIMENSIONS, Weight.MEDIUM) for a, b in lines]
    return [*drawn, Text(place, words, anchor=anchor, clear=True)]
