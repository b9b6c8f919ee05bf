"""A hoop made ready to be loaded: its unloaded state, its feet, and where its loads are given.

Everything inside is per unit arc length and unit bending stiffness: places in lengths of the arc L,
forces in EI / L^2, spread forces in EI / L^3.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.beam.elastica import HoopCurve
from hoopwright.beam.hold import Hold
from hoopwright.beam.panels import Array, Panels, panels, reading

QUARTERS = (0.25, 0.5, 0.75)
POINTS_EACH = 8


@dataclass(frozen=True)
class Foot:
    """One foot: stiff * moment = turn * (angle - upright), per unit EI / L; moment = angle'."""

    moment_weight: float
    turn_weight: float
    upright: float


@dataclass(frozen=True)
class Line:
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

    length, chord_x, chord_y, arc, stations, x, y: [m]; stiffness: EI [N m2]; angle: [rad], unloaded.
    axial_slack: EI / (EA L^2) [-]; 0 keeps the arc's length.
    natural: the curvature the pipe has with no moment, per unit arc [-]; 0 for a straight pipe.
    start: angles at the points, foot angle, foot slope, and forces of the unloaded state.
    """

    length: float
    stiffness: float
    chord_x: float
    chord_y: float
    rule: Panels
    left: Foot
    right: Foot
    spacing: float
    natural: float
    axial_slack: float
    lines: tuple[Line, ...]
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
    lines: tuple[Line, ...] = (),
    axial_stiffness: float = np.inf,
) -> HoopFrame:
    """A bent hoop as a frame. Its unloaded state is `curve`, its bend is its prestress.

    stiffness: EI [N m2]. breaks: shares of the arc, inside 0 to 1, where loads jump, point loads act
    or lines are tied. points_each: Gauss points between breaks. axial_stiffness: EA [N]; without end
    the arc keeps its length, which for a pipe hoop is true to about (diameter / rise)^2.
    """
    a, b = curve.hold.condition(curve.length)
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
        (Foot(a, b, np.pi / 2.0), Foot(a, b, -np.pi / 2.0)),
        curve.hold.spacing,
        0.0,
        axial_stiffness,
        lines,
        np.array(start),
    )


def arch_frame(
    radius: float,
    half_angle: float,
    holds: tuple[Hold, Hold],
    stiffness: float,
    breaks: tuple[float, ...] = QUARTERS,
    points_each: int = POINTS_EACH,
    axial_stiffness: float = np.inf,
) -> HoopFrame:
    """A circular arch formed to its curve (pipe from a bender): no prestress.

    radius [m]; half_angle [rad] from crown to foot; holds of the left and the right foot, where a
    clamp keeps the foot's own direction. stiffness: EI [N m2].
    """
    length = 2.0 * radius * half_angle
    rule = panels((0.0, *sorted(breaks), 1.0), points_each)
    bend = -2.0 * half_angle
    start = np.concatenate([half_angle + bend * rule.points, [half_angle, bend, 0.0, 0.0]])
    feet = [hold.condition(length) for hold in holds]
    return _frame(
        length,
        stiffness,
        (2.0 * radius * np.sin(half_angle), 0.0),
        rule,
        (Foot(*feet[0], half_angle), Foot(*feet[1], -half_angle)),
        holds[0].spacing,
        bend,
        axial_stiffness,
        (),
        start,
    )


def _frame(
    length: float,
    stiffness: float,
    chord: tuple[float, float],
    rule: Panels,
    feet: tuple[Foot, Foot],
    spacing: float,
    natural: float,
    axial_stiffness: float,
    lines: tuple[Line, ...],
    start: Array,
) -> HoopFrame:
    if not stiffness > 0.0:
        raise ValueError("the bending stiffness of a hoop must be greater than zero")
    if lines and np.isfinite(axial_stiffness):
        raise ValueError("a frame with lines keeps its arc's length; leave out the axial stiffness")
    angle = start[: rule.points.size]
    return HoopFrame(
        length=length,
        stiffness=stiffness,
        chord_x=chord[0],
        chord_y=chord[1],
        rule=rule,
        left=feet[0],
        right=feet[1],
        spacing=spacing,
        natural=natural,
        axial_slack=stiffness / (axial_stiffness * length**2),
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
    pieces = [
        np.linspace(a, b, each, endpoint=False) for a, b in zip(edges[:-1], edges[1:], strict=True)
    ]
    shares = np.concatenate([*pieces, [1.0]])
    value, integral = reading(frame.rule, shares)
    return shares, value, integral
