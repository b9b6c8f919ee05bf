"""Continuation of the equilibrium paths of a batch of load cases, all in step.

Each step: a predictor along the path, then Newton's method as corrector with the arc length of path
held. The same factorised tangent stiffness gives the path's direction and one round of its least
eigenvalue. A case whose least eigenvalue falls below zero goes back and finds the critical point (a
limit point or a bifurcation) by false position.

The least stiffness of a loaded hoop is the least eigenvalue of the tangent on the constraint (turn
of the pipe v, unit mean square, feet kept together and held): least of v' K v. It is found by
inverse iteration on a few movements that are carried along the path from point to point, so one
linear solve that is made anyway suffices.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.equilibrium import FACTOR, Equilibrium, ScaledLoad, residual_and_tangent
from hoopwright.beam.panels import Array


def least_stiffness(weights: Array, modes: Array, moved: Array) -> tuple[Array, Array]:
    """Least stiffness [EI / L^2] and improved movements (cases, points, modes), softest first.

    weights: integration weights. modes: orthonormal movements tried. moved: what the tangent's
    inverse, feet kept, makes of them (cases, points, modes).
    """
    small = np.matmul((modes * weights[:, None]).transpose(0, 2, 1), moved)
    values, vectors = np.linalg.eig(small)
    # The residual's derivative is minus the stiffness, hence the sign.
    with np.errstate(divide="ignore"):
        stiffness = np.where(np.abs(values) > 1e-14, -1.0 / values, np.inf).real
    order = np.argsort(stiffness, axis=1)
    case = np.arange(order.shape[0])
    turned = vectors.real.transpose(0, 2, 1)[case[:, None], order].transpose(0, 2, 1)
    return stiffness[case, order[:, 0]], orthonormal(weights, np.matmul(moved, turned))


def orthonormal(weights: Array, movements: Array) -> Array:
    """Movements made orthonormal in the mean square along the arc, first one kept in direction."""
    root = np.sqrt(weights)[:, None]
    basis, _ = np.linalg.qr(movements * root)
    return np.asarray(basis / root, dtype=float)


def softest_movements(derivative: Array, weights: Array, how_many: int) -> tuple[float, Array]:
    """Least stiffness and the softest movements of one state, from all of its eigenvalues.

    derivative: (n, n), by all unknowns but the factor.
    """
    count = weights.size
    inverse = np.linalg.inv(derivative)[:count, :count]
    values, vectors = np.linalg.eig(inverse)
    large = np.argsort(-np.abs(values))[:how_many]
    stiffness = (-1.0 / values[large]).real
    order = np.argsort(stiffness)
    movements = vectors.real[:, large][:, order]
    return float(stiffness[order[0]]), orthonormal(weights, movements[None])[0]


# One nominal step of path: this much mean turn over the spread of the pipe's own angles at rest
# (0.9 rad for a half circle), or this much load over stiffness at rest.
STEP_TURN = 0.0275
STEP_LOAD = 0.1
# Where more load is carried than 1 / this times that, this share of the load takes its place: a
# hoop drawn taut by suction grows stiffer with it, and steps of its first size would be very many.
CARRIED = 0.4
LONGEST_STEP = 2.5
SHORTEST_STEP = 1.0 / 256.0
# Next step over this one, by the number of Newton rounds that this one took.
STEP_GROWTH = np.array([1.5, 1.5, 1.5, 1.25, 1.0, 0.6])
# Cosine between the directions of path before and after a step, unless the step is shorter.
LEAST_AGREEMENT, SURE_STEP = 0.6, 0.05
# Newton's last change of any angle, over the spread of the angles at rest; its square is what is
# left.
LAST_CHANGE = 1e-5
MOST_ROUNDS = 6
# Closing in on the loss of stiffness: the share of the stiffness at rest that is aimed at, how far
# from it is near enough, and rounds at most. Zero itself is not aimed at: the equations are
# singular there, and a straight line covers the rest of the way.
LAST_STIFFNESS, NEAR_ENOUGH = 5e-4, 4.5e-4
CLOSING_ROUNDS = 8
# Load cases whose equations are written and solved at once: with more, the matrices outgrow the
# processor's cache and their memory goes back to the system each round.
CASES_AT_ONCE = 40
# Change of load per step of path, in nominal steps, below which a critical point is a limit point.
LEVEL = 2e-2


class Continuation:
    """The state of a continuation; `kept` (cases, points, n) is what it leaves behind.

    scale: load factor that weighs as much as the stiffness at rest, `rest`; turn: spread of the
    pipe's own angles at rest [rad]; all (cases,).
    """

    def __init__(
        self,
        made: Equilibrium,
        grows: ScaledLoad,
        stays: ScaledLoad,
        scale: Array,
        rest: Array,
        turn: Array,
    ) -> None:
        weights = made.rule.weights
        self.made, self.grows, self.stays = made, grows, stays
        self.rest, self.turn = rest, turn
        self.weights, self.scale = weights, scale
        self.metric = np.zeros((scale.size, weights.size + 5))
        self.metric[:, : weights.size] = weights / (STEP_TURN * turn[:, None]) ** 2
        self.metric[:, FACTOR] = 1.0 / (STEP_LOAD * scale) ** 2

    def start(self, z: Array, modes: Array, limit: Array) -> None:
        """Take up the first points, all in equilibrium."""
        cases = z.shape[0]
        self.z, self.modes, self.limit = z.copy(), modes.copy(), limit
        self.reached = limit <= 0.0
        self.at_limit = np.zeros(cases, dtype=bool)
        self.critical_factor = np.full(cases, np.nan)
        self.going = ~self.reached
        self.beyond = np.zeros(cases, dtype=np.int64)
        rows = np.arange(cases)
        control = np.zeros_like(z)
        control[:, FACTOR] = 1.0
        found = self._correct(rows, z, control)
        self.tangent = self._unit(found.tangent, rows)
        self.curving = np.zeros_like(z)
        self.stiffness = found.stiffness

    def run(self, step: float, most_points: int, points_beyond: int) -> None:
        """Follow every case to a critical point, its limit, no equilibrium, or its last point."""
        cases, width = self.z.shape
        self.kept = np.full((cases, most_points + points_beyond + 1, width), np.nan)
        self.count = np.zeros(cases, dtype=np.int64)
        self.length = np.full(cases, step)
        self.longest, self.points_beyond = LONGEST_STEP * step, points_beyond
        self._record(np.arange(cases))
        while True:
            rows = np.flatnonzero(self.going)
            if rows.size == 0:
                break
            self._step(rows)
            self.going &= self.count < np.where(self.beyond > 0, self.kept.shape[1], most_points)
        used = int(self.count.max())
        self.kept = self.kept[:, :used]

    def _record(self, rows: NDArray[np.int64]) -> None:
        self.kept[rows, self.count[rows]] = self.z[rows]
        self.count[rows] += 1

    def _unit(self, tangent: Array, rows: NDArray[np.int64]) -> Array:
        size = np.sqrt((self.metric[rows] * tangent**2).sum(axis=1))
        size = np.where(size > 0.0, size, 1.0)
        return np.asarray(tangent / size[:, None], dtype=float)

    def _rescale(self, rows: NDArray[np.int64]) -> None:
        """Measure the path ahead by the load now carried."""
        carried = np.maximum(self.scale[rows], CARRIED * np.abs(self.z[rows, FACTOR]))
        self.metric[rows, FACTOR] = 1.0 / (STEP_LOAD * carried) ** 2
        size = np.sqrt((self.metric[rows] * self.tangent[rows] ** 2).sum(axis=1))[:, None]
        size = np.where(size > 0.0, size, 1.0)
        self.tangent[rows] /= size
        self.curving[rows] /= size**2

    def _predict(self, rows: NDArray[np.int64], length: Array) -> Array:
        """A guess some length further on, along the parabola through the last two directions."""
        along = length[:, None]
        return np.asarray(
            self.z[rows] + along * (self.tangent[rows] + 0.5 * along * self.curving[rows]),
            dtype=float,
        )

    def _step(self, rows: NDArray[np.int64]) -> None:
        self._rescale(rows)
        tangent = self.tangent[rows]
        left = self.limit[rows] - self.z[rows, FACTOR]
        with np.errstate(divide="ignore", invalid="ignore"):
            to_limit = np.where(tangent[:, FACTOR] > 0.0, left / tangent[:, FACTOR], np.inf)
        last = to_limit <= self.length[rows]
        length = np.where(last, to_limit, self.length[rows])
        control = self.metric[rows] * tangent
        control[last] = 0.0
        control[last, FACTOR] = 1.0
        guess = self._predict(rows, length)
        guess[last, FACTOR] = self.limit[rows[last]]
        found = self._correct(rows, guess, control)
        onward = self._unit(found.tangent, rows)
        agreement = (self.metric[rows] * onward * tangent).sum(axis=1)
        # A sharp bend of path at once is most likely a leap to another path.
        good = found.good & ((np.abs(agreement) > LEAST_AGREEMENT) | (length < SURE_STEP))
        self._shorten(rows[~good], length[~good])
        softened = good & (found.stiffness < 0.0) & np.isnan(self.critical_factor[rows])
        kept = good & ~softened
        new = rows[kept]
        onward = onward * np.sign(agreement)[:, None]
        self.curving[new] = ((onward - tangent) / np.maximum(length, 1e-12)[:, None])[kept]
        self.tangent[new] = onward[kept]
        self.z[new], self.modes[new] = found.z[kept], found.modes[kept]
        self.stiffness[new] = found.stiffness[kept]
        self._record(new)
        self.length[new] = np.minimum(
            self.length[new] * STEP_GROWTH[np.minimum(found.rounds[kept], STEP_GROWTH.size - 1)],
            self.longest,
        )
        done = rows[kept & last]
        self.reached[done], self.going[done] = True, False
        past = new[self.beyond[new] > 0]
        self.beyond[past] -= 1
        self.going[past[self.beyond[past] == 0]] = False
        if softened.any():
            self._locate_critical(rows[softened], length[softened], found.stiffness[softened])

    def _shorten(self, rows: NDArray[np.int64], length: Array) -> None:
        """Try again with a shorter step; give up where it is too short already."""
        self.length[rows] = 0.35 * length
        self.going[rows[self.length[rows] < SHORTEST_STEP]] = False

    def _locate_critical(self, rows: NDArray[np.int64], length: Array, too_far: Array) -> None:
        """False position (Illinois) on the stiffness between the last point and one too far."""
        low, high = np.zeros(rows.size), length.copy()
        aim = LAST_STIFFNESS * self.rest[rows]
        low_value, high_value = np.maximum(self.stiffness[rows] - aim, 0.0), too_far - aim
        tangent = self.tangent[rows]
        control = self.metric[rows] * tangent
        open_rows = np.arange(rows.size)
        for _ in range(CLOSING_ROUNDS):
            here = rows[open_rows]
            a, b, fa, fb = (v[open_rows] for v in (low, high, low_value, high_value))
            middle = a + (b - a) * fa / (fa - fb)
            guess = self._predict(here, middle)
            near = self._correct(here, guess, control[open_rows])
            value = near.stiffness - aim[open_rows]
            self.modes[here[near.good]] = near.modes[near.good]
            found = near.good & (np.abs(value) < NEAR_ENOUGH * self.rest[here])
            self._accept_critical(here[found], near, found)
            # Where no equilibrium was found the far end comes nearer and keeps its value.
            above, below = near.good & (value > 0.0), near.good & (value <= 0.0)
            high_value[open_rows] = np.select([above, below], [0.5 * fb, value], fb)
            low_value[open_rows] = np.select([above, below], [value, 0.5 * fa], fa)
            low[open_rows], high[open_rows] = np.where(above, middle, a), np.where(above, b, middle)
            open_rows = open_rows[~found]
            if open_rows.size == 0:
                break
        # A stiffness that leaps and has no zero belongs to another path: take a shorter step. Where
        # it still leaps over the shortest step, a line has gone slack: a critical point.
        unsettled = np.isnan(self.critical_factor[rows])
        self._shorten(rows[unsettled], length[unsettled])
        slack = rows[unsettled & (self.length[rows] < SHORTEST_STEP)]
        self.critical_factor[slack] = self.z[slack, FACTOR]

    def _accept_critical(
        self, rows: NDArray[np.int64], near: Corrected, chosen: NDArray[np.bool_]
    ) -> None:
        """Take a point of almost no stiffness as the critical point.

        The stiffness falls evenly with the length of path, so the rest of the way to its zero is a
        straight line from the last point; the point itself is kept, a hair short of or past it.
        """
        slope = self._unit(near.tangent[chosen], rows)
        onward = np.sign((self.metric[rows] * slope * self.tangent[rows]).sum(axis=1))
        z = near.z[chosen]
        share = self.stiffness[rows] / (self.stiffness[rows] - near.stiffness[chosen])
        straight = self.z[rows, FACTOR] + share * (z[:, FACTOR] - self.z[rows, FACTOR])
        self.tangent[rows], self.curving[rows] = slope * onward[:, None], 0.0
        rate = self.tangent[rows, FACTOR] * np.sqrt(self.metric[rows, FACTOR])
        self.at_limit[rows] = np.abs(rate) < LEVEL
        self.critical_factor[rows] = np.where(self.at_limit[rows], z[:, FACTOR], straight)
        self.z[rows], self.stiffness[rows] = z, near.stiffness[chosen]
        self._record(rows)
        goes_on = self.at_limit[rows] & (self.points_beyond > 0)
        self.beyond[rows[goes_on]] = self.points_beyond
        self.going[rows[~goes_on]] = False

    def _of(self, rows: NDArray[np.int64]) -> tuple[Equilibrium, ScaledLoad, ScaledLoad]:
        return self.made.some(rows), self.grows.some(rows), self.stays.some(rows)

    def _correct(self, rows: NDArray[np.int64], guess: Array, control: Array) -> Corrected:
        """Newton's method with `control` . (z - guess) = 0; tangent and stiffness by the way."""
        count = self.weights.size
        found = Corrected(guess, self.modes[rows])
        open_rows = np.arange(rows.size)
        for round_number in range(1, MOST_ROUNDS + 1):
            here, held = found.z[open_rows], control[open_rows]
            off = (held * (here - guess[open_rows])).sum(axis=1)
            # The first round of a step is hardly ever its last: it needs only its own answer.
            early = round_number == 1 and not np.array_equal(guess, self.z[rows])
            answer = self._solve(rows[open_rows], here, held, off, early)
            found.z[open_rows] -= answer[:, :, 0]
            change = np.abs(answer[:, :count, 0]).max(axis=1)
            settled = change < (0.0 if early else LAST_CHANGE * self.turn[rows[open_rows]])
            found.rounds[open_rows] = round_number
            done = open_rows[settled]
            if done.size:
                found.good[done] = True
                found.tangent[done] = answer[settled, :, 1]
                found.read_stiffness(done, self.weights, self.modes[rows[done]], answer[settled])
            open_rows = open_rows[~settled & (change < 1.0)]
            if open_rows.size == 0:
                break
        return found

    def _solve(
        self, rows: NDArray[np.int64], z: Array, control: Array, off: Array, early: bool
    ) -> Array:
        """Answers (cases, n + 1, k) of one round: the change to take off, with control . change =
        off; and unless it is early, the path's direction and the response to each mode."""
        count = self.weights.size
        right = np.zeros((*z.shape, 1 if early else 2 + self.modes.shape[2]))
        right[:, -1, 0] = off
        if not early:
            right[:, -1, 1] = 1.0
            right[:, :count, 2:] = self.modes[rows]
        for first in range(0, rows.size, CASES_AT_ONCE):
            part = slice(first, first + CASES_AT_ONCE)
            right[part, :-1, 0], matrix = residual_and_tangent(*self._of(rows[part]), z[part])
            matrix[:, -1] = control[part]
            right[part] = np.linalg.solve(matrix, right[part])
        return right


class Corrected:
    """What Newton's method found for some cases."""

    def __init__(self, guess: Array, modes: Array) -> None:
        cases = guess.shape[0]
        self.z, self.modes = guess.copy(), modes.copy()
        self.tangent = np.zeros_like(guess)
        self.stiffness = np.full(cases, np.nan)
        self.good = np.zeros(cases, dtype=bool)
        self.rounds = np.zeros(cases, dtype=np.int64)

    def read_stiffness(
        self, done: NDArray[np.int64], weights: Array, modes: Array, answer: Array
    ) -> None:
        """Least stiffness at constant load, from a solve that held the length of path instead."""
        count = weights.size
        tangent, by_mode = answer[:, :, 1], answer[:, :, 2:]
        steady_rate = tangent[:, FACTOR]
        steady_rate = np.where(np.abs(steady_rate) > 1e-300, steady_rate, 1e-300)
        moved = (
            by_mode[:, :count]
            - tangent[:, :count, None] * (by_mode[:, FACTOR, :] / steady_rate[:, None])[:, None, :]
        )
        self.stiffness[done], self.modes[done] = least_stiffness(weights, modes, moved)
