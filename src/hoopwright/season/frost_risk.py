"""The frost curve of a bed: the chance that leaves still, or already, come to a temperature."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.frost import MIDSUMMER, FrostYears
from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import NO_ODDS, YEAR, BedYears, SeasonError

Series = NDArray[np.float64]


@dataclass(frozen=True)
class FrostCurve:
    """Chances by day of the year (0 is 1 January), each with its 90 % interval, shape (365,).

    In the first half a day's chance is that of a night on or AFTER it; in the second half that
    of a night on or BEFORE it: so NOAA's normals read. low, high : Wilson's interval
    """

    threshold: float
    years: int
    chance: Series
    low: Series
    high: Series


def leaf_frost_years(years: BedYears, threshold: float) -> FrostYears:
    """Return last and first night of each year with leaves at or below a threshold [degC].

    From the bed's own nightly minima, never from a mean gain taken off a climatology: the gain
    is smallest on just the nights that matter.
    """
    if years.typical_year:
        raise SeasonError(NO_ODDS)
    least = years.leaf.reshape(len(years), YEAR, 24).min(axis=2)
    last, first = [], []
    for row in least:
        cold = np.flatnonzero(row <= threshold) + 1
        spring, autumn = cold[cold <= MIDSUMMER], cold[cold > MIDSUMMER]
        last.append(float(spring[-1]) if spring.size else np.nan)
        first.append(float(autumn[0]) if autumn.size else np.nan)
    labels = tuple(range(1, len(years) + 1))
    return FrostYears(threshold, labels, np.array(last), np.array(first), ())


def frost_curve(years: BedYears, threshold: float) -> FrostCurve:
    """Return the chance by day of leaves at or below a threshold [degC]."""
    found = leaf_frost_years(years, threshold)
    day = np.arange(1, YEAR + 1)[:, None]
    last = np.nan_to_num(found.last, nan=-1.0)
    first = np.nan_to_num(found.first, nan=9999.0)
    hits = np.where(day <= MIDSUMMER, last >= day, first <= day).sum(axis=1)
    low, high = wilson(hits.astype(np.float64), len(years))
    parts = (hits / len(years), low, high)
    return FrostCurve(threshold, len(years), *(np.roll(part, years.begins) for part in parts))


def wilson(hits: Series, count: int, score: float = 1.645) -> tuple[Series, Series]:
    """Return the interval of a chance seen `hits` times in `count`; score 1.645 for 90 %.

    Source: Wilson 1927, J. Am. Stat. Assoc. 22, 209-212; good also for few years.
    """
    share = hits / count
    spread = score**2 / count
    middle = share + spread / 2
    half = score * np.sqrt(share * (1 - share) / count + spread / (4 * count))
    return np.maximum((middle - half) / (1 + spread), 0.0), np.minimum(
        (middle + half) / (1 + spread), 1.0
    )
