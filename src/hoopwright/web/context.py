"""What routes need of the server: its parts, the asker's plans, and the templates."""

import re
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Annotated, Any

from fastapi import Depends, Form, HTTPException, Request
from fastapi.responses import HTMLResponse, Response
from jinja2 import Environment
from markupsafe import Markup

from hoopwright.frozen import dataclass
from hoopwright.sheet.cautions import cautions_on
from hoopwright.sheet.html import templates
from hoopwright.store import Store
from hoopwright.web.choices import called
from hoopwright.web.designs import Designs
from hoopwright.web.own_lists import OwnLists
from hoopwright.web.processes import Processes
from hoopwright.web.saved import SavedPlans
from hoopwright.web.settings import ServerSettings
from hoopwright.web.visitors import owner_of
from hoopwright.web.work_queue import WorkQueue

FOLDER = Path(str(resources.files("hoopwright.web")))
HTMX = "htmx-2.0.11.min.js"
#: A key of a plan, as words for the terminal name it, and what it is set to.
_KEY = re.compile(r'\b([a-z]+\.[a-z_]+)\b(?: = (true|"[^"]*"))?')
#: How a file is sent, by the end of its name.
_TYPES = {
    "pdf": "application/pdf",
    "html": "text/html; charset=utf-8",
    "md": "text/markdown; charset=utf-8",
    "csv": "text/csv; charset=utf-8",
    "zip": "application/zip",
    "ics": "text/calendar; charset=utf-8",
    "toml": "application/toml; charset=utf-8",
    "sqlite3": "application/vnd.sqlite3",
}


@dataclass(frozen=True)
class Desk:
    """What one request works with: the asker's plans and the server's parts."""

    owner: str
    plans: SavedPlans
    store: Store
    designs: Designs
    processes: Processes
    queue: WorkQueue
    settings: ServerSettings
    lists: OwnLists


def desk(request: Request) -> Desk:
    """Return the asker's desk; the guard has let no one in who has none."""
    owner = owner_of(request)
    if owner is None:
        raise HTTPException(401, "join first, at /join")
    state = request.app.state
    settings: ServerSettings = state.settings
    plans = SavedPlans(state.store, state.designs, owner, settings.limits.plans)
    lists = OwnLists(state.store, plans)
    parts = (state.store, state.designs, state.processes, state.queue)
    return Desk(owner, plans, *parts, settings, lists)


AtDesk = Annotated[Desk, Depends(desk)]
Words = Annotated[str, Form(max_length=200)]
Given = Mapping[str, list[str]]
"""What a form gives, by the names of its fields."""


def form_of(fields: int, longest: int | None = None) -> Any:
    """Return what gives a handler a form of so many fields at most, each value cut at a length."""

    async def given(request: Request) -> Given:
        form = await request.form(max_fields=fields, max_files=0)
        return {key: [str(value)[:longest] for value in form.getlist(key)] for key in form}

    return Depends(given)


def pages() -> Environment:
    """Return the templates."""
    made = templates(FOLDER / "templates")
    made.filters["svg"] = Markup
    made.filters["called"] = keys_called
    made.globals["htmx"] = HTMX
    made.globals["cautions_on"] = cautions_on
    return made


def keys_called(words: str) -> str:
    """Return words with the plan's keys in them as the pages call them: (“Strongest gust”).

    What a key is set to is told as the form has it: (tick “Cord laced over each bay”).
    """

    def named(found: re.Match[str]) -> str:
        key, value = found.groups()
        label = called(key)
        if label == key:
            return found.group()
        if value == "true":
            return f"tick “{label}”"
        return f"“{label}”" + ("" if value is None else f": {value.strip(chr(34))}")

    return _KEY.sub(named, words)


PAGES = pages()


def page(name: str, status: int = 200, **values: Any) -> HTMLResponse:
    """Return a page from its template."""
    return HTMLResponse(PAGES.get_template(name).render(**values), status)


def file_to_keep(name: str, body: bytes | str) -> Response:
    """Return a file to keep; never as anything that a browser would run."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(body, media_type=_TYPES[name.rpartition(".")[2]], headers=headers)


def slug(name: str) -> str:
    """Return a plan's name as the name of a file."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "plan"


def by_htmx(request: Request) -> bool:
    """Return whether a part of a page is asked for, and not a whole one."""
    return request.headers.get("hx-request") == "true"
