"""The snow under which a hoop falls along the bed, against OpenSees in space.

OpenSees bends a straight pipe into the hoop (corotational frame in space), a tiny pull along the
bed is laid on its crown and even snow in steps; the load at which the lean would run away is read
off Southwell's line, lean over load against lean (Southwell 1932, from memory).
"""

from __future__ import annotations

import numpy as np
import pytest
from opensees_here import modelled

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.frame import hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import load
from hoopwright.beam.out_of_plane import CROWN, POINTS, falls_along, push_aside
from hoopwright.beam.path import follow

outside = modelled("aside_by_opensees")

pytestmark = pytest.mark.reference

TORSION = 1 / 1.38
TURN = 30.0


@pytest.mark.parametrize(("share", "spring"), [(0.4, 0.0), (0.45, 0.0), (0.5, 0.0), (0.5, 25.0)])
def test_a_hoop_with_little_or_nothing_at_its_crown(share: float, spring: float) -> None:
    hold = Hold.two_straps(0.1)
    frame = hoop_frame(bend_hoop(1.0, share, hold), 1.0)
    path = follow(frame, load(frame, on_plan=1.0))
    ours = falls_along(
        path, [0], foot_turn=TURN, foot_twist=1e4, torsion_share=TORSION, crown_hold=spring
    )[0]
    assert ours < (0.9 if spring else 0.4) * path.critical_factor[0]
    upto = 0.8 * float(ours)
    loads, lean = outside.snowed_on(share, TORSION, TURN, TURN, upto, crown_hold=spring)
    slope, _ = np.polyfit(lean[len(lean) // 2 :], (lean / loads)[len(lean) // 2 :], 1)
    assert float(ours) == pytest.approx(1 / slope, rel=0.05)


def test_a_held_crown_stands_till_it_folds() -> None:
    frame = hoop_frame(bend_hoop(1.0, 0.5, Hold.two_straps(0.1)), 1.0)
    path = follow(frame, load(frame, on_plan=1.0))
    held = falls_along(
        path, [0], foot_turn=TURN, foot_twist=1e4, torsion_share=TORSION, crown_hold=1e4
    )
    assert np.isnan(held[0])


@pytest.mark.parametrize("held", [0.0, 60.0])
def test_hoops_leaned_along_by_wind(held: float) -> None:
    """An even push along the bed, a spring of 0 and 60 EI / L^3 at the crown, as in the checks:
    lean of a push over 1 and the spring times the lean of a pull at the crown."""
    loads = np.stack([np.ones(POINTS), np.zeros(POINTS)])
    aside = push_aside(
        bend_hoop(1.0, 0.45, Hold.two_straps(0.1)),
        1.0,
        loads,
        np.array([0.0, 1.0]),
        foot_turn=TURN,
        foot_twist=1e4,
        torsion_share=TORSION,
        bend_left=1.0,
    )
    spread, crown = aside.lean[:, CROWN]
    push = 0.04 * (1 + held * crown) / spread
    leaned = outside.blown_along(0.45, TORSION, TURN, push, -held * 0.04, 0.0)
    assert leaned == pytest.approx(0.04, rel=0.05)
    if not held:  # Suction, left out of the rung, stretches the hoop and holds it upright.
        assert outside.blown_along(0.45, TORSION, TURN, push, 0.0, 30.0) < 0.95 * leaned
