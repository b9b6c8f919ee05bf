"""The season of a plan as plain data for the pages: sentences, tables, plots, dates.

The work itself is that of `hoopwright season` and `hoopwright vent`; here it is only put into a
shape that the store can keep and a template can print.
"""

from __future__ import annotations

import datetime
import hashlib
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING, Any

from hoopwright.units import System, show

if TYPE_CHECKING:
    from hoopwright.design import Design
    from hoopwright.design.asked_forecast import AskedForecast
    from hoopwright.design.season_report import SeasonReport
    from hoopwright.plan.read import ReadPlan
    from hoopwright.sheet.season_words import Grid
    from hoopwright.web.beside import Beside, Weather
    from hoopwright.web.running import Progress


@dataclass(frozen=True)
class SeasonState:
    """What a page needs of the season in short: a sentence, and a few words to compare by."""

    says: str
    short: str


NOT_YET = SeasonState(
    "Not worked out for this plan as it stands. The season page starts it; about 10 s.",
    "not worked out",
)


def state_of(short: Mapping[str, str] | None) -> SeasonState:
    """Return the state from what a finished job left, or that there is none."""
    return NOT_YET if short is None else SeasonState(short["says"], short["short"])


def season(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the season of a plan's text, worked out over its years."""
    from hoopwright.cli.season_data import season_data
    from hoopwright.drawing.plots.field import plot_svg
    from hoopwright.drawing.season_plots import season_views
    from hoopwright.sheet.season_words import calendar, heat_by_opening, sowing, thirst, warmth
    from hoopwright.web.working import read_here

    weather = beside.weather
    with weather_beside(read_here(text, beside.own), weather) as read:
        report, system = season_of(read, weather, progress), read.plan.system
    progress(0.98, "Drawing the plots.")
    grids = (
        sowing(report),
        calendar(report, system),
        warmth(report, system),
        heat_by_opening(report, system),
        thirst(report, system),
    )
    return {
        "origin": report.origin,
        "short": _short(report, system),
        "grids": [_grid(grid) for grid in grids],
        "plots": [
            {"name": view.name, "title": view.title, "svg": plot_svg(view)}
            for view in season_views(report, system)
        ],
        "data": season_data(report),
    }


@contextmanager
def weather_beside(read: ReadPlan, weather: Weather) -> Iterator[ReadPlan]:
    """Hold a plan with its weather file in a folder of its own, under a name of ours."""
    if weather is None:
        yield read
        return
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "weather").write_bytes(weather[1])
        site = read.plan.site.model_copy(update={"weather": "weather"})
        plan = read.plan.model_copy(update={"site": site})
        yield replace(read, plan=plan, folder=Path(folder))


def weather_words(body: bytes) -> str:
    """Return what a weather file holds. Raises WeatherFileError where it cannot be read."""
    from hoopwright.climate.read import read_daily, read_weather
    from hoopwright.climate.read.recognise import is_daily

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather"
        path.write_bytes(body)
        if is_daily(path):
            return f"daily record of {read_daily(path).station.name}"
        return f"a year of hours of {read_weather(path).station.name}"


def season_of(read: ReadPlan, weather: Weather, progress: Progress) -> SeasonReport:
    """Return the season, kept for the sheet and the calendar that are asked for afterwards."""
    from hoopwright.design import design_of
    from hoopwright.design.growing import place_years
    from hoopwright.design.season_report import season_report
    from hoopwright.heat.compiled import compiled_march
    from hoopwright.store import kept

    held: SeasonReport | None = kept_season(read, weather)
    if held is None:
        place = place_years(read.plan, read.weather_file)
        held = season_report(
            design_of(read), place, compiled_march(), lambda what, share: progress(share, what)
        )
        kept.save(_name(read, weather), held)
    return held


def kept_season(read: ReadPlan, weather: Weather) -> SeasonReport | None:
    """Return the season if it was worked out before, or None."""
    from hoopwright.store import kept

    found: SeasonReport | None = kept.load(_name(read, weather))
    return found


def _name(read: ReadPlan, weather: Weather) -> str:
    from hoopwright.store import kept
    from hoopwright.web.beside import fingerprint, named_by

    plan = read.plan.model_dump_json(exclude={"name": True, "paper": True, "site": {"weather"}})
    file = hashlib.sha256(weather[1]).hexdigest() if weather else read.plan.site.weather
    lists = fingerprint(named_by(read.plan, read.beside))
    return f"season-{kept.key(plan, 'browser', file, lists)}"


def _grid(grid: Grid) -> dict[str, Any]:
    rows = [[row.label, *row.cells] for row in grid.rows]
    return {"title": grid.title, "heads": list(grid.heads), "rows": rows, "note": grid.note}


def _short(report: SeasonReport, system: System) -> dict[str, str]:
    """Return the gist: nights against the open bed, and days gained at each end."""
    gains = report.covers[1].gains
    assert gains is not None
    leaf = gains.leaf

    def apart(value: float) -> str:
        return show(value, "temperature difference", system)

    both = [gain for gain in report.gains.values() if gain.early is not None]
    early = [gain.early for gain in both if gain.early is not None]
    late = [gain.late for gain in both if gain.late is not None]
    first, last = _days(early, "earlier", "later"), _days(late, "later", "earlier")
    says = (
        f"Leaves at night {apart(leaf.mean)} warmer than in the open on average (eight nights in "
        f"ten: {apart(leaf.tenth)} to {apart(leaf.ninetieth)}). "
    )
    if both:
        says += (
            f"For the middle one of {len(both)} crops the first start comes {first} and the last "
            f"{last}."
        )
    return {
        "says": says,
        "short": f"{apart(leaf.mean)} at night; first start {first}, last {last}",
    }


def _days(gained: list[int], more: str, less: str) -> str:
    middle = round(median(gained)) if gained else 0
    if middle == 0:
        return "no sooner and no later"
    return f"{abs(middle)} day{'s' if abs(middle) > 1 else ''} {more if middle > 0 else less}"


def coming(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the advice for the coming days, as `hoopwright vent` gives it."""
    from hoopwright.design import design_of
    from hoopwright.design.asked_forecast import asked_forecast
    from hoopwright.store import kept
    from hoopwright.web.working import read_here

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        design = design_of(read)
        progress(0.1, "Asking for the forecast; up to half a minute.")
        asked = asked_forecast(read, design, kept.folder() / "forecast")
    progress(0.6, "Running the bed through the coming days.")
    return days_told(design, asked, datetime.date.today())


def days_told(design: Design, asked: AskedForecast, wanted: datetime.date) -> dict[str, Any]:
    """Return the advice for the days of a forecast from the wanted one on."""
    from hoopwright.design.coming_days import coming_days, first_day
    from hoopwright.heat.compiled import compiled_march
    from hoopwright.sheet.vent_words import day_lines

    forecast = asked.forecast
    first = first_day(forecast, wanted)
    found = coming_days(design, forecast, first, asked.past, compiled_march())
    return {
        "typical": forecast.issued is None,
        "notes": list(forecast.notes),
        "made": datetime.datetime.now().strftime("%A %d %B, %H:%M"),
        "days": [
            {
                "day": f"{one.day:%A} {one.day.day} {one.day:%B}",
                "lines": day_lines(one, forecast, design.system),
            }
            for one in found.days[:7]
        ],
    }


def on_day(data: Mapping[str, Any], day: int) -> dict[str, Any]:
    """Return what the season says of one day of the year, 0 for 1 January.

    curves : (cover, chance of frost on leaves [%]); starts : crops that can be started, open
    and covered; sides : what the opening calendar says
    """
    date = datetime.date(2001, 1, 1) + datetime.timedelta(days=day)
    half = data["opening_calendar"][(date.month - 1) * 2 + (date.day > 15)]
    covers = list(data["frost_curves"])
    return {
        "day": f"{date.day} {date:%B}",
        "spring": day < 196,
        "curves": [
            (name, round(100 * data["frost_curves"][name]["chance"][day])) for name in covers
        ],
        "starts": {name: _starts(data, name, day) for name in covers[:2]},
        "sides": half["sentence"],
    }


def _starts(data: Mapping[str, Any], cover: str, day: int) -> list[str]:
    return [
        crop
        for crop, row in data["crops"].items()
        if any(one["first"] <= day <= one["last"] for one in row[cover]["stretches"])
    ]
