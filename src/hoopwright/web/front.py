"""The first page: five questions, an example, a file, what was saved; and joining."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from fastapi.responses import RedirectResponse, Response

from hoopwright.plan.read import PlanError, Problem
from hoopwright.web.context import AtDesk, page
from hoopwright.web.five_questions import (
    CROPS,
    TROUBLES,
    Begun,
    begun_plan,
    example_text,
    exposures,
    row_at_hand,
    things_at_hand,
)
from hoopwright.web.own_lists import brought
from hoopwright.web.visitors import COOKIE, STAY, joined

router = APIRouter(include_in_schema=False)

Words = Annotated[str, Form(max_length=200)]
Many = Annotated[list[str], Form()]


def _front(at: AtDesk, begun: Begun, problems: tuple[Problem, ...] = ()) -> Response:
    return page(
        "front.html.jinja",
        422 if problems else 200,
        plans=at.store.plans.all(at.owner),
        begun=begun,
        problems={problem.key: problem.says for problem in problems},
        troubles=TROUBLES,
        crops=CROPS,
        things=things_at_hand(),
        exposure=exposures(),
        lan=at.settings.lan,
    )


@router.get("/")
def front(at: AtDesk) -> Response:
    """Show the first page."""
    return _front(at, Begun())


@router.post("/plans")
def begin(
    at: AtDesk,
    length: Words,
    width: Words,
    name: Words = "",
    place: Words = "",
    exposure: Words = "open",
    gust: Words = "",
    trouble: Many = [],  # noqa: B006
    crops: Words = "middle",
    item: Words = "",
    item_length: Words = "",
    count: Words = "",
    metric: Words = "",
) -> Response:
    """Begin a plan from the answers to the five questions."""
    rows = (row_at_hand(item, item_length, "", count),) if item else ()
    troubles, wide = tuple(trouble), bool(metric)
    begun = Begun(length, width, place, exposure, gust, troubles, crops, rows, wide, name)
    try:
        saved = at.plans.add(begun_plan(begun, lambda text: at.plans.design(text).design))
    except PlanError as error:
        return _front(at, begun, error.problems)
    return RedirectResponse(f"/plans/{saved.id}", 303)


@router.post("/plans/example")
def example(at: AtDesk) -> Response:
    """Begin from the example."""
    return RedirectResponse(f"/plans/{at.plans.add(example_text()).id}", 303)


@router.post("/plans/file")
def bring(
    at: AtDesk,
    file: Annotated[UploadFile, File()],
    beside: Annotated[list[UploadFile], File()] = [],  # noqa: B006
) -> Response:
    """Begin from a plan file, with the lists that it names where they are sent along."""
    sent = [one for one in beside if one.filename or one.size]
    # What each is for, the plan says; until then any kind will do.
    lists = [brought("catalogue", one.filename or "", one.file.read()).file for one in sent]
    text = text_of(file.file.read())
    saved = at.lists.begin(text, tuple(lists)) if lists else at.plans.add(text)
    return RedirectResponse(f"/plans/{saved.id}", 303)


def text_of(body: bytes) -> str:
    """Return a file as text. Raises PlanError where it is none."""
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        says = f"byte {error.start} is not UTF-8; save the file as UTF-8 text"
        raise PlanError("plan", (Problem("", says),)) from None


@router.get("/join")
def ask_code(request: Request) -> Response:
    """Ask a visitor for the code."""
    return page("join.html.jinja", wrong=False, code=request.query_params.get("code", "")[:20])


@router.post("/join")
def join(request: Request, code: Words) -> Response:
    """Let a visitor in who has the code; only so many tries a minute, of right ones rather more."""
    state = request.app.state
    address = request.client.host if request.client else "unknown"
    allowed = state.tries.allows(address, counted=False) and state.joins.allows(address)
    token = joined(state.settings, state.store, code) if allowed else None
    if token is None:
        state.tries.allows(address)
        return page("join.html.jinja", 403 if allowed else 429, wrong=True, code="")
    answer = RedirectResponse("/", 303)
    answer.set_cookie(COOKIE, token, max_age=STAY, httponly=True, samesite="strict")
    return answer
