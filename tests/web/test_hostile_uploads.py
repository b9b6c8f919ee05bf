"""Spoilt plan files: no 5xx, nothing outside the folder written or read, none half kept."""

import os
import random
import string
import sys
from pathlib import Path

from rounds import turns
from served import DEMO

from hoopwright.plan.starter import starter_plan
from hoopwright.store.whole import damaged

UPLOADS = turns(200, 2000)
HOSTILE = [
    b"\x00",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"'''",
    b'"""',
    b"[[stock]]\n" * 300,
    b"[" * 3000,
    b"a = " + b"[" * 3000,
    b"x = {" * 500,
    b"n = 1e400\n",
    b"n = " + b"9" * 6000 + b"\n",
    b"name = nan\n",
    b'name = "${jndi:ldap://x}"\n',
    b"name = '<script>alert(1)</script>'\n",
    b'name = "{{ 7*7 }}{% raw %}"\n',
    b'prices = "/etc/passwd"\n',
    b'catalogue = "../../../../etc/shadow"\n',
    b'[bed]\nlength = "1e308 ft"\n',
    b'[bed]\nlength = "-0 ft"\n',
    b"[bed]\ncourses = 99999999999999999999\n",
    b'[holding]\npull_test = ["1 lb", "2000 lb"]\n',
    b"d = 1979-05-27T07:32:00Z\n",
    'name = "\u202e\U0001f525"\n'.encode(),
    b"\r",
    b"= = =",
    b"#" * 5000,
]


def spoilt(draw, whole):
    """Return one mutation of a plan's bytes, or of several at once."""
    body = bytearray(whole)
    for _ in range(draw.choice((1, 1, 1, 2, 4, 16))):
        at, way = draw.randrange(len(body) + 1), draw.randrange(7)
        if way == 0:
            body[at : at + 1] = bytes([draw.randrange(256)])
        elif way == 1:
            body[at : at + draw.randrange(1, 60)] = b""
        elif way == 2:
            body[at:at] = draw.choice(HOSTILE)
        elif way == 3:
            start = draw.randrange(len(body) + 1)
            body[at:at] = body[start : start + draw.randrange(1, 200)]
        elif way == 4:
            del body[at:]
        elif way == 5:
            digits = [n for n, byte in enumerate(body) if chr(byte).isdigit()]
            if digits:
                body[draw.choice(digits)] = ord(draw.choice(string.digits + "-.e/"))
        else:
            body[at:at] = draw.choice(HOSTILE)[:40] * draw.randrange(1, 8)
        body = body or bytearray(b" ")
    return bytes(body)


def files_under(folder):
    return {path for path in Path(folder).rglob("*") if path.is_file()}


def test_no_upload_breaks_the_server(client, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    opened, watching = [], [True]

    def hook(event, arguments):
        if watching[0] and event == "open" and isinstance(arguments[0], str):
            opened.append((arguments[0], arguments[1]))

    sys.addaudithook(hook)
    draw = random.Random(6)
    plans = [DEMO.encode(), starter_plan({"units": "metric"}).encode()]
    counts = {}
    for number in range(UPLOADS):
        body = spoilt(draw, draw.choice(plans))
        file = {"file": (f"../../x{number}.toml", body, "text/plain")}
        answer = client.post("/plans/file", files=file)
        counts[answer.status_code] = counts.get(answer.status_code, 0) + 1
        assert answer.status_code in (303, 413, 422), (number, body[:300])
        if answer.status_code == 303 and number % 10:
            client.post(f"{answer.headers['location']}/delete")
        elif answer.status_code == 303:
            page = client.get(answer.headers["location"])
            assert page.status_code == 200
            assert "<script>alert" not in page.text
            assert ">49</h1>" not in page.text
    watching[0] = False
    assert counts[422] > UPLOADS / 4
    assert counts.get(303, 0) > UPLOADS / 200
    assert files_under(tmp_path) == set()
    wrote = [path for path, mode in opened if mode and set(mode) & set("wax+")]
    assert [path for path in wrote if not path.startswith((str(client.folder), "/tmp/"))] == []
    assert [path for path, _ in opened if path.startswith(("/etc/passwd", "/etc/shadow"))] == []
    with client.app.state.store.reading() as base:
        assert damaged(base) == []
    assert not os.path.exists("/tmp/x1.toml")
