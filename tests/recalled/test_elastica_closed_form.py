"""The hoop curve against its closed form in elliptic integrals, evaluated by SciPy.

Formulas: the classical inflectional and non-inflectional elastica (Love, Treatise on the
Mathematical Theory of Elasticity, 4th ed., art. 262-263), from memory; the angle of the foot fixes
the argument. SciPy's elliptic functions are the outside engine.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from beam_rig import CLAMPED
from scipy.optimize import brentq
from scipy.special import ellipe, ellipeinc, ellipj, ellipk, ellipkinc

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.hold import Hold

# Beyond 5e-10 the root finder of the closed form, not the solver, is what differs.
TOLERANCE = 1e-9


def inflectional(k: float, u: float) -> tuple[float, float, float, float, float]:
    """Span, rise, H L^2 / EI, foot and crown curvature times length; u from crown to foot."""
    m = k * k
    _, cn, _, _ = ellipj(u, m)
    turns = int(u // ellipk(m) > 0)
    amplitude = math.pi - math.asin(float(ellipj(u, m)[0])) if turns else float(ellipj(u, m)[3])
    big_e = float(ellipeinc(amplitude, m))
    length_lambda = 2.0 * u
    span = (2.0 / length_lambda) * (2.0 * big_e - u)
    rise = (2.0 * k / length_lambda) * (1.0 - float(cn))
    return (
        span,
        rise,
        length_lambda**2,
        2.0 * k * length_lambda * float(cn),
        2.0 * k * length_lambda,
    )


def foot_argument(k: float, angle: float, past: bool) -> float:
    """u where the pipe stands at `angle` to the level; past the inflection or before it."""
    first = float(ellipkinc(math.asin(math.sin(angle / 2.0) / k), k * k))
    return 2.0 * float(ellipk(k * k)) - first if past else first


def clamped_closed_form(share: float) -> tuple[float, float, float, float, float]:
    upright, edge = math.pi / 2.0, 1.0 / math.sqrt(2.0)
    if share > 0.6046:
        # Non-inflectional: p = 1 / k below one.
        def curve(p: float) -> tuple[float, float, float, float, float]:
            u = float(ellipkinc(math.pi / 4.0, p * p))
            k_lambda = 2.0 * u
            big_e = float(ellipeinc(math.pi / 4.0, p * p))
            span = (2.0 / k_lambda) * (u * (1.0 - 2.0 / p**2) + 2.0 * big_e / p**2)
            crown = 2.0 * k_lambda
            foot = crown * math.sqrt(1.0 - p * p / 2.0)
            thrust = (p * k_lambda) ** 2
            return span, (crown - foot) / thrust, thrust, foot, crown

        p = brentq(lambda v: curve(v)[0] - share, 0.05, 1.0 - 1e-12, xtol=1e-15)
        return curve(p)
    past = share < 0.456947
    low, high = edge * (1.0 + 1e-13), 0.99 if past else 1.0 - 1e-12
    k = brentq(
        lambda v: inflectional(v, foot_argument(v, upright, past))[0] - share, low, high, xtol=1e-15
    )
    return inflectional(k, foot_argument(k, upright, past))


@pytest.mark.parametrize("share", [0.22, 0.30, 0.38, 0.44, 0.47, 0.50, 0.55, 0.60, 0.61, 0.63])
def test_clamped(share: float) -> None:
    span, rise, thrust, foot, crown = clamped_closed_form(share)
    curve = bend_hoop(1.0, share, CLAMPED)
    assert span == pytest.approx(share, abs=1e-12)
    assert curve.rise == pytest.approx(rise, rel=TOLERANCE)
    assert curve.thrust_per_stiffness == pytest.approx(thrust, rel=1e-7)
    assert curve.foot_curvature == pytest.approx(foot, abs=1e-7)
    assert curve.crown_curvature == pytest.approx(crown, rel=1e-8)


@pytest.mark.parametrize("share", [0.05, 0.2, 0.35, 0.457, 0.5, 0.6, 0.75, 0.9, 0.97])
def test_one_strap(share: float) -> None:
    """Free feet: the foot is the inflection, so u = K(k) and span / length = 2 E / K - 1."""
    k = brentq(lambda v: 2 * ellipe(v * v) / ellipk(v * v) - 1 - share, 1e-6, 0.999, xtol=1e-15)
    big_k = float(ellipk(k * k))
    curve = bend_hoop(1.0, share, Hold.one_strap())
    assert curve.rise == pytest.approx(k / big_k, rel=TOLERANCE)
    assert curve.thrust_per_stiffness == pytest.approx(4.0 * big_k**2, rel=TOLERANCE)
    assert curve.foot_angle == pytest.approx(2.0 * math.asin(k), rel=TOLERANCE)
    assert curve.crown_curvature == pytest.approx(4.0 * k * big_k, rel=TOLERANCE)


def test_whole_shape() -> None:
    """Shape, not end values only: place along the arc from the closed form, free feet, 1e-9."""
    k = brentq(lambda v: 2 * ellipe(v * v) / ellipk(v * v) - 1 - 0.5, 1e-6, 0.999, xtol=1e-15)
    big_k = float(ellipk(k * k))
    curve = bend_hoop(1.0, 0.5, Hold.one_strap(), points=41)
    u = np.abs(curve.arc - 0.5) * 2.0 * big_k
    sn, cn, _, amplitude = ellipj(u, k * k)
    assert np.abs(curve.angle) == pytest.approx(2.0 * np.arcsin(k * sn), abs=TOLERANCE)
    assert curve.y == pytest.approx(k / big_k * cn, abs=TOLERANCE)
    x = (2.0 * ellipeinc(amplitude, k * k) - u) / (2.0 * big_k)
    assert np.abs(curve.x - 0.25) == pytest.approx(x, abs=TOLERANCE)
