"""The load under which a hoop falls along the bed, out of its own plane.

The second variation of a loaded hoop's energy in tilt b and twist f, as in `out_of_plane`, with
the bend k, moment M, thrust N and shear V of the loaded hoop in its plane:

    (b' + k f)^2 + GJ / EI (f' - k b)^2 + M (b f' - f b' - k (f^2 + b^2)) + N b^2 - V f b

where it is no longer positive for every tilt and twist, the hoop falls aside. Loads are dead and
stay in their own direction, as snow does. Per unit arc length and bending stiffness.
"""

from __future__ import annotations

import numpy as np

from hoopwright.beam.equilibrium import (
    FACTOR,
    FOOT_MOMENT,
    Equilibrium,
    equilibrium,
    inner_force,
    scaled_load,
)
from hoopwright.beam.out_of_plane import CROWN, LEAST_SPIN, TERMS, polynomials
from hoopwright.beam.panels import Array, reading
from hoopwright.beam.path import EquilibriumPath

#: Steps from one point of a path to the next at which the hoop is asked whether it stands.
BETWEEN = 4


def falls_along(
    path: EquilibriumPath,
    rows: list[int],
    *,
    foot_turn: float,
    foot_twist: float,
    torsion_share: float,
    crown_hold: float = 0.0,
) -> Array:
    """Return the load factor at which each row's hoop falls along the bed, NaN where it stands.

    foot_turn, foot_twist : [N m/rad] of each foot against tilting along the bed and spinning
    torsion_share : [-] GJ over EI; crown_hold : [N/m] of what keeps the crown in place along
    the bed, for a pipe of the frame's stiffness

    Valid for: dead loads in the plane, a hoop upright and straight to begin with, its bend not
    yet relaxed. Source: Kirchhoff's rod to second order (Love ch. XIX, from memory), ours; the
    finite elements in space of the tests agree.
    """
    frame = path.frame
    stiffness, length = frame.stiffness, frame.length
    share, weight, value, slope, integral = polynomials()
    at_value, at_integral = reading(frame.rule, share)
    made = equilibrium(frame)
    grows, stays = (
        scaled_load(frame, one, pulls) for one, pulls in ((path.growing, 0.0), (path.steady, 1.0))
    )
    out = np.full(len(rows), np.nan)
    held = (
        foot_turn * length / stiffness,
        foot_twist * length / stiffness,
        crown_hold * length**3 / stiffness,
    )
    basis = (weight, value, slope, integral)
    for place, row in enumerate(rows):
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
        state = np.stack([angle, moment, *(one[:, 1:-1] @ at_value.T for one in (p, q))], axis=1)
        feet = moment_at_feet(made, z, frame.rule.weights)
        out[place] = _first_fall(z[:, FACTOR], state, feet, basis, torsion_share, held)
    return out


def _first_fall(
    factor: Array,
    state: Array,
    feet: Array,
    basis: tuple[Array, Array, Array, Array],
    torsion: float,
    held: tuple[float, float, float],
) -> float:
    """Return the factor at which the least eigenvalue along a path falls to zero, else NaN."""
    steps = np.arange((factor.size - 1) * BETWEEN + 1) / BETWEEN
    before, level = 0.0, 0.0
    for step in steps:
        low = min(int(step), factor.size - 1)
        high, part = min(low + 1, factor.size - 1), step - low
        here = (1 - part) * state[low] + part * state[high]
        ends = (1 - part) * feet[low] + part * feet[high]
        matrix = _second_variation(basis, here[0], here[1], (here[2], here[3]), ends, torsion, held)
        least = float(np.linalg.eigvalsh(matrix)[0])
        at = float((1 - part) * factor[low] + part * factor[high])
        if least < 0.0:
            return level + (at - level) * before / (before - least) if step > 0 else 0.0
        before, level = least, at
    return float("nan")


def moment_at_feet(made: Equilibrium, z: Array, weights: Array) -> Array:
    """Return the moment at the left and the right foot [EI / L], (states, 2)."""
    shear = made.linear_part(z)[:, : weights.size]
    left = z[:, FOOT_MOMENT]
    return np.stack([left, left + shear @ weights], axis=1)


def _second_variation(
    basis: tuple[Array, Array, Array, Array],
    angle: Array,
    bend: Array,
    force: tuple[Array, Array],
    ends: Array,
    torsion: float,
    held: tuple[float, float, float],
) -> Array:
    weight, value, slope, integral = basis
    tilts, tilt_slopes, twists, twist_slopes = value[:, 1:], slope[:, 1:], value, slope
    along = force[0] * np.cos(angle) + force[1] * np.sin(angle)
    across = force[1] * np.cos(angle) - force[0] * np.sin(angle)
    bending = np.hstack([tilt_slopes, bend[:, None] * twists])
    twisting = np.hstack([-bend[:, None] * tilts, twist_slopes])
    each = weight[:, None]
    matrix = bending.T @ (each * bending) + torsion * twisting.T @ (each * twisting)
    matrix[:TERMS, :TERMS] += tilts.T @ (each * (along - bend * bend)[:, None] * tilts)
    matrix[TERMS:, TERMS:] -= twists.T @ (each * (bend * bend)[:, None] * twists)
    mixed = 0.5 * (
        tilts.T @ (each * bend[:, None] * twist_slopes)
        - tilt_slopes.T @ (each * bend[:, None] * twists)
        - tilts.T @ (each * across[:, None] * twists)
    )
    edge = np.stack([(-1.0) ** np.arange(TERMS + 1), np.ones(TERMS + 1)])
    tilt_ends, twist_ends = edge[:, 1:], edge
    signed = np.array([[1.0], [-1.0]]) * ends[:, None]
    mixed += 0.5 * tilt_ends.T @ (signed * twist_ends)
    matrix[:TERMS, TERMS:] += mixed
    matrix[TERMS:, :TERMS] += mixed.T
    turn, twist, crown = held
    matrix[:TERMS, :TERMS] += turn * tilt_ends.T @ tilt_ends
    matrix[TERMS:, TERMS:] += twist * twist_ends.T @ twist_ends
    matrix[TERMS, TERMS] += LEAST_SPIN
    lean = integral[CROWN, 1:]
    matrix[:TERMS, :TERMS] += crown * np.outer(lean, lean)
    return np.asarray(matrix)
