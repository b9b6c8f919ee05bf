"""Following a hoop as its load grows, to where it sways aside or snaps through.

The path of each load case is followed by its own length, not by its load (Riks 1979, Crisfield
1981, from memory), so it passes a greatest load. At every point the least stiffness of the hoop is
found: the least eigenvalue of the tangent among movements that keep both feet where they are. Where
it falls to zero the hoop gives way: at a greatest load, or by branching aside at a load that could
still grow. All cases go in step as one batch.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.beam.balance import FACTOR, Balance, Spread, balance, out_of_balance, spread_load
from hoopwright.beam.firmness import softest_movements
from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.load import Load, load
from hoopwright.beam.panels import Array
from hoopwright.beam.walk import Walk

Flags = NDArray[np.bool_]
MODES = 3


@dataclass(frozen=True)
class Path:
    """Each case's path, arrays (cases, points), NaN past the end of a case.

    at_rest: (n,), unknowns: (cases, points, n), as `balance` has them. factor: load factor.
    firmness: least stiffness over that of the unloaded hoop without lines [-]; 0 at giving way.
    gives_way: load factor at which the hoop gives way, NaN where it did not within the path.
    by_greatest_load: True where that is a greatest load, False where it branches aside.
    mode: (cases, angles) turn of the pipe as it gives way. unfinished: True where the path ends
    neither at its limit nor at giving way: no balance was found beyond its last point, or it had as
    many points as allowed. Where the steady load alone is too much, gives_way is 0.
    """

    frame: HoopFrame
    growing: Load
    steady: Load
    at_rest: Array
    unknowns: Array
    factor: Array
    firmness: Array
    gives_way: Array
    by_greatest_load: Flags
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
) -> Path:
    """Follow every case of `growing` from factor 0 until it gives way or reaches its limit.

    steady: load that is there from the start (weight, film), one or one a case. factor_limit: where
    to stop, one or one a case. step: size of the steps of path, 1 gives some 10 to 25 of them.
    points_beyond: points to follow past a greatest load. A point of the path is in balance to about
    1e-8; between points, interpolate.
    """
    made = balance(frame)
    still = load(frame) if steady is None else steady
    cases = max(growing.cases, still.cases)
    weights = frame.rule.weights
    first = np.append(frame.start, 0.0)[None]
    nothing = spread_load(frame, load(frame), 0.0)
    first, derivative = _settle(made, nothing, first)
    rest, modes = softest_movements(derivative, weights, MODES)

    z = np.repeat(first, cases, axis=0)
    all_modes = np.repeat(modes[None], cases, axis=0)
    limit = np.broadcast_to(np.asarray(factor_limit, dtype=float), (cases,)).copy()
    grows = _every(spread_load(frame, growing, 0.0), cases)
    stays = _every(spread_load(frame, still, 1.0), cases)
    fallen = np.zeros(cases, dtype=bool)
    if steady is not None or frame.lines:
        # The steady load is laid on as a path of its own, from none to all of it.
        ramp = Walk(made, stays, _every(nothing, cases), rest / _total(frame, still, cases), rest)
        ramp.start(z, all_modes, np.ones(cases))
        ramp.go(step, most_points, 0)
        fallen = ~ramp.reached
        z, all_modes = ramp.z.copy(), ramp.modes
        z[:, FACTOR] = 0.0
    walk = Walk(made, grows, stays, rest / _total(frame, growing, cases), rest)
    walk.start(z, all_modes, np.where(fallen, 0.0, limit))
    walk.go(step, most_points, points_beyond)
    return Path(
        frame=frame,
        growing=growing,
        steady=still,
        at_rest=first[0],
        unknowns=walk.kept,
        factor=walk.kept[:, :, FACTOR],
        firmness=walk.kept_stiffness / rest,
        gives_way=np.where(fallen, 0.0, walk.gives_way),
        by_greatest_load=walk.greatest,
        mode=walk.modes[:, :, 0],
        unfinished=~(fallen | walk.reached | np.isfinite(walk.gives_way)),
    )


def _total(frame: HoopFrame, loads: Load, cases: int) -> Array:
    """Sum of each case's load at factor 1, whatever its direction [EI / L^2]."""
    weights = frame.rule.weights * frame.length
    spread = np.sqrt(loads.down**2 + loads.across**2 + loads.pressure**2) @ weights
    points = np.hypot(loads.point_down, loads.point_across)[..., 1:-1].sum(axis=-1)
    total = np.broadcast_to(spread + points, (cases,)) * frame.length**2 / frame.stiffness
    return np.maximum(total, 1e-12)


def _every(one: Spread, cases: int) -> Spread:
    """The same load for every case, where only one is given."""
    return one.some(np.zeros(cases, dtype=np.int64)) if one.pressure.shape[0] == 1 else one


def _settle(made: Balance, nothing: Spread, z: Array) -> tuple[Array, Array]:
    """Newton's method at no load, to bring a sampled curve into exact balance."""
    for _ in range(20):
        residual, derivative = out_of_balance(made, nothing, nothing, z)
        change = np.linalg.solve(derivative[0, :-1, :-1], residual[0])
        z = z.copy()
        z[0, :-1] -= change
        if np.max(np.abs(change[: made.frame.rule.points.size])) < 1e-11:
            return z, derivative[0, :-1, :-1]
    raise ValueError("the unloaded hoop could not be brought into balance")
