"""An owner's own lists for programs."""

from typing import Annotated, Literal

from fastapi import APIRouter, Body, HTTPException, Path
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field

from hoopwright.web.api import REFUSALS
from hoopwright.web.context import AtDesk
from hoopwright.web.own_lists import LARGEST, NAME, brought

router = APIRouter(prefix="/api", tags=["lists"], responses=REFUSALS)

ListName = Annotated[str, Path(pattern=rf"^{NAME}$", description="As a plan names it.")]


class ListText(BaseModel):
    """A list: the key of a plan that it is for, and its text."""

    model_config = ConfigDict(extra="forbid")
    kind: Literal["prices", "catalogue", "season.varieties"]
    text: str = Field(
        min_length=1, max_length=LARGEST, description="TOML or CSV, as the command line reads it."
    )


class ListShort(BaseModel):
    """A list without its text."""

    name: str
    kind: str
    about: str


@router.get("/lists", summary="Your own price lists, catalogue rows and varieties")
def lists(at: AtDesk) -> list[ListShort]:
    """Return every list, by name."""
    held = at.store.lists.all(at.owner)
    return [ListShort(name=one.name, kind=one.kind, about=one.about) for one in held]


@router.put("/lists/{name}", summary="Put a list, or another in its place")
def put(at: AtDesk, name: ListName, body: Annotated[ListText, Body()]) -> ListShort:
    """Keep a list; a plan uses it once it names it, as in `prices = "mine.csv"`."""
    at.lists.put(brought(body.kind, name, body.text))
    return next(one for one in lists(at) if one.name == name)


@router.get("/lists/{name}", summary="A list itself", response_class=Response)
def text(at: AtDesk, name: ListName) -> Response:
    """Return the text, comments and all."""
    held = at.lists.text(name)
    if held is None:
        raise HTTPException(404, "no list of yours has that name")
    return Response(held, media_type="text/plain; charset=utf-8")


@router.delete("/lists/{name}", summary="Delete a list that no plan names", status_code=204)
def delete(at: AtDesk, name: ListName) -> Response:
    """Delete a list."""
    at.lists.forget(name)
    return Response(status_code=204)
