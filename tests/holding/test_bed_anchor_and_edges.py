"""The whole bed and its stakes, and the film's edges, by hand."""

import numpy as np
import pytest

from hoopwright.holding import anchor, film_edge
from hoopwright.tables.spread import exactly

G = 9.80665


def moist(windward=0.9):
    """0.26 m of soil at 10 kN/m3, wall friction 0.36, adhesion 300 Pa, at rest 0.5, active 1/3."""
    return anchor.SoilInBox(0.26, 1e4, *(np.array([k]) for k in (windward, 0.5, 1 / 3, 0.36, 300)))


def test_a_box_turns_by_hand():
    """A 3.66 m by 0.95 m box, 0.87 m within, of 400 N.

    Weight 400 x 0.475 = 190. Windward board: 0.9 x 1e4 x 0.0338 x 0.36 + 300 x 0.26 = 187.5 N/m,
    times 3.66 x 0.95: 652.0. End boards: 0.5 x 1e4 x 0.0338 x 0.36 + 78 = 138.8 N/m, times two
    boards x 0.87 x 0.475: 114.8. Thrust (0.9 - 0.3333) x 1e4 x 0.0338 = 191.5 N/m, times
    3.66 x 0.26 / 3: 60.8. In all 1017.5 N m.
    """
    held = anchor.box_turns_at(400.0, moist(), 3.66, 0.95, 0.87)

    assert held[0] == pytest.approx(1017.5, rel=0.002)


def test_a_dry_bed_holds_by_the_frame_alone():
    dry = anchor.SoilInBox(0.26, 1e4, *(np.array([k]) for k in (0.5, 0.5, 0.5, 0.0, 0.0)))

    assert anchor.box_turns_at(400.0, dry, 3.66, 0.95, 0.87)[0] == pytest.approx(190.0)
    assert anchor.box_lifts_at(400.0, dry, 3.58, 0.87)[0] == pytest.approx(400.0)


def test_a_box_lifts_by_hand():
    """At rest all round: 138.8 N/m on 2 (3.58 + 0.87) = 8.9 m, and 400 N: 1636 N."""
    held = anchor.box_lifts_at(400.0, moist(), 3.58, 0.87)

    assert held[0] == pytest.approx(1635.7, rel=0.001)


def test_broms_stake_by_hand():
    """0.04 m wide, 0.5 m deep, pushed at the ground, 30 degrees (Kp 3), 1700 kg/m3: 250 N."""
    held = anchor.stake_side_capacity(0.04, 0.5, 0.0, exactly(np.tan(np.radians(30))))

    assert held.likely == pytest.approx(1700 * G * 0.04 * 0.125 * 3 / (2 * 0.5))


def test_roll_is_eulers_belt():
    """mu 0.35, one turn: exp(2.199) = 9.018."""
    held = film_edge.rolled_batten(1.0, 100.0, 0.35)

    assert float(held) == pytest.approx(2 * 0.35 * 100 * 9.018, rel=1e-3)


def test_clamp():
    assert float(film_edge.batten_clamp(900.0, 0.45)) == pytest.approx(600.0)


def test_rail_lifts_in_a_breeze():
    """0.35 kg/m on upright film: 3.43 N/m, which a 0.6 m arc pulls at 5.7 Pa, about 3 m/s."""
    assert film_edge.rail_ballast(0.35, np.pi / 2) == pytest.approx(0.35 * G)
