"""`follow`, compiled: the same path of one hoop by a machine-code walk, for searches and servers.

The first call of a process starts the compiler (about a second; a minute where nothing is kept
from before), so a command that follows one plan is quicker with `follow`. Nothing is compiled by
importing this. The interpreter is released while it runs, so threads do not wait for each other.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.beam.balance import FACTOR, Spread, spread_load
from hoopwright.beam.chained import read_answer, reduce_hoop
from hoopwright.beam.condensed import LoneHoop
from hoopwright.beam.follow import Path, every_case, total_load
from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.lines import TiedLines, tied_lines
from hoopwright.beam.load import Load, load
from hoopwright.beam.lone_firmness import least_stiffness_of, orthonormal_rows
from hoopwright.beam.lone_march import Loads, Marched, march
from hoopwright.beam.lone_walk import correct, walk
from hoopwright.beam.panels import Array, gauss_rule
from hoopwright.compiling import machine_code


def follow_compiled(
    frame: HoopFrame,
    growing: Load,
    steady: Load | None = None,
    factor_limit: ArrayLike = np.inf,
    step: float = 1.0,
    most_points: int = 60,
    points_beyond: int = 0,
) -> Path:
    """`follow` in machine code: same arguments, same path to about 1e-8.

    Cases are taken one after the other, so a batch saves nothing but the call.
    """
    return _followed(
        _compiled_march(), frame, growing, steady, factor_limit, step, most_points, points_beyond
    )


def follow_plainly(
    frame: HoopFrame,
    growing: Load,
    steady: Load | None = None,
    factor_limit: ArrayLike = np.inf,
    step: float = 1.0,
    most_points: int = 60,
    points_beyond: int = 0,
) -> Path:
    """`follow_compiled` by the same source uncompiled, hundreds of times slower: for its tests."""
    return _followed(march, frame, growing, steady, factor_limit, step, most_points, points_beyond)


@cache
def _compiled_march() -> Any:
    apart = walk, correct, reduce_hoop, read_answer, least_stiffness_of, orthonormal_rows
    return machine_code(march, apart)


def _followed(
    way: Any,
    frame: HoopFrame,
    growing: Load,
    steady: Load | None,
    factor_limit: ArrayLike,
    step: float,
    most_points: int,
    points_beyond: int,
) -> Path:
    still = load(frame) if steady is None else steady
    cases = max(growing.cases, still.cases)
    grows = every_case(spread_load(frame, growing, 0.0), cases)
    stays = every_case(spread_load(frame, still, 1.0), cases)
    loads = Loads(
        *_of(grows, total_load(frame, growing, cases)),
        *_of(stays, total_load(frame, still, cases)),
        steady is not None or bool(frame.lines),
        np.zeros(cases) + np.asarray(factor_limit, dtype=float),
    )
    weights = frame.rule.weights
    turn = float(np.sqrt(weights @ (frame.angle - weights @ frame.angle) ** 2))
    start = np.append(frame.start, 0.0)
    made: Marched = way(
        lone_hoop(frame), start, turn, loads, float(step), most_points, points_beyond
    )
    if not np.isfinite(made.rest):
        raise ValueError("the unloaded hoop could not be brought into balance")
    used = int(made.points.max())
    return Path(
        frame=frame,
        growing=growing,
        steady=still,
        at_rest=made.at_rest,
        unknowns=made.kept[:, :used],
        factor=made.kept[:, :used, FACTOR],
        firmness=made.stiffness[:, :used] / made.rest,
        gives_way=made.gives_way,
        by_greatest_load=made.greatest,
        mode=made.mode,
        unfinished=made.unfinished,
    )


def _of(spread: Spread, total: Array) -> tuple[Array, Array, Array, Array]:
    return spread.running_p, spread.running_q, spread.pressure, total


def lone_hoop(frame: HoopFrame) -> LoneHoop:
    """The constant parts of a frame's equations as the compiled walk takes them."""
    rule = frame.rule
    place, weight, once, half, integrals = _integrals(tuple(rule.edges.tolist()), rule.points_each)
    left, right = frame.left, frame.right
    first, last = frame.natural_ends
    feet = [
        [left.moment_weight, -left.turn_weight, left.upright],
        [right.moment_weight, right.turn_weight, right.upright - last + first],
    ]
    lines = tied_lines(frame) if frame.lines else _no_lines()
    return LoneHoop(
        place=place,
        weight=weight,
        once=once,
        half=half,
        integrals=integrals,
        weights=rule.weights,
        bent=frame.natural - first,
        feet=np.array(feet, dtype=float),
        chord=np.array([frame.chord_x, frame.chord_y]) / frame.length,
        slack=float(frame.axial_slack),
        tied_at=np.array([frame.station(line.share) for line in frame.lines], dtype=np.int64),
        anchors=lines.anchors,
        line_stiffness=lines.stiffness,
        own_pull=lines.own,
        line_rest=lines.rest,
    )


@lru_cache(maxsize=64)
def _integrals(edges: tuple[float, ...], each: int) -> tuple[Array, Array, Array, Array, Array]:
    """Places, weights and running integral on a panel of unit half width; half widths; and
    integrals as `LoneHoop` has them."""
    points, weight, _, once = gauss_rule(each)
    half = np.diff(np.array(edges)) / 2.0
    unit = np.vstack([once @ once, weight @ once, np.zeros(each)])
    integrals = half[:, None, None] ** 2 * unit
    integrals[:, -1] = half[:, None] * weight
    return points + 1.0, weight, np.ascontiguousarray(once), half, integrals


@cache
def _no_lines() -> TiedLines:
    none = np.zeros(0)
    return TiedLines(np.zeros((0, 0)), np.zeros((0, 0)), np.zeros((0, 2)), none, none, none)
