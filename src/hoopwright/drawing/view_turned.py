"""The finished bed seen from any side: an axonometric view that turns.

Parallel projection from 30 degrees above; the film is shown as a tone behind the pipes, as if
clear. For looking at: it is not to scale along any axis, and says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from hoopwright.drawing.scene import (
    Fill,
    Group,
    Item,
    Layer,
    Line,
    Point,
    Polyline,
    Shape,
    Tone,
    View,
    Weight,
)
from hoopwright.drawing.solid import Space, board_face, sheet_ends, soil_shown, stood_up
from hoopwright.drawing.subject import Subject
from hoopwright.frozen import dataclass

_UP = math.radians(30)


@dataclass(frozen=True)
class Eye:
    """Where the bed is seen from: turned by an angle [rad] about its own middle."""

    turn: float
    length: float
    width: float

    def at(self, place: Space) -> Point:
        """Return a place (along, across, up) [m] in the picture."""
        right, away = self._turned(place[0] - self.length / 2, place[1] - self.width / 2)
        return right, place[2] * math.cos(_UP) + away * math.sin(_UP)

    def _turned(self, along: float, across: float) -> tuple[float, float]:
        cosine, sine = math.cos(self.turn), math.sin(self.turn)
        return along * cosine - across * sine, along * sine + across * cosine

    def faces(self, along: float, across: float) -> bool:
        """Return whether a wall whose outside looks that way is seen from outside."""
        return self._turned(along, across)[1] < -1e-9

    def face(self, places: Iterable[Space]) -> tuple[Point, ...]:
        """Return the picture of a flat face."""
        return tuple(self.at(place) for place in places)


def turned_view(subject: Subject, degrees: float = 30.0) -> View:
    """Return the finished bed turned by an angle about its middle."""
    bed = subject.bed
    eye = Eye(math.radians(degrees), bed.outer_length, bed.outer_width)
    items: list[Item] = [_film(subject, eye), *_boards(subject, eye)]
    order = sorted(
        range(len(subject.hoops)), key=lambda n: -eye.at((subject.hoops[n].mark, 0.0, 0.0))[1]
    )
    items += [_hoop(subject, eye, index) for index in order]
    items.append(_edges(subject, eye))
    title = f"The finished bed, turned {degrees:.0f}°"
    description = (
        f"{subject.name} seen from above and turned {degrees:.0f} degrees: "
        f"{len(subject.hoops)} hoops over the board box, the film as a tone."
    )
    note = "For looking at; not to scale."
    return View("turned", title, description, tuple(items), 24.0, note)


def _walls(subject: Subject) -> list[tuple[tuple[int, int], Space, Space]]:
    """Return each wall's outward direction (along, across) and its two lower outer corners."""
    length, width = subject.bed.outer_length, subject.bed.outer_width
    return [
        ((0, -1), (0.0, 0.0, 0.0), (length, 0.0, 0.0)),
        ((1, 0), (length, 0.0, 0.0), (length, width, 0.0)),
        ((0, 1), (length, width, 0.0), (0.0, width, 0.0)),
        ((-1, 0), (0.0, width, 0.0), (0.0, 0.0, 0.0)),
    ]


def _boards(subject: Subject, eye: Eye) -> list[Group]:
    bed = subject.bed
    wall, top = bed.wall, bed.height
    soil = soil_shown(bed)
    length, width = bed.outer_length, bed.outer_width
    corners = ((wall, wall), (length - wall, wall), (length - wall, width - wall))
    inner = (*corners, (wall, width - wall))
    ground = Fill(eye.face((a, b, soil) for a, b in inner), Layer.GROUND, Tone.DARK)
    far: list[Shape] = [ground]
    near: list[Shape] = []
    for (along, across), start, end in _walls(subject):
        lifted = ((end[0], end[1], top), (start[0], start[1], top))
        outside = eye.face((start, end, *lifted))
        if eye.faces(along, across):
            near.append(board_face(outside, Tone.PAPER))
        else:
            inside = _moved(start, end, -along * wall, -across * wall, soil, top)
            far.append(board_face(eye.face(inside), Tone.LIGHT))
    outer = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    for n in range(4):
        m = (n + 1) % 4
        strip = (outer[n], outer[m], inner[m], inner[n])
        near.append(board_face(eye.face((a, b, top) for a, b in strip), Tone.PAPER))
    return [
        Group("far boards", "Boards and soil", tuple(far)),
        Group("near boards", f"Boards, {bed.board.name}", tuple(near)),
    ]


def _moved(
    start: Space, end: Space, along: float, across: float, low: float, high: float
) -> tuple[Space, ...]:
    (a, b, _), (c, d, _) = start, end
    near, far = (a + along, b + across), (c + along, d + across)
    return ((*near, low), (*far, low), (*far, high), (*near, high))


def _hoop(subject: Subject, eye: Eye, index: int) -> Group:
    """Return a hoop as a line as wide as its pipe; what a board or the soil hides is left out."""
    top, middle = subject.bed.height, subject.bed.outer_width / 2
    shown = []
    for place in stood_up(subject, subject.hoops[index].mark, subject.hoop.centreline):
        side = -1 if place[1] < middle else 1
        outside = subject.legs == "outside" and eye.faces(0, side)
        if place[2] >= top or outside:
            shown.append(eye.at((place[0], place[1], max(0.0, place[2]))))
    line = Polyline(tuple(shown), Layer.HOOPS, weight=Weight.THICK)
    return Group(f"hoop {index + 1}", f"Hoop {index + 1}", (line,))


def _film(subject: Subject, eye: Eye) -> Group:
    places = [
        place
        for mark in sheet_ends(subject)
        for place in stood_up(subject, mark, subject.film_line)
    ]
    outline = _hull([eye.at(place) for place in places])
    tone = Fill(tuple(outline), Layer.COVER, Tone.LIGHT)
    return Group("film", f"Body sheet, {subject.cover.material.name}", (tone,))


def _edges(subject: Subject, eye: Eye) -> Group:
    rings = [stood_up(subject, mark, subject.film_line) for mark in sheet_ends(subject)]
    shapes: list[Shape] = []
    middle = subject.bed.outer_width / 2
    for end, ring in zip((-1, 1), rings, strict=True):
        seen = [
            place
            for place in ring
            if place[2] >= subject.bed.height
            or eye.faces(end, 0)
            or eye.faces(0, -1 if place[1] < middle else 1)
        ]
        shapes.append(Polyline(eye.face(seen), Layer.COVER))
    for corner, side in ((0, 1), (-1, -1)):
        if eye.faces(0, side):
            first, last = rings[0][corner], rings[1][corner]
            shapes.append(Line(eye.at(first), eye.at(last), Layer.COVER))
    return Group("film edges", "Edges of the body sheet", tuple(shapes))


def _hull(places: Sequence[Point]) -> list[Point]:
    """Return the convex outline of points (Andrew's monotone chain)."""
    ordered = sorted(set(places))

    def half(points: Iterable[Point]) -> list[Point]:
        made: list[Point] = []
        for point in points:
            while len(made) > 1 and _left(made[-2], made[-1], point) <= 0:
                made.pop()
            made.append(point)
        return made[:-1]

    return half(ordered) + half(reversed(ordered))


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
