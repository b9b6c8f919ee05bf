"""Many years of one bed under one cover, boiled down to what a day did to its plants."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import cache, cached_property

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.sun import day_spans
from hoopwright.climate.weather import Series, Station
from hoopwright.frozen import dataclass
from hoopwright.heat.results import UnderCover
from hoopwright.season.crop_records import Emergence, Germination

YEAR = 365
FIRST_OF_JULY = 181
"""[d] of the year, 0 for 1 January."""
LIGHT_INTEGRAL = 86400 * 2.02e-6
"""[mol/m2 d per W/m2] daily light integral (400 to 700 nm) from the day's mean global light: 4.57
umol/J of PAR (Thimijan and Heins 1983) times 0.44 of the global: both from memory."""

SEED_DEPTH = 0.02
"""[m] depth of soil that seed feels; half an inch to an inch is usual (common practice)."""


class SeasonError(ValueError):
    """Years that cannot answer the question; the message says what would."""


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
    light        : [W/m2] of the sun on the plants; None where it is not known, and then it is
                   taken as never short
    station      : [degC] air in the thermometer shelter of the weather station, or None
    begins       : day of the calendar year (0 is 1 January) on which the years begin: 181, 1 July,
                   south of the equator, so that summer lies in the middle
    latitude     : [deg] north positive, for the length of its days; None where it is not known
    """

    name: str
    air: Series
    leaf: Series
    soil: Series
    typical_year: bool = False
    light: Series | None = None
    station: Series | None = None
    begins: int = 0
    latitude: float | None = None

    def __post_init__(self) -> None:
        parts = [self.air, self.leaf, self.soil]
        parts += [part for part in (self.light, self.station) if part is not None]
        shapes = {part.shape for part in parts}
        if len(shapes) != 1 or self.air.ndim != 2 or self.air.shape[1] != YEAR * 24:
            raise SeasonError(
                "give air, leaf and soil as arrays of one shape, years by 8760 hours; leave out "
                "29 February"
            )
        if not all(np.isfinite(part).all() for part in parts):
            raise SeasonError(f"the years of '{self.name}' have hours that are not numbers")

    def __len__(self) -> int:
        return int(self.air.shape[0])


def bed_years(name: str, runs: Sequence[UnderCover]) -> BedYears:
    """Return the years of runs of the heat model, one run a year from 1 January.

    South of the equator years from 1 January are cut anew at 1 July, the last one's second half
    before the first one's first: among generated years any may follow any.
    Hours of 29 February and after the 365th day are left out.
    """
    if not runs:
        raise SeasonError(f"no years were run for '{name}'")
    return joined(name, [hours_of(run) for run in runs])


@dataclass(frozen=True)
class YearHours:
    """One year of a bed, 8760 hours each: what `joined` makes `BedYears` of."""

    air: Series
    leaf: Series
    soil: Series
    light: Series
    station: Series
    typical_year: bool
    begins: int
    turned: bool
    latitude: float | None = None


def hours_of(run: UnderCover) -> YearHours:
    """Return what the season needs of one run of a year; the rest may be let go.

    Copies, for a run's columns hold on to the whole table of the runs marched beside it.
    """
    first = run.weather
    south, january = first.station.latitude < 0, first.start.month == 1
    return YearHours(
        air=common_year(run, run.air).copy(),
        leaf=common_year(run, run.leaf).copy(),
        soil=common_year(run, run.soil_at(SEED_DEPTH)),
        light=common_year(run, run.light).copy(),
        station=common_year(run, run.weather.air_temperature),
        typical_year=run.weather.typical_year,
        begins=FIRST_OF_JULY if south or not january else 0,
        turned=south and january,
        latitude=first.station.latitude,
    )


def joined(name: str, years: Sequence[YearHours]) -> BedYears:
    """Return many years of one bed."""

    def stacked(part: str) -> Series:
        found = np.stack([getattr(year, part) for year in years])
        if years[0].turned:
            found = np.roll(found.ravel(), -24 * FIRST_OF_JULY).reshape(found.shape)
        return found

    return BedYears(
        name=name,
        air=stacked("air"),
        leaf=stacked("leaf"),
        soil=stacked("soil"),
        typical_year=any(year.typical_year for year in years),
        light=stacked("light"),
        station=stacked("station"),
        begins=years[0].begins,
        latitude=years[0].latitude,
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
        self,
        years: BedYears,
        soft_above: float = 18.5,
        hard_below: float = 3.5,
        days: int = 7,
        hardened_as: Digest | None = None,
    ) -> None:
        """Take the years in.

        hardened_as : the open bed, where the gardener opens the sides for the week before a cold
            night, so that plants are no softer than there. What they grow less in that week is
            left out.

        soft_above, hard_below [degC], days [d] : plants are as soft as they come where the mean
            leaf temperature of so many days before lies above the one, hardened below the other,
            and between in proportion. The ends are the means of 5 degC by day and
            2 by night, at which spinach hardens, and of 20 and 17, at which it has lost all of
            it, both mostly within three days (Fennell & Li 1985, Acta Hort. 168, abstract read);
            that the loss goes with the mean between 12 and 20 degC is from oilseed rape (Rapacz
            2002, Ann. Bot. 89, 543-549, abstract read). The straight line and the week, between
            spinach's three days and cabbage's six weeks, are ours.
        """
        self.years = years
        shape = (len(years), YEAR, 24)
        leaf = years.leaf.reshape(shape)
        air = years.air.reshape(shape)
        self.least_leaf = leaf.min(axis=2)
        self.greatest_leaf = leaf.max(axis=2)
        self.greatest_air = air.max(axis=2)
        self.mean_air = air.mean(axis=2)
        self.mean_soil = years.soil.reshape(shape).mean(axis=2)
        self.light = None
        if years.light is not None:
            self.light = years.light.reshape(shape).mean(axis=2) * LIGHT_INTEGRAL
        before = mean_before(leaf.mean(axis=2), days)
        self.hardness = np.clip((soft_above - before) / (soft_above - hard_below), 0.0, 1.0)
        if hardened_as is not None:
            self.hardness = np.maximum(self.hardness, hardened_as.hardness)
        self._warmth: dict[tuple[float, float], Series] = {}
        self._sprouting: dict[tuple[float, ...], Series] = {}

    @cached_property
    def day_hours(self) -> Series | None:
        """Return the hours of daylight of the 365 days, or None where the place is not known."""
        latitude = self.years.latitude
        if latitude is None:
            return None
        spans = day_spans(datetime(2001, 1, 1), YEAR, Station("", latitude, 0.0, 0.0, 0.0))
        return np.roll(spans.length, -self.years.begins)

    @cached_property
    def soil_steps(self) -> NDArray[np.int64]:
        """Return the soil's hours in steps of a quarter degree from -30 degC, for look-up."""
        steps = np.rint((self.years.soil + 30.0) * 4).astype(np.int64)
        return np.asarray(np.clip(steps, 0, 400))

    def warmth(self, base: float, ceiling: float) -> Series:
        """Return the degree days of each day [degC d], shape (years, 365)."""
        key = (base, ceiling)
        if key not in self._warmth:
            hours = np.clip(self.years.air, base, ceiling).reshape(len(self.years), YEAR, 24)
            self._warmth[key] = hours.mean(axis=2) - base
        return self._warmth[key]

    def sprouting(self, grid: Emergence, limits: Germination) -> Series:
        """Return the share of emergence that each day brings [-], shape (years, 365)."""
        key = (*grid.soil, *grid.days, *grid.no_emergence_at, limits.least_soil, limits.most_soil)
        if key not in self._sprouting:
            rates = grid.rate(np.arange(401) / 4 - 30.0, limits)
            hours = rates[self.soil_steps].reshape(len(self.years), YEAR, 24)
            self._sprouting[key] = hours.mean(axis=2)
        return self._sprouting[key]


def two_years(daily: Series) -> Series:
    """Return each year with the following one behind it."""
    return np.concatenate([daily, np.roll(daily, -1, axis=0)], axis=1)


def summed(daily: Series) -> Series:
    """Return running sums with a leading zero, so that day b less day a is the sum of [a, b)."""
    return np.concatenate([np.zeros((daily.shape[0], 1)), np.cumsum(daily, axis=1)], axis=1)


def mean_before(daily: Series, days: int) -> Series:
    """Return the mean of so many days before each day, the year before running into it."""
    long = np.concatenate([np.roll(daily, 1, axis=0)[:, -days:], daily], axis=1)
    sums = summed(long)
    return np.asarray((sums[:, days:-1] - sums[:, : -days - 1]) / days)


@cache
def _doublings(most: int) -> NDArray[np.int64]:
    """Return how many doublings of one go into each number up to the most, 0 for 0."""
    return np.array([0, *(number.bit_length() - 1 for number in range(1, most + 1))])


class RangeLeast:
    """The least value over any run of days, found by doubling windows."""

    def __init__(self, daily: Series) -> None:
        """Build the windows: level k holds the least of 2^k days from each day."""
        count = daily.shape[1].bit_length()
        levels = np.empty((count, *daily.shape), dtype=daily.dtype)
        levels[0] = daily
        for level in range(1, count):
            width = 1 << (level - 1)
            before, now = levels[level - 1], levels[level]
            np.minimum(before[:, :-width], before[:, width:], out=now[:, :-width])
            now[:, -width:] = before[:, -width:]
        self._row = np.arange(daily.shape[0])[:, None]
        self._flat, self._days = levels.ravel(), daily.shape[1]

    def between(self, first: NDArray[np.int64], after: NDArray[np.int64]) -> Series:
        """Return the least over days [first, after) of each year; infinite where none lies there.

        first, after : shape (years, any)
        """
        days = self._days
        start = np.clip(first, 0, days - 1)
        length = np.clip(after, 0, days) - start
        some = length > 0
        level = _doublings(days)[np.maximum(length, 1)]
        at = (level * len(self._row) + self._row) * days
        left = self._flat.take(at + start)
        right = self._flat.take(at + np.maximum(start + length - (1 << level), 0))
        return np.where(some, np.minimum(left, right), np.inf)


def first_reaching(
    sums: Series, start: NDArray[np.int64], amount: float | Series
) -> NDArray[np.int64]:
    """Return the day by whose end a running sum has grown by an amount since a start day.

    sums  : shape (years, days + 1), never falling;  start : shape (years, any), in days
    The result is the number of days passed, days + 1 where the sum never gets there.
    """
    years, marks = sums.shape
    # A hair less, so that a sum reached exactly is not lost to rounding.
    wanted = at_days(sums, np.minimum(start, marks - 1)) + (amount - 1e-9)
    found = np.empty(wanted.shape, dtype=np.int64)
    for year in range(years):
        found[year] = sums[year].searchsorted(wanted[year])
    return np.asarray(np.where(start >= marks, marks, found), dtype=np.int64)


def at_days(sums: Series, day: NDArray[np.int64]) -> Series:
    """Return what running sums have come to on a day of each year, shape (years, any)."""
    years, marks = sums.shape
    return np.asarray(sums.ravel().take(np.arange(years)[:, None] * marks + day))
