"""The season and the coming days as plain data that can be stored, in sentences and tables."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from statistics import median
from typing import TYPE_CHECKING, Any

from hoopwright.frozen import dataclass
from hoopwright.units import System, show

if TYPE_CHECKING:
    from hoopwright.design import Design
    from hoopwright.design.asked_forecast import AskedForecast
    from hoopwright.design.season_report import SeasonReport


@dataclass(frozen=True)
class SeasonState:
    """What a page needs of the season in short: a sentence, and a few words to compare by."""

    says: str
    short: str


NOT_YET = SeasonState(
    "Not worked out for this plan as it stands. The season page starts it.", "not worked out"
)


def season_answer(report: SeasonReport, system: System) -> dict[str, Any]:
    """Return where a season comes from, its gist, its tables and all of its data."""
    from hoopwright.answers.season_data import season_data
    from hoopwright.answers.season_words import grids

    return {
        "origin": report.origin,
        "short": _short(report, system),
        "grids": [
            {
                "title": grid.title,
                "heads": list(grid.heads),
                "rows": [[row.label, *row.cells] for row in grid.rows],
                "note": grid.note,
            }
            for grid in grids(report, system)
        ],
        "data": season_data(report),
    }


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
    mark = report.marked("").rstrip(".").lower()
    mark = f" ({mark})" if mark else ""
    return {
        "says": report.marked(says),
        "short": f"{apart(leaf.mean)} at night; first start {first}, last {last}{mark}",
    }


def _days(gained: list[int], more: str, less: str) -> str:
    middle = round(median(gained)) if gained else 0
    if middle == 0:
        return "no sooner and no later"
    return f"{abs(middle)} day{'s' if abs(middle) > 1 else ''} {more if middle > 0 else less}"


def days_told(design: Design, asked: AskedForecast, wanted: datetime.date) -> dict[str, Any]:
    """Return the advice for the days of a forecast from the wanted one on."""
    from hoopwright.answers.vent_words import day_lines
    from hoopwright.design.coming_days import coming_days, first_day
    from hoopwright.heat.compiled import compiled_march

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
                "lines": day_lines(one, forecast, design),
            }
            for one in found[:7]
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
        "invented": data["invented"],
        "curves": [
            (name, round(100 * data["frost_curves"][name]["chance"][day])) for name in covers
        ],
        "starts": {name: _starts(data, name, day) for name in covers[:2]},
        "sides": half["sentence"],
    }


def _starts(data: Mapping[str, Any], cover: str, day: int) -> list[str]:
    from hoopwright.season.crops import crops

    names = {one.key: one.name for one in crops().values()}
    return [
        names.get(crop, crop)
        for crop, row in data["crops"].items()
        if any(
            one["first"] <= day + turn <= one["last"]
            for one in row[cover]["stretches"]
            for turn in (0, 365)
        )
    ]
