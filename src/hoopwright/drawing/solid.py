"""The bed as a solid in parallel projection: one set of parts, seen by any eye."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.bed import Bed
from hoopwright.drawing.scene import (
    Fill,
    Layer,
    Line,
    Point,
    Polyline,
    Shape,
    Tone,
    Weight,
    part,
    thin_part,
)
from hoopwright.drawing.subject import Subject, band, points
from hoopwright.frozen import dataclass

Corner = tuple[float, float]
Line3 = Sequence[Sequence[float]] | NDArray[np.float64]


@dataclass(frozen=True)
class Eye:
    """A parallel projection: where a metre along the bed, across it and up is drawn [m].

    Places are [m] along the bed from its near end, across it from its near side, and up.
    """

    along: Point
    across: Point
    up: float = 1.0

    def at(self, along: float, across: float, up: float) -> Point:
        """Return a place in the picture."""
        (ax, ay), (bx, by) = self.along, self.across
        return along * ax + across * bx, along * ay + across * by + up * self.up

    def face(self, *places: Sequence[float]) -> tuple[Point, ...]:
        """Return several places in the picture."""
        return tuple(self.at(*place) for place in places)

    def line(
        self,
        start: Sequence[float],
        end: Sequence[float],
        layer: Layer,
        weight: Weight | None = None,
    ) -> Line:
        """Return a straight line of the picture between two places."""
        return Line(self.at(*start), self.at(*end), layer, weight)

    def sees(self, along: float, across: float) -> bool:
        """Return whether a wall whose outside looks that way is seen from outside."""
        # All that is drawn on one point lies on a line to the eye, which is above the bed.
        a, b = -self.across[0], self.along[0]
        rise = -(a * self.along[1] + b * self.across[1]) / self.up
        return math.copysign(1.0, rise) * (a * along + b * across) > 1e-9

    def stood(self, subject: Subject, mark: float, line: Line3) -> NDArray[np.float64]:
        """Return a line of the end elevation (across from the middle, up) stood up at a mark."""
        middle = subject.bed.outer_width / 2
        places = np.asarray(line, float).tolist()
        return np.array([self.at(mark, middle - x, y) for x, y in places])


#: Lengths along the three axes are true to scale; the near end is seen at the lower left.
ISOMETRIC = Eye((math.cos(math.radians(30)), 0.5), (-math.cos(math.radians(30)), 0.5))
#: The near side is true to scale; a metre across the bed is drawn half its length at 35 degrees.
CABINET = Eye((1.0, 0.0), (-0.41, 0.287))


def turned_eye(degrees: float) -> Eye:
    """Return an eye 30 degrees above a bed that is turned by an angle."""
    turn, above = math.radians(degrees), math.radians(30)
    cosine, sine = math.cos(turn), math.sin(turn)
    tilt = math.sin(above)
    return Eye((cosine, sine * tilt), (-sine, cosine * tilt), math.cos(above))


def _corners(bed: Bed, inset: float) -> tuple[Corner, ...]:
    far, wide = bed.outer_length - inset, bed.outer_width - inset
    return ((inset, inset), (far, inset), (far, wide), (inset, wide))


def _walls(bed: Bed, inset: float = 0.0) -> list[tuple[Corner, Corner, Corner]]:
    """Return each wall's outward direction (along, across) and its two corners."""
    corners = _corners(bed, inset)
    ways = ((0, -1), (1, 0), (0, 1), (-1, 0))
    return list(zip(ways, corners, corners[1:] + corners[:1], strict=True))


def _upright(eye: Eye, a: Corner, b: Corner, low: float, high: float) -> tuple[Point, ...]:
    return eye.face((*a, low), (*b, low), (*b, high), (*a, high))


def soil_shown(bed: Bed) -> float:
    """Return the level [m] at which the soil is shown, low enough that the boards' edge is seen."""
    return bed.height - min(0.05, bed.height / 3)


def floor(subject: Subject, eye: Eye, level: float) -> tuple[Point, ...]:
    """Return the inside of the box at a level [m]."""
    return eye.face(*((*corner, level) for corner in _corners(subject.bed, subject.bed.wall)))


def far_boards(subject: Subject, eye: Eye, low: float, tone: Tone) -> tuple[Shape, ...]:
    """Return the inner faces one sees over the near boards, from a level up."""
    bed = subject.bed
    return tuple(
        part(_upright(eye, a, b, low, bed.height), Layer.BOARDS, tone)
        for way, a, b in _walls(bed, bed.wall)
        if not eye.sees(*way)
    )


def near_boards(subject: Subject, eye: Eye) -> tuple[Shape, ...]:
    """Return the outer faces towards the reader with their seams, and all four top edges."""
    bed = subject.bed
    length, width, wall, top = bed.outer_length, bed.outer_width, bed.wall, bed.height
    seen = [one for one in _walls(bed) if eye.sees(*one[0])]
    shapes: list[Shape] = [part(_upright(eye, a, b, 0.0, top), Layer.BOARDS) for _, a, b in seen]
    tops = (
        (0, 0, length, wall),
        (0, width - wall, length, width),
        (0, wall, wall, width - wall),
        (length - wall, wall, length, width - wall),
    )
    for a, c, b, d in tops:
        shapes.append(
            part(eye.face((a, c, top), (b, c, top), (b, d, top), (a, d, top)), Layer.BOARDS)
        )
    edges = [
        ((start[0], at, 0.0), (start[0], at, top))
        for way, start, _ in seen
        if way[0]
        for at in (wall, width - wall)
    ]
    edges += [
        ((*a, course * bed.board.width), (*b, course * bed.board.width))
        for course in range(1, bed.courses)
        for _, a, b in seen
    ]
    return (*shapes, *(eye.line(a, b, Layer.BOARDS, Weight.THIN) for a, b in edges))


def hoops(subject: Subject, eye: Eye) -> dict[int, tuple[Point, ...]]:
    """Return each hoop's outline as wide as its pipe, the furthest first, by its number from 0.

    Legs are seen down to the ground before a near board; elsewhere the boards hide them.
    """
    line, top = subject.hoop.centreline, subject.bed.height
    outside, foot = subject.legs == "outside", max(subject.hoop.leg.foot, 0.0)
    first, last = (foot if outside and eye.sees(0, side) else top for side in (1, -1))
    shown = line[line[:, 1] >= np.where(line[:, 0] < 0, first, last)]
    whole = np.vstack([[[shown[0, 0], first]], shown, [[shown[-1, 0], last]]])
    order = range(len(subject.hoops))
    return {
        number: band(eye.stood(subject, subject.hoops[number].mark, whole), subject.outside / 2)
        for number in (reversed(order) if eye.sees(-1, 0) else order)
    }


def sheet_ends(subject: Subject) -> tuple[float, float]:
    """Return how far along the bed the arched part of the sheet goes [m]."""
    if subject.cover.style == "wrapped":
        return subject.hoops[0].mark, subject.hoops[-1].mark
    return -subject.overhang, subject.bed.outer_length + subject.overhang


@dataclass(frozen=True)
class _ArchedSheet:
    """The arched part of the body sheet: its rings at the near and the far end, in the picture.

    ridge : index of the line along the bed beyond which the sheet turns away
    side  : from the ridge to the near skirt
    skirt : index of the near skirt's edge
    """

    near: NDArray[np.float64]
    far: NDArray[np.float64]
    ridge: int
    side: slice
    skirt: int


def _sheet(subject: Subject, eye: Eye) -> _ArchedSheet:
    near, far = (eye.stood(subject, mark, subject.film_line) for mark in sheet_ends(subject))
    across = eye.along[0] * near[:, 1] - eye.along[1] * near[:, 0]
    ridge = int(np.argmax(across if eye.along[0] >= 0 else -across))
    if eye.sees(1, 0):
        near, far = far, near
    if eye.sees(0, 1):
        return _ArchedSheet(near, far, ridge, slice(None, ridge + 1), 0)
    # Straight along the bed both sides are seen edge on.
    return _ArchedSheet(near, far, ridge, slice(ridge if eye.sees(0, -1) else None, None), -1)


def ridge(subject: Subject, eye: Eye) -> tuple[Point, ...]:
    """Return the ridge line under the crowns, as wide as the pipe."""
    return band(np.array(eye.face(*subject.ridge)), subject.outside / 2)


def braces(subject: Subject, eye: Eye) -> tuple[Shape, ...]:
    """Return the cords that tie the ridge back to the boards."""
    return tuple(eye.line(a, b, Layer.STRAPS) for a, b in subject.braces)


def rail_ties(subject: Subject, eye: Eye, side: int = -1) -> tuple[Shape, ...]:
    """Return where the rail of a side is tied or clipped, the near one (-1) or the far one (1)."""
    across = subject.bed.outer_width / 2 + side * (
        subject.skirt_at[1] + subject.cover.rail.outside_diameter
    )
    half = 0.8 * subject.cover.rail.outside_diameter
    return tuple(
        eye.line(
            (mark, across, subject.rail_level - half),
            (mark, across, subject.rail_level + half),
            Layer.STRAPS,
            Weight.THICK,
        )
        for mark in subject.rail_ties
    )


def film(subject: Subject, eye: Eye) -> tuple[Shape, ...]:
    """Return the body sheet as a faint tone, as if clear, behind the hoops."""
    sheet = _sheet(subject, eye)
    body = np.vstack([sheet.near[sheet.side], sheet.far[sheet.side][::-1]])
    return tuple(Fill(points(tone), Layer.COVER) for tone in (body, sheet.near))


def film_edges(subject: Subject, eye: Eye) -> tuple[Shape, ...]:
    """Return the edges of the body sheet, before the hoops; wrapped ones fall to the boards."""
    sheet = _sheet(subject, eye)
    near, far = points(sheet.near), points(sheet.far)
    ends = [(near[sheet.ridge], far[sheet.ridge]), (near[sheet.skirt], far[sheet.skirt])]
    if subject.cover.style == "wrapped":
        start, end = (0.0, subject.bed.outer_length)
        if eye.sees(1, 0):
            start, end = end, start
        wide, top = subject.bed.outer_width, subject.bed.height
        side = 0.0 if sheet.skirt else wide
        ends += [
            (near[1], eye.at(start, wide, top)),
            (near[-2], eye.at(start, 0.0, top)),
            (far[-2 if sheet.skirt else 1], eye.at(end, side, top)),
        ]
    lines = (Polyline(near, Layer.COVER), Polyline(points(sheet.far[sheet.side]), Layer.COVER))
    return (*lines, *(Line(a, b, Layer.COVER) for a, b in ends))


def rail(subject: Subject, eye: Eye, side: int = -1) -> tuple[Point, ...]:
    """Return the roll-up rail of a side, the near one (-1) or the far one (1)."""
    bed, over = subject.bed, subject.overhang
    radius = subject.cover.rail.outside_diameter / 2
    across = bed.outer_width / 2 + side * (subject.skirt_at[1] + radius)
    level = subject.rail_level
    ends = (-over, across, level), (bed.outer_length + over, across, level)
    return band(np.array(eye.face(*ends)), radius)


def side_batten(subject: Subject, eye: Eye, side: int = -1) -> tuple[Point, ...]:
    """Return the batten along a side."""
    bed, low = subject.bed, subject.skirt_bottom
    across = 0.0 if side < 0 else bed.outer_width
    high = low + subject.cover.batten.width
    return _upright(eye, (0.0, across), (bed.outer_length, across), low, high)


def end_batten(subject: Subject, eye: Eye) -> tuple[Point, ...]:
    """Return the batten across the end that is seen."""
    bed, low = subject.bed, subject.end_batten_low
    at, high = bed.outer_length if eye.sees(1, 0) else 0.0, low + subject.cover.batten.width
    return _upright(eye, (at, 0.0), (at, bed.outer_width), low, high)


def fastenings(subject: Subject, eye: Eye) -> tuple[Shape, ...]:
    """Return the rails and battens of the sides that are seen, and the batten across the end."""
    made: list[Shape] = []
    for edge, side in zip(subject.cover.edges, (1, -1), strict=True):
        if not eye.sees(0, side):
            continue
        if edge == "rail":
            made.append(thin_part(rail(subject, eye, side), Layer.RAILS, Tone.PAPER))
            made += rail_ties(subject, eye, side)
        elif edge == "batten":
            made.append(thin_part(side_batten(subject, eye, side), Layer.BATTENS, Tone.DARK))
    if eye.sees(1, 0) or eye.sees(-1, 0):
        made.append(thin_part(end_batten(subject, eye), Layer.BATTENS, Tone.DARK))
    return tuple(made)
