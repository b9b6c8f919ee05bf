"""Snow on the cover, light through the curve, and air at the open bed."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from heat_rig import FILM, always_open, bed, box, real, steady, stretch

from hoopwright.climate.at_bed import PlaceDifference, at_bed
from hoopwright.climate.sun import sun_of
from hoopwright.heat.coefficients import likely
from hoopwright.heat.compare import nightly_minimum
from hoopwright.heat.light import light_geometry, light_under
from hoopwright.heat.run import simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.heat.snow import light_through, resistance, snow_depths

C = likely()


def test_snow_falls_lies_and_goes() -> None:
    weather = steady(60, air=-5.0, dew=-8.0)
    wet = np.zeros(60)
    wet[5:10] = 2.0
    air = np.full(60, -5.0)
    air[50:] = 3.0
    depth = snow_depths(replace(weather, precipitation=wet, air_temperature=air), C).on_cover
    assert depth[4] == 0.0
    assert depth[9] == pytest.approx(10.0 / C.snow_new_density)
    assert depth[20] == depth[9]
    assert depth[9 + int(C.snow_cleared_hours)] == 0.0  # brushed off
    rain = snow_depths(replace(weather, precipitation=wet, air_temperature=air + 10), C)
    assert rain.on_cover.max() == 0.0


def test_snow_keeps_heat_in_and_light_out() -> None:
    weather = stretch(real("Bozeman"), 24 * 20, 24 * 6)
    snowy = np.zeros(len(weather))
    snowy[::6] = 6.0
    cold = replace(
        weather, air_temperature=np.minimum(weather.air_temperature, -4.0), precipitation=snowy
    )
    clear = replace(cold, precipitation=np.full(len(weather), np.nan))
    white = simulate(cold, bed(), FILM, Schedule.closed())
    bare = simulate(clear, bed(), FILM, Schedule.closed())
    assert white.light.sum() < 0.5 * bare.light.sum()
    night = nightly_minimum(white.air, cold) - nightly_minimum(bare.air, cold)
    assert night[1:].mean() > 0.5


def test_snow_numbers() -> None:
    assert float(resistance(np.array([0.1]), C)[0]) == pytest.approx(0.1 / C.snow_conductivity)


def test_light_under_snow() -> None:
    """Perovich 2007, J. Glaciol. 53, 201-210 (abstract read): 10 cm of snow let about 5 % of
    visible light pass (500 nm) and under 1 % at 800 nm; so 1 to 5 % of all of it."""
    passed = light_through(np.array([0.0, 0.005, 0.02, 0.10]), C)
    assert passed[0] == 1.0
    assert np.all(np.diff(passed) < 0)
    assert 0.01 < passed[-1] < 0.05


def test_light_adds_up() -> None:
    """Under a cover that takes nothing, the bed gets the open level's light at high sun."""
    weather = real("Bozeman")
    glassless = replace(
        FILM, solar_normal=1.0, solar_diffuse=1.0, solar_absorptance=0.0, age_factor=1.0
    )
    sun = sun_of(weather)
    geometry = light_geometry(box(), sun, 1.0001)
    light = light_under(weather, geometry, box(), glassless, C, 0.2 * weather.global_horizontal)
    high = (sun.elevation > 25) & (weather.global_horizontal > 100)
    ratio = light.on_bed[high] / weather.global_horizontal[high]
    assert np.abs(ratio - 1.0).max() < 0.03


def test_light_lost_in_the_film_is_what_its_angles_say() -> None:
    """Half-round film passes beam a little worse than flat film at high sun, better at low sun."""
    weather = real("Bozeman")
    sun = sun_of(weather)
    share = light_geometry(box(), sun, C.film_refractive_index).direct_share
    high, low = sun.elevation > 60, (sun.elevation > 8) & (sun.elevation < 12)
    assert 0.93 < share[high].mean() <= 1.0
    assert share[low].mean() > 0.6  # a flat sheet passes 0.47 at 10 deg (Fresnel, n = 1.5)


def test_ageing_and_dust_cost_light_alone() -> None:
    weather = stretch(real("Bozeman"), 24 * 150, 24 * 5)
    new = simulate(weather, bed(), FILM, Schedule.closed())
    old = simulate(weather, bed(), replace(FILM, age_factor=0.9), Schedule.closed())
    assert old.light.sum() == pytest.approx(0.9 * new.light.sum(), rel=0.01)
    assert old.air.max() < new.air.max()


def test_a_stated_barrier_and_the_usual_shelter_are_not_both_taken_off() -> None:
    """Behind a stated fence that leaves 0.7 of the wind, the usual 0.7 adds nothing; 0.5 counts."""
    weather = steady(12, wind=4.0)

    def flow(behind: float) -> float:
        sheltered = at_bed(weather, PlaceDifference(wind_shelter=behind))
        return float(simulate(sheltered, bed(), FILM, Schedule.closed()).air_changes[-1])

    assert flow(0.7) == pytest.approx(flow(1.0), rel=1e-9)
    assert flow(0.5) < flow(1.0)


def test_one_side_open_does_less_than_two() -> None:
    weather = stretch(real("Bozeman"), 24 * 180, 24 * 6)
    schedule = always_open(0.15)
    two = simulate(weather, bed(), FILM, schedule)
    one = simulate(weather, bed(enclosure=box(sides_that_open=1)), FILM, schedule)
    shut = simulate(weather, bed(), FILM, Schedule.closed())
    assert two.air.max() < one.air.max() < shut.air.max()


def test_open_air_at_the_bed_is_never_far_below_the_station() -> None:
    weather = real("Bozeman")
    bare = simulate(weather, replace(bed(), steps_per_hour=2), FILM, Schedule.open_bed())
    apart = nightly_minimum(bare.air, weather) - nightly_minimum(weather.air_temperature, weather)
    assert -2.5 < apart.mean() < 0.0
    assert apart.min() > -7.0
