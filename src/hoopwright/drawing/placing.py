"""Where on paper a dimension may stand: frames beside the object, and things kept apart."""

import math
from collections.abc import Sequence

from hoopwright.drawing.extent import Box, box_round, text_corners
from hoopwright.drawing.scene import Fill, Layer, Line, Note, Point, Shape, Side, Text, Tone
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Spacing:
    """The sizes of dimensioning on paper [m].

    Source: our own choice in the spirit of ISO 129-1, which leaves the figures to the house.
    """

    first: float = 0.007
    between: float = 0.0022
    feature_gap: float = 0.001
    overshoot: float = 0.0016
    arrow: float = 0.0026
    arrow_half_width: float = 0.00043
    text_gap: float = 0.0009
    text_side: float = 0.0012
    cut_gap: float = 0.0005
    label_gap: float = 0.0016
    shoulder: float = 0.003


SPACING = Spacing()


@dataclass(frozen=True)
class Placed:
    """A dimension or a leader where it stands on the drawing.

    shapes    : its lines and words
    extension : its extension lines, the only ones that may be broken for words
    base      : a point of its dimension line, where a DXF dimension is hung
    measured  : [m] what it measures, one number a station for running dimensions
    texts     : the words beside each number
    """

    note: Note
    shapes: tuple[Shape, ...]
    extension: tuple[Line, ...]
    base: Point
    measured: tuple[float, ...]
    texts: tuple[str, ...]


@dataclass(frozen=True)
class Frame:
    """A side of the object: u along it, v outward from its edge, both in metres of paper."""

    side: Side
    box: Box
    scale: float

    def at(self, u: float, v: float) -> Point:
        """Return a place of the frame in metres of the thing."""
        along, out = u * self.scale, v * self.scale
        match self.side:
            case Side.BELOW:
                return (along, self.box.bottom - out)
            case Side.ABOVE:
                return (along, self.box.top + out)
            case Side.LEFT:
                return (self.box.left - out, along)
            case Side.RIGHT:
                return (self.box.right + out, along)

    def along(self, point: Point) -> float:
        """Return u of a point."""
        return point[0 if self.side.horizontal else 1] / self.scale

    def outward(self, point: Point) -> float:
        """Return v of a point; negative inside the object's edge."""
        x, y = point
        out = {
            Side.BELOW: self.box.bottom - y,
            Side.ABOVE: y - self.box.top,
            Side.LEFT: self.box.left - x,
            Side.RIGHT: x - self.box.right,
        }
        return out[self.side] / self.scale

    @property
    def words_inward(self) -> bool:
        """Return whether "above the line" lies towards the object on this side."""
        return self.side in (Side.BELOW, Side.RIGHT)

    @property
    def angle(self) -> float:
        """Return the turn of words that run along u [deg]: readable from below or the right."""
        return 0.0 if self.side.horizontal else 90.0

    def line(self, u0: float, v0: float, u1: float, v1: float) -> Line:
        """Return a dimension line between two places of the frame."""
        return Line(self.at(u0, v0), self.at(u1, v1), Layer.DIMENSIONS)

    def arrow(self, u: float, v: float, towards: float) -> Fill:
        """Return an arrow head with its tip at (u, v), pointing along +u or -u."""
        back = u - math.copysign(SPACING.arrow, towards)
        half = SPACING.arrow_half_width
        points = (self.at(u, v), self.at(back, v + half), self.at(back, v - half))
        return Fill(points, Layer.DIMENSIONS, Tone.INK)


def spread(wanted: Sequence[float], separations: Sequence[float]) -> list[float]:
    """Return places nearest to those wanted that keep their order and their distances.

    wanted      : in the order to keep; where they do not rise they are drawn together
    separations : least distance between each place and the next, one fewer than `wanted`

    Least squares under order constraints, by pooling adjacent violators (Ayer, Brunk, Ewing,
    Reid & Silverman 1955, Ann. Math. Statist. 26, 641-647).
    """
    shifts = [0.0]
    for separation in separations:
        shifts.append(shifts[-1] + separation)
    blocks: list[tuple[float, int]] = []
    for place, shift in zip(wanted, shifts, strict=True):
        total, count = place - shift, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            earlier, size = blocks.pop()
            total, count = total + earlier, count + size
        blocks.append((total, count))
    levels = [total / count for total, count in blocks for _ in range(count)]
    return [level + shift for level, shift in zip(levels, shifts, strict=True)]


def text_box(text: Text, scale: float) -> Box:
    """Return the upright box round a text [m of the thing]."""
    return box_round(text_corners(text, scale))


def broken(line: Line, boxes: Sequence[Box]) -> tuple[Line, ...]:
    """Return what is left of an upright or level line when it is broken at boxes."""
    vertical = abs(line.start[0] - line.end[0]) < 1e-9
    level = abs(line.start[1] - line.end[1]) < 1e-9
    if not (vertical or level) or (vertical and level):
        return (line,)
    axis = 1 if vertical else 0
    at = line.start[1 - axis]
    low, high = sorted((line.start[axis], line.end[axis]))
    gaps = []
    for box in boxes:
        across = (box.left, box.right) if vertical else (box.bottom, box.top)
        along = (box.bottom, box.top) if vertical else (box.left, box.right)
        if across[0] < at < across[1] and along[0] < high and along[1] > low:
            gaps.append(along)
    pieces, start = [], low
    for bottom, top in sorted(gaps):
        if bottom > start:
            pieces.append((start, bottom))
        start = max(start, top)
    if start < high:
        pieces.append((start, high))

    def point(along: float) -> Point:
        return (at, along) if vertical else (along, at)

    return tuple(Line(point(a), point(b), line.layer, line.weight) for a, b in pieces)
