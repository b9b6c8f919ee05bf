"""What goes into the march and comes out of it, by hand: soil, leaks, light, air changes, bands."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from heat_rig import FILM, bed, box, steady

from hoopwright.heat.coefficients import likely, read_rows
from hoopwright.heat.compare import degree_days, frost_free, nightly_minimum, opening_for_limit
from hoopwright.heat.constants import Hour, Outcome, State
from hoopwright.heat.convection import over_leaf, wind_share
from hoopwright.heat.covers import fabric_leak, measured, optics_of, sampled_optics
from hoopwright.heat.enclosure import Canopy, Soil
from hoopwright.heat.forcing import _rain, leak_of, outside_convection
from hoopwright.heat.light import light_of_ground, seen_sky, thrown_down
from hoopwright.heat.links import air_exchange, latent_links, leaf_link, links_under_cover
from hoopwright.heat.results import Energy, under_cover
from hoopwright.heat.run import constants
from hoopwright.heat.soil import (
    annual_wave,
    column,
    conductivity,
    fit_annual_wave,
    heat_capacity,
    layer_thicknesses,
)
from hoopwright.heat.uncertainty import band
from hoopwright.heat.ventilation import in_series, through_one_side, through_openings
from hoopwright.tables.catalogue import Catalogue

C = likely()


def test_soil_holds_and_leads_heat_by_its_water() -> None:
    """Half solids and a fifth water: 0.5 and 0.2 of their heats, of ice when frozen. Johansen 1975
    (in Farouki 1981, from memory), porosity 0.5, half full, 0.2 quartz: dry (0.135 x 1350 + 64.7)
    / (2700 - 0.947 x 1350) = 0.1738; solids q^0.2 m^0.8; thawed by log 0.5 + 1 = 0.699 of the way
    to the full one, frozen by half of it."""
    thawed, frozen = (heat_capacity(0.5, 0.2, cold, C) for cold in (False, True))
    assert thawed == pytest.approx(0.5 * C.solids_heat + 0.2 * C.water_heat)
    assert frozen == pytest.approx(0.5 * C.solids_heat + 0.2 * C.ice_heat)
    solids = C.quartz_conductivity**0.2 * C.mineral_conductivity**0.8
    for cold, fluid, share in (
        (False, C.water_conductivity, 0.69897),
        (True, C.ice_conductivity, 0.5),
    ):
        full = (solids * fluid) ** 0.5
        by_hand = C.conductivity_scale * (0.1738 + share * (full - 0.1738))
        assert conductivity(0.5, 0.25, 0.2, cold, C) == pytest.approx(by_hand, rel=1e-3)


def test_a_column_freezes_by_its_water_and_is_linked_from_middle_to_edge() -> None:
    """0.2 m of bed soil with a quarter of water: 50 kg/m2 to freeze; half of 0.2 m over its
    conductivity to either edge; below it native ground."""
    soil = Soil(moisture=0.25, porosity=0.55, native_moisture=0.3)
    found = column([0.2, 0.4], 1, soil, [1.0, 0.0], C)
    assert found.latent == pytest.approx([50.0 * C.fusion_heat, 120.0 * C.fusion_heat])
    k = conductivity(0.55, 0.25, soil.quartz, False, C)
    assert found.half_resistance[0, 0] == pytest.approx(0.1 / k)
    assert found.capacity[0, 0] == pytest.approx(0.2 * heat_capacity(0.55, 0.25, False, C))
    layers, in_bed = layer_thicknesses(0.28)
    assert (in_bed, sum(layers[:in_bed])) == (6, pytest.approx(0.28))
    assert sum(layers) == pytest.approx(2.0)


def test_a_years_wave_is_found_again_with_its_coldest_day() -> None:
    """8 degC in the mean, 12 K either way, coldest on day 20. Half a wave at depth lags: at the
    damping depth, root of 365 a / pi, by 58.1 days, its swing over e."""
    days = np.arange(365.0)
    air = 8.0 - 12.0 * np.cos(2 * np.pi * (days - 20) / 365)
    assert fit_annual_wave(days, air) == pytest.approx((8.0, 12.0, 20.0))
    deep = float(np.sqrt(365 * 0.04 / np.pi))
    wave = annual_wave(deep, days, 8.0, 12.0, 20.0, 0.04)
    assert (8.0 - wave.min(), int(wave.argmin())) == pytest.approx((12 / np.e, 78), rel=1e-3)


def test_leaks_go_by_the_edges_and_by_what_was_measured() -> None:
    still, windy = leak_of(box(edge="clipped"))
    twice = leak_of(box(edge="clipped", leak_factor=2.0))
    assert twice == pytest.approx((2 * still, 2 * windy))
    assert leak_of(box(edge="buried")) < (still, windy) < leak_of(box(edge="loose"))


def test_wind_outside_and_near_the_ground() -> None:
    """Papadakis et al. 1992, from memory: 0.95 + 6.76 x 4^0.49 = 14.28 W/m2K at sea level; in air
    of 79 kPa (79 / 101.325)^0.49 = 0.885 of it. FAO-56 eq. 47, from memory: at 2 m 4.87 / ln(67.8 x
    10 - 5.42) = 0.748 of the wind at 10 m, and below 0.1 m as at it: ln(1.36) / 6.51 = 0.0472."""
    wind = np.array([4.0])
    law = float(outside_convection(wind, 101325.0, C)[0]) / C.outside_scale
    assert law == pytest.approx(14.28, rel=2e-3)
    thin = float(outside_convection(wind, 79000.0, C)[0]) / C.outside_scale
    assert thin / law == pytest.approx(0.885, rel=2e-3)
    assert wind_share(2.0) == pytest.approx(0.748, rel=2e-3)
    assert wind_share(0.05) == wind_share(0.1) == pytest.approx(0.0472, rel=5e-3)


def test_air_through_openings_by_stack_and_wind() -> None:
    """Boulard and Baille 1995, from memory: S/2 Cd root(2 g dT/T H/4 + Cw u2). 2 m2, 0.4 m, Cd
    0.65, 10 K at 290 K: 2 x 9.81 x 10 / 290 x 0.1 = 0.0677, 0.1691 m3/s; with 2 m/s and Cw 0.1
    0.444. A screen of the same Cd leaves 1 / root 2."""
    still = through_openings(2.0, 0.4, 0.65, 0.1, -10.0, 290.0, 0.0)
    assert still == pytest.approx(0.1691, rel=1e-3)
    windy = through_openings(2.0, 0.4, 0.65, 0.1, 10.0, 290.0, 2.0)
    assert windy == pytest.approx(0.65 * (0.0677 + 0.4) ** 0.5, rel=1e-3)
    assert in_series(0.6, 0.6) == pytest.approx(0.6 / 2**0.5)
    assert in_series(0.6, 0.0) == 0.6


def test_light_of_white_ground_and_what_a_cover_throws_down() -> None:
    """Snow over 1 cm is white. Film of twice the ground's area that throws back a tenth: half of a
    tenth comes down at once, the other half meets film again: 0.05 / (1 - 0.05)."""
    light = light_of_ground(np.array([100.0, 100.0]), np.array([0.0, 0.02]), C)
    assert light == pytest.approx([100 * C.surroundings_albedo, 100 * C.surroundings_snow_albedo])
    assert C.surroundings_snow_albedo > 2 * C.surroundings_albedo
    assert thrown_down(0.1, 2.0) == pytest.approx(0.05 / 0.95)


def test_what_comes_out_of_the_march_is_named_and_turned_into_air_changes() -> None:
    """A litre a second through each square metre of 0.36 m3: ten changes an hour. Layers of 0.1 and
    0.2 m have their middles at 0.05 and 0.2 m; half-way between them the soil is half-way."""
    count = len(Outcome._fields)
    table = np.zeros((count + 2, 3))
    table[Outcome._fields.index("exchange")] = 0.001
    table[Outcome._fields.index("surface")] = 20.0
    table[count], table[count + 1] = 16.0, 10.0
    energy = Energy(*[0.0] * 10)
    found = under_cover(steady(3), table, energy, np.array([0.1, 0.2]), 0.36)
    assert found.air_changes == pytest.approx(np.full(3, 10.0))
    assert found.depths == pytest.approx([0.05, 0.2])
    assert found.soil_at(0.125) == pytest.approx(np.full(3, 13.0))
    assert found.soil_at(0.025) == pytest.approx(np.full(3, 18.0))


def test_bands_are_of_nine_draws_in_ten() -> None:
    found = band([float(n) for n in range(101)])
    assert (found.low, found.middle, found.high) == pytest.approx((5.0, 50.0, 95.0))


def test_what_a_film_keeps_is_neither_passed_nor_thrown_back() -> None:
    material = Catalogue().cover("film-6mil-uv4")
    optics = optics_of(material)
    told = material.optics
    kept = 1 - told.solar_normal.likely - told.solar_reflectance.likely
    assert optics.solar_absorptance == pytest.approx(max(0.0, kept))
    assert optics.solar_reflectance == pytest.approx(told.solar_reflectance.likely)
    assert FILM.solar_normal == optics.solar_normal
    fabric = Catalogue().cover("fabric-1.5")
    low, high = measured(fabric.optics_family)["night"]
    assert 0 < low < high
    assert replace(optics, age_factor=0.9).solar_normal == optics.solar_normal


def test_cold_hours_take_nothing_off_the_degree_days() -> None:
    """Twelve hours at 16 degC and twelve at 4: 3 K d over 10, not nothing."""
    assert degree_days(np.tile(np.repeat([16.0, 4.0], 12), 2), 10.0) == pytest.approx(6.0)


def test_a_fabrics_leak_is_read_from_its_own_columns() -> None:
    rows = read_rows("heat_fabric_leak.csv")
    assert rows
    for row in rows:
        by_hand = (float(row["still [m/h]"]), float(row["wind [m/h per m/s]"]))
        assert fabric_leak(row["family"]) == by_hand
        assert by_hand[0] != by_hand[1]


def test_sky_seen_and_rain_caught_under_covers() -> None:
    """A slope of 60 deg sees (1 + 0.5) / 2 of the sky. Fabric lets all the rain through to the
    leaves, film none of it."""
    assert seen_sky(60.0) == pytest.approx(0.75)
    weather = replace(steady(2), precipitation=np.array([2.0, 2.0]))
    leaves, covered = Canopy(leaf_area=2.0), np.array([True, False])
    fabric = optics_of(Catalogue().cover("fabric-1.5"))
    open_bed = 2.0 * (1.0 - np.exp(-C.light_extinction * 2.0))
    assert _rain(weather, covered, fabric, leaves, C) == pytest.approx([open_bed, open_bed])
    assert _rain(weather, covered, FILM, leaves, C) == pytest.approx([0.0, open_bed])


def test_an_opening_may_leave_one_hour_in_a_hundred_too_hot() -> None:
    """Two hours in a hundred stay hot below 0.3 m, one above it: 0.3 m, not 0."""

    def run(height: float) -> SimpleNamespace:
        over = 1 if height >= 0.3 else 2
        return SimpleNamespace(air=np.array([40.0] * over + [20.0] * (100 - over)))

    assert opening_for_limit(run, 30.0, 0.6) == pytest.approx(0.3, abs=0.011)


def test_the_last_day_without_frost_is_the_day_before_frost() -> None:
    """Frost on days 2 and 7 of ten: free from day 3 to day 6, four days."""
    leaf = np.full(240, 5.0)
    leaf[[24 * 2 + 4, 24 * 7 + 4]] = -1.0
    found = frost_free(leaf, 0.0)
    assert (found.first, found.last, found.days) == (3, 6, 4)


def test_rolled_sides_open_on_both_sides_of_the_bed() -> None:
    """0.3 m up along 5 m on both sides is 3.0 m2, on one side 1.5; shared over 6 m2 of bed."""
    row = SimpleNamespace(leak=0.0, air=20.0, wind=1.5, ends_open=0.0)
    hole = {"holes_area": 0.0, "stack_leak": 0.0}
    p = SimpleNamespace(length=5.0, discharge=0.6, wind_pressure=0.1, sides=2.0, area=6.0, **hole)
    both = through_openings(3.0, 0.3, 0.6, 0.1, 5.0, 293.15, 1.5)
    assert air_exchange(p, row, 0.3, -5.0) == pytest.approx(both / 6.0)
    p.sides = 1.0
    alone = through_one_side(1.5, 0.3, 5.0, 1.5)
    assert air_exchange(p, row, 0.3, 5.0) == pytest.approx(alone / 6.0)


def test_leaves_have_two_sides_and_dew_dries_by_the_psychrometer() -> None:
    """Leaf area 2 gives four square metres of leaf side a square metre of bed. Wet leaves dry at
    h / (psychrometric constant x Lewis factor): 12 / (66 x 0.9) = 0.2020 W/m2 per Pa."""
    leaf = {"leaf_area": 2.0, "leaf_length": 0.1, "leaf_boundary": 1.0, "leaf_forced": 1.0}
    dry = {"soil_dryness": 0.0, "heat_of_air": 1200.0, "psychro": 66.0, "lewis": 0.9}
    p = SimpleNamespace(transpires=0.0, **leaf, **dry)
    assert leaf_link(p, 3.0, 0.5) == pytest.approx(4.0 * over_leaf(3.0, 0.5, 0.1, 1.0, 1.0))
    assert latent_links(p, 10.0, 12.0, 100.0)[1] == pytest.approx(0.2020, rel=1e-3)


def test_a_night_runs_from_six_in_the_evening_to_nine() -> None:
    """A record from midnight gives the hours that end at 1, 2, ...: 18 h stands 17th from 0, and
    9 h of the next day 32nd."""
    for place, counts in ((16, False), (17, True), (32, True), (33, False)):
        values = np.full(48, 10.0)
        values[place] = 1.0
        assert bool(nightly_minimum(values, steady(48))[0] == 1.0) is counts, place


def test_a_fabrics_leak_is_drawn_about_what_was_measured() -> None:
    """Between a half and twice of what its row says, as often below as above (even in logarithms,
    where a half and twice are equally far)."""
    fabric = Catalogue().cover("fabric-1.5")
    row = next(r for r in read_rows("heat_fabric_leak.csv") if r["family"] == fabric.optics_family)
    assert (row["low factor"], row["high factor"]) == ("0.5", "2")
    still, windy = fabric_leak(fabric.optics_family)
    drawn = sampled_optics(fabric, 400, 5)
    shares = np.array([one.leak_still / still for one in drawn])
    assert 0.5 <= shares.min() < 0.6
    assert 1.7 < shares.max() <= 2.0
    assert np.median(shares) == pytest.approx(1.0, rel=0.05)
    assert [one.leak_wind / windy for one in drawn] == pytest.approx(shares.tolist())


def test_sides_rolled_up_take_cover_away_and_drops_take_light() -> None:
    """Two sides 0.3 m up of a curve 1.5 m long: 40 % of the cover is gone. From the
    middle of a bed 0.8 m wide a side 0.3 m high opens 1 - 0.4 / 0.5 = 0.2 of half the sky; two:
    20 %. Half covered with drops, which at full take 10 %: 0.95 x 0.80 = 76 % of the light."""
    p = constants(bed(), FILM, steady(24))._replace(
        curve_length=1.5, width=0.8, full=0.2, droplet_loss=0.1
    )
    row = Hour._make([0.0] * len(Hour._fields))._replace(sky=250.0, outer=300.0, stomata=100.0)
    now = State._make([5.0] * len(State._fields))
    found = links_under_cover(p, row, now, 0.3, 0.1)
    assert found.kept == pytest.approx(0.6)
    assert found.bare == pytest.approx(0.2)
    assert found.shine == pytest.approx(0.76)
    assert links_under_cover(p._replace(sides=1.0), row, now, 0.3, 0.1).kept == pytest.approx(0.8)
