"""How long seed takes to come up in soil of changing temperature."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.season.crop_records import Emergence, Germination

Series = NDArray[np.float64]


def emergence_rate(soil: ArrayLike, grid: Emergence, limits: Germination) -> Series:
    """Return the share of the way to emergence done in a day [1/d] at soil temperature [degC].

    Between the temperatures of the grid the rate (not the days) is drawn straight; it falls to
    nothing at the nearest temperature at which nothing came up, else at the crop's limit of
    germination, else at the last one tried. Source of the grid: Harrington & Minges 1954.
    Drawing the rate straight is the usual thermal-time reading of such grids (Garcia-Huidobro
    et al. 1982, J. Exp. Bot. 33, 288-296, from memory); we have not tested it against trials.
    """
    temperatures, rates = _knots(grid, limits)
    return np.interp(np.asarray(soil, dtype=np.float64), temperatures, rates, left=0.0, right=0.0)


def _knots(grid: Emergence, limits: Germination) -> tuple[list[float], list[float]]:
    temperatures, rates = list(grid.soil), [1.0 / days for days in grid.days]
    colder = [t for t in grid.no_emergence_at if t < temperatures[0]]
    hotter = [t for t in grid.no_emergence_at if t > temperatures[-1]]
    foot = max(colder) if colder else limits.least_soil
    head = min(hotter) if hotter else limits.most_soil
    if foot < temperatures[0]:
        temperatures.insert(0, foot)
        rates.insert(0, 0.0)
    if head > temperatures[-1]:
        temperatures.append(head)
        rates.append(0.0)
    return temperatures, rates
