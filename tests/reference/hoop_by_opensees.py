"""The same hoop in OpenSees: corotational beam-columns bent from straight, then loaded.

OpenSees (McKenna, Fenves and Scott, University of California, Berkeley) through openseespy. Nothing
of Hoopwright is used here. Unit stiffness EI = 1; the arc has unit length and EA = 1e6.
"""

from __future__ import annotations

import ctypes
import importlib.util
import math
from dataclasses import dataclass
from pathlib import Path

import numpy as np


def _load_bundled_libraries() -> None:
    """Load the libraries that come in openseespy's own wheel, which it does not always find."""
    wheel = importlib.util.find_spec("openseespylinux")
    if wheel is None or not wheel.submodule_search_locations:
        return
    folder = Path(wheel.submodule_search_locations[0]) / "lib"
    for name in ("libquadmath.so.0", "libgfortran.so.4", "libblas.so.3", "liblapack.so.3"):
        if (folder / name).exists():
            ctypes.CDLL(str(folder / name), mode=ctypes.RTLD_GLOBAL)


try:
    import openseespy.opensees as ops
except RuntimeError:
    _load_bundled_libraries()
    import openseespy.opensees as ops

AXIAL = 1.0e6


@dataclass
class Hoop:
    """A bent hoop standing in OpenSees' one global model. elements: how many; rest: places."""

    elements: int
    rest: np.ndarray
    patterns: int = 100

    def places(self) -> np.ndarray:
        """Places of all nodes, (nodes, 2)."""
        nodes = range(1, self.elements + 2)
        return np.array([[ops.nodeCoord(n, d) + ops.nodeDisp(n, d) for d in (1, 2)] for n in nodes])

    def moved(self) -> np.ndarray:
        return self.places() - self.rest

    def node(self, share: float) -> int:
        """Node at a share of the arc."""
        return round(share * self.elements) + 1

    def feet(self) -> np.ndarray:
        """Forces of the ground on the two feet (2, 2): x, y."""
        ops.reactions()
        return np.array([[ops.nodeReaction(n, d) for d in (1, 2)] for n in (1, self.elements + 1)])

    def moments(self) -> np.ndarray:
        """Moments at the first end of every element, EI = 1: the whole bend from straight."""
        return np.array([ops.eleForce(e)[2] for e in range(1, self.elements + 1)])


def _series(tag: int) -> None:
    ops.timeSeries("Linear", tag)
    ops.pattern("Plain", tag, tag)


def _analysis(step: float, tolerance: float) -> None:
    ops.wipeAnalysis()
    ops.constraints("Transformation")
    ops.numberer("RCM")
    ops.system("BandGeneral")
    ops.test("NormDispIncr", tolerance, 40)
    ops.algorithm("Newton")
    ops.integrator("LoadControl", step)
    ops.analysis("Static")


def _go(steps: int, tolerance: float = 1e-9) -> None:
    _analysis(1.0 / steps, tolerance)
    if ops.analyze(steps) != 0:
        raise RuntimeError("OpenSees did not converge")
    ops.loadConst("-time", 0.0)


def bend_from_straight(
    span: float, hold: float | None, elements: int = 96, steps: int = 60
) -> Hoop:
    """Turn both ends of a straight beam upright, then draw them to `span` apart.

    hold: rotational spring of the foot in EI / L; infinity for a clamp, None for a free foot.
    """
    ops.wipe()
    ops.model("basic", "-ndm", 2, "-ndf", 3)
    last = elements + 1
    for n in range(1, last + 1):
        ops.node(n, (n - 1) / elements, 0.0)
    ops.geomTransf("Corotational", 1)
    for e in range(1, elements + 1):
        ops.element("elasticBeamColumn", e, e, e + 1, AXIAL, 1.0, 1.0, 1)
    ops.fix(1, 1, 1, 0)
    ops.fix(last, 0, 1, 0)
    turned = (1, last)
    if hold is not None and math.isfinite(hold):
        turned = (last + 1, last + 2)
        ops.uniaxialMaterial("Elastic", 1, hold)
        for ground, foot, place in ((last + 1, 1, 0.0), (last + 2, last, 1.0)):
            ops.node(ground, place, 0.0)
            ops.fix(ground, 1, 1, 0)
            ops.element("zeroLength", ground, ground, foot, "-mat", 1, "-dir", 6)
    _series(1)
    for n, turn in zip(turned, (math.pi / 2, -math.pi / 2), strict=True):
        if hold is None:
            ops.load(n, 0.0, 0.0, 2.0 * turn)
        else:
            ops.sp(n, 3, turn)
    _go(steps)
    _series(2)
    # The imposed place is measured from where the node was made.
    here = ops.nodeDisp(last, 1)
    target = span - 1.0
    ops.remove("loadPattern", 2)
    ops.remove("timeSeries", 2)
    ops.timeSeries("Path", 2, "-time", 0.0, 1.0, 2.0, "-values", here, target, target)
    ops.pattern("Plain", 2, 2)
    ops.sp(last, 1, 1.0)
    _go(steps)
    if hold is None:
        _series(3)
        for n, turn in zip(turned, (math.pi / 2, -math.pi / 2), strict=True):
            ops.load(n, 0.0, 0.0, -2.0 * turn)
        _go(steps)
    hoop = Hoop(elements, np.zeros((0, 2)))
    hoop.rest = hoop.places()
    return hoop


def _new_pattern(hoop: Hoop) -> None:
    hoop.patterns += 1
    _series(hoop.patterns)


def _apply(forces: np.ndarray) -> None:
    for index, (x, y) in enumerate(forces):
        if x != 0.0 or y != 0.0:
            ops.load(index + 1, float(x), float(y), 0.0)


def lumped(hoop: Hoop, share_of_arc: np.ndarray) -> np.ndarray:
    """Nodal shares of a spread load given per element, (elements,) to (nodes,)."""
    nodal = np.zeros(hoop.elements + 1)
    nodal[:-1] += share_of_arc / (2.0 * hoop.elements)
    nodal[1:] += share_of_arc / (2.0 * hoop.elements)
    return nodal


def load_to(hoop: Hoop, forces: np.ndarray, steps: int = 10) -> None:
    """Dead nodal forces (nodes, 2), laid on evenly."""
    _new_pattern(hoop)
    _apply(forces)
    _go(steps)


def least_eigenvalues(
    hoop: Hoop, forces: np.ndarray, most: float, steps: int = 22
) -> tuple[np.ndarray, np.ndarray]:
    """Load factors up to `most`, and the tangent's least eigenvalue at each, by load control."""
    for node in range(1, hoop.elements + 2):
        ops.mass(node, 1.0, 1.0, 1e-6)
    _new_pattern(hoop)
    _apply(forces)
    _analysis(most / steps, 1e-9)
    levels, values = [], []
    for _ in range(steps):
        if ops.analyze(1) != 0:
            break
        levels.append(ops.getTime())
        values.append(ops.eigen(1)[0])
    return np.array(levels), np.array(values)


def press_to(hoop: Hoop, pressure: np.ndarray, steps: int = 8, rounds: int = 60) -> None:
    """Follower pressure per element, inward positive: nodal forces turned until in step."""
    applied = np.zeros((hoop.elements + 1, 2))
    for level in np.linspace(0.0, 1.0, steps + 1)[1:]:
        for _ in range(rounds):
            place = hoop.places()
            chord = np.diff(place, axis=0)
            pushed = np.stack([chord[:, 1], -chord[:, 0]], axis=1) * (level * pressure)[:, None]
            wanted = np.zeros_like(applied)
            wanted[:-1] += pushed / 2.0
            wanted[1:] += pushed / 2.0
            _new_pattern(hoop)
            _apply(wanted - applied)
            _go(1)
            applied = wanted
            if np.abs(hoop.places() - place).max() < 1e-7:
                break
        else:
            raise RuntimeError("the turning pressure did not settle")


def start_pull(hoop: Hoop, forces: np.ndarray) -> None:
    """Make dead nodal forces (nodes, 2) the load that the load factor scales."""
    _new_pattern(hoop)
    _apply(forces)
    _analysis(1.0, 1e-9)


def pull_along(
    hoop: Hoop, forces: np.ndarray, controls: tuple[tuple[float, int, float, int], ...]
) -> tuple[np.ndarray, np.ndarray]:
    """Displacement control past a greatest load, one control (share, direction, step, steps) after
    the other. Returns load factors (n,) and moves of all nodes (n, nodes, 2), n = 1 + all steps.
    """
    start_pull(hoop, forces)
    factors, moves = [0.0], [hoop.moved()]
    for share, direction, step, steps in controls:
        ops.integrator("DisplacementControl", hoop.node(share), direction, step)
        for _ in range(steps):
            if ops.analyze(1) != 0:
                break
            factors.append(ops.getTime())
            moves.append(hoop.moved())
    return np.array(factors), np.array(moves)


def load_with_line(
    hoop: Hoop,
    forces: np.ndarray,
    line: tuple[float, tuple[float, float], float],
    steps: int = 8,
    rounds: int = 60,
) -> None:
    """Dead forces, with a line (share of arc, anchor, stiffness) that is just not taut at first.

    Its pull is laid on as a force of the right size and direction until both are in step.
    """
    share, anchor, stiffness = line
    node = hoop.node(share) - 1
    reach = np.linalg.norm(np.array(anchor) - hoop.places()[node])
    applied = np.zeros_like(forces)
    for level in np.linspace(0.0, 1.0, steps + 1)[1:]:
        for _ in range(rounds):
            place = hoop.places()
            towards = np.array(anchor) - place[node]
            now = float(np.linalg.norm(towards))
            wanted = level * forces
            wanted[node] += stiffness * max(now - reach, 0.0) * towards / now
            _new_pattern(hoop)
            _apply(wanted - applied)
            _go(1)
            applied = wanted
            if np.abs(hoop.places() - place).max() < 1e-8:
                break
        else:
            raise RuntimeError("the line's pull did not settle")
