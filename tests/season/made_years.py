"""Years of a bed made up so that answers can be foreseen."""

import numpy as np

from hoopwright.season.bed_years import BedYears

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
