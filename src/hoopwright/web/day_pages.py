"""A day at the bed, hour by hour: numbers for the scene's slider, and the same as a table."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse, Response

from hoopwright.store import Saved
from hoopwright.units import MONTH_NAMES
from hoopwright.web.context import AtDesk, Desk, page
from hoopwright.web.work_pages import key_of_work
from hoopwright.web.work_queue import files_beside

router = APIRouter(include_in_schema=False)

#: Seconds that the year may take: some three with the plain march on a machine at rest.
PATIENCE = 60.0


def _days(at: Desk, saved: Saved) -> dict[str, Any]:
    """Return the days of a plan, worked out once and kept."""
    key = f"{key_of_work(at, saved, 'season')} days"
    held: dict[str, Any] | None = at.store.results.get(key)
    if held is None:
        beside = files_beside(at.store, at.owner, saved.id, saved.text)
        held = at.processes.ask("days", saved.text, beside, seconds=PATIENCE)
        at.store.results.keep(key, "days", held)
    return held


@router.get("/plans/{plan}/days")
def days(at: AtDesk, plan: str) -> Response:
    """Return a clear and a cloudy day of each month for the scene."""
    return JSONResponse(_days(at, at.plans.get(plan)))


@router.get("/plans/{plan}/hours")
def hours(
    at: AtDesk,
    plan: str,
    month: Annotated[int, Query(ge=1, le=12)] = 6,
    sky: Literal["clear", "cloudy"] = "clear",
) -> Response:
    """Show one day as a table."""
    saved = at.plans.get(plan)
    found = _days(at, saved)
    wanted = (month, sky == "cloudy")
    shown = next(d for d in found["days"] if (d["month"], d["cloudy"]) == wanted)
    told: dict[str, Any] = {"saved": saved, "months": MONTH_NAMES, "month": month, "sky": sky}
    return page("hours.html.jinja", **told, found=found, day=shown)
