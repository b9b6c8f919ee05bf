"""Generator parts against the papers they come from.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import numpy as np
import pytest

from hoopwright.climate.stochastic import (
    RICHARDSON_LAG,
    RICHARDSON_SHOCK,
)


def test_richardson_matrices_give_back_the_published_correlations():
    """Richardson 1981 table (from memory): lag 0 0.633, 0.189, -0.193; lag 1 diagonal 0.621,
    0.674, 0.251. A and B are printed to three digits, so 0.01."""
    lag, shock = np.array(RICHARDSON_LAG), np.array(RICHARDSON_SHOCK)
    covariance = np.eye(3)
    for _ in range(200):
        covariance = lag @ covariance @ lag.T + shock @ shock.T

    assert np.diag(covariance) == pytest.approx([1, 1, 1], abs=0.01)
    assert covariance[0, 1:] == pytest.approx([0.633, 0.189], abs=0.01)
    assert covariance[1, 2] == pytest.approx(-0.193, abs=0.01)
    assert np.diag(lag @ covariance) == pytest.approx([0.621, 0.674, 0.251], abs=0.01)
