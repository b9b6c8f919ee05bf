"""`hoopwright climate` as a person runs it: hours, days, the demo, plots, and broken files."""

import itertools
import json
import os
import sys
import xml.etree.ElementTree as ElementTree
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from person import run as as_person

from hoopwright.cli import climate_held
from hoopwright.cli.climate_held import Daily, demo, held_in, plots_of, together
from hoopwright.cli.climate_words import held_words
from hoopwright.climate.demo import demo_weather
from hoopwright.climate.frost import last_frost
from hoopwright.climate.summary import summary
from hoopwright.drawing.placing import text_box
from hoopwright.drawing.scene import Text
from hoopwright.units import METRIC, US

ROOT = Path(__file__).parents[2]
SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", ROOT.parent / "shared")) / "weather"
FILES = sorted(SHARED.glob("*.epw"))
needs_files = pytest.mark.skipif(not FILES, reason=f"no real weather files in {SHARED}")


def run(*words):
    return as_person("climate", *words)


@pytest.fixture(scope="module", autouse=True)
def demo_once():
    """The demo's years are generated once; what is told of them is worked out each time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(climate_held, "demo_weather", cache(lambda years: tuple(demo_weather(years))))
        yield


@pytest.fixture(scope="module")
def record(tmp_path_factory):
    """A GHCN-Daily file of 24 made-up years in which the last frost is known by construction."""
    lines, day = [], date(1990, 1, 1)
    rng = np.random.default_rng(1)
    last = {year: 130 + 3 * n for n, year in enumerate(rng.permutation(np.arange(1990, 2014)))}
    while day.year < 2014:
        # The same date is the same day in every year, a leap year's too.
        leap = day > date(day.year, 2, 28) and date(day.year, 12, 31).timetuple().tm_yday == 366
        place = day.timetuple().tm_yday - leap
        cold = place <= last[day.year] or place >= 260
        if not (day.year == 2000 and 40 <= place < 45):
            stamp = day.strftime("%Y%m%d")
            lines.append(f"USC00999999,{stamp},TMIN,{-10 if cold else 60},,,7,")
            lines.append(f"USC00999999,{stamp},TMAX,{150 + place % 7},,,7,")
            lines.append(f"USC00999999,{stamp},PRCP,{20 if place % 5 == 0 else 0},,,7,")
        day += timedelta(days=1)
    path = tmp_path_factory.mktemp("ghcn") / "station.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_the_demo_says_that_it_is_invented_and_gives_chances():
    done = run("demo")
    assert done.returncode == 0, done.stderr
    for part in ("Marrow Valley (invented)", "30 generated years", "1 year in 10", "invented"):
        assert part in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 96


def test_the_demo_in_json_is_the_mean_of_its_years():
    data = json.loads(run("demo", "--json").stdout)
    assert data["invented"] is True
    assert data["years"] == 30
    years = list(demo_weather(30))
    air = np.concatenate([year.air_temperature[: 31 * 24] for year in years])
    assert data["months"]["mean_degC"][0] == pytest.approx(air.mean(), abs=1e-3)
    coldest = min(year.air_temperature.min() for year in years)
    assert data["lowest_degC"] == pytest.approx(coldest, abs=1e-3)
    spring = data["frost_chances"][0]["last_in_spring"]
    assert [one["probability"] for one in spring] == [0.5, 0.2, 0.1]
    days = [one["day_of_year"] for one in spring]
    assert days == sorted(days)


def test_several_years_together_keep_means_and_extremes():
    some = [summary(year) for year in demo_weather(3)]
    joined = together(some)
    assert joined.hours == sum(one.hours for one in some)
    assert joined.mean == pytest.approx(np.mean([one.mean for one in some], axis=0))
    assert joined.strongest_wind == max(one.strongest_wind for one in some)


def test_a_daily_record_gives_quantiles_with_their_sampling_error(record):
    done = run(record, "--units", "metric")
    assert done.returncode == 0, done.stderr
    assert "does not say where it stands" in done.stdout
    assert "90 % range of the 1 in 10" in done.stdout
    data = json.loads(run(record, "--json").stdout)
    spring = data["frost_chances"][0]["last_in_spring"]
    # Last frosts by construction: 130, 133 ... 199, evenly, so the middle is known by hand.
    assert spring[0]["day_of_year"] == pytest.approx((130 + 199) / 2)
    assert spring[2]["low"] < spring[2]["day_of_year"] <= spring[2]["high"] + 1e-9
    held = held_in(str(record))
    assert isinstance(held, Daily)
    expected = last_frost(held.frost[0], 0.1)
    assert spring[2]["day_of_year"] == pytest.approx(expected.day, abs=0.06)
    assert data["station"]["latitude_deg"] is None
    assert data["complete_share"] < 1


@pytest.mark.parametrize("units", ["us", "metric"])
def test_plots_are_drawn_in_either_unit_and_none_has_words_on_words(units, record, tmp_path):
    system = US if units == "us" else METRIC
    done = run("demo", "--draw", tmp_path / "plots", "--units", units)
    assert done.returncode == 0, done.stderr
    written = [Path(line) for line in done.stdout.split()]
    names = {path.stem for path in written}
    assert {"temperatures", "hours", "frost", "sun", "wind", "rain", "coldest-night"} <= names
    for path in written:
        words = "".join(ElementTree.parse(path).getroot().itertext())
        assert "Invented" in words, f"{path.stem} does not say that its weather is invented"
    for held in (demo(2), held_in(str(record))):
        for view in plots_of(held, system):
            texts = [s for s in view.shapes() if isinstance(s, Text) and s.text]
            boxes = [(t.text, text_box(t, 1.0)) for t in texts]
            for (a, one), (b, other) in itertools.combinations(boxes, 2):
                assert not one.overlaps(other), f"{view.name}: {a!r} on {b!r}"


def test_a_daily_record_is_drawn_with_its_gaps(record, tmp_path):
    done = run(record, "--draw", tmp_path)
    assert done.returncode == 0, done.stderr
    svg = (tmp_path / "nights.svg").read_text()
    assert "5 are missing" in svg
    assert 'aria-label="Not known"' in svg


def test_a_missing_file_and_a_wrong_one_end_in_one_line_and_exit_2(tmp_path):
    gone = run(tmp_path / "gone.epw")
    assert gone.returncode == 2
    assert len(gone.stderr.strip().splitlines()) == 1
    assert "gone.epw" in gone.stderr
    other = tmp_path / "notes.txt"
    other.write_text("nothing of the kind\n")
    wrong = run(other)
    assert wrong.returncode == 2
    assert "line 1" in wrong.stderr
    assert "accepted are" in wrong.stderr


def test_a_broken_hour_is_named_by_line_and_column(record, tmp_path):
    lines = record.read_text().splitlines()
    lines[100] = lines[100].replace(",TM", ",TM").rsplit(",", 5)[0] + ",cold,,,7,"
    broken = tmp_path / "broken.csv"
    broken.write_text("\n".join(lines) + "\n")
    done = run(broken)
    assert done.returncode == 2
    assert "line 101" in done.stderr
    assert "column" in done.stderr
    assert "Traceback" not in done.stderr


@needs_files
@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem[:12])
def test_real_typical_years_are_told_without_any_chance(path):
    held = held_in(str(path))
    for system in (US, METRIC):
        words = held_words(held, system)
        assert "carries no probability" in words
        assert "1 year in 2 " not in words
        assert "nan" not in words
        for view in plots_of(held, system):
            texts = [s for s in view.shapes() if isinstance(s, Text) and s.text]
            boxes = [(t.text, text_box(t, 1.0)) for t in texts]
            for (a, one), (b, other) in itertools.combinations(boxes, 2):
                assert not one.overlaps(other), f"{view.name}: {a!r} on {b!r}"


@needs_files
def test_a_typical_years_figures_are_those_of_the_file():
    """Outside truth: the columns of the EPW itself, read here by hand."""
    path = next(p for p in FILES if "Bozeman" in p.name)
    rows = [line.split(",") for line in path.read_text("latin-1").splitlines()[8:]]
    july = [float(row[6]) for row in rows if row[1] == "7"]
    sun = sum(float(row[13]) for row in rows) / 1000
    done = json.loads(run(path, "--json").stdout)
    assert done["months"]["mean_degC"][6] == pytest.approx(np.mean(july), abs=0.05)
    assert done["radiation_kWh_m2_a"] == pytest.approx(sun, rel=1e-3)
    assert done["lowest_degC"] == min(float(row[6]) for row in rows)
    assert done["typical_year"] is True
    assert done["frost_chances"] == []
