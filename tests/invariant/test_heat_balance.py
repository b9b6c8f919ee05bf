"""What must hold whatever the numbers: no free heat, closed books, and steps that do not matter."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from bench.plain_covers import cover_optics, perforated
from heat_rig import FILM, always_open, bed, box, real, steady, stretch

from hoopwright.heat.compare import nightly_minimum
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Canopy, InnerFabric, WaterJugs
from hoopwright.heat.forcing import Outside
from hoopwright.heat.longwave import exchange, ground_behind_fabric
from hoopwright.heat.run import place_of, simulate
from hoopwright.heat.schedule import Schedule, Season, Visits
from hoopwright.heat.soil import enthalpy, temperature_of
from hoopwright.heat.ventilation import through_openings

share = st.floats(0.0, 1.0)


@settings(derandomize=True, max_examples=200)
@given(share, share, share, st.floats(1.0, 3.0), st.floats(0.05, 1.0))
def test_no_longwave_passes_between_equals(
    passed: float, emits: float, outer: float, area: float, ground: float
) -> None:
    """Sky, cover and ground at one temperature: nothing is gained or lost anywhere."""
    emits = min(emits, 1.0 - passed)
    a_c, a_g, a_0, b_c, b_g, b_0 = exchange(passed, emits, emits, ground, area, 300.0, 300.0)
    assert a_c * 300 + a_g * 300 + a_0 == pytest.approx(300.0, rel=1e-9)
    assert b_c * 300 + b_g * 300 + b_0 == pytest.approx(2 * area * emits * 300.0, abs=1e-7)


@settings(derandomize=True, max_examples=200)
@given(share, share, st.floats(0.05, 1.0))
def test_ground_behind_fabric_is_whole(passed: float, emits: float, ground: float) -> None:
    emits = min(emits, 1.0 - passed)
    x_f, x_g, back, _ = ground_behind_fabric(passed, emits, ground)
    assert x_f + x_g + back == pytest.approx(1.0, rel=1e-9)


@settings(derandomize=True, max_examples=200)
@given(st.floats(-30, 30), st.floats(1e4, 1e6), st.floats(0, 1e7), st.floats(0.1, 1.0))
def test_heat_and_temperature_are_inverse(
    temperature: float, thawed: float, latent: float, band: float
) -> None:
    frozen = 0.7 * thawed
    held = enthalpy(temperature, thawed, frozen, latent, band)
    assert temperature_of(held, thawed, frozen, latent, band) == pytest.approx(
        temperature, abs=1e-6
    )


@settings(derandomize=True, max_examples=100)
@given(st.floats(0, 20), st.floats(0, 8), st.floats(0.01, 0.5), st.floats(1.01, 2.0))
def test_a_larger_opening_passes_more(
    difference: float, wind: float, height: float, more: float
) -> None:
    small = through_openings(7.3 * height, height, 0.65, 0.09, difference, 290.0, wind)
    large = through_openings(
        7.3 * height * more, height * more, 0.65, 0.09, difference, 290.0, wind
    )
    assert large >= small


def test_no_sun_and_no_difference_means_no_gain() -> None:
    """A bed, a sky and an air at 10 degC, saturated, without sun: nothing ever moves."""
    weather = steady(24 * 60, air=10.0, dew=10.0)
    for fabric in (None, InnerFabric(cover_optics("fabric-0.55"))):
        which = bed(fabric=fabric, jugs=WaterJugs(0.05, 0.8))
        at = replace(place_of(weather, which), deep=np.full(len(weather), 10.0))
        under = simulate(weather, which, FILM, Schedule.closed(), at)
        for series in (under.air, under.leaf, under.surface, under.cover, under.jugs):
            assert np.abs(series - 10.0).max() < 2e-3
        assert np.abs(under.soil - 10.0).max() < 2e-3


@pytest.mark.parametrize("name", ["Bozeman", "Golden"])
@pytest.mark.parametrize("case", ["closed", "open bed", "fabric and jugs", "opener"])
def test_the_books_close_over_a_year(name: str, case: str) -> None:
    weather = real(name)
    which, schedule = bed(), Schedule.closed()
    if case == "open bed":
        schedule = Schedule.open_bed()
    if case == "opener":
        schedule = Schedule((Season((1, 1), (12, 31), True, 0.3, opener_from=18.0),))
    if case == "fabric and jugs":
        fabric = InnerFabric(cover_optics("fabric-1.0"))
        which = bed(fabric=fabric, jugs=WaterJugs(0.08, 1.2, 0.3))
    energy = simulate(weather, which, FILM, schedule, march=compiled_march()).energy
    assert abs(energy.residual) < 1e-3 * energy.light
    # The residual is what the terms leave over, not a number of its own.
    left = energy.light + energy.longwave - energy.cover_air - energy.air - energy.vapour
    left -= energy.side + energy.deep + energy.stored
    assert left == pytest.approx(energy.residual, abs=1e-6 * energy.light)


@pytest.mark.parametrize("schedule", [Schedule.closed(), Schedule.open_bed()])
def test_halving_the_step_leaves_the_years_minimum(schedule: Schedule) -> None:
    weather, march = real("Bozeman"), compiled_march()
    lows = []
    for steps in (6, 12):
        which = bed(steps_per_hour=steps)
        lows.append(simulate(weather, which, FILM, schedule, march=march))
    assert abs(lows[0].air.min() - lows[1].air.min()) < 0.1
    assert abs(lows[0].leaf.min() - lows[1].leaf.min()) < 0.1


@pytest.mark.parametrize("transpires", [True, False])
def test_more_opening_is_never_hotter_at_noon(transpires: bool) -> None:
    """Wherever the less open bed is warmer than outside. A watered bed can be cooler than a hot
    day's air by its own evaporation; opening then lets the heat in, and that is left out here."""
    weather, march = real("Golden"), compiled_march()
    which = bed(canopy=Canopy(leaf_area=1.0, transpires=transpires))
    at = place_of(weather, which)
    sunny = (np.arange(len(weather)) % 24 == 12) & (weather.global_horizontal > 400)
    outside = weather.air_temperature[sunny]
    before = None
    for height in (0.0, 0.05, 0.1, 0.2, 0.4):
        schedule = always_open(height)
        air = simulate(weather, which, FILM, schedule, at, march).air[sunny]
        if before is not None:
            warmer = before > outside + 0.5
            assert warmer.sum() > 50
            assert (air - before)[warmer].max() < 0.1
            assert (air - before)[warmer].mean() < -0.1
        before = air


def test_any_step_is_stable() -> None:
    """One step an hour on the thin film, with sun coming and going: finite and bounded."""
    weather = stretch(real("Golden"), 24 * 150, 24 * 10)
    for steps in (1, 2, 60):
        under = simulate(weather, bed(steps_per_hour=steps), FILM, Schedule.closed())
        assert np.isfinite(under.air).all()
        assert under.air.min() > -20
        assert under.air.max() < 75


def test_a_longer_bed_loses_less_at_its_ends() -> None:
    weather = stretch(real("Bozeman"), 24 * 100, 24 * 20)
    short = simulate(weather, bed(enclosure=box(length=1.2)), FILM, Schedule.closed())
    long = simulate(weather, bed(enclosure=box(length=12.0)), FILM, Schedule.closed())
    assert long.air[24 * 10 :].mean() > short.air[24 * 10 :].mean()


def test_jugs_and_inner_fabric_warm_the_night() -> None:
    weather = stretch(real("Bozeman"), 24 * 95, 24 * 20)
    night = np.arange(len(weather)) % 24 == 5
    plain = simulate(weather, bed(), FILM, Schedule.closed())
    jugs = simulate(weather, bed(jugs=WaterJugs(0.15, 2.0)), FILM, Schedule.closed())
    fabric = simulate(
        weather, bed(fabric=InnerFabric(cover_optics("fabric-0.55"))), FILM, Schedule.closed()
    )
    assert (jugs.air - plain.air)[night].mean() > 0.1
    assert (fabric.leaf - plain.leaf)[night].mean() > 0.2
    assert (fabric.air - fabric.upper_air)[night].mean() > 0.2


def test_bare_ground_without_crop_runs() -> None:
    weather = stretch(real("Bozeman"), 24 * 95, 24 * 5)
    which = bed(canopy=Canopy(leaf_area=0.0))
    under = simulate(weather, which, perforated(FILM, 0.01), Schedule.closed())
    assert np.isfinite(under.leaf).all()


PLACES = ["Bozeman", "Cheyenne", "Idaho", "Hibbing", "Burlington"]


def hours_alike(first: np.ndarray, second: np.ndarray) -> float:
    return float(np.abs(first - second).max())


def test_cover_and_open_bed_meet_one_outside() -> None:
    """What the cover and its leaks meet is the air over the same bed in the open, with its vapour;
    and the open bed that a place keeps for it is the open bed one asks for."""
    weather, march = real("Bozeman"), compiled_march()
    at = place_of(weather, bed())
    bare = simulate(weather, bed(), FILM, Schedule.open_bed(), at, march)
    told = simulate(
        weather, bed(), FILM, Schedule.closed(), at, march, Outside(bare.air, bare.vapour)
    )
    alone = simulate(weather, bed(), FILM, Schedule.closed(), None, march)
    assert hours_alike(told.air, alone.air) < 1e-9
    station = simulate(
        weather,
        bed(),
        FILM,
        Schedule.closed(),
        at,
        march,
        Outside(weather.air_temperature, at.vapour),
    )
    assert hours_alike(station.air, alone.air) > 1.0


@pytest.mark.parametrize("key", ["film-6mil-uv4", "fabric-0.55", "fabric-2.0"])
@pytest.mark.parametrize("name", PLACES)
def test_opening_never_warms_a_clear_night(name: str, key: str) -> None:
    """Sides up a foot from 18 to 7 h on every night, shut by day: leaves are colder than shut on
    the mean of the clear nights at every place, and hardly a leaf in a fifth of them is warmer.

    Such nights there are: wind stirs warmer air down to the open ground, while a shut cover has
    cooled below it (Sugiyama 1967 and others measured covers colder inside than out)."""
    weather, march, optics = real(name), compiled_march(), cover_optics(key)
    nights_only = Visits(
        morning=7.0, evening=18.0, opens_above=1e9, opens_in_sun=1e9, open_nights_above=-1e9
    )
    up = Schedule((Season((1, 1), (12, 31), open_height=0.3, opened="visits"),), nights_only)
    shut, opened = (
        nightly_minimum(simulate(weather, bed(), optics, way, None, march).leaf, weather)
        for way in (Schedule.closed(), up)
    )
    nights = range(len(shut))
    cloud = np.array([weather.sky_cover[24 * d + 17 : 24 * d + 33].mean() for d in nights])
    warmer = (opened - shut)[cloud < 0.3]
    assert len(warmer) > 50
    assert warmer.mean() < -0.1
    assert (warmer > 0.3).mean() < 0.2


@pytest.mark.parametrize(("key", "wet"), [("film-6mil-uv4", False), ("fabric-0.55", True)])
def test_rain_wets_leaves_under_fabric_and_not_under_film(key: str, wet: bool) -> None:
    """A day of steady rain at noon in still, dry air: leaves catch it as they catch light."""
    weather = steady(48, air=12.0, dew=2.0)
    rain = np.zeros(48)
    rain[30:33] = 1.0
    rainy = replace(weather, precipitation=rain)
    dry, under = (
        simulate(one, bed(), cover_optics(key), Schedule.closed()) for one in (weather, rainy)
    )
    assert dry.leaf_water[30:33].max() < 0.01
    assert bool(under.leaf_water[32] > (0.15 if wet else 0.01)) is wet
    bare = simulate(rainy, bed(), FILM, Schedule.open_bed())
    assert bare.leaf_water[32] > 0.15
    # What dries off the leaves again does not come out of the soil.
    if wet:
        assert under.water.sum() < dry.water.sum()
