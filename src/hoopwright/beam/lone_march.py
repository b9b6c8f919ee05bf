"""All cases of one hoop, one after the other: settled at rest, the steady load laid on, walked."""

from __future__ import annotations

from math import nan
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.chained import CHANGE, PUSHED, read_answer, reduce_hoop
from hoopwright.beam.condensed import LoneHoop, LoneLoad, make_desk
from hoopwright.beam.lone_firmness import softest_of_inverse
from hoopwright.beam.lone_walk import LIMIT, REST, SCALE, STEP, TURN, make_walker, walk
from hoopwright.beam.panels import Array

# Last change of any angle [rad] at rest, as in `follow`, and rounds at most.
SETTLED, MOST_SETTLING = 1e-8, 20
# No points or movements; of numpy's kind, so that one compilation serves all.
NONE: Any = np.int64(0)


class Loads(NamedTuple):
    """Loads of all cases, as `Spread` has them, (cases, points), and their sums, (cases,).

    laid_on: whether there is a steady load, or lines, to be laid on first. limit: (cases,).
    """

    grow_p: Array
    grow_q: Array
    grow_pressure: Array
    grow_total: Array
    stay_p: Array
    stay_q: Array
    stay_pressure: Array
    stay_total: Array
    laid_on: bool
    limit: Array


class Marched(NamedTuple):
    """What came of it, the first axis of all but `at_rest` the cases; see `Path`.

    points: how many each path has. rest: least stiffness at rest, NaN where no balance was found.
    """

    kept: Array
    stiffness: Array
    points: NDArray[np.int64]
    gives_way: Array
    greatest: NDArray[np.bool_]
    unfinished: NDArray[np.bool_]
    mode: Array
    at_rest: Array
    rest: float


def march(
    hoop: LoneHoop,
    start: Array,
    turn: float,
    loads: Loads,
    step: float,
    most_points: int,
    points_beyond: int,
) -> Marched:
    """Follow every case. start: unknowns of the unloaded hoop, roughly; turn: spread of its angles.

    The rest is as in `follow`.
    """
    cases, count, size = loads.limit.size, hoop.weights.size, start.size
    most = most_points + points_beyond + 1
    made = Marched(
        kept=np.full((cases, most, size), nan),
        stiffness=np.full((cases, most), nan),
        points=np.zeros(cases, dtype=np.int64),
        gives_way=np.full(cases, nan),
        greatest=np.zeros(cases, dtype=np.bool_),
        unfinished=np.zeros(cases, dtype=np.bool_),
        mode=np.zeros((cases, count)),
        at_rest=start.copy(),
        rest=nan,
    )
    none = np.zeros(count)
    modes = np.zeros((3, count))
    rest = _settle(hoop, LoneLoad(none, none, none, none, none, none, 0.0, 0.0, False), made, modes)
    w = make_walker(hoop)
    told = np.zeros(5)
    told[REST], told[TURN], told[STEP] = rest, turn, step
    for case in range(cases):
        if rest != rest:
            break
        stay_p, stay_q = loads.stay_p[case], loads.stay_q[case]
        pressure = loads.stay_pressure[case]
        held = bool(np.any(pressure))
        w.z[:], w.modes[:, :] = made.at_rest, modes
        kept, stiffness = made.kept[case], made.stiffness[case]
        fallen = False
        if loads.laid_on:
            laid = LoneLoad(stay_p, stay_q, pressure, none, none, none, 0.0, 1.0, held)
            told[SCALE], told[LIMIT] = rest / loads.stay_total[case], 1.0
            used, reached, _, _ = walk(hoop, laid, told, most_points, NONE, w, kept, stiffness)
            fallen = not reached
            kept[:used, :], stiffness[:used] = nan, nan
            w.z[size - 1] = 0.0
        load = LoneLoad(
            loads.grow_p[case],
            loads.grow_q[case],
            loads.grow_pressure[case],
            stay_p,
            stay_q,
            pressure,
            1.0,
            0.0,
            held or bool(np.any(loads.grow_pressure[case])),
        )
        told[SCALE] = rest / loads.grow_total[case]
        told[LIMIT] = 0.0 if fallen else loads.limit[case]
        points, reached, gives_way, greatest = walk(
            hoop, load, told, most_points, points_beyond, w, kept, stiffness
        )
        made.points[case], made.greatest[case] = points, greatest
        made.gives_way[case] = 0.0 if fallen else gives_way
        made.unfinished[case] = not (fallen or reached or gives_way == gives_way)
        made.mode[case] = w.modes[0]
    return Marched(
        made.kept,
        made.stiffness,
        made.points,
        made.gives_way,
        made.greatest,
        made.unfinished,
        made.mode,
        made.at_rest,
        rest,
    )


def _settle(hoop: LoneHoop, nothing: LoneLoad, made: Marched, modes: Array) -> float:
    """Bring `made.at_rest` into exact balance; least stiffness there, softest movements to `modes`.

    NaN where no balance is found.
    """
    count, z = hoop.weights.size, made.at_rest
    desk = make_desk(hoop.half.size, hoop.place.size, count, hoop.tied_at.size)
    control, answer = np.zeros(z.size), np.zeros(z.size)
    control[z.size - 1] = 1.0
    pushes = np.eye(count)
    movements, settled = 0, False
    for _ in range(MOST_SETTLING):
        reduce_hoop(hoop, nothing, z, control, 0.0, pushes, movements, desk)
        if settled:
            break
        read_answer(hoop, desk, CHANGE, answer)
        change = 0.0
        for m in range(z.size - 1):
            z[m] -= answer[m]
        for m in range(count):
            change = max(change, abs(answer[m]))
        if change < SETTLED:
            # Once more, with a push at each point.
            movements, settled = count, True
    if not settled:
        return nan
    inverse = np.zeros((count, count))
    for push in range(count):
        read_answer(hoop, desk, PUSHED + push, answer)
        inverse[push] = answer[:count]
    return softest_of_inverse(hoop.weights, inverse, modes)
