"""The bed in space as plain numbers, for a page that draws it: nothing is measured there again.

Places are [m]: along the bed from its first end, across from its middle, up from the ground.
"""

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.design import Design
from hoopwright.drawing.people import standing as standing_figure
from hoopwright.drawing.scene import Circle, Polyline
from hoopwright.drawing.solid import sheet_ends, soil_shown
from hoopwright.drawing.subject import Subject, along_line
from hoopwright.drawing.views import subject_of
from hoopwright.season.crops import crops

#: Points of a curve that are sent: a hoop of 3 m then has one each 6 cm.
POINTS = 49


def spatial(design: Design) -> dict[str, Any]:
    """Return the finished bed of a design: box, hoops, cover, fastenings, plants, person, north."""
    subject = subject_of(design, judged=False)
    return {
        "box": _box(subject),
        "hoops": _hoops(subject),
        "ridge": design.standing.ridged,
        "braces": [rounded(ends) for ends in subject.braces],
        "cover": _cover(subject, laced=design.standing.laced),
        "plants": _plants(design),
        "person": _person(),
        "north": subject.north,
        "description": _words(subject),
    }


def rounded(line: Iterable[Iterable[float]]) -> list[list[float]]:
    """Return places to a tenth of a millimetre, as they are sent."""
    return [[round(float(one), 4) for one in place] for place in line]


def spread(line: NDArray[np.float64], count: int = POINTS) -> NDArray[np.float64]:
    """Return so many points evenly along a line (n, 2) [m], its ends among them."""
    steps = np.hypot(*np.diff(line, axis=0).T)
    arc = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.linspace(0.0, arc[-1], count)
    return np.column_stack([np.interp(at, arc, line[:, n]) for n in (0, 1)])


def _box(subject: Subject) -> dict[str, Any]:
    bed = subject.bed
    return {
        "length": bed.outer_length,
        "width": bed.outer_width,
        "wall": bed.wall,
        "height": bed.height,
        "courses": bed.courses,
        "soil": soil_shown(bed),
    }


def _hoops(subject: Subject) -> dict[str, Any]:
    leg = subject.hoop.leg
    straps = [at for at in (leg.top_strap, leg.low_strap) if at is not None]
    return {
        "marks": [round(hoop.mark, 4) for hoop in subject.hoops],
        "line": rounded(whole_pipe(subject)),
        "radius": subject.outside / 2,
        "legs": subject.legs,
        "foot": max(leg.foot, 0.0),
        "straps": straps if subject.strap else [],
        "strap": subject.strap_length,
    }


def whole_pipe(subject: Subject) -> NDArray[np.float64]:
    """Return the pipe foot to foot: its free part in POINTS places, and its two feet."""
    line = subject.hoop.centreline
    return np.vstack([line[:1], spread(line[1:-1]), line[-1:]])


def _cover(subject: Subject, *, laced: bool) -> dict[str, Any]:
    cover = subject.cover
    clips = [along_line(subject.film_over_hoop, at)[0] for at in cover.clip_arc]
    return {
        "line": rounded(spread(subject.film_line, 2 * POINTS - 1)),
        "ends": list(sheet_ends(subject)),
        "wrapped": cover.style == "wrapped",
        "clear": cover.material.kind == "film",
        "name": cover.material.name,
        "edges": list(cover.edges),
        "skirt": subject.skirt_bottom,
        "rail": cover.rail.outside_diameter / 2,
        "ties": list(subject.rail_ties),
        "batten": [cover.batten.width, cover.batten.thickness, subject.end_batten_low],
        "clips": rounded(clips) if cover.clip else [],
        "laced": laced,
        "mesh": cover.mesh_band,
    }


def _plants(design: Design) -> list[Mapping[str, Any]]:
    """Return the plan's crops in the order named: how high each grows and how far apart [m]."""
    if not design.plan.season.crops:
        return []
    known = crops(*design.varieties)
    named = [known[key] for key in design.plan.season.crops if key in known]
    return [
        {
            "name": one.habit.name,
            "height": one.water.stand_height,
            "spacing": one.habit.spacing.middle,
            "part": one.habit.part,
        }
        for one in named
    ]


def _person() -> dict[str, Any]:
    """Return a standing figure, for size."""
    body, head = standing_figure(0.0)
    assert isinstance(body, Polyline)
    assert isinstance(head, Circle)
    return {"body": rounded(body.points), "head": [*head.centre, head.radius]}


def _words(subject: Subject) -> str:
    """Return what is seen, for who does not see it."""
    bed = subject.bed
    return (
        f"{subject.name}: a board box {subject.shown(bed.outer_length)} by "
        f"{subject.shown(bed.outer_width)}, {len(subject.hoops)} hoops with their crown "
        f"{subject.shown(subject.top)} above the ground, under {subject.cover.material.name}."
    )
