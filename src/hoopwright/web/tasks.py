"""What the workers do, each on the text of a plan: plain functions of a module that load late.

A worker is a process of its own, so that two cores work at one design, and that what takes too
long can be ended.
"""

from __future__ import annotations

import datetime
import io
import tempfile
import zipfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from hoopwright.checks.ladder import Ladder
from hoopwright.design import Design, design_of
from hoopwright.materials.order import Order
from hoopwright.plan import Plan, ReadPlan
from hoopwright.web.beside import Beside, Own
from hoopwright.web.starting import example_text
from hoopwright.web.working import catalogue_for, read_here

Sheet = Literal["pdf", "html", "md"]


@lru_cache(maxsize=8)
def design_from(text: str, own: Own = ()) -> Design:
    """Return the design of a plan's text."""
    return design_of(read_here(text, own))


def ladder(plan: Plan, own: Own = ()) -> Ladder:
    """Return what gives way, in order."""
    return design_of(ReadPlan(plan, catalogue_for(plan, own))).ladder


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
    from hoopwright.sheet import build_sheet, rendered
    from hoopwright.web.season import kept_season

    season = kept_season(read_here(text, beside.own), beside.weather)
    return rendered(build_sheet(design_from(text, beside.own), date, season), kind)


def calendar(text: str, beside: Beside, year: int) -> bytes | None:
    """Return the calendar file, or None where the season has not been worked out."""
    from hoopwright.design.season_calendar import season_calendar
    from hoopwright.web.season import kept_season

    read = read_here(text, beside.own)
    season = kept_season(read, beside.weather)
    return None if season is None else season_calendar(read.plan, season, year)


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
    from hoopwright.web.season import weather_words

    try:
        return True, weather_words(body)
    except WeatherFileError as error:
        return False, str(error)


TASKS: dict[str, Callable[..., Any]] = {
    "ladder": ladder,
    "order": order,
    "sheet": sheet,
    "drawings": drawings,
    "calendar": calendar,
    "weather": weather,
}
