"""The freezing front: Stefan 1891; Neumann's solution in Carslaw & Jaeger 1959, sec. 11.2.

Soil at 0 degC whose surface is brought to -5 degC: the front stands at 2 lambda sqrt(a t) with
lambda exp(lambda^2) erf(lambda) = Ste / sqrt(pi), Ste = c dT / L.
"""

from __future__ import annotations

import sys
from math import exp, pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import erf

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from conduction_rig import half_space, march_column


def front(conductivity: float, heat: float, latent: float, drop: float, seconds: float) -> float:
    stefan = heat * drop / latent
    root = brentq(lambda x: x * exp(x * x) * erf(x) - stefan / sqrt(pi), 1e-6, 3.0)
    return 2 * root * sqrt(conductivity / heat * seconds)


@pytest.mark.parametrize("days", [2, 5])
def test_depth_of_freezing(days: int) -> None:
    conductivity, heat, latent = 1.5, 2.0e6, 0.25 * 1000 * 334000
    exact = front(conductivity, heat, latent, 5.0, days * 86400)
    # A narrow band of freezing stands for Stefan's sharp front.
    column = half_space(np.full(60, 0.01), conductivity, conductivity / heat, None, latent, 0.05)
    run = march_column(column, np.full(days * 144, -5.0), dt=600.0, start=0.001, deep=0.001)
    held = run.soil[-1]
    # Frozen layers whole, and the share of latent heat gone in the layer that is freezing.
    share = np.clip(-held / 0.05, 0.0, 1.0)
    assert share.sum() * 0.01 == pytest.approx(exact, rel=0.03)


def test_the_simple_rule_overstates_slightly() -> None:
    """Stefan's own sqrt(2 k dT t / L) leaves out the heat of the ice: a little deeper."""
    conductivity, heat, latent = 1.5, 2.0e6, 0.25 * 1000 * 334000
    exact = front(conductivity, heat, latent, 5.0, 86400)
    simple = sqrt(2 * conductivity * 5.0 * 86400 / latent)
    assert 1.0 < simple / exact < 1.05
