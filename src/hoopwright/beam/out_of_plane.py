"""A bent hoop pushed out of its own plane: how far it leans, bends and twists, to first order.

The tangent tilts out of the plane by b, the pipe twists about itself by f. Per unit arc, with
the curvature k of the hoop:

    bending across the plane  b' + k f,   twist  f' - k b,   lean' = b

A hoop bent from a straight pipe carries its bend as prestress: moment M = r EI k, thrust N and
shear V in its plane (r: the share of the bend's force that is left). To second order in b and f
they add M (b f' - f b' - k (f^2 + b^2)) + N b^2 - V f b to twice the energy. With r = 1 nothing
twists under a load alike on both sides: a bent straight round pipe has no torsion to set free.

The load under which a hoop falls along the bed follows from the same second variation, with the
bend k, moment M, thrust N and shear V of the loaded hoop in its plane:

    (b' + k f)^2 + GJ / EI (f' - k b)^2 + M (b f' - f b' - k (f^2 + b^2)) + N b^2 - V f b

Where it is no longer positive for every tilt and twist, the hoop falls aside. Loads are dead and
stay in their own direction, as snow does. Per unit arc length and bending stiffness.
"""

from functools import lru_cache, partial

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import ArrayLike

from hoopwright.beam.elastica import HoopCurve
from hoopwright.beam.equilibrium import FACTOR, FOOT_MOMENT, equilibrium, inner_force, scaled_load
from hoopwright.beam.panels import Array, reading
from hoopwright.beam.path import EquilibriumPath
from hoopwright.frozen import dataclass

#: Legendre polynomials for each of tilt and twist: the lean is then found to about 1e-5.
TERMS = 14
#: Gauss points, odd, so that the middle one is the crown.
POINTS = 25
CROWN = POINTS // 2
#: Stiffness against spinning in the straps, over EI / length [-]: nothing, but not singular.
LEAST_SPIN = 1e-6


@dataclass(frozen=True)
class Aside:
    """What loads square to the hoop's plane do, rows as the loads were given.

    share : [-] of the arc at each point; weight : [-] Gauss weights, which sum to 1
    lean : [m]; bending, twist : [1/m] at the points
    foot_moment : [N m] of the straps against tilting along the bed, (rows, 2) left and right
    foot_torque : [N m] of the straps against spinning, likewise
    """

    share: Array
    weight: Array
    lean: Array
    bending: Array
    twist: Array
    foot_moment: Array
    foot_torque: Array


@lru_cache(maxsize=4)
def polynomials() -> tuple[Array, Array, Array, Array, Array]:
    """Points and weights on the unit arc; values, slopes and integrals of the polynomials."""
    points, weights = legendre.leggauss(POINTS)
    values = legendre.legvander(points, TERMS + 1)
    slopes = np.stack(
        [legendre.legval(points, legendre.legder(row)) for row in np.eye(TERMS + 1)], axis=1
    )
    integrals = np.empty((POINTS, TERMS + 1))
    integrals[:, 0] = points + 1.0
    degree = np.arange(1, TERMS + 1)
    integrals[:, 1:] = (values[:, 2:] - values[:, :TERMS]) / (2.0 * degree + 1.0)
    found = ((points + 1.0) / 2.0, weights / 2.0, values[:, :-1], 2.0 * slopes, integrals / 2.0)
    share, weight, value, slope, integral = (np.asarray(one, dtype=float) for one in found)
    return share, weight, value, slope, integral


def gauss_shares() -> tuple[Array, Array]:
    """Return the shares of the arc where loads and answers are held, and their weights [-]."""
    return polynomials()[0], polynomials()[1]


def push_aside(
    curve: HoopCurve,
    stiffness: float,
    loads: Array,
    crown_forces: Array,
    *,
    foot_turn: float,
    foot_twist: float,
    torsion_share: float,
    bend_left: float,
) -> Aside:
    """Return what loads square to its plane do to a hoop.

    stiffness : [N m2] EI; loads : [N/m] of arc, (rows, points) at `gauss_shares`
    crown_forces : [N] at the crown, one a row, beside the loads
    foot_turn, foot_twist : [N m/rad] of each foot against tilting along the bed and against
    spinning in its straps; 0 lets it
    torsion_share : [-] GJ over EI, 1 / (1 + Poisson's ratio) for any round section
    bend_left : [-] share of the bend's prestress that acts, 1 for a pipe just bent, 0 for one
    formed on a bender

    Valid for: tilts up to about a third of a radian (see docs/method/end-hoop.md for what it is
    off by); no load in the plane. Source: Kirchhoff's rod (Love ch. XVIII and XXI, from memory),
    second order in tilt and twist, ours; met by a clamped bow's closed form and by OpenSees.
    """
    share, weight, value, slope, integral = polynomials()
    length = curve.length
    at = share * length
    # The curve's angle falls from foot to foot, so its curvature is negative in this frame.
    bend = -np.interp(at, curve.arc, curve.curvature)
    angle = np.interp(at, curve.arc, curve.angle)
    tilts, tilt_slopes = value[:, 1:], slope[:, 1:] / length
    twists, twist_slopes = value, slope / length
    pull = bend_left * curve.thrust_per_stiffness
    moment, along, across = bend_left * bend, -pull * np.cos(angle), pull * np.sin(angle)
    bending = np.hstack([tilt_slopes, bend[:, None] * twists])
    twisting = np.hstack([-bend[:, None] * tilts, twist_slopes])
    each = (weight * length)[:, None]
    matrix = bending.T @ (each * bending) + torsion_share * twisting.T @ (each * twisting)
    matrix[:TERMS, :TERMS] += tilts.T @ (each * (along - moment * bend)[:, None] * tilts)
    matrix[TERMS:, TERMS:] -= twists.T @ (each * (moment * bend)[:, None] * twists)
    mixed = 0.5 * (
        tilts.T @ (each * moment[:, None] * twist_slopes)
        - tilt_slopes.T @ (each * moment[:, None] * twists)
        - tilts.T @ (each * across[:, None] * twists)
    )
    ends = np.stack([(-1.0) ** np.arange(TERMS + 1), np.ones(TERMS + 1)])
    tilt_ends, twist_ends = ends[:, 1:], ends
    # A foot held against turning in the plane keeps its direction while the pipe spins in it.
    foot_bend = np.array([[1.0], [-1.0]]) * -bend_left * curve.foot_curvature
    mixed += 0.5 * tilt_ends.T @ (foot_bend * twist_ends)
    matrix[:TERMS, TERMS:] += mixed
    matrix[TERMS:, :TERMS] += mixed.T
    matrix[:TERMS, :TERMS] += foot_turn / stiffness * tilt_ends.T @ tilt_ends
    matrix[TERMS:, TERMS:] += foot_twist / stiffness * twist_ends.T @ twist_ends
    # A straight round pipe spins in its bend for nothing: keep that from being undetermined.
    matrix[TERMS, TERMS] += LEAST_SPIN / length
    # The lean that goes with each tilt; the first polynomial is left out, so both feet stay.
    leans = -length * integral[:, 1:]
    force = np.zeros((loads.shape[0], 2 * TERMS + 1))
    force[:, :TERMS] = (loads * weight * length) @ leans + np.outer(crown_forces, leans[CROWN])
    found = np.linalg.solve(matrix, force.T / stiffness).T
    tilt, twist = found[:, :TERMS], found[:, TERMS:]
    return Aside(
        share,
        weight,
        lean=tilt @ leans.T,
        bending=found @ bending.T,
        twist=found @ twisting.T,
        foot_moment=np.asarray(foot_turn * tilt @ tilt_ends.T, dtype=float),
        foot_torque=np.asarray(foot_twist * twist @ twist_ends.T, dtype=float),
    )


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
