"""The ways a cover can be run, from shut to off, as far as the animals allow."""

from collections.abc import Callable, Iterable, Sequence
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.schedule import Schedule, Season, Visits
from hoopwright.season.bed_years import YEAR, common_year
from hoopwright.tables.animals import Animal

Series = NDArray[np.float64]
Way = Literal["closed", "days", "visits", "opener", "always", "off"]


@dataclass(frozen=True)
class Opening:
    """One way to run the cover: shut, open by day or always to a height [m], or off.

    "days" opens it every day, "visits" on days and mild nights that ask for it, "opener" leaves
    it to an automatic opener that starts at `opener_from` [degC] of inside air.
    fabric : an inner fabric lies on the plants as well
    """

    way: Way
    height: float = 0.0
    opener_from: float | None = None
    fabric: bool = False

    def schedule(self, visits: Visits) -> Schedule:
        """Return this way kept up all the year."""
        return Schedule((self.season((1, 1), (12, 31)),), visits)

    def season(self, first: tuple[int, int], last: tuple[int, int]) -> Season:
        """Return this way over a stretch of the year."""
        if self.way == "off":
            return Season(first, last, covered=False)
        if self.way == "opener":
            return Season(first, last, open_height=self.height, opener_from=self.opener_from)
        return Season(first, last, open_height=self.height, opened=self.way)


@dataclass(frozen=True)
class OptionYears:
    """What a way did over many years: hourly air and leaf [degC], shape (years, 8760)."""

    opening: Opening
    air: Series
    leaf: Series


def allowed_height(animals: Iterable[Animal], mesh_band: float, full: float) -> float:
    """Return how high [m] the sides may stand open without letting an animal in.

    mesh_band : [m] height of the mesh band in the opening, 0 for none
    full      : [m] to which the sides can be rolled
    An animal is kept out by a band as high as its barrier, or, where no band stops it, by mesh
    over the whole opening; else the opening above the band stays within the gap it cannot pass.
    """
    height = full
    for animal in animals:
        needed = full if animal.barrier is None else min(animal.barrier, full)
        if mesh_band < needed:
            height = min(height, mesh_band + animal.gap)
    return max(height, 0.0)


def ways(heights: Sequence[float], most: float, can_come_off: bool = True) -> tuple[Opening, ...]:
    """Return the ways from shut to off, heights [m] kept at or under the most allowed [m]."""
    allowed = sorted({min(height, most) for height in heights if height > 0 and most > 0})
    found = [Opening("closed"), *(Opening("days", height) for height in allowed)]
    found += [Opening("always", height) for height in allowed[-1:]]
    if can_come_off:
        found.append(Opening("off"))
    return tuple(found)


def run_ways(
    options: Sequence[Opening],
    years: Sequence[Place],
    visits: Visits,
    simulate: Callable[[Place, Sequence[Schedule]], Sequence[UnderCover]],
) -> tuple[OptionYears, ...]:
    """Return each way's years.

    years    : the bed's place in each year's weather
    simulate : the heat model with bed and cover bound to it, for one year run by each schedule
    """
    schedules = [option.schedule(visits) for option in options]
    shape = len(options), len(years), YEAR * 24
    air, leaf = np.empty(shape), np.empty(shape)
    for year, at in enumerate(years):
        for way, run in enumerate(simulate(at, schedules)):
            air[way, year] = common_year(run, run.air)
            leaf[way, year] = common_year(run, run.leaf)
    return tuple(map(OptionYears, options, air, leaf))
