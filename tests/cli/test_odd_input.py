"""What a person may well ask by mistake: one message, never a traceback, never a wrong file."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from hoopwright import read_plan
from hoopwright.cli.advise import plan_text
from hoopwright.cli.door import is_for_a_person, plain
from hoopwright.cli.main import app
from hoopwright.cli.text import table
from hoopwright.programme.advise import Choice, Option, weigh_all
from hoopwright.programme.engines import dask
from hoopwright.programme.sweep import SweepError

RUN = CliRunner()
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a short plan in an empty folder."""
    path = tmp_path / "bed.toml"
    path.write_text(BED, encoding="utf-8")
    return path


def refused(*words: object) -> str:
    """Run a command that must end in words for a person, and return them."""
    done = RUN.invoke(app, [str(word) for word in words])
    assert done.exit_code != 0, done.output
    if isinstance(done.exception, SystemExit):
        return done.output
    assert isinstance(done.exception, Exception)
    assert is_for_a_person(done.exception), repr(done.exception)
    return str(done.exception)


def as_json(*words: object) -> object:
    """Run a command and return its output read as JSON, nothing beside it."""
    done: Result = RUN.invoke(app, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


@pytest.mark.parametrize("mark", ["\\u0000", "\\u001b[31m", "\\n", "\\u202e", "\\u2028"])
@pytest.mark.parametrize("line", ['name = "a{}b"', '[site]\nname = "a{}b"', 'prices = "a{}b.csv"'])
def test_a_name_that_no_drawing_can_hold_is_refused(plan: Path, line: str, mark: str) -> None:
    """SVG, DXF, iCalendar and a terminal each break on one of these."""
    plan.write_text(line.format(mark) + "\n", encoding="utf-8")
    assert "cannot be printed" in refused("check", plan)


def test_names_in_any_script_pass(plan: Path) -> None:
    """Only what has no place in a line of text is refused."""
    plan.write_text('name = "Grünes Beet, 苗床, 畑, ערוגה é"\n' + BED, encoding="utf-8")
    assert read_plan(plan).plan.name.startswith("Grünes")


def test_words_to_a_terminal_cannot_drive_it() -> None:
    """An error names what the plan holds, and a plan may hold anything."""
    assert plain("bed.toml: \x1b[2J\n\x07é") == "bed.toml: ?[2J\n?é"


def test_a_sweep_of_a_plan_in_latin_1_says_so(tmp_path: Path) -> None:
    """As every other command does."""
    odd = tmp_path / "odd.toml"
    odd.write_bytes(b'name = "caf\xe9"\n')
    sites = tmp_path / "sites.csv"
    sites.write_text("name\nHere\n", encoding="utf-8")
    says = refused("sweep", "--plans", odd, "--sites", sites, "--out", tmp_path / "out")
    assert "not UTF-8" in says


@pytest.mark.parametrize("address", ["foo", "http://x:1", "tcp://x", "tcp://x:port", ""])
def test_an_address_that_no_scheduler_has_is_said_in_words(address: str) -> None:
    """Before the library is asked, which ends in a traceback or not at all."""
    with pytest.raises(SweepError, match="no address of a scheduler"):
        dask(address)


@pytest.mark.parametrize("name", ["bed.docx", "bed.txt"])
def test_a_sheet_is_not_written_under_a_name_that_says_another_kind(plan: Path, name: str) -> None:
    """A PDF in a .docx opens nowhere."""
    assert "name it so" in refused("sheet", plan, "--no-season", "--out", plan.with_name(name))
    assert not plan.with_name(name).exists()


def test_a_sheet_whose_name_and_format_disagree_is_refused(plan: Path) -> None:
    """The format given and the file's own end must agree."""
    out = plan.with_name("bed.html")
    assert "name it so" in refused("sheet", plan, "--format", "pdf", "--out", out)


@pytest.mark.parametrize("year", ["0", "99999", "-5"])
def test_a_calendar_of_no_year_is_refused(plan: Path, year: str) -> None:
    """Before anything is worked out."""
    assert "year" in refused("season", plan, "--year", year, "--ics", plan.with_name("b.ics"))


@pytest.mark.parametrize(("option", "given"), [("--utc", "nan"), ("--utc", "99")])
def test_a_clock_that_no_place_keeps_is_refused(plan: Path, option: str, given: str) -> None:
    """So that no reading is moved by days."""
    assert "from UTC" in refused("readings", "add", plan, "log.csv", option, given)


def test_a_zone_that_is_none_is_said_in_words(plan: Path) -> None:
    """And not by the library's traceback."""
    log = plan.with_name("log.csv")
    rows = [
        f"2026-04-0{day} {hour:02d}:00,{hour},{hour - day}"
        for day in range(1, 6)
        for hour in range(24)
    ]
    log.write_text("Time,Inside C,Outside C\n" + "\n".join(rows) + "\n", encoding="utf-8")
    assert "no time zone" in refused("readings", "add", plan, log, "--zone", "Mars/Phobos")
    added = as_json("readings", "add", plan, log, "--json")
    assert isinstance(added, dict)
    assert any("120 readings" in line for line in added["added"][0]["says"])
    report = as_json("readings", "report", plan, "--json")
    assert isinstance(report, dict)
    month = report["beds"][0]["measured"]["months"][0]
    assert month["month"] == "2026-04"
    assert month["gain_K"]["count"] >= 1


def test_an_option_with_a_bad_quantity_is_named(plan: Path) -> None:
    """Two options take quantities; the message says which."""
    assert refused("advise", plan, "--hold", "fast").startswith("--hold")
    assert refused("advise", plan, "--height", "tall").startswith("--height")


def test_json_comes_alone_also_where_files_are_written(plan: Path, tmp_path: Path) -> None:
    """A parser reads the whole of the output; the files stand in it."""
    drawn = as_json("climate", "demo", "--draw", tmp_path / "plots", "--json")
    assert isinstance(drawn, dict)
    assert len(drawn["files"]) >= 3
    assert all(Path(file).exists() for file in drawn["files"])
    schema = as_json("schema", "--json")
    assert isinstance(schema, dict)
    assert schema["type"] == "object"
    assert "not both" in refused("cut", plan, "--json", "--csv")


def test_every_number_of_a_catalogue_row_has_its_unit() -> None:
    """Half-inch schedule 40 pipe: 0.840 in outside, 0.109 in wall (ASTM D1785, table 1)."""
    shown = RUN.invoke(app, ["catalogue", "pipe", "pvc40-1/2"]).stdout
    assert "0.84 in" in shown
    assert "0.109 in" in shown
    metric = RUN.invoke(app, ["catalogue", "pipe", "pvc40-1/2", "--units", "metric"]).stdout
    assert "21.34 mm" in metric
    tomato = RUN.invoke(app, ["catalogue", "crop", "tomato"]).stdout
    assert "60 to 85 d" in tomato
    assert "50 °F" in tomato


def test_cuts_and_tables_keep_within_a_narrow_terminal(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Forty columns, as a telephone has."""
    monkeypatch.setenv("COLUMNS", "40")
    lines = RUN.invoke(app, ["cut", str(plan)]).stdout.splitlines()
    assert max(len(line) for line in lines) <= 40
    several_lines = table(("Item", *["A long head"] * 3, "Buy"), [("Pipe", *"abc", "7")])
    assert [line.split() for line in several_lines.splitlines()[:2]] == [["A"] * 3, ["long"] * 3]
    stacked = table(("Item", *["Unbreakable"] * 3, "Buy"), [("Pipe", *"abc", "7")])
    assert "    Buy: 7" in stacked.splitlines()
    assert max(map(len, (several_lines + "\n" + stacked).splitlines())) <= 40


def test_a_saved_design_finds_the_files_of_the_plan(tmp_path: Path) -> None:
    """Its varieties too; the words that are no files stay as they are."""
    months = ", ".join(['"10 C"'] * 12)
    (tmp_path / "mine.toml").write_text(
        '[[crop]]\nkey = "own-kale"\nname = "own kale"\nlike = "kale"\n'
        'source = "own"\nsure = "practice"\n',
        encoding="utf-8",
    )
    plan = tmp_path / "bed.toml"
    plan.write_text(
        f"{BED}[site]\nlatitude = '44 N'\nlongitude = '110 W'\nelevation = '2000 m'\n"
        f"weather = 'normals'\n[normals]\nmaximum = [{months}]\n"
        f"minimum = [{months.replace('10', '0')}]\n[season]\nvarieties = 'mine.toml'\n",
        encoding="utf-8",
    )
    folder = tmp_path / "saved"
    folder.mkdir()
    worth = weigh_all(read_plan(plan), [()], None)[0]
    assert worth is not None
    option = Option((Choice("hold-down", "pinned", {"holding.pin": True}),), worth)
    saved = folder / "bed-1.toml"
    saved.write_text(plan_text(plan, read_plan(plan), option, folder), encoding="utf-8")
    again = read_plan(saved)
    assert again.plan.site.weather == "normals"
    assert again.plan.holding.pin
    assert len(again.varieties) == 1


SEARCH = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # the parent may have told it to ignore
import test_odd_input as here
from hoopwright.cli.main import main
from hoopwright.programme import advise
advise._weigh_group = here.weigh_until_stopped
main()
"""
PATIENCE = 300.0


def weigh_until_stopped(space: object) -> None:
    """Write down that a group of designs was begun, and weigh it until somebody ends this."""
    Path(os.environ["HOOPWRIGHT_TEST_GATE"], f"begun-{os.getpid()}").touch()
    time.sleep(10 * PATIENCE)


@pytest.mark.skipif(os.name != "posix", reason="signals as POSIX has them")
def test_a_search_stopped_at_the_keyboard_stops(plan: Path, tmp_path: Path) -> None:
    """It does not first weigh all that waits: here that would take for ever."""
    gate = tmp_path / "gate"
    gate.mkdir()
    search = [sys.executable, "-c", SEARCH, "advise", str(plan), "--workers", "2", "--no-climate"]
    child = subprocess.Popen(
        search,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, "HOOPWRIGHT_TEST_GATE": str(gate)},
        cwd=Path(__file__).parent,
    )
    try:
        end = time.monotonic() + PATIENCE
        while len(list(gate.iterdir())) < 2:
            assert child.poll() is None, child.communicate()
            assert time.monotonic() < end, "the search never began"
            time.sleep(0.05)
        os.killpg(child.pid, signal.SIGINT)
        _, errors = child.communicate(timeout=PATIENCE)
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(child.pid, signal.SIGKILL)
    assert child.returncode == 130, errors
    assert len(list(gate.iterdir())) == 2
