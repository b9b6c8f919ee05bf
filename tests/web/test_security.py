"""Who gets in, from where, to what; and what every answer carries."""

import re
import sqlite3

import pytest
from served import DEMO, settings
from starlette.testclient import TestClient

from hoopwright.web.app import application
from hoopwright.web.guard import same_origin
from hoopwright.web.settings import ServerLimits
from hoopwright.web.visitors import RateLimit


@pytest.fixture(scope="module")
def room(tmp_path_factory, opened):
    """A server with --lan."""
    made = settings(tmp_path_factory.mktemp("room"), lan=True, limits=ServerLimits(joins=5))
    with opened(application(made)) as room:
        room.settings = made
        yield room


def visitor(room, code):
    """A second browser on the same server."""
    other = TestClient(room.app, follow_redirects=False)
    answer = other.post("/join", data={"code": code})
    return other, answer


def test_every_answer_carries_the_headers(client, plan):
    for path in ("/", plan, f"{plan}/take/plan.toml", "/api/plans", "/nowhere", "/static/page.css"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"


def test_pages_have_no_inline_script_style_or_handler(client, plan):
    for path in ("/", plan, f"{plan}/limits", f"{plan}/choose", f"{plan}/take", "/join"):
        page = client.get(path).text
        assert not re.search(r"<script(?![^>]*\bsrc=)", page)
        assert not re.search(r"<[^>]+\s(on\w+|style)=", page)
        assert "<style" not in page
        assert not re.search(r'(?:src|href)="(?:https?:)?//', page)


@pytest.mark.parametrize(
    "host", ["evil.example", "testserver.evil.example", "", "127.0.0.1.nip.io"]
)
def test_another_name_is_refused(client, host):
    """DNS rebinding: the browser is led here under another name."""
    assert client.get("/", headers={"host": host}).status_code == 400


@pytest.mark.parametrize("host", ["LocalHost:8327", "[::1]:8327", "127.0.0.1"])
def test_our_own_names_pass_with_any_port(tmp_path, host):
    from hoopwright.web.settings import ServerSettings

    client = TestClient(application(ServerSettings(tmp_path)))
    assert client.get("/static/page.css", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://testserver.evil.example"},
        {"origin": "http://testserver:81"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_another_sites_form_is_refused(client, headers):
    before = client.get("/api/plans").json()
    assert client.post("/plans/example", headers=headers).status_code == 403
    assert client.post("/api/plans", json={"text": DEMO}, headers=headers).status_code == 403
    assert client.get("/api/plans").json() == before


def test_our_own_forms_pass():
    from starlette.datastructures import Headers

    own = Headers({"host": "127.0.0.1:1", "origin": "http://127.0.0.1:1"})
    assert same_origin(own)
    assert same_origin(Headers({"host": "127.0.0.1:1", "sec-fetch-site": "same-origin"}))


def test_too_much_is_refused_also_when_its_length_is_not_said(client):
    large = b"#" * (300 * 1024)
    assert client.post("/api/plans", content=large).status_code == 413

    def parts():
        for _ in range(10):
            yield b"#" * 40_000

    chunked = {"content-type": "application/json"}
    assert client.post("/api/plans", content=parts(), headers=chunked).status_code == 413
    form = {"content-type": "application/x-www-form-urlencoded"}
    assert client.post("/plans", content=parts(), headers=form).status_code == 413


@pytest.mark.parametrize(
    "line",
    [
        'prices = "/etc/passwd"',
        'catalogue = "../../../etc/passwd"',
        'prices = "C:\\\\secret.csv"',
        '[site]\nweather = "/etc/passwd"',
        '[site]\nweather = "secret.epw"',
    ],
)
def test_no_file_that_a_plan_names_is_read(client, line):
    answer = client.post("/api/plans", json={"text": line})
    assert answer.status_code == 422
    assert "without a folder" in answer.text or "no such list is here" in answer.text
    assert "root:" not in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static/%2e%2e%2f%2e%2e%2f%2e%2e%2fetc/passwd",
        "/fonts/../pdf.py",
        "/fonts//etc/passwd",
        "/plans/..%2f..%2fetc%2fpasswd",
        "/plans/x/take/..%2fplan.toml",
    ],
)
def test_nothing_outside_is_served(client, path):
    answer = client.get(path)
    assert answer.status_code in (404, 400)
    assert "import" not in answer.text
    assert "root:" not in answer.text


def test_a_visitor_joins_with_the_code_and_sees_only_their_own(room):
    assert room.get("/").headers["location"] == "/join"
    assert room.get("/api/plans").status_code == 401
    assert room.post("/plans/example").status_code == 303
    ada, answer = visitor(room, room.settings.code.upper())
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    ben, _ = visitor(room, room.settings.code)
    plan = ada.post("/api/plans", json={"text": DEMO}).json()["id"]
    assert len(ada.get("/api/plans").json()) == 1
    assert ben.get("/api/plans").json() == []
    for method, path, body in (
        ("GET", f"/plans/{plan}", None),
        ("GET", f"/api/plans/{plan}", None),
        ("GET", f"/plans/{plan}/take/plan.toml", None),
        ("PATCH", f"/api/plans/{plan}", {"bed.length": "9 ft"}),
        ("PUT", f"/api/plans/{plan}", {"text": DEMO}),
        ("DELETE", f"/api/plans/{plan}", None),
        ("POST", f"/api/plans/{plan}/undo", None),
        ("POST", f"/api/plans/{plan}/work/changes", None),
        ("GET", f"/api/plans/{plan}/work/changes", None),
    ):
        assert ben.request(method, path, json=body).status_code == 404, path
    assert ben.post(f"/plans/{plan}/delete").status_code == 404
    assert ada.get(f"/api/plans/{plan}").json()["text"] == DEMO
    host, _ = visitor(room, room.settings.owner_code)
    assert host.get("/api/plans").json() == []


def test_guessing_the_code_is_slowed_down(room):
    answers = [visitor(room, f"wron-{n:04}")[1].status_code for n in range(12)]
    assert set(answers) == {403, 429}
    assert answers[-1] == 429


def test_a_forged_or_foreign_cookie_is_nobody(room):
    other = TestClient(room.app, follow_redirects=False, cookies={"hoopwright": "x" * 43})
    assert other.get("/").headers["location"] == "/join"


def test_the_rate_is_limited_and_recovers(monkeypatch):
    now = [0.0]
    monkeypatch.setattr("hoopwright.web.visitors.time.monotonic", lambda: now[0])
    limit = RateLimit(2.0, 3.0)
    assert [limit.allows("a") for _ in range(4)] == [True, True, True, False]
    assert limit.allows("b")
    now[0] = 1.0
    assert [limit.allows("a") for _ in range(3)] == [True, True, False]


def test_a_room_limits_its_visitors(tmp_path, opened):
    made = settings(tmp_path, lan=True, limits=ServerLimits(rate=1.0, burst=5.0))
    with opened(application(made)) as room:
        answers = [room.get("/join").status_code for _ in range(8)]
    assert answers[:5] == [200] * 5
    assert answers[-1] == 429


def test_plans_and_jobs_have_a_limit(tmp_path, opened):
    made = settings(tmp_path, limits=ServerLimits(plans=2, jobs=1))
    with opened(application(made)) as room:
        ids = [room.post("/api/plans", json={"text": DEMO}).json()["id"] for _ in range(2)]
        assert room.post("/api/plans", json={"text": DEMO}).status_code == 409
        started = [room.post(f"/api/plans/{one}/work/changes").status_code for one in ids]
        assert started == [202, 409]


def test_a_locked_store_is_said_in_words_and_soon(client, plan):
    """Another program holds the file; it was a wait of ten seconds and a bare 500."""
    held = sqlite3.connect(client.folder / "hoopwright.sqlite3", isolation_level=None)
    held.execute("BEGIN IMMEDIATE")
    try:
        answer = client.patch(f"/api{plan}", json={"name": "While locked"})
    finally:
        held.execute("ROLLBACK")
        held.close()
    assert answer.status_code == 503
    assert "cannot be reached now" in answer.json()["problems"][0]
    assert client.patch(f"/api{plan}", json={"name": "Afterwards"}).status_code == 200
