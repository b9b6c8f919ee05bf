"""Generator parts against the papers they come from."""

import numpy as np
import pytest

from hoopwright.climate.disaggregate import (
    bristow_campbell_clearness,
    kimball_dew_point,
)
from hoopwright.climate.stochastic import (
    linked_residuals,
    normal_rank,
    rain_amounts,
    wet_days,
)


def test_drawn_residuals_have_those_correlations():
    rows = linked_residuals(40_000, np.random.default_rng(7))
    now, before = rows[1:], rows[:-1]

    assert rows.std(axis=0) == pytest.approx([1, 1, 1], abs=0.03)
    assert np.corrcoef(rows[:, 0], rows[:, 1])[0, 1] == pytest.approx(0.633, abs=0.02)
    assert np.corrcoef(now[:, 1], before[:, 1])[0, 1] == pytest.approx(0.674, abs=0.02)


def test_weaker_memory_keeps_the_same_day_correlations():
    rows = linked_residuals(40_000, np.random.default_rng(7), holding=0.88)

    assert rows.std(axis=0) == pytest.approx([1, 1, 1], abs=0.03)
    assert np.corrcoef(rows[:, 0], rows[:, 1])[0, 1] == pytest.approx(0.633, abs=0.02)
    assert np.corrcoef(rows[1:, 1], rows[:-1, 1])[0, 1] == pytest.approx(0.88 * 0.674, abs=0.02)


def test_wet_days_of_geng():
    """Geng et al. 1986: P(wet | dry) = 0.75 f, P(wet | wet) = 0.25 + 0.75 f, share f."""
    wet = wet_days(np.full(60_000, 0.3), np.random.default_rng(3))

    assert wet.mean() == pytest.approx(0.3, abs=0.01)
    assert wet[1:][~wet[:-1]].mean() == pytest.approx(0.225, abs=0.01)
    assert wet[1:][wet[:-1]].mean() == pytest.approx(0.475, abs=0.015)


def test_rain_amounts_of_geng():
    """Mean 8 mm: scale -2.16 + 1.83 x 8 = 12.48 mm, so variance 8 x 12.48."""
    drawn = rain_amounts(np.full(100_000, 8.0), np.random.default_rng(5))

    assert drawn.mean() == pytest.approx(8.0, rel=0.02)
    assert drawn.var() == pytest.approx(8 * 12.48, rel=0.05)


def test_normal_rank_against_scipy():
    from scipy.stats import norm

    score = np.linspace(-5, 5, 201)
    assert np.abs(normal_rank(score) - norm.cdf(score)).max() < 1e-7


def test_bristow_campbell_formula():
    """Hand-worked: mean spread 12 K, b = 0.036 exp(-1.848) = 0.00567; 15 K: 15^2.4 = 665,
    0.7 (1 - exp(-3.77)) = 0.684.
    """
    one = np.array([1.0])
    dry = bristow_campbell_clearness(15 * one, 0 * one, 12 * one)
    wet = bristow_campbell_clearness(15 * one, one, 12 * one)

    assert dry[0] == pytest.approx(0.684, abs=0.001)
    assert wet[0] < dry[0]


def test_kimball_dew_point_sits_at_the_minimum_where_wet_and_below_where_dry():
    """Kimball et al. 1997: near the minimum where rain is ample, several K below in deserts."""
    low, high = np.array([10.0]), np.array([24.0])
    wet = kimball_dew_point(low, high, np.array([2.0]), 1200.0)
    dry = kimball_dew_point(low, high, np.array([6.0]), 250.0)

    assert low[0] - wet[0] < 1.0
    assert 4.0 < low[0] - dry[0] < 12.0
