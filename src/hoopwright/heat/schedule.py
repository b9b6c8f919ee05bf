"""When the cover is on, and how far its sides are open: from a person's habits to hours."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Weather

Series = NDArray[np.float64]
MonthDay = tuple[int, int]


@dataclass(frozen=True)
class Visits:
    """A person who comes by twice a day and opens or closes by what the day will be.

    morning, evening : [h] local standard time
    opens_above      : [degC] the day's highest outside air at which the sides go up in any case
    opens_in_sun     : [W/m2] mean of the day's global light (over 24 h) at which they go up ...
    unless_below     : [degC] ... unless the day's highest outside air stays under this
    open_nights_above: [degC] the night's lowest outside air at which the sides stay up

    The day's weather is taken as known in the morning (a good forecast; an assumption).
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
    opened: str = "closed"
    opener_from: float | None = None
    ends_open: bool = False

    def __post_init__(self) -> None:
        if self.opened not in ("closed", "always", "days", "visits"):
            raise ValueError(
                f"a season cannot be opened {self.opened!r}: use closed, always, days or visits"
            )

    def holds(self, day: date) -> bool:
        """True where `day` lies in the stretch, also over New Year."""
        at = (day.month, day.day)
        if self.first <= self.last:
            return self.first <= at <= self.last
        return at >= self.first or at <= self.last


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

    def always_open(self, height: float) -> Schedule:
        """The same covers with their sides at `height` [m] day and night."""
        return replace(
            self,
            seasons=tuple(
                replace(s, open_height=height, opened="always", opener_from=None)
                for s in self.seasons
            ),
        )


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
    covered, ends = np.zeros(hours), np.zeros(hours)
    auto_from, auto_most = np.zeros(hours), np.zeros(hours)
    half_hours = np.zeros(2 * hours)
    midnight = weather.start.hour
    first_day = weather.start.date()
    visits = schedule.visits
    begin, number = 0, 0
    while begin < hours:
        end = min(hours, 24 * (number + 1) - midnight)
        season = _season_of(schedule, first_day + timedelta(days=number))
        if season is not None and season.covered:
            covered[begin:end] = 1.0
            ends[begin:end] = float(season.ends_open)
            if season.opener_from is not None:
                auto_from[begin:end] = season.opener_from
                auto_most[begin:end] = season.open_height
            clock = (np.arange(2 * begin, 2 * end) + 2 * midnight) % 48 / 2.0
            day = (clock >= visits.morning) & (clock < visits.evening)
            is_open = _is_open(season, day, weather, begin, end, visits)
            half_hours[2 * begin : 2 * end] = season.open_height * is_open
        begin, number = end, number + 1
    return Settings(covered, ends, auto_from, auto_most, half_hours)


def _season_of(schedule: Schedule, day: date) -> Season | None:
    return next((season for season in schedule.seasons if season.holds(day)), None)


def _is_open(
    season: Season,
    day: NDArray[np.bool_],
    weather: Weather,
    begin: int,
    end: int,
    visits: Visits,
) -> NDArray[np.bool_]:
    if season.opened == "always":
        return np.ones_like(day)
    if season.opened == "days":
        return day
    if season.opened == "closed":
        return np.zeros_like(day)
    air = weather.air_temperature[begin:end]
    warm = air.max() >= visits.opens_above
    sunny = weather.global_horizontal[begin:end].mean() >= visits.opens_in_sun
    goes_up = warm or (sunny and air.max() >= visits.unless_below)
    night = air.min() >= visits.open_nights_above
    return np.asarray((day & goes_up) | (~day & night))
