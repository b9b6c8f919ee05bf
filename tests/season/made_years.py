"""Years of a bed made up so that answers can be foreseen."""

from dataclasses import replace

import numpy as np

from hoopwright.season.bed_years import BedYears
from hoopwright.season.windows import Window

DAYS = np.arange(365)


def made(
    name: str,
    years: int = 20,
    warmer: float = 0.0,
    swing: float = 6.0,
    seed: int = 7,
    typical: bool = False,
) -> BedYears:
    """Years with a smooth course, noise from day to day, nights `swing` under and days over."""
    rng = np.random.default_rng(seed)
    noise = rng.normal(0, 2.5, (years, 365))
    mean = 8.0 - 12.0 * np.cos(2 * np.pi * (DAYS - 20) / 365) + noise + warmer
    hour = np.arange(24)
    shape = -np.cos(2 * np.pi * (hour - 3) / 24)
    air = (mean[:, :, None] + swing * shape).reshape(years, -1)
    soil = np.repeat(mean, 24, axis=1)
    return BedYears(name, air, air - 1.0, soil, typical)


def started(base: Window, key: str, first: int, last: int, ripe: float, picked: float) -> Window:
    """A crop started from day `first` to `last`, ripe and then picked for so many days."""
    day = np.arange(365.0)
    good = (day >= first) & (day <= last)
    harvest = np.where(good, day + ripe, np.nan)
    return replace(
        base,
        crop=key,
        obstacles=tuple("" if one else "frost" for one in good),
        middle_harvest=tuple(harvest.tolist()),
        cleared=tuple((harvest + picked).tolist()),
    )
