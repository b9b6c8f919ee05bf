"""The season page and the Today page."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from hoopwright.store import Saved
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.season import NOT_YET, SeasonState

router = APIRouter(include_in_schema=False)


def season_state(at: Desk, saved: Saved) -> SeasonState:
    """Return what is known of a plan's season."""
    return NOT_YET


@router.get("/plans/{plan}/season")
def season(at: AtDesk, plan: str) -> Response:
    """Show the season, or what to do to have it worked out."""
    saved = at.plans.get(plan)
    return page("season.html.jinja", saved=saved, state=season_state(at, saved))


@router.get("/plans/{plan}/today")
def today(at: AtDesk, plan: str) -> Response:
    """Show the advice for the coming days."""
    opened = at.plans.open(plan)
    return page("today.html.jinja", saved=opened.saved, plan=opened.worked.plan)
