"""The whole bed, its corners and stakes, and the film's edges, by hand."""

import numpy as np
import pytest

from hoopwright.holding import anchor, film_edge
from hoopwright.tables.spread import Spread, exactly

G = 9.80665


def test_stakes_hold_a_bare_frame_but_not_its_soil():
    ballast = anchor.Ballast(45.0, 600.0, False, stake_pull_out=Spread(100.0, 300.0, 900.0))

    assert anchor.lift_capacity(ballast).likely == pytest.approx(45 * G + 300)


def test_overturning_by_moments():
    """Drag 500 N at 1 m, uplift 800 N on a 1.2 m bed of 3000 N: (500 + 480) / 1800."""
    share = anchor.overturning_share(800.0, 500.0, 1.0, 1.2, 3000.0)

    assert share == pytest.approx(980 / 1800)


def test_empty_bed_slides_first():
    full = anchor.slide_capacity(anchor.Ballast(45.0, 600.0, False), 500.0)
    empty = anchor.slide_capacity(anchor.Ballast(45.0, 0.0, False), 500.0)

    assert full.low == pytest.approx(0.3 * (645 * G - 500))
    assert empty.high == 0.0


def test_broms_stake_by_hand():
    """0.04 m wide, 0.5 m deep, pushed at the ground, 30 degrees (Kp 3), 1700 kg/m3: 250 N."""
    held = anchor.stake_side_capacity(0.04, 0.5, 0.0, exactly(np.tan(np.radians(30))))

    assert held.likely == pytest.approx(1700 * G * 0.04 * 0.125 * 3 / (2 * 0.5))


def test_corner_in_end_grain_is_not_to_be_relied_on():
    one = Spread(300.0, 900.0, 1200.0)

    assert anchor.corner_capacity(3, one, into_end_grain=True).low == 0.0
    assert anchor.corner_capacity(3, one, into_end_grain=False).low == 900.0
    assert anchor.corner_pull(214.0, 2.4) == pytest.approx(256.8)


def test_tie_takes_hoop_and_a_third_of_the_soil():
    assert anchor.tie_tension(80.0, 210.0, 1.2) == pytest.approx(80 + 84)


def test_roll_is_eulers_belt():
    """mu 0.35, one turn: exp(2.199) = 9.018."""
    held = film_edge.rolled_batten(1.0, 100.0, exactly(0.35))

    assert held.likely == pytest.approx(2 * 0.35 * 100 * 9.018, rel=1e-3)


def test_screws_alone_hold_far_less_than_a_clean_edge():
    stresses = Spread(9.2e6, 9.9e6, 10.5e6), Spread(11e6, 17e6, 20.9e6)
    edge = film_edge.film_tear(150e-6, *stresses)
    torn = film_edge.tear_at_screws(150e-6, 0.45, 0.01, 0.02, *stresses)

    assert torn.high < 0.3 * edge.likely
    assert edge.low == pytest.approx(1380.0)


def test_clips_and_clamp():
    assert film_edge.clip_grip(0.5).likely == pytest.approx(160.0)
    assert film_edge.clip_grip(0.5, exactly(30.0)).low == pytest.approx(60.0)
    assert film_edge.batten_clamp(900.0, 0.45) == pytest.approx(600.0)


def test_rail_lifts_in_a_breeze():
    """0.35 kg/m on a 0.6 m radius, film upright: 3.43 N/m, lifts at 5.7 Pa, about 3 m/s."""
    rail = film_edge.rail_ballast(0.35, 0.6, np.pi / 2)

    assert rail.hold == pytest.approx(0.35 * G)
    assert rail.lifts_at == pytest.approx(5.72, abs=0.01)
