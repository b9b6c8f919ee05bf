"""A bent hoop pushed out of its own plane: how far it leans, bends and twists, to first order.

The tangent tilts out of the plane by b, the pipe twists about itself by f. Per unit arc, with
the curvature k of the hoop:

    bending across the plane  b' + k f,   twist  f' - k b,   lean' = b

A hoop bent from a straight pipe carries its bend as prestress: moment M = r EI k, thrust N and
shear V in its plane (r: the share of the bend's force that is left). To second order in b and f
they add M (b f' - f b' - k (f^2 + b^2)) + N b^2 - V f b to twice the energy. With r = 1 nothing
twists under a load alike on both sides: a bent straight round pipe has no torsion to set free.
"""

from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre

from hoopwright.beam.elastica import HoopCurve
from hoopwright.beam.panels import Array
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
