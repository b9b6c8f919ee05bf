"""Without a network: a reply saved before, or the same days of a year."""

from datetime import date, datetime
from pathlib import Path

import numpy as np

from hoopwright.climate.forecast.clock import zone_at
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import read_global
from hoopwright.climate.forecast.http import LARGEST
from hoopwright.climate.forecast.json_reply import parsed
from hoopwright.climate.forecast.national_forecast import read_grid
from hoopwright.climate.weather import Weather
from hoopwright.tables import foreign


def forecast_from_file(path: Path, place: ForecastPlace, now: datetime | None) -> Forecast:
    """Return the forecast of a saved reply of either service.

    now : with its zone, to refuse a stale one; None to take a file of any age
    """
    try:
        text = foreign.text_held(path, LARGEST)
    except OSError as error:
        raise ForecastError(f"{path}: cannot be opened: {error.strerror}") from None
    try:
        reply = parsed(text, path.name)
        if "hourly" in reply:
            return read_global(text, place, now)
        if "properties" in reply:
            return read_grid(text, place, now)
    except ForecastError as error:
        raise ForecastError(f"{path}: {error}") from None
    raise ForecastError(f"{path}: neither of the two forecasts that can be read")


def typical_forecast(
    year: Weather, first: date, days: int = 3, time_zone: str | None = None
) -> Forecast:
    """Return the days of a year's record that bear the dates from `first` on, as a forecast.

    year : a year or more of hours. What weather usually is then; not what is coming.
    """
    weather = days_of(year, first, days)
    none = np.full(len(weather), np.nan)
    station = year.station
    # Generated years were never on record.
    whose = f"a generated year of {station.name}" if year.invented else "a year on record"
    return Forecast(
        weather=weather,
        gust=none,
        snowfall=none,
        rain_chance=none,
        thunder=np.zeros(len(weather)),
        hail=np.zeros(len(weather)),
        issued=None,
        time_zone=time_zone or zone_at(station.latitude, station.longitude),
        notes=(f"No forecast: these are the same days of {whose}, not what is coming.",),
    )


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
