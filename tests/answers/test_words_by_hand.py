"""Numbers as they are told: chances, years, hours of work, what a change costs, day and hour.

Each sentence is the one a page, the card or a command prints, its figure worked out by hand.
"""

from __future__ import annotations

import csv
from datetime import UTC, date, datetime
from functools import cache
from importlib import resources
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import norm

from hoopwright.answers.facts import facts
from hoopwright.answers.labour import counts_of, labour_of
from hoopwright.answers.ladder_words import besides, change_words, ladder_words, plan_for_snow
from hoopwright.answers.season_warmth import warmth
from hoopwright.answers.strength_words import (
    chance_words,
    snow_here,
    strength_words,
    years_words,
)
from hoopwright.answers.vent_words import day_lines, off_words
from hoopwright.answers.voice import Voice
from hoopwright.design import Design, design_of
from hoopwright.heat.compare import NightGain, NightGains
from hoopwright.heat.uncertainty import Band
from hoopwright.plan.read import read_plan_text
from hoopwright.programme.changes import Change, WorkedChange
from hoopwright.season.tomorrow import Tomorrow
from hoopwright.units import METRIC, US, show

MPH = 0.44704
#: 50 mph once in ten years; all that is counted by more than the hoops is in it.
BED = """
[bed]
length = "24 ft"
width = "4 ft"
board = "2x6"
courses = 2
[site]
gust = "50 mph"
gust_years = 10
[hoops]
pipe = "pvc40-3/4"
stock_length = "12 ft"
straps_per_leg = 2
[cover]
style = "wrapped"
roll_up = "one"
fixed_edge = "bury"
lacing = true
[holding]
pin = true
rail = "tied"
tied_to_soil = true
"""


@cache
def bed(text: str = BED) -> Design:
    return design_of(read_plan_text(text))


@pytest.mark.parametrize(
    ("chance", "says"),
    [
        (0.98, "nearly always"),
        (0.96, "about 9 times in ten"),
        (0.64, "about 6 times in ten"),
        (0.52, "about half the time"),
        (0.33, "about 3 times in ten"),
        (0.13, "about one time in ten"),
        (0.02, "hardly ever"),
    ],
)
def test_a_chance_is_told_to_the_nearest_tenth(chance: float, says: str) -> None:
    assert chance_words(chance) == says


@pytest.mark.parametrize(
    ("years", "says"),
    [
        (0.1, "many times a year"),
        (0.25, "about 4 times a year"),
        (1.2, "about once a year"),
        (2.2, "about once in two years"),
        (7.4, "about once in 7 years"),
        (14.6, "about once in 15 years"),
        (34.0, "about once in 30 years"),
        (260.0, "about once in 300 years"),
        (700.0, "less than once in 500 years"),
    ],
)
def test_years_between_are_told_to_one_figure_or_two(years: float, says: str) -> None:
    assert years_words(years) == says


def test_how_often_stronger_gusts_come_is_by_the_plans_own_gust_and_years() -> None:
    """ASCE 7-16 C26.5, from memory: V_T / V_50 = 0.36 + 0.1 ln(12 T). With 50 mph once in ten
    years a gust v comes once in exp((v / V_50 - 0.36) / 0.1) / 12 years; nine beds in ten, and
    half, stand the 10 and 50 % of what was drawn."""
    found, told = bed().ladder, strength_words(bed())
    careful, half = (float(np.quantile(found.opens.at, share)) for share in (0.1, 0.5))
    assert f"Plan for gusts up to {show(careful, 'speed', US)};" in told.answer
    assert f"half stand {show(half, 'speed', US)}." in told.answer
    fifty = 50 * MPH / (0.36 + 0.1 * np.log(120))
    years = float(np.exp((careful / fifty - 0.36) / 0.1) / 12)
    assert "50 mph comes about once in 10 years" in told.here
    assert f"gusts above the one to plan for come {years_words(years)}." in told.here
    each = 12 / np.exp((found.opens.at / fifty - 0.36) / 0.1)
    one, four = (chance_words(float(np.mean(np.exp(-n * each)))) for n in (1, 4))
    assert one != four
    assert f"through one year {one}, through four {four}." in told.here


def test_how_often_snow_comes_is_by_the_plans_own_load_and_winters() -> None:
    """A log-normal with a spread of 0.7 whose 20 psf comes once in 30 winters (ASCE 7-16 C7.2, from
    memory): Phi(Phi^-1(29 / 30) + ln(load / 20 psf) / 0.7), for 1 and 4 winters."""
    snowy = bed(BED.replace("[site]", '[site]\nground_snow = "20 psf"\nsnow_years = 30'))
    ratio = snowy.ladder.snow_on_ground / (20 * 47.88026)
    below = norm.cdf(norm.ppf(29 / 30) + np.log(ratio) / 0.7)
    one, four = (chance_words(float((below**n).mean())) for n in (1, 4))
    assert one != four
    assert f"through one winter {one}, through four {four}" in snow_here(snowy)
    assert "20 psf lies on the ground about once in 30 winters" in snow_here(snowy)


def test_snow_to_plan_for_is_told_as_a_load_and_as_two_depths_of_it() -> None:
    """The careful load of the first wet rung; its depth as fresh wet snow; and the 10 % of load
    over g and the drawn density of old wet snow, which is heavier, so less deep."""
    found = bed().ladder
    rung = found.wet_snow
    load = float(np.quantile(rung.load, 0.1))
    old = float(np.quantile(rung.load / 9.80665 / found.inputs.density("old wet"), 0.1))
    words = plan_for_snow(bed(), Voice(METRIC))
    assert f"Plan for {show(load, 'pressure', METRIC)} of snow" in words
    assert f"about {show(rung.careful, 'depth', METRIC)} of it fresh and wet" in words
    assert f"{show(old, 'depth', METRIC)} old and wet" in words
    assert old < rung.careful


def test_the_parts_of_the_ladder_name_their_own_hazards() -> None:
    parts = ladder_words(bed())
    assert [part.title for part in parts] == ["Wind", "Snow and ice", "Hail"]
    new = next(one for one in bed().ladder.hail if one.name == "hail-through-new")
    stone = show(float(np.quantile(new.at, 0.1)), "tape", US)
    assert f"stops stones up to {stone}" in besides(bed())[-1]


@pytest.mark.parametrize(
    ("cost", "says"), [(12.5, "adds $12.50"), (-3.0, "saves $3.00"), (0.0, "costs nothing")]
)
def test_what_a_change_costs_is_added_or_saved(cost: float, says: str) -> None:
    """From 20 to 25 m/s, which is 56 mph; and from 10 to 20 in of wet snow."""
    one = WorkedChange(Change("A screw", {}), 25.0, 0.508, 20.0, 0.254, cost)
    (words,) = change_words(bed(), [one])
    assert words.gain == f"plan for gusts up to 56 mph, for 20 in of wet snow; {says}."


def test_work_is_what_one_thing_takes_times_how_often_it_is_done() -> None:
    """24 ft is 8 yards of trench along one buried edge; two courses have eight corners; twice as
    many marks, pins and legs as hoops, and two straps on each leg; one 24 ft 6 in rail of 10 ft
    sticks has two joints. Times are the table's own columns, in their order."""
    counts, hoops = counts_of(bed()), len(bed().hoops)
    assert counts["trench"] == 8
    assert counts["corner"] == 8
    assert (counts["mark"], counts["pin"], counts["strap"]) == (2 * hoops, 2 * hoops, 4 * hoops)
    assert (counts["rail"], counts["rail-hold"], counts["lacing"]) == (1, hoops, hoops - 1)
    assert counts["splice"] == sum(len(rail) - 1 for rail in bed().cover.rails) > 0
    assert counts["end-fold"] == 2
    table = resources.files("hoopwright.answers").joinpath("labour.csv").read_text("utf-8")
    rows = {row["key"]: row for row in csv.DictReader(table.splitlines())}
    found = labour_of(bed())
    for end in ("low", "likely", "high"):
        by_hand = sum(float(rows[key][f"{end} [s]"]) * count for key, count in counts.items())
        assert getattr(found, end) == pytest.approx(by_hand)


def test_inside_widths_and_the_push_after_a_season_are_told() -> None:
    """Widths at 1 ft and 2 ft over the boards, between the insides of the pipe: straight lines
    between the points of its centreline, less a diameter. Later the legs push by the share of
    the bend's force that the table says is left."""
    told = {fact.label: fact.says for fact in facts(bed())}
    hoop, top = bed().hoop, bed().bed.height
    line = hoop.centreline
    left = line[: int(np.argmax(line[:, 1])) + 1]
    for feet in (1, 2):
        across = -2 * float(np.interp(top + feet * 0.3048, left[:, 1], left[:, 0]))
        wide = show(across - hoop.pipe.outside_diameter, "length", US)
        assert f"{wide} wide at {12 * feet} in" in told["Inside"]
    left_over = hoop.pipe.stuff.relaxation.likely
    later = show(abs(hoop.thrust()) * left_over, "force", US)
    assert f"about {later} after a season" in told["Push"]
    cold = hoop.pipe.stuff.strain_limit_at(bed().plan.hoops.coldest_bend)
    low, high = (show(one, "strain", US) for one in (cold.low, cold.high))
    assert f"bears about {low} to {high}" in told["Bend"]


def cover(name: str, gains: NightGains | None, light: float, lettuce: float) -> SimpleNamespace:
    return SimpleNamespace(
        name=name, gains=gains, gain_band=None if gains is None else Band(0.5, 1.0, 1.5),
        trials={}, hot=3.0, very_hot=1.0, degree_days=100.0, wet_leaf=7.0, water=254.0,
        light=(light, 0.5 * light), lettuce=(lettuce, lettuce), spans={0.0: 120.0},
        soil=np.arange(12.0),
    )  # fmt: skip


def test_the_year_under_each_cover_is_told_month_by_month() -> None:
    """Soil that is as many degC as its month has before it: March 2, May 4, July 6, October 9, in
    Fahrenheit 36, 39, 43, 48. 100 K d are 180 in Fahrenheit, 254 mm are 10 in, 1 K is 1.8 F; 30 of
    40 mol is 75 %, and lettuce grows 0.9 of 0.95, which is 95 %."""
    night = NightGain(1.0, -0.5, 2.0, 12, 365)
    gains = NightGains(NightGain(3.0, 1.0, 5.0, 4, 365), NightGain(2.0, 1.0, 3.0, 5, 365), night)
    report = SimpleNamespace(
        covers=(cover("open bed", None, 40.0, 0.95), cover("film", gains, 30.0, 0.9)),
        marked=lambda words: words,
    )
    us = {row.label: row.cells[1] for row in warmth(report, US).rows}
    assert us["Soil at 2 in, March"] == "36 °F"
    assert us["Soil at 2 in, May"] == "39 °F"
    assert us["Soil at 2 in, July"] == "43 °F"
    assert us["Soil at 2 in, October"] == "48 °F"
    assert us["Degree days above 50 °F"] == "180 °F d"
    assert us["Water from soil and leaves"] == "10 in"
    assert us["Night leaves against open leaves"] == (
        "+1.8 °F (-0.9 °F to +3.6 °F); colder in on 12 nights"
    )
    assert us["Night air against the open bed"].startswith("+3.6 °F (+1.8 °F to +5.4 °F)")
    assert us["Night air against the station"] == "+5.4 °F"
    assert us["Light on the plants, half year of long days"] == (
        "75 %, in the dark half of the year 75 %; lettuce grows 95 and 95 % as fast by it"
    )
    metric = {row.label: row.cells[1] for row in warmth(report, METRIC).rows}
    assert metric["Degree days above 10 °C"] == "100 °C d"
    assert metric["Hours a year above 32 °C"] == "3"


def test_covers_that_overlap_in_any_pair_are_not_ranked() -> None:
    gains = NightGains(*[NightGain(1.0, 0.0, 2.0, 0, 365)] * 3)
    apart = cover("far", gains, 30.0, 0.9)
    apart.gain_band = Band(3.0, 3.5, 4.0)
    three = (cover("open bed", None, 40.0, 0.9), cover("a", gains, 30.0, 0.9), apart)
    held = SimpleNamespace(covers=three, marked=lambda words: words)
    assert "cannot be ranked" not in warmth(held, US).note
    held.covers = (*three, cover("b", gains, 30.0, 0.9))
    assert "cannot be ranked" in warmth(held, US).note


@pytest.mark.parametrize(
    ("day", "off"),
    [((1, 5), False), ((4, 30), False), ((5, 1), True), ((7, 4), True), ((10, 1), False)],
)
def test_a_cover_of_the_cold_half_is_off_in_summer_alone(day: tuple[int, int], off: bool) -> None:
    """On from 1 October over the New Year until 30 April."""
    text = BED + '[season]\ncover_from = "10-01"\ncover_until = "04-30"\n'
    said = off_words(bed(text), date(2026, *day))
    assert bool(said) == off
    assert not off or "on from 1 October to 30 April" in said[0]


@pytest.mark.parametrize(
    ("opens", "closes", "said"),
    [
        (8.5, 17.0, "from 9:30 am, sides up 12 in, shut by 6:00 pm"),
        (11.5, 12.0, "from 12:30 pm, sides up 12 in, shut by 1:00 pm"),
        (0.25, 11.0, "from 1:15 am, sides up 12 in, shut by 12:00 pm"),
    ],
)
def test_hours_of_a_summer_day_are_told_by_the_wall_clock(
    opens: float, closes: float, said: str
) -> None:
    """Standard time is seven hours behind, the clock in July six: an hour is added."""
    found = Tomorrow(
        date(2026, 7, 4), opens, closes, 0.3048, 40.0, 30.0, 8.0, 6.0, 5.0, 2.5, False, None, False,
        (), (),
    )  # fmt: skip
    station = SimpleNamespace(utc_offset=-7.0)
    forecast = SimpleNamespace(
        weather=SimpleNamespace(station=station, start=datetime(2026, 7, 4, tzinfo=UTC)),
        time_zone="America/Denver",
    )
    lines = day_lines(found, forecast, bed())
    assert lines[0].startswith(f"Open {said}: 86 °F inside at most, 104 °F if shut.")
    # Leaves and not air, with the doubt as a difference.
    assert lines[1] == (
        "Night: leaves inside down to 43 °F (give or take 4.5 °F), outside air 41 °F."
    )
