"""Every part of a bed in cabinet projection, by its name, so that a picture may show it new,
standing or not at all: the near side true to scale, its width going back to the left."""

import itertools
from collections.abc import Callable

import numpy as np

from hoopwright.drawing import solid
from hoopwright.drawing.scene import (
    Circle,
    Group,
    Hatch,
    Layer,
    Point,
    Polyline,
    Shape,
    Tone,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.solid import CABINET
from hoopwright.drawing.subject import Subject, along_line, points

Shapes = tuple[Shape, ...]
#: A screw through the pipe is drawn so far below the upper strap's middle [m].
PIN_BELOW = 0.05


def _soil(subject: Subject) -> Shapes:
    level = solid.soil_shown(subject.bed)
    return (thin_part(solid.floor(subject, CABINET, level), Layer.GROUND, Tone.DARK),)


def _stakes(subject: Subject) -> Shapes:
    """Return the stakes as they stand inside the boards and in the ground."""
    bed, held, made = subject.bed, subject.held, list[Shape]()
    if held.stake is None or not held.stakes:
        return ()
    size, low, high = held.stake.size, -held.stake_depth, bed.height - 0.01
    half = held.stakes // 2
    for count, across in (
        (half, bed.outer_width - bed.wall - size),
        (held.stakes - half, bed.wall),
    ):
        for a in np.linspace(bed.wall, bed.outer_length - bed.wall - size, max(count, 1)):
            corners = ((a + size / 2, low - 0.04), (a + size, low), (a + size, high), (a, high))
            shaft = CABINET.face(*((float(x), across, z) for x, z in (*corners, (a, low))))
            made.append(thin_part(shaft, Layer.LEGS, Tone.DARK))
    return tuple(made)


def _ties(subject: Subject) -> Shapes:
    bed, count = subject.bed, subject.ties
    return tuple(
        CABINET.line((at, 0, 0.03), (at, bed.outer_width, 0.03), Layer.CUT)
        for at in (bed.outer_length * (n + 0.5) / count for n in range(count))
    )


def _netted(corners: tuple[Point, ...]) -> Shapes:
    return (
        Hatch(corners, Layer.RAILS, 45.0, 0.0012),
        Hatch(corners, Layer.RAILS, 135.0, 0.0012),
        Polyline(corners, Layer.RAILS, closed=True),
    )


def _marks(subject: Subject) -> Shapes:
    """Return the marks across both top edges, and down the near face."""
    bed, made = subject.bed, list[Shape]()
    wide, wall, top = bed.outer_width, bed.wall, bed.height
    for at in (station.mark for station in subject.hoops):
        near = CABINET.face((at, wall, top), (at, 0, top), (at, 0, 0.35 * top))
        made.append(Polyline(near, Layer.CUT))
        made.append(CABINET.line((at, wide - wall, top), (at, wide, top), Layer.CUT))
    return tuple(made)


def _straps(subject: Subject, number: int) -> Shapes:
    """Return the near straps of a row, the top one (0) or the low one (1)."""
    if subject.strap is None or subject.legs == "inside":
        return ()
    return tuple(
        thin_part(subject.strap_face(s.mark, level), Layer.STRAPS, Tone.DARK)
        for level in subject.strap_levels[number : number + 1]
        for s in subject.hoops
    )


def _rods(subject: Subject) -> Shapes:
    """Return the rods beside both boards, from in the ground to their tips."""
    low, tip = -subject.held.stake_depth, subject.hoop.leg.top_strap
    middle, half = subject.bed.outer_width / 2, subject.leg_at
    return tuple(
        CABINET.line((s.mark, across, low), (s.mark, across, tip), Layer.CUT)
        for s in subject.hoops
        for across in (middle + half, middle - half)
    )


def _pins(subject: Subject) -> Shapes:
    at = subject.hoop.leg.top_strap - PIN_BELOW
    return tuple(Circle((s.mark, at), 0.012, Layer.CUT, Tone.INK) for s in subject.hoops)


def _panels(subject: Subject) -> Shapes:
    """Return the sheets over the two end hoops, the near one with its clips."""
    far, near = (
        points(CABINET.stood(subject, subject.hoops[n].mark, subject.film_over_hoop))
        for n in (-1, 0)
    )
    sheets = (part(far, Layer.COVER, Tone.LIGHT), part(near, Layer.COVER, Tone.LIGHT))
    if subject.cover.clip is None:
        return sheets
    found = [along_line(subject.film_over_hoop, at)[0] for at in subject.cover.clip_arc]
    clips = points(CABINET.stood(subject, subject.hoops[0].mark, found))
    return (*sheets, *(Circle(at, 0.016, Layer.CLIPS, Tone.INK) for at in clips))


def _rails(subject: Subject) -> Shapes:
    return (part(solid.rail(subject, CABINET), Layer.RAILS),) if subject.rolled else ()


def _buried(subject: Subject) -> Shapes:
    """Return the trench along the near side with the sheet's edge in it."""
    deep, over = 0.7 * subject.cover.allowances.burial, subject.overhang
    a, b = -over, subject.bed.outer_length + over
    corners = ((a, 0.0), (b, 0.0), (b - 0.05, -deep), (a - 0.05, -deep))
    return (Hatch(corners, Layer.GROUND), Polyline(corners, Layer.COVER, closed=True))


def _lacing(subject: Subject) -> Shapes:
    """Return the cords over the cover, one in the middle of each bay laced."""
    line, found = subject.film_line, [s.mark for s in subject.hoops if s.role != "panel"]
    line = np.vstack([line, [line[-1, 0], 0.04]])
    cords = [CABINET.stood(subject, (a + b) / 2, line) for a, b in itertools.pairwise(found)]
    return tuple(Polyline(points(c[int(np.argmax(c[:, 1])) :]), Layer.CUT) for c in cords)


def _mesh_band(subject: Subject) -> Shapes:
    low, length = subject.bed.height, subject.bed.outer_length
    return _netted(rectangle(0.0, low, length, low + subject.cover.mesh_band))


#: Every part by its name, from the furthest to the nearest as it is painted.
PARTS: dict[str, Callable[[Subject], Shapes]] = {
    "film": lambda subject: solid.film(subject, CABINET),
    "far boards": lambda subject: solid.far_boards(subject, CABINET, 0.0, Tone.PAPER),
    "mesh below": lambda subject: _netted(solid.floor(subject, CABINET, 0.0)),
    "soil": _soil,
    "stakes": _stakes,
    "near boards": lambda subject: solid.near_boards(subject, CABINET),
    "ties": _ties,
    "marks": _marks,
    "rods": _rods,
    "mesh band": _mesh_band,
    "ridge": lambda subject: (part(solid.ridge(subject, CABINET), Layer.HOOPS),),
    "braces": lambda subject: solid.braces(subject, CABINET),
    "hoops": lambda subject: tuple(
        part(pipe, Layer.HOOPS) for pipe in solid.hoops(subject, CABINET).values()
    ),
    "panels": _panels,
    "end battens": lambda subject: (
        part(solid.end_batten(subject, CABINET), Layer.BATTENS, Tone.DARK),
    ),
    "top straps": lambda subject: _straps(subject, 0),
    "low straps": lambda subject: _straps(subject, 1),
    "pins": _pins,
    "film edges": lambda subject: solid.film_edges(subject, CABINET),
    "side battens": lambda subject: (
        part(solid.side_batten(subject, CABINET), Layer.BATTENS, Tone.DARK),
    ),
    "buried": _buried,
    "rails": _rails,
    "rail ties": lambda subject: solid.rail_ties(subject, CABINET),
    "lacing": _lacing,
}


def part_of(name: str, subject: Subject) -> Group:
    """Return a part by its name."""
    return subject.once(
        ("part", name), lambda: Group(name, name.capitalize(), PARTS[name](subject))
    )
