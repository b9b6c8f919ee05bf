"""Reach of a seated person against the ADA Standards (2010), section 308.3, secondary copy."""

import pytest

from hoopwright.tables.catalogue import Catalogue

INCH = 0.0254


def test_side_reach_over_an_obstruction_is_at_most_24_in_deep_and_34_in_high() -> None:
    """308.3.2; 308.3.1 allows 10 in of depth for the full height of reach."""
    seated = Catalogue().reach("seated")

    assert seated.from_one_side == pytest.approx(24 * INCH)
    assert seated.low == pytest.approx(10 * INCH)
    assert seated.board_top == pytest.approx(34 * INCH)


def test_common_practice_widths() -> None:
    """Common practice, no source: beds 4 ft wide for adults and 3 ft for children, two sides."""
    catalogue = Catalogue()

    assert 2 * catalogue.reach("adult").from_one_side == pytest.approx(4 * 12 * INCH)
    assert 2 * catalogue.reach("child").from_one_side == pytest.approx(3 * 12 * INCH)
