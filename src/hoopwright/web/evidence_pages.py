"""The evidence page: loggers' files, how each was read, what they show, and a page for a funder."""

import base64
import hashlib
from typing import Annotated, Any

from fastapi import APIRouter, File, HTTPException, UploadFile
from fastapi.responses import RedirectResponse, Response

from hoopwright.caching import program_print
from hoopwright.programme.variants import with_keys
from hoopwright.store import LoggerFile, Saved
from hoopwright.store.results import key_of
from hoopwright.web.context import AtDesk, Desk, Words, page
from hoopwright.web.loggers import SaidOfFile, clocks, columns_to_choose, said_in, zone_of
from hoopwright.web.take import attachment
from hoopwright.web.work_pages import job_shown

router = APIRouter(include_in_schema=False)

#: Seconds that reading one file may take: the largest takes some 6 s of one core.
READING = 60.0


@router.get("/plans/{plan}/evidence")
def evidence(at: AtDesk, plan: str) -> Response:
    """Show the loggers' files of a plan and what they show."""
    return _shown(at, at.plans.get(plan))


def _shown(at: Desk, saved: Saved, problems: tuple[str, ...] = ()) -> Response:
    site = at.plans.read(saved.text).plan.site
    files = [
        {"held": one, "said": said_in(one.about), "told": _described(at, saved, one)}
        for one in at.store.readings.of(saved.id)
    ]
    return page(
        "evidence.html.jinja",
        422 if problems else 200,
        saved=saved,
        files=files,
        ready=bool(files) and not any(one["told"].get("questions", True) for one in files),
        problems=problems,
        clocks=clocks(zone_of(site.latitude, site.longitude)),
        choose=columns_to_choose,
        shown=job_shown(at, saved, "evidence"),
    )


def _described(at: Desk, saved: Saved, one: LoggerFile, body: bytes | None = None) -> Any:
    """Return how a file is read, in words, worked out once."""
    site = at.plans.read(saved.text).plan.site
    place = f"{site.latitude} {site.longitude}"
    key = key_of("logger", program_print(), one.digest, one.name, one.about, place)
    told = at.store.results.get(key)
    if told is None:
        body = at.store.readings.body(saved.id, one.digest) if body is None else body
        where = (site.latitude, site.longitude)
        told = at.processes.ask("logger", one.name, body or b"", one.about, *where, seconds=READING)
        at.store.results.keep(key, "logger", told)
    return told


@router.post("/plans/{plan}/evidence")
def bring(at: AtDesk, plan: str, file: Annotated[list[UploadFile], File()]) -> Response:
    """Take loggers' files, each once it can be read; nothing is guessed that it does not say."""
    saved, problems = at.plans.get(plan), []
    sent = [(one.filename or "log.csv", one.file.read()) for one in file]
    for name, body in sent:
        if not name and not body:
            continue
        said = SaidOfFile().text()
        told = _described(
            at, saved, LoggerFile(name[:80], said, hashlib.sha256(body).hexdigest()), body
        )
        if "problem" in told:
            problems.append(told["problem"])
        else:
            at.store.readings.put(at.owner, plan, name[:80], said, body)
    if problems:
        return _shown(at, saved, tuple(problems))
    return RedirectResponse(f"/plans/{plan}/evidence", 303)


@router.post("/plans/{plan}/evidence/{digest}")
def read_so(
    at: AtDesk,
    plan: str,
    digest: str,
    inside: Words = "",
    outside: Words = "",
    unit: Words = "",
    dates: Words = "",
    clock: Words = "",
) -> Response:
    """Read a file as is said, and take it as confirmed; nothing changes where it cannot be."""
    saved = at.plans.get(plan)
    held = next((one for one in at.store.readings.of(plan) if one.digest == digest), None)
    if held is None:
        raise HTTPException(404, "no such file is kept with this plan")
    said = SaidOfFile(inside, outside, unit, dates, clock, "yes").text()
    told = _described(at, saved, LoggerFile(held.name, said, digest))
    if "problem" in told:
        return _shown(at, saved, (told["problem"],))
    at.store.readings.tell(at.owner, plan, digest, said)
    return RedirectResponse(f"/plans/{plan}/evidence", 303)


@router.post("/plans/{plan}/evidence/{digest}/forget")
def forget(at: AtDesk, plan: str, digest: str) -> Response:
    """Remove a file."""
    at.store.readings.forget(at.owner, plan, digest)
    return RedirectResponse(f"/plans/{plan}/evidence", 303)


@router.post("/plans/{plan}/evidence/adopt/fitted")
def adopt(at: AtDesk, plan: str) -> Response:
    """Keep the fitted numbers for this bed, as a change that can be undone."""
    saved = at.plans.get(plan)
    sets = _result(at, saved).get("sets")
    if not sets:
        raise HTTPException(409, "The fitted numbers do no better than the table's; none is kept.")
    at.plans.put(saved, with_keys(saved.text, sets), "leak, light and soil water as measured")
    return RedirectResponse(f"/plans/{plan}/evidence", 303)


@router.get("/plans/{plan}/evidence/page.pdf")
def funders_page(at: AtDesk, plan: str) -> Response:
    """Return the page for a board or a funder, to print."""
    saved = at.plans.get(plan)
    return attachment(saved, "evidence", "pdf", base64.b64decode(_result(at, saved)["pdf"]))


def _result(at: Desk, saved: Saved) -> Any:
    result = job_shown(at, saved, "evidence").result
    if result is None:
        raise HTTPException(409, "The readings are not worked out as they stand; do that first.")
    return result
