"""A clamped semicircular bow loaded square to its plane: the closed form of the textbooks.

Source: bow girders in Timoshenko, Strength of Materials, part II, and Roark's Formulas for Stress
and Strain (curved beams loaded normal to their plane), by Castigliano; from memory and derived
again: with q on each length of arc the crown's moment is q R^2 (4/pi - 1) whatever EI and GJ; with
a force P at the crown it is P R / pi.
"""

import math

import numpy as np
import pytest
from beam_rig import CLAMPED

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.out_of_plane import CROWN, gauss_shares, push_aside

RADIUS, STIFFNESS, CLAMP = 0.7, 40.0, 1e9


def bow(torsion, spread, force):
    """Without prestress. A pipe drawn to a span of 2/pi of its length is a semicircle."""
    return push_aside(
        bend_hoop(math.pi * RADIUS, 2 * RADIUS, CLAMPED),
        STIFFNESS,
        np.full((1, gauss_shares()[0].size), spread),
        np.array([force]),
        foot_turn=CLAMP,
        foot_twist=CLAMP,
        torsion_share=torsion,
        bend_left=0.0,
    )


@pytest.mark.parametrize("torsion", [0.6, 0.7246, 0.77, 1.0])
def test_a_load_all_along_the_bow(torsion):
    q, radius = 3.0, RADIUS
    found = bow(torsion, q, 0.0)
    lean = (
        q
        * radius**4
        / STIFFNESS
        * (1 - 2 / math.pi + (1 + math.pi**2 / 8 - math.pi / 2 - 2 / math.pi) / torsion)
    )
    assert found.lean[0, CROWN] == pytest.approx(lean, rel=1e-5)
    moment = STIFFNESS * found.bending[0, CROWN]
    assert abs(moment) == pytest.approx(q * radius**2 * (4 / math.pi - 1), rel=1e-5)
    assert np.abs(found.foot_moment).max() == pytest.approx(q * radius**2, rel=1e-5)
    assert np.abs(found.foot_torque).max() == pytest.approx(
        q * radius**2 * (math.pi / 2 - 4 / math.pi), 1e-5
    )


@pytest.mark.parametrize("torsion", [0.6, 0.7246, 1.0])
def test_a_force_at_the_crown(torsion):
    force, radius = 5.0, RADIUS
    found = bow(torsion, 0.0, force)
    # Castigliano on one half with the force's half and the crown's moment.
    bent, twisted = math.pi / 8 - 1 / (2 * math.pi), 3 * math.pi / 8 - 1 - 1 / (2 * math.pi)
    lean = force * radius**3 / STIFFNESS * (bent + twisted / torsion)
    assert found.lean[0, CROWN] == pytest.approx(lean, rel=1e-3), "a force bends polynomials little"
    assert np.abs(found.foot_moment).max() == pytest.approx(force * radius / 2, rel=1e-5)
