"""A link for a colleague: one plan to read, by whoever has it, and nothing to change."""

from __future__ import annotations

import datetime

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.season_answer import NOT_YET
from hoopwright.answers.short import answers
from hoopwright.store import Store
from hoopwright.web.context import AtDesk, page
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.saved import Changed, SavedPlans
from hoopwright.web.take import attachment
from hoopwright.web.work_queue import files_beside

router = APIRouter(include_in_schema=False)


@router.post("/plans/{plan}/link")
def make(at: AtDesk, plan: str) -> Response:
    """Make a link to a plan; one made before holds no more."""
    at.store.links.make(at.owner, plan)
    return RedirectResponse(f"/plans/{plan}/take#link-title", 303)


@router.post("/plans/{plan}/link/end")
def end(at: AtDesk, plan: str) -> Response:
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
def sheet(request: Request, token: str) -> Response:
    """Return the build sheet of a plan to whoever has its link."""
    saved, state = _behind(request, token).saved, request.app.state
    beside = files_beside(state.store, saved.owner, saved.id, saved.text)
    today = datetime.date.today()
    return attachment(
        saved, "", "pdf", state.processes.ask("sheet", saved.text, beside, "pdf", today)
    )
