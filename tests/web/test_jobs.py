"""Long work: progress, result, cancel; and a server killed at random moments loses nothing."""

import http.client
import itertools
import json
import random
import re
import threading
import time
import urllib.request

import pytest
from rounds import turns
from served import DEMO, Server, seen

from hoopwright.store import Store
from hoopwright.store.jobs import Jobs
from hoopwright.store.whole import damaged


def wait_for(ask, seconds=900):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = ask()
        if found:
            return found
        time.sleep(0.1)
    raise AssertionError("it did not come about in time")


def test_changes_are_worked_out_with_progress_and_kept(client, plan, monkeypatch):
    """What is written down of the job is read at its source: asking now and then can miss it."""
    told, tell = [], Jobs.tell

    def overheard(self, job, state, share, says):
        told.append(share)
        return tell(self, job, state, share, says)

    monkeypatch.setattr(Jobs, "tell", overheard)
    assert "Work it out" in client.get(f"{plan}/limits").text
    started = client.post(f"{plan}/work/changes", headers={"hx-request": "true"})
    assert "<progress" in started.text
    shares = []

    def over():
        job = client.get(f"/api{plan}/work/changes").json()
        shares.append(job["job"]["share"])
        # The page stays alive meanwhile.
        assert client.get(f"{plan}/take").status_code == 200
        return job if job["job"]["state"] not in ("waiting", "running") else None

    job = wait_for(over)
    assert job["job"]["state"] == "done"
    assert any(0 < share < 1 for share in told)
    assert told == sorted(told)
    assert shares == sorted(shares)
    assert job["result"]
    page = client.get(f"{plan}/limits").text
    assert "Work it out" not in page
    assert job["result"][0]["what"].split()[0] in page


def test_every_change_that_would_help_can_be_made_and_does_what_it_says(client, plan):
    client.post(f"{plan}/work/changes")
    held = wait_for(lambda: client.get(f"/api{plan}/work/changes").json()["result"])
    before = client.get(f"/api{plan}/order").json()["cost"]["total"]
    for number, change in enumerate(held):
        made = client.post(f"{plan}/work/changes/{number}/make")
        assert made.status_code == 303, (change, made.text)
        now = client.get(f"/api{plan}/order").json()["cost"]["total"]
        cost = re.search(r"(adds|saves) \$([\d,]+\.\d\d)", change["gain"])
        told = 0.0 if cost is None else float(cost[2].replace(",", ""))
        signed = -told if cost is not None and cost[1] == "saves" else told
        assert now - before == pytest.approx(signed, abs=0.02)
        client.post(f"{plan}/undo")
    assert client.post(f"{plan}/work/changes/999/make").status_code == 409


def test_a_result_is_that_of_its_own_text(client, plan):
    client.post(f"{plan}/choices", data={"bed.length": "11 ft", "base": seen(client, plan)})
    assert "Work it out" in client.get(f"{plan}/limits").text


def test_work_is_cancelled(client, plan):
    client.patch(f"/api{plan}", json={"bed.length": "13 ft"})
    client.post(f"{plan}/work/season")
    wait_for(lambda: "running" in client.get(f"/api{plan}/work/season").text)
    client.post(f"{plan}/work/season/cancel")
    job = client.get(f"/api{plan}/work/season").json()
    assert job["job"]["state"] == "cancelled"
    assert job["result"] is None
    assert "Cancelled" in client.get(f"{plan}/season").text


def call(server, method, path, body=None):
    data = None if body is None else json.dumps(body).encode()
    headers = {"content-type": "application/json"}
    request = urllib.request.Request(server.url + path, data, headers, method=method)
    with urllib.request.urlopen(request, timeout=300) as answer:
        return json.loads(answer.read() or b"null")


def keep_saving(server, plan, turn, said):
    """Save one text after the other until the server is gone; note what it answered for."""
    for number in itertools.count():
        said["tried"] = f"{said['kept'].partition('# turn')[0]}# turn {turn} {number}\n"
        try:
            call(server, "PUT", f"/api/plans/{plan}", {"text": said["tried"]})
        except (OSError, http.client.HTTPException):
            return
        said["kept"] = said["tried"]


def test_a_killed_server_comes_back_to_the_same_state_and_takes_up_its_work(tmp_path):
    """Killed while it saves and works, three times; a hundred in `make long`.

    How it knows: after the restart the plan is, to the letter, the last text that the server
    answered for, or the one under way when it was killed; and the store's fingerprints and
    integrity check are read while no server runs. The run is a season, longer than the time
    from start to kill, so that every kill falls into it.
    """
    server = Server(tmp_path / "kept")
    try:
        killed_again_and_again(server, tmp_path / "kept")
    finally:
        server.kill()


def killed_again_and_again(server, folder):
    draw = random.Random(3)
    server.start()
    text = DEMO.replace("[season]", "[season]\nyears = 12")
    assert text != DEMO
    plan = call(server, "POST", "/api/plans", {"text": text})["id"]
    call(server, "POST", f"/api/plans/{plan}/work/season")
    said = {"kept": text, "tried": text}
    for turn in range(turns(3, 100)):
        saver = threading.Thread(target=keep_saving, args=(server, plan, turn, said))
        saver.start()
        time.sleep(draw.uniform(0.05, 0.5))
        server.kill()
        saver.join()
        with Store(folder) as store:
            with store.reading() as base:
                assert damaged(base) == []
            assert [job.plan for job in store.jobs.open_jobs()] == [plan]
        server.start()
        found = call(server, "GET", f"/api/plans/{plan}")["text"]
        assert found in (said["kept"], said["tried"])
        said["kept"] = found

    def done():
        shown = call(server, "GET", f"/api/plans/{plan}/work/season")
        return shown if (shown["job"] or {}).get("state") == "done" else None

    # As long as the server lets a job take.
    assert wait_for(done, 900)["result"]


@pytest.mark.parametrize("kind", ["nonsense", "..%2f..%2fetc"])
def test_no_other_work(client, plan, kind):
    assert client.post(f"{plan}/work/{kind}").status_code == 404
