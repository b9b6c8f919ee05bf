"""How far lines reach."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import chain

from hoopwright.drawing.font import text_height, text_width
from hoopwright.drawing.scene import Anchor, Arc, Circle, Line, Point, Shape, Text
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Box:
    """An upright rectangle [m]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Return right less left [m]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Return top less bottom [m]."""
        return self.top - self.bottom

    def grown(self, by: float) -> Box:
        """Return the box with every side moved out [m]."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def overlaps(self, other: Box, tolerance: float = 1e-9) -> bool:
        """Return whether the insides of two boxes meet."""
        return (
            self.left < other.right - tolerance
            and other.left < self.right - tolerance
            and self.bottom < other.top - tolerance
            and other.bottom < self.top - tolerance
        )


def box_round(points: Iterable[Point]) -> Box:
    """Return the smallest box that holds the points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def arc_points(arc: Arc, step: float = 5.0) -> tuple[Point, ...]:
    """Return points along an arc, at most `step` [deg] apart."""
    sweep = (arc.end_angle - arc.start_angle) % 360 or 360.0
    count = max(2, math.ceil(sweep / step))
    angles = (math.radians(arc.start_angle + sweep * i / count) for i in range(count + 1))
    return tuple(
        (arc.centre[0] + arc.radius * math.cos(a), arc.centre[1] + arc.radius * math.sin(a))
        for a in angles
    )


def text_corners(text: Text, scale: float) -> tuple[Point, ...]:
    """Return the four corners of a text as it stands, in metres of the thing."""
    width = text_width(text.text, text.size, bold=text.bold) * scale
    down, up = (part * scale for part in text_height(text.size))
    start = {Anchor.START: 0.0, Anchor.MIDDLE: -width / 2, Anchor.END: -width}[text.anchor]
    cosine, sine = math.cos(math.radians(text.angle)), math.sin(math.radians(text.angle))
    x, y = text.base(scale)
    return tuple(
        (x + u * cosine - v * sine, y + u * sine + v * cosine)
        for u, v in ((start, -down), (start + width, -down), (start + width, up), (start, up))
    )


def shape_points(shape: Shape, scale: float) -> tuple[Point, ...]:
    """Return points that span a shape."""
    if isinstance(shape, Line):
        return (shape.start, shape.end)
    if isinstance(shape, Circle):
        (x, y), r = shape.centre, shape.radius
        return ((x - r, y - r), (x + r, y + r))
    if isinstance(shape, Arc):
        return arc_points(shape)
    if isinstance(shape, Text):
        return text_corners(shape, scale)
    return shape.points


def extent(shapes: Iterable[Shape], scale: float) -> Box:
    """Return the box round shapes drawn at a scale."""
    return box_round(chain.from_iterable(shape_points(shape, scale) for shape in shapes))
