"""The first page: five questions, an example, a file, what was saved; and joining."""

import datetime
import re
from dataclasses import replace
from typing import Annotated, Any

from fastapi import APIRouter, Depends, File, Form, Request, UploadFile
from fastapi.responses import RedirectResponse, Response

from hoopwright.design import design_of
from hoopwright.plan.read import PlanError, Problem
from hoopwright.site.places import MOST, places_like
from hoopwright.units import MONTH_NAMES
from hoopwright.web.choices import called, choices
from hoopwright.web.context import AtDesk, Words, by_htmx, page
from hoopwright.web.editing import edited
from hoopwright.web.five_questions import (
    CROPS,
    TROUBLES,
    WEATHERS,
    Begun,
    begun_plan,
    example_text,
    row_at_hand,
    things_at_hand,
)
from hoopwright.web.own_lists import brought
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.visitors import COOKIE, STAY, joined

router = APIRouter(include_in_schema=False)

#: Words are no words at the size of a thumbnail.
_WORDS = re.compile(r"<text\b.*?</text>", re.DOTALL)
Many = Annotated[list[str], Form()]


#: Key of a plan -> the field of the five questions that answers it.
FIELDS = {
    "bed.length": "length",
    "bed.width": "width",
    "site.name": "place",
    "coordinates": "coordinates",
    "site.latitude": "coordinates",
    "site.longitude": "coordinates",
    "site.elevation": "elevation",
    "site.exposure": "exposure",
    "site.gust": "gust",
}


def _field(key: str) -> str:
    """Return the field that a problem's key comes from, or "" where none is."""
    if key.startswith("stock"):
        return {"item": "item", "count": "count"}.get(key.rpartition(".")[2], "item_length")
    return FIELDS.get(key, "")


def _called(key: str) -> str:
    """Return what a key is called on the page."""
    names = {"item": "Thing", "count": "How many", "item_length": "Length of each"}
    names |= {"coordinates": "Latitude and longitude"}
    return names.get(_field(key), called(key))


def _front(
    at: AtDesk, begun: Begun, problems: tuple[Problem, ...] = (), near: dict[str, Any] | None = None
) -> Response:
    saved = [(one, _day(one.changed)) for one in at.store.plans.all(at.owner)]
    return page(
        "front.html.jinja",
        422 if problems else 200,
        plans=saved,
        begun=begun,
        **(near or _chosen(begun)),
        problems=[(_field(one.key), _called(one.key), one.says) for one in problems],
        troubles=TROUBLES,
        crops=CROPS,
        things=things_at_hand(),
        exposure=choices()["site.exposure"],
        weathers=WEATHERS,
        lan=at.settings.lan,
    )


def _day(changed: float) -> str:
    when = datetime.date.fromtimestamp(changed)
    return f"{when.day} {MONTH_NAMES[when.month - 1][:3]} {when.year}"


def _new_name(at: AtDesk, name: str) -> str:
    """Return a name that no other plan of the owner's has, numbered where it must be."""
    taken = {one.name for one in at.store.plans.all(at.owner)}
    number = 1
    while (found := name if number == 1 else f"{name} ({number})") in taken:
        number += 1
    return found


@router.get("/")
def front(at: AtDesk) -> Response:
    """Show the first page."""
    return _front(at, Begun())


def _answers(
    length: Words = "",
    width: Words = "",
    name: Words = "",
    place: Words = "",
    found: Words = "",
    coordinates: Words = "",
    elevation: Words = "",
    weather: Words = "demo",
    exposure: Words = "open",
    gust: Words = "",
    trouble: Many = [],  # noqa: B006
    crops: Words = "middle",
    item: Words = "",
    item_length: Words = "",
    count: Words = "",
    metric: Words = "",
) -> Begun:
    """Return the answers to the five questions as a form has them."""
    rows = (row_at_hand(item, item_length, "", count),) if item else ()
    where = (place, found, coordinates, elevation, weather, exposure, gust)
    return Begun(length, width, *where, tuple(trouble), crops, rows, bool(metric), name)


Answers = Annotated[Begun, Depends(_answers)]


@router.post("/plans")
def begin(at: AtDesk, given: Answers) -> Response:
    """Begin a plan from the answers to the five questions."""
    called = f"{given.name or given.place or 'Bed'}, {given.length} by {given.width}"
    begun = replace(given, name=_new_name(at, called[:70]))
    try:
        saved = at.plans.add(begun_plan(begun, lambda text: at.plans.design(text).design))
    except PlanError as error:
        return _front(at, begun, error.problems)
    # Weather of one's own has its page, and that comes next.
    then = {"file": "/season#weather-title", "normals": "/place"}.get(given.weather, "")
    return RedirectResponse(f"/plans/{saved.id}{then}", 303)


@router.post("/places")
def places(request: Request, at: AtDesk, given: Answers) -> Response:
    """Show the places that a name is of, to choose one: the list alone, or the page around it."""
    near = places_like(given.place[:80])[0]
    shown = [(f"{one.coordinates}: {one.words}", one) for one in near[:MOST]]
    found: dict[str, Any] = {
        "named": shown,
        "more": len(near) > MOST,
        "asked": len(given.place.strip()) > 1,
        "whole": not by_htmx(request),
    }
    if not found["whole"]:
        return page("found.html.jinja", begun=given, **found)
    return _front(at, given, near=found)


def _chosen(begun: Begun) -> dict[str, Any]:
    """Return the place chosen before, to stand on a page that is shown anew."""
    where, _, words = begun.found.partition(": ")
    shown = [(begun.found, {"words": words, "coordinates": where})] if words else []
    return {"named": shown, "more": False, "asked": False, "whole": False}


@router.post("/plans/example")
def example(at: AtDesk) -> Response:
    """Begin from the example."""
    text = example_text()
    name = _new_name(at, at.plans.read(text).plan.name)
    return RedirectResponse(f"/plans/{at.plans.add(edited(text, {'name': name})).id}", 303)


@router.get("/plans/{plan}/thumbnail.svg")
def thumbnail(at: AtDesk, plan: str) -> Response:
    """Return a small picture of a plan's bed, without words."""
    design = design_of(at.plans.read(at.plans.get(plan).text))
    svg = _WORDS.sub("", picture(design, Looking("bed")).svg)
    return Response(svg, media_type="image/svg+xml")


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
