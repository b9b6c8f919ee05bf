"""Parts of the season's report: what more would help, and watering that runs over New Year."""

from dataclasses import replace

import pytest

from hoopwright.climate.demo import demo_weather
from hoopwright.design import design_of
from hoopwright.design.growing import (
    allowed_opening,
    covers_of,
    habit_of,
    heat_bed_of,
    openings_of,
    schedule_of_plan,
)
from hoopwright.design.season_options import additions_of
from hoopwright.design.season_thirst import thirst_of
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.run import place_of, simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.plan import read_plan_text
from hoopwright.season.bed_years import Digest, bed_years
from hoopwright.season.crops import crop
from hoopwright.season.harvests import HarvestDates
from hoopwright.season.windows import DateRange, window

PLAN = '[bed]\nlength = "10 ft"\nwidth = "4 ft"\n[season]\n'


@pytest.fixture(scope="module")
def years():
    return list(demo_weather(2))


def helped(years, season: str = ""):
    design = design_of(read_plan_text(PLAN + season))
    optics = next(iter(covers_of(design).values()))
    schedule = schedule_of_plan(design.plan)
    bed = heat_bed_of(design)
    places = [place_of(years[0], bed)]
    return additions_of(design, bed, optics, schedule, places, compiled_march())


def test_fabric_and_jugs_warm_cold_nights_and_are_told_where_the_plan_has_them_not(years) -> None:
    """Faivor 2014 (Michigan): film and fabric 1 to 4 K over the open in frosts, film alone some
    1 K; so fabric in it adds no more than three or so in the mean."""
    fabric, jugs = helped(years)
    assert "on the plants" in fabric.what
    assert "20 gallon jugs" in jugs.what
    assert 0.5 < fabric.leaf < 3.5
    assert 0.0 < jugs.leaf < fabric.leaf
    assert fabric.tenth <= fabric.leaf <= fabric.ninetieth
    (alone,) = helped(years, 'inner_fabric = "fabric-0.55"\n')
    assert "jugs" in alone.what


@pytest.mark.parametrize("habit", ["daily", "weekends", "automatic", "days", "always", "visits"])
def test_sides_without_a_rail_are_never_opened(habit: str) -> None:
    """Shut or off are the ways of such a cover, however often somebody comes; one side's rail is
    enough to open it."""
    asked = f'sides = "{habit}"\n[cover]\nroll_up = '
    fixed = design_of(read_plan_text(f'{PLAN}{asked}"none"\n'))
    assert (allowed_opening(fixed), habit_of(fixed.plan)) == (0.0, "never")
    assert [one.way for one in openings_of(fixed, allowed_opening(fixed))] == ["off", "closed"]
    assert {one.opened for one in schedule_of_plan(fixed.plan).seasons} == {"closed"}
    rolled = design_of(read_plan_text(f'{PLAN}{asked}"one"\n'))
    assert allowed_opening(rolled) > 0.2
    assert len(openings_of(rolled, allowed_opening(rolled))) > 2


def test_a_crop_that_stands_over_new_year_is_watered_on_in_the_next(years) -> None:
    """From 20 July to mid May: spring wants water that the end of the year does not."""
    design = design_of(read_plan_text(PLAN))
    optics = next(iter(covers_of(design).values()))
    bed = heat_bed_of(design)
    runs = [simulate(one, bed, optics, Schedule.closed(), march=compiled_march()) for one in years]
    spinach = crop("spinach")
    base = window(spinach, Digest(bed_years("film", runs)))

    def litres(start: int, days: int) -> float:
        held = replace(
            base,
            earliest=DateRange(start, start, start),
            harvest=HarvestDates(start + days, start + days, start + days),
        )
        found = {"spinach": {"film": held}}
        (one,) = thirst_of(design, runs, {"spinach": spinach}, found, "film")
        return one.litres

    over = litres(200, 300)
    assert over > litres(200, 164) + 50.0
    # a southern season counts its days on past the year's end
    assert over == pytest.approx(litres(200 + 365, 300))
