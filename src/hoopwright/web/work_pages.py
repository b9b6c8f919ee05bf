"""Long work on the page: begun, watched, cancelled."""

from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.season_kept import FIRST_USE
from hoopwright.frozen import dataclass
from hoopwright.heat.compiled import compiled_before
from hoopwright.store import Job, Saved
from hoopwright.web.choices import sets_as_written
from hoopwright.web.context import AtDesk, Desk, by_htmx, page
from hoopwright.web.pace import time_told
from hoopwright.web.work_kinds import KINDS, WorkKind
from hoopwright.web.work_queue import files_beside

router = APIRouter(include_in_schema=False)

#: Page of a kind of work, for a browser without scripts, where it is not called as the kind is.
_PAGES = {"changes": "limits", "compared": "choose"}


@dataclass(frozen=True)
class ShownWork:
    """A kind of work on a plan as the page shows it: its last job on this text, its result.

    took : seconds that the last work of the kind took here, of whichever plan
    """

    kind: WorkKind
    saved: Saved
    job: Job | None
    result: Any | None
    took: float | None

    @property
    def takes(self) -> str:
        """Return how long it will take, as far as is known."""
        if self.kind.compiles and not compiled_before():
            return FIRST_USE
        return "" if self.took is None else f"The last time it took {time_told(self.took)} here."


def job_shown(at: Desk, saved: Saved, kind: str) -> ShownWork:
    """Return how a kind of work on a plan stands; a result for another text is not shown."""
    made, key = KINDS[kind], key_of_work(at, saved, kind)
    result = at.store.results.get(key)
    job = at.store.jobs.latest(at.owner, saved.id, kind)
    took = at.store.results.get(f"{kind} took")
    own = job if job is not None and job.key == key else None
    return ShownWork(made, saved, own, result, took)


def key_of_work(at: Desk, saved: Saved, kind: str) -> str:
    """Return under which key the result of a kind of work on a plan is kept."""
    made, held = KINDS[kind], at.store.weathers.of(saved.id)
    given = (at.store, at.owner, saved.id, saved.text, made.rests_on)
    beside = files_beside(*given, bodies=False)
    plan = at.designs.design(saved.text, beside.own).plan
    return made.key(plan, beside.own, held.digest if held else "", beside.rest(made.rests_on))


def _kind(kind: str) -> WorkKind:
    if kind not in KINDS:
        raise HTTPException(404, f"no work is called {kind[:40]}; one of {', '.join(KINDS)}")
    return KINDS[kind]


@router.get("/plans/{plan}/work/{kind}")
def watch(at: AtDesk, plan: str, kind: str) -> Response:
    """Show how far a job is; the page asks again until it is over."""
    _kind(kind)
    return page("job.html.jinja", shown=job_shown(at, at.plans.get(plan), kind))


@router.post("/plans/{plan}/work/{kind}")
def start(request: Request, at: AtDesk, plan: str, kind: str) -> Response:
    """Start a job on the plan as it stands."""
    _kind(kind)
    saved = at.plans.get(plan)
    at.queue.start(at.owner, plan, kind, key_of_work(at, saved, kind), saved.text)
    return _shown(request, at, saved, kind)


@router.post("/plans/{plan}/work/{kind}/cancel")
def cancel(request: Request, at: AtDesk, plan: str, kind: str) -> Response:
    """Cancel the last job of a kind."""
    _kind(kind)
    saved = at.plans.get(plan)
    at.queue.cancel(at.owner, plan, kind)
    return _shown(request, at, saved, kind)


@router.get("/plans/{plan}/next")
def next_step(at: AtDesk, plan: str) -> Response:
    """Show the change that helps most for its cost, or how far the search for it is."""
    return page("next.html.jinja", shown=job_shown(at, at.plans.get(plan), "changes"))


@router.post("/plans/{plan}/next")
def find_next_step(request: Request, at: AtDesk, plan: str) -> Response:
    """Start the search for the change that helps most."""
    start(request, at, plan, "changes")
    return next_step(at, plan) if by_htmx(request) else RedirectResponse(f"/plans/{plan}", 303)


@router.post("/plans/{plan}/work/changes/{number}/make")
def make(at: AtDesk, plan: str, number: int) -> Response:
    """Make one of the changes that would help, and show the plan with it."""
    opened = at.plans.open(plan)
    listed = job_shown(at, opened.saved, "changes").result or []
    if not 0 <= number < len(listed):
        raise HTTPException(409, "The plan has changed since; work out anew what would help.")
    system = opened.worked.design.system
    sets = sets_as_written(listed[number]["sets"], system)
    refused = at.plans.change(plan, sets).refused
    if refused:
        raise HTTPException(409, "; ".join(refused.values()))
    return RedirectResponse(f"/plans/{plan}", 303)


def _shown(request: Request, at: Desk, saved: Saved, kind: str) -> Response:
    if by_htmx(request):
        return page("job.html.jinja", shown=job_shown(at, saved, kind))
    return RedirectResponse(f"/plans/{saved.id}/{_PAGES.get(kind, kind)}", 303)
