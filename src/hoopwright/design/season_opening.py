"""What opening the plan's cover does to the heat under it, way by way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hoopwright.design.flow import Design
from hoopwright.design.growing import LITTLE, visits_of
from hoopwright.frozen import dataclass
from hoopwright.heat.compare import HOT, VERY_HOT, opening_for_limit
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, Case, simulate, simulate_all
from hoopwright.heat.schedule import Schedule
from hoopwright.season.opening_options import Opening, OptionYears, run_ways, ways

#: Years looked at for the opening calendar and for what fabric or jugs add; more change a half
#: month rarely (an assumption).
SOME_YEARS = 10


@dataclass(frozen=True)
class OpeningHeat:
    """Hours a year above 32 and 38 degC with the plan's cover run one way all the year.

    coldest : [degC] mean of the years' coldest leaf from April to October
    """

    opening: Opening
    hot: float
    very_hot: float
    coldest: float


def opening_options(
    design: Design,
    bed: BedInRun,
    optics: CoverOptics,
    years: Sequence[Place],
    march: Any,
    allowed: float,
) -> tuple[OptionYears, ...]:
    """Return what each way to run the plan's cover does over some years."""
    heights = (LITTLE, 0.3048, min(0.6096, design.hoop.crown_over_board))

    def run(at: Place, schedules: Sequence[Schedule]) -> list[UnderCover]:
        return simulate_all(at.weather, [Case(bed, optics, one, at) for one in schedules], march)

    return run_ways(ways(heights, allowed), years, visits_of(design.plan), run)


def heat_of(option: OptionYears) -> OpeningHeat:
    years = len(option.air)
    growing = slice(24 * 90, 24 * 304)
    return OpeningHeat(
        option.opening,
        float((option.air > HOT).sum()) / years,
        float((option.air > VERY_HOT).sum()) / years,
        float(option.leaf[:, growing].min(axis=1).mean()),
    )


def keeps_under(
    design: Design, bed: BedInRun, optics: CoverOptics, at: Place, march: Any, allowed: float
) -> float | None:
    visits = visits_of(design.plan)

    def run(height: float) -> UnderCover:
        schedule = Opening("days", height).schedule(visits)
        return simulate(at.weather, bed, optics, schedule, at, march)

    return opening_for_limit(run, HOT, allowed)
