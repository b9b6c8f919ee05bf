"""When the cover is on, and how far its sides are open: from a person's habits to hours."""

from __future__ import annotations

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Series, Weather, series
from hoopwright.frozen import dataclass

MonthDay = tuple[int, int]
Opened = Literal["closed", "always", "days", "visits"]


@dataclass(frozen=True)
class Visits:
    """A person who comes by twice a day and opens or closes by what the day will be.

    morning, evening : [h] local standard time
    opens_above      : [degC] the day's highest outside air at which the sides go up in any case
    opens_in_sun     : [W/m2] mean of the day's global light (over 24 h) at which they go up ...
    unless_below     : [degC] ... unless the day's highest outside air stays under this
    open_nights_above: [degC] the night's lowest outside air at which the sides stay up, from the
                       evening's visit to the next morning's

    The day's weather is taken as known in the morning, the night's in the evening (a good
    forecast; an assumption).
    """

    morning: float = 7.5
    evening: float = 17.5
    opens_above: float = 16.0
    opens_in_sun: float = 200.0
    unless_below: float = 5.0
    open_nights_above: float = 15.0


@dataclass(frozen=True)
class Season:
    """One stretch of the year and what the cover does in it, from `first` to `last` inclusive.

    covered       : the cover is on
    open_height   : [m] of the rolled-up sides when open
    opened        : "closed", "always", "days" (between the visiting hours), or "visits"
    opener_from   : [degC] inside air at which an automatic opener starts; None for none
    ends_open     : the ends are open as well
    """

    first: MonthDay
    last: MonthDay
    covered: bool = True
    open_height: float = 0.0
    opened: Opened = "closed"
    opener_from: float | None = None
    ends_open: bool = False

    def __post_init__(self) -> None:
        if self.opened not in ("closed", "always", "days", "visits"):
            raise ValueError(
                f"a season cannot be opened {self.opened!r}: use closed, always, days or visits"
            )

    def holds(self, code: NDArray[np.int64]) -> NDArray[np.bool_]:
        """True where the days, as month x 100 + day, lie in the stretch, also over New Year."""
        first = self.first[0] * 100 + self.first[1]
        last = self.last[0] * 100 + self.last[1]
        if first <= last:
            return (code >= first) & (code <= last)
        return (code >= first) | (code <= last)


@dataclass(frozen=True)
class Schedule:
    """Seasons in order of precedence (the first that holds wins); days in none are uncovered."""

    seasons: tuple[Season, ...]
    visits: Visits = Visits()

    @staticmethod
    def closed() -> Schedule:
        """Covered and closed all the year."""
        return Schedule((Season((1, 1), (12, 31)),))

    @staticmethod
    def open_bed() -> Schedule:
        """No cover all the year."""
        return Schedule((Season((1, 1), (12, 31), covered=False),))


@dataclass(frozen=True)
class Settings:
    """The schedule in hours: covered [0/1], ends open [0/1], automatic opener's start [degC] and
    greatest height [m] (0 for none); and the opening [m] in half hours, two an hour."""

    covered: Series
    ends: Series
    auto_from: Series
    auto_most: Series
    half_hours: Series


def settings(schedule: Schedule, weather: Weather) -> Settings:
    """Write the schedule out over the hours of `weather`."""
    hours = len(weather)
    clock = weather.start.hour + np.arange(hours)
    day = clock // 24
    starts = np.searchsorted(day, np.arange(int(day[-1]) + 1))
    dates = np.datetime64(weather.start.date()) + np.arange(len(starts))
    months = dates.astype("datetime64[M]")
    code = (months.astype(int) % 12 + 1) * 100 + (dates - months).astype(int) + 1
    moments = _moments(schedule, weather, day, starts)

    covered, ends, auto_from, auto_most = (np.zeros(hours) for _ in range(4))
    half_hours = np.zeros(2 * hours)
    taken = np.zeros(len(starts), dtype=bool)
    for season in schedule.seasons:
        mine = season.holds(code) & ~taken
        taken |= mine
        if not season.covered:
            continue
        rows = mine[day]
        covered[rows] = 1.0
        ends[rows] = float(season.ends_open)
        if season.opener_from is not None:
            auto_from[rows], auto_most[rows] = season.opener_from, season.open_height
        if season.opened == "closed":
            continue
        halves = np.repeat(rows, 2)
        if season.opened in moments:
            halves &= moments[season.opened]
        half_hours[halves] = season.open_height
    return Settings(covered, ends, auto_from, auto_most, half_hours)


def _moments(
    schedule: Schedule, weather: Weather, day: NDArray[np.int64], starts: NDArray[np.int64]
) -> dict[str, NDArray[np.bool_]]:
    """Return in which half hours the sides are up, for the ways that do not keep one state.

    day : of each hour; starts : first hour of each day
    """
    visits = schedule.visits
    ways = {season.opened for season in schedule.seasons if season.covered}
    if not ways & {"days", "visits"}:
        return {}
    clock = np.arange(2 * len(weather), dtype=np.float64) / 2.0 + weather.start.hour
    moments = {"days": (clock % 24 >= visits.morning) & (clock % 24 < visits.evening)}
    if "visits" in ways:
        goes_up = np.repeat(_mornings(visits, weather, starts)[day], 2)
        stays_up = _evenings(visits, weather, len(starts))[_night(clock, visits)]
        moments["visits"] = np.where(moments["days"], goes_up, stays_up)
    return moments


def _mornings(visits: Visits, weather: Weather, starts: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Days on which the sides go up in the morning."""
    highest = np.maximum.reduceat(weather.air_temperature, starts)
    count = np.diff(np.append(starts, len(weather)))
    light = np.add.reduceat(weather.global_horizontal, starts) / count
    sunny = (light >= visits.opens_in_sun) & (highest >= visits.unless_below)
    return np.asarray((highest >= visits.opens_above) | sunny)


def _night(clock: Series, visits: Visits) -> NDArray[np.int64]:
    """Number of the night that a moment belongs to, by its `clock` [h] from the first midnight.

    A night begins with the evening's visit; 0 is the one before the record's first day.
    """
    return np.asarray(np.floor((clock - visits.evening) / 24.0).astype(np.int64) + 1)


def _evenings(visits: Visits, weather: Weather, days: int) -> NDArray[np.bool_]:
    """Nights in which the sides stay up, by the lowest air between the two visits."""
    ends = series(np.arange(len(weather)) + weather.start.hour + 1.0)
    dark = (ends - visits.evening) % 24.0 <= (visits.morning - visits.evening) % 24.0
    number = _night(ends[dark], visits)
    lowest = np.full(days + 1, np.inf)
    if number.size:
        first = np.flatnonzero(np.diff(number, prepend=-1))
        lowest[number[first]] = np.minimum.reduceat(weather.air_temperature[dark], first)
    return lowest >= visits.open_nights_above
