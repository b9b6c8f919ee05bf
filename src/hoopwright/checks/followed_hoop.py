"""One hoop followed through every wind and snow case at once, in one batch.

The batch is the hoop that carries a full bay of film, its own weight and the film's on it from
the start. Wind rows come in pairs, each case with the likely and with the high pressure inside;
the snow rows follow, and one of ice.
"""

import math
import threading
from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.frame import GuyLine, HoopFrame, formed_frame, hoop_frame
from hoopwright.beam.load import Load, between, load, stack
from hoopwright.beam.path import EquilibriumPath, follow, follow_designs
from hoopwright.beam.response import Response, respond
from hoopwright.checks.standing import Standing
from hoopwright.frozen import Keeping, dataclass
from hoopwright.hoop.shape import Hoop
from hoopwright.loads.arc_section import ArcSection, steep_share
from hoopwright.loads.snow import balanced_on_curve, unbalanced_on_curve
from hoopwright.loads.wind_cases import WindCase, every_case
from hoopwright.tables.constants import STANDARD_GRAVITY

#: Share of the arc that a rolled-up side bares: up to the shoulder (an assumption).
OPEN_SHARE = 0.25
#: Strongest gust followed [m/s], 150 mph: what stands to there is said to stand.
STRONGEST_GUST = 67.0
#: Heaviest snow followed [Pa of plan], about 100 psf: beyond almost every ground load mapped.
HEAVIEST_SNOW = 4800.0
#: Pegs of the guys, outward of the legs [m] (common practice, no source).
GUY_FOOT = 0.6096
#: Force over stretch [N] of 1/8 in polyester cord: 300 lb break at about 15 % (assumption).
CORD_STIFFNESS = 8900.0
#: A cord drawn tight by hand [N] (assumption).
GUY_PULL = 20.0
#: Points of path a case may have [-]. Usual plans need up to 60 (48 plans tried).
MOST_POINTS = 150
SNOW_CASES = ("even snow", "snow on one half", "drifted snow")


@dataclass(frozen=True)
class FollowedHoop(Keeping):
    """The hoop followed through all its cases.

    path, response : rows are cases; factors are velocity pressures or flat snow loads [Pa]
    section : the curve the wind meets, at the frame's points
    """

    cases: tuple[WindCase, ...]
    section: ArcSection
    path: EquilibriumPath

    @cached_property
    def response(self) -> Response:
        """Return what every point of every path means in metres and newtons."""
        return respond(self.path)

    def gives_way(self, rows: list[int]) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        """Return each row's factor [Pa] at which the hoop gives way, NaN where it does not.

        Where a path ends early the factor is the last one reached, and the second array True: no
        more than a lower bound is known.
        """
        at = self.path.critical_factor[rows]
        short = np.isnan(at) & self.path.unfinished[rows]
        return np.where(short, np.nanmax(self.path.factor[rows], axis=1), at), short

    def wind_rows(self, opened: bool) -> list[int]:
        """Return the rows of closed or opened wind cases, with the likely pressure inside.

        The row behind each has the high pressure inside.
        """
        return [2 * row for row, case in enumerate(self.cases) if is_opened(case) == opened]

    @property
    def snow_rows(self) -> list[int]:
        """Return the rows of the snow cases, in the order of SNOW_CASES."""
        return [2 * len(self.cases) + index for index in range(len(SNOW_CASES))]

    @property
    def ice_row(self) -> int:
        """Return the row of ice that lies on the cover's own area, the same all along the arc."""
        return 2 * len(self.cases) + len(SNOW_CASES)


def is_opened(case: WindCase) -> bool:
    """Return whether a case has a side or an end open."""
    return "closed" not in case.name


def follow_hoop(standing: Standing, way: Callable[..., EquilibriumPath] = follow) -> FollowedHoop:
    """Return the hoop followed through every wind and snow case.

    way : what follows it
    """
    one = _load_cases(standing)
    path = way(one.frame, one.growing, one.weight, factor_limit=one.limits, most_points=MOST_POINTS)
    return FollowedHoop(one.wind, one.section, path)


#: The last few hoops followed, by what they depend on: most changes of a plan leave its hoop alone.
_LATELY: dict[object, FollowedHoop] = {}
_MOST_LATELY = 8
#: A sweep's threads ask for hoops at once.
_TURN = threading.Lock()


def lately_followed(standing: Standing) -> FollowedHoop:
    """Return what `follow_hoop` does, anew only where this hoop is none of the last few."""
    key = depends_on(standing)
    held = _LATELY.get(key) or follow_hoop(standing)
    with _TURN:
        _LATELY.pop(key, None)
        _LATELY[key] = held
        while len(_LATELY) > _MOST_LATELY:
            del _LATELY[next(iter(_LATELY))]
    # A hoop of its own, for what is read off it is kept with it and should go with its ladder.
    found = FollowedHoop(held.cases, held.section, held.path)
    vars(found)["response"] = held.response
    return found


def follow_hoops(standings: Sequence[Standing]) -> list[FollowedHoop]:
    """Return several hoops followed side by side, each as `follow_hoop` does; quicker a hoop.

    Guyed hoops are followed one by one.
    """
    loose = [standing for standing in standings if not standing.guyed]
    several = [_load_cases(standing) for standing in loose]
    paths = (
        follow_designs(
            [one.frame for one in several],
            [one.growing for one in several],
            [one.weight for one in several],
            [one.limits for one in several],
            most_points=MOST_POINTS,
        )
        if several
        else []
    )
    found = iter(
        [
            FollowedHoop(one.wind, one.section, path)
            for one, path in zip(several, paths, strict=True)
        ]
    )
    return [follow_hoop(one) if one.guyed else next(found) for one in standings]


def depends_on(standing: Standing) -> object:
    """Return all that the followed hoop depends on: equal for two, and so is the hoop."""
    hoop, curve, pipe = standing.hoop, standing.hoop.curve, standing.hoop.pipe
    return (
        (pipe.bending_stiffness, pipe.mass_per_length, pipe.springs),
        (hoop.hold_height, hoop.crown, hoop.span, curve.length, curve.span, curve.rise),
        (curve.hold, curve.thrust_per_stiffness, curve.foot_curvature, curve.angle.tobytes()),
        (standing.bay, standing.cover.material.mass_per_area, "rail" in standing.cover.edges),
        (standing.bed.outer_length, standing.wind.basis, standing.wind.pressure(STRONGEST_GUST)),
        standing.guyed,
    )


@dataclass(frozen=True)
class _LoadCases:
    """What a hoop is followed through: its frame, loads of one pascal, weight, and limits [Pa]."""

    wind: tuple[WindCase, ...]
    section: ArcSection
    frame: HoopFrame
    growing: Load
    weight: Load
    limits: NDArray[np.float64]


def _load_cases(standing: Standing) -> _LoadCases:
    hoop = standing.hoop
    frame = _frame_of(standing)
    section = _section(frame, hoop)
    cases = every_case(
        section,
        OPEN_SHARE if "rail" in standing.cover.edges else 0.0,
        hoop.crown,
        standing.bed.outer_length,
        basis=standing.wind.basis,
    )
    wind = [
        load(frame, pressure=coefficient * standing.bay)
        for case in cases
        for coefficient in (case.net(case.internal.likely), case.net(case.internal.high))
    ]
    snow = _snow(frame, standing.bay)
    weight = hoop.pipe.mass_per_length + standing.bay * standing.cover.material.mass_per_area
    limits: NDArray[np.float64] = np.array(
        [standing.wind.pressure(STRONGEST_GUST)] * len(wind) + [HEAVIEST_SNOW] * len(snow)
    )
    return _LoadCases(
        cases,
        section,
        frame,
        stack([*wind, *snow]),
        load(frame, down=weight * STANDARD_GRAVITY),
        limits,
    )


def _frame_of(standing: Standing) -> HoopFrame:
    """Return the hoop as a frame: sprung, with its bend as prestress, or formed, with none.

    A formed arch is taken in the sprung curve; the checks say that a bender gives another.
    """
    curve, stiffness = standing.hoop.curve, standing.hoop.pipe.bending_stiffness
    if standing.hoop.pipe.springs:
        return hoop_frame(curve, stiffness, lines=_guys(standing))

    def angle_at(share: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.asarray(np.interp(share, curve.arc / curve.length, curve.angle))

    return formed_frame(
        curve.length, angle_at, (curve.hold, curve.hold), stiffness, lines=_guys(standing)
    )


def _guys(standing: Standing) -> tuple[GuyLine, ...]:
    """Return the cords from both shoulders to pegs in the ground, drawn hand-tight."""
    if not standing.guyed:
        return ()
    hoop = standing.hoop
    shoulder = float(np.interp(0.25 * hoop.curve.length, hoop.curve.arc, hoop.curve.y))
    reach = hoop.hold_height + shoulder
    stiffness = CORD_STIFFNESS / math.hypot(GUY_FOOT, reach)
    span, ground = hoop.span, -hoop.hold_height
    return (
        GuyLine(0.25, -GUY_FOOT, ground, stiffness, GUY_PULL),
        GuyLine(0.75, span + GUY_FOOT, ground, stiffness, GUY_PULL),
    )


def _section(frame: HoopFrame, hoop: Hoop) -> ArcSection:
    """Return the section that wind and snow meet, at the frame's points."""
    span, curve = hoop.curve.span, hoop.curve
    steep = steep_share(curve.arc / curve.length, np.abs(curve.angle))
    return ArcSection(
        frame.rule.points,
        np.abs(frame.angle),
        curve.rise / span,
        hoop.hold_height / span,
        between(frame, 0.0, steep),
    )


def _snow(frame: HoopFrame, bay: float) -> list[Load]:
    """Return one pascal of even, one-sided and drifted snow on a bay, and one of ice."""
    slope = np.abs(frame.angle)
    even = balanced_on_curve(slope, 1.0) * bay
    drifted = unbalanced_on_curve(frame.x, slope, 1.0) * bay
    return [
        load(frame, on_plan=even),
        load(frame, on_plan=even * between(frame, 0.5, 1.0)),
        load(frame, on_plan=drifted),
        load(frame, down=bay),
    ]
