"""Physical sense of loads and holding: more of the cause, more of the effect."""

import numpy as np
import pytest
from arc_rig import section_of
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.cover import membrane
from hoopwright.holding import anchor, film_edge, grip, screws, sleeve
from hoopwright.loads import arc_section, hail, shelter, snow, soil, wind_cases
from hoopwright.tables.spread import exactly

steady = settings(derandomize=True, deadline=None, max_examples=60)
gusts = st.floats(1.0, 70.0)
rises = st.floats(0.15, 1.2)


def half_ellipse(rise, points=161):
    angle = np.linspace(0, np.pi, points)
    return 0.6 - 0.6 * np.cos(angle), 1.2 * rise * np.sin(angle)


def summed(coefficient, x, y):
    """What coefficients at the points come to, each chord with the mean of its ends."""
    across, up = np.diff(x), np.diff(y)
    return arc_section.resultant(
        0.5 * (coefficient[1:] + coefficient[:-1]),
        np.hypot(across, up),
        np.arctan2(up, across),
        0.5 * (x[1:] + x[:-1]),
        0.5 * (y[1:] + y[:-1]),
        toe=1.2,
    )


def uplift(rise, gust, case=wind_cases.across_closed):
    x, y = half_ellipse(rise)
    coefficient = case(section_of(x, y)).likely
    return 0.613 * gust**2 * summed(coefficient, x, y).lift


@steady
@given(gusts, st.floats(1.01, 2.0), rises)
def test_more_gust_more_uplift(gust, more, rise):
    assert uplift(rise, gust * more) > uplift(rise, gust) > 0


@steady
@given(rises)
def test_filled_cover_lifts_more_than_closed_and_closed_more_than_open(rise):
    x, y = half_ellipse(rise)
    section = section_of(x, y)

    def lift(case):
        return summed(case.likely, x, y).lift

    filled = wind_cases.across_windward_side_up(section, 0.0)
    closed = wind_cases.across_closed(section, tight=True)
    both = wind_cases.across_both_sides_up(section, 0.0)
    assert lift(filled) > lift(closed) > lift(both)


@steady
@given(rises, st.floats(0.0, 0.4))
def test_every_case_keeps_its_range_and_says_its_sources(rise, open_share):
    x, y = half_ellipse(rise)
    cases = wind_cases.every_case(section_of(x, y), open_share, 0.9, 2.4)

    assert len({case.name for case in cases}) == len(cases)
    for case in cases:
        assert all(zone.low <= zone.likely <= zone.high for zone in case.zones)
        assert case.internal.low <= case.internal.likely <= case.internal.high
        assert np.all(case.net(0.5) <= case.net(0.1))
        assert case.sources
        if case.wind == "across":
            assert case.clamped == (rise > 0.5 + 1e-12)
            assert any("outside the standards" in note for note in case.notes) == case.clamped


@steady
@given(rises)
def test_pressure_all_round_a_closed_curve_makes_no_force(rise):
    """Even pressure on an arch and its chord balances: lift is minus the span, drag nothing."""
    x, y = half_ellipse(rise)
    whole = summed(np.ones_like(x), x, y)

    assert whole.lift == pytest.approx(-1.2)
    assert whole.drag == pytest.approx(0.0, abs=1e-12)
    assert whole.tipping == pytest.approx(-1.2 * 0.6)


@steady
@given(rises)
def test_wind_along_pushes_no_way_across(rise):
    x, y = half_ellipse(rise)
    case = wind_cases.along_closed(section_of(x, y), 0.0, 0.9, 2.4)

    assert summed(case.likely, x, y).drag == pytest.approx(0.0, abs=1e-9)


@steady
@given(st.sampled_from(shelter.barriers()), st.floats(0.5, 60.0), st.floats(0.3, 3.0))
def test_shelter_slows_and_fades(barrier, distance, more):
    near = shelter.sheltered_share(barrier, 2.0, distance, 0.9)
    far = shelter.sheltered_share(barrier, 2.0, distance + 20 * more, 0.9)

    assert 0 < near.low <= far.low <= 1 == near.high
    assert shelter.sheltered_share(barrier, 1.0, distance, 0.9) == exactly(1.0)


@steady
@given(rises, st.floats(1.05, 1.6), st.booleans())
def test_snow_on_a_taller_arch_slides_sooner(rise, taller, slippery):
    def held(ratio):
        x, y = half_ellipse(ratio)
        load = snow.balanced_on_curve(section_of(x, y).slope, 1000.0, 1.2, slippery)
        return np.trapezoid(load, x)

    assert held(rise * taller) <= held(rise) + 1e-9
    if rise > 0.4:
        assert held(rise * taller) < held(rise)


@steady
@given(st.floats(0.005, 0.06), st.floats(1.01, 2), st.floats(0, 3000))
def test_bigger_stone_and_higher_garden_hit_harder(diameter, more, elevation):
    thin = float(hail.air_density(elevation + 100))
    thick = float(hail.air_density(elevation))

    assert hail.stone_energy(diameter * more) > hail.stone_energy(diameter)
    assert hail.stone_energy(diameter, density_of_air=thin) > hail.stone_energy(
        diameter, density_of_air=thick
    )
    assert hail.diameter_of_energy(hail.stone_energy(diameter)) == pytest.approx(diameter)


@steady
@given(st.sampled_from(sorted(soil.soil_kinds())), st.floats(0.1, 0.7), st.floats(1.05, 2))
def test_deeper_and_stiffer_thrust_more(kind, depth, more):
    row = soil.soil_kinds()[kind]
    base, deeper = soil.side_thrust(depth, row), soil.side_thrust(depth * more, row)
    stiff = soil.side_thrust(depth, row, stiff_board=True)

    assert base.low < base.likely < base.high
    assert deeper.likely == pytest.approx(base.likely * more**2)
    assert stiff.likely > base.likely


@steady
@given(st.floats(1, 2000), st.floats(0.3, 2.5), st.floats(3e3, 1e5), st.floats(0, 200))
def test_membrane_balances_pressure_and_stretch(pressure, span, stiffness, pretension):
    """The two laws the solver must meet, checked apart: p R = T, and the arc's own length."""
    film = membrane.elastic_span(pressure, span, stiffness, pretension)
    half = np.arcsin(min(1.0, span / (2 * float(film.radius))))
    stretch = 2 * float(film.radius) * half / span - 1

    assert film.tension == pytest.approx(pressure * float(film.radius))
    if half < 1.5:
        assert film.strain == pytest.approx(stretch, rel=1e-5, abs=1e-9)


@steady
@given(st.floats(1, 1000), st.floats(1.05, 3))
def test_more_load_more_sag_and_more_slack_less_tension(pressure, more):
    taut = membrane.elastic_span(pressure, 1.2, 3e4)

    assert membrane.elastic_span(pressure * more, 1.2, 3e4).sag > taut.sag
    assert membrane.elastic_span(pressure, 1.2, 3e4, slack=0.01).tension < taut.tension


@steady
@given(st.floats(0.36, 0.6), st.floats(0.003, 0.006), st.floats(0.01, 0.05))
def test_screws_hold_more_when_longer_thicker_drier_and_briefer(gravity, diameter, thread):
    wet, dry = screws.Service(), screws.Service(wet=1.0)
    snow_load = screws.Service(duration=1.15)
    base = screws.withdrawal(gravity, diameter, thread, wet)

    assert screws.withdrawal(gravity, diameter, thread * 1.2, wet).low > base.low
    assert screws.withdrawal(gravity, diameter * 1.2, thread, wet).low > base.low
    assert screws.withdrawal(gravity, diameter, thread, dry).likely > base.likely
    assert screws.withdrawal(gravity, diameter, thread, snow_load).likely < base.likely
    assert base.low < base.likely < base.high


@steady
@given(st.lists(st.floats(0, 300), min_size=1, max_size=1), st.floats(0, 300))
def test_two_straps_hold_more_than_one(one, other):
    assert grip.strap_grip([*one, other], 0.2, 100.0, 0.5) > grip.strap_grip(one, 0.2, 100.0, 0.5)


@steady
@given(st.floats(0.05, 5), st.floats(0.1, 10))
def test_sleeve_without_film_weight_lifts_first(pipe, film):
    assert sleeve.sleeve_uplift(pipe) < sleeve.sleeve_uplift(pipe + film)


@steady
@given(st.sampled_from(sorted(sleeve.soil_frictions())), st.floats(0.2, 1.0))
def test_deeper_rod_pulls_harder_and_soaked_soil_lets_go(kind, depth):
    row = sleeve.soil_frictions()[kind]
    dry = sleeve.rod_pull_out(0.0127, depth, row)

    assert sleeve.rod_pull_out(0.0127, depth + 0.1, row).likely > dry.likely
    assert sleeve.rod_pull_out(0.0127, depth, row, soaked=True).likely < dry.likely


@steady
@given(st.floats(100, 1000), st.floats(0.1, 0.4), st.floats(0.3, 2.0), st.floats(1.05, 2))
def test_a_deeper_stickier_box_holds_more(weight, depth, windward, more):
    def box(depth, windward, adhesion):
        k = (np.array([one]) for one in (windward, 0.5, 0.33, 0.36, adhesion))
        soil = anchor.SoilInBox(depth, 1e4, *k)
        return anchor.box_turns_at(weight, soil, 3.6, 0.95, 0.87)[0]

    base = box(depth, windward, 100.0)
    assert box(depth * more, windward, 100.0) > base
    assert box(depth, windward * more, 100.0) > base
    assert box(depth, windward, 100.0 * more) > base


@steady
@given(st.floats(0, 2), st.floats(0.1, 1), st.floats(50, 2000))
def test_another_turn_round_the_batten_holds_more(turns, more, clamp):
    fewer = film_edge.rolled_batten(turns, clamp, 0.3)

    assert film_edge.rolled_batten(turns + more, clamp, 0.3) > fewer
