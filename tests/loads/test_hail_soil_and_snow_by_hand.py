"""Hail, soil, lying snow and shelter: numbers worked by hand apart from the code."""

from __future__ import annotations

from dataclasses import astuple

import numpy as np
import pytest

from hoopwright.loads import hail, shelter, snow, soil

INCH, FOOT, PCF, G = 0.0254, 0.3048, 16.01846337, 9.80665


def test_a_stone_and_its_fall() -> None:
    """1 in: 915 pi/6 (0.0254)^3 = 7.851 g; v^2 = 4 g 915 0.0254 / (3 x 0.5 x 1.225) = 496.2, v =
    22.28 m/s; energy 1.948 J. With a 20 m/s wind: v^2 + 400."""
    assert hail.stone_mass(INCH) == pytest.approx(7.851e-3, rel=1e-3)
    assert hail.terminal_speed_by_drag(INCH) == pytest.approx(22.28, rel=1e-3)
    assert hail.stone_energy(INCH) == pytest.approx(1.948, rel=1e-3)
    windy = hail.stone_energy(INCH, wind=20.0)
    assert windy == pytest.approx(0.5 * 7.851e-3 * 896.2, rel=1e-3)
    rough = hail.terminal_speed_by_drag(INCH, drag=0.6, density_of_air=0.98)
    assert rough == pytest.approx(22.28 * np.sqrt(0.5 / 0.6 * 1.225 / 0.98), rel=1e-3)


def test_the_stone_of_an_energy_and_a_darts() -> None:
    """1.948 J is one inch; 16 times that two. A 200 g dart from 0.66 m: 1.2945 J."""
    assert hail.diameter_of_energy([1.948, 16 * 1.948]) == pytest.approx([INCH, 2 * INCH], rel=1e-3)
    assert hail.dart_energy(0.2) == pytest.approx(1.2945, rel=1e-3)


def test_air_thins_with_height_and_heat() -> None:
    """101325 (1 - 2.25577e-5 x 2000)^5.25588 = 79495 Pa; over 287.05 x 288.15: 0.9611 kg/m3."""
    assert hail.air_density(2000.0) == pytest.approx(0.9611, rel=1e-3)
    assert hail.air_density(0.0, temperature=30.0) == pytest.approx(
        1.2250 * 288.15 / 303.15, rel=1e-4
    )


def test_soil_thrust_drained_and_with_water() -> None:
    """0.3 m of 1600 kg/m3, Ka 1/3: 1600 g 0.09 / 6 = 235.4 N/m. With 0.1 m of water at the foot:
    grains (15691 x 0.04/2 + 15691 x 0.2 x 0.1 + 5884 x 0.01/2) / 3 = 219.0; water 49.0."""
    assert soil.thrust(0.3, 1600.0, 1 / 3) == pytest.approx(235.4, rel=1e-3)
    assert soil.thrust(0.3, 1600.0, 1 / 3, water_depth=0.1) == pytest.approx(268.1, rel=1e-3)
    assert soil.thrust(0.1, 1600.0, 0.5, water_depth=0.3) == pytest.approx(
        0.5 * 600 * G * 0.005 + 1000 * G * 0.005
    )


def test_thrust_of_a_bed_mix_low_likely_and_high() -> None:
    """65 pcf drained, 90 soaked; tangents 0.47, 0.58, 0.70. Ka = (1 - s)/(1 + s): s 0.5735, 0.5017,
    0.4254: 0.2711, 0.3318, 0.4031; half w h^2 Ka. Soaked, water stands in the lower half: a
    quarter of half h^2 times Ka (3 x 90 + 90 - 62.43) and the water's own 62.43."""
    kind = soil.soil_kinds()["bed mix"]
    depth = 10 * INCH
    found = soil.side_thrust(depth, kind)
    half = G * PCF * depth**2 / 2
    assert astuple(found) == pytest.approx(
        [65 * half * 0.2711, 65 * half * 0.3318, (297.57 * 0.4031 + 62.43) * half / 4], rel=1e-3
    )
    stiff = soil.side_thrust(depth, kind, stiff_board=True)
    assert astuple(stiff) == pytest.approx(
        [65 * half * 0.4265, 65 * half * 0.4983, (297.57 * 0.5746 + 62.43) * half / 4], rel=1e-3
    )


def test_a_board_with_fixed_ends_and_with_creep() -> None:
    """w l^4 / (384 E I) and w l^2 / 12: a fifth of the bow, two thirds of the moment; creep doubles
    the bow and not the stress."""
    words = (200.0, 2.0, 0.286, 0.038, 9.65e9)
    plain, fixed = soil.board_bending(*words), soil.board_bending(*words, fixed_ends=True)
    second = 0.286 * 0.038**3 / 12
    assert plain.bulge == pytest.approx(5 * 200 * 16 / (384 * 9.65e9 * second))
    assert plain.moment == pytest.approx(100.0)
    assert plain.stress == pytest.approx(100.0 / (0.286 * 0.038**2 / 6))
    assert fixed.bulge == pytest.approx(plain.bulge / 5)
    assert fixed.moment == pytest.approx(200 * 4 / 12)
    crept = soil.board_bending(*words, creep=2.0)
    assert (crept.bulge, crept.stress) == (pytest.approx(2 * plain.bulge), plain.stress)


def half_circle(points: int = 2001) -> tuple[np.ndarray, np.ndarray]:
    turn = np.linspace(0, np.pi, points)
    return 0.5 - 0.5 * np.cos(turn), np.abs(np.pi / 2 - turn)


def test_snow_that_slides_off_a_slope() -> None:
    """Figure 7.4-1: falls straight from its corner to nothing at 70 deg. Corners 45 deg unheated
    (Ct 1.2), 37.5 (1.1) and 30 (1.0); slippery 15, 10 and 5: half is left midway."""
    for thermal, slippery, degrees, share in (
        (1.2, False, 57.5, 0.5), (1.2, True, 42.5, 0.5), (1.1, False, 53.75, 0.5),
        (1.1, True, 40.0, 0.5), (1.0, False, 50.0, 0.5), (1.0, True, 37.5, 0.5),
        (1.2, False, 45.0, 1.0), (1.2, False, 80.0, 0.0), (1.2, False, -57.5, 0.5),
    ):  # fmt: skip
        found = snow.slope_factor(np.radians(degrees), thermal, slippery)
        assert found == pytest.approx(share, abs=1e-9), (thermal, slippery, degrees)
    _, slope = half_circle()
    even = snow.balanced_on_curve(slope, 800.0)
    assert even[1000] == pytest.approx(800.0)
    at = int(np.argmin(np.abs(np.degrees(slope[1000:]) - 57.5))) + 1000
    assert even[at] == pytest.approx(400.0, rel=5e-3)
    assert even[0] == even[-1] == 0.0


def test_unbalanced_snow_on_a_half_circle() -> None:
    """1000 Pa on the flat, unheated: nothing to windward; 500 Pa at the crown; at 30 degrees (x
    0.75 m of 1) 2 x 1000 x 1 = 2000, between them straight; to the eaves the same near the ground,
    else falling to nothing at 70 degrees (x 0.9698 m)."""
    x, slope = half_circle()
    near = snow.unbalanced_on_curve(x, slope, 1000.0)
    far = snow.unbalanced_on_curve(x, slope, 1000.0, ground_near=False)
    assert np.all(near[x < 0.4999] == 0.0)
    for place, load in ((0.5, 500.0), (0.6, 1100.0), (0.75, 2000.0), (0.99, 2000.0)):
        assert np.interp(place, x[1000:], near[1000:]) == pytest.approx(load, rel=5e-3)
    assert np.interp(0.8599, x, far) == pytest.approx(1000.0, rel=1e-2)
    assert np.interp(0.98, x, far) == pytest.approx(0.0, abs=1.0)
    # Eaves at 45 degrees, warm below (Ct 1.0): Cs 1 at 30, 25 / 40 at 45: 1250 Pa at the eaves.
    even = slope[500:1501]
    warm = snow.unbalanced_on_curve(x[500:1501], even, 1000.0, thermal=1.0, ground_near=False)
    assert warm[-1] == pytest.approx(1250.0, rel=2e-3)
    exposed = snow.unbalanced_on_curve(x, slope, 1000.0, exposure=0.8)
    assert np.interp(0.75, x[1000:], exposed[1000:]) == pytest.approx(2500.0, rel=5e-3)
    flat = np.linspace(0.0, 0.3, 1001)
    flatter = snow.unbalanced_on_curve(
        np.linspace(0, 1, 2001), np.concatenate([flat[:0:-1], flat]), 1000.0
    )
    assert flatter[-1] == pytest.approx(2000.0)
    assert flatter[1500] == pytest.approx(1250.0, rel=5e-3)


def test_lying_snow() -> None:
    """0.7 of the ground's by ASCE 7, 0.8 by EN 1991."""
    assert snow.lying_share("ASCE 7") == 0.7
    assert snow.lying_share("EN 1991") == 0.8


def test_shelter_between_the_rows_of_its_table() -> None:
    """Halfway between two rows the mean speed is their mean; a gust is granted half the cut; past
    the last row or over 0.6 of the barrier there is none; close behind a solid wall none likely."""
    rows = [row for row in shelter._points() if row.barrier == "solid fence"]
    first, second = rows[0], rows[1]
    between = (first.distance_in_heights + second.distance_in_heights) / 2
    mean = (first.share_of_open_speed + second.share_of_open_speed) / 2
    found = shelter.sheltered_share("solid fence", 2.0, 2.0 * between, 1.0)
    assert astuple(found) == pytest.approx([mean, 1 - 0.5 * (1 - mean), 1.0])
    last = rows[-1].distance_in_heights
    gone = shelter.sheltered_share("solid fence", 2.0, 2.0 * last + 0.1, 1.0)
    assert astuple(gone) == (1.0, 1.0, 1.0)
    close = shelter.sheltered_share("solid fence", 2.0, first.distance_in_heights, 1.0)
    assert astuple(close) == pytest.approx([first.share_of_open_speed, 1.0, 1.0])
    hedge = shelter.sheltered_share("dense hedge", 2.0, 1.0, 1.0)
    assert hedge.likely < 1.0
    for height, some in ((1.19, True), (1.21, False)):
        tall = shelter.sheltered_share("dense hedge", 2.0, 10.0, height)
        assert (tall.low < 1.0) is some
    with pytest.raises(ValueError, match="no shelter figures"):
        shelter.sheltered_share("tent", 2.0, 10.0, 1.0)
