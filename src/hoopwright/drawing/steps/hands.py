"""Hands and tools in outline, and heights written beside their arrow, where a step needs them."""

import math
from collections.abc import Iterable

from hoopwright.drawing.people import outline, smooth
from hoopwright.drawing.scene import (
    Anchor,
    Circle,
    Fill,
    Item,
    Layer,
    Line,
    Point,
    Polyline,
    Shape,
    Text,
    Tone,
    Weight,
    part,
    rectangle,
    thin_part,
)


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


#: Height of the eye of somebody who kneels and looks along +x, as a share of the stature.
_EYE = 0.600


def kneeling(at: float, eye: float) -> tuple[Shape, ...]:
    """Return somebody kneeling with knees near `at`, the eye at a height [m]."""
    stature = min(1.9, max(1.1, eye / _EYE))
    body = tuple(
        (at + stature * x, stature * y) for x, y in smooth(outline("kneeling figure"), closed=True)
    )
    return (
        part(body, Layer.PERSON),
        Circle((at + 0.02 * stature, stature * _EYE), 0.058 * stature, Layer.PERSON, Tone.PAPER),
        Circle((at + 0.06 * stature, stature * _EYE), 0.010, Layer.CUT, Tone.INK),
    )


def level_tool(left: float, low: float, length: float, *, upright: bool) -> tuple[Shape, ...]:
    """Return a spirit level from a lower left corner [m]."""
    deep = 0.055
    wide, high = (deep, length) if upright else (length, deep)
    centre = (left + wide / 2, low + high / 2)
    return (
        part(
            rectangle(left, low, left + wide, low + high),
            Layer.CUT,
            Tone.PAPER,
            weight=Weight.MEDIUM,
        ),
        Circle(centre, 0.4 * deep, Layer.CUT, weight=Weight.MEDIUM),
        Circle(centre, 0.14 * deep, Layer.CUT, Tone.INK, Weight.THIN),
    )


def turn(centre: Point, radius: float) -> tuple[Shape, ...]:
    """Return an arrow that turns clockwise round a screw."""
    steps = [math.radians(200 - 24 * n) for n in range(11)]
    path = tuple(
        (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in steps
    )
    return (
        Polyline(path, Layer.CUT, weight=Weight.MEDIUM),
        head(path[-1], steps[-1] - math.pi / 2, 0.6 * radius),
    )


def head(tip: Point, angle: float, size: float) -> Fill:
    """Return an arrow's head that points along an angle [rad], its middle at a place."""
    corners = tuple(
        (tip[0] + size * math.cos(angle + t) * r, tip[1] + size * math.sin(angle + t) * r)
        for t, r in ((0.0, 0.8), (2.5, 0.6), (-2.5, 0.6))
    )
    return Fill(corners, Layer.CUT, Tone.INK)


def arrow(start: Point, end: Point, size: float) -> tuple[Shape, ...]:
    """Return a straight arrow."""
    angle = math.atan2(end[1] - start[1], end[0] - start[0])
    return (Line(start, end, Layer.CUT, Weight.MEDIUM), head(end, angle, size))


def screw_head(centre: Point, radius: float) -> tuple[Shape, ...]:
    """Return a screw's head with its slots."""
    x, y = centre
    r = 0.6 * radius
    return (
        Circle(centre, radius, Layer.CUT, Tone.PAPER, Weight.THIN),
        Line((x - r, y), (x + r, y), Layer.CUT, Weight.THIN),
        Line((x, y - r), (x, y + r), Layer.CUT, Weight.THIN),
    )


def tape_measure(length: float, low: float) -> tuple[Shape, ...]:
    """Return a tape hooked on at 0 and lying along a board's top edge, its case at the far end."""
    thick = 0.025
    case = rectangle(length, low, length + 0.1, low + 0.09)
    return (
        thin_part(rectangle(0.0, low, length, low + thick), Layer.CUT, Tone.PAPER),
        Line((-0.008, low - 0.03), (-0.008, low + thick), Layer.CUT, Weight.MEDIUM),
        part(case, Layer.CUT, Tone.DARK, weight=Weight.MEDIUM),
    )
