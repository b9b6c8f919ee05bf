"""What a half month costs a plant, bands that the tables leave out, and dates of partial losses."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from made_years import made, started

from hoopwright.climate.demo import demo_weather
from hoopwright.season.bed_years import Digest
from hoopwright.season.crop_days import CropDays, Habits, hot_limits, wanted_soil
from hoopwright.season.crop_records import complete_cold
from hoopwright.season.crops import crop
from hoopwright.season.gains import of_days
from hoopwright.season.harvests import HOLDS, cleared_days, first_harvest, middle_harvest
from hoopwright.season.running import _costs
from hoopwright.season.succession import Turn, timetables
from hoopwright.season.water import covered_air
from hoopwright.season.windows import window


def days_of(**told) -> CropDays:
    """Two years of days on which nothing happens but what is told: field -> (year, days, value)."""
    shape = (2, 365)
    held = {name: np.zeros(shape) for name in ("sprout", "growth", "chill", "stalk", "ready")}
    held["light"] = np.full(shape, np.nan)
    held |= {name: np.full(shape, -1.0) for name in ("seedling", "plant", "flower", "scorched")}
    held["hot"] = np.zeros((3, *shape))
    for name, changes in told.items():
        for year, days, value in changes:
            held[name][..., year, days] = value
    return CropDays(**held)


def test_what_half_a_month_costs_a_standing_plant():
    """1 to 15 January: of the first year 0.3 dead of cold, the worst night counting, 0.2 of heat,
    and 10 degrees a day grown, worth a fifth of their share of the way; of the second all is dead,
    0.9 and 0.4 making no more than one: (0.5 - 0.2 x 150 / needed + 1) / 2. From 16 January a
    night far below the band kills once, a mild heat not at all: 1 in one year of two. In February
    half the hot days that spoil it in two readings of three: 2/3 x 0.5 / 2."""
    plant = crop("lettuce-leaf")
    needed, spoiled = plant.thermal_time().middle, plant.spoiled_after()
    hot = round(spoiled / 2)
    days = days_of(
        plant=[(0, 3, 0.3), (0, 9, 0.25), (1, 3, 0.9), (0, 20, 1.7)],
        scorched=[(0, 5, 0.2), (1, 14, 0.4), (1, 20, -0.5)],
        growth=[(0, slice(0, 15), 10.0)],
    )
    days.hot[:2, 1, 31 : 31 + hot] = 1.0
    (found,) = _costs(plant, [days])
    assert found[0] == pytest.approx((0.5 - 0.2 * 150 / needed + 1.0) / 2)
    assert found[1] == pytest.approx(0.5)
    assert found[2] == pytest.approx(2 / 3 * hot / spoiled / 2)
    assert found[3:] == pytest.approx(np.zeros(21))
    other = days_of(growth=[(0, slice(0, 15), 20.0), (1, slice(0, 15), 20.0)])
    assert _costs(plant, [days, other])[1, 0] == pytest.approx(-0.2 * 300 / needed)


def test_heat_is_read_at_the_middles_of_thirds():
    """Of a band from a to b: a + (b - a) / 6, the middle, a + 5 (b - a) / 6; a warm-season crop by
    its hottest hour alone, a cool-season one by the month's mean as well."""
    for key, warm in (("snap-bean", True), ("spinach", False)):
        plant = crop(key)
        low, high = plant.heat.limit.low, plant.heat.limit.high
        found = hot_limits(plant, Habits())
        at = [low + (high - low) * sixths / 6 for sixths in (1, 3, 5)]
        assert [limit for limit, _ in found] == pytest.approx(at)
        best, most = plant.growth.optimum_month.high, plant.growth.most_month
        means = [best + (most - best) * sixths / 6 for sixths in (1, 3, 5)]
        assert [mean for _, mean in found] == ([-np.inf] * 3 if warm else pytest.approx(means))


def test_the_soil_that_is_waited_for():
    """Seed: what it germinates at, 40 degF (4.4) at least; plants: their soil, or else the base."""
    how = Habits()
    spinach, bean, tomato = crop("spinach"), crop("snap-bean"), crop("tomato")
    assert wanted_soil(spinach, how) == max(4.4, spinach.germination.least_soil)
    assert wanted_soil(bean, how) == bean.germination.least_soil > 4.4
    wanted = tomato.growth.soil_to_plant or tomato.degrees.base.middle
    assert wanted_soil(tomato, how) == max(4.4, wanted)
    bare = replace(tomato, growth=replace(tomato.growth, soil_to_plant=None))
    assert wanted_soil(bare, how) == max(4.4, tomato.degrees.base.middle)


@pytest.mark.parametrize(("kill", "seedling"), [(-3.0, 2 / 1.8), (-0.5, 0.5), (0.5, 0.0)])
def test_bands_that_a_list_leaves_out(kill, seedling):
    """One number is the top of a band 2 degF wide; leaves are hurt 4 degF above; a seedling dies 2
    degF sooner, but not above freezing."""
    told = {"plant_kill": (kill,), "seedling_kill": (), "plant_damage": (), "flower_kill": (-1.0,)}
    found = complete_cold(told, "here")
    wide = 2 / 1.8
    plant, hurt, young = (found[key] for key in ("plant_kill", "plant_damage", "seedling_kill"))
    assert (plant.low, plant.high) == pytest.approx((kill - wide, kill))
    assert (hurt.low, hurt.high) == pytest.approx((kill - wide + 4 / 1.8, kill + 4 / 1.8))
    assert (young.low, young.high) == pytest.approx((kill - wide + seedling, kill + seedling))
    flower = found["flower_kill"]
    assert (flower.low, flower.high) == pytest.approx((-1.0 - wide, -1.0))


def test_a_shorter_variety_needs_as_much_less_warmth():
    """Eight tenths of the days: eight tenths of the degree days, both without a band."""
    tomato = crop("tomato")
    usual, known = tomato.habit.days_to_harvest.middle, tomato.degrees.degree_days
    short = of_days(tomato, 0.8 * usual)
    assert short.habit.days_to_harvest.low == short.habit.days_to_harvest.high == 0.8 * usual
    if known is not None:
        needed = short.degrees.degree_days
        assert (needed.low, needed.high) == pytest.approx((0.8 * known.middle,) * 2)
    with_days = replace(
        tomato, degrees=replace(tomato.degrees, degree_days=short.habit.days_to_harvest)
    )
    assert of_days(with_days, 0.5 * usual).degrees.degree_days.middle == pytest.approx(0.4 * usual)


def lost_and_ripe(lost, ripe) -> SimpleNamespace:
    held = [np.tile(np.asarray(one, float)[:, None], (1, 365)) for one in (lost, ripe)]
    return SimpleNamespace(lost=held[0], ripe=held[1])


def test_the_first_harvest_of_years_that_came_through():
    """Eleven years from day 100 to 200 by tens, a twelfth lost at 0.6 and not counted: of 11 the
    place of a share p is 11.2 p + 0.4 (Cunnane): the 1.52nd 105.2, the 6th 150, the 10.48th 194.8.
    One lost at 0.4 counts: of 12, 12.2 p + 0.4, its 300 the last; the 6.5th is 155."""
    years = [*range(100, 201, 10)]
    found = first_harvest(lost_and_ripe([0.0] * 11 + [0.6], [*years, 300]), 7)
    assert (found.early, found.middle, found.late) == pytest.approx((105.2, 150.0, 194.8))
    found = first_harvest(lost_and_ripe([0.0] * 11 + [0.4], [*years, 300]), 7)
    assert found.middle == pytest.approx(155.0)
    two = first_harvest(lost_and_ripe([0.0, 0.0, 1.0], [120, 130, 140]), 7)
    assert two.middle == 125.0
    assert np.isnan([two.early, two.late]).all()
    assert np.isnan(first_harvest(lost_and_ripe([1.0], [120]), 7).middle)


def test_middles_and_the_day_a_bed_is_cleared():
    """Of 100, 110, 120 and a lost 500 the middle is 110; what never ripens within two years is left
    out. Picked 21 days for a leaf unless half has died before, a day at least."""
    fate = lost_and_ripe([0.0, 0.0, 0.0, 0.6], [100, 110, 120, 500])
    assert middle_harvest(fate)[3] == 110.0
    late = lost_and_ripe([0.0, 0.0, 0.0], [100, 110, 2 * 365 + 1])
    assert middle_harvest(late)[3] == 105.0
    leaf = crop("spinach")
    assert HOLDS[leaf.habit.part] == 21
    for ended, cleared in ((400.0, 131.0), (115.0, 115.0), (50.0, 111.0)):
        gone = SimpleNamespace(ended=np.full((3, 365), ended))
        assert cleared_days(leaf, gone, [110.0] * 365)[0] == cleared


def test_odds_of_a_timetable_and_its_days_by_the_calendar():
    """Two crops over four years: the first is ripe before it is cleared, on 161, in the first and
    the last, the second before 215 in the first three: both in one of four. A season's year that
    begins on 1 July, day 181: every day told so much later."""
    base = window(crop("spinach"), Digest(made("film", 5)))

    def in_years(key, day, ripe, picked, by_year):
        years = np.full((4, 365), -1.0)
        years[:, day] = by_year
        return replace(started(base, key, day, day, ripe, picked), ripe_by_year=years)

    beds = {
        "a": in_years("a", 100, 40.0, 21.0, [139, 161, -1, 150]),
        "b": in_years("b", 171, 30.0, 14.0, [200, 200, 214, 215]),
    }
    for begins in (0, 181):
        best = timetables(beds, begins=begins)[0]
        assert best.odds == pytest.approx(0.25)
        assert best.turns == (
            Turn("a", 100 + begins, 140 + begins, 161 + begins),
            Turn("b", 171 + begins, 201 + begins, 215 + begins),
        )


@pytest.mark.parametrize(("vapour", "humid"), [(614.0, 0.5), (1228.0, 1.0), (1600.0, 1.0)])
def test_the_driest_hour_of_a_covered_day(vapour, humid):
    """FAO-56 annex 2 table 2.3: e at 10 degC is 1.228 kPa. More than that counts as all of it."""
    (year,) = demo_weather(1)
    days = year.part(slice(48), year.start)
    hours = np.ones(48)
    run = SimpleNamespace(
        weather=days, air=10.0 * hours, vapour=vapour * hours, light=0.5 * days.global_horizontal
    )
    assert covered_air(run).least_humidity == pytest.approx([humid, humid], abs=2e-3)
