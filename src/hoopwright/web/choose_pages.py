"""The choose page: plans side by side, better and worse; a search for the few that none beats."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated

from fastapi import APIRouter, Form, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.short import answers
from hoopwright.frozen import dataclass
from hoopwright.store import Saved
from hoopwright.web.beside import MOST_BESIDE, WISHES, beside_in
from hoopwright.web.choices import PlanField, Value, choices, sets_as_written, values_in
from hoopwright.web.choose_work import wish_of
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.saved import Changed
from hoopwright.web.season_pages import season_state
from hoopwright.web.work_pages import job_shown, start

router = APIRouter(include_in_schema=False)

Words = Annotated[str, Form(max_length=60)]


@dataclass(frozen=True)
class ComparedRow:
    """One line of the comparison: a label, a value for each plan, which differ from the first."""

    label: str
    values: tuple[str, ...]

    @property
    def differs(self) -> tuple[bool, ...]:
        """Return for each value whether it differs from the first plan's."""
        return tuple(value != self.values[0] for value in self.values)


@router.post("/plans/{plan}/variant")
def variant(at: AtDesk, plan: str) -> Response:
    """Copy a plan to try something else, and open the copy; each is held beside the other."""
    copy = at.plans.variant(plan).id
    _beside(at, plan, copy)
    _beside(at, copy, plan)
    return RedirectResponse(f"/plans/{copy}", 303)


def _beside(at: Desk, plan: str, other: str) -> None:
    """Hold a plan beside another, before those that are held there already."""
    held = beside_in(at.plans.get(plan).looking)
    chosen = [other, *(one for one in held if one != other)][:MOST_BESIDE]
    at.store.plans.look(at.owner, plan, {"beside": chosen})


@router.post("/plans/{plan}/delete")
def delete(at: AtDesk, plan: str) -> Response:
    """Delete a plan."""
    at.store.plans.forget(at.owner, plan)
    return RedirectResponse("/", 303)


@router.get("/plans/{plan}/choose")
def choose(at: AtDesk, plan: str) -> Response:
    """Show a plan and others beside it, and what a search found."""
    return _shown(at, at.plans.get(plan))


def _shown(
    at: Desk,
    saved: Saved,
    wrong: Mapping[str, str] = MappingProxyType({}),
    wishes: Mapping[str, str] | None = None,
) -> Response:
    others = [one for one in at.store.plans.all(at.owner) if one.id != saved.id]
    known = {one.id for one in others}
    chosen = [one for one in beside_in(saved.looking) if one in known]
    opened = [at.plans.open(one) for one in dict.fromkeys([saved.id, *chosen])]
    held = saved.looking.get("wishes")
    # Unless told otherwise a search holds to the place's gust.
    usual = {"hold": str(values_in(saved.text)["site.gust"])}
    asked = wishes or (held if isinstance(held, dict) else usual)
    return page(
        "choose.html.jinja",
        422 if wrong else 200,
        saved=saved,
        opened=[(one.saved, _drawn(one)) for one in opened],
        answers=_answers(at, opened),
        choices=_choices(opened),
        others=others,
        chosen=chosen,
        most=MOST_BESIDE,
        compared=job_shown(at, saved, "compared"),
        searched=job_shown(at, saved, "choose"),
        wishes={key: str(asked.get(key, "")) for key in WISHES},
        wrong=wrong,
    )


@router.post("/plans/{plan}/choose/beside")
def put_beside(
    request: Request,
    at: AtDesk,
    plan: str,
    beside: Annotated[list[str], Form()] = [],  # noqa: B006
) -> Response:
    """Hold other plans beside this one, and weigh all of them."""
    at.plans.get(plan)
    chosen = list(dict.fromkeys(beside))[:MOST_BESIDE]
    at.store.plans.look(at.owner, plan, {"beside": chosen})
    if chosen:
        start(request, at, plan, "compared")
    return RedirectResponse(f"/plans/{plan}/choose", 303)


@router.post("/plans/{plan}/choose/search")
def search(
    request: Request,
    at: AtDesk,
    plan: str,
    hold: Words = "",
    cost: Words = "",
    days: Words = "",
    height: Words = "",
) -> Response:
    """Search for the designs that none beats and that hold to what is asked."""
    saved = at.plans.get(plan)
    wishes = {"hold": hold, "cost": cost, "days": days, "height": height}
    _, wrong = wish_of(wishes)
    if wrong:
        return _shown(at, saved, wrong, wishes)
    at.store.plans.look(at.owner, plan, {"wishes": wishes})
    start(request, at, plan, "choose")
    return RedirectResponse(f"/plans/{plan}/choose#search-title", 303)


@router.post("/plans/{plan}/choose/{number}")
def take(at: AtDesk, plan: str, number: int, beside: Words = "") -> Response:
    """Make the plan a design that was found, to be undone; or a copy of it, held beside."""
    opened = at.plans.open(plan)
    listed = (job_shown(at, opened.saved, "choose").result or {}).get("few", [])
    if not 1 <= number <= len(listed):
        raise HTTPException(409, "The plan has changed since; search anew.")
    sets = sets_as_written(listed[number - 1]["sets"], opened.worked.design.system)
    target = at.plans.variant(plan).id if beside else plan
    refused = at.plans.change(target, sets).refused
    if refused:
        raise HTTPException(409, "; ".join(refused.values()))
    if not beside:
        return RedirectResponse(f"/plans/{plan}", 303)
    _beside(at, plan, target)
    return RedirectResponse(f"/plans/{plan}/choose", 303)


def _drawn(one: Changed) -> str:
    """Return the end elevation, its ids made its own, for several share the page."""
    svg = picture(one.worked.design, Looking("end")).svg
    return svg.replace('id="', f'id="of-{one.saved.id}-').replace(
        'aria-labelledby="end-title end-desc"',
        f'aria-labelledby="of-{one.saved.id}-end-title of-{one.saved.id}-end-desc"',
    )


def _answers(at: Desk, opened: list[Changed]) -> list[ComparedRow]:
    told = [answers(one.worked.design, season_state(at, one.saved)) for one in opened]
    return [
        ComparedRow(same[0].title, tuple(answer.short for answer in same))
        for same in zip(*told, strict=True)
    ]


def _choices(opened: list[Changed]) -> list[ComparedRow]:
    """Return the choices in which any plan differs from the first."""
    held = [values_in(one.saved.text) for one in opened]
    rows = [
        ComparedRow(choice.label, tuple(_said(choice, values[key]) for values in held))
        for key, choice in choices().items()
        if key != "name"
    ]
    return [row for row in rows if any(row.differs)]


def _said(choice: PlanField, value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    names = {option.value: option.label for option in choice.options}
    return names.get(value, value) or "as usual"
