"""The kinds of work that processes beside the server do, all of them on the text of a plan.

TASKS a page waits for; KINDS are jobs, longer, queued and watched. What either needs is loaded
when it is first asked for.
"""

from __future__ import annotations

import datetime
import io
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from hoopwright.caching import program_print
from hoopwright.checks.ladder import Ladder
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.materials.order import Order
from hoopwright.plan import Plan, ReadPlan
from hoopwright.store.results import key_of
from hoopwright.web.beside import (
    Beside,
    Own,
    Progress,
    RestsOn,
    catalogue_for,
    fingerprint,
    named_by,
    read_here,
    read_with_weather,
    weather_words,
)
from hoopwright.web.choose_work import compared, searched
from hoopwright.web.class_work import class_worked
from hoopwright.web.evidence_work import evidence
from hoopwright.web.five_questions import example_text

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport

Work = Callable[[str, Beside, Progress], Any]
Sheet = Literal["pdf", "html", "md"]


@lru_cache(maxsize=8)
def design_from(text: str, own: Own = ()) -> Design:
    """Return the design of a plan's text."""
    return design_of(read_here(text, own))


def ladder(plan: Plan, own: Own = ()) -> Ladder:
    """Return what gives way, in order, with what every page tells of it."""
    found = design_of(ReadPlan(plan, catalogue_for(plan, own))).ladder
    _ = found.lost_by_age
    return found


def order(plan: Plan, own: Own = ()) -> Order:
    """Return what to buy and how to cut it."""
    return design_of(ReadPlan(plan, catalogue_for(plan, own))).order


def warm_up() -> None:
    """Work the example out once, so that tables and libraries are there for the first reader."""
    plan = read_here(example_text()).plan
    ladder(plan)
    order(plan)


def season_worked(text: str, beside: Beside) -> SeasonReport | None:
    """Return the season of a plan where it has been worked out, or None."""
    from hoopwright.answers.season_kept import kept_season

    with read_with_weather(text, beside) as read:
        return kept_season(read)


def sheet(text: str, beside: Beside, kind: Sheet, date: datetime.date) -> bytes:
    """Return the build sheet, with the season's pages where the season has been worked out."""
    from hoopwright.sheet import build_sheet, rendered

    worked = season_worked(text, beside)
    return rendered(build_sheet(design_from(text, beside.own), date, worked), kind)


def card(text: str, beside: Beside, language: str, date: datetime.date) -> bytes:
    """Return the card in a language, with opening dates where the season has been worked out."""
    from hoopwright.sheet.card import card_of
    from hoopwright.sheet.pdf import card_pdf

    worked = season_worked(text, beside)
    return card_pdf(card_of(design_from(text, beside.own), date, language, worked))


def calendar(text: str, beside: Beside, year: int) -> bytes | None:
    """Return the calendar file, or None where the season has not been worked out."""
    from hoopwright.design.season_calendar import season_calendar

    worked, plan = season_worked(text, beside), read_here(text, beside.own).plan
    return None if worked is None else season_calendar(plan, worked, year)


def drawings(text: str, own: Own = ()) -> bytes:
    """Return every drawing as SVG, and a DXF with all of them, in one ZIP."""
    from hoopwright.drawing.files import write_drawings

    held = io.BytesIO()
    with tempfile.TemporaryDirectory() as folder, zipfile.ZipFile(held, "w") as packed:
        for path in write_drawings(design_from(text, own), Path(folder), "both"):
            packed.write(path, path.name, compress_type=zipfile.ZIP_DEFLATED)
    return held.getvalue()


def weather(body: bytes) -> tuple[bool, str]:
    """Return whether a weather file can be read, and what it holds or why not."""
    from hoopwright.climate.read import WeatherFileError

    try:
        return True, weather_words(body)
    except WeatherFileError as error:
        # Our own copy's place says nothing to whoever brought the file.
        return False, str(error).removeprefix(str(error.path)).lstrip(",: ")


def logger(
    name: str, data: bytes, about: str, latitude: float | None, longitude: float | None
) -> dict[str, Any]:
    """Return how a logger's file is read, in words."""
    from hoopwright.web.loggers import described

    return described(name, data, about, latitude, longitude)


def days(text: str, beside: Beside) -> dict[str, Any]:
    """Return a clear and a cloudy day of each month at the bed, hour by hour."""
    from hoopwright.answers.day_words import days_told
    from hoopwright.design.days_at_bed import days_at_bed
    from hoopwright.drawing.views import north_of
    from hoopwright.heat.compiled import march_at_hand

    with read_with_weather(text, beside) as read:
        design = design_of(read)
        found = days_at_bed(design, read.weather_file, march_at_hand())
    return days_told(found, design.system, north_of(design))


TASKS: Mapping[str, Callable[..., Any]] = {
    "ladder": ladder,
    "order": order,
    "sheet": sheet,
    "card": card,
    "drawings": drawings,
    "calendar": calendar,
    "weather": weather,
    "logger": logger,
    "days": days,
}
"""What a page waits for, by name."""


@dataclass(frozen=True)
class WorkKind:
    """A kind of long work; `about` says what it is.

    daily : True where a result holds only for the day on which it was worked out
    rests_on : what it is about besides the plan
    compiles : True where it runs many years, so that it is compiled at its first use
    patience : how many times as long as another job it may take
    staged   : whether it tells its share by `pace.StagePace`
    """

    name: str
    about: str
    work: Work
    button: str = "Work it out"
    daily: bool = False
    rests_on: RestsOn = ""
    compiles: bool = False
    patience: int = 1
    staged: bool = False

    def key(self, plan: Plan, own: Own, weather: str, rest: str = "") -> str:
        """Return under which key its result on a plan is kept; comments and name do not count.

        own : lists it may name; weather : fingerprint of its weather file, "" without one
        rest : what else it rests on
        """
        day = datetime.date.today().isoformat() if self.daily else ""
        held = plan.model_dump_json(exclude={"name", "paper"})
        lists = fingerprint(named_by(plan, own))
        return key_of(self.name, program_print(), day + rest, held, weather, lists)


def changes(text: str, beside: Beside, progress: Progress) -> Any:
    """Return what each change of the plan would gain and cost, as words and keys."""
    from hoopwright.answers.data import change_data
    from hoopwright.answers.ladder_words import change_words
    from hoopwright.programme.changes import worked_changes

    def told(done: int, whole: int) -> None:
        progress(done / whole, f"{done} of {whole} changes worked out, each as a whole design.")

    read = read_here(text, beside.own)
    before = design_of(read)
    worked = worked_changes(read, before, told)
    words = change_words(before, worked)
    return [
        {"what": said.what, "gain": said.gain, "sets": change_data(one)["sets"]}
        for said, one in zip(words, worked, strict=True)
    ]


def season(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the season of a plan's text, worked out over its years."""
    from hoopwright.answers.season_answer import season_answer
    from hoopwright.answers.season_kept import season_of
    from hoopwright.drawing.plots.field import NARROW, WIDTH, plotted
    from hoopwright.drawing.season_plots import season_views

    with read_with_weather(text, beside) as read:
        report = season_of(read, lambda what, share: progress(0.85 * share, what))
    progress(0.95, "Drawing the plots.")
    wide, narrow = (season_views(report, read.plan.system, width) for width in (WIDTH, NARROW))
    plots = [{"name": views[0].name} | plotted(*views) for views in zip(wide, narrow, strict=True)]
    return season_answer(report, read.plan.system) | {"plots": plots}


def coming(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the advice for the coming days, as `hoopwright vent` gives it."""
    from hoopwright import caching
    from hoopwright.answers.season_answer import days_told
    from hoopwright.design.asked_forecast import asked_forecast

    with read_with_weather(text, beside) as read:
        design = design_of(read)
        progress(0.1, "Asking for the forecast; up to half a minute.")
        asked = asked_forecast(read, design, caching.folder() / "forecast")
    progress(0.6, "Running the bed through the coming days.")
    return days_told(design, asked, datetime.date.today())


KINDS: Mapping[str, WorkKind] = {
    kind.name: kind
    for kind in (
        WorkKind("changes", "What would help, each change worked out as a whole design", changes),
        WorkKind(
            "season",
            "The bed run hour by hour through many years, open and covered",
            season,
            compiles=True,
        ),
        WorkKind(
            "today",
            "When to open and close in the coming days, and what the nights will be",
            coming,
            "Ask for the forecast",
            daily=True,
        ),
        WorkKind(
            "compared",
            "Cost, work, strength and a year's warmth of each plan, better and worse",
            compared,
            rests_on="others",
        ),
        WorkKind(
            "choose",
            "Some thousands of designs of this bed, every one weighed",
            searched,
            "Search",
            rests_on="wishes",
            compiles=True,
            patience=4,
        ),
        WorkKind(
            "evidence",
            "What the cover gained, month by month, against the model, and the leak fitted",
            evidence,
            rests_on="readings",
            compiles=True,
        ),
        WorkKind(
            "class",
            "One order for all beds, who pays what, cuts and kits; longer for a large class, and "
            "where much is out of stock",
            class_worked,
            rests_on="households",
            staged=True,
        ),
    )
}
"""The kinds of job, by name."""
