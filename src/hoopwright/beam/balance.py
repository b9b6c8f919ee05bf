"""Equilibrium of a loaded hoop: what is out of balance, and how it changes.

With the angle t, that of the unstressed pipe t0, and the internal force (p, q) of the part beyond
on the part before:

    (t - t0)'' = (1 + e) (p sin t - q cos t),   e = c (p cos t + q sin t)
    p' = -across - pressure sin t,       q' = down + pressure cos t

per unit arc and stiffness (Reissner 1972 without shear; Love ch. XIX when c = 0). c is the axial
slack, zero for an arc that keeps its length. Held at Gauss points; the second derivative is the
inverse of the twice-running integral, so a jump of load at a panel edge costs no accuracy.
All arrays have a first axis of load cases. The last five unknowns are the foot's angle and moment,
p and q at the foot, and the load factor.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.load import Load
from hoopwright.beam.panels import Array

FOOT_ANGLE, FOOT_MOMENT, FOOT_P, FOOT_Q, FACTOR = -5, -4, -3, -2, -1


@dataclass(frozen=True)
class Spread:
    """A load in the units of the balance: internal forces it makes, and its pressure.

    running_p, running_q: force made by dead loads from the foot to each point, (cases, points);
    total_p, total_q: to the far foot, (cases,). pressure: (cases, points).
    """

    running_p: Array
    running_q: Array
    total_p: Array
    total_q: Array
    pressure: Array
    pulls: float

    def some(self, rows: NDArray[np.int64]) -> Spread:
        """The given cases."""
        return Spread(
            self.running_p[rows],
            self.running_q[rows],
            self.total_p[rows],
            self.total_q[rows],
            self.pressure[rows],
            self.pulls,
        )


@dataclass(frozen=True)
class Balance:
    """Constant parts of the equations of one frame.

    linear, constant: the part of the residual that is linear in the unknowns.
    beyond_tie: 1 where a point lies beyond a line's tie; lever: integral from the foot to that tie.
    """

    frame: HoopFrame
    linear: Array
    constant: Array
    beyond_tie: Array
    lever: Array
    anchors: Array
    line_stiffness: Array
    line_pull: Array
    line_rest: Array


def balance(frame: HoopFrame) -> Balance:
    """Build the constant parts: the second-derivative matrix and the conditions at the feet."""
    rule = frame.rule
    count = rule.points.size
    differentiate = np.linalg.inv(rule.running)
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
    return _with_lines(frame, linear, constant)


def _with_lines(frame: HoopFrame, linear: Array, constant: Array) -> Balance:
    rule, length = frame.rule, frame.length
    stations = np.array([frame.station(line.share) for line in frame.lines], dtype=int)
    anchors = np.array([[line.anchor_x, line.anchor_y] for line in frame.lines]).reshape(-1, 2)
    lever = rule.to_edges[stations]
    tied = np.stack([lever @ np.cos(frame.angle), lever @ np.sin(frame.angle)], axis=-1)
    beyond = (rule.points[:, None] > rule.edges[None, stations]).astype(float)
    spread = frame.stiffness / length**3
    return Balance(
        frame=frame,
        linear=linear,
        constant=constant,
        beyond_tie=beyond,
        lever=lever,
        anchors=anchors / length,
        line_stiffness=np.array([line.stiffness for line in frame.lines]) / spread,
        line_pull=np.array([line.pull for line in frame.lines]) / (spread * length),
        line_rest=np.linalg.norm(anchors / length - tied, axis=-1),
    )


def spread_load(frame: HoopFrame, loads: Load, pulls: float) -> Spread:
    """A load in the units of the balance. pulls: share of the lines' own pull that it carries."""
    rule = frame.rule
    unit = frame.stiffness / frame.length**3
    rows = [np.atleast_2d(v) for v in (loads.down, loads.across, loads.pressure)]
    points = [np.atleast_2d(v) for v in (loads.point_down, loads.point_across)]
    beyond = (rule.points[None, :] > rule.edges[:, None]).astype(float)
    beyond[[0, -1]] = 0.0
    point_unit = unit * frame.length
    return Spread(
        running_p=-(rows[1] @ rule.running.T) / unit - points[1] @ beyond / point_unit,
        running_q=(rows[0] @ rule.running.T) / unit + points[0] @ beyond / point_unit,
        total_p=-(rows[1] @ rule.weights) / unit - points[1][:, 1:-1].sum(axis=1) / point_unit,
        total_q=(rows[0] @ rule.weights) / unit + points[0][:, 1:-1].sum(axis=1) / point_unit,
        pressure=rows[2] / unit,
        pulls=pulls,
    )


def out_of_balance(made: Balance, growing: Spread, steady: Spread, z: Array) -> tuple[Array, Array]:
    """Residual (cases, n) and its derivative (cases, n + 1, n + 1), for unknowns z (cases, n + 1).

    The derivative's last column is by the load factor; its last row is left to the caller, who
    binds the factor or the length of path with it. The residual has no such row.
    """
    rule, slack = made.frame.rule, made.frame.axial_slack
    count = rule.points.size
    angle, factor = z[:, :count], z[:, FACTOR, None]
    sine, cosine = np.sin(angle), np.cos(angle)
    pressure = steady.pressure + factor * growing.pressure
    pressed = bool(pressure.any())
    p = z[:, FOOT_P, None] + steady.running_p + factor * growing.running_p
    q = z[:, FOOT_Q, None] + steady.running_q + factor * growing.running_q
    p_by_factor, q_by_factor = growing.running_p, growing.running_q
    if pressed:
        p = p - (pressure * sine) @ rule.running.T
        q = q + (pressure * cosine) @ rule.running.T
        p_by_factor = p_by_factor - (growing.pressure * sine) @ rule.running.T
        q_by_factor = q_by_factor + (growing.pressure * cosine) @ rule.running.T
    pull = _line_pulls(made, steady, growing, z, sine, cosine) if made.lever.size else None
    if pull is not None:
        p, q = p - pull[0], q - pull[1]
        p_by_factor, q_by_factor = p_by_factor - pull[2], q_by_factor - pull[3]
    along, aside = p * cosine + q * sine, p * sine - q * cosine
    stretch = 1.0 + slack * along
    by_p = stretch * sine + slack * aside * cosine
    by_q = -stretch * cosine + slack * aside * sine

    cases = z.shape[0]
    derivative = np.empty((cases, count + 5, count + 5))
    derivative[:, :-1, :-1] = made.linear
    block = derivative[:, :count, :count]
    if pressed:
        block += (
            by_p[:, :, None] * (pressure * cosine)[:, None, :]
            + by_q[:, :, None] * (pressure * sine)[:, None, :]
        ) * rule.running
    if pull is not None:
        block += by_p[:, :, None] * pull[4] + by_q[:, :, None] * pull[5]
    diagonal = np.arange(count)
    derivative[:, diagonal, diagonal] -= stretch * along - slack * aside**2
    derivative[:, :count, count + 2] = -by_p
    derivative[:, :count, count + 3] = -by_q
    derivative[:, :count, -1] = -by_p * p_by_factor - by_q * q_by_factor
    derivative[:, count:-1, -1] = 0.0
    weights = rule.weights
    derivative[:, count + 2, :count] = -weights * (stretch * sine + slack * aside * cosine)
    derivative[:, count + 3, :count] = weights * (stretch * cosine - slack * aside * sine)
    if slack > 0.0:
        _add_stretch(derivative, made, slack, sine, cosine, pressure, p_by_factor, q_by_factor)

    residual = z[:, :-1] @ made.linear.T + made.constant
    residual[:, :count] -= stretch * aside
    residual[:, count + 2] += (stretch * cosine) @ weights
    residual[:, count + 3] += (stretch * sine) @ weights
    return residual, derivative


def _add_stretch(
    derivative: Array,
    made: Balance,
    slack: float,
    sine: Array,
    cosine: Array,
    pressure: Array,
    p_by_factor: Array,
    q_by_factor: Array,
) -> None:
    """Chord rows: the force stretches the arc, so the chord also depends on it."""
    rule = made.frame.rule
    count = rule.points.size
    for row, direction in ((count + 2, cosine), (count + 3, sine)):
        by_p = rule.weights * slack * direction * cosine
        by_q = rule.weights * slack * direction * sine
        derivative[:, row, count + 2] += by_p.sum(axis=1)
        derivative[:, row, count + 3] += by_q.sum(axis=1)
        derivative[:, row, -1] += (by_p * p_by_factor + by_q * q_by_factor).sum(axis=1)
        derivative[:, row, :count] -= (by_p @ rule.running) * pressure * cosine
        derivative[:, row, :count] -= (by_q @ rule.running) * pressure * sine


def _line_pulls(
    made: Balance, steady: Spread, growing: Spread, z: Array, sine: Array, cosine: Array
) -> tuple[Array, Array, Array, Array, Array, Array, Array, Array]:
    """Force of the lines up to each point: p, q, their change with factor and angles; totals."""
    tied_x, tied_y = cosine @ made.lever.T, sine @ made.lever.T
    to_x, to_y = made.anchors[:, 0] - tied_x, made.anchors[:, 1] - tied_y
    reach = np.hypot(to_x, to_y)
    unit_x, unit_y = to_x / reach, to_y / reach
    share = steady.pulls + growing.pulls * z[:, FACTOR, None]
    tension = share * made.line_pull + made.line_stiffness * (reach - made.line_rest)
    taut = tension > 0.0
    tension = np.where(taut, tension, 0.0)
    spring = np.where(taut, made.line_stiffness, 0.0)
    own = np.where(taut, growing.pulls * made.line_pull, 0.0)
    across = tension / reach
    # Change of the force on the hoop with the tied point's place.
    xx = -(spring - across) * unit_x * unit_x - across
    xy = -(spring - across) * unit_x * unit_y
    yy = -(spring - across) * unit_y * unit_y - across
    move_x = -made.lever * sine[:, None, :]
    move_y = made.lever * cosine[:, None, :]
    beyond = made.beyond_tie
    by_x = np.matmul(beyond, xx[:, :, None] * move_x + xy[:, :, None] * move_y)
    by_y = np.matmul(beyond, xy[:, :, None] * move_x + yy[:, :, None] * move_y)
    return (
        (tension * unit_x) @ beyond.T,
        (tension * unit_y) @ beyond.T,
        (own * unit_x) @ beyond.T,
        (own * unit_y) @ beyond.T,
        by_x,
        by_y,
        (tension * unit_x).sum(axis=1),
        (tension * unit_y).sum(axis=1),
    )


def inner_force(made: Balance, growing: Spread, steady: Spread, z: Array) -> tuple[Array, Array]:
    """Force (p, q) of the part beyond on the part before [EI / L^2], at the points and both feet.

    Arrays (cases, points + 2): left foot, points, right foot.
    """
    rule = made.frame.rule
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
    if made.lever.size:
        pull = _line_pulls(made, steady, growing, z, sine, cosine)
        for made_force, at_points, whole in ((p, pull[0], pull[6]), (q, pull[1], pull[7])):
            made_force[:, 1:-1] -= at_points
            made_force[:, -1] -= whole
    return p, q
