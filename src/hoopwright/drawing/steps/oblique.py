"""The bed in cabinet projection: the near side true to scale, its width going back to the left.

Each part is a group by its name, so that a picture may show it new, standing or not at all.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.drawing.scene import (
    Circle,
    Hatch,
    Layer,
    Line,
    Point,
    Polyline,
    Shape,
    Tone,
    Weight,
    thin_part,
)
from hoopwright.drawing.solid import board_face, soil_shown, stood_up
from hoopwright.drawing.subject import Subject, beside, points, rectangle
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import HoldDown

#: A metre across the bed is drawn so far to the left and so far up [m]: half its length at 35
#: degrees, as cabinet projection has it.
_BACK, _UP = 0.41, 0.287


@dataclass(frozen=True)
class Build:
    """What is built: the bed to draw, what holds it down, and its cords under the soil."""

    subject: Subject
    held: HoldDown
    ties: int = 0


def place(along: float, across: float, up: float) -> Point:
    """Return a place in the picture [m]: along from the tape's zero, across from the near side."""
    return along - _BACK * across, up + _UP * across


def face(*corners: Sequence[float]) -> tuple[Point, ...]:
    """Return several places in the picture."""
    return tuple(place(*corner) for corner in corners)


def stood(subject: Subject, mark: float, line: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.array(face(*stood_up(subject, mark, line)))


def band(line: NDArray[np.float64], radius: float, layer: Layer) -> Polyline:
    edge = np.vstack([beside(line, radius), beside(line, -radius)[::-1]])
    return Polyline(points(edge), layer, closed=True, fill=Tone.PAPER)


def far_boards(build: Build) -> tuple[Shape, ...]:
    """Return the inner faces seen over the near boards."""
    subject = build.subject
    bed = subject.bed
    length, width, wall, top = bed.outer_length, bed.outer_width, bed.wall, bed.height
    a, b, c, d = wall, length - wall, wall, width - wall
    return (
        board_face(face((a, d, 0), (b, d, 0), (b, d, top), (a, d, top)), Tone.PAPER),
        board_face(face((b, c, 0), (b, d, 0), (b, d, top), (b, c, top)), Tone.PAPER),
    )


def soil(build: Build) -> tuple[Shape, ...]:
    """Return the surface of the soil."""
    subject = build.subject
    bed, level = subject.bed, soil_shown(subject.bed)
    a, b = bed.wall, bed.outer_length - bed.wall
    c, d = bed.wall, bed.outer_width - bed.wall
    corners = face((a, c, level), (b, c, level), (b, d, level), (a, d, level))
    return (thin_part(corners, Layer.GROUND, Tone.DARK),)


def near_boards(build: Build) -> tuple[Shape, ...]:
    """Return the near side, the first end and all four top edges."""
    subject = build.subject
    bed = subject.bed
    length, width, wall, top = bed.outer_length, bed.outer_width, bed.wall, bed.height
    shapes: list[Shape] = [
        board_face(face((0, 0, 0), (length, 0, 0), (length, 0, top), (0, 0, top)), Tone.PAPER),
        board_face(face((0, 0, 0), (0, width, 0), (0, width, top), (0, 0, top)), Tone.PAPER),
    ]
    tops = (
        (0, 0, length, wall),
        (0, width - wall, length, width),
        (0, wall, wall, width - wall),
        (length - wall, wall, length, width - wall),
    )
    for a, c, b, d in tops:
        corners = face((a, c, top), (b, c, top), (b, d, top), (a, d, top))
        shapes.append(board_face(corners, Tone.PAPER))
    for course in range(1, bed.courses):
        seam = face(
            *((x, y, course * bed.board.width) for x, y in ((length, 0), (0, 0), (0, width)))
        )
        shapes.append(Polyline(seam, Layer.BOARDS, weight=Weight.THIN))
    return tuple(shapes)


def stakes(build: Build) -> tuple[Shape, ...]:
    """Return the stakes as they stand inside the boards and in the ground."""
    subject, held = build.subject, build.held
    if held.stake is None or not held.stakes:
        return ()
    bed, size, made = subject.bed, held.stake.size, list[Shape]()
    for count, across in (
        (held.stakes // 2, bed.outer_width - bed.wall - size),
        (
            held.stakes - held.stakes // 2,
            bed.wall,
        ),
    ):
        for along in np.linspace(bed.wall, bed.outer_length - bed.wall - size, max(count, 1)):
            a, b, low = float(along), float(along) + size, -held.stake_depth
            shaft = face(
                (a, across, low),
                (b, across, low),
                (b, across, bed.height - 0.01),
                (
                    a,
                    across,
                    bed.height - 0.01,
                ),
            )
            point = place((a + b) / 2, across, low - 0.04)
            made.append(
                thin_part((point, shaft[1], shaft[2], shaft[3], shaft[0]), Layer.LEGS, Tone.DARK)
            )
    return tuple(made)


def ties(build: Build) -> tuple[Shape, ...]:
    """Return the cords from board to board, evenly along the bed."""
    subject = build.subject
    bed, count = subject.bed, build.ties
    return tuple(
        Line(place(at, 0, 0.03), place(at, bed.outer_width, 0.03), Layer.CUT)
        for at in (bed.outer_length * (n + 0.5) / count for n in range(count))
    )


def mesh_below(build: Build) -> tuple[Shape, ...]:
    """Return the mesh on the floor of the bed."""
    subject = build.subject
    bed = subject.bed
    a, b, c, d = bed.wall, bed.outer_length - bed.wall, bed.wall, bed.outer_width - bed.wall
    floor = face((a, c, 0.0), (b, c, 0.0), (b, d, 0.0), (a, d, 0.0))
    return netted(floor)


def netted(corners: tuple[Point, ...]) -> tuple[Shape, ...]:
    return (
        Hatch(corners, Layer.RAILS, 45.0, 0.0012),
        Hatch(corners, Layer.RAILS, 135.0, 0.0012),
        Polyline(corners, Layer.RAILS, closed=True),
    )


def marks(build: Build) -> tuple[Shape, ...]:
    """Return the marks across both top edges, and down the near face."""
    subject = build.subject
    bed, made = subject.bed, list[Shape]()
    for station in subject.hoops:
        at, wide, top = station.mark, bed.outer_width, bed.height
        near = face((at, bed.wall, top), (at, 0, top), (at, 0, 0.35 * top))
        made.append(Polyline(near, Layer.CUT))
        far = (place(at, wide - bed.wall, top), place(at, wide, top))
        made.append(Line(*far, Layer.CUT))
    return tuple(made)


def _straps(subject: Subject, level: float | None) -> tuple[Shape, ...]:
    if level is None or subject.strap is None or subject.legs == "inside":
        return ()
    half, high = subject.strap_length / 2, subject.strap.width / 2
    return tuple(
        thin_part(
            rectangle(s.mark - half, level - high, s.mark + half, level + high),
            Layer.STRAPS,
            Tone.DARK,
        )
        for s in subject.hoops
    )


def top_straps(build: Build) -> tuple[Shape, ...]:
    """Return the near top straps."""
    subject = build.subject
    return _straps(subject, subject.hoop.leg.top_strap)


def low_straps(build: Build) -> tuple[Shape, ...]:
    """Return the near low straps."""
    subject = build.subject
    return _straps(subject, subject.hoop.leg.low_strap)


def rods(build: Build) -> tuple[Shape, ...]:
    """Return the rods beside both boards, from in the ground to their tips."""
    subject, held = build.subject, build.held
    half = subject.hoop.span / 2
    middle, tip = subject.bed.outer_width / 2, subject.hoop.leg.top_strap
    return tuple(
        Line(place(s.mark, across, -held.stake_depth), place(s.mark, across, tip), Layer.CUT)
        for s in subject.hoops
        for across in (middle + half, middle - half)
    )


def hoops(build: Build) -> tuple[Shape, ...]:
    """Return what is seen of every hoop over the boards, and of near legs before the board."""
    subject = build.subject
    line, top = subject.hoop.centreline, subject.bed.height
    above = line[line[:, 1] >= top]
    foot = max(subject.hoop.leg.foot, 0.0) if subject.legs == "outside" else top
    ends = [[above[0, 0], top]], [[above[-1, 0], foot]]
    whole = np.vstack([ends[0], above, ends[1]])
    return tuple(
        band(stood(subject, s.mark, whole), subject.outside / 2, Layer.HOOPS)
        for s in reversed(subject.hoops)
    )


def pins(build: Build) -> tuple[Shape, ...]:
    """Return the heads of the screws through the near legs."""
    subject = build.subject
    at = subject.hoop.leg.top_strap - 0.05
    return tuple(Circle((s.mark, at), 0.012, Layer.CUT, Tone.INK) for s in subject.hoops)


def ridge(build: Build) -> tuple[Shape, ...]:
    """Return the ridge line under the crowns."""
    subject = build.subject
    middle, up = subject.bed.outer_width / 2, subject.hoop.crown - subject.outside / 2
    ends = face((subject.hoops[0].mark, middle, up), (subject.hoops[-1].mark, middle, up))
    return (band(np.array(ends), subject.outside / 2, Layer.HOOPS),)
