"""The finished bed in isometric drawing: lengths along the three axes are true to scale."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

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
    thin_part,
)
from hoopwright.drawing.solid import Space, board_face, sheet_ends, soil_shown, stood_up
from hoopwright.drawing.subject import Subject, beside, points

_COSINE = math.cos(math.radians(30))
_SINE = 0.5


def project(along: float, across: float, up: float) -> Point:
    """Return a place in the isometric plane [m].

    along  : from the near end, running to the upper right
    across : from the near side, running to the upper left
    """
    return (along - across) * _COSINE, (along + across) * _SINE + up


def _face(*corners: Space) -> tuple[Point, ...]:
    return tuple(project(*corner) for corner in corners)


def _far_boards(subject: Subject) -> Group:
    """Return the inner faces one sees over the near boards, and the soil."""
    bed = subject.bed
    length, width, wall, top = bed.outer_length, bed.outer_width, bed.wall, bed.height
    soil = soil_shown(bed)
    inner = (wall, length - wall, wall, width - wall)
    a, b, c, d = inner
    bottom = _face((a, c, soil), (b, c, soil), (b, d, soil), (a, d, soil))
    shapes: tuple[Shape, ...] = (
        board_face(
            _face((0, width, 0), (length, width, 0), (length, width, top), (0, width, top)),
            Tone.PAPER,
        ),
        board_face(_face((a, d, soil), (b, d, soil), (b, d, top), (a, d, top)), Tone.LIGHT),
        board_face(_face((b, c, soil), (b, d, soil), (b, d, top), (b, c, top)), Tone.LIGHT),
        Fill(bottom, Layer.GROUND, Tone.DARK),
    )
    return Group("far boards", "Boards and soil", shapes)


def _near_boards(subject: Subject) -> Group:
    """Return the two outer faces towards the reader and all four top edges."""
    bed = subject.bed
    length, width, wall, top = bed.outer_length, bed.outer_width, bed.wall, bed.height
    shapes: list[Shape] = [
        board_face(_face((0, 0, 0), (length, 0, 0), (length, 0, top), (0, 0, top)), Tone.PAPER),
        board_face(_face((0, 0, 0), (0, width, 0), (0, width, top), (0, 0, top)), Tone.PAPER),
    ]
    tops = (
        (0, 0, length, wall),
        (0, width - wall, length, width),
        (0, wall, wall, width - wall),
        (length - wall, wall, length, width - wall),
    )
    for a, c, b, d in tops:
        shapes.append(
            board_face(_face((a, c, top), (b, c, top), (b, d, top), (a, d, top)), Tone.PAPER)
        )
    for at in (wall, width - wall):
        shapes.append(Line(project(0, at, 0), project(0, at, top), Layer.BOARDS, Weight.THIN))
    for course in range(1, bed.courses):
        level = course * bed.board.width
        seam = _face((length, 0, level), (0, 0, level), (0, width, level))
        shapes.append(Polyline(seam, Layer.BOARDS, weight=Weight.THIN))
    return Group("near boards", f"Boards, {bed.board.name}", tuple(shapes))


def _ring(subject: Subject, mark: float, line: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.array([project(*place) for place in stood_up(subject, mark, line)])


def _tube(subject: Subject, mark: float, line: NDArray[np.float64]) -> Polyline:
    """Return a pipe along a line of the end elevation, as wide as it is."""
    ring = _ring(subject, mark, line)
    radius = subject.outside / 2
    band = np.vstack([beside(ring, radius), beside(ring, -radius)[::-1]])
    return thin_part(points(band), Layer.HOOPS, Tone.PAPER)


def _hoop(subject: Subject, index: int) -> Group:
    """Return what stands above the boards; legs before the near board are drawn with it."""
    line = subject.hoop.centreline
    above = line[line[:, 1] >= subject.bed.height]
    if subject.legs == "outside":
        # The near leg is at negative height of nothing: it stands before the near board.
        foot = np.array([[line[-1, 0], max(subject.hoop.leg.foot, 0.0)]])
        above = np.vstack([[[above[0, 0], subject.bed.height]], above, foot])
    else:
        ends = [[above[0, 0], subject.bed.height]], [[above[-1, 0], subject.bed.height]]
        above = np.vstack([ends[0], above, ends[1]])
    mark = subject.hoops[index].mark
    return Group(f"hoop {index + 1}", f"Hoop {index + 1}", (_tube(subject, mark, above),))


def _falls(subject: Subject, ring: tuple[Point, ...]) -> list[Shape]:
    """Return the near end of a wrapped sheet, which falls from the end hoop to the board."""
    if subject.cover.style != "wrapped":
        return []
    width, top = subject.bed.outer_width, subject.bed.height
    corners = project(0, width, top), project(0, 0, top)
    return [
        Line(ring[1], corners[0], Layer.COVER, Weight.THIN),
        Line(ring[-2], corners[1], Layer.COVER, Weight.THIN),
    ]


def _film(subject: Subject) -> tuple[Group, Group]:
    """Return the film behind the hoops as a tone, and its edges before them as lines."""
    line = subject.film_line
    first_mark, last_mark = sheet_ends(subject)
    first = _ring(subject, first_mark, line)
    last = _ring(subject, last_mark, line)
    axis = np.array([_COSINE, _SINE])
    aside = axis[0] * first[:, 1] - axis[1] * first[:, 0]
    ridge = int(np.argmax(aside))
    body = np.vstack([first[ridge:], last[ridge:][::-1]])
    tone = Group(
        "film",
        f"Body sheet, {subject.cover.material.name}",
        (
            Fill(points(body), Layer.COVER, Tone.LIGHT),
            Fill(points(first), Layer.COVER, Tone.LIGHT),
        ),
    )
    edges: list[Shape] = [
        Polyline(points(first), Layer.COVER),
        Polyline(points(last[ridge:]), Layer.COVER),
        Line(points(first)[ridge], points(last)[ridge], Layer.COVER),
        Line(points(first)[-1], points(last)[-1], Layer.COVER),
    ]
    edges += _falls(subject, points(first))
    return tone, Group("film edges", "Edges of the body sheet", tuple(edges))


def _fastenings(subject: Subject) -> Group:
    """Return the near rail or side batten, and the batten across the near end."""
    bed, cover, low = subject.bed, subject.cover, subject.skirt_bottom
    over, across = subject.overhang, subject.end_batten_low
    middle = bed.outer_width / 2
    shapes: list[Shape] = []
    if cover.edges[1] == "rail":
        radius = cover.rail.outside_diameter / 2
        at = middle - subject.skirt_at[1] - radius
        axis = np.array(
            [
                project(-over, at, max(low, radius)),
                project(bed.outer_length + over, at, max(low, radius)),
            ]
        )
        band = np.vstack([beside(axis, radius), beside(axis, -radius)[::-1]])
        shapes.append(thin_part(points(band), Layer.RAILS, Tone.PAPER))
    elif cover.edges[1] == "batten":
        high = low + cover.batten.width
        length = bed.outer_length
        strip = _face((0, 0, low), (length, 0, low), (length, 0, high), (0, 0, high))
        shapes.append(thin_part(strip, Layer.BATTENS, Tone.DARK))
    wide = bed.outer_width
    batten = _face(
        (0, 0, across),
        (0, wide, across),
        (0, wide, across + cover.batten.width),
        (0, 0, across + cover.batten.width),
    )
    shapes.append(thin_part(batten, Layer.BATTENS, Tone.DARK))
    return Group("fastenings", "Rail and end batten", tuple(shapes))


def isometric_view(subject: Subject) -> View:
    """Return the finished bed, seen from above its near end."""
    tone, edges = _film(subject)
    length = subject.bed.outer_length
    ground = Line(project(0, 0, 0), project(length, 0, 0), Layer.GROUND)
    items: list[Item] = [
        tone,
        _far_boards(subject),
        _near_boards(subject),
        *(_hoop(subject, index) for index in reversed(range(len(subject.hoops)))),
        edges,
        _fastenings(subject),
        ground,
        subject.bar(subject.bed.outer_length),
    ]
    bed = subject.bed
    description = (
        f"{subject.name} as it will stand: {subject.shown(bed.outer_length)} by "
        f"{subject.shown(bed.outer_width)}, {len(subject.hoops)} hoops, the top of "
        f"their pipe {subject.shown(subject.top)} above the ground."
    )
    return View(
        "bed",
        "The finished bed",
        description,
        tuple(items),
        24.0,
        "Isometric: lengths along the bed, across it and upright are to scale.",
    )
