"""What the plan's own cover would do for the bed otherwise: opened way by way, or with fabric on
the plants or jugs of water under it.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from hoopwright.design.flow import Design
from hoopwright.design.growing import GALLON, JUG_SURFACE, LITTLE, visits_of
from hoopwright.frozen import dataclass
from hoopwright.heat.compare import HOT, VERY_HOT, nightly_minimum, opening_for_limit
from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import CoverOptics, InnerFabric, WaterJugs
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, Case, simulate, simulate_all
from hoopwright.heat.schedule import Schedule
from hoopwright.season.opening_options import Opening, OptionYears, run_ways, ways

#: Years looked at for the opening calendar and for what fabric or jugs add; more change a half
#: month rarely (an assumption).
SOME_YEARS = 10
FABRIC = "fabric-0.55"
JUG_EVERY = 0.3048
"""[m] between gallon jugs that stand along both long sides: ours."""
COLD_NIGHT = 5.0
"""[degC] of the leaves under the cover alone, below which nights are counted: ours."""


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


@dataclass(frozen=True)
class Addition:
    """What one thing more adds to the cover as the plan works it.

    what : in words;  leaf : [K] on nights with leaves under `COLD_NIGHT`, the mean and eight of ten
    """

    what: str
    leaf: float
    tenth: float
    ninetieth: float


def additions_of(
    design: Design,
    bed: BedInRun,
    optics: CoverOptics,
    schedule: Schedule,
    years: Sequence[Place],
    march: Any,
) -> tuple[Addition, ...]:
    """Return what each thing that the plan has not would add, kept there all the time."""
    beds: dict[str, BedInRun] = {}
    if bed.fabric is None:
        material = design.catalogue.cover(FABRIC)
        beds[f"{material.name} on the plants"] = replace(
            bed, fabric=InnerFabric(optics_of(material))
        )
    if bed.jugs is None:
        count = 2 * round(bed.enclosure.length / JUG_EVERY)
        jugs = WaterJugs(count * GALLON, count * JUG_SURFACE)
        beds[f"{count} gallon jugs of water along the sides"] = replace(bed, jugs=jugs)
    cases = [bed, *beds.values()]
    leaves: list[list[float]] = [[] for _ in cases]
    for at in years:
        runs = simulate_all(at.weather, [Case(one, optics, schedule, at) for one in cases], march)
        lows = [nightly_minimum(run.leaf, at.weather) for run in runs]
        cold = lows[0] < COLD_NIGHT
        for found, low in zip(leaves, lows, strict=True):
            found.extend((low - lows[0])[cold])
    return tuple(
        Addition(what, float(np.mean(leaf)), *(float(np.percentile(leaf, p)) for p in (10, 90)))
        for what, leaf in zip(beds, leaves[1:], strict=True)
        if leaf
    )
