"""Variants side by side, their differences marked."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.short import answers
from hoopwright.frozen import dataclass
from hoopwright.web.choices import PlanField, Value, choices, values_in
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.saved import Changed
from hoopwright.web.season_pages import season_state

router = APIRouter(include_in_schema=False)

#: Most plans side by side.
MOST = 4


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
    """Copy a plan to try something else, and open the copy."""
    return RedirectResponse(f"/plans/{at.plans.variant(plan).id}", 303)


@router.post("/plans/{plan}/delete")
def delete(at: AtDesk, plan: str) -> Response:
    """Delete a plan."""
    at.store.plans.forget(at.owner, plan)
    return RedirectResponse("/", 303)


@router.get("/plans/{plan}/variants")
def variants(
    at: AtDesk, plan: str, beside: Annotated[tuple[str, ...], Query(max_length=MOST)] = ()
) -> Response:
    """Show a plan and others beside it."""
    saved = at.plans.get(plan)
    family = [one for one in at.store.plans.all(at.owner, saved.family) if one.id != plan]
    chosen = beside or tuple(one.id for one in family[: MOST - 1])
    opened = [at.plans.open(one) for one in dict.fromkeys([plan, *chosen][:MOST])]
    others = [one for one in at.store.plans.all(at.owner) if one.id != plan]
    return page(
        "variants.html.jinja",
        saved=saved,
        opened=[(one.saved, _drawn(one)) for one in opened],
        answers=_answers(at, opened),
        choices=_choices(opened),
        others=others,
        chosen=chosen,
    )


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
