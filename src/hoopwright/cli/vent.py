"""`hoopwright vent`: when to open and close tomorrow, and whether to lay fabric on."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from hoopwright.cli.options import PlanFile

if TYPE_CHECKING:
    from hoopwright.climate.forecast.form import Forecast, ForecastPlace
    from hoopwright.design import Design
    from hoopwright.plan.read import ReadPlan

Service = Literal["auto", "national", "global"]


def vent(
    plan: PlanFile,
    file: Annotated[
        Path | None, typer.Option(help="Forecast saved in a file, in place of a service.")
    ] = None,
    service: Annotated[
        Service,
        typer.Option(help="auto, national (U.S. National Weather Service) or global."),
    ] = "auto",
    days: Annotated[int, typer.Option(min=1, max=7, help="Days to advise for.")] = 1,
    today: Annotated[bool, typer.Option("--today", help="Begin with today.")] = False,
) -> None:
    """Say when to open and close, how far, and what the night will be inside."""
    from hoopwright import design_of, read_plan
    from hoopwright.cli import text
    from hoopwright.design.coming_days import coming_days
    from hoopwright.sheet.vent_words import day_lines

    read = read_plan(plan)
    design = design_of(read)
    forecast = forecast_for(read, design, file, service)
    begun = forecast.weather.start
    first = begun.date() if file is not None else date.today()
    first += timedelta(days=0 if today else 1)
    if datetime.combine(first, datetime.min.time()) < begun:
        first = begun.date() + timedelta(days=1)
    found = coming_days(design, forecast, first, None, None)
    for note in forecast.notes:
        print(text.paragraph(note))
    for one in found.days[:days]:
        print(f"{one.day:%A} {one.day.day} {one.day:%B}")
        for line in day_lines(one, forecast, design.system):
            print(text.paragraph(line, first="  ", rest="  "))


def forecast_for(read: ReadPlan, design: Design, file: Path | None, service: Service) -> Forecast:
    """Return the forecast: from a file, a service, or the typical day where neither answers."""
    from hoopwright.climate.forecast.form import ForecastError, ForecastPlace
    from hoopwright.climate.forecast.from_file import forecast_from_file
    from hoopwright.design.coming_days import forecast_place

    place = forecast_place(design)
    if file is not None:
        return forecast_from_file(file, place or ForecastPlace("the bed", 44.0, -110.0), None)
    if place is None:
        return _typical(read, "The plan gives no latitude and longitude, so no forecast is asked.")
    try:
        return _fetched(place, service)
    except ForecastError as error:
        return _typical(read, str(error))


def _fetched(place: ForecastPlace, service: Service) -> Forecast:
    from datetime import UTC

    from hoopwright.cli import kept
    from hoopwright.climate.forecast.cache import Kept
    from hoopwright.climate.forecast.form import ForecastError
    from hoopwright.climate.forecast.global_forecast import fetch_global
    from hoopwright.climate.forecast.http import getter
    from hoopwright.climate.forecast.national_forecast import fetch_national

    get = Kept(getter(), kept.folder() / "forecast")
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
    from dataclasses import replace

    from hoopwright.climate.forecast.typical import typical_forecast
    from hoopwright.design.growing import typical_year

    year = typical_year(read.plan, read.weather_file)
    found = typical_forecast(year, date.today(), days=9)
    return replace(found, notes=(why, *found.notes))
