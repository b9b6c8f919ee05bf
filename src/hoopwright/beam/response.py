"""What a loaded hoop does: how far it moves, what it asks of its feet, how sharply it bends."""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.beam.equilibrium import (
    FACTOR,
    FOOT_MOMENT,
    Equilibrium,
    ScaledLoad,
    equilibrium,
    inner_force,
    residual_and_tangent,
    scaled_load,
)
from hoopwright.beam.frame import Foot, HoopFrame, fine_reading
from hoopwright.beam.panels import Array
from hoopwright.beam.path import EquilibriumPath
from hoopwright.frozen import dataclass

FINE_STEPS = 12


@dataclass(frozen=True)
class FootForce:
    """What the hoop asks of one foot, arrays (cases, points).

    push: outward on the board [N]. lift: up along the leg [N], positive pulls the pipe out of its
    straps, negative bears down. moment: positive hoop-wise [N m].
    lower_strap: moment over strap spacing [N], positive where the strap must hold the pipe's lower
    end inward (pipe bearing outward there is negative). upper_strap: outward force at the top strap
    [N]. Both NaN for a clamp, whose couple has no known arm.
    """

    push: Array
    lift: Array
    moment: Array
    lower_strap: Array
    upper_strap: Array


@dataclass(frozen=True)
class Response:
    """Arrays (cases, points), NaN past the end of a case's path.

    factor [-]; left, right: feet. greatest_curvature: greatest bend away from the pipe's natural
    shape [1/m], so times half the outside diameter it is the greatest fibre strain.
    crown_drop: how far the middle of the arc is below where it was [m]; crown_sway: how far to the
    right [m]. rise: height of the highest point above the feet [m].
    bend: bend away from the natural shape at many places of the arc, its sign kept [1/m], (cases,
    points, places); bend_at_rest: the same unloaded, (places,).
    """

    factor: Array
    left: FootForce
    right: FootForce
    greatest_curvature: Array
    crown_drop: Array
    crown_sway: Array
    rise: Array
    bend: Array
    bend_at_rest: Array


@dataclass(frozen=True)
class LoadedShape:
    """One loaded hoop for drawing: arc, x, y [m], angle [rad], moment [N m], left to right foot."""

    arc: Array
    x: Array
    y: Array
    angle: Array
    moment: Array


def respond(path: EquilibriumPath) -> Response:
    """What every point of a path means in metres and newtons."""
    frame = path.frame
    cases, points, width = path.unknowns.shape
    flat = path.unknowns.reshape(-1, width)
    there = np.flatnonzero(np.isfinite(flat[:, FACTOR]))
    z = flat[there]
    made, grows, stays = _loads(path)
    rows = there // points
    forces = inner_force(made, grows.some(rows), stays.some(rows), z)
    shares, x, y, _, moment = _fine(frame, made, z)
    _, x_rest, y_rest, _, rest_moment = _fine(frame, made, path.at_rest[None])
    middle = int(np.argmin(np.abs(shares - 0.5)))

    def whole(values: Array) -> Array:
        out = np.full(cases * points, np.nan)
        out[there] = values
        return out.reshape(cases, points)

    bend = np.full((cases * points, shares.size), np.nan)
    bend[there] = moment / frame.length
    unit = frame.stiffness / frame.length**2
    feet = [
        _foot(foot, whole(-p * unit), whole(lift * unit), whole(-m * unit * frame.length))
        for foot, p, lift, m in (
            (frame.left, forces[0][:, 0], forces[1][:, 0], moment[:, 0]),
            (frame.right, forces[0][:, -1], -forces[1][:, -1], moment[:, -1]),
        )
    ]
    return Response(
        factor=path.factor,
        left=feet[0],
        right=feet[1],
        greatest_curvature=whole(_sharpest(moment) / frame.length),
        crown_drop=whole((y_rest - y)[:, middle]),
        crown_sway=whole((x - x_rest)[:, middle]),
        rise=whole(y.max(axis=1)),
        bend=bend.reshape(cases, points, shares.size),
        bend_at_rest=rest_moment[0] / frame.length,
    )


def shape(path: EquilibriumPath, case: int, point: int) -> LoadedShape:
    """The loaded hoop at one point of a path; a negative point counts from the case's last one."""
    used = int(np.isfinite(path.factor[case]).sum())
    z = path.unknowns[case, point + used if point < 0 else point][None]
    shares, x, y, angle, moment = _fine(path.frame, equilibrium(path.frame), z)
    unit = path.frame.stiffness / path.frame.length
    return LoadedShape(shares * path.frame.length, x[0], y[0], angle[0], moment[0] * unit)


def states_at(path: EquilibriumPath, factors: ArrayLike) -> EquilibriumPath:
    """The hoop at given load factors, exactly: (k,) for all cases or (cases, k).

    NaN where a case gave way, broke off or ended before that factor.
    """
    wanted = np.asarray(factors, dtype=float)
    cases, _, width = path.unknowns.shape
    wanted = np.broadcast_to(wanted, (cases, wanted.shape[-1]))
    z = np.full((*wanted.shape, width), np.nan)
    for case in range(cases):
        z[case] = _guesses(path, case, wanted[case])
    flat = z.reshape(-1, width)
    there = np.flatnonzero(np.isfinite(flat[:, FACTOR]))
    made, grows, stays = _loads(path)
    rows = there // wanted.shape[1]
    flat[there] = _at_factor(made, grows.some(rows), stays.some(rows), flat[there])
    solved = flat.reshape(z.shape)
    return replace(path, unknowns=solved, factor=solved[:, :, FACTOR])


def _loads(path: EquilibriumPath) -> tuple[Equilibrium, ScaledLoad, ScaledLoad]:
    cases = np.arange(path.factor.shape[0])
    spread = []
    for one, pulls in ((path.growing, 0.0), (path.steady, 1.0)):
        made = scaled_load(path.frame, one, pulls)
        spread.append(made.some(cases if made.pressure.shape[0] > 1 else 0 * cases))
    return equilibrium(path.frame), spread[0], spread[1]


def _fine(
    frame: HoopFrame, made: Equilibrium, z: Array
) -> tuple[Array, Array, Array, Array, Array]:
    """Shares of the arc, and there x, y [m], angle, and moment [EI / L] of each state."""
    count = frame.rule.points.size
    shares, value, integral = fine_reading(frame, FINE_STEPS)
    angle = z[:, :count]
    x = np.cos(angle) @ integral.T * frame.length
    y = np.sin(angle) @ integral.T * frame.length
    shear = made.linear_part(z)[:, :count]
    moment = z[:, FOOT_MOMENT, None] + shear @ integral.T
    return shares, x, y, angle @ value.T, moment


def _sharpest(moment: Array) -> Array:
    """Greatest moment, whatever its sign.

    Inside a panel a parabola through the three nearest places finds the peak; at a panel edge,
    where a point load may make a corner, the value itself is taken.
    """
    size = np.abs(moment)
    top = size.argmax(axis=1)
    row = np.arange(size.shape[0])
    inside = top % FINE_STEPS != 0
    before, after = np.maximum(top - 1, 0), np.minimum(top + 1, size.shape[1] - 1)
    a, b, c = size[row, before], size[row, top], size[row, after]
    bend = a - 2.0 * b + c
    usable = inside & (bend < 0.0)
    shift = np.where(usable, 0.5 * (a - c) / np.where(usable, bend, 1.0), 0.0)
    return np.asarray(b - 0.25 * (a - c) * shift)


def _foot(foot: Foot, push: Array, lift: Array, moment: Array) -> FootForce:
    if foot.spacing > 0.0:
        lower = moment / foot.spacing
    elif foot.turn_weight == 0.0:
        lower = np.zeros_like(moment)
    else:
        lower = np.full_like(moment, np.nan)
    return FootForce(push, lift, moment, lower, push + lower)


def _guesses(path: EquilibriumPath, case: int, wanted: Array) -> Array:
    """Unknowns on the straight line between the path points about each wanted factor."""
    factor, unknowns = path.factor[case], path.unknowns[case]
    used = int(np.isfinite(factor).sum())
    rising = 1 + int(np.argmax(factor[:used])) if used else 0
    factor, unknowns = factor[:rising], unknowns[:rising]
    out = np.full((wanted.size, unknowns.shape[1]), np.nan)
    for index, level in enumerate(wanted):
        if rising == 0 or not factor[0] <= level <= factor[-1]:
            continue
        after = max(1, int(np.searchsorted(factor, level)))
        if rising == 1:
            out[index] = unknowns[0]
            continue
        share = (level - factor[after - 1]) / (factor[after] - factor[after - 1])
        out[index] = unknowns[after - 1] + share * (unknowns[after] - unknowns[after - 1])
        out[index, FACTOR] = level
    return out


def _at_factor(made: Equilibrium, grows: ScaledLoad, stays: ScaledLoad, z: Array) -> Array:
    """Newton's method at held factors; NaN where it does not settle."""
    count = made.rule.points.size
    z = z.copy()
    settled = np.zeros(z.shape[0], dtype=bool)
    for _ in range(12):
        residual, derivative = residual_and_tangent(made, grows, stays, z)
        change = np.linalg.solve(derivative[:, :-1, :-1], residual[:, :, None])[:, :, 0]
        largest = np.abs(change[:, :count]).max(axis=1)
        z[:, :-1] -= change * np.minimum(1.0, 0.3 / np.maximum(largest, 1e-300))[:, None]
        settled = largest < 1e-9
        if settled.all():
            break
    z[~settled] = np.nan
    return z
