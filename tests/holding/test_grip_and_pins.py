"""Grip by default is an assumption; a person's own pull replaces it; a pin cures it."""

from dataclasses import astuple

import numpy as np
import pytest

from hoopwright.holding import grip
from hoopwright.tables.spread import Spread


def test_grip_by_hand():
    """Two straps, 100 N of bend, squeeze 50 N a strap on two faces, mu 0.2, half left."""
    held = grip.strap_grip([60.0, 40.0], friction=0.2, squeeze=50.0, relaxed=0.5)

    assert float(held) == pytest.approx(30.0)


def test_defaults_say_that_they_are_assumptions():
    assert grip.forces()["squeeze of a snug strap"].sure == "assumption"
    assert grip.shares()["steel strap on plastic pipe"].sure == "assumption"
    assert grip.shares()["steel in plastic sleeve"].likely == 0.0


PRIOR = Spread(20.0, 60.0, 180.0)


def test_a_pull_test_updates_what_was_thought():
    """Normal mean of the logarithms, conjugate: prior sd ln 3 / 1.645 = 0.668, readings 0.25.

    Precisions 2.242 and 3 x 16 = 48; mean (2.242 ln 60 + 48 ln 118.9) / 50.24 = ln 115.3, the
    next value's sd sqrt(1 / 50.24 + 0.0625) = 0.287, times 1.645: 72 to 185.
    """
    test = grip.PullTest((100.0, 140.0, 120.0), straps=2, aged=True)
    found = grip.grip_of_pull_test(test, 2, PRIOR)

    assert astuple(found) == pytest.approx((72.0, 115.4, 185.0), rel=0.01)


def test_more_readings_say_more_but_never_less_than_the_scatter():
    few = grip.grip_of_pull_test(grip.PullTest((100.0,), 2), 2, PRIOR)
    many = grip.grip_of_pull_test(grip.PullTest((100.0,) * 50, 2), 2, PRIOR)

    assert many.high / many.low < few.high / few.low < PRIOR.high / PRIOR.low
    assert many.high / many.low > np.exp(2 * 1.645 * 0.25) * 0.999


def test_pull_test_scales_with_straps():
    test = grip.PullTest((100.0,) * 50, straps=1, aged=True)

    assert grip.grip_of_pull_test(test, 2, PRIOR).likely == pytest.approx(200.0, rel=0.02)


def test_empty_pull_test_is_refused():
    with pytest.raises(ValueError, match="at least one reading"):
        grip.grip_of_pull_test(grip.PullTest((), straps=1), 1, PRIOR)


def test_pin_by_hand_and_its_weakest_way():
    """3.33 mm root through 2.87 mm walls of 50 MPa: bearing 2 x 3.33 x 2.87 x 50 = 956 N."""
    pin = grip.through_pin(3.33e-3, 2.87e-3, 0.04, 50e6, 1.0)

    assert float(pin.pipe_bearing) == pytest.approx(955.7, rel=1e-3)
    assert pin.holds == pin.pipe_bearing
    close = grip.through_pin(3.33e-3, 2.87e-3, 0.002, 50e6, 1.0)
    assert close.holds == close.tear_to_end
