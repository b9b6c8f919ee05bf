"""The class page: households as a table, one order for all, and every sheet to print."""

import base64
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import tomlkit
from fastapi import APIRouter, HTTPException
from fastapi.responses import RedirectResponse, Response

from hoopwright.programme.class_file import ClassError, class_in, letter_of
from hoopwright.store import Saved
from hoopwright.web.choices import FieldGroup, PlanField, Value, values_in
from hoopwright.web.context import AtDesk, Desk, Given, form_of, page, slug
from hoopwright.web.five_questions import things_at_hand
from hoopwright.web.households import (
    COLUMNS,
    MISSING,
    ClassForm,
    FormError,
    HouseholdRow,
    class_text,
    kept_form,
    pasted,
    whole_class,
)
from hoopwright.web.take import attachment
from hoopwright.web.work_pages import job_shown
from hoopwright.web.workbench import offered

router = APIRouter(include_in_schema=False)

#: Empty rows under those that are filled: of households, of what is out of stock.
SPARE_ROWS, SPARE_MISSING = 3, 2
#: Before the number of a row and the key of what else differs in it, in the name of a field.
DIFFERS = "differs"


@router.get("/plans/{plan}/class")
def class_page(at: AtDesk, plan: str) -> Response:
    """Show the class planned from a plan."""
    saved = at.plans.get(plan)
    return _shown(at, saved, kept_form(at.store.classes.of(plan)))


@router.post("/plans/{plan}/class")
def keep_class(at: AtDesk, plan: str, given: Annotated[Given, form_of(2000)]) -> Response:
    """Keep the households as the form has them; nothing is kept where a bed cannot be read.

    Where one more difference is asked for, the form comes back with a field for it.
    """
    saved, rows = at.plans.get(plan), (given.get("pasted") or [""])[-1]
    form = _form(given)
    if "add" in given:
        return _shown(at, saved, form, text=rows)
    try:
        form, rows = replace(form, rows=(*form.rows, *pasted(rows))), ""
        text = class_text(form)
        class_in(
            whole_class(saved.text, text),
            Path(f"{slug(saved.name)}-class"),
            at.plans.own(saved.text),
        )
    except FormError as error:
        return _shown(at, saved, form, (str(error),), rows)
    except ClassError as error:
        return _shown(at, saved, form, tuple(str(one) for one in error.problems[:12]))
    at.store.classes.put(at.owner, plan, text)
    return RedirectResponse(f"/plans/{plan}/class", 303)


def _form(given: Given) -> ClassForm:
    """Return what a form says; rows stand in the order of their fields.

    A difference that says nothing is left out, but for the one that is asked for.
    """

    def column(key: str) -> list[str]:
        return [cell.strip()[:200] for cell in given.get(key, [])]

    differ: dict[int, dict[str, str]] = {}
    for name in given:
        kind, _, rest = name.partition("-")
        number, _, key = rest.partition("-")
        if kind == DIFFERS and number.isdecimal() and column(name)[-1]:
            differ.setdefault(int(number), {})[key] = column(name)[-1]
    if "add" in given:
        number, key = ((given.get(name) or ["1"])[-1] for name in ("of", "what"))
        differ.setdefault(int(number) if number.isdecimal() else 1, {}).setdefault(key, "")
    cells = [column(key) for key in COLUMNS]
    rows = (
        HouseholdRow(name, tuple(own), tuple(differ.get(number, {}).items()))
        for number, (name, *own) in enumerate(
            zip(column("household"), *cells, strict=False), start=1
        )
    )
    missing = zip(*(column(f"missing_{key}") for key in MISSING), strict=False)
    one = {key: (given.get(key) or [""])[-1][:40] for key in ("budget", "day")}
    return ClassForm(
        tuple(row for row in rows if not row.empty),
        **one,
        missing=tuple(cells for cells in missing if cells[0]),
    )


def _shown(
    at: Desk, saved: Saved, form: ClassForm, problems: tuple[str, ...] = (), text: str = ""
) -> Response:
    """Show the page. text : pasted and not read yet"""
    read, usual = at.plans.read(saved.text), values_in(saved.text)
    groups = offered(at, read)
    fields = {one.key: one for group in groups for one in group.choices if "." in one.key}
    return page(
        "class.html.jinja",
        422 if problems else 200,
        saved=saved,
        form=form,
        rows=(*form.rows, *((HouseholdRow(),) * SPARE_ROWS)),
        letters=[letter_of(number) for number in range(len(form.rows) + SPARE_ROWS)],
        missing=(*form.missing, *((("",) * len(MISSING),) * SPARE_MISSING)),
        columns=COLUMNS,
        groups=_of_one_bed(groups),
        fields=fields,
        usual={key: _in_words(one, usual[key]) for key, one in fields.items()},
        things=things_at_hand(read.catalogue),
        problems=problems,
        pasted=text,
        shown=job_shown(at, saved, "class"),
    )


def _of_one_bed(groups: tuple[FieldGroup, ...]) -> list[tuple[str, list[PlanField]]]:
    """Return what beds of a class may differ in besides the columns, by section."""
    differ = [
        (group.title, [one for one in group.choices if "." in one.key and one.key not in COLUMNS])
        for group in groups
    ]
    return [(title, some) for title, some in differ if some]


def _in_words(choice: PlanField, value: Value) -> str:
    """Return a value of the plan as its form says it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    held = value if isinstance(value, tuple) else (value,)
    named = {one.value: one.label for one in choice.options}
    return ", ".join(named.get(one, one) for one in held) or "as usual"


@router.get("/plans/{plan}/class/sheets.zip")
def sheets(at: AtDesk, plan: str) -> Response:
    """Return the order, the cutting station, every kit and the labels of a class worked out."""
    saved = at.plans.get(plan)
    result = job_shown(at, saved, "class").result
    if result is None:
        raise HTTPException(409, "This class is not worked out as it stands; do that first.")
    return attachment(saved, "class", "zip", base64.b64decode(result["zip"]))


@router.get("/plans/{plan}/class/class.toml")
def class_file(at: AtDesk, plan: str) -> Response:
    """Return the class as the command line reads it."""
    saved = at.plans.get(plan)
    text = at.store.classes.of(plan)
    if text is None:
        raise HTTPException(404, "No class is planned from this plan yet.")
    return attachment(saved, "class", "toml", tomlkit.dumps(whole_class(saved.text, text)))
