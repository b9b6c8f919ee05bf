"""The season page, one day of it, and the Today page."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, HTTPException, Query, UploadFile
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.season_answer import SeasonState, on_day, state_of
from hoopwright.store import Saved
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.work_pages import job_shown, key_of_work

router = APIRouter(include_in_schema=False)


def season_state(at: Desk, saved: Saved) -> SeasonState:
    """Return what is known of a plan's season as it stands."""
    return state_of(at.store.results.get(f"{key_of_work(at, saved, 'season')} short"))


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


@router.get("/plans/{plan}/today")
def today(at: AtDesk, plan: str) -> Response:
    """Show the advice for the coming days."""
    opened = at.plans.open(plan)
    shown = job_shown(at, opened.saved, "today")
    site = opened.worked.plan.site
    placed = site.latitude is not None and site.longitude is not None
    return page("today.html.jinja", saved=opened.saved, shown=shown, placed=placed)
