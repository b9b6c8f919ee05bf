"""Numbers of the season and of warnings, on beds and years made up so that each can be counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.weather import Weather
from hoopwright.design import Design, coming_days, design_of, season_options, season_thirst
from hoopwright.design.coming_days import bearing_of
from hoopwright.design.growing import (
    allowed_opening,
    enclosure_of,
    heat_bed_of,
    normals_of,
    openings_of,
    own_optics,
    schedule_of_plan,
)
from hoopwright.design.season_climates import (
    _gains,
    _light_by_halves,
    _monthly,
    with_trials,
)
from hoopwright.design.season_options import heat_of
from hoopwright.heat.covers import optics_of
from hoopwright.heat.schedule import Schedule
from hoopwright.heat.uncertainty import Band
from hoopwright.plan.read import read_plan_text
from hoopwright.season.opening_options import Opening, OptionYears
from hoopwright.season.water import DailyAir

INCH, FOOT = 0.0254, 0.3048
#: 12 ft by 3 ft of 2x12, so 141 by 33 in of soil, 10 1/4 in deep.
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
NORMALS = """
[site]
latitude = "44.1 N"
longitude = "109.6 W"
elevation = "6700 ft"
weather = "normals"
[normals]
maximum = [{high}]
minimum = [{low}]
"""


@cache
def bed(more: str = "") -> Design:
    return design_of(read_plan_text(BED + more))


@cache
def year() -> Weather:
    return replace(next(demo_weather(1)), start=datetime(2001, 1, 1))


def normals(more: str = "") -> str:
    high, low = (", ".join(f'"{30 + n + at} F"' for n in range(12)) for at in (20, 0))
    return NORMALS.format(high=high, low=low) + more


def test_what_normals_leave_out_is_middling() -> None:
    """30 degF at night is -1.11 degC, so the dew point -3.11; half the light above the air, 3 m/s
    of wind; 109.6 W is seven hours behind. 2 in of rain are 50.8 mm."""
    found = normals_of(design_of(read_plan_text(normals())).plan)
    assert found.dew_point[0] == pytest.approx(-10 / 9 - 2.0)
    assert (found.clearness[0], found.wind_speed[0]) == (0.5, 3.0)
    assert found.station.utc_offset == -7.0
    assert np.isnan(found.precipitation).all()
    wet = normals("precipitation = [" + ", ".join(['"2 in"'] * 12) + "]\n")
    assert normals_of(read_plan_text(wet).plan).precipitation == pytest.approx(np.full(12, 50.8))


def test_the_air_space_of_a_bed_by_its_boards() -> None:
    """Soil 1 in under the edge of an 11 1/4 in board; the rim of the boards stands that inch over
    it; the crown's middle line is as high over it as clear height, half a pipe and the inch."""
    design = bed('direction = "30 deg"\n[cover]\nroll_up = "one"\nfixed_edge = "bury"\n')
    space = enclosure_of(design.hoop.midline, design.bed, design.cover.edges, 30.0)
    assert (space.length / INCH, space.width / INCH) == pytest.approx((141.0, 33.0))
    assert (space.soil_above_grade / INCH, space.rim_above_soil / INCH) == pytest.approx((10.25, 1))
    assert space.board_thickness / INCH == pytest.approx(1.5)
    high = (design.hoop.crown_over_board + 0.42 * INCH + INCH) / INCH
    assert space.height / INCH == pytest.approx(high, rel=5e-3)
    assert (space.axis_azimuth, space.sides_that_open, space.edge) == (30.0, 1, "clipped")


def test_jugs_are_us_gallons_and_a_measured_bed_keeps_what_was_measured() -> None:
    """6 gallons are 22.7 l, 0.16 m2 each; light that readings showed to be 0.9 of the table's."""
    made = bed("[season]\njugs = 6\n[measured]\nleak = 2.0\nlight = 0.9\nmoisture = 0.3\n")
    held = heat_bed_of(made)
    assert held.jugs is not None
    assert (held.jugs.volume, held.jugs.surface) == pytest.approx((6 * 0.003785, 0.96), rel=1e-3)
    assert (held.enclosure.leak_factor, held.soil.moisture) == (2.0, 0.3)
    plain = optics_of(made.cover.material).age_factor
    assert own_optics(made).age_factor == pytest.approx(0.9 * plain)


def test_sides_are_opened_no_higher_than_asked_nor_than_the_animals_allow() -> None:
    """18 in asked, of which 60 cm and 20 cm are allowed; a little is 4 in; without animals the
    sides go as high as the crown stands over the boards."""
    asked = '[season]\nsides = "daily"\nopen_height = "18 in"\n'
    free = openings_of(bed(asked), 0.6)
    assert [one.way for one in free] == ["off", "closed", "visits", "visits", "always"]
    assert [one.height / INCH for one in free[2:]] == pytest.approx([4.0, 18.0, 18.0])
    tight = openings_of(bed(asked), 0.2)
    assert [one.height for one in tight[2:]] == pytest.approx([4 * INCH, 0.2, 0.2])
    assert allowed_opening(bed(asked)) == pytest.approx(bed().hoop.crown_over_board)


@pytest.mark.parametrize(
    ("first", "last", "open_from", "open_until"),
    [
        ("04-01", "10-31", (5, 16), (9, 15)),
        ("06-01", "08-31", (6, 1), (8, 31)),
        ("10-01", "04-30", (5, 16), (9, 15)),  # over the New Year: the warm half stands by itself
    ],
)
def test_who_comes_at_weekends_leaves_the_sides_up_in_the_warm_half(
    first: str, last: str, open_from: tuple[int, int], open_until: tuple[int, int]
) -> None:
    season = f'[season]\nsides = "weekends"\ncover_from = "{first}"\ncover_until = "{last}"\n'
    found = schedule_of_plan(read_plan_text(BED + season).plan).seasons
    assert (found[0].opened, found[0].first, found[0].last) == ("always", open_from, open_until)
    assert found[-1].opened == "closed"


def test_heat_of_a_way_is_counted_by_the_year_and_its_cold_from_april_to_october() -> None:
    """Two years: 10 and 20 hours at 33 degC, four in all at 39; 31 and 37 are not hot and not very
    hot. Coldest leaves of -8 in March and
    -9 in November count for nothing; -1 on 1 April and -3 on 30 October do: -2 in the mean."""
    air, leaf = np.full((2, 8760), 20.0), np.full((2, 8760), 5.0)
    air[0, :10] = air[1, :20] = 33.0
    air[0, 100:104], air[0, 200:250], air[1, :20] = 39.0, 31.0, 37.0
    leaf[:, 24 * 89], leaf[:, 24 * 304] = -8.0, -9.0
    leaf[0, 24 * 90], leaf[1, 24 * 303] = -1.0, -3.0
    found = heat_of(OptionYears(Opening("closed"), air, leaf))
    assert (found.hot, found.very_hot, found.coldest) == pytest.approx((17.0, 2.0, -2.0))


def run(weather, **columns: object) -> SimpleNamespace:
    return SimpleNamespace(weather=weather, **columns)


def test_soil_at_seed_depth_is_a_mean_of_the_years_month_by_month() -> None:
    """As many degC as the month's number, and two more in the second year; read 2 in down."""
    asked: list[float] = []

    def soil(more: float):
        def at(depth: float):
            asked.append(depth)
            return year().months + more

        return at

    found = _monthly([run(year(), soil_at=soil(0.0)), run(year(), soil_at=soil(2.0))])
    assert found == pytest.approx(np.arange(12) + 1.0)
    assert asked == pytest.approx([0.05, 0.05])


def test_the_three_meanings_of_warmer_are_each_its_own() -> None:
    """Air of 10 and leaves of 8 degC under the cover, 9 and 5 over the open bed, 7 at the station:
    3, 1 and 3 K; in two years the nights are those of one."""
    flat = np.ones(8760)
    station = replace(year(), air_temperature=7 * flat, dew_point=0 * flat)
    under, bare = (
        [run(station, air=air * flat, leaf=leaf * flat)] * 2 for air, leaf in ((10, 8), (9, 5))
    )
    found = _gains(under, bare, Schedule.closed())
    assert [one.mean for one in (found.station_air, found.bed_air, found.leaf)] == [3.0, 1.0, 3.0]
    assert (found.leaf.nights, found.leaf.colder) == (364, 0)


def test_light_of_the_long_and_the_short_days_is_parted_at_the_equinoxes_months() -> None:
    """200 W/m2 from April to September are 200 x 0.0864 MJ x 2.02 mol / MJ of all light, 34.9 mol
    (2.02: Thimijan and Heins 1983, 4.57 umol/J of the 0.44 that is PAR, from memory); 50 W/m2 in
    the other half a quarter of it. 183 days, and 182."""
    months = year().months
    light = np.where((months >= 3) & (months <= 8), 200.0, 50.0)
    long, short = _light_by_halves(run(year(), light=light))
    assert (long.size, short.size) == (183, 182)
    assert long == pytest.approx(np.full(183, 34.9), rel=0.03)
    assert short == pytest.approx(long[:182] / 4)


def test_a_band_takes_in_what_trials_measured() -> None:
    found = Band(1.0, 2.0, 3.0)
    assert with_trials(found, {"night": (0.5, 2.5)}) == Band(0.5, 2.0, 3.0)
    assert with_trials(found, {"night": (1.5, 5.0)}) == Band(1.0, 2.0, 5.0)
    assert with_trials(found, {"soil": (0.0, 9.0)}) == found


def test_what_is_added_to_a_cover_is_told_of_its_cold_nights(monkeypatch) -> None:
    """Leaves at 2 degC in half of the nights and at 8 in the others, fabric 3 K warmer in the cold
    ones and 9 in the mild, jugs 1 K: of the cold ones alone 3 and 1. 141 in take 12 gallon jugs
    along each side."""
    cold = (np.arange(8760) // 48) % 2 == 0

    def made(weather, cases, march):
        own = np.where(cold, 2.0, 8.0)
        return [
            run(weather, leaf=own + np.where(cold, 3.0, 9.0) * (case.bed.fabric is not None)
                + 1.0 * (case.bed.jugs is not None))
            for case in cases
        ]  # fmt: skip

    monkeypatch.setattr(season_options, "simulate_all", made)
    design = bed()
    at = SimpleNamespace(weather=year())
    fabric, jugs = season_options.additions_of(
        design, heat_bed_of(design), own_optics(design), Schedule.closed(), [at], None
    )
    # A night that runs from a cold spell into a mild one is as cold as its evening.
    assert (fabric.leaf, jugs.leaf) == pytest.approx((3.0, 1.0), abs=0.01)
    assert jugs.what == "24 gallon jugs of water along the sides"


@pytest.mark.parametrize(("material", "passes"), [("film-6mil-uv4", 0.0), ("fabric-1.5", 1.0)])
def test_water_is_of_the_soil_inside_the_boards_and_rain_stays_out_under_film(
    material: str, passes: float, monkeypatch
) -> None:
    """141 by 33 in of soil are 3.002 m2. From day 100 for 60 days at 4 mm a day, without rain; from
    day 340 for 60 days the last 35 are the next year's first."""
    from hoopwright.season.crops import crop
    from hoopwright.season.water import DRIP, balance

    asked: list[tuple[object, int, int, float]] = []

    def air(run, first, days, rain_passes):
        asked.append((run, first, days, rain_passes))
        flat = np.ones(days)
        return DailyAir(4 * flat, 0 * flat, 0.7 * flat, 0.4 * flat)

    monkeypatch.setattr(season_thirst, "covered_air", air)
    design = bed(f'[cover]\nmaterial = "{material}"\n')
    grown = {"lettuce-leaf": crop("lettuce-leaf")}

    def thirst(first: int):
        window = SimpleNamespace(
            earliest=SimpleNamespace(day=first), harvest=SimpleNamespace(middle=first + 60.0)
        )
        (one,) = season_thirst.thirst_of(
            design, ["this", "next"], grown, {"lettuce-leaf": {"own": window}}, "own"
        )
        return one

    found = thirst(100)
    assert asked == [("this", 100, 60, passes)]
    store = season_thirst.soil_kinds()["bed-mix"].store()
    flat = np.ones(60)
    days = DailyAir(4 * flat, 0 * flat, 0.7 * flat, 0.4 * flat)
    need = grown["lettuce-leaf"].water
    area = 141 * 33 * INCH**2
    assert found.litres == pytest.approx(balance(need, days, store, 0.28575).need * area)
    by_drip = balance(need, days, store, 0.28575, watering=DRIP).need * area
    assert found.by_drip == pytest.approx(by_drip)
    assert found.by_drip < found.litres
    asked.clear()
    thirst(340)
    assert asked == [("this", 340, 25, passes), ("next", 0, 35, passes)]


def test_a_forecast_is_held_against_what_nine_beds_in_ten_stand() -> None:
    """The careful gust and the careful depth of the first fresh snow that is more than a nuisance;
    hail of half an inch, 12.7 mm."""

    def rung(name: str, case: str, harm: str, careful: float) -> SimpleNamespace:
        return SimpleNamespace(name=name, case=case, harm=harm, careful=careful, middle=9.0)

    def ladder(stone: float) -> SimpleNamespace:
        snow = [
            rung("crown", "fresh snow", "nuisance", 0.1),
            rung("hoop", "wet snow", "loss", 0.2),
            rung("fold", "fresh snow", "loss", 0.5),
        ]
        hail = [rung("hail-through-old", "", "", 0.001), rung("hail-through-new", "", "", stone)]
        opens = SimpleNamespace(told=(20.0, 25.0, 30.0))
        return SimpleNamespace(opens=opens, snow=snow, hail=hail)

    found = bearing_of(SimpleNamespace(ladder=ladder(0.013)))
    assert (found.gust, found.snow, found.hail) == (20.0, 0.5, True)
    assert not bearing_of(SimpleNamespace(ladder=ladder(0.012))).hail


@pytest.mark.parametrize(("hours", "days"), [(72, 2), (80, 2), (81, 3), (96, 3)])
def test_advice_is_given_for_days_whose_night_is_forecast(
    hours: int, days: int, monkeypatch
) -> None:
    """The night ends at 9 h of the next day: 72 h from a midnight hold two such days, 81 three."""
    weather = year().part(np.arange(hours), datetime(2026, 5, 1))
    asked: list[date] = []

    def advised(forecast, covering, limits, day, past, bearing, march):
        asked.append(day)
        assert (limits.too_hot, limits.too_cold) == (30.0, 0.0)

    monkeypatch.setattr(coming_days, "advise", advised)
    monkeypatch.setattr(coming_days, "bearing_of", lambda design: None)
    ahead = SimpleNamespace(weather=weather)
    coming_days.coming_days(bed(), ahead, date(2026, 5, 1), None, None)
    assert asked == [date(2026, 5, 1 + n) for n in range(days)]
