"""A server in this process for what a request shows, and one of its own for what a browser does."""

import pytest
from served import DEMO, Server, settings


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    """The application, called without a network; one for each test module."""
    from starlette.testclient import TestClient

    from hoopwright.web.app import application

    folder = tmp_path_factory.mktemp("kept")
    with TestClient(application(settings(folder)), follow_redirects=False) as opened:
        opened.folder = folder
        yield opened


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
