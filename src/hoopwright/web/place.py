"""The page of a plan's place: its monthly means, and the skyline seen from the bed."""

from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import RedirectResponse, Response

from hoopwright.frozen import dataclass
from hoopwright.plan.read import PlanError
from hoopwright.store import Saved
from hoopwright.units import MONTH_NAMES
from hoopwright.web.choices import PlanField, Value, choices, values_in
from hoopwright.web.context import AtDesk, Desk, Given, form_of, page
from hoopwright.web.editing import edited
from hoopwright.web.months import SECTION, Cells, cells_in, columns, filled
from hoopwright.web.saved import submitted
from hoopwright.web.skyline import SkylineRow, rows_shown, skyline_given, skyline_set

router = APIRouter(include_in_schema=False)

#: Choices of the workbench that the monthly means need.
FIELDS = ("site.weather", "site.latitude", "site.longitude", "site.elevation")

STALE = "The plan has changed since this page was opened; here it is as it stands now."

Form = Annotated[Given, form_of(400, longest=200)]


@dataclass(frozen=True)
class Entered:
    """What a person entered and why it was not taken.

    refused : problems of choices by key; cells : of cells by (column, month)
    """

    values: Mapping[str, Value] = field(default_factory=dict)
    months: Mapping[str, Cells] = field(default_factory=dict)
    rows: Sequence[SkylineRow] = ()
    refused: Mapping[str, str] = field(default_factory=dict)
    cells: Mapping[tuple[str, int], str] = field(default_factory=dict)
    problems: tuple[str, ...] = ()
    #: Which form: months or skyline, "" where neither was sent.
    form: str = ""


def _shown(at: Desk, saved: Saved, entered: Entered, done: str = "") -> Response:
    values = values_in(saved.text)
    metric = values["units"] == "metric"
    fields: list[tuple[PlanField, Value]] = [
        (choices(metric)[key], entered.values.get(key, values[key])) for key in FIELDS
    ]
    return page(
        "place.html.jinja",
        422 if entered.form else 200,
        saved=saved,
        months=MONTH_NAMES,
        columns=columns(metric),
        cells=entered.months or cells_in(saved.text, metric),
        fields=fields,
        rows=entered.rows or rows_shown(saved.text),
        entered=entered,
        done=done,
        own=at.store.weathers.of(saved.id),
    )


@router.get("/plans/{plan}/place")
def place(at: AtDesk, plan: str, done: Annotated[str, Query(max_length=20)] = "") -> Response:
    """Show the monthly means and the skyline."""
    return _shown(at, at.plans.get(plan), Entered(), done)


@router.post("/plans/{plan}/place/months")
def months(at: AtDesk, plan: str, form: Form) -> Response:
    """Put the monthly means as entered; all of them or none."""
    saved = at.plans.get(plan)
    metric = values_in(saved.text)["units"] == "metric"
    given = {column.name: _cells(form, column.name) for column in columns(metric)}
    if _stale(form, saved):
        return _shown(at, saved, Entered(problems=(STALE,), form="months"))
    changes = {key: new for key, new in submitted(form, saved.text).items() if key in FIELDS}
    refused, cells, problems = dict[str, str](), dict[tuple[str, int], str](), list[str]()
    try:
        text, cells = filled(saved.text, given, metric)
        # Where they are from last: with the means in place, the word normals can be read.
        text = edited(text, changes)
        if not cells:
            at.plans.put(saved, text, "Monthly means")
    except PlanError as error:
        for problem in error.problems:
            if problem.key in FIELDS:
                refused[problem.key] = problem.says
            else:
                problems.append(f"{_named(problem.key)} {problem.says}".strip())
    if not (refused or cells or problems):
        return RedirectResponse(f"/plans/{plan}/place?done=months", 303)
    entered = Entered(changes, given, (), refused, cells, tuple(problems[:10]), "months")
    return _shown(at, saved, entered)


def _stale(form: Given, saved: Saved) -> bool:
    """Return whether a form was filled from another revision than the present one."""
    return (form.get("base") or [saved.stamp])[-1] != saved.stamp


def _named(key: str) -> str:
    """Return what a key is called on the page."""
    labels = {f"{SECTION}.{column.name}": column.label for column in columns(False)}
    return labels.get(key, "The table" if key == SECTION else key)


def _cells(form: Given, name: str) -> Cells:
    return tuple((form.get(f"{name}.{month}") or [""])[-1].strip() for month in range(12))


@router.post("/plans/{plan}/place/skyline")
def skyline(at: AtDesk, plan: str, form: Form) -> Response:
    """Put the skyline as entered, a row more or less; all of it or nothing."""
    saved = at.plans.get(plan)
    if _stale(form, saved):
        return _shown(at, saved, Entered(problems=(STALE,), form="skyline"))
    rows, problems = skyline_given(form), list[str]()
    text, judged = skyline_set(saved.text, rows)
    if not any(row.problems for row in judged):
        try:
            at.plans.put(saved, text, "Skyline")
            return RedirectResponse(f"/plans/{plan}/place?done=skyline#skyline", 303)
        except PlanError as error:
            problems = [str(problem) for problem in error.problems]
    entered = Entered(rows=judged, problems=tuple(problems[:10]), form="skyline")
    return _shown(at, saved, entered)
