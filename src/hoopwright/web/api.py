"""The same things for programs: plans in, plain data in SI units out."""

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Body, Depends, Header, HTTPException, Path
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.answers.data import design_data, order_data, rung_data
from hoopwright.plan.schema import plan_schema
from hoopwright.store import Job, Saved, Stale
from hoopwright.web.choices import CROPS, Value, choices
from hoopwright.web.context import AtDesk, Desk
from hoopwright.web.editing import in_words
from hoopwright.web.pictures import Looking, picture
from hoopwright.web.saved import Changed
from hoopwright.web.work_pages import job_shown, key_of_work


class Refused(BaseModel):
    """Why a request was refused."""

    title: str
    problems: list[str]


class PlanText(BaseModel):
    """A plan file."""

    model_config = ConfigDict(extra="forbid")
    text: str = Field(max_length=200_000, description="TOML, as the command line reads it.")


class PlanShort(BaseModel):
    """A saved plan without its text."""

    id: str
    name: str
    family: str
    revision: int
    can_undo: bool
    can_redo: bool


class PlanWhole(PlanShort):
    """A saved plan with its text."""

    text: str


class PlanChanged(PlanWhole):
    """A plan after changes: what was refused, by key, and why."""

    refused: dict[str, str]


class JobShown(BaseModel):
    """How a job stands."""

    id: str
    kind: str
    state: str
    share: float
    says: str


REFUSALS: dict[int | str, dict[str, Any]] = {
    number: {"model": Refused, "description": words}
    for number, words in {
        400: "cannot be read",
        401: "join first (--lan)",
        404: "no such plan, or not yours",
        409: "no room for more",
        412: "changed since the revision that If-Match names",
        413: "too large",
        422: "the plan cannot be used, or the request cannot be read",
        429: "too many requests",
    }.items()
}
router = APIRouter(prefix="/api", tags=["plans"], responses=REFUSALS)
Match = Annotated[
    str | None,
    Header(alias="If-Match", max_length=200, description="The ETag of the revision you saw."),
]
PlanId = Annotated[str, Path(pattern=r"^[A-Za-z0-9_-]{1,40}$", description="Of a saved plan.")]


def _short(saved: Saved) -> dict[str, Any]:
    return {
        "id": saved.id,
        "name": saved.name,
        "family": saved.family,
        "revision": saved.revision,
        "can_undo": saved.earlier,
        "can_redo": saved.later,
    }


def _changed(changed: Changed) -> PlanChanged:
    saved = changed.saved
    return PlanChanged(**_short(saved), text=saved.text, refused=dict(changed.refused))


def _plan_text(body: Annotated[PlanText, Body()]) -> str:
    if "\x00" in body.text or any("\ud800" <= letter <= "\udfff" for letter in body.text):
        raise HTTPException(422, "the text holds letters that no file can")
    return body.text


Text = Annotated[str, Depends(_plan_text)]


@router.get("/schema", summary="JSON Schema of a plan")
def schema() -> dict[str, Any]:
    """Return what a plan may hold."""
    return plan_schema()


@router.post("/check", summary="Work out a plan without saving it")
def check(at: AtDesk, text: Text) -> dict[str, Any]:
    """Return geometry, findings, first rungs and cost."""
    return design_data(at.plans.design(text).design)


@router.get("/plans", summary="Your plans, last changed first")
def plans(at: AtDesk) -> list[PlanShort]:
    """Return every saved plan."""
    return [PlanShort(**_short(saved)) for saved in at.store.plans.all(at.owner)]


@router.post("/plans", summary="Save a plan", status_code=201)
def add(at: AtDesk, text: Text) -> PlanWhole:
    """Save a plan that can be worked out."""
    saved = at.plans.add(text)
    return PlanWhole(**_short(saved), text=saved.text)


@router.get("/plans/{plan}", summary="A plan with its text")
def plan(at: AtDesk, plan: PlanId, answer: Response) -> PlanWhole:
    """Return a saved plan; its ETag is what If-Match takes."""
    saved = at.plans.get(plan)
    answer.headers["ETag"] = f'"{saved.stamp}"'
    return PlanWhole(**_short(saved), text=saved.text)


@router.put("/plans/{plan}", summary="Put a whole new text")
def put(at: AtDesk, plan: PlanId, text: Text, match: Match = None) -> PlanChanged:
    """Save the text as the next revision; with If-Match only where the plan is still that one."""
    saved = _matched(at.plans.get(plan), match)
    return _changed(at.plans.put(saved, text))


def _matched(saved: Saved, match: str | None) -> Saved:
    """Return a plan that If-Match names. Raises Stale."""
    if match is not None and match.strip() != "*" and f'"{saved.stamp}"' not in match:
        raise Stale(f'the plan stands at "{saved.stamp}" now; get it anew')
    return saved


@router.delete("/plans/{plan}", summary="Delete a plan", status_code=204)
def delete(at: AtDesk, plan: PlanId) -> Response:
    """Delete a plan with its revisions."""
    at.store.plans.forget(at.owner, plan)
    return Response(status_code=204)


@router.get("/plans/{plan}/text", summary="The plan file itself", response_class=Response)
def text(at: AtDesk, plan: PlanId) -> Response:
    """Return the text, comments and all."""
    return Response(at.plans.get(plan).text, media_type="text/plain; charset=utf-8")


@router.patch("/plans/{plan}", summary="Change some keys, comments kept")
def change(
    at: AtDesk,
    plan: PlanId,
    keys: Annotated[dict[str, bool | str | list[str]], Body(max_length=100)],
    match: Match = None,
) -> PlanChanged:
    """Change keys such as "bed.length" to values as a plan writes them; "" takes a key away.

    With If-Match, keys that others have changed since that revision are refused, the others made.
    """
    unknown = [key for key in keys if key not in choices()]
    if unknown:
        raise HTTPException(422, f"not a key that can be changed here: {unknown[0][:60]}")
    wanted = {key: _value(key, value) for key, value in keys.items()}
    return _changed(at.plans.change(plan, wanted, _seen(at, plan, match)))


def _seen(at: Desk, plan: str, match: str | None) -> str | None:
    """Return the text of the revision that If-Match names. Raises Stale where it is no more."""
    if match is None or match.strip() == "*":
        return None
    text = at.store.plans.text_at(at.owner, plan, match.strip().strip('"'))
    if text is None:
        raise Stale("the revision that If-Match names is no more; get the plan anew")
    return text


def _value(key: str, value: bool | str | list[str]) -> Value:
    """Return a value of the shape that the choice has, or refuse it."""
    kind = choices()[key].kind
    if kind == "tick" and isinstance(value, bool):
        return value
    if kind == "many" and isinstance(value, list):
        return tuple(value)
    if key == CROPS and isinstance(value, str):
        return tuple(in_words(value))
    if kind == "list" and isinstance(value, list):
        return ", ".join(value)
    if kind in ("words", "pick", "list") and isinstance(value, str):
        return value
    shapes = {"tick": "true or false", "many": "a list of words", "list": "a list of quantities"}
    raise HTTPException(422, f"{key} wants {shapes.get(kind, 'text')}")


@router.post("/plans/{plan}/undo", summary="Go back one change")
def undo(at: AtDesk, plan: PlanId) -> PlanChanged:
    """Go back one revision; nothing happens at the first."""
    return _changed(at.plans.step(plan, -1))


@router.post("/plans/{plan}/redo", summary="Make an undone change again")
def redo(at: AtDesk, plan: PlanId) -> PlanChanged:
    """Go forward one revision; nothing happens at the last."""
    return _changed(at.plans.step(plan, 1))


@router.get("/plans/{plan}/check", summary="Geometry, findings, cost")
def checked(at: AtDesk, plan: PlanId) -> dict[str, Any]:
    """Return the same as `hoopwright check --json`."""
    return design_data(at.plans.open(plan).worked.design)


@router.get("/plans/{plan}/limits", summary="What gives way, first to last")
def limits(at: AtDesk, plan: PlanId) -> dict[str, Any]:
    """Return the ladder."""
    ladder = at.plans.open(plan).worked.design.ladder
    return {"rungs": [rung_data(rung) for rung in ladder.rungs]}


@router.get("/plans/{plan}/order", summary="Cuts and shopping")
def order(at: AtDesk, plan: PlanId) -> dict[str, Any]:
    """Return the same as `hoopwright cut --json`."""
    return order_data(at.plans.open(plan).worked.design.order)


View = Literal[
    "bed", "turned", "plan", "side", "end", "panel", "leg", "batten", "rail", "gust", "snow"
]


@router.get("/plans/{plan}/drawings/{view}", summary="A drawing", response_class=Response)
def drawing(at: AtDesk, plan: PlanId, view: View, gust: int = 40, turn: int = 30) -> Response:
    """Return a view as SVG; empty where this bed has no such view."""
    looking = Looking.of({"view": view, "gust": gust, "turn": turn})
    svg = picture(at.plans.open(plan).worked.design, looking).svg
    return Response(svg, media_type="image/svg+xml")


Kinds = Literal["changes", "season", "today", "class", "evidence", "compared", "choose"]


@router.post("/plans/{plan}/work/{kind}", summary="Start long work", status_code=202)
def start(at: AtDesk, plan: PlanId, kind: Kinds) -> JobShown:
    """Start long work on the plan as it stands."""
    saved = at.plans.get(plan)
    key = key_of_work(at, saved, kind)
    return _job(at.queue.start(at.owner, plan, kind, key, saved.text))


@router.get("/plans/{plan}/work/{kind}", summary="How long work stands, and its result")
def watch(at: AtDesk, plan: PlanId, kind: Kinds) -> dict[str, Any]:
    """Return the last job on the plan as it stands, and its result where there is one."""
    shown = job_shown(at, at.plans.get(plan), kind)
    return {"job": shown.job and _job(shown.job).model_dump(), "result": shown.result}


@router.delete("/plans/{plan}/work/{kind}", summary="Cancel long work", status_code=204)
def cancel(at: AtDesk, plan: PlanId, kind: Kinds) -> Response:
    """Cancel the last job of a kind; nothing happens where it is over."""
    at.plans.get(plan)
    at.queue.cancel(at.owner, plan, kind)
    return Response(status_code=204)


def _job(job: Job) -> JobShown:
    return JobShown(id=job.id, kind=job.kind, state=job.state, share=job.share, says=job.says)
