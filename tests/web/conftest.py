"""A server in this process for what a request shows, and one of its own for what a browser does."""

from contextlib import contextmanager
from types import SimpleNamespace

import pytest
from served import DEMO, Server, settings


@pytest.fixture(scope="session")
def shared(tmp_path_factory):
    """Processes and their cache for every application of the session.

    To import the program and work out its first design is most of what such a process takes.
    """
    from hoopwright.web.processes import Processes

    cache, usual = tmp_path_factory.mktemp("cache"), settings(None)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("HOOPWRIGHT_CACHE", str(cache))
        processes = Processes(usual.workers, usual.limits.seconds)
    yield cache, processes
    processes.close()


@pytest.fixture(scope="session")
def opened(shared):
    """Opens an application without a network; the session's processes are lent to it."""
    from starlette.testclient import TestClient

    from hoopwright.web import app

    lent = SimpleNamespace(ask=shared[1].ask, close=lambda: None)

    @contextmanager
    def opens(made, **how):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(app, "Processes", lambda *_: lent)
            with TestClient(made, follow_redirects=False, **how) as client:
                patch.undo()
                yield client

    return opens


@pytest.fixture(scope="module")
def client(tmp_path_factory, shared, opened):
    """The application, called without a network; one for each test module."""
    from hoopwright.web.app import application

    folder = tmp_path_factory.mktemp("kept")
    (folder / "cache").symlink_to(shared[0])
    with opened(application(settings(folder))) as client:
        client.folder = folder
        yield client


@pytest.fixture
def plan(client):
    """A new plan from the demo; its path."""
    made = client.post("/api/plans", json={"text": DEMO})
    assert made.status_code == 201, made.text
    return f"/plans/{made.json()['id']}"


@pytest.fixture(scope="session")
def server(tmp_path_factory):
    """One running server for a test session."""
    running = Server(tmp_path_factory.mktemp("served"))
    running.started_in = running.start()
    yield running
    running.stop()
