"""Warnings from a forecast: storm, snow and hail against what the bed can bear; thunder."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from hoopwright.climate.forecast.form import Forecast
from hoopwright.climate.weather import Series
from hoopwright.frozen import dataclass

GUST_OVER_MEAN = 1.7
"""[-] gust over hourly mean where a service gives no gusts; 1.5 to 2 over rough ground
(assumption of that range's middle, from memory of gust-factor tables)."""


NEVER = "Never handle it in a gale."
THUNDER = (
    "do what must be done before it; from the first thunder until half an hour after the last "
    "keep away from the bed, its pipes and the cover."
)
"""Half an hour is the rule of the U.S. National Weather Service, from memory."""


@dataclass(frozen=True)
class Bearing:
    """What the bed bears before something gives, from the strength checks; None where unknown.

    gust      : [m/s] at 10 m that nine beds in ten stand before the cover opens
    snow      : [m] of new snow in a day that nine beds in ten stand
    gives     : the part that gives first in wind, and in snow, as words for the sentence
    hail      : True where the cover takes hail of half an inch without holes
    """

    gust: float | None = None
    snow: float | None = None
    gives_in_wind: str = "the cover"
    gives_in_snow: str = "the hoops"
    hail: bool = False


@dataclass(frozen=True)
class StormWarning:
    """One warning.

    kind    : "storm", "snow", "hail" or "thunder"
    when    : local standard time at which the worst hour, of thunder the first, ends
    value   : [m/s], [m] of new snow in 24 h, or 0 for hail and thunder
    limit   : the bearing in the same unit, else 0
    grave   : True where the limit is passed; else it is near (over 0.75 of it)
    gives   : what gives first
    """

    kind: Literal["storm", "snow", "hail", "thunder"]
    when: datetime
    value: float
    limit: float
    grave: bool
    gives: str

    def sentence(
        self,
        speed: Callable[[float], str],
        length: Callable[[float], str],
        moment: Callable[[datetime], str],
    ) -> str:
        """Return the warning in words.

        speed, length : how to show [m/s] and [m]
        moment : from local standard time to the day and the wall clock's words
        """
        # By its beginning: from then on nobody should be at the bed.
        day = moment(self.when - timedelta(hours=1))
        if self.kind == "storm":
            head = f"Gusts to {speed(self.value)} {day}; {self.gives} gives at {speed(self.limit)}"
            do = "take the cover off or lash it" if self.grave else "lash it"
            return f"{head}: {do} before the wind rises, two people. {NEVER}"
        if self.kind == "snow":
            head = f"New snow of {length(self.value)} by {day}; {self.gives} bear"
            rest = "brush it off as it falls" if self.grave else "keep a broom by"
            return f"{head} {length(self.limit)}: {rest}."
        if self.kind == "thunder":
            return f"Thunder is named for {day}: {THUNDER}"
        return (
            f"Hail is named for {day}: {self.gives} may be holed. Shut it; have tape and a spare."
        )


def storm_warnings(
    forecast: Forecast, bearing: Bearing, first: datetime, hours: int, near: float = 0.75
) -> tuple[StormWarning, ...]:
    """Return the warnings for the hours from `first` (local standard time) on.

    near : [-] share of the bearing at which to warn already, for a forecast gust is a guess
    """
    begin = int((first - forecast.weather.start).total_seconds() // 3600)
    rows = slice(max(begin, 0), max(begin, 0) + hours)
    found = [
        _storm(forecast, bearing, rows, near),
        _snow(forecast, bearing, rows, near),
        None
        if bearing.hail
        else _named("hail", forecast, forecast.hail, rows, bearing.gives_in_wind),
        # It endangers who works there, whatever the bed bears.
        _named("thunder", forecast, forecast.thunder, rows, "the cover"),
    ]
    return tuple(warning for warning in found if warning is not None)


def _at(forecast: Forecast, row: int) -> datetime:
    return forecast.weather.start + timedelta(hours=row + 1)


def gusts(forecast: Forecast) -> Series:
    """Return the gusts [m/s], from the mean wind where the service gives none."""
    wind = forecast.weather.wind_speed
    said = forecast.gust
    return np.where(np.isfinite(said), np.fmax(said, wind), GUST_OVER_MEAN * wind)


def _storm(forecast: Forecast, bearing: Bearing, rows: slice, near: float) -> StormWarning | None:
    speeds = gusts(forecast)[rows]
    if bearing.gust is None or speeds.size == 0 or speeds.max() < near * bearing.gust:
        return None
    worst = int(speeds.argmax())
    return StormWarning(
        "storm",
        _at(forecast, rows.start + worst),
        float(speeds[worst]),
        bearing.gust,
        bool(speeds[worst] >= bearing.gust),
        bearing.gives_in_wind,
    )


def _snow(forecast: Forecast, bearing: Bearing, rows: slice, near: float) -> StormWarning | None:
    fall = np.nan_to_num(forecast.snowfall[rows])
    if bearing.snow is None or fall.size == 0:
        return None
    sums = np.concatenate([[0.0], np.cumsum(fall)])
    end = np.arange(1, sums.size)
    in_a_day = sums[end] - sums[np.maximum(end - 24, 0)]
    worst = int(in_a_day.argmax())
    if in_a_day[worst] < near * bearing.snow:
        return None
    return StormWarning(
        "snow",
        _at(forecast, rows.start + worst),
        float(in_a_day[worst]),
        bearing.snow,
        bool(in_a_day[worst] >= bearing.snow),
        bearing.gives_in_snow,
    )


def _named(
    kind: Literal["hail", "thunder"], forecast: Forecast, hours: Series, rows: slice, gives: str
) -> StormWarning | None:
    """Return the warning of the first hour that the service names so."""
    named = np.flatnonzero(hours[rows] > 0)
    if named.size == 0:
        return None
    return StormWarning(kind, _at(forecast, rows.start + int(named[0])), 0.0, 0.0, True, gives)
