"""The season page, one day of it, a day at the bed hour by hour, and the Today page."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, File, HTTPException, Query, UploadFile
from fastapi.responses import JSONResponse, RedirectResponse, Response

from hoopwright.answers.season_answer import NOT_YET, SeasonState, on_day
from hoopwright.store import Saved
from hoopwright.units import MONTH_NAMES
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.work_pages import job_shown, key_of_work
from hoopwright.web.work_queue import files_beside

router = APIRouter(include_in_schema=False)

#: Seconds that the year may take: some three with the plain march on a machine at rest.
PATIENCE = 60.0


def season_state(at: Desk, saved: Saved) -> SeasonState:
    """Return what is known of a plan's season as it stands."""
    short = at.store.results.get(f"{key_of_work(at, saved, 'season')} short")
    return NOT_YET if short is None else SeasonState(**short)


@router.post("/plans/{plan}/weather")
def bring_weather(at: AtDesk, plan: str, file: Annotated[UploadFile, File()]) -> Response:
    """Take a weather file for a plan, once it can be read."""
    saved, body = at.plans.get(plan), file.file.read()
    name = (file.filename or "weather file")[:80]
    readable, says = at.processes.ask("weather", body)
    if not readable:
        raise HTTPException(422, f"The weather file {name} cannot be used: {says}")
    at.store.weathers.put(at.owner, plan, name, says, body)
    return RedirectResponse(f"/plans/{saved.id}/season", 303)


@router.post("/plans/{plan}/weather/forget")
def forget_weather(at: AtDesk, plan: str) -> Response:
    """Go back to the weather that the plan itself names."""
    at.store.weathers.forget(at.owner, at.plans.get(plan).id)
    return RedirectResponse(f"/plans/{plan}/season", 303)


@router.get("/plans/{plan}/season")
def season(at: AtDesk, plan: str) -> Response:
    """Show the season, or what to do to have it worked out."""
    opened = at.plans.open(plan)
    shown = job_shown(at, opened.saved, "season")
    weather = at.store.weathers.of(opened.saved.id)
    named = opened.worked.plan.site.weather
    return page("season.html.jinja", saved=opened.saved, shown=shown, own=weather, named=named)


@router.get("/plans/{plan}/season/day")
def one_day(at: AtDesk, plan: str, day: Annotated[int, Query(ge=0, le=364)] = 120) -> Response:
    """Say what the season holds for one day of the year."""
    result = job_shown(at, at.plans.get(plan), "season").result
    told = None if result is None else on_day(result["data"], day)
    return page("season_day.html.jinja", told=told)


def _days(at: Desk, saved: Saved) -> dict[str, Any]:
    """Return the days of a plan, worked out once and kept."""
    key = f"{key_of_work(at, saved, 'season')} days"
    held: dict[str, Any] | None = at.store.results.get(key)
    if held is None:
        beside = files_beside(at.store, at.owner, saved.id, saved.text)
        held = at.processes.ask("days", saved.text, beside, seconds=PATIENCE)
        at.store.results.keep(key, "days", held)
    return held


@router.get("/plans/{plan}/days")
def days(at: AtDesk, plan: str) -> Response:
    """Return a clear and a cloudy day of each month for the scene."""
    return JSONResponse(_days(at, at.plans.get(plan)))


@router.get("/plans/{plan}/hours")
def hours(
    at: AtDesk,
    plan: str,
    month: Annotated[int, Query(ge=1, le=12)] = 6,
    sky: Literal["clear", "cloudy"] = "clear",
) -> Response:
    """Show one day as a table."""
    saved = at.plans.get(plan)
    found = _days(at, saved)
    wanted = (month, sky == "cloudy")
    shown = next(d for d in found["days"] if (d["month"], d["cloudy"]) == wanted)
    told: dict[str, Any] = {"saved": saved, "months": MONTH_NAMES, "month": month, "sky": sky}
    return page("hours.html.jinja", **told, found=found, day=shown)


@router.get("/plans/{plan}/today")
def today(at: AtDesk, plan: str) -> Response:
    """Show the advice for the coming days."""
    opened = at.plans.open(plan)
    shown = job_shown(at, opened.saved, "today")
    site = opened.worked.plan.site
    placed = site.latitude is not None and site.longitude is not None
    return page("today.html.jinja", saved=opened.saved, shown=shown, placed=placed)
