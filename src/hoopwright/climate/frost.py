"""Frost dates over many years: last and first, growing season, chances and their doubt."""

from calendar import isleap
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import DailyRecord, Series, Weather, series
from hoopwright.frozen import dataclass

MIDSUMMER = 212
"""Last day of the year counted to spring in the northern half: 31 July (NOAA NCEI's custom)."""


@dataclass(frozen=True)
class FrostYears:
    """Last and first day of the year at or below a threshold, one entry a year.

    threshold : [degC]
    years     : calendar years that had days enough
    last      : day of the year of spring's last; NaN where spring had none
    first     : day of the year of autumn's first; NaN where autumn had none. Days are those of a
                common year, so that a date is the same day in every year: 29 February counts as
                the 28th
    dropped   : sentences on years left out
    """

    threshold: float
    years: tuple[int, ...]
    last: Series
    first: Series
    dropped: tuple[str, ...]

    @property
    def season(self) -> Series:
        """Return the days between last and first; a missing frost counts to the half's end."""
        start = np.where(np.isfinite(self.last), self.last, 0.0)
        end = np.where(np.isfinite(self.first), self.first, 366.0)
        return series(np.maximum(end - start - 1, 0.0))


@dataclass(frozen=True)
class FrostChance:
    """The date of a stated risk with its sampling error.

    probability : [-] that frost still comes on or after (spring) or already on or before
                  (autumn) this day
    day         : of the year; NaN where frost in this half is rarer than the probability
    low, high   : day, 90 % interval from resampling the years; NaN where fewer than nine in ten
                  resamples have such a day
    years       : [-] how many years stand behind it
    """

    probability: float
    day: float
    low: float
    high: float
    years: int


def frost_years(record: DailyRecord, threshold: float = 0.0, most_missing: int = 10) -> FrostYears:
    """Return last and first frost of each calendar year of a daily record.

    threshold    : [degC]
    most_missing : [d] unknown minima tolerated in a year outside its safe half (NCEI's normals
                   ask for near-complete months; 10 is our reading); years with more are dropped
    Northern half of the globe: spring to 31 July, autumn from 1 August. South of the equator the
    winter lies in mid-year, so no dates are given and `dropped` says so.
    """
    if record.station.latitude < 0:
        return _none_in_the_south(threshold)
    years, last, first, dropped = [], [], [], []
    day_of_year = record.day_of_year
    for year in np.unique(record.years):
        here = record.years == year
        days, minimum = day_of_year[here], record.minimum[here]
        length = 366 if isleap(year) else 365
        missing = length - int(np.isfinite(minimum).sum())
        if missing > most_missing:
            dropped.append(f"{year} was left out: {missing} days without a minimum.")
            continue
        cold = _common(days[np.nan_to_num(minimum, nan=99.0) <= threshold], isleap(year))
        spring, autumn = cold[cold <= MIDSUMMER], cold[cold > MIDSUMMER]
        years.append(int(year))
        last.append(float(spring[-1]) if spring.size else np.nan)
        first.append(float(autumn[0]) if autumn.size else np.nan)
    return FrostYears(threshold, tuple(years), np.array(last), np.array(first), tuple(dropped))


def frost_years_of(weathers: Sequence[Weather], threshold: float = 0.0) -> FrostYears:
    """Return last and first frost of each year of hourly records, from daily minima.

    A single typical year is refused: it carries no probabilities.
    """
    if len(weathers) == 1 and weathers[0].typical_year:
        raise ValueError(
            "a typical year is one stitched year and holds no probabilities; give a daily "
            "record, or years from the generator"
        )
    if weathers and weathers[0].station.latitude < 0:
        return _none_in_the_south(threshold)
    years, last, first = [], [], []
    for weather in weathers:
        low = weather.air_temperature.reshape(-1, 24).min(axis=1)
        cold = _common(np.flatnonzero(low <= threshold) + 1, low.size == 366)
        spring, autumn = cold[cold <= MIDSUMMER], cold[cold > MIDSUMMER]
        years.append(weather.start.year)
        last.append(float(spring[-1]) if spring.size else np.nan)
        first.append(float(autumn[0]) if autumn.size else np.nan)
    return FrostYears(threshold, tuple(years), np.array(last), np.array(first), ())


def _common(days: NDArray[np.int64], leap: bool) -> NDArray[np.int64]:
    """Days of a leap year as those of a common one."""
    return days - (days > 59) if leap else days


def _none_in_the_south(threshold: float) -> FrostYears:
    said = (
        "Frost dates are counted from a northern winter to the next and would mislead south of "
        "the equator; none are given."
    )
    return FrostYears(threshold, (), np.empty(0), np.empty(0), (said,))


def plotting_positions(count: int, alpha: float = 0.4) -> Series:
    """Return the chance [-] of not exceeding each of `count` values in rising order.

    Source: Cunnane 1978, J. Hydrology 37, 205-222: (i - 0.4)/(n + 0.2), nearly unbiased for
    quantiles of any distribution; alpha 0 would be Weibull's i/(n + 1).
    """
    rank = np.arange(1, count + 1)
    return series((rank - alpha) / (count + 1 - 2 * alpha))


def quantile(values: Series, probability: float, alpha: float = 0.4) -> float:
    """Return the value not exceeded with a probability [-], on Cunnane's positions.

    NaN where the probability lies outside the positions: a short record knows no tails.
    """
    known = np.sort(values)
    positions = plotting_positions(known.size, alpha)
    if known.size == 0 or not positions[0] - 1e-12 <= probability <= positions[-1] + 1e-12:
        return float("nan")
    return float(np.interp(probability, positions, known))


def last_frost(frost: FrostYears, probability: float, seed: int = 1) -> FrostChance:
    """Return the spring day on or AFTER which frost comes with this probability [-].

    Years without a spring frost count as earlier than any date.
    """
    dates = np.where(np.isfinite(frost.last), frost.last, -np.inf)
    return _chance(dates, probability, True, seed)


def first_frost(frost: FrostYears, probability: float, seed: int = 1) -> FrostChance:
    """Return the autumn day on or BEFORE which frost comes with this probability [-].

    Years without an autumn frost count as later than any date.
    """
    return _chance(
        np.where(np.isfinite(frost.first), frost.first, np.inf), probability, False, seed
    )


def season_length(frost: FrostYears, probability: float, seed: int = 1) -> FrostChance:
    """Return the length [d] that the frost-free season reaches or passes with this probability.

    Taken from each year's own length: it is not the difference of the two dates' quantiles.
    """
    return _chance(frost.season, probability, True, seed)


def _chance(
    values: Series, probability: float, later: bool, seed: int, resamples: int = 400
) -> FrostChance:
    below = 1 - probability if later else probability
    rng = np.random.default_rng(seed)
    count = values.size
    if count == 0:
        return FrostChance(probability, np.nan, np.nan, np.nan, 0)
    drawn = np.sort(values[rng.integers(0, count, (resamples, count))], axis=1)
    spread = np.array([_finite_quantile(row, below) for row in drawn])
    known = spread[np.isfinite(spread)]
    # An interval of the resamples that happen to have such a day would be an interval of something
    # else where many have none.
    enough = known.size >= 0.9 * resamples
    low, high = np.quantile(known, [0.05, 0.95]) if enough else (np.nan, np.nan)
    return FrostChance(
        probability, _finite_quantile(np.sort(values), below), float(low), float(high), count
    )


def _finite_quantile(ordered: Series, probability: float, alpha: float = 0.4) -> float:
    """Return the quantile, or NaN where it falls on or beside a year without frost."""
    positions = plotting_positions(ordered.size, alpha)
    if not positions[0] - 1e-12 <= probability <= positions[-1] + 1e-12:
        return float("nan")
    place = float(np.interp(probability, positions, np.arange(ordered.size)))
    near = ordered[[int(np.floor(place)), int(np.ceil(place))]]
    if not np.isfinite(near).all():
        return float("nan")
    return float(near[0] + (near[1] - near[0]) * (place - np.floor(place)))
