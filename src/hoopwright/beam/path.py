"""Equilibrium paths of a hoop as its load grows, to where it sways aside or snaps through.

The path of each load case is followed by its own length, not by its load (Riks 1979, Crisfield
1981, from memory), so it passes a greatest load. At every point the least stiffness of the hoop is
found: the least eigenvalue of the tangent among movements that keep both feet where they are. Where
it falls to zero the hoop gives way: at a greatest load, or by branching aside at a load that could
still grow. All cases go in step as one batch.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.beam.continuation import Continuation, softest_movements
from hoopwright.beam.equilibrium import (
    FACTOR,
    Equilibrium,
    ScaledLoad,
    concatenated,
    equilibrium,
    residual_and_tangent,
    scaled_load,
    side_by_side,
)
from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.load import Load, load
from hoopwright.beam.panels import Array
from hoopwright.frozen import Keeping, dataclass

Flags = NDArray[np.bool_]
MODES = 3
# Last change of any angle [rad] when the unloaded curve is brought into equilibrium.
SETTLED = 1e-8


@dataclass(frozen=True)
class EquilibriumPath(Keeping):
    """Each case's path, arrays (cases, points), NaN past the end of a case.

    at_rest: (n,), unknowns: (cases, points, n), as `equilibrium` has them. factor: load factor.
    critical_factor: load factor of the critical point, where the hoop gives way, NaN where the path
    has none.
    at_limit_point: True where that is a limit point (a greatest load), False at a bifurcation.
    mode: (cases, angles) turn of the pipe as it gives way. unfinished: True where the path ends
    neither at its limit nor at a critical point: no equilibrium was found beyond its last point, or
    it had as many points as allowed. Where the steady load alone is too much, critical_factor is 0.
    """

    frame: HoopFrame
    growing: Load
    steady: Load
    at_rest: Array
    unknowns: Array
    factor: Array
    critical_factor: Array
    at_limit_point: Flags
    mode: Array
    unfinished: Flags


def follow(
    frame: HoopFrame,
    growing: Load,
    steady: Load | None = None,
    factor_limit: ArrayLike = np.inf,
    step: float = 1.0,
    most_points: int = 60,
    points_beyond: int = 0,
) -> EquilibriumPath:
    """Follow every case of `growing` from factor 0 until it gives way or reaches its limit.

    steady: load that is there from the start (weight, film), one or one a case. factor_limit: where
    to stop, one or one a case. step: size of the steps of path, 1 gives some 10 to 25 of them.
    points_beyond: points to follow past a limit point. A point is in equilibrium to about
    1e-8; between points, interpolate.
    """
    limits = [np.asarray(factor_limit, dtype=float)]
    return follow_designs([frame], [growing], [steady], limits, step, most_points, points_beyond)[0]


def follow_designs(
    frames: list[HoopFrame],
    growing: list[Load],
    steady: list[Load | None],
    factor_limit: list[Array] | float = np.inf,
    step: float = 1.0,
    most_points: int = 60,
    points_beyond: int = 0,
) -> list[EquilibriumPath]:
    """`follow` for several hoops at once, each with its own batch of cases; faster than in turn.

    The frames must have the same breaks and points; hoops with lines go one at a time.
    """
    starts = [_start(*one) for one in zip(frames, growing, steady, strict=True)]
    cases = [one.cases for one in starts]
    made = side_by_side([one.made for one in starts], cases)
    limits = (
        factor_limit if isinstance(factor_limit, list) else [np.array(factor_limit)] * len(frames)
    )
    limit = np.concatenate(
        [np.broadcast_to(each, (count,)) for each, count in zip(limits, cases, strict=True)]
    )
    rest = np.repeat([one.rest for one in starts], cases)
    turn = np.repeat([one.turn for one in starts], cases)
    z = np.repeat(np.stack([one.unknowns for one in starts]), cases, axis=0)
    modes = np.repeat(np.stack([one.modes for one in starts]), cases, axis=0)
    grows, stays = (
        concatenated([one.grows for one in starts]),
        concatenated([one.stays for one in starts]),
    )
    fallen = np.zeros(rest.size, dtype=bool)
    if any(one is not None for one in steady) or made.lines is not None:
        # The steady load is laid on as a path of its own, from none to all of it.
        total = np.concatenate([one.steady_total for one in starts])
        ramp = Continuation(made, stays, stays.none(), rest / total, rest, turn)
        ramp.start(z, modes, np.ones(rest.size))
        ramp.run(step, most_points, 0)
        fallen = ~ramp.reached
        z, modes = ramp.z.copy(), ramp.modes
        z[:, FACTOR] = 0.0
    total = np.concatenate([one.growing_total for one in starts])
    continuation = Continuation(made, grows, stays, rest / total, rest, turn)
    continuation.start(z, modes, np.where(fallen, 0.0, limit))
    continuation.run(step, most_points, points_beyond)
    return _paths(starts, continuation, fallen)


@dataclass(frozen=True)
class _Start:
    """One hoop at rest and its loads, ready to be followed."""

    frame: HoopFrame
    growing: Load
    steady: Load
    cases: int
    made: Equilibrium
    grows: ScaledLoad
    stays: ScaledLoad
    growing_total: Array
    steady_total: Array
    unknowns: Array
    rest: float
    turn: float
    modes: Array


def _start(frame: HoopFrame, growing: Load, steady: Load | None) -> _Start:
    made = equilibrium(frame)
    still = load(frame) if steady is None else steady
    cases = max(growing.cases, still.cases)
    weights = frame.rule.weights
    nothing = scaled_load(frame, load(frame), 0.0)
    first, derivative = _settle(made, nothing, np.append(frame.start, 0.0)[None])
    rest, modes = softest_movements(derivative, weights, MODES)
    return _Start(
        frame=frame,
        growing=growing,
        steady=still,
        cases=cases,
        made=made,
        grows=for_each_case(scaled_load(frame, growing, 0.0), cases),
        stays=for_each_case(scaled_load(frame, still, 1.0), cases),
        growing_total=total_load(frame, growing, cases),
        steady_total=total_load(frame, still, cases),
        unknowns=first[0],
        rest=rest,
        turn=float(np.sqrt(weights @ (frame.angle - weights @ frame.angle) ** 2)),
        modes=modes,
    )


def _paths(
    starts: list[_Start], continuation: Continuation, fallen: Flags
) -> list[EquilibriumPath]:
    """Each hoop's own part of a continuation."""
    critical_factor = np.where(fallen, 0.0, continuation.critical_factor)
    unfinished = ~(fallen | continuation.reached | np.isfinite(continuation.critical_factor))
    paths, first = [], 0
    for one in starts:
        rows = slice(first, first + one.cases)
        first += one.cases
        paths.append(
            EquilibriumPath(
                frame=one.frame,
                growing=one.growing,
                steady=one.steady,
                at_rest=one.unknowns,
                unknowns=continuation.kept[rows],
                factor=continuation.kept[rows, :, FACTOR],
                critical_factor=critical_factor[rows],
                at_limit_point=continuation.at_limit[rows],
                mode=continuation.modes[rows, :, 0],
                unfinished=unfinished[rows],
            )
        )
    return paths


def total_load(frame: HoopFrame, loads: Load, cases: int) -> Array:
    """Sum of each case's load at factor 1, whatever its direction [EI / L^2]."""
    weights = frame.rule.weights * frame.length
    spread = np.sqrt(loads.down**2 + loads.across**2 + loads.pressure**2) @ weights
    points = np.hypot(loads.point_down, loads.point_across)[..., 1:-1].sum(axis=-1)
    total = (spread + points + np.zeros(cases)) * frame.length**2 / frame.stiffness
    return np.asarray(np.maximum(total, 1e-12), dtype=float)


def for_each_case(one: ScaledLoad, cases: int) -> ScaledLoad:
    """The same load for every case, where only one is given."""
    return one.some(np.zeros(cases, dtype=np.int64)) if one.pressure.shape[0] == 1 else one


def _settle(made: Equilibrium, nothing: ScaledLoad, z: Array) -> tuple[Array, Array]:
    """Newton's method at no load, to bring a sampled curve into exact equilibrium."""
    for _ in range(20):
        residual, derivative = residual_and_tangent(made, nothing, nothing, z)
        change = np.linalg.solve(derivative[0, :-1, :-1], residual[0])
        z = z.copy()
        z[0, :-1] -= change
        if np.max(np.abs(change[: made.rule.points.size])) < SETTLED:
            return z, derivative[0, :-1, :-1]
    raise ValueError("the unloaded hoop could not be brought into equilibrium")
