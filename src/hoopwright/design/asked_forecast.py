"""The forecast for a bed: from a service, or typical days where none answers."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Literal

from hoopwright.climate.forecast.cache import Kept
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import fetch_global
from hoopwright.climate.forecast.http import Get, getter
from hoopwright.climate.forecast.national_forecast import fetch_national
from hoopwright.climate.forecast.typical import typical_forecast
from hoopwright.design.coming_days import forecast_place
from hoopwright.design.flow import Design
from hoopwright.design.growing import typical_year
from hoopwright.plan.read import ReadPlan

Service = Literal["auto", "national", "global"]


def asked_forecast(
    read: ReadPlan, design: Design, cache: Path, service: Service = "auto"
) -> Forecast:
    """Return the forecast for a plan's place; its notes say what stood in for what.

    cache : folder that keeps the services' replies; service : "auto" asks the national service,
    then the global one
    """
    place = forecast_place(design)
    if place is None:
        return _typical(read, "The plan gives no latitude and longitude, so no forecast is asked.")
    get = Kept(getter(), cache)
    try:
        found = _fetched(place, get, service)
    except ForecastError as error:
        return _typical(read, str(error))
    return replace(found, notes=(*get.notes, *found.notes))


def _fetched(place: ForecastPlace, get: Get, service: Service) -> Forecast:
    now = datetime.now(UTC)
    if service == "global":
        return fetch_global(place, get, now)
    try:
        return fetch_national(place, get, now)
    except ForecastError as first:
        if service == "national":
            raise
        try:
            return fetch_global(place, get, now)
        except ForecastError as second:
            raise ForecastError(f"{first} {second}") from None


def _typical(read: ReadPlan, why: str) -> Forecast:
    """Return typical days of the place, with why there is nothing better."""
    year = typical_year(read.plan, read.weather_file)
    found = typical_forecast(year, date.today(), days=9)
    return replace(found, notes=(why, *found.notes))
