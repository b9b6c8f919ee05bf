"""The page of a plan's own lists: brought, pasted, chosen, taken away again, deleted."""

from typing import Annotated

from fastapi import APIRouter, File, Form, HTTPException, UploadFile
from fastapi.responses import RedirectResponse, Response

from hoopwright.store.lists import NoRoom
from hoopwright.web.beside import KEYS, names_in
from hoopwright.web.context import FOLDER, AtDesk, Desk, Words, file_to_keep, page
from hoopwright.web.own_lists import LARGEST, ListError, brought

router = APIRouter(include_in_schema=False)


EXAMPLES = {
    "prices": "my-prices.csv",
    "catalogue": "my-rows.toml",
    "season.varieties": "my-varieties.toml",
}
"""Key of a plan -> the example of such a file that comes with the program."""

ABOUT = {
    "prices": "What things cost in your shops, one row for each size they are sold in. A price of "
    "yours replaces ours of the same thing and size; what you do not list keeps its invented "
    "example price, and the cost says so.",
    "catalogue": "Pipe, boards, film and fittings that our tables do not have, or have otherwise. "
    "A row may be like one of ours and give only what differs.",
    "season.varieties": "Your own crops and varieties for the season page. Each is like one of "
    "ours and gives what differs.",
}


def example(kind: str) -> str:
    """Return the text of the example of a kind of list."""
    return (FOLDER / "examples" / EXAMPLES[kind]).read_text("utf-8")


def _shown(
    at: Desk,
    plan: str,
    problems: tuple[str, ...] = (),
    kind: str = "",
    pasted: str = "",
    name: str = "",
) -> Response:
    opened = at.plans.open(plan)
    return page(
        "lists.html.jinja",
        422 if problems else 200,
        saved=opened.saved,
        kinds=KEYS,
        about=ABOUT,
        examples={key: (file, example(key)) for key, file in EXAMPLES.items()},
        named=names_in(opened.worked.plan),
        lists=at.store.lists.all(at.owner),
        largest=LARGEST // 1024,
        problems=problems,
        kind=kind,
        pasted=pasted,
        called=name,
    )


@router.get("/plans/{plan}/lists")
def lists(at: AtDesk, plan: str) -> Response:
    """Show the lists that a plan uses, and all others of the owner's."""
    return _shown(at, plan)


@router.post("/plans/{plan}/lists")
def bring(
    at: AtDesk,
    plan: str,
    kind: Words,
    file: Annotated[UploadFile | None, File()] = None,
    text: Annotated[str, Form(max_length=2 * LARGEST)] = "",
    name: Words = "",
) -> Response:
    """Take a list from a file or from what was pasted, and let the plan use it."""
    sent = file if file is not None and (file.filename or file.size) else None
    called = (sent.filename or "") if sent else name.strip() or EXAMPLES.get(kind, "")
    at.plans.get(plan)
    try:
        at.lists.use(plan, brought(kind, called, sent.file.read() if sent else text))
    except ListError as error:
        return _shown(at, plan, error.lines, kind, text, name)
    except NoRoom as error:
        return _shown(at, plan, (str(error),), kind, text, name)
    return RedirectResponse(f"/plans/{plan}/lists", 303)


@router.post("/plans/{plan}/lists/choose")
def choose(at: AtDesk, plan: str, kind: Words, name: Words = "") -> Response:
    """Let the plan name another list of the owner's, or none."""
    if kind not in KEYS:
        raise HTTPException(422, "no list is of that kind")
    refused = at.plans.change(plan, {kind: name or ("example" if kind == "prices" else "")}).refused
    if refused:
        return _shown(at, plan, tuple(f"{name[:60]}: {says[:600]}" for says in refused.values()))
    return RedirectResponse(f"/plans/{plan}/lists", 303)


@router.post("/plans/{plan}/lists/forget")
def forget(at: AtDesk, plan: str, name: Words) -> Response:
    """Delete a list that no plan uses."""
    at.plans.get(plan)
    try:
        at.lists.forget(name)
    except ListError as error:
        return _shown(at, plan, error.lines)
    return RedirectResponse(f"/plans/{plan}/lists", 303)


@router.get("/plans/{plan}/lists/examples/{kind}")
def an_example(at: AtDesk, plan: str, kind: str) -> Response:
    """Return an example of a kind of list."""
    at.plans.get(plan)
    if kind not in EXAMPLES:
        raise HTTPException(404, f"no example is called {kind[:40]}")
    return file_to_keep(EXAMPLES[kind], example(kind))


@router.get("/plans/{plan}/lists/{name}")
def one_list(at: AtDesk, plan: str, name: str) -> Response:
    """Return a list, to the letter."""
    at.plans.get(plan)
    text = at.lists.text(name)
    if text is None:
        raise HTTPException(404, "no list of yours has that name")
    return file_to_keep(name, text)
