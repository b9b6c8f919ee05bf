"""Equilibrium of a loaded hoop: its residual and its tangent stiffness.

With the angle t, that of the unstressed pipe t0, and the internal force (p, q) of the part beyond
on the part before:

    (t - t0)'' = p sin t - q cos t
    p' = -across - pressure sin t,       q' = down + pressure cos t

per unit arc and stiffness, the arc keeping its length (Love ch. XIX). Held at Gauss points; the
second derivative is the inverse of the twice-running integral, so a jump of load at a panel edge
costs no accuracy.
All arrays have a first axis of load cases. The last five unknowns are the foot's angle and moment,
p and q at the foot, and the load factor.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.lines import TiedLines, tied_lines
from hoopwright.beam.load import Load
from hoopwright.beam.panels import Array, Panels
from hoopwright.frozen import dataclass

FOOT_ANGLE, FOOT_MOMENT, FOOT_P, FOOT_Q, FACTOR = -5, -4, -3, -2, -1


@dataclass(frozen=True)
class ScaledLoad:
    """A load in the units of the equations: internal forces it makes, and its pressure.

    running_p, running_q: force made by dead loads from the foot to each point, (cases, points);
    total_p, total_q: to the far foot, (cases,). pressure: (cases, points).
    """

    running_p: Array
    running_q: Array
    total_p: Array
    total_q: Array
    pressure: Array
    pulls: float

    def some(self, rows: NDArray[np.int64]) -> ScaledLoad:
        """The given cases."""
        return ScaledLoad(
            self.running_p[rows],
            self.running_q[rows],
            self.total_p[rows],
            self.total_q[rows],
            self.pressure[rows],
            self.pulls,
        )

    def none(self) -> ScaledLoad:
        """No load, for as many cases."""
        return ScaledLoad(
            0.0 * self.running_p,
            0.0 * self.running_q,
            0.0 * self.total_p,
            0.0 * self.total_q,
            0.0 * self.pressure,
            0.0,
        )


def concatenated(several: list[ScaledLoad]) -> ScaledLoad:
    """The cases of several loads as one batch."""
    if len(several) == 1:
        return several[0]
    return ScaledLoad(
        np.concatenate([one.running_p for one in several]),
        np.concatenate([one.running_q for one in several]),
        np.concatenate([one.total_p for one in several]),
        np.concatenate([one.total_q for one in several]),
        np.concatenate([one.pressure for one in several]),
        several[0].pulls,
    )


@dataclass(frozen=True)
class Equilibrium:
    """Constant parts of the equations, with a first axis of cases; of length 1 where all share it.

    linear, constant: the part of the residual that is linear in the unknowns. lines: those of the
    one frame that all cases share, or None.
    """

    rule: Panels
    linear: Array
    constant: Array
    lines: TiedLines | None

    def some(self, rows: NDArray[np.int64]) -> Equilibrium:
        """The given cases."""
        if self.constant.shape[0] == 1:
            return self
        return Equilibrium(self.rule, self.linear[rows], self.constant[rows], self.lines)

    def linear_part(self, z: Array) -> Array:
        """Linear part of the residual (cases, n)."""
        if self.constant.shape[0] == 1:
            return np.asarray(z[:, :-1] @ self.linear[0].T + self.constant, dtype=float)
        return np.asarray(
            np.matmul(self.linear, z[:, :-1, None])[:, :, 0] + self.constant, dtype=float
        )


def equilibrium(frame: HoopFrame) -> Equilibrium:
    """Build the constant parts: the second-derivative matrix and the conditions at the feet."""
    rule = frame.rule
    count = rule.points.size
    differentiate = rule.differentiate
    second = differentiate @ differentiate
    linear = np.zeros((count + 4, count + 4))
    # (t - t0), less its value and slope at the foot, is the twice-running integral of its second
    # derivative; t - t0 is smooth even where t0 has a corner.
    shift = np.zeros((count, count + 4))
    shift[:, :count] = np.eye(count)
    shift[:, count] = -1.0
    shift[:, count + 1] = -rule.points
    shift_constant = frame.natural_ends[0] - frame.natural
    linear[:count] = second @ shift
    end_moment = rule.weights @ second @ shift
    end_moment[count + 1] += 1.0
    end_angle = rule.weights @ differentiate @ shift
    end_angle[count : count + 2] += 1.0
    left, right = frame.left, frame.right
    linear[count, count + 1] = left.moment_weight
    linear[count, count] = -left.turn_weight
    linear[count + 1] = right.moment_weight * end_moment + right.turn_weight * end_angle
    constant = np.zeros(count + 4)
    constant[:count] = second @ shift_constant
    constant[count] = left.turn_weight * left.upright
    turned = frame.natural_ends[1] - frame.natural_ends[0] - right.upright
    turned += float(rule.weights @ differentiate @ shift_constant)
    constant[count + 1] = right.moment_weight * (rule.weights @ constant[:count])
    constant[count + 1] += right.turn_weight * turned
    constant[count + 2] = -frame.chord_x / frame.length
    constant[count + 3] = -frame.chord_y / frame.length
    return Equilibrium(
        rule=rule,
        linear=linear[None],
        constant=constant[None],
        lines=tied_lines(frame) if frame.lines else None,
    )


def side_by_side(several: list[Equilibrium], cases: list[int]) -> Equilibrium:
    """Balances of several frames on the same rule as one, each for its number of cases."""
    if len(several) == 1:
        return several[0]
    if any(one.lines is not None for one in several):
        raise ValueError("hoops with lines are followed one design at a time")
    if any(one.rule is not several[0].rule for one in several):
        raise ValueError("hoops followed together need the same breaks and points")
    return Equilibrium(
        rule=several[0].rule,
        linear=np.repeat(np.concatenate([one.linear for one in several]), cases, axis=0),
        constant=np.repeat(np.concatenate([one.constant for one in several]), cases, axis=0),
        lines=None,
    )


def scaled_load(frame: HoopFrame, loads: Load, pulls: float) -> ScaledLoad:
    """A load in the units of the equations. pulls: share of the lines' own pull that it carries."""
    rule = frame.rule
    unit = frame.stiffness / frame.length**3
    down, across = np.atleast_2d(loads.down), np.atleast_2d(loads.across)
    down_at, across_at = np.atleast_2d(loads.point_down), np.atleast_2d(loads.point_across)
    total_p, total_q = -(across @ rule.weights) / unit, (down @ rule.weights) / unit
    running_p, running_q = -(across @ rule.running.T) / unit, (down @ rule.running.T) / unit
    if down_at.any() or across_at.any():
        beyond = (rule.points[None, :] > rule.edges[:, None]).astype(float)
        beyond[[0, -1]] = 0.0
        point_unit = unit * frame.length
        total_p = total_p - across_at[:, 1:-1].sum(axis=1) / point_unit
        total_q = total_q + down_at[:, 1:-1].sum(axis=1) / point_unit
        running_p = running_p - across_at @ beyond / point_unit
        running_q = running_q + down_at @ beyond / point_unit
    pressure = np.atleast_2d(loads.pressure) / unit
    return ScaledLoad(running_p, running_q, total_p, total_q, pressure, pulls)


def residual_and_tangent(
    made: Equilibrium, growing: ScaledLoad, steady: ScaledLoad, z: Array
) -> tuple[Array, Array]:
    """Residual (cases, n) and its derivative (cases, n + 1, n + 1), for unknowns z (cases, n + 1).

    The derivative's last column is by the load factor; its last row is left to the caller, who
    binds the factor or the length of path with it. The residual has no such row.
    """
    rule = made.rule
    count = rule.points.size
    angle, factor = z[:, :count], z[:, FACTOR, None]
    sine, cosine = np.sin(angle), np.cos(angle)
    pressure = steady.pressure + factor * growing.pressure
    # At factor 0 a pressure that only grows is none yet, but the change by the factor needs it.
    pressed = bool(pressure.any() or growing.pressure.any())
    p = z[:, FOOT_P, None] + steady.running_p + factor * growing.running_p
    q = z[:, FOOT_Q, None] + steady.running_q + factor * growing.running_q
    p_by_factor, q_by_factor = growing.running_p, growing.running_q
    if pressed:
        p = p - (pressure * sine) @ rule.running.T
        q = q + (pressure * cosine) @ rule.running.T
        p_by_factor = p_by_factor - (growing.pressure * sine) @ rule.running.T
        q_by_factor = q_by_factor + (growing.pressure * cosine) @ rule.running.T
    pull = None
    if made.lines is not None:
        share = steady.pulls + growing.pulls * factor
        pull = made.lines.pulls(sine, cosine, share, growing.pulls)
    if pull is not None:
        p, q = p - pull.p, q - pull.q
        p_by_factor = p_by_factor - pull.p_by_factor
        q_by_factor = q_by_factor - pull.q_by_factor
    along, aside = p * cosine + q * sine, p * sine - q * cosine

    cases = z.shape[0]
    derivative = np.empty((cases, count + 5, count + 5))
    derivative[:, :-1, :-1] = made.linear
    block = derivative[:, :count, :count]
    if pressed:
        block += (
            sine[:, :, None] * (pressure * cosine)[:, None, :]
            - cosine[:, :, None] * (pressure * sine)[:, None, :]
        ) * rule.running
    if pull is not None:
        block += sine[:, :, None] * pull.p_by_angle - cosine[:, :, None] * pull.q_by_angle
    diagonal = np.arange(count)
    derivative[:, diagonal, diagonal] -= along
    derivative[:, :count, count + 2] = -sine
    derivative[:, :count, count + 3] = cosine
    derivative[:, :count, -1] = cosine * q_by_factor - sine * p_by_factor
    derivative[:, count:-1, -1] = 0.0
    weights = rule.weights
    derivative[:, count + 2, :count] = -weights * sine
    derivative[:, count + 3, :count] = weights * cosine

    residual = made.linear_part(z)
    residual[:, :count] -= aside
    residual[:, count + 2] += cosine @ weights
    residual[:, count + 3] += sine @ weights
    return residual, derivative


def inner_force(
    made: Equilibrium, growing: ScaledLoad, steady: ScaledLoad, z: Array
) -> tuple[Array, Array]:
    """Force (p, q) of the part beyond on the part before [EI / L^2], at the points and both feet.

    Arrays (cases, points + 2): left foot, points, right foot.
    """
    rule = made.rule
    count = rule.points.size
    angle, factor = z[:, :count], z[:, FACTOR, None]
    sine, cosine = np.sin(angle), np.cos(angle)
    pressure = steady.pressure + factor * growing.pressure
    p, q = np.empty((2, z.shape[0], count + 2))
    for made_force, foot, parts, side in (
        (p, FOOT_P, (steady.running_p, growing.running_p), -pressure * sine),
        (q, FOOT_Q, (steady.running_q, growing.running_q), pressure * cosine),
    ):
        ends = (
            (steady.total_p, growing.total_p)
            if foot == FOOT_P
            else (steady.total_q, growing.total_q)
        )
        made_force[:, 0] = z[:, foot]
        made_force[:, 1:-1] = z[:, foot, None] + parts[0] + factor * parts[1]
        made_force[:, 1:-1] += side @ rule.running.T
        made_force[:, -1] = z[:, foot] + ends[0] + factor[:, 0] * ends[1] + side @ rule.weights
    if made.lines is not None:
        pull = made.lines.pulls(sine, cosine, steady.pulls + growing.pulls * factor, growing.pulls)
        for made_force, at_points, whole in ((p, pull.p, pull.whole_p), (q, pull.q, pull.whole_q)):
            made_force[:, 1:-1] -= at_points
            made_force[:, -1] -= whole
    return p, q
