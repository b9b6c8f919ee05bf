"""The same days of a year, when no forecast can be had."""

from __future__ import annotations

from datetime import date, datetime

import numpy as np

from hoopwright.climate.forecast.clock import zone_at
from hoopwright.climate.forecast.form import Forecast, ForecastError
from hoopwright.climate.weather import Weather


def typical_forecast(
    year: Weather, first: date, days: int = 3, time_zone: str | None = None
) -> Forecast:
    """Return the days of a year's record that bear the dates from `first` on, as a forecast.

    year : a year or more of hours. What weather usually is then; not what is coming.
    """
    weather = days_of(year, first, days)
    none = np.full(len(weather), np.nan)
    station = year.station
    return Forecast(
        weather=weather,
        gust=none,
        snowfall=none,
        rain_chance=none,
        thunder=np.zeros(len(weather)),
        hail=np.zeros(len(weather)),
        issued=None,
        time_zone=time_zone or zone_at(station.latitude, station.longitude),
        notes=(f"No forecast: these are the same days of {_whose(year)}, not what is coming.",),
    )


def _whose(year: Weather) -> str:
    """Return what year it is: generated ones were never on record."""
    return f"a generated year of {year.station.name}" if year.invented else "a year on record"


def days_of(year: Weather, first: date, days: int) -> Weather:
    """Return the hours of the days from `first` on, taken from the record by month and day."""
    begin = year.start
    wanted = datetime(begin.year, first.month, min(first.day, 28 if first.month == 2 else 31))
    if wanted < begin:
        wanted = wanted.replace(year=begin.year + 1)
    hour = int((wanted - begin).total_seconds() // 3600)
    count = 24 * days
    if len(year) < 24 * 365:
        raise ForecastError("the typical day needs a record of a whole year")
    rows = (hour + np.arange(count)) % len(year)
    return year.part(rows, datetime(first.year, first.month, first.day))
