"""Hours of wind, and a barrier that stands across some of the strong ones, worked by hand."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hoopwright.answers.strength_words import place_gusts, place_shelter, strength_words
from hoopwright.climate.read import read_weather
from hoopwright.design import design_of
from hoopwright.loads.shelter import covered_angle, sheltered_share
from hoopwright.loads.wind_hours import YEAR, WindHours, hours_over
from hoopwright.loads.yearly import Sheltered, YearlyGust
from hoopwright.plan import read_plan, read_plan_text

WEATHER = Path(os.environ.get("HOOPWRIGHT_SHARED", "../shared")) / "weather"
#: 96 calm hours and four strong ones, two of them from about west.
HOURS = WindHours(
    np.array([2.0] * 96 + [10.0, 11.0, 12.0, 13.0]),
    np.array([90.0] * 96 + [250.0, 285.0, 10.0, 350.0]),
)
PLAN = """
[bed]
length = "12 ft"
width = "3 ft"
[site]
gust = "70 mph"
gust_years = 10
barrier = "dense hedge"
barrier_height = "8 ft"
barrier_distance = "40 ft"
barrier_length = "60 ft"
"""


def test_hours_are_counted():
    assert HOURS.over([1.0, 2.0, 10.5, 20.0]) == pytest.approx([YEAR, 0.04 * YEAR, 0.03 * YEAR, 0])


def test_strong_hours_from_a_sector():
    """Of the strongest four one is within 15 degrees of west and two within 20; of the two
    strongest both are within 20 of due north, over which the angle is counted round."""
    assert HOURS.strong_from(270.0, 15.0, strong=0.04) == 0.25
    assert HOURS.strong_from(270.0, 20.0, strong=0.04) == 0.5
    assert HOURS.strong_from(0.0, 20.0, strong=0.02) == 1.0
    assert HOURS.strong_from(355.0, 10.0, strong=0.02) == 0.5
    assert WindHours(np.zeros(5), np.zeros(5)).strong_from(0.0, 180.0) == 0.0


def test_a_barrier_covers_what_it_subtends():
    assert covered_angle(20.0, 10.0, 0.0) == pytest.approx(45.0)
    assert covered_angle(20.0, 0.0, 0.0) == pytest.approx(90.0)
    # Two heights of each end do not count: 10 - 2 x 1.5 = 7 m at 7 m; a stump covers nothing.
    assert covered_angle(20.0, 7.0, 1.5) == pytest.approx(45.0)
    assert covered_angle(4.0, 7.0, 1.5) == 0.0


def test_a_short_barrier_takes_less_off():
    """A dense hedge of 2 m, the bed five heights behind: 0.22 of the wind is left behind a long
    one; of one 10 m long, half of ten heights, half of the cut: 1 - 0.78 / 2."""
    long, ten_heights, short = (
        sheltered_share("dense hedge", 2.0, 10.0, 1.0, barrier_length=length)
        for length in (np.inf, 20.0, 10.0)
    )
    assert long == ten_heights == sheltered_share("dense hedge", 2.0, 10.0, 1.0)
    assert long.low == pytest.approx(0.22)
    assert short.low == pytest.approx(1 - 0.78 / 2)
    assert short.likely == pytest.approx(1 - 0.78 / 4)
    assert short.high == 1.0


def test_rayleighs_hours():
    """Half of all hours lie above 2 sqrt(ln 2 / pi) of the mean, 0.939."""
    assert hours_over(0.9394, 1.0) == pytest.approx(YEAR / 2, rel=1e-3)


@pytest.mark.skipif(not WEATHER.is_dir(), reason="no shared weather files")
def test_rayleighs_hours_against_five_weather_years():
    """U.S. typical years: hours above their own mean within 15 % of what the mean gives."""
    for file in sorted(WEATHER.glob("*.epw")):
        speed = read_weather(file).wind_speed
        counted = float(WindHours(speed, speed).over(speed.mean()))
        assert float(hours_over(1.0, 1.0)) == pytest.approx(counted, rel=0.15), file.name


def test_odds_behind_a_barrier_by_hand():
    """40 m/s once in fifty years; a bed that stands 30 meets more every e^3.9 / 12 = 4.117 years.
    Half of the winds reach it at half their speed: those never matter, so a year is got through
    with e^(-0.5 / 4.117) = 0.8856; without the barrier 0.7843."""
    gusts, stands = YearlyGust(40.0), np.array([30.0])
    half = replace(gusts, sheltered=Sheltered(0.5, np.array([0.5])))
    assert gusts.gets_through(stands, 1) == pytest.approx(0.7843, abs=2e-4)
    assert half.gets_through(stands, 1) == pytest.approx(0.8856, abs=2e-4)
    for nothing in (Sheltered(0.0, np.array([0.5])), Sheltered(0.7, np.array([1.0]))):
        assert replace(gusts, sheltered=nothing).gets_through(stands, 1) == pytest.approx(
            0.7843, abs=2e-4
        )


def test_a_barrier_softens_the_odds_and_never_the_gust_to_plan_for():
    found = {}
    for direction in ("", 'barrier_direction = "270 deg"\n', 'barrier_direction = "90 deg"\n'):
        design = design_of(read_plan_text(PLAN + direction))
        design.__dict__["wind_hours"] = HOURS
        found[direction] = design
    plain, west, east = found.values()
    assert place_shelter(plain) is None
    # The strongest 2 % blow from the north; none over the hedge, which covers 19 degrees each way.
    assert place_shelter(east).covered == place_shelter(west).covered == 0.0
    strong = WindHours(HOURS.speed, np.full(100, 280.0))
    west.__dict__["wind_hours"] = strong
    sheltered = place_shelter(west)
    assert sheltered.covered == 1.0
    assert 0.2 < sheltered.behind.min() < sheltered.behind.max() <= 1.0
    assert np.array_equal(west.ladder.opens.at, plain.ladder.opens.at)
    assert strength_words(west).answer == strength_words(plain).answer
    at, gusts = west.ladder.opens.at, place_gusts(west)
    open_to_all = place_gusts(plain)
    assert gusts.gets_through(at, 4) > open_to_all.gets_through(at, 4) + 0.02
    assert gusts.once_in(10) == open_to_all.once_in(10)
    assert "dense hedge" in strength_words(west).here
    assert "dense hedge" not in strength_words(plain).here


@pytest.mark.skipif(not WEATHER.is_dir(), reason="no shared weather files")
def test_a_plan_with_its_weather_file(tmp_path):
    """Cheyenne: four of five strong hours blow from between west and north-west, more than half of
    all from within 19 degrees of 290."""
    file = next(WEATHER.glob("*Cheyenne*.epw"))
    (tmp_path / "year.epw").symlink_to(file.resolve())
    more = 'weather = "year.epw"\nbarrier_direction = "290 deg"\n'
    (tmp_path / "bed.toml").write_text(PLAN + more)
    design = design_of(read_plan(tmp_path / "bed.toml"))
    assert 0.5 < place_shelter(design).covered < 0.8
    assert [one.name for one in design.findings].count("flogging") == 1
