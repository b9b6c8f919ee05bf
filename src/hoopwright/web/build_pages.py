"""The Build page: shopping, tape marks and steps to tick off, made for a phone at the bed.

Ticks are kept with the plan. Each stands beside its words: where the plan changes and the words
with it, the tick no longer holds and the page says so.
"""

import hashlib
import re
import time
from collections.abc import Collection
from typing import Annotated, Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import FileResponse, JSONResponse, RedirectResponse, Response

from hoopwright.answers.facts import voice_of
from hoopwright.answers.voice import Voice
from hoopwright.design import Design
from hoopwright.drawing.steps.pictures import fitted, step_views
from hoopwright.drawing.svg import write_svg
from hoopwright.frozen import dataclass
from hoopwright.sheet.buying import not_listed, shopping_table
from hoopwright.sheet.cautions import CLOSING, cautions_for
from hoopwright.sheet.steps import drafts_of, lettered, numbered_steps
from hoopwright.sheet.traits import traits_of
from hoopwright.web.context import FOLDER, AtDesk, Given, form_of, page
from hoopwright.web.pictures import for_page

router = APIRouter(include_in_schema=False)

#: Paper that a step's picture is laid out for [m]: on the narrowest phone, 360 px, its words then
#: take 12 px and more.
PICTURE = (0.074, 0.056)
#: What may be ticked: a kind, its name, and the print of its words.
_KEY = re.compile(r"(step|mark|buy)-[a-z0-9-]{1,60}-[0-9a-f]{8}")
#: Ticks told of at once.
MOST_TOLD = 400


@dataclass(frozen=True)
class Tickable:
    """A line to tick off, each of its words as the page has them.

    key   : what its tick is kept under
    state : done, changed (ticked before the plan changed) or ""
    costs : of what is bought; no part of what is ticked
    """

    key: str
    words: tuple[str, ...]
    state: str
    costs: str = ""


@dataclass(frozen=True)
class StepCard:
    """A step with its picture; `short` says it in a line, where the card has one.

    cautions : title and words of each, in full where it is met first
    """

    tick: Tickable
    title: str
    short: str
    sentences: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    picture: str
    marks: tuple[Tickable, ...] = ()


def _tickable(
    kind: str, words: tuple[str, ...], ticked: frozenset[str], costs: str = ""
) -> Tickable:
    start = re.sub(r"[^a-z0-9]+", "-", kind.lower()).strip("-")[:60] + "-"
    key = start + hashlib.sha256("\n".join(words).encode("utf-8")).hexdigest()[:8]
    before = any(one.startswith(start) and len(one) == len(key) for one in ticked)
    state = "done" if key in ticked else "changed" if before else ""
    return Tickable(key, words, state, costs)


def step_cards(design: Design, ticked: frozenset[str]) -> tuple[StepCard, ...]:
    """Return every step of the building as a card; the tape marks stand in the step of marking."""
    say = voice_of(design)
    drafts = drafts_of(design, say)
    cautions = lettered(cautions_for(traits_of(design)), drafts)
    views = step_views(design, [draft.key for draft in drafts])
    steps = numbered_steps(drafts, 1, cautions, {}, set())
    cards = []
    for draft, step in zip(drafts, steps, strict=True):
        words = (step.title, draft.card, *step.sentences)
        view = views.get(step.key)
        cards.append(
            StepCard(
                _tickable(f"step-{step.key}", words, ticked),
                step.title,
                draft.card,
                step.sentences,
                (
                    *((one.title, one.text) for one in step.cautions),
                    *((one.title, one.short) for one in step.again),
                ),
                for_page(write_svg(fitted(design, view, *PICTURE))) if view else "",
                _marks(design, say, ticked) if step.key == "mark" else (),
            )
        )
    return tuple(cards)


def _marks(design: Design, say: Voice, ticked: frozenset[str]) -> tuple[Tickable, ...]:
    return tuple(
        _tickable(f"mark-{number}", (f"Hoop {number}", say.tape(station.mark)), ticked)
        for number, station in enumerate(design.hoops, start=1)
    )


def _shopping(design: Design, say: Voice, ticked: frozenset[str]) -> dict[str, Any]:
    """Return what to buy and what to look out at home."""
    table = shopping_table(design, say)
    buy, home = list[Tickable](), list[Tickable]()
    for line, (what, sold, at_hand, number, each, total) in zip(
        design.order.lines, table.rows, strict=True
    ):
        kind = f"buy-{line.thing}-{line.form}-{sold}"
        if number:
            costs = f"{each} each, {total}" if total else "no price listed"
            buy.append(_tickable(kind, (number, sold, what), ticked, costs))
        if at_hand:
            home.append(_tickable(f"{kind}-home", (at_hand, sold, what), ticked))
    return {
        "buy": buy,
        "home": home,
        "note": table.note,
        "unmet": design.order.unmet,
        "beside": not_listed(design, traits_of(design)).items,
    }


@router.get("/plans/{plan}/build")
def build(at: AtDesk, plan: str) -> Response:
    """Show what to buy, mark and do, each with its tick."""
    opened = at.plans.open(plan)
    design, ticked = opened.worked.design, at.store.ticks.of(plan)
    return page(
        "build.html.jinja",
        saved=opened.saved,
        shopping=_shopping(design, voice_of(design), ticked),
        cards=step_cards(design, ticked),
        closing=voice_of(design).word(CLOSING),
        at=f"{time.time():.3f}",
    )


@router.post("/plans/{plan}/build/ticks")
def tick(
    request: Request, at: AtDesk, plan: str, given: Annotated[Given, form_of(2 * MOST_TOLD + 2)]
) -> Response:
    """Keep ticks: `shown` are those that are told of, `on` those of them that are ticked."""
    try:
        told = held_to_bounds(given.get("shown", []))
    except ValueError as error:
        raise HTTPException(422, str(error)) from None
    on = set(given.get("on", []))
    at.store.ticks.change(at.owner, plan, told & on, told - on)
    if request.headers.get("accept") == "application/json":
        return JSONResponse({"at": time.time()})
    return RedirectResponse(f"/plans/{plan}/build", 303)


def held_to_bounds(shown: Collection[str]) -> frozenset[str]:
    """Return the keys of ticks; ValueError where they are too many, or none of ours."""
    if len(shown) > MOST_TOLD:
        raise ValueError(f"These are no ticks of a Build page: more than {MOST_TOLD}.")
    if not shown or not all(map(_KEY.fullmatch, shown)):
        raise ValueError("These are no ticks of a Build page; open it anew.")
    return frozenset(shown)


@router.get("/plans/{plan}/build.webmanifest")
def manifest(at: AtDesk, plan: str) -> Response:
    """Return what a phone needs to put the page among its programs."""
    saved = at.plans.get(plan)
    body = {
        "name": f"Build: {saved.name}",
        "short_name": saved.name[:24],
        "start_url": f"/plans/{plan}/build",
        "scope": f"/plans/{plan}/",
        "display": "minimal-ui",
        "background_color": "#fdfcf9",
        "theme_color": "#fdfcf9",
        "icons": [{"src": "/static/mark.svg", "sizes": "any", "type": "image/svg+xml"}],
    }
    return JSONResponse(body, media_type="application/manifest+json")


@router.get("/worker.js")
def worker() -> Response:
    """Return the script that keeps build pages for where there is no connection."""
    # From the top, so that it may answer for the pages of every plan.
    return FileResponse(FOLDER / "static" / "worker.js", media_type="text/javascript")
