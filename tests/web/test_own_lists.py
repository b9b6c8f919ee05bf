"""A person's own prices, rows and varieties in the browser: as the command line has them."""

import csv
import io
import json
import random
import re
import subprocess
import sys
import tomllib
import zipfile

import pytest
from rounds import turns
from served import DEMO, settings
from test_hostile_uploads import HOSTILE, spoilt

from hoopwright.web.editing import edited

HEAD = "thing,sold as,length [ft],width [ft],count [-],price [USD],date,example\n"
PRICES = HEAD + "pvc40-1/2,stick,10,,,99.00,2026-10,no\n"
ROWS = """# mine
[[pipe]]
key = "my-tube"
name = "tube from the barn"
like = "pvc40-1/2"
"""
VARIETIES = '[[crop]]\nkey = "my-radish"\nlike = "radish"\nname = "barn radish"\n'


@pytest.fixture
def bring(client, plan):
    def send(kind, name, body, to=plan):
        return client.post(f"{to}/lists", data={"kind": kind}, files={"file": (name, body)})

    return send


@pytest.fixture(autouse=True)
def no_lists_left(client):
    """Let every test begin without lists: they are the owner's and outlive a plan."""
    yield
    for saved in client.get("/api/plans").json():
        client.delete(f"/api/plans/{saved['id']}")
    for one in client.get("/api/lists").json():
        assert client.delete(f"/api/lists/{one['name']}").status_code == 204


def cost(client, plan):
    return client.get(f"/api{plan}/check").json()["cost"]["total"]


def test_own_prices_move_the_cost_and_undo_moves_it_back(client, plan, bring):
    before = cost(client, plan)
    answer = bring("prices", "C:\\lists\\mine.csv", PRICES)
    assert answer.status_code == 303
    assert cost(client, plan) != before
    page = client.get(plan).text
    assert "Prices: mine.csv" in page
    assert re.findall(r"#.*", client.get(f"/api{plan}/text").text) == re.findall(r"#.*", DEMO)
    client.post(f"{plan}/undo")
    assert cost(client, plan) == before
    client.post(f"{plan}/redo")
    assert cost(client, plan) != before
    client.post(f"{plan}/lists/choose", data={"kind": "prices"})
    assert cost(client, plan) == before


def test_the_page_and_the_command_line_say_the_same_with_own_files(client, plan, bring, tmp_path):
    """The plan and its lists taken away as one ZIP give the very same answers in the CLI."""
    bring("catalogue", "rows.toml", ROWS)
    bring("prices", "mine.csv", PRICES + "my-tube,stick,20,,,5.50,2026-10,no\n")
    assert client.patch(f"/api{plan}", json={"hoops.pipe": "my-tube"}).json()["refused"] == {}
    page = client.get(f"{plan}/take").text
    assert "This plan names mine.csv, rows.toml" in page
    packed = zipfile.ZipFile(io.BytesIO(client.get(f"{plan}/take/plan.zip").content))
    assert sorted(packed.namelist())[1:] == ["mine.csv", "rows.toml"]
    packed.extractall(tmp_path)
    file = tmp_path / sorted(packed.namelist())[0]
    words = [sys.executable, "-m", "hoopwright", "check", str(file), "--json"]
    told = subprocess.run(words, capture_output=True, text=True, timeout=300, check=True)
    assert client.get(f"/api{plan}/check").json() == json.loads(told.stdout)
    rows = list(csv.DictReader(io.StringIO(client.get(f"{plan}/take/shopping.csv").text)))
    assert any("tube from the barn" in str(row) for row in rows)
    sheet = client.get(f"{plan}/take/sheet.md").text
    assert "tube from the barn" in sheet


def test_an_own_row_is_offered_wherever_its_kind_is_chosen(client, plan, bring):
    bring("catalogue", "rows.toml", ROWS)
    page = client.get(plan).text
    pipes = re.search(r'id="choice-hoops-pipe".*?</select>', page, re.S).group()
    assert "tube from the barn" in pipes
    things = re.search(r'id="hand-item".*?</select>', page, re.S).group()
    assert "tube from the barn" in things
    client.post(f"{plan}/stock", data={"item": "my-tube", "length": "10 ft", "count": "2"})
    assert "2 of tube from the barn" in client.get(plan).text


def test_own_varieties_can_be_named_among_the_crops(client, plan, bring):
    assert bring("season.varieties", "v.toml", VARIETIES).status_code == 303
    changed = client.patch(f"/api{plan}", json={"season.crops": "spinach, my-radish"}).json()
    assert changed["refused"] == {}


def test_a_replaced_list_leaves_no_result_of_the_old_one(client, plan, bring):
    from test_jobs import wait_for

    bring("prices", "mine.csv", PRICES)
    client.post(f"/api{plan}/work/changes")

    def result():
        return client.get(f"/api{plan}/work/changes").json()["result"]

    first = wait_for(result, 120)
    dear = cost(client, plan)
    assert bring("prices", "mine.csv", PRICES.replace("99.00", "3.00")).status_code == 303
    assert cost(client, plan) < dear
    assert result() is None
    assert "Work it out" in client.get(f"{plan}/limits").text
    bring("prices", "mine.csv", PRICES)
    assert result() == first


def test_a_wrong_list_is_refused_with_its_line_and_nothing_changes(client, plan, bring):
    before = client.get(f"/api{plan}/text").text
    cases = [
        ("prices", "mine.csv", PRICES.replace("99.00", "-1"), "line 2, column"),
        ("prices", "mine.csv", PRICES.replace("pvc40-1/2", "pvc40-1/3"), "nearest: pvc40-1/2"),
        ("prices", "mine.csv", "thing\n", "holds no row"),
        ("prices", "mine.csv", "", "is empty"),
        ("prices", "mine.xls", PRICES, "ends in .toml or .csv"),
        ("prices", "mine.csv", b"\xff\xfe\x00", "UTF-8"),
        ("prices", "mine.csv", HEAD + "\x00", "line 2: holds a letter"),
        ("prices", "mine.csv", HEAD + "\n" * 3000, "at most 2000 lines"),
        ("prices", "mine.csv", "x" * 140_000, "at most 128 KB"),
        ("catalogue", "rows.toml", ROWS.replace("pvc40-1/2", "pvc"), "key 'like': no 'pvc'"),
        ("catalogue", "rows.toml", ROWS + '"wall [kg]" = 3\n', "wall"),
        ("catalogue", "rows.toml", "[[pipes]]\n", "no table 'pipes'"),
        ("catalogue", "pipe.csv", "key,like\nmine,pvc40-1/2,\n", "line 2"),
        ("season.varieties", "v.toml", "[[crop]]\nkey = 'x'\n", "line 1"),
        ("nothing", "v.toml", VARIETIES, "say what it is"),
    ]
    for kind, name, body, says in cases:
        answer = bring(kind, name, body)
        assert answer.status_code == 422, (name, says)
        told = re.search(r'role="alert".*?</ul>', answer.text, re.S).group()
        assert says in told.replace("&#39;", "'"), told
        assert told.count("<li>") == 1
    assert client.get(f"/api{plan}/text").text == before
    assert client.get("/api/lists").json() == []


def test_a_list_that_others_use_is_neither_deleted_nor_broken(client, plan, bring):
    bring("catalogue", "rows.toml", ROWS)
    client.patch(f"/api{plan}", json={"hoops.pipe": "my-tube"})
    other = f"/plans/{client.post('/api/plans', json={'text': DEMO}).json()['id']}"
    gone = bring("catalogue", "rows.toml", ROWS.replace("my-tube", "new-tube"), other)
    assert gone.status_code == 422
    assert "could not be read" in gone.text
    assert "my-tube" in client.get(f"{plan}/lists/rows.toml").text
    refused = client.post(f"{plan}/lists/forget", data={"name": "rows.toml"})
    assert refused.status_code == 422
    assert "is used by" in refused.text
    assert client.delete("/api/lists/rows.toml").status_code == 422
    taken = client.post(f"{plan}/lists/choose", data={"kind": "catalogue"})
    assert taken.status_code == 422
    assert "my-tube" in taken.text


def test_undo_to_a_deleted_list_is_refused_in_words_and_the_plan_stays(client, plan, bring):
    bring("prices", "mine.csv", PRICES)
    client.post(f"{plan}/lists/choose", data={"kind": "prices"})
    assert client.post(f"{plan}/lists/forget", data={"name": "mine.csv"}).status_code == 303
    undone = client.post(f"{plan}/undo")
    assert undone.status_code == 422
    assert "no such list is here" in undone.text
    assert client.get(plan).status_code == 200
    bring("prices", "mine.csv", PRICES)
    assert client.post(f"{plan}/undo").status_code == 303


def test_a_plan_is_begun_with_the_lists_that_it_names(client):
    text = edited(DEMO, {"prices": "mine.csv"})
    alone = client.post("/plans/file", files={"file": ("p.toml", text)})
    assert alone.status_code == 422
    assert "mine.csv" in alone.text
    sent = [("file", ("p.toml", text)), ("beside", ("mine.csv", PRICES))]
    made = client.post("/plans/file", files=sent)
    assert made.status_code == 303
    assert client.get(f"{made.headers['location']}/lists/mine.csv").text == PRICES
    stray = client.post("/plans/file", files=[*sent, ("beside", ("stray.csv", PRICES))])
    assert stray.status_code == 422
    assert "is not named in the plan" in stray.text
    other = [sent[0], ("beside", ("mine.csv", PRICES.replace("99", "98")))]
    assert "says something else" in client.post("/plans/file", files=other).text


def test_a_browser_sends_an_empty_part_where_no_list_is_chosen(client):
    head = b'--x\r\nContent-Disposition: form-data; name="%s"; filename="%s"\r\n'
    kind = b"Content-Type: application/octet-stream\r\n\r\n%s\r\n"
    body = head % (b"file", b"p.toml") + kind % DEMO.encode() + head % (b"beside", b"") + kind % b""
    sent = {"content-type": "multipart/form-data; boundary=x"}
    answer = client.post("/plans/file", content=body + b"--x--\r\n", headers=sent)
    assert answer.status_code == 303


def test_pasted_text_and_the_examples_are_taken_as_they_are(client, plan):
    page = client.get(f"{plan}/lists").text
    for kind in ("prices", "catalogue", "season.varieties"):
        example = client.get(f"{plan}/lists/examples/{kind}")
        assert example.status_code == 200
        name = re.search(r'filename="(.*?)"', example.headers["content-disposition"]).group(1)
        assert name in page
        data = {"kind": kind, "name": name, "text": example.text.replace("\n", "\r\n")}
        assert client.post(f"{plan}/lists", data=data, files={"none": b""}).status_code == 303
    named = tomllib.loads(client.get(f"/api{plan}/text").text)
    assert (named["prices"], named["catalogue"]) == ("my-prices.csv", "my-rows.toml")
    assert client.get(f"{plan}/lists/examples/x").status_code == 404
    assert client.get(f"{plan}/lists/none.csv").status_code == 404


def test_nobody_sees_anothers_lists(tmp_path, opened):
    from hoopwright.web.app import application

    made = settings(tmp_path, lan=True)
    body = {"kind": "prices", "text": PRICES}
    with opened(application(made)) as client:
        first = client.post("/join", data={"code": made.code}, follow_redirects=False)
        client.cookies.set("hoopwright", first.cookies["hoopwright"])
        assert client.put("/api/lists/mine.csv", json=body).status_code == 200
        client.cookies.clear()
        second = client.post("/join", data={"code": made.code}, follow_redirects=False)
        client.cookies.set("hoopwright", second.cookies["hoopwright"])
        assert client.get("/api/lists").json() == []
        assert client.get("/api/lists/mine.csv").status_code == 404
        text = edited(DEMO, {"prices": "mine.csv"})
        refused = client.post("/api/plans", json={"text": text})
        assert refused.status_code == 422
        assert "no such list is here" in refused.text


def test_no_spoilt_list_breaks_the_server(client, plan, bring):
    """Spoilt lists of each kind: refused in words or taken, and never a file on disk."""
    opened, watching = [], [True]

    def hook(event, arguments):
        if watching[0] and event == "open" and isinstance(arguments[0], str):
            opened.append(arguments[0])

    sys.addaudithook(hook)
    draw = random.Random(7)
    whole = {
        kind: client.get(f"{plan}/lists/examples/{kind}").content
        for kind in ("prices", "catalogue", "season.varieties")
    }
    counts, each = {}, turns(80, 400)
    for number in range(each * len(whole)):
        kind = list(whole)[number % len(whole)]
        body = draw.choice(HOSTILE) if number % 40 == 0 else spoilt(draw, whole[kind])
        name = draw.choice(("a.csv", "a.toml", "pipe.csv", "price.csv", "../../b.toml", "x" * 300))
        answer = bring(kind, name, body)
        assert answer.status_code in (303, 413, 422), (kind, name, body[:300])
        counts[answer.status_code] = counts.get(answer.status_code, 0) + 1
        if answer.status_code == 303:
            assert client.get(f"{plan}/lists").status_code == 200
            client.post(f"{plan}/lists/choose", data={"kind": kind})
    watching[0] = False
    ours = str(client.folder)
    assert [path for path in opened if path.endswith(("a.csv", "a.toml", "b.toml"))] == []
    assert {path for path in opened if path.endswith(".sqlite3") and ours not in path} == set()
    assert counts[303] >= turns(3, 20)
    assert counts[422] > 0.75 * each
    assert client.get(plan).status_code == 200
    for key in ("prices", "catalogue", "season.varieties"):
        client.post(f"{plan}/lists/choose", data={"kind": key})
