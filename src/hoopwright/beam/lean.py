"""The load under which a hoop falls along the bed, out of its own plane.

The second variation of a loaded hoop's energy in tilt b and twist f, as in `out_of_plane`, with
the bend k, moment M, thrust N and shear V of the loaded hoop in its plane:

    (b' + k f)^2 + GJ / EI (f' - k b)^2 + M (b f' - f b' - k (f^2 + b^2)) + N b^2 - V f b

where it is no longer positive for every tilt and twist, the hoop falls aside. Loads are dead and
stay in their own direction, as snow does. Per unit arc length and bending stiffness.
"""

from functools import partial

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.beam.equilibrium import FACTOR, FOOT_MOMENT, equilibrium, inner_force, scaled_load
from hoopwright.beam.out_of_plane import CROWN, LEAST_SPIN, TERMS, polynomials
from hoopwright.beam.panels import Array, reading
from hoopwright.beam.path import EquilibriumPath

#: Steps from one point of a path to the next at which the hoop is asked whether it stands.
BETWEEN = 4
#: States whose second variation is worked out at once.
AT_ONCE = 12
#: Values of the polynomials at both ends, for twist and for tilt.
TWIST_ENDS: Array = np.stack([(-1.0) ** np.arange(TERMS + 1), np.ones(TERMS + 1)])
TILT_ENDS = TWIST_ENDS[:, 1:]


def falls_along(
    path: EquilibriumPath,
    rows: list[int],
    *,
    foot_turn: float,
    foot_twist: float,
    torsion_share: float,
    crown_hold: ArrayLike = 0.0,
) -> Array:
    """Return the load factor at which each row's hoop falls along the bed, NaN where it stands.

    foot_turn, foot_twist : [N m/rad] of each foot against tilting along the bed and spinning
    torsion_share : [-] GJ over EI; crown_hold : [N/m] of what keeps the crown in place along
    the bed, for a pipe of the frame's stiffness; several, rising, give an answer each, (rows,
    holds)

    Valid for: dead loads in the plane, a hoop upright and straight to begin with, its bend not
    yet relaxed. Source: Kirchhoff's rod to second order (Love ch. XIX, from memory), ours; the
    finite elements in space of the tests agree.
    """
    frame = path.frame
    stiffness, length = frame.stiffness, frame.length
    feet_held = (foot_turn * length / stiffness, foot_twist * length / stiffness)
    holds = np.atleast_1d(np.asarray(crown_hold, dtype=float)) * length**3 / stiffness
    out = np.full((len(rows), holds.size), np.nan)
    for place, row in enumerate(rows):
        along = path.once(("along", row, torsion_share), partial(_Along, path, row, torsion_share))
        out[place] = along.first_falls(feet_held, holds)
    return out if np.ndim(crown_hold) else out[:, 0]


class _Along:
    """The second variation along the path of one case, worked out as far as it is asked for."""

    def __init__(self, path: EquilibriumPath, row: int, torsion: float) -> None:
        frame = path.frame
        at_value, at_integral = reading(frame.rule, polynomials()[0])
        made = equilibrium(frame)
        grows, stays = (
            scaled_load(frame, one, pulls)
            for one, pulls in ((path.growing, 0.0), (path.steady, 1.0))
        )
        states = path.unknowns[row]
        z = states[np.isfinite(states[:, FACTOR])]
        at = np.full(z.shape[0], row)
        p, q = inner_force(
            made,
            grows.some(at),
            stays.some(at if stays.pressure.shape[0] > 1 else 0 * at),
            z,
        )
        count = frame.rule.points.size
        angle = z[:, :count] @ at_value.T
        moment = z[:, FOOT_MOMENT, None] + made.linear_part(z)[:, :count] @ at_integral.T
        forces = (one[:, 1:-1] @ at_value.T for one in (p, q))
        self.state = np.stack([angle, moment, *forces], axis=1)
        left = z[:, FOOT_MOMENT]
        right = left + made.linear_part(z)[:, : frame.rule.weights.size] @ frame.rule.weights
        #: Moment at the left and the right foot [EI / L], (states, 2).
        self.feet = np.stack([left, right], axis=1)
        self.torsion, factor = torsion, z[:, FACTOR]
        steps = np.arange((factor.size - 1) * BETWEEN + 1) / BETWEEN
        self.low = np.minimum(steps.astype(np.int64), factor.size - 1)
        self.high, self.part = np.minimum(self.low + 1, factor.size - 1), steps - self.low
        self.level = (1 - self.part) * factor[self.low] + self.part * factor[self.high]
        self.known: list[Array] = []

    def _at_step(self, at: int) -> Array:
        """Return the second variation at a step, feet and crown free."""
        while at >= len(self.known):
            some = slice(len(self.known), len(self.known) + AT_ONCE)
            a, b, share = self.low[some], self.high[some], self.part[some, None]
            here = (1 - share[..., None]) * self.state[a] + share[..., None] * self.state[b]
            ends = (1 - share) * self.feet[a] + share * self.feet[b]
            self.known.extend(_second_variations(here, ends, self.torsion))
        return self.known[at]

    def first_falls(self, feet_held: tuple[float, float], holds: Array) -> Array:
        """Return the factor at which the least eigenvalue falls to zero, else NaN.

        For each hold of the crown, rising: one held better falls no sooner.
        """
        turn, twist = feet_held
        feet = np.zeros((2 * TERMS + 1, 2 * TERMS + 1))
        feet[:TERMS, :TERMS] = turn * TILT_ENDS.T @ TILT_ENDS
        feet[TERMS:, TERMS:] = twist * TWIST_ENDS.T @ TWIST_ENDS
        lean = polynomials()[4][CROWN, 1:]
        out, step = np.full(holds.size, np.nan), 0
        for place, hold in enumerate(holds):
            held = feet.copy()
            held[:TERMS, :TERMS] += hold * np.outer(lean, lean)
            step = next(
                (
                    at
                    for at in range(step, self.level.size)
                    if not _stands(one := self._at_step(at) + held) and _least(one) < 0.0
                ),
                self.level.size,
            )
            if step == self.level.size:
                break
            before, last = 0.0, 0.0
            if step > 0:
                before, last = _least(self._at_step(step - 1) + held), self.level[step - 1]
            share = before / (before - _least(self._at_step(step) + held))
            out[place] = last + (self.level[step] - last) * share
        return out


def _least(matrix: Array) -> float:
    return float(np.linalg.eigvalsh(matrix)[0])


def _stands(matrix: Array) -> bool:
    """Return whether a symmetric matrix is positive definite: told sooner than its eigenvalues."""
    try:
        np.linalg.cholesky(matrix)
    except np.linalg.LinAlgError:
        return False
    return True


def _second_variations(state: Array, ends: Array, torsion: float) -> Array:
    """Return the second variation of each state (states, 4, points), its feet and crown free."""
    _, weight, value, slope, _ = polynomials()
    angle, bend, p, q = (one[:, :, None] for one in state.transpose(1, 0, 2))
    tilts, tilt_slopes, twists, twist_slopes = value[:, 1:], slope[:, 1:], value, slope
    along, across = p * np.cos(angle) + q * np.sin(angle), q * np.cos(angle) - p * np.sin(angle)
    bent, each = bend * twists, weight[:, None]
    bending = np.concatenate([np.broadcast_to(tilt_slopes, (*bent.shape[:2], TERMS)), bent], axis=2)
    twisting = np.concatenate([-bend * tilts, np.broadcast_to(twist_slopes, bent.shape)], axis=2)
    matrix = bending.transpose(0, 2, 1) @ (each * bending)
    matrix += torsion * (twisting.transpose(0, 2, 1) @ (each * twisting))
    matrix[:, :TERMS, :TERMS] += tilts.T @ (each * (along - bend * bend) * tilts)
    matrix[:, TERMS:, TERMS:] -= twists.T @ (each * (bend * bend) * twists)
    mixed = 0.5 * (
        tilts.T @ (each * bend * twist_slopes)
        - tilt_slopes.T @ (each * bent)
        - tilts.T @ (each * across * twists)
    )
    signed = np.array([[1.0], [-1.0]]) * ends[:, :, None]
    mixed += 0.5 * (TILT_ENDS.T @ (signed * TWIST_ENDS))
    matrix[:, :TERMS, TERMS:] += mixed
    matrix[:, TERMS:, :TERMS] += mixed.transpose(0, 2, 1)
    matrix[:, TERMS, TERMS] += LEAST_SPIN
    return np.asarray(matrix)
