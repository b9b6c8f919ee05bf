"""A link for a colleague: read without joining, nothing to change, ended when its maker ends it."""

import re

import pytest
from served import DEMO, settings
from starlette.testclient import TestClient

from hoopwright.web.app import application


@pytest.fixture(scope="module")
def lan(tmp_path_factory, opened):
    """A server for a room, and the client of a visitor who has joined it."""
    made = settings(tmp_path_factory.mktemp("lan"), lan=True)
    with opened(application(made)) as maker:
        maker.post("/join", data={"code": made.code})
        yield maker


def test_whoever_has_the_link_reads_and_changes_nothing(lan):
    plan = f"/plans/{lan.post('/api/plans', json={'text': DEMO}).json()['id']}"
    lan.post(f"{plan}/link")
    link = re.search(r'href="http://testserver(/read/[\w-]{20,})"', lan.get(f"{plan}/take").text)[1]
    colleague = TestClient(lan.app, follow_redirects=False)
    page = colleague.get(link)
    assert page.status_code == 200
    assert "Juniper Bench, bed 7" in page.text
    assert "<form" not in page.text
    assert plan not in page.text
    assert not re.search(r"\b(?:site|holding)\.[a-z_]+\b", page.text)
    # Nothing is named that a reader has not got: no command, no control but one that closes a word.
    words = re.sub(r"<[^>]+>", " ", page.text)
    assert not re.search(r"`|\bhoopwright [a-z]|(?<!-)--[a-z]", words)
    assert re.findall(r"<(?:input|select|textarea|button)[^>]*>", page.text) == [
        '<button type="button" id="trouble-close">'
    ]
    links = re.findall(r'<a [^>]*href="([^"#][^"]*)"', page.text)
    assert links
    assert [colleague.get(to).status_code for to in links] == [200] * len(links)
    assert colleague.get(f"{link}/sheet.pdf").content.startswith(b"%PDF-")
    # The link opens that page and no other, and no other link does.
    assert colleague.get(plan).headers["location"] == "/join"
    assert colleague.post(f"{plan}/choices", data={"bed.length": "9 ft"}).status_code == 303
    assert lan.get(f"/api{plan}").json()["text"] == DEMO
    assert colleague.get("/read/" + "x" * 22).status_code == 404
    # What is changed is seen; what is ended is gone.
    lan.post(f"{plan}/choices", data={"name": "Bed of June"})
    assert "Bed of June" in colleague.get(link).text
    lan.post(f"{plan}/link/end")
    assert colleague.get(link).status_code == 404


def test_nobody_makes_a_link_to_anothers_plan(lan):
    plan = f"/plans/{lan.post('/api/plans', json={'text': DEMO}).json()['id']}"
    other = TestClient(lan.app, follow_redirects=False)
    other.post("/join", data={"code": lan.app.state.settings.code})
    assert other.post(f"{plan}/link").status_code == 404
    assert "Make a link" in lan.get(f"{plan}/take").text
