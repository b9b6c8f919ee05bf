"""Many changes, and a room full of visitors, all get answers. `python -m bench.web` times it."""

import sys

import pytest
from rounds import turns
from served import ROOT, Server

sys.path.insert(0, str(ROOT))
from bench.web import a_room, one_visitor


def test_first_page_and_changes(server):
    changes = turns(15, 60)
    assert len(one_visitor(server.port, changes)) == changes


def test_a_room_full_makes_no_error(tmp_path):
    server = Server(tmp_path / "kept", "--lan", "127.0.0.1", "--code", "abcd-efgh")
    server.start()
    try:
        times, wrong = a_room(server.port, "abcd-efgh", visitors=turns(6, 12), seconds=turns(3, 8))
    finally:
        server.stop()
    assert wrong == []
    assert len(times) >= turns(6, 12)


def test_a_change_that_touches_neither_strength_nor_cost_asks_no_process(client, plan, monkeypatch):
    asked = []
    workers = client.app.state.processes
    monkeypatch.setattr(workers, "ask", lambda *words: asked.append(words))
    client.get(plan)
    client.patch(f"/api{plan}", json={"name": "Another name", "wishes.animals": ["dog"]})
    assert client.get(f"/api{plan}").json()["name"] == "Another name"
    assert asked == []


@pytest.mark.parametrize(("key", "value", "task"), [("site.gust", "75 mph", "ladder")])
def test_only_what_a_change_touches_is_worked_out(client, plan, monkeypatch, key, value, task):
    workers, asked = client.app.state.processes, []
    really = workers.ask

    def noted(*words, **more):
        asked.append(words[0])
        return really(*words, **more)

    monkeypatch.setattr(workers, "ask", noted)
    client.patch(f"/api{plan}", json={key: value})
    assert asked == [task]
