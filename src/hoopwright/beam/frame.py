"""A hoop made ready to be loaded: its unloaded state, its feet, and where its loads are given.

Everything inside is per unit arc length and unit bending stiffness: places in lengths of the arc L,
forces in EI / L^2, spread forces in EI / L^3.
"""

from collections.abc import Callable
from itertools import pairwise

import numpy as np

from hoopwright.beam.elastica import HoopCurve
from hoopwright.beam.hold import Hold
from hoopwright.beam.panels import Array, Panels, panels, reading
from hoopwright.frozen import dataclass

QUARTERS = (0.25, 0.5, 0.75)
POINTS_EACH = 8


@dataclass(frozen=True)
class Foot:
    """One foot: moment_weight * moment = turn_weight * (angle - upright), moment per unit EI / L.

    spacing: between its two straps [m], 0 where it has not two.
    """

    moment_weight: float
    turn_weight: float
    upright: float
    spacing: float


def _foot(hold: Hold, length: float, upright: float) -> Foot:
    return Foot(*hold.condition(length), upright, hold.spacing)


@dataclass(frozen=True)
class GuyLine:
    """A guy or side line in the hoop's plane; it pulls, never pushes.

    share: where it is tied, as a share of the arc from the left foot; must be a break of the frame.
    anchor_x, anchor_y: its other end [m], from the left foot. stiffness: EA / length [N/m].
    pull: its pull on the unloaded hoop [N].
    """

    share: float
    anchor_x: float
    anchor_y: float
    stiffness: float
    pull: float = 0.0


@dataclass(frozen=True)
class HoopFrame:
    """A hoop ready for loads. Loads are given at `arc`, point loads at `stations`.

    length, chord_x, chord_y, arc, stations, x, y: [m]; stiffness: EI [N m2]; angle: [rad]; all of
    the unloaded state.
    natural, natural_ends: angles [rad] of the unstressed pipe at the points and at its two ends;
    all equal for a straight pipe.
    start: angles at the points, foot angle, foot moment, and forces of the unloaded state.
    """

    length: float
    stiffness: float
    chord_x: float
    chord_y: float
    rule: Panels
    left: Foot
    right: Foot
    natural: Array
    natural_ends: tuple[float, float]
    lines: tuple[GuyLine, ...]
    start: Array
    arc: Array
    stations: Array
    angle: Array
    x: Array
    y: Array

    @property
    def plan_share(self) -> Array:
        """Plan length per arc length at each point [-]: a load on plan times this is one on arc.

        0 where the pipe leans outward under its own overhang.
        """
        return np.maximum(np.cos(self.angle), 0.0)

    def station(self, share: float) -> int:
        """Index in `stations` of a break given as a share of the arc."""
        index = int(np.argmin(np.abs(self.rule.edges - share)))
        if abs(self.rule.edges[index] - share) > 1e-9:
            raise ValueError(f"no break at {share:g} of the arc; give it when making the frame")
        return index


def hoop_frame(
    curve: HoopCurve,
    stiffness: float,
    breaks: tuple[float, ...] = QUARTERS,
    points_each: int = POINTS_EACH,
    lines: tuple[GuyLine, ...] = (),
) -> HoopFrame:
    """A bent hoop as a frame. Its unloaded state is `curve`, its bend is its prestress.

    stiffness: EI [N m2]. breaks: shares of the arc, inside 0 to 1, where loads jump, point loads
    act or lines are tied. points_each: Gauss points between breaks. The arc keeps its length, which
    for a pipe hoop is true to about (diameter / rise)^2.
    """
    rule = panels((0.0, *sorted(breaks), 1.0), points_each)
    angle = np.interp(rule.points, curve.arc / curve.length, curve.angle)
    start = [
        *angle,
        curve.foot_angle,
        -curve.foot_curvature * curve.length,
        -curve.thrust_per_stiffness * curve.length**2,
        0.0,
    ]
    return _frame(
        curve.length,
        stiffness,
        (curve.span, 0.0),
        rule,
        (
            _foot(curve.hold, curve.length, np.pi / 2.0),
            _foot(curve.hold, curve.length, -np.pi / 2.0),
        ),
        (np.zeros(rule.points.size), (0.0, 0.0)),
        lines,
        np.array(start),
    )


def formed_frame(
    length: float,
    angle_at: Callable[[Array], Array],
    holds: tuple[Hold, Hold],
    stiffness: float,
    breaks: tuple[float, ...] = QUARTERS,
    points_each: int = POINTS_EACH,
    lines: tuple[GuyLine, ...] = (),
) -> HoopFrame:
    """A pipe formed to its curve before it is set up (in a bender): no prestress.

    angle_at: angle [rad] of the curve at given shares of the arc; it may have corners at the
    breaks. holds: of the left and the right foot; a clamp keeps the foot's own direction. Else as
    `hoop_frame`.
    """
    rule = panels((0.0, *sorted(breaks), 1.0), points_each)
    angle = angle_at(rule.points)
    first, last = (float(v) for v in angle_at(np.array([0.0, 1.0])))
    weights = rule.weights * length
    return _frame(
        length,
        stiffness,
        (float(weights @ np.cos(angle)), float(weights @ np.sin(angle))),
        rule,
        (_foot(holds[0], length, first), _foot(holds[1], length, last)),
        (angle, (first, last)),
        lines,
        np.concatenate([angle, [first, 0.0, 0.0, 0.0]]),
    )


def _frame(
    length: float,
    stiffness: float,
    chord: tuple[float, float],
    rule: Panels,
    feet: tuple[Foot, Foot],
    natural: tuple[Array, tuple[float, float]],
    lines: tuple[GuyLine, ...],
    start: Array,
) -> HoopFrame:
    if not stiffness > 0.0:
        raise ValueError("the bending stiffness of a hoop must be greater than zero")
    angle = start[: rule.points.size]
    return HoopFrame(
        length=length,
        stiffness=stiffness,
        chord_x=chord[0],
        chord_y=chord[1],
        rule=rule,
        left=feet[0],
        right=feet[1],
        natural=natural[0],
        natural_ends=natural[1],
        lines=lines,
        start=start,
        arc=rule.points * length,
        stations=rule.edges * length,
        angle=angle,
        x=rule.running @ np.cos(angle) * length,
        y=rule.running @ np.sin(angle) * length,
    )


def fine_reading(frame: HoopFrame, each: int = 12) -> tuple[Array, Array, Array]:
    """Shares of arc for drawing (`each` steps a panel), with the value and integral matrices."""
    edges = frame.rule.edges
    pieces = [np.linspace(a, b, each, endpoint=False) for a, b in pairwise(edges)]
    shares = np.concatenate([*pieces, [1.0]])
    value, integral = reading(frame.rule, shares)
    return shares, value, integral
