"""Which variety would make it: the days to maturity that a place and a cover leave room for."""

from dataclasses import replace

import numpy as np

from hoopwright.season.bed_years import Digest
from hoopwright.season.crop_days import CropDays, Habits
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import Crop
from hoopwright.season.running import Covered, tried
from hoopwright.season.windows import kept_days

SHORTEST = 0.75
"""[-] of the quickest usual variety's days, below which a variety is not advised, for hardly one is
sold: ours."""
TRIED = 6
"""Varieties tried between that and the usual one, and then those next to the slowest of them."""


def days_that_fit(crop: Crop, cover: Covered, risk: float, how: Habits) -> tuple[int, int] | None:
    """Return the fewest and the most days to maturity [d] that leave a sowing window, or None.

    As seed lists count them, from sowing or planting, in a mild month; up to the usual
    variety's. Of all that do, those up to the slowest; the fewest is 0 where every quicker one
    tried does as well. They need not: a quicker one may flower into a frost.
    """
    least = int(np.ceil(SHORTEST * crop.habit.days_to_harvest.low))
    most = int(crop.habit.days_to_harvest.middle)
    known: dict[Digest, CropDays] = {}

    def fit(number: int) -> bool:
        return _fits(crop, number, cover, risk, how, known)

    step = max(1, (most - least) // TRIED)
    grid = list(range(least, most + 1, step))
    made = [fit(number) for number in grid]
    if not any(made):
        return None
    last = max(place for place, one in enumerate(made) if one)
    first = last
    while first > 0 and made[first - 1]:
        first -= 1
    slowest = grid[last]
    while slowest < min(grid[last] + step - 1, most) and fit(slowest + 1):
        slowest += 1
    return (grid[first] if first else 0, slowest)


def of_days(crop: Crop, days: float) -> Crop:
    """Return the crop as a variety of so many days to maturity [d].

    One of fewer days needs as much less warmth.
    """
    share = days / crop.habit.days_to_harvest.middle
    known = crop.degrees.degree_days
    degrees = replace(
        crop.degrees,
        degree_days=None
        if known is None
        else CropRange(known.middle * share, known.middle * share),
    )
    return replace(
        crop, habit=replace(crop.habit, days_to_harvest=CropRange(days, days)), degrees=degrees
    )


def _fits(
    crop: Crop,
    days: int,
    cover: Covered,
    risk: float,
    how: Habits,
    known: dict[Digest, CropDays],
) -> bool:
    several = [one for _, one in tried(of_days(crop, days), cover, how, known)]
    return bool(kept_days(several, risk).any())
