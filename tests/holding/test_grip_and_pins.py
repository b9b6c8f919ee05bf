"""Grip by default is an assumption; a person's own pull replaces it; a pin cures it."""

from dataclasses import astuple

import pytest

from hoopwright.holding import grip
from hoopwright.tables.spread import exactly


def test_grip_by_hand():
    """Two straps, 100 N of bend, squeeze 50 N a strap on two faces, mu 0.2, half left."""
    held = grip.strap_grip([60.0, 40.0], exactly(0.2), squeeze=exactly(50.0), relaxed=exactly(0.5))

    assert astuple(held) == pytest.approx((30.0, 30.0, 30.0))


def test_defaults_say_that_they_are_assumptions():
    assert grip.forces()["squeeze of a snug strap"].sure == "assumption"
    assert grip.shares()["steel strap on plastic pipe"].sure == "assumption"
    assert grip.shares()["steel in plastic sleeve"].value.likely == 0.0


def test_pull_test_replaces_the_range():
    new = grip.grip_of_pull_test(grip.PullTest((100.0, 140.0, 120.0), straps=2), straps=2)
    aged = grip.grip_of_pull_test(grip.PullTest((100.0, 140.0), straps=2, aged=True), straps=2)

    assert astuple(new) == pytest.approx((34.0, 60.0, 161.0))
    assert astuple(aged) == pytest.approx((85.0, 120.0, 161.0))


def test_pull_test_scales_with_straps():
    test = grip.PullTest((100.0,), straps=1, aged=True)

    assert grip.grip_of_pull_test(test, straps=2).likely == pytest.approx(200.0)


def test_empty_pull_test_is_refused():
    with pytest.raises(ValueError, match="at least one reading"):
        grip.grip_of_pull_test(grip.PullTest((), straps=1), straps=1)


def test_pin_by_hand_and_its_weakest_way():
    """3.33 mm root through 2.87 mm walls of 50 MPa: bearing 2 x 3.33 x 2.87 x 50 = 956 N."""
    pin = grip.through_pin(3.33e-3, 2.87e-3, 0.04, 50e6)

    assert pin.pipe_bearing.likely == pytest.approx(955.7, rel=1e-3)
    assert pin.holds == pin.pipe_bearing
    close = grip.through_pin(3.33e-3, 2.87e-3, 0.002, 50e6)
    assert close.holds == close.tear_to_end


def test_pin_beats_any_default_grip_of_one_strap():
    """The cheap cure: even a pin's low end is above the likely grip of two straps."""
    pin = grip.through_pin(3.33e-3, 2.87e-3, 0.04, 50e6)

    assert pin.holds.low > grip.strap_grip([80.0, 60.0]).likely
