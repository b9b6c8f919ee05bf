"""The forecast for a bed: from a service, or typical days where none answers; and the days before.

The days before a forecast warm the model's soil up. The global service brings its own. Beside the
national one they are asked of the global one, and where it is silent too, typical days of the
place stand in, moved to the forecast's temperature.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Literal

from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import fetch_global
from hoopwright.climate.forecast.http import Get, KeptReplies, getter
from hoopwright.climate.forecast.national_forecast import fetch_national
from hoopwright.climate.forecast.typical import days_of, forecast_from_file, typical_forecast
from hoopwright.climate.weather import Weather
from hoopwright.design.coming_days import forecast_place
from hoopwright.design.flow import Design
from hoopwright.design.growing import typical_year
from hoopwright.frozen import dataclass
from hoopwright.plan.read import ReadPlan

Service = Literal["auto", "national", "global"]
DAYS_BEFORE = 5


@dataclass(frozen=True)
class AskedForecast:
    """A forecast, and the days before it: None where the forecast begins with days gone by."""

    forecast: Forecast
    past: Weather | None


def asked_forecast(
    read: ReadPlan,
    design: Design,
    cache: Path,
    service: Service = "auto",
    get: Get | None = None,
    now: datetime | None = None,
) -> AskedForecast:
    """Return the forecast for a plan's place; its notes say what stood in for what.

    cache : folder that keeps the services' replies; service : "auto" asks the national service,
    then the global one; get, now : another way to ask, another moment (with its zone)
    """
    place, at = forecast_place(design), now or datetime.now(UTC)
    if place is None:
        why = "The plan gives no latitude and longitude, so no forecast is asked."
        return _typical(read, why, at.astimezone().date())
    kept = KeptReplies(get or getter(), cache)
    try:
        found, past = _fetched(place, kept, service, at)
    except ForecastError as error:
        return _typical(read, str(error), at.astimezone().date())
    asked = _with_days_before(read, found, past)
    return replace(
        asked, forecast=replace(asked.forecast, notes=(*kept.notes, *asked.forecast.notes))
    )


def saved_forecast(read: ReadPlan, design: Design, file: Path) -> AskedForecast:
    """Return the forecast of a file saved before. Raises ForecastError."""
    place = forecast_place(design) or ForecastPlace("the bed", 44.0, -110.0)
    return _with_days_before(read, forecast_from_file(file, place, None), None)


def _fetched(
    place: ForecastPlace, get: Get, service: Service, now: datetime
) -> tuple[Forecast, Weather | None]:
    """Return the forecast, and the global service's record of the days before a national one."""
    if service == "global":
        return fetch_global(place, get, now), None
    try:
        found = fetch_national(place, get, now)
    except ForecastError as first:
        if service == "national":
            raise
        try:
            return fetch_global(place, get, now), None
        except ForecastError as second:
            raise ForecastError(f"{first} {second}") from None
    try:
        return found, fetch_global(place, get, now).weather
    except ForecastError:
        return found, None


def _with_days_before(read: ReadPlan, found: Forecast, past: Weather | None) -> AskedForecast:
    """Return the forecast with days before it, where it does not hold such days itself."""
    begun = found.weather.start
    issued = found.issued.replace(tzinfo=None) if found.issued else begun
    if issued - begun > timedelta(days=DAYS_BEFORE - 1):
        return AskedForecast(found, None)
    if past is not None and _leads_to(past, found.weather):
        said = f"The days before, which warm the soil of the model: {past.source}."
    else:
        past = _typical_days_before(typical_year(read.plan, read.weather_file), found.weather)
        said = (
            "The days before, which warm the soil of the model, are typical ones of the place, "
            "moved to the forecast's temperature."
        )
    return AskedForecast(replace(found, notes=(*found.notes, said)), past)


def _leads_to(past: Weather, ahead: Weather) -> bool:
    """Return whether a record keeps the same clock and begins before another."""
    return past.station.utc_offset == ahead.station.utc_offset and past.start < ahead.start


def _typical_days_before(year: Weather, ahead: Weather) -> Weather:
    """Return typical days up to a forecast's start, as much warmer as its days are than usual."""
    begun = ahead.start.date()
    days = max(1, len(ahead) // 24)
    usual = days_of(year, begun, days).air_temperature.mean()
    warmer = float(ahead.air_temperature[: 24 * days].mean() - usual)
    before = days_of(year, begun - timedelta(days=DAYS_BEFORE), DAYS_BEFORE + 1)
    return replace(
        before,
        station=ahead.station,
        air_temperature=before.air_temperature + warmer,
        dew_point=before.dew_point + warmer,
    )


def _typical(read: ReadPlan, why: str, today: date) -> AskedForecast:
    """Return typical days of the place, with why there is nothing better."""
    year = typical_year(read.plan, read.weather_file)
    found = typical_forecast(year, today, days=9)
    past = days_of(year, today - timedelta(days=DAYS_BEFORE), DAYS_BEFORE)
    return AskedForecast(replace(found, notes=(why, *found.notes)), past)
