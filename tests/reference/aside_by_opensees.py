"""A hoop pushed out of its plane in OpenSees: a frame in space, stress-free or bent from straight.

OpenSees (McKenna, Fenves and Scott, University of California, Berkeley) through openseespy. Nothing
of Hoopwright is used here. EI = 1 both ways; EA = 1e6. The bed runs along z, the hoop stands in xy.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from hoop_by_opensees import AXIAL, ops

Z, ABOUT_X, ABOUT_Y, ABOUT_Z = 3, 4, 5, 6
STIFF = 1e7
#: Of each half of the bending; elastic, so that they leave nothing in what comes of it.
STEPS = 32
UPRIGHT = np.array([0.0, 1.0])
_PUSHES = itertools.count(1000)


@dataclass
class Stood:
    """A hoop standing in OpenSees. rest: places of its nodes; leg: way the first foot points."""

    elements: int
    rest: np.ndarray
    leg: np.ndarray

    @property
    def crown(self) -> int:
        return self.elements // 2 + 1

    def lean(self) -> np.ndarray:
        """How far each node has moved along the bed."""
        return np.array([ops.nodeDisp(n, Z) for n in range(1, self.elements + 2)])

    def foot(self) -> tuple[float, float]:
        """Moment against tilting and torque about the leg of the first foot, each as a size."""
        ops.reactions()
        moment = np.array([ops.nodeReaction(10_001, d) for d in (ABOUT_X, ABOUT_Y)])
        normal = np.array([self.leg[1], -self.leg[0]])
        return abs(float(moment @ normal)), abs(float(moment @ self.leg))


def _static(steps: int, tolerance: float = 1e-10) -> None:
    ops.wipeAnalysis()
    ops.constraints("Transformation")
    ops.numberer("RCM")
    ops.system("UmfPack")
    ops.test("NormDispIncr", tolerance, 60)
    ops.algorithm("Newton")
    ops.integrator("LoadControl", 1.0 / steps)
    ops.analysis("Static")
    if ops.analyze(steps) != 0:
        raise RuntimeError("OpenSees did not converge")
    ops.loadConst("-time", 0.0)


def _hold(
    node: int, ground: int, place: np.ndarray, springs: tuple[float, float, float], leg: np.ndarray
) -> None:
    """Ground a foot: kept in place, held by springs against tilting along the bed, against
    spinning about the leg and against turning in the plane (STIFF: as good as a clamp).

    The ground node may be turned about z, to stand a straight pipe's end upright.
    """
    ops.node(ground, *place)
    ops.fix(ground, 1, 1, 1, 1, 1, 0)
    tags = (ground, ground + 100, ground + 200)
    for tag, value in zip(tags, springs, strict=True):
        ops.uniaxialMaterial("Elastic", tag, value)
    normal = (float(leg[1]), -float(leg[0]), 0.0)
    ops.element(
        *("zeroLength", ground, ground, node),
        *("-mat", *tags, "-dir", ABOUT_X, ABOUT_Y, ABOUT_Z),
        *("-orient", *normal, float(leg[0]), float(leg[1]), 0.0),
    )


def _model() -> None:
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)


def stress_free(points: np.ndarray, torsion: float, turn: float, twist: float) -> Stood:
    """A hoop formed to a curve beforehand, as short straight beams; small movements.

    points: (nodes, 2) of the curve, the feet its ends.
    """
    _model()
    elements = len(points) - 1
    for n, (x, y) in enumerate(points, start=1):
        ops.node(n, float(x), float(y), 0.0)
    ops.geomTransf("Linear", 1, 0.0, 0.0, 1.0)
    for e in range(1, elements + 1):
        ops.element("elasticBeamColumn", e, e, e + 1, AXIAL, 1.0, 1.0, torsion, 1.0, 1.0, 1)
    legs = []
    for node, ground in ((1, 10_001), (elements + 1, 10_002)):
        end = points[:3] if node == 1 else points[:-4:-1]
        leg = 4.0 * end[1] - 3.0 * end[0] - end[2]
        leg = leg / np.hypot(*leg)
        legs.append(leg)
        place = np.append(points[node - 1], 0.0)
        _hold(node, ground, place, (turn, twist, STIFF), leg)
        ops.fix(node, 1, 1, 1, 0, 0, 0)
        ops.fix(ground, 0, 0, 0, 0, 0, 1)
    return Stood(elements, points, legs[0])


def bent_from_straight(
    span: float, torsion: float, turn: float, twist: float, bend: float, elements: int = 64
) -> Stood:
    """A straight pipe of unit length turned up at both ends and drawn to its span.

    turn, twist, bend: springs of the feet about x, y and z in EI / L.
    """
    _model()
    last = elements + 1
    for n in range(1, last + 1):
        ops.node(n, (n - 1) / elements, 0.0, 0.0)
    ops.geomTransf("Corotational", 1, 0.0, 0.0, 1.0)
    for e in range(1, elements + 1):
        ops.element("elasticBeamColumn", e, e, e + 1, AXIAL, 1.0, 1.0, torsion, 1.0, 1.0, 1)
    ops.fix(1, 1, 1, 1, 0, 0, 0)
    ops.fix(last, 0, 1, 1, 0, 0, 0)
    for node, ground in ((1, 10_001), (last, 10_002)):
        place = np.array([(node - 1) / elements, 0.0, 0.0])
        _hold(node, ground, place, (turn, twist, bend), UPRIGHT)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    ops.sp(10_001, ABOUT_Z, math.pi / 2)
    ops.sp(10_002, ABOUT_Z, -math.pi / 2)
    _static(STEPS)
    here = ops.nodeDisp(last, 1)
    ops.timeSeries("Path", 2, "-time", 0.0, 1.0, 2.0, "-values", here, span - 1.0, span - 1.0)
    ops.pattern("Plain", 2, 2)
    ops.sp(last, 1, 1.0)
    _static(STEPS)
    rest = np.array(
        [[ops.nodeCoord(n, d) + ops.nodeDisp(n, d) for d in (1, 2)] for n in range(1, last + 1)]
    )
    return Stood(elements, rest, UPRIGHT)


def push(hoop: Stood, spread: float, at_crown: float = 0.0, steps: int = 1) -> None:
    """Push along the bed: a load per arc, the same all along, and one at the crown; on top of
    what was pushed before."""
    tag = next(_PUSHES)
    ops.timeSeries("Linear", tag)
    ops.pattern("Plain", tag, tag)
    steps_of_arc = np.hypot(*np.diff(hoop.rest, axis=0).T)
    node_share = 0.5 * (np.append(steps_of_arc, 0.0) + np.append(0.0, steps_of_arc))
    for n in range(2, hoop.elements + 1):
        force = spread * node_share[n - 1] + (at_crown if n == hoop.crown else 0.0)
        ops.load(n, 0.0, 0.0, float(force), 0.0, 0.0, 0.0)
    _static(steps)


def snowed_on(
    span: float,
    torsion: float,
    turn: float,
    bend: float,
    upto: float,
    steps: int = 16,
    crown_hold: float = 0.0,
) -> tuple[np.ndarray, np.ndarray]:
    """Even snow on a bent hoop of unit length, with a tiny pull on its crown along the bed.

    crown_hold: spring at the crown along the bed [EI / L^3].
    Returned: loads on plan [EI / L^3] and the crown's lean along the bed [L] at each.
    """
    stood = bent_from_straight(span, torsion, turn, STIFF, bend)
    width = _on_plan(stood)
    if crown_hold:
        ops.node(20_001, *(ops.nodeCoord(stood.crown, d) for d in (1, 2, 3)))
        ops.fix(20_001, 1, 1, 1, 1, 1, 1)
        ops.uniaxialMaterial("Elastic", 20_001, crown_hold)
        ops.element("zeroLength", 20_001, 20_001, stood.crown, "-mat", 20_001, "-dir", Z)
    ops.timeSeries("Constant", 7)
    ops.pattern("Plain", 7, 7)
    ops.load(stood.crown, 0.0, 0.0, 1e-3, 0.0, 0.0, 0.0)
    _static(1)
    at_rest = float(stood.lean()[stood.crown - 1])
    loads, lean = [], []
    for step in range(1, steps + 1):
        ops.timeSeries("Linear", 10 + step)
        ops.pattern("Plain", 10 + step, 10 + step)
        for node, share in enumerate(width, start=1):
            ops.load(node, 0.0, -share * upto / steps, 0.0, 0.0, 0.0, 0.0)
        _static(1)
        loads.append(upto * step / steps)
        lean.append(float(stood.lean()[stood.crown - 1]) - at_rest)
    return np.array(loads), np.array(lean)


def _on_plan(stood: Stood) -> np.ndarray:
    """The plan width that belongs to each node."""
    across = stood.rest[:, 0]
    width = np.zeros(len(across))
    width[:-1] += 0.5 * np.maximum(np.diff(across), 0.0)
    width[1:] += 0.5 * np.maximum(np.diff(across), 0.0)
    return width


def blown_along(
    span: float, torsion: float, turn: float, push_all: float, at_crown: float, lift: float
) -> float:
    """The crown's lean along the bed [L] of a bent hoop of unit length, lifted and then pushed.

    push_all: along the bed on each length of arc [EI / L^3]; at_crown: at the crown [EI / L^2];
    lift: upward on plan [EI / L^3].
    """
    stood = bent_from_straight(span, torsion, turn, STIFF, turn)
    if lift:
        ops.timeSeries("Linear", 8)
        ops.pattern("Plain", 8, 8)
        for node, share in enumerate(_on_plan(stood), start=1):
            ops.load(node, 0.0, share * lift, 0.0, 0.0, 0.0, 0.0)
        _static(10)
    at_rest = float(stood.lean()[stood.crown - 1])
    push(stood, push_all, at_crown, steps=4)
    return float(stood.lean()[stood.crown - 1]) - at_rest
