"""A plan changed key by key keeps its comments, its order and its meaning."""

import random
import re
import subprocess
import sys
import tomllib
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rounds import turns
from served import DEMO

from hoopwright.plan import read_plan_text
from hoopwright.plan.read import PlanError
from hoopwright.plan.rows import with_row, without_row
from hoopwright.plan.starter import starter_plan
from hoopwright.web.choices import choices, values_in
from hoopwright.web.editing import edited

STARTER = starter_plan({"units": "us", "bed.length": "8 ft"})
ODD = """\
name = 'in "quotes"' # said so
bed = {length = "8 ft", width = "4 ft"}   # on one line
stock = [{item = "pvc40-1/2", length = "10 ft", count = 2}]
"""
DOTTED = '# dotted\nsite.gust = "60 mph" # strong\nbed.length = "8 ft"\n'
WINDOWS = DEMO.replace("\n", "\r\n")
LAYOUTS = {"demo": DEMO, "starter": STARTER, "odd": ODD, "dotted": DOTTED, "windows": WINDOWS}

QUANTITIES = {
    "bed.length": ["10 ft", "3 m"],
    "hoops.spacing": ["30 in", "2' 6\""],
    "site.gust": ["70 mph", ""],
    "cover.mesh_band": ["24 in", "0 in"],
    "name": ['A "quoted" bed', "# not a comment"],
    "holding.pin": [True, False],
    "wishes.animals": [("dog",), ("rabbit", "deer")],
    "bed.courses": ["2", "1"],
    "holding.pull_test": ["35 lb, 40 lb", ""],
}


@cache
def comments(text):
    """Comments as TOML counts them: told from '#' in strings by reading the text without each."""
    found, whole, lines = [], tomllib.loads(text), text.split("\n")
    for number, line in enumerate(lines):
        for match in re.finditer(r"#", line):
            shorter = [*lines[:number], line[: match.start()], *lines[number + 1 :]]
            try:
                if tomllib.loads("\n".join(shorter)) == whole:
                    found.append(line[match.start() :].strip())
                    break
            except tomllib.TOMLDecodeError:
                continue
    return tuple(found)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("key", QUANTITIES)
def test_one_change_is_that_change_and_no_other(layout, key):
    text = LAYOUTS[layout]
    for value in QUANTITIES[key]:
        changed = edited(text, {key: value})
        before, after = values_in(text), values_in(changed)
        expected = before | {key: value if value != "" else choices()[key].default}
        assert after == expected
        assert all(said in changed for said in comments(text))


@given(st.lists(st.sampled_from([(k, v) for k, vs in QUANTITIES.items() for v in vs]), max_size=8))
@settings(max_examples=40, deadline=None, derandomize=True)
def test_any_run_of_changes_leaves_each_key_at_its_last_value(run):
    text = STARTER
    for key, value in run:
        text = edited(text, {key: value})
    last = dict(run)
    shown = values_in(text)
    for key, value in last.items():
        assert shown[key] == (value if value != "" else choices()[key].default)
    assert [said for said in comments(STARTER) if said not in text] == []


def test_a_new_key_goes_beside_its_commented_default():
    lines = edited(STARTER, {"site.gust": "70 mph"}).splitlines()
    at = lines.index('gust = "70 mph"')
    assert lines[at - 1].startswith("# gust =")


def test_rows_at_hand_keep_the_rest():
    text = with_row(DEMO, "stock", {"item": "pvc40-1/2", "length": "10 ft", "count": 3})
    assert comments(text) == comments(DEMO)
    back = without_row(text, "stock", 1)
    assert tomllib.loads(back) == tomllib.loads(DEMO)
    assert without_row(DEMO, "stock", 99) == DEMO
    for odd in (ODD, DOTTED):
        more = with_row(odd, "stock", {"item": "pvc40-1/2", "length": "10 ft", "count": 3})
        assert tomllib.loads(more)["stock"][-1]["count"] == 3
        assert comments(more) == comments(odd)


def test_in_turn_by_command_line_and_browser(client, tmp_path):
    """A person edits the file and checks it, the browser changes a key, in turn.

    Twenty turns, fifty in `make long`.

    The reader's own copy of what each key should be is the oracle, and every comment must stand
    at the end, those written on the way too. The command line reads the file at every tenth turn.
    """
    draw = random.Random(11)
    file, wanted = tmp_path / "bed.toml", values_in(DEMO)
    plan = client.post("/api/plans", json={"text": DEMO}).json()["id"]
    written = list(comments(DEMO))
    for turn in range(turns(20, 50)):
        text = client.get(f"/api/plans/{plan}/text").text
        if turn % 2:
            key, values = draw.choice(
                [(k, v) for k, v in QUANTITIES.items() if k not in ("bed.courses", "name")]
            )
            value = draw.choice(values)
            if value == wanted[key]:
                continue
            sent = {key: list(value)} if isinstance(value, tuple) else {key: value}
            answer = client.patch(f"/api/plans/{plan}", json=sent).json()
            assert answer["refused"] == {}
            wanted[key] = value if value != "" else choices()[key].default
        else:
            length = f"{draw.randrange(8, 14)} ft"
            now = tomllib.loads(text)["bed"]["length"]
            note = f"# turn {turn}"
            text = text.replace(f'length = "{now}"', f'length = "{length}"', 1) + f"\n{note}\n"
            file.write_text(text, encoding="utf-8")
            written.append(note)
            wanted["bed.length"] = length
            assert client.put(f"/api/plans/{plan}", json={"text": text}).status_code == 200
        if turn % 10 == 0:
            file.write_text(client.get(f"/api/plans/{plan}/text").text, encoding="utf-8")
            command = [sys.executable, "-m", "hoopwright", "check", str(file)]
            assert subprocess.run(command, capture_output=True, timeout=300).returncode == 0
    text = client.get(f"/api/plans/{plan}/text").text
    assert values_in(text) == wanted
    assert [said for said in written if said not in text] == []
    read_plan_text(text)


def test_what_cannot_be_read_is_said():
    with pytest.raises(PlanError):
        read_plan_text(edited("name = 1", {"bed.length": "8 ft"}))
