"""What to take away: sheet, lists, drawings, the plan itself."""

from __future__ import annotations

import datetime
import io
import zipfile
from typing import Any, Literal

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response

from hoopwright.answers.season_answer import NOT_YET
from hoopwright.answers.spreadsheets import cuts_csv, shopping_csv
from hoopwright.store import Saved
from hoopwright.tables.languages import languages
from hoopwright.web.beside import Own, named_by
from hoopwright.web.context import AtDesk, Desk, page, slug
from hoopwright.web.season_pages import season_state
from hoopwright.web.work_queue import files_beside

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
def take(request: Request, at: AtDesk, plan: str) -> Response:
    """Show what can be taken away."""
    saved = at.plans.get(plan)
    season = season_state(at, saved) is not NOT_YET
    named = [file.name for file in _lists_of(at, saved)]
    token = at.store.links.of(saved.id)
    return page(
        "take.html.jinja",
        saved=saved,
        season=season,
        named=named,
        link=token and f"{request.base_url}read/{token}",
        lan=at.settings.lan,
    )


@router.get("/plans/{plan}/take/sheet.{kind}")
def sheet(at: AtDesk, plan: str, kind: Literal["pdf", "html", "md"]) -> Response:
    """Return the build sheet."""
    saved, today = at.plans.get(plan), datetime.date.today()
    beside = files_beside(at.store, at.owner, saved.id, saved.text)
    body = at.processes.ask("sheet", saved.text, beside, kind, today)
    return attachment(saved, "", kind, body)


@router.get("/plans/{plan}/take/card.pdf")
def card(at: AtDesk, plan: str, language: str = "en") -> Response:
    """Return the card: the two pages to build from."""
    if language not in languages():
        raise HTTPException(404, f"The card is printed in {', '.join(languages())}.")
    saved, today = at.plans.get(plan), datetime.date.today()
    beside = files_beside(at.store, at.owner, saved.id, saved.text)
    body = at.processes.ask("card", saved.text, beside, language, today)
    return attachment(saved, "card" if language == "en" else f"card-{language}", "pdf", body)


@router.get("/plans/{plan}/take/shopping.csv")
def shopping(at: AtDesk, plan: str) -> Response:
    """Return the shopping list."""
    opened = at.plans.open(plan)
    design = opened.worked.design
    return attachment(opened.saved, "shopping", "csv", shopping_csv(design.order, design.system))


@router.get("/plans/{plan}/take/cuts.csv")
def cuts(at: AtDesk, plan: str) -> Response:
    """Return the cut list."""
    opened = at.plans.open(plan)
    design = opened.worked.design
    return attachment(opened.saved, "cuts", "csv", cuts_csv(design.order, design.system))


@router.get("/plans/{plan}/take/drawings.zip")
def drawings(at: AtDesk, plan: str) -> Response:
    """Return the drawings."""
    saved = at.plans.get(plan)
    body = at.processes.ask("drawings", saved.text, at.plans.own(saved.text))
    return attachment(saved, "drawings", "zip", body)


@router.get("/plans/{plan}/take/calendar.ics")
def calendar(at: AtDesk, plan: str) -> Response:
    """Return what to do when, for next year, once the season has been worked out."""
    saved = at.plans.get(plan)
    year = datetime.date.today().year + 1
    beside = files_beside(at.store, at.owner, saved.id, saved.text)
    body = at.processes.ask("calendar", saved.text, beside, year)
    if body is None:
        raise HTTPException(409, "The season of this plan is not worked out; do that first.")
    return attachment(saved, "", "ics", body)


@router.get("/plans/{plan}/take/plan.toml")
def plan_file(at: AtDesk, plan: str) -> Response:
    """Return the plan, comments and all."""
    saved = at.plans.get(plan)
    return attachment(saved, "", "toml", saved.text)


@router.get("/plans/{plan}/take/plan.zip")
def plan_with_lists(at: AtDesk, plan: str) -> Response:
    """Return the plan and the lists that it names, to lie in one folder."""
    saved, held = at.plans.get(plan), io.BytesIO()
    files, name = _lists_of(at, saved), f"{slug(saved.name)}.toml"
    if name in [file.name for file in files]:
        name = f"plan-{name}"
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr(name, saved.text)
        for file in files:
            packed.writestr(file.name, file.text)
    return attachment(saved, "", "zip", held.getvalue())


def _lists_of(at: Desk, saved: Saved) -> Own:
    """Return the owner's lists that a plan names."""
    own = at.plans.own(saved.text)
    return named_by(at.plans.read(saved.text).plan, own) if own else ()


def attachment(saved: Saved, what: str, kind: str, body: bytes | str) -> Response:
    """Return a file of a plan to keep, named by the plan and what it is."""
    name = "-".join(part for part in (slug(saved.name), what) if part)
    headers: dict[str, Any] = {"Content-Disposition": f'attachment; filename="{name}.{kind}"'}
    if kind == "html":
        headers["Content-Security-Policy"] = _SHEET
    return Response(body, media_type=_TYPES[kind], headers=headers)
