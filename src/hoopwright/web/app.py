"""The server's application, put together: parts, doors, guard, and what is said when all fails."""

import logging
import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from importlib import resources

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.staticfiles import StaticFiles

from hoopwright.plan.read import PlanError
from hoopwright.store import Stale, Store, StoreError
from hoopwright.store.lists import NoRoom
from hoopwright.store.table import NoSuchPlan
from hoopwright.web import (
    api,
    api_lists,
    build_pages,
    choose_pages,
    class_pages,
    evidence_pages,
    front,
    keep_pages,
    list_pages,
    place,
    scene_pages,
    season_pages,
    take,
    work_pages,
    workbench,
)
from hoopwright.web.context import FOLDER, page
from hoopwright.web.designs import Designs
from hoopwright.web.guard import ROOM, Guard
from hoopwright.web.own_lists import ListError
from hoopwright.web.processes import Processes, TooLong, WorkFailed
from hoopwright.web.saved import Full
from hoopwright.web.settings import ServerSettings
from hoopwright.web.visitors import RateLimit
from hoopwright.web.work_queue import TooMany, WorkQueue

LOG = logging.getLogger(__name__)
TRY = (
    "Try it once more. If it fails again, undo the last change of the plan, or change what the "
    "words above name; and tell them to whoever keeps this server."
)
ABOUT = """Plans are TOML text, exactly as the command line reads them. Answers are in SI units,
each unit in its field's name. With `--lan`, send the cookie that `/join` sets."""


def application(settings: ServerSettings) -> FastAPI:
    """Return the application; its store and processes are opened when it starts."""
    app = FastAPI(
        title="Hoopwright",
        description=ABOUT,
        version="1",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=_life,
    )
    app.state.settings = settings
    joins = float(settings.limits.joins)
    app.state.tries = RateLimit(joins / 60.0, joins)
    # A room may come from one address, all at once.
    app.state.joins = RateLimit(ROOM * joins / 60.0, ROOM * joins)
    bed = (workbench, scene_pages, choose_pages, season_pages, place, take, class_pages)
    long = (build_pages, evidence_pages, work_pages)
    for room in (front, keep_pages, list_pages, *bed, *long, api, api_lists):
        app.include_router(room.router)
    app.mount("/static", StaticFiles(directory=FOLDER / "static"))
    fonts = str(resources.files("hoopwright.sheet") / "fonts")
    app.mount("/fonts", StaticFiles(directory=fonts))
    _add_refusals(app)
    app.add_middleware(GZipMiddleware, minimum_size=1024, compresslevel=5)
    names = sorted(settings.hosts)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=names, www_redirect=False)
    app.add_middleware(Guard, settings=settings)
    return app


@asynccontextmanager
async def _life(app: FastAPI) -> AsyncIterator[None]:
    """Open the store and the processes, and close them in the end."""
    settings: ServerSettings = app.state.settings
    limits = settings.limits
    os.environ["HOOPWRIGHT_CACHE"] = str(settings.folder / "cache")
    with Store(settings.folder) as store:
        processes = Processes(settings.workers, limits.seconds)
        app.state.store = store
        app.state.processes = processes
        app.state.designs = Designs(processes)
        app.state.queue = WorkQueue(store, limits.job_seconds, limits.jobs)
        try:
            yield
        finally:
            app.state.queue.close()
            app.state.designs.close()
            processes.close()


def _add_refusals(app: FastAPI) -> None:
    """Answer every foreseen failure in words: a page, or JSON under /api."""
    titles: dict[type[Exception], tuple[int, str]] = {
        PlanError: (422, "This plan cannot be used"),
        NoSuchPlan: (404, "No such plan"),
        ListError: (422, "This list cannot be used"),
        NoRoom: (409, "No room for more"),
        Full: (409, "No room for more"),
        TooMany: (409, "No room for more"),
        TooLong: (422, "This takes too long"),
        WorkFailed: (500, "This could not be worked out"),
        Stale: (412, "Changed meanwhile"),
        StoreError: (503, "Not now"),
    }
    for kind, (status, title) in titles.items():
        app.add_exception_handler(kind, _refuser(status, title))
    app.add_exception_handler(HTTPException, _refuse_http)
    app.add_exception_handler(RequestValidationError, _refuse_request)


def _refuser(status: int, title: str):  # type: ignore[no-untyped-def]
    async def refuse(request: Request, error: Exception) -> Response:
        if isinstance(error, ListError):
            says = list(error.lines)
        elif isinstance(error, PlanError):
            says = [str(problem) for problem in error.problems]
        elif isinstance(error, NoSuchPlan):
            says = ["It was deleted, or it is someone else's."]
        elif isinstance(error, WorkFailed):
            LOG.error("a task failed: %s", error)
            says = [f"The program failed at it, and goes on: {str(error)[:300]}.", TRY]
        else:
            says = [str(error)]
        return refused(request, status, title, says)

    return refuse


async def _refuse_http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    title = "No such page" if error.status_code == 404 else "That cannot be done"
    says = "There is nothing at this address." if error.detail == "Not Found" else error.detail
    answer = refused(request, error.status_code, title, [str(says)])
    answer.headers.update(error.headers or {})
    return answer


async def _refuse_request(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    says = [f"{'.'.join(str(p) for p in one['loc'])}: {one['msg']}" for one in error.errors()]
    return refused(request, 422, "That cannot be read", says[:10])


def refused(request: Request, status: int, title: str, says: list[str]) -> Response:
    """Return why a request was refused, for a reader or for a program."""
    if request.url.path.startswith("/api"):
        return JSONResponse({"title": title, "problems": says}, status)
    return page("refused.html.jinja", status, title=title, says=says)
