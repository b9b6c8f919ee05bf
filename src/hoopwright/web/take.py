"""What to take away: sheet, lists, drawings, the plan itself."""

from __future__ import annotations

import datetime
from typing import Any, Literal

from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

from hoopwright.cli.cut import shopping_csv
from hoopwright.store import Saved
from hoopwright.web.context import AtDesk, page, slug
from hoopwright.web.lists import cuts_csv
from hoopwright.web.season import NOT_YET
from hoopwright.web.season_pages import season_state, weather_of

router = APIRouter(include_in_schema=False)

#: Of the sheet's own page: it brings its style and type inside it, and may do nothing else.
_SHEET = (
    "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; "
    "frame-ancestors 'none'; sandbox"
)
_TYPES = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "md": "text/markdown; charset=utf-8",
    "csv": "text/csv; charset=utf-8",
    "zip": "application/zip",
    "ics": "text/calendar; charset=utf-8",
    "toml": "application/toml; charset=utf-8",
}


@router.get("/plans/{plan}/take")
def take(at: AtDesk, plan: str) -> Response:
    """Show what can be taken away."""
    saved = at.plans.get(plan)
    season = season_state(at, saved) is not NOT_YET
    return page("take.html.jinja", saved=saved, season=season)


@router.get("/plans/{plan}/take/sheet.{kind}")
def sheet(at: AtDesk, plan: str, kind: Literal["pdf", "html", "md"]) -> Response:
    """Return the build sheet."""
    saved, today = at.plans.get(plan), datetime.date.today()
    body = at.working.workers.ask("sheet", saved.text, weather_of(at, saved), kind, today)
    return _file(saved, "", kind, body)


@router.get("/plans/{plan}/take/shopping.csv")
def shopping(at: AtDesk, plan: str) -> Response:
    """Return the shopping list."""
    opened = at.plans.open(plan)
    design = opened.worked.design
    return _file(opened.saved, "shopping", "csv", shopping_csv(design.order, design.system))


@router.get("/plans/{plan}/take/cuts.csv")
def cuts(at: AtDesk, plan: str) -> Response:
    """Return the cut list."""
    opened = at.plans.open(plan)
    design = opened.worked.design
    return _file(opened.saved, "cuts", "csv", cuts_csv(design.order, design.system))


@router.get("/plans/{plan}/take/drawings.zip")
def drawings(at: AtDesk, plan: str) -> Response:
    """Return the drawings."""
    saved = at.plans.get(plan)
    return _file(saved, "drawings", "zip", at.working.workers.ask("drawings", saved.text))


@router.get("/plans/{plan}/take/calendar.ics")
def calendar(at: AtDesk, plan: str) -> Response:
    """Return what to do when, for next year, once the season has been worked out."""
    saved = at.plans.get(plan)
    year = datetime.date.today().year + 1
    body = at.working.workers.ask("calendar", saved.text, weather_of(at, saved), year)
    if body is None:
        raise HTTPException(409, "The season of this plan is not worked out; do that first.")
    return _file(saved, "", "ics", body)


@router.get("/plans/{plan}/take/plan.toml")
def plan_file(at: AtDesk, plan: str) -> Response:
    """Return the plan, comments and all."""
    saved = at.plans.get(plan)
    return _file(saved, "", "toml", saved.text)


def _file(saved: Saved, what: str, kind: str, body: bytes | str) -> Response:
    name = "-".join(part for part in (slug(saved.name), what) if part)
    headers: dict[str, Any] = {"Content-Disposition": f'attachment; filename="{name}.{kind}"'}
    if kind == "html":
        headers["Content-Security-Policy"] = _SHEET
    return Response(body, media_type=_TYPES[kind], headers=headers)
