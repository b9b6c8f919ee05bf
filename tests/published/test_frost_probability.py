"""Quantiles of frost dates by Cunnane 1978, and against scipy."""

import numpy as np
import pytest

from hoopwright.climate.frost import (
    plotting_positions,
    quantile,
)


def test_cunnane_positions_and_quantiles():
    """Cunnane 1978: (i - 0.4)/(n + 0.2); n = 9 gives 0.0652 first and the median in the middle."""
    positions = plotting_positions(9)
    assert positions[0] == pytest.approx(0.6 / 9.2)
    assert quantile(np.arange(1.0, 10.0), 0.5) == pytest.approx(5.0)


def test_quantile_against_scipy():
    """scipy's mquantiles with alphap = betap = 0.4 is the same rule."""
    from scipy.stats.mstats import mquantiles

    values = np.array([101.0, 118, 122, 127, 128, 131, 135, 139, 141, 150, 158, 163])
    for probability in (0.1, 0.25, 0.5, 0.77, 0.9):
        expected = mquantiles(values, [probability], alphap=0.4, betap=0.4)[0]
        assert quantile(values, probability) == pytest.approx(float(expected), abs=1e-9)


def test_a_short_record_knows_no_tail():
    assert np.isnan(quantile(np.array([120.0, 130.0, 140.0]), 0.05))
