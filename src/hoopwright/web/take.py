"""What to take away: sheet, lists, drawings, the plan itself; and a link for a colleague."""

import datetime
import io
import zipfile
from typing import Literal

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.season_answer import NOT_YET
from hoopwright.answers.short import answers
from hoopwright.answers.spreadsheets import cuts_csv, shopping_csv
from hoopwright.store import Saved, Store
from hoopwright.tables.languages import languages
from hoopwright.web.beside import Own, named_by
from hoopwright.web.context import AtDesk, Desk, file_to_keep, page, slug
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.saved import Changed, SavedPlans
from hoopwright.web.season_pages import season_state
from hoopwright.web.work_queue import files_beside

router = APIRouter(include_in_schema=False)

#: Of the sheet's own page: it brings its style and type inside it, and may do nothing else.
_SHEET = (
    "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; "
    "frame-ancestors 'none'; sandbox"
)


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


@router.post("/plans/{plan}/link")
def make_link(at: AtDesk, plan: str) -> Response:
    """Make a link to a plan; one made before holds no more."""
    at.store.links.make(at.owner, plan)
    return RedirectResponse(f"/plans/{plan}/take#link-title", 303)


@router.post("/plans/{plan}/link/end")
def end_link(at: AtDesk, plan: str) -> Response:
    """End the link to a plan."""
    at.store.links.forget(at.owner, plan)
    return RedirectResponse(f"/plans/{plan}/take#link-title", 303)


def _behind(request: Request, token: str) -> Changed:
    store: Store = request.app.state.store
    found = store.links.behind(token)
    if found is None:
        raise HTTPException(404, "This link holds no more; ask for a new one.")
    owner, plan = found
    return SavedPlans(store, request.app.state.designs, owner, 0).open(plan)


@router.get("/read/{token}")
def read(request: Request, token: str) -> Response:
    """Show a plan to whoever has its link: picture and answers, as they stand now."""
    opened = _behind(request, token)
    design = opened.worked.design
    return page(
        "read.html.jinja",
        saved=opened.saved,
        token=token,
        picture=picture(design, Looking("bed")),
        answers=[one for one in answers(design, NOT_YET) if one.key != "season"],
    )


@router.get("/read/{token}/sheet.pdf")
def read_sheet(request: Request, token: str) -> Response:
    """Return the build sheet of a plan to whoever has its link."""
    saved, state = _behind(request, token).saved, request.app.state
    beside = files_beside(state.store, saved.owner, saved.id, saved.text)
    today = datetime.date.today()
    return attachment(
        saved, "", "pdf", state.processes.ask("sheet", saved.text, beside, "pdf", today)
    )


def attachment(saved: Saved, what: str, kind: str, body: bytes | str) -> Response:
    """Return a file of a plan to keep, named by the plan and what it is."""
    name = "-".join(part for part in (slug(saved.name), what) if part)
    answer = file_to_keep(f"{name}.{kind}", body)
    if kind == "html":
        answer.headers["Content-Security-Policy"] = _SHEET
    return answer
