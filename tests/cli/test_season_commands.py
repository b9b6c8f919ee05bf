"""The season and vent commands as a person runs them, on a small plan and few years."""

import datetime
import json
import os
import sys
from importlib import resources
from pathlib import Path

import icalendar
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from person import SMALL_BED
from person import run as as_person

PLAN = f"""
name = "Small try"
{SMALL_BED}years = 3
crops = ["radish", "kale", "tomato"]
beside = ["fabric-1.0"]
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    place = tmp_path_factory.mktemp("season")
    (place / "bed.toml").write_text(PLAN)
    return place


def run(folder, *words):
    return as_person(*words, cwd=folder, env={"HOOPWRIGHT_CACHE": str(folder / "cache")})


def test_season_prints_three_tables_and_is_kept(folder):
    first = run(folder, "season", "bed.toml")
    assert first.returncode == 0, first.stderr
    for words in ("Warmer than what", "When to sow and plant", "Opening through the year"):
        assert words in first.stdout
    assert "invented" in first.stdout
    assert "Radish (sow)" in first.stdout
    assert list((folder / "cache").glob("season-*.kept"))
    again = run(folder, "season", "bed.toml")
    assert again.stdout == first.stdout


def test_season_data_hours_and_calendar(folder):
    data = json.loads(run(folder, "season", "bed.toml", "--json").stdout)
    assert len(data["covers"]) == 3
    assert data["covers"][0]["gains"] is None
    assert set(data["crops"]) == {"radish", "kale", "tomato"}
    done = run(folder, "season", "bed.toml", "--hours", "hours.csv")
    assert done.returncode == 0, done.stderr
    lines = (folder / "hours.csv").read_text().splitlines()
    assert len(lines) == 8761
    assert lines[0].startswith("hour_ending_standard_time,outside_air_degC")
    run(folder, "season", "bed.toml", "--hours", "hours.parquet")
    import pyarrow.parquet

    assert pyarrow.parquet.read_table(folder / "hours.parquet").num_rows == 8760
    done = run(folder, "season", "bed.toml", "--ics", "bed.ics", "--year", "2027")
    assert done.returncode == 0, done.stderr
    read = icalendar.Calendar.from_ical((folder / "bed.ics").read_bytes())
    events = read.walk("VEVENT")
    assert len(events) > 4
    assert all(event["DTSTART"].dt.year in (2027, 2028) for event in events)


def test_no_cover_is_told_shut_over_a_bed_being_picked(folder):
    """A start is in the bed from its sowing to its picking: so no half month between the first
    picking of the earliest start and the sowing of the latest may count as empty. Counting the
    earliest start alone, up to its first picking, July read 'shut' over kale still cut.
    """
    data = json.loads(run(folder, "season", "bed.toml", "--json").stdout)
    own = data["covers"][1]["name"]
    sown = [of[own] for of in data["crops"].values() if of[own]["earliest"]]
    assert sown
    first = min(one["harvest"]["middle"] for one in sown)
    last = max(one["latest"]["day"] for one in sown)
    seen = 0
    for half in data["opening_calendar"]:
        middle = datetime.date(2027, half["month"], 8 if half["half"] == 1 else 23)
        if first <= middle.timetuple().tm_yday <= last:
            seen += 1
            assert "None of these crops" not in half["sentence"]
        elif half["month"] == 1:
            assert "None of these crops" in half["sentence"]
    assert seen


def test_an_hours_file_of_another_kind_is_refused(folder):
    done = run(folder, "season", "bed.toml", "--hours", "hours.xls")
    assert done.returncode == 2
    assert ".csv or a .parquet" in done.stderr


def test_vent_without_a_service_says_so_and_uses_the_typical_day(folder):
    """No network here: the plain sentence, then advice from typical days."""
    done = run(folder, "vent", "bed.toml")
    assert done.returncode == 0, done.stderr
    assert "cannot be reached" in done.stdout
    assert "not what is coming" in done.stdout
    assert "Night:" in done.stdout
    assert "Traceback" not in done.stderr


def test_vent_reads_a_real_forecast_file(folder):
    shared = Path(os.environ.get("HOOPWRIGHT_SHARED", Path(__file__).parents[3] / "shared"))
    file = shared / "forecast" / "detailed_forecast.json"
    if not file.exists():
        pytest.skip(f"no forecast files at {shared}; set HOOPWRIGHT_SHARED")
    done = run(folder, "vent", "bed.toml", "--file", file, "--days", "2")
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("Night:") == 2


def test_vent_for_machines_reads_the_national_example(folder):
    """It held a time of day, which JSON has no word for, and ended in a traceback."""
    examples = resources.files("hoopwright.climate.forecast") / "examples"
    with resources.as_file(examples / "national_grid.json") as file:
        done = run(folder, "vent", "bed.toml", "--file", file, "--json")
    assert done.returncode == 0, done.stderr
    (day,) = json.loads(done.stdout)["days"]
    datetime.date.fromisoformat(day["day"])


@pytest.mark.parametrize(
    ("on", "until", "off"),
    [("1 Jan", "31 Dec", 0), ("1 Jan", "1 Apr", 1), ("1 Nov", "31 May", 0), ("1 Nov", "1 May", 1)],
)
def test_vent_says_where_the_plan_has_the_cover_off(folder, on, until, off):
    """The national example is of a day in May."""
    plan = PLAN + f'cover_from = "{on}"\ncover_until = "{until}"\n'
    (folder / "dated.toml").write_text(plan)
    examples = resources.files("hoopwright.climate.forecast") / "examples"
    with resources.as_file(examples / "national_grid.json") as file:
        done = run(folder, "vent", "dated.toml", "--file", file)
    assert done.returncode == 0, done.stderr
    assert " ".join(done.stdout.split()).count("has the cover off on this day") == off


def test_vent_with_a_broken_file_is_one_message(folder):
    (folder / "broken.json").write_text('{"properties": {')
    done = run(folder, "vent", "bed.toml", "--file", "broken.json")
    assert done.returncode == 2
    assert len(done.stderr.strip().splitlines()) == 1


def test_next_year_is_the_default(folder):
    done = run(folder, "season", "bed.toml", "--ics", "next.ics")
    assert done.returncode == 0
    assert str(datetime.date.today().year + 1) in (folder / "next.ics").read_text()
