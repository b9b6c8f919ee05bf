"""The laws of heat under the cover, each worked by hand from its paper's formula."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from heat_rig import box

from hoopwright.heat import convection, longwave, ventilation
from hoopwright.heat.coefficients import likely
from hoopwright.heat.enclosure import rim_conductance, side_conductance
from hoopwright.heat.light import _beam_on_boards, light_on_boards
from hoopwright.heat.vapour import (
    drawn_shut,
    latent_conductance,
    soil_resistance,
    stomatal_resistance,
)


def test_air_on_film_soil_and_leaves() -> None:
    """1.95 x 8^0.3 = 3.639 either way; soil 8 K warmer 1.7 x 2, 16 K cooler 1.3 x 2. A leaf of
    0.1 m in 0.5 m/s, 5 K off: Gr 8.84e5, Re 3571, Nu 0.37 (Gr + 6.92 Re^2)^(1/4) = 35.95, so
    35.95 x 0.0248 / 0.1. Air at 79 kPa: (79 / 101.325)^0.8."""
    for apart in (8.0, -8.0):
        assert convection.inside_cover(apart, 1.95, 0.30) == pytest.approx(3.639, rel=1e-3)
    assert convection.over_soil(8.0, 1.7, 1 / 3, 1.3, 0.25) == pytest.approx(3.4)
    assert convection.over_soil(-16.0, 1.7, 1 / 3, 1.3, 0.25) == pytest.approx(2.6)
    leaf = convection.over_leaf(5.0, 0.5, 0.1, 0.37, 6.92)
    assert leaf == pytest.approx(8.916, rel=1e-3)
    assert convection.forced(2.0, 0.5, 5.0) == pytest.approx(10.0)
    assert convection.in_thin_air(79000.0, 0.8) == pytest.approx(0.8195, rel=1e-3)


def test_air_near_the_ground_and_through_one_side() -> None:
    """k^2 / (ln 200 ln 10) = 0.1681 / 12.20. Warmer by 1 K at 0.5 m in 1 m/s: 5 g z dT / (T u^2)
    = 0.08756 at 280 K, so 1.08756^0.75; colder 0.91244^2; colder by 12 K nothing is left. One
    side: A / 2 sqrt(0.001 x 4 + 0.0035 x 0.5 x 10 + 0.01)."""
    assert convection.neutral_conductance(0.2, 2.0, 0.01) == pytest.approx(0.013779, rel=1e-4)

    def factor(apart: float) -> float:
        return float(convection.stability_factor(apart, 280.0, 0.5, 1.0, 5.0, 0.75, 2.0))

    assert factor(1.0) == pytest.approx(1.06498, rel=1e-4)
    assert factor(-1.0) == pytest.approx(0.83255, rel=1e-4)
    assert factor(-12.0) == 0.0
    assert ventilation.through_one_side(1.0, 0.5, 10.0, 2.0) == pytest.approx(0.088741, rel=1e-4)


def test_vapour_from_wet_and_dry_surfaces() -> None:
    """Wet: h / (psychro Le^(2/3)) = 10 / (66 x 0.9); with 100 s/m in series 1200 / 66 / (1200 x
    0.9 / 10 + 100). Soil at 0.10: 10 e^(35.63 x 0.05); wetter than 0.15, 10 s/m. Stomata in the
    dark 82 x 4.30 / 0.54; at 100 W/m2 82 x 104.3 / 100.54. 500 Pa short: 1 + 4.3e-6 x 500^2."""
    assert latent_conductance(10.0, 0.0, 1.0, 1200.0, 66.0, 0.9) == pytest.approx(10 / 59.4)
    dry = latent_conductance(10.0, 100.0, 2.0, 1200.0, 66.0, 0.9)
    assert dry == pytest.approx(2 * 18.1818 / 208, rel=1e-4)
    c = likely()
    assert soil_resistance(0.10, c) == pytest.approx(59.39, rel=1e-3)
    assert soil_resistance(0.20, c) == pytest.approx(10.0)
    found = stomatal_resistance(np.array([0.0, 100.0]), c)
    assert found == pytest.approx([652.96, 85.07], rel=1e-3)
    assert drawn_shut(500.0, 4.3e-6, 5.8) == pytest.approx(2.075)
    assert drawn_shut(2000.0, 4.3e-6, 5.8) == 5.8


def test_heat_through_the_boards() -> None:
    """0.9 x 3.6 m: 9 m round 3.24 m2. A layer of 0.1 m: 0.9 / 6 of soil at 1 W/mK, 0.038 / 0.115
    of board, 0.04 outside, 0.5204 m2K/W in all; a rim of 0.05 m: 0.12 inside for the soil."""
    bed = box(width=0.9, length=3.6, rim_above_soil=0.05, soil_above_grade=0.28)
    c = likely()
    sides = side_conductance(bed, [0.1, 0.2, 0.5], 2, 1.0, c)
    layer = 9 * 0.1 / 3.24 / 0.520435
    assert sides == pytest.approx([layer, 2 * layer, 0.0], rel=1e-5)
    assert rim_conductance(bed, c) == pytest.approx(9 * 0.05 / 3.24 / 0.490435, rel=1e-5)


def test_a_fabric_over_the_ground_seen_from_above() -> None:
    """Passes 0.3, emits 0.6, throws back 0.1, over ground that emits 0.9: between them 1 + 0.01 +
    0.0001 ... goes to and fro. All of one temperature it is black: the three add to 1."""
    x_f, x_g, back, echo = longwave.ground_behind_fabric(0.3, 0.6, 0.9)
    assert echo == pytest.approx(1 / 0.99)
    assert (x_f, x_g, back) == pytest.approx((0.618182, 0.272727, 0.109091), rel=1e-5)
    assert x_f + x_g + back == pytest.approx(1.0)
    assert longwave.blend(0.2, 0.6, 0.25) == pytest.approx(0.3)


def test_light_on_the_boards() -> None:
    """A low sun along a bed of 3 x 1 m meets 1 of its 8 m of sides square on, across it 3. Beam,
    half the sky, half the ground: 0.3 x 800 + 50 + 20; no beam is believed above 1400 W/m2."""
    bed = box(width=1.0, length=3.0, axis_azimuth=90.0)
    sun = SimpleNamespace(elevation=np.array([30.0, 30.0]), azimuth=np.array([90.0, 180.0]))
    found = _beam_on_boards(bed, sun, np.array([True, True]))  # type: ignore[arg-type]
    assert found == pytest.approx(np.cos(np.radians(30)) * np.array([1 / 8, 3 / 8]))
    weather = SimpleNamespace(
        direct_normal=np.array([800.0, 1600.0]), diffuse_horizontal=np.array([100.0, 100.0])
    )
    geometry = SimpleNamespace(beam_on_boards=np.array([0.3, 0.3]))
    light = light_on_boards(weather, geometry, np.array([40.0, 40.0]))  # type: ignore[arg-type]
    assert light == pytest.approx([310.0, 0.3 * 1400 + 70])
