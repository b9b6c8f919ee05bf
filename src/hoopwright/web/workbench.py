"""The workbench: choices, drawing and answers of one plan, redrawn in place at every change."""

from typing import Annotated, Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from hoopwright.answers.short import answers
from hoopwright.answers.voice import plural
from hoopwright.design import Design
from hoopwright.drawing.odds_chart import GUSTS
from hoopwright.plan import ReadPlan
from hoopwright.plan.rows import with_row, without_row
from hoopwright.programme.changes import Change
from hoopwright.programme.cures import cure
from hoopwright.store import Stale
from hoopwright.units import MONTH_NAMES
from hoopwright.web.beside import names_in
from hoopwright.web.choices import FieldGroup, groups, sets_as_written, values_in, with_own
from hoopwright.web.context import AtDesk, Desk, Given, Words, by_htmx, form_of, page
from hoopwright.web.five_questions import row_at_hand, rows_in, things_at_hand
from hoopwright.web.pictures import LOADED, VIEWS, Looking, charts, picture
from hoopwright.web.saved import Changed, submitted
from hoopwright.web.season_pages import season_state
from hoopwright.web.work_pages import job_shown

router = APIRouter(include_in_schema=False)


@router.get("/plans/{plan}")
def workbench(at: AtDesk, plan: str) -> Response:
    """Show the workbench."""
    return page("workbench.html.jinja", **_all(at, at.plans.open(plan)))


@router.post("/plans/{plan}/choices")
def choose(
    request: Request, at: AtDesk, plan: str, given: Annotated[Given, form_of(400)]
) -> Response:
    """Change what a submitted form changes, and redraw."""
    saved = at.plans.get(plan)
    base = (given.get("base") or [saved.stamp])[-1]
    filled = at.store.plans.text_at(at.owner, plan, base)
    if filled is None:
        raise Stale("the form is of a revision that is no more; nothing was saved. Open it anew.")
    changed = at.plans.change(plan, submitted(given, filled), filled)
    if by_htmx(request):
        before = values_in(filled)
        return page("changed.html.jinja", **_all(at, changed), before=before, given=given)
    return page("workbench.html.jinja", **_all(at, changed))


@router.post("/plans/{plan}/look")
def look(
    at: AtDesk, plan: str, view: Words = "model", gust: Words = "", turn: Words = ""
) -> Response:
    """Draw another view, and remember it."""
    looking = Looking.of({"view": view, "gust": gust, "turn": turn})
    at.store.plans.look(at.owner, plan, vars(looking))
    opened = at.plans.open(plan)
    return page("picture.html.jinja", picture=picture(opened.worked.design, looking))


@router.post("/plans/{plan}/undo")
def undo(request: Request, at: AtDesk, plan: str, to: Words = "") -> Response:
    """Go back one change, and to the page where it was asked."""
    return _stepped(request, at, plan, -1, to)


@router.post("/plans/{plan}/redo")
def redo(request: Request, at: AtDesk, plan: str, to: Words = "") -> Response:
    """Make the change undone last again."""
    return _stepped(request, at, plan, 1, to)


def _stepped(request: Request, at: Desk, plan: str, by: int, to: str) -> Response:
    changed = at.plans.step(plan, by)
    if to == "place":
        return RedirectResponse(f"/plans/{plan}/place", 303)
    return _whole(request, at, changed)


def _whole(request: Request, at: Desk, changed: Changed) -> Response:
    """Return all that a change from outside the form may have changed: choices too."""
    if by_htmx(request):
        return page("redone.html.jinja", **_all(at, changed))
    return RedirectResponse(f"/plans/{changed.saved.id}", 303)


@router.post("/plans/{plan}/cure/{finding}")
def make_cure(request: Request, at: AtDesk, plan: str, finding: str) -> Response:
    """Make the one change that cures a finding."""
    opened = at.plans.open(plan)
    design = opened.worked.design
    change = _cures(design).get(finding)
    if change is None:
        raise HTTPException(409, "The plan has changed since, and this finding with it.")
    sets = sets_as_written(change.sets, design.system)
    return _whole(request, at, at.plans.change(plan, sets))


def _cures(design: Design) -> dict[str, Change]:
    """Return the change that cures each finding that one change cures."""
    found = ((finding.name, cure(design, finding)) for finding in design.findings)
    return {name: change for name, change in found if change is not None}


@router.post("/plans/{plan}/stock")
def add_at_hand(
    request: Request,
    at: AtDesk,
    plan: str,
    item: Words,
    length: Words = "",
    width: Words = "",
    count: Words = "1",
) -> Response:
    """Add a row of things at hand."""
    saved = at.plans.get(plan)
    text = with_row(saved.text, "stock", row_at_hand(item, length, width, count))
    return _whole(request, at, at.plans.put(saved, text, "At hand"))


@router.post("/plans/{plan}/stock/{number}/remove")
def remove_at_hand(request: Request, at: AtDesk, plan: str, number: int) -> Response:
    """Take a row of things at hand away."""
    saved = at.plans.get(plan)
    text = without_row(saved.text, "stock", number)
    return _whole(request, at, at.plans.put(saved, text, "At hand"))


@router.get("/plans/{plan}/limits")
def limits(at: AtDesk, plan: str) -> Response:
    """Show the half minute, the ladder behind it, and what would help."""
    from hoopwright.answers.glance import GUIDANCE, YEARS, glance
    from hoopwright.answers.ladder_words import ladder_words

    opened = at.plans.open(plan)
    design = opened.worked.design
    return page(
        "limits.html.jinja",
        saved=opened.saved,
        read=glance(design),
        years=[plural(number, "year") for number in YEARS],
        guidance=GUIDANCE,
        parts_of=ladder_words(design),
        charts=charts(design),
        shown=job_shown(at, opened.saved, "changes"),
    )


@router.get("/plans/{plan}/limits/why/{rung}")
def why(at: AtDesk, plan: str, rung: str) -> Response:
    """Show what stands behind one figure: what is asked and held, the inputs, the sources."""
    from hoopwright.answers.strength_words import HEADLINES
    from hoopwright.answers.why_words import NoSuchRung, why_words

    opened = at.plans.open(plan)
    try:
        found = why_words(opened.worked.design, rung)
    except NoSuchRung:
        raise HTTPException(
            404, "This bed has no such figure: the plan may have changed."
        ) from None
    what = HEADLINES.get(rung, rung.replace("-", " "))
    return page("why.html.jinja", saved=opened.saved, found=found, what=what)


def offered(at: Desk, read: ReadPlan) -> tuple[FieldGroup, ...]:
    """Return the choices of a plan with what the asker's own lists add to them."""
    lists, named = at.store.lists.all(at.owner), names_in(read.plan)
    metric = read.plan.units == "metric"
    return with_own(groups(metric), read.catalogue, lists, named, read.varieties)


def _all(at: Desk, changed: Changed) -> dict[str, Any]:
    """Return everything that the workbench shows."""
    saved, worked = changed.saved, changed.worked
    looking = Looking.of(saved.looking)
    catalogue = worked.read.catalogue
    return {
        "saved": saved,
        "groups": offered(at, worked.read),
        "values": values_in(saved.text),
        "refused": changed.refused,
        "at_hand": rows_in(saved.text, catalogue) if worked.plan.stock else [],
        "things": things_at_hand(catalogue),
        "answers": answers(worked.design, season_state(at, saved)),
        "picture": picture(worked.design, looking),
        "looking": looking,
        "views": [*((name, said) for name, (said, _) in VIEWS.items()), *LOADED.items()],
        "slider": GUSTS[worked.plan.units],
        "months": MONTH_NAMES,
        "shown": job_shown(at, saved, "changes"),
        "cures": {name: change.what for name, change in _cures(worked.design).items()},
    }
