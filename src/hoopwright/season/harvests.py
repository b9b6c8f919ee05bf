"""When a crop's starts are first picked, for how long, and when they flower."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.frost import quantile
from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR
from hoopwright.season.crops import Crop
from hoopwright.season.losses import Fates

Flags = NDArray[np.bool_]

HOLDS = {"leaf": 21, "root": 21, "head": 10, "pod": 21, "bulb": 21, "fruit": 60}
"""[d] that one sowing is picked, or stands ready, unless frost ends it: common practice, no
source."""


@dataclass(frozen=True)
class HarvestDates:
    """Days from 1 January of the start's year by which 10, 50, 90 % of the years reach harvest.

    NaN where too few years came through. Years lost are left out, so read it with the losses.
    """

    early: float
    middle: float
    late: float


def first_harvest(fate: Fates, day: int) -> HarvestDates:
    """Return when a start on one day is first picked, in the years that came through."""
    kept = fate.lost[:, day] < 0.5
    ripe = fate.ripe[kept, day].astype(np.float64)
    if ripe.size == 0:
        return HarvestDates(float("nan"), float("nan"), float("nan"))
    if ripe.size < 3:
        return HarvestDates(float("nan"), float(np.median(ripe)), float("nan"))
    return HarvestDates(quantile(ripe, 0.1), quantile(ripe, 0.5), quantile(ripe, 0.9))


def middle_harvest(fate: Fates) -> tuple[float, ...]:
    """Return the median first harvest of each start day over the years that came through."""
    ripe = np.where((fate.lost < 0.5) & (fate.ripe <= 2 * YEAR), fate.ripe, np.nan)
    some = np.isfinite(ripe).any(axis=0)
    found = np.full(YEAR, np.nan)
    found[some] = np.nanmedian(ripe[:, some], axis=0)
    return tuple(found.tolist())


def cleared_days(crop: Crop, fate: Fates, middle: Sequence[float]) -> tuple[float, ...]:
    """Return the day on which each start has been picked, or half of it has died, in the middle."""
    first = np.array(middle)
    ended = np.maximum(np.median(fate.ended, axis=0), first + 1.0)
    return tuple(np.minimum(first + HOLDS[crop.habit.part], ended).tolist())


def harvest_weeks(good: Flags, middle: Sequence[float], cleared: Sequence[float]) -> float:
    """Return the weeks of the year in which some good start is being picked, in the middle year."""
    picking = np.zeros(YEAR, dtype=bool)
    for start in np.flatnonzero(good).tolist():
        if np.isfinite(middle[start]):
            picking[np.arange(int(middle[start]), int(cleared[start])) % YEAR] = True
    return float(picking.sum()) / 7.0


def first_flowers(fate: Fates, day: int) -> float:
    """Return the median day on which a start on one day flowers; NaN where it does not."""
    opened = fate.flowering[:, day]
    seen = opened[opened <= 2 * YEAR]
    return float(np.median(seen)) if seen.size else float("nan")
