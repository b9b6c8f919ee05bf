"""`hoopwright vent`: when to open and close tomorrow, and whether to lay fabric on."""

from datetime import date, timedelta
from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, PlanFile

Service = Literal["auto", "national", "global"]


def vent(
    plan: PlanFile,
    file: Annotated[
        Path | None, typer.Option(help="Forecast saved in a file, in place of a service.")
    ] = None,
    service: Annotated[
        Service, typer.Option(help="auto, national (U.S. National Weather Service) or global.")
    ] = "auto",
    days: Annotated[int, typer.Option(min=1, max=7, help="Days to advise for.")] = 1,
    today: Annotated[bool, typer.Option("--today", help="Begin with today.")] = False,
    json: AsJson = False,
) -> None:
    """Say when to open and close, how far, and what the night will be inside."""
    from hoopwright import caching, design_of, read_plan
    from hoopwright.answers.season_data import day_data
    from hoopwright.answers.vent_words import day_lines
    from hoopwright.design.asked_forecast import asked_forecast, saved_forecast
    from hoopwright.design.coming_days import coming_days, first_day
    from hoopwright.heat.compiled import march_at_hand

    read = read_plan(plan)
    design = design_of(read)
    if file is None:
        asked = asked_forecast(read, design, caching.folder() / "forecast", service)
    else:
        asked = saved_forecast(read, design, file)
    forecast = asked.forecast
    now = forecast.weather.start.date() if file is not None else date.today()
    first = first_day(forecast, now + timedelta(days=0 if today else 1))
    found = coming_days(design, forecast, first, asked.past, march_at_hand())
    if json:
        told = [day_data(one) for one in found[:days]]
        print(text.as_json({"notes": list(forecast.notes), "days": told}))
        return
    for note in forecast.notes:
        print(text.paragraph(note))
    for one in found[:days]:
        print(f"{one.day:%A} {one.day.day} {one.day:%B}")
        for line in day_lines(one, forecast, design):
            print(text.indented(line))
    print("\n" + text.paragraph(text.GUIDANCE))
