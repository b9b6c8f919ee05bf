"""Many years of one bed under one cover, boiled down to what a day did to its plants."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hoopwright.heat.results import UnderCover
from hoopwright.season.crop_records import Emergence, Germination
from hoopwright.season.emergence import emergence_rate

Series = NDArray[np.float64]

YEAR = 365
SEED_DEPTH = 0.02
"""[m] depth of soil that seed feels; half an inch to an inch is usual (common practice)."""


class SeasonError(ValueError):
    """Years that cannot answer the question; the message says what would."""


HARDNESS = (0.0, 1 / 3, 2 / 3, 1.0)
"""[-] steps from soft to hardened."""

IN_THE_SOUTH = (
    "sowing windows and frost dates are counted from a northern winter to the next and would "
    "mislead south of the equator; none are given there (the climate under the cover is)"
)

NO_ODDS = (
    "a typical year is one stitched year and holds no probabilities; give a daily record of many "
    "years, or years from the generator"
)


@dataclass(frozen=True)
class BedYears:
    """Hours of many years, each array of shape (years, 8760), 1 January first.

    name         : what the bed is under, as "open" or "film"
    air, leaf    : [degC] at plant height, and of the leaves
    soil         : [degC] at seed depth
    typical_year : True where the years are one stitched year, which holds no odds
    South of the equator give years that begin on 1 July.
    """

    name: str
    air: Series
    leaf: Series
    soil: Series
    typical_year: bool = False

    def __post_init__(self) -> None:
        shapes = {self.air.shape, self.leaf.shape, self.soil.shape}
        if len(shapes) != 1 or self.air.ndim != 2 or self.air.shape[1] != YEAR * 24:
            raise SeasonError(
                "give air, leaf and soil as arrays of one shape, years by 8760 hours; leave out "
                "29 February"
            )
        if not all(np.isfinite(part).all() for part in (self.air, self.leaf, self.soil)):
            raise SeasonError(f"the years of '{self.name}' have hours that are not numbers")

    def __len__(self) -> int:
        return int(self.air.shape[0])


def bed_years(name: str, runs: Sequence[UnderCover], seed_depth: float = SEED_DEPTH) -> BedYears:
    """Return the years of runs of the heat model, one run a year from 1 January.

    Southern years from 1 January are refused: summer lies across their ends.
    seed_depth : [m]. Hours of 29 February and after the 365th day are left out.
    """
    if not runs:
        raise SeasonError(f"no years were run for '{name}'")
    first = runs[0].weather
    if first.station.latitude < 0 and first.start.month == 1:
        raise SeasonError(IN_THE_SOUTH)
    return BedYears(
        name=name,
        air=np.stack([common_year(run, run.air) for run in runs]),
        leaf=np.stack([common_year(run, run.leaf) for run in runs]),
        soil=np.stack([common_year(run, run.soil_at(seed_depth)) for run in runs]),
        typical_year=any(run.weather.typical_year for run in runs),
    )


def common_year(run: UnderCover, values: Series) -> Series:
    """Return the 8760 hours of a run's first year without 29 February."""
    start, hours = run.weather.start, YEAR * 24
    if (start.month, start.day, start.hour) not in ((1, 1, 0), (7, 1, 0)):
        raise SeasonError("a year of the season starts at midnight of 1 January (or 1 July)")
    if len(values) == hours:
        return values
    leap = (np.datetime64(f"{start.year}-02-29", "D") - np.datetime64(start, "D")).astype(int)
    if start.month != 1 or len(values) < hours + 24:
        raise SeasonError(f"a year has {len(values)} hours; 8760 are wanted")
    kept = np.delete(values, np.s_[24 * leap : 24 * (leap + 1)])
    return np.asarray(kept[:hours])


class Digest:
    """Daily figures of a BedYears over two years each, so that a crop may stand over winter.

    Each year is followed by the next (the last by the first): among generated years any may
    follow any; for a record it is a small untruth at its end.
    """

    def __init__(
        self, years: BedYears, soft_above: float = 18.5, hard_below: float = 3.5, days: int = 7
    ) -> None:
        """Take the years in.

        soft_above, hard_below [degC], days [d] : plants are as soft as they come where the mean
            leaf temperature of so many days before lies above the one, hardened below the other,
            and between in proportion (in four steps). The ends are the means of 5 degC by day and
            2 by night, at which spinach hardens, and of 20 and 17, at which it has lost all of
            it, both mostly within three days (Fennell & Li 1985, Acta Hort. 168, abstract read);
            that the loss goes with the mean between 12 and 20 degC is from oilseed rape (Rapacz
            2002, Ann. Bot. 89, 543-549, abstract read). The straight line and the week, between
            spinach's three days and cabbage's six weeks, are ours.
        """
        self.years = years
        leaf = years.leaf.reshape(len(years), YEAR, 24)
        air = years.air.reshape(len(years), YEAR, 24)
        self.least_leaf = leaf.min(axis=2)
        self.greatest_leaf = leaf.max(axis=2)
        self.greatest_air = air.max(axis=2)
        self.mean_air = air.mean(axis=2)
        before = _mean_before(two_years(leaf.mean(axis=2)), days)
        share = np.clip((soft_above - before) / (soft_above - hard_below), 0.0, 1.0)
        step = np.rint(share * (len(HARDNESS) - 1)).astype(np.int64)
        least = two_years(self.least_leaf)
        self.by_hardness = [
            RangeLeast(np.where(step == number, least, np.inf)) for number in range(len(HARDNESS))
        ]
        self.coldest = RangeLeast(least)
        self.hottest = RangeLeast(-two_years(self.greatest_leaf))
        self._warmth: dict[tuple[float, float], Series] = {}
        self._sprouting: dict[tuple[float, ...], Series] = {}
        self._hot: dict[tuple[float, float], NDArray[np.int64]] = {}

    @cached_property
    def soil_steps(self) -> NDArray[np.int64]:
        """Return the soil's hours in steps of a quarter degree from -30 degC, for look-up."""
        steps = np.rint((self.years.soil + 30.0) * 4).astype(np.int64)
        return np.asarray(np.clip(steps, 0, 400))

    def soil_before(self, days: int) -> Series:
        """Return the soil's mean over the days before each day [degC], shape (years, 730)."""
        daily = self.years.soil.reshape(len(self.years), YEAR, 24).mean(axis=2)
        return _mean_before(two_years(daily), days)

    def warmth(self, base: float, ceiling: float) -> Series:
        """Return degree days [degC d] summed to each day, shape (years, 731)."""
        key = (base, ceiling)
        if key not in self._warmth:
            hours = np.clip(self.years.air, base, ceiling).reshape(len(self.years), YEAR, 24)
            self._warmth[key] = summed(two_years(hours.mean(axis=2) - base))
        return self._warmth[key]

    def sprouting(self, grid: Emergence, limits: Germination) -> Series:
        """Return the shares of emergence summed to each day [-], shape (years, 731)."""
        key = (*grid.soil, *grid.days, *grid.no_emergence_at, limits.least_soil, limits.most_soil)
        if key not in self._sprouting:
            rates = emergence_rate(np.arange(401) / 4 - 30.0, grid, limits)
            daily = rates[self.soil_steps].reshape(len(self.years), YEAR, 24).mean(axis=2)
            self._sprouting[key] = summed(two_years(daily))
        return self._sprouting[key]

    def hot_days(self, limit: float, mean: float = -np.inf) -> NDArray[np.int64]:
        """Return the days with air whose maximum and mean pass these [degC], counted to each."""
        if (limit, mean) not in self._hot:
            over = (self.greatest_air > limit) & (self.mean_air > mean)
            self._hot[limit, mean] = summed(two_years(over.astype(np.float64))).astype(np.int64)
        return self._hot[limit, mean]


def two_years(daily: Series) -> Series:
    """Return each year with the following one behind it."""
    return np.concatenate([daily, np.roll(daily, -1, axis=0)], axis=1)


def summed(daily: Series) -> Series:
    """Return running sums with a leading zero, so that day b less day a is the sum of [a, b)."""
    return np.concatenate([np.zeros((daily.shape[0], 1)), np.cumsum(daily, axis=1)], axis=1)


def _mean_before(daily: Series, days: int) -> Series:
    """Return the mean of the days before each day; the first days look back within the strip."""
    sums = summed(daily)
    at = np.arange(daily.shape[1])
    first = np.maximum(at - days, 0)
    mean = (sums[:, at] - sums[:, first]) / np.maximum(at - first, 1)
    # Before the strip's first days lies the winter of the year before: take the first day's own.
    return np.where(at == 0, daily, mean)


class RangeLeast:
    """The least value over any run of days, found by doubling windows."""

    def __init__(self, daily: Series) -> None:
        """Build the windows: level k holds the least of 2^k days from each day."""
        levels = [daily]
        width = 1
        while 2 * width <= daily.shape[1]:
            last = levels[-1]
            ahead = np.concatenate(
                [last[:, width:], np.full((daily.shape[0], width), np.inf)], axis=1
            )
            levels.append(np.minimum(last, ahead))
            width *= 2
        self._levels = np.stack(levels)
        self._row = np.arange(daily.shape[0])[:, None]

    def between(self, first: NDArray[np.int64], after: NDArray[np.int64]) -> Series:
        """Return the least over days [first, after) of each year; infinite where none lies there.

        first, after : shape (years, any)
        """
        days = self._levels.shape[2]
        start = np.clip(first, 0, days - 1)
        length = np.clip(after, 0, days) - start
        some = length > 0
        level = np.floor(np.log2(np.maximum(length, 1))).astype(np.int64)
        width = 1 << level
        left = self._levels[level, self._row, start]
        right = self._levels[level, self._row, np.maximum(start + length - width, 0)]
        return np.where(some, np.minimum(left, right), np.inf)


def first_reaching(
    sums: Series, start: NDArray[np.int64], amount: float | Series
) -> NDArray[np.int64]:
    """Return the day by whose end a running sum has grown by an amount since a start day.

    sums  : shape (years, days + 1), never falling;  start : shape (years, any), in days
    The result is the number of days passed, days + 1 where the sum never gets there.
    """
    years, marks = sums.shape
    rows = np.arange(years)[:, None]
    begun = np.clip(start, 0, marks - 1)
    wanted = sums[rows, begun] + amount
    gap = float(sums.max()) + float(np.max(amount)) + 1.0
    flat = (sums + gap * rows).ravel()
    # A hair less, so that a sum reached exactly is not lost to rounding.
    found = np.searchsorted(flat, wanted + gap * rows - 1e-9) - rows * marks
    return np.asarray(np.minimum(np.where(start >= marks, marks, found), marks), dtype=np.int64)
