"""Loggers' files in the browser: how they are read, said otherwise, worked out and kept."""

import io
import time

import pytest
from loggers_file import log
from pypdf import PdfReader
from served import DEMO, settings

from hoopwright.store import Store
from hoopwright.web.work_kinds import KINDS


def bring(client, plan, *files):
    return client.post(f"{plan}/evidence", files=[("file", file) for file in files])


def worked(client, plan, kind="evidence"):
    client.post(f"{plan}/work/{kind}")
    end = time.monotonic() + 240
    while True:
        shown = client.get(f"/api{plan}/work/{kind}").json()
        if shown["result"] is not None or shown["job"]["state"] == "failed":
            return shown
        assert time.monotonic() < end
        time.sleep(0.2)


def test_a_file_is_read_confirmed_worked_out_and_printed(client, plan):
    assert bring(client, plan, ("april.csv", log())).status_code == 303
    page = client.get(f"{plan}/evidence").text
    assert "to confirm" in page
    assert "clock: UTC-6, as the file says" in page
    assert "2026-04-09 00:00 to 2026-04-20 23:00" in page
    (file,) = client.app.state.store.readings.of(plan.split("/")[-1])
    said = {"clock": "-7", "unit": "F", "inside": "Inside °F", "outside": "Outside °F"}
    client.post(f"{plan}/evidence/{file.digest}", data=said)
    page = client.get(f"{plan}/evidence").text
    assert "to confirm" not in page
    assert "clock: UTC-7, as you say" in page
    assert "2026-04-09 01:00" in page
    result = worked(client, plan)["result"]
    measured = result["data"]["measured"]
    assert measured["gain_K"]["mean"] == pytest.approx(3 / 1.8, abs=0.05)
    assert "two weeks" in result["unfit"]
    page = client.get(f"{plan}/evidence").text
    assert page.count('class="chart"') == 2
    assert "Apr 2026" in page
    pdf = client.get(f"{plan}/evidence/page.pdf").content
    assert "3.0 °F" in PdfReader(io.BytesIO(pdf)).pages[0].extract_text()


def test_what_a_file_does_not_say_is_asked_and_nothing_is_worked_out(client, plan):
    odd = log(head="Time,a,b")
    bring(client, plan, ("odd.csv", odd))
    page = client.get(f"{plan}/evidence").text
    assert "not told by a, b" in page
    assert "--inside" not in page
    assert "Work it out" not in page
    (file,) = client.app.state.store.readings.of(plan.split("/")[-1])
    client.post(f"{plan}/evidence/{file.digest}", data={"inside": "a", "outside": "b"})
    assert "Work it out" in client.get(f"{plan}/evidence").text
    client.post(f"{plan}/evidence/{file.digest}", data={"inside": "a", "outside": "-"})
    failed = worked(client, plan)
    assert "add the other sensor's file" in failed["job"]["says"]


@pytest.mark.parametrize(
    ("body", "says"),
    [
        (b"no table", "no table was found"),
        (b"a;b\n" * 110_001, "more than 110000; export it in parts"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(client, plan, body, says):
    answer = bring(client, plan, ("x.csv", body))
    assert answer.status_code == 422
    assert says in answer.text
    assert client.app.state.store.readings.of(plan.split("/")[-1]) == ()


def test_files_and_results_are_there_after_a_restart_and_the_fit_can_be_kept(tmp_path, opened):
    from hoopwright.web.app import application

    sets = {"measured.leak": 1.7, "measured.light": 0.9, "measured.moisture": 0.2}
    with opened(application(settings(tmp_path))) as client:
        plan = f"/plans/{client.post('/api/plans', json={'text': DEMO}).json()['id']}"
        bring(client, plan, ("april.csv", log()))
    with Store(tmp_path) as store:
        files = store.readings.of(plan[7:])
        assert [file.name for file in files] == ["april.csv"]
        from hoopwright.web.beside import read_here
        from hoopwright.web.work_queue import files_beside

        beside = files_beside(store, "local", plan[7:], DEMO, "readings")
        assert beside.readings[0].body == log()
        key = KINDS["evidence"].key(read_here(DEMO).plan, (), "", beside.rest("readings"))
        months = {"caption": "", "heads": [], "rows": [], "note": ""}
        kept = {"answer": "", "plots": [], "months": months, "typical": False, "sets": sets}
        store.results.keep(key, "evidence", kept | {"fitted": ["leak"]})
    with opened(application(settings(tmp_path))) as client:
        assert "Keep them for this bed" in client.get(f"{plan}/evidence").text
        assert client.post(f"{plan}/evidence/adopt/fitted").status_code == 303
        assert "leak = 1.7" in client.get(f"/api{plan}").json()["text"]
        client.post(f"{plan}/undo")
        assert client.get(f"/api{plan}").json()["text"] == DEMO
        client.post(f"{plan}/evidence/{files[0].digest}/forget")
        assert "april.csv" not in client.get(f"{plan}/evidence").text
