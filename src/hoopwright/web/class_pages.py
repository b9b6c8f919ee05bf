"""The class page: households as a table, one order for all, and every sheet to print."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import tomlkit
from fastapi import APIRouter, HTTPException, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import RedirectResponse, Response

from hoopwright.programme.class_file import ClassError, class_in
from hoopwright.store import Saved
from hoopwright.web.context import AtDesk, Desk, page, slug
from hoopwright.web.households import (
    COLUMNS,
    OTHER,
    ClassForm,
    FormError,
    HouseholdRow,
    as_planned,
    class_text,
    form_of,
    pasted,
    whole_class,
)
from hoopwright.web.take import attachment
from hoopwright.web.work_pages import job_shown

router = APIRouter(include_in_schema=False)

#: Empty rows under those that are filled.
SPARE_ROWS = 3


@router.get("/plans/{plan}/class")
def class_page(at: AtDesk, plan: str) -> Response:
    """Show the class planned from a plan."""
    saved = at.plans.get(plan)
    return _shown(at, saved, form_of(at.store.classes.of(plan)))


@router.post("/plans/{plan}/class")
async def keep_class(request: Request, at: AtDesk, plan: str) -> Response:
    """Keep the households as the form has them; nothing is kept where a bed cannot be read."""
    form = await request.form(max_fields=2000, max_files=0)
    given = {key: [str(value) for value in form.getlist(key)] for key in form}
    return await run_in_threadpool(_kept, at, plan, given)


def _kept(at: Desk, plan: str, given: Mapping[str, list[str]]) -> Response:
    saved, form = at.plans.get(plan), _form(given)
    try:
        form = replace(form, rows=(*form.rows, *pasted((given.get("pasted") or [""])[-1])))
        text = class_text(form)
        class_in(
            whole_class(saved.text, text),
            Path(f"{slug(saved.name)}-class"),
            at.plans.own(saved.text),
        )
    except FormError as error:
        return _shown(at, saved, form, (str(error),))
    except ClassError as error:
        return _shown(at, saved, form, tuple(str(one) for one in error.problems[:12]))
    at.store.classes.put(at.owner, plan, text)
    return RedirectResponse(f"/plans/{plan}/class", 303)


def _form(given: Mapping[str, list[str]]) -> ClassForm:
    """Return what a form says; rows stand in the order of their fields."""

    def column(key: str) -> list[str]:
        return [cell.strip()[:200] for cell in given.get(key, [])]

    names, others = column("household"), column("other")
    cells = [column(key) for key in COLUMNS]
    rows = (
        HouseholdRow(name, tuple(own), other)
        for name, other, *own in zip(names, others, *cells, strict=False)
    )
    one = {key: (given.get(key) or [""])[-1][:4000] for key in ("budget", "day", "out_of_stock")}
    return ClassForm(tuple(row for row in rows if not row.empty), **one)


def _shown(at: Desk, saved: Saved, form: ClassForm, problems: tuple[str, ...] = ()) -> Response:
    spare = (HouseholdRow("", ("",) * len(COLUMNS)),) * SPARE_ROWS
    return page(
        "class.html.jinja",
        422 if problems else 200,
        saved=saved,
        form=form,
        rows=(*form.rows, *spare),
        columns=COLUMNS,
        usual=as_planned(saved.text),
        other=OTHER,
        problems=problems,
        shown=job_shown(at, saved, "class"),
    )


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
