"""Which variety would make it: the days to maturity that a place and a cover leave room for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hoopwright.season.crop_days import Habits
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import Crop
from hoopwright.season.running import Covered, tried
from hoopwright.season.windows import kept_days

SEARCHED, SHORTEST = 0.5, 0.75
"""[-] of the quickest usual variety's days: where the search begins, and below which a variety is
not advised, for hardly one is sold. Both ours."""


def days_that_fit(crop: Crop, cover: Covered, risk: float, how: Habits) -> int | None:
    """Return the most days to maturity [d] that leave a sowing window at the risk, or None.

    As seed lists count them, from sowing or planting, in a mild month; up to the usual
    variety's. A crop of fewer days needs as much less warmth.
    """
    quickest = crop.habit.days_to_harvest.low
    least = int(np.ceil(SEARCHED * quickest))
    most = int(crop.habit.days_to_harvest.middle)
    if not _fits(crop, least, cover, risk, how):
        return None
    while least < most:
        middle = (least + most + 1) // 2
        if _fits(crop, middle, cover, risk, how):
            least = middle
        else:
            most = middle - 1
    return least if least >= SHORTEST * quickest else None


def of_days(crop: Crop, days: float) -> Crop:
    """Return the crop as a variety of so many days to maturity [d]."""
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


def _fits(crop: Crop, days: int, cover: Covered, risk: float, how: Habits) -> bool:
    return bool(kept_days([one for _, one in tried(of_days(crop, days), cover, how)], risk).any())
