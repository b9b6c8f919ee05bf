"""The kinds of work that processes beside the server do, all of them on the text of a plan.

TASKS a page waits for; KINDS are jobs, longer, queued and watched. What either needs is loaded
when it is first asked for.
"""

from __future__ import annotations

import datetime
import io
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from hoopwright.caching import program_print
from hoopwright.checks.ladder import Ladder
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.materials.order import Order
from hoopwright.plan import Plan, ReadPlan
from hoopwright.store.results import key_of
from hoopwright.web.beside import (
    Beside,
    OtherPlan,
    Own,
    RestsOn,
    Weather,
    catalogue_for,
    fingerprint,
    named_by,
    read_here,
)
from hoopwright.web.class_work import class_worked
from hoopwright.web.five_questions import example_text

Progress = Callable[[float, str], None]
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


def sheet(text: str, beside: Beside, kind: Sheet, date: datetime.date) -> bytes:
    """Return the build sheet, with the season's pages where the season has been worked out."""
    from hoopwright.answers.season_kept import kept_season
    from hoopwright.sheet import build_sheet, rendered

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        worked = kept_season(read)
    return rendered(build_sheet(design_from(text, beside.own), date, worked), kind)


def card(text: str, beside: Beside, language: str, date: datetime.date) -> bytes:
    """Return the card in a language, with opening dates where the season has been worked out."""
    from hoopwright.answers.season_kept import kept_season
    from hoopwright.sheet.card import card_of
    from hoopwright.sheet.pdf import card_pdf

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        worked = kept_season(read)
    return card_pdf(card_of(design_from(text, beside.own), date, language, worked))


def calendar(text: str, beside: Beside, year: int) -> bytes | None:
    """Return the calendar file, or None where the season has not been worked out."""
    from hoopwright.answers.season_kept import kept_season
    from hoopwright.design.season_calendar import season_calendar

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        worked = kept_season(read)
    return None if worked is None else season_calendar(read.plan, worked, year)


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

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
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

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        report = season_of(read, lambda what, share: progress(0.85 * share, what))
    progress(0.95, "Drawing the plots.")
    wide, narrow = (season_views(report, read.plan.system, width) for width in (WIDTH, NARROW))
    plots = [{"name": views[0].name} | plotted(*views) for views in zip(wide, narrow, strict=True)]
    return season_answer(report, read.plan.system) | {"plots": plots}


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
    from hoopwright.climate.read import is_daily, read_daily, read_weather

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather"
        path.write_bytes(body)
        if is_daily(path):
            return f"daily record of {read_daily(path).station.name}"
        return f"a year of hours of {read_weather(path).station.name}"


def coming(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the advice for the coming days, as `hoopwright vent` gives it."""
    from hoopwright import caching
    from hoopwright.answers.season_answer import days_told
    from hoopwright.design.asked_forecast import asked_forecast

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        design = design_of(read)
        progress(0.1, "Asking for the forecast; up to half a minute.")
        asked = asked_forecast(read, design, caching.folder() / "forecast")
    progress(0.6, "Running the bed through the coming days.")
    return days_told(design, asked, datetime.date.today())


def search(text: str, beside: Beside, progress: Progress) -> Any:
    """Return the few designs that none beats and that hold to the wishes beside the plan."""
    from hoopwright.web.choose_work import searched

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        return searched(read, beside, progress)


def side_by_side(text: str, beside: Beside, progress: Progress) -> Any:
    """Return a plan and those held beside it, better and worse."""
    from hoopwright.web.choose_work import compared

    first = OtherPlan("", text, beside.own, beside.weather)
    plans = [(one, read_here(one.text, one.own)) for one in (first, *beside.others)]
    held = [(read.plan.name, weather_beside(read, one.weather)) for one, read in plans]
    with ExitStack() as open_plans:
        return compared(open_plans, held, progress)


def readings(text: str, beside: Beside, progress: Progress) -> Any:
    """Return what the loggers' files beside a plan show."""
    from hoopwright.web.evidence_work import evidence

    with weather_beside(read_here(text, beside.own), beside.weather) as read:
        return evidence(read, beside, progress)


KINDS: Mapping[str, WorkKind] = {
    kind.name: kind
    for kind in (
        WorkKind(
            "changes",
            "What would help, each change worked out as a whole design",
            changes,
        ),
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
            side_by_side,
            rests_on="others",
        ),
        WorkKind(
            "choose",
            "Some thousands of designs of this bed, every one weighed",
            search,
            "Search",
            rests_on="wishes",
            compiles=True,
            patience=4,
        ),
        WorkKind(
            "evidence",
            "What the cover gained, month by month, against the model, and the leak fitted",
            readings,
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
