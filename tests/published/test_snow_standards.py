"""Snow on slopes by ASCE 7 against published values."""

import numpy as np
import pytest

from hoopwright.loads import snow


def test_slope_factor_of_six_in_twelve():
    """Ct 1.1, slippery, 26.6 degrees: 0.723 (eng-tips 165815, read; the 7-05 graph misprints)."""
    assert snow.slope_factor(np.radians(26.6), 1.1, True) == pytest.approx(0.7233, abs=5e-4)


@pytest.mark.parametrize(
    ("thermal", "slippery", "degrees", "share"),
    [
        (1.0, True, 5, 1.0),
        (1.0, False, 30, 1.0),
        (1.0, False, 50, 0.5),
        (1.2, False, 45, 1.0),
        (1.2, True, 42.5, 0.5),
        (1.1, False, 70, 0.0),
    ],
)
def test_figure_7_4_1_corners(thermal, slippery, degrees, share):
    """Corners and middles of the straight lines of Figure 7.4-1 (as in an open package)."""
    assert snow.slope_factor(np.radians(degrees), thermal, slippery) == pytest.approx(share)
