"""A backup taken from the page and brought back while the server runs."""

import sqlite3

from served import DEMO


def test_a_deleted_plan_comes_back_with_its_changes_and_others_stand(client):
    first = client.post("/api/plans", json={"text": DEMO}).json()["id"]
    other = client.post("/api/plans", json={"text": DEMO}).json()["id"]
    client.post(f"/plans/{first}/choices", data={"bed.length": "9 ft"})
    client.post(
        f"/plans/{first}/class",
        data={"household": ["Ana"], "bed.length": ["8 ft"], "bed.width": [""]}
        | {"hoops.pipe": [""], "hoops.stock_length": [""]},
    )
    held = client.get("/keep/backup.sqlite3").content
    client.post(f"/plans/{first}/delete")
    assert client.get(f"/plans/{first}").status_code == 404
    client.post(f"/plans/{other}/choices", data={"bed.length": "11 ft"})
    back = client.post("/keep/backup", files={"file": ("kept.sqlite3", held)})
    assert back.status_code == 200, back.text
    assert "brought back" in back.text
    assert 'bed.length" id="choice-bed-length" value="9 ft"' in client.get(f"/plans/{first}").text
    assert 'value="Ana"' in client.get(f"/plans/{first}/class").text
    assert "11 ft" in client.get(f"/api/plans/{other}").json()["text"]
    client.post(f"/plans/{first}/undo")
    assert "9 ft" not in client.get(f"/api/plans/{first}").json()["text"]
    # A second time nothing is doubled.
    again = client.post("/keep/backup", files={"file": ("kept.sqlite3", held)})
    assert "0 plans brought back" in again.text


def test_what_is_no_backup_is_refused_in_words(client, tmp_path):
    answer = client.post("/keep/backup", files={"file": ("x", b"not a database")})
    assert answer.status_code == 422
    assert "the backup" in answer.text
    other = tmp_path / "other.sqlite3"
    with sqlite3.connect(other) as base:
        base.execute("CREATE TABLE plan (id)")
    foreign = client.post("/keep/backup", files={"file": ("x", other.read_bytes())})
    assert foreign.status_code == 422
