"""The walk of `walk`, for one case at a time: the same steps, guesses, rounds and stopping.

Constants are those of `walk`. Plain source; `compiled` makes machine code of it.
"""

from __future__ import annotations

from math import isnan, nan, sqrt
from typing import NamedTuple

import numpy as np

from hoopwright.beam.chained import CHANGE, PUSHED, TANGENT, read_answer, reduce_hoop
from hoopwright.beam.condensed import Desk, LoneHoop, LoneLoad, make_desk
from hoopwright.beam.lone_firmness import least_stiffness_of
from hoopwright.beam.panels import Array
from hoopwright.beam.walk import (
    CARRIED,
    CLOSING_ROUNDS,
    LAST_CHANGE,
    LAST_STIFFNESS,
    LEAST_AGREEMENT,
    LEVEL,
    LONGEST_STEP,
    MOST_ROUNDS,
    NEAR_ENOUGH,
    SHORTEST_STEP,
    STEP_LOAD,
    STEP_TURN,
    SURE_STEP,
)

# Next step over this one, by Newton rounds, as in `walk`.
EASES = (1.5, 1.5, 1.5, 1.25, 1.0, 0.6)
# What a walk is told: load factor that weighs as much as the stiffness at rest, that stiffness, the
# spread of the pipe's own angles, the limit and the step.
SCALE, REST, TURN, LIMIT, STEP = range(5)


class Walker(NamedTuple):
    """The state of one walk, all written over as it goes.

    z, tangent, curving, modes: the last point, its direction of path and how that bends, movements
    tried. guess, found, onward, better: the point being sought and what Newton's method finds.
    metric: weighs a length of path. moved, small: for the least stiffness.
    """

    desk: Desk
    z: Array
    tangent: Array
    curving: Array
    modes: Array
    guess: Array
    found: Array
    onward: Array
    better: Array
    metric: Array
    control: Array
    answer: Array
    moved: Array
    small: Array


def make_walker(hoop: LoneHoop) -> Walker:
    """Room for walks of one hoop."""
    count = hoop.weights.size
    return Walker(
        desk=make_desk(hoop.half.size, hoop.place.size, 3, hoop.tied_at.size),
        z=np.zeros(count + 5),
        tangent=np.zeros(count + 5),
        curving=np.zeros(count + 5),
        modes=np.zeros((3, count)),
        guess=np.zeros(count + 5),
        found=np.zeros(count + 5),
        onward=np.zeros(count + 5),
        better=np.zeros((3, count)),
        metric=np.zeros(count + 5),
        control=np.zeros(count + 5),
        answer=np.zeros(count + 5),
        moved=np.zeros((3, count)),
        small=np.zeros((3, 3)),
    )


def correct(hoop: LoneHoop, load: LoneLoad, turn: float, w: Walker) -> tuple[bool, int, float]:
    """Newton's method from `w.guess` with `w.control` held: whether it settled, rounds, stiffness.

    Into w.found, w.onward (the tangent), w.better.
    """
    count, size = hoop.weights.size, w.z.size
    first = True
    for m in range(size):
        first = first and w.guess[m] == w.z[m]
        w.found[m] = w.guess[m]
    for rounds in range(1, MOST_ROUNDS + 1):
        # The first round of a step is hardly ever its last: it needs only its own answer.
        early = rounds == 1 and not first
        miss = 0.0
        for m in range(size):
            miss += w.control[m] * (w.found[m] - w.guess[m])
        movements = 0 if early else 3
        reduce_hoop(hoop, load, w.found, w.control, miss, w.modes, movements, w.desk)
        read_answer(hoop, w.desk, CHANGE, w.answer)
        change = 0.0
        for m in range(size):
            w.found[m] -= w.answer[m]
        for m in range(count):
            change = max(change, abs(w.answer[m]))
        if not change < 1.0:
            return False, rounds, nan
        if not early and change < LAST_CHANGE * turn:
            return True, rounds, _read_stiffness(hoop, w)
    return False, MOST_ROUNDS, nan


def _read_stiffness(hoop: LoneHoop, w: Walker) -> float:
    """Tangent, and least stiffness at constant load, from a solve that held the path's length."""
    count = hoop.weights.size
    read_answer(hoop, w.desk, TANGENT, w.onward)
    rate = w.onward[count + 4]
    rate = rate if abs(rate) > 1e-300 else 1e-300
    for movement in range(3):
        read_answer(hoop, w.desk, PUSHED + movement, w.answer)
        share = w.answer[count + 4] / rate
        for m in range(count):
            w.moved[movement, m] = w.answer[m] - share * w.onward[m]
    return least_stiffness_of(hoop.weights, w.modes, w.moved, w.better, w.small)


def _copy(of: Array, to: Array) -> None:
    for m in range(of.size):
        to[m] = of[m]


def _take_movements(w: Walker) -> None:
    for movement in range(3):
        _copy(w.better[movement], w.modes[movement])


def _weighed(w: Walker, one: Array, other: Array) -> float:
    total = 0.0
    for m in range(w.metric.size):
        total += w.metric[m] * one[m] * other[m]
    return total


def _unit(w: Walker, one: Array) -> None:
    size = _weighed(w, one, one)
    if size > 0.0:
        over = 1.0 / sqrt(size)
        for m in range(one.size):
            one[m] *= over


def _weigh(scale: float, w: Walker) -> None:
    """Measure the path ahead by the load now carried."""
    last = w.z.size - 1
    w.metric[last] = 1.0 / (STEP_LOAD * max(scale, CARRIED * abs(w.z[last]))) ** 2
    size = sqrt(_weighed(w, w.tangent, w.tangent))
    over = 1.0 / size if size > 0.0 else 1.0
    for m in range(w.z.size):
        w.tangent[m] *= over
        w.curving[m] *= over * over


def _ahead(w: Walker, length: float) -> None:
    """A guess some length further on, along the parabola through the last two directions."""
    for m in range(w.z.size):
        w.guess[m] = w.z[m] + length * (w.tangent[m] + 0.5 * length * w.curving[m])


def _hold_path(w: Walker) -> None:
    for m in range(w.z.size):
        w.control[m] = w.metric[m] * w.tangent[m]


def _hold_factor(w: Walker) -> None:
    w.control[:] = 0.0
    w.control[w.z.size - 1] = 1.0


def walk(
    hoop: LoneHoop,
    load: LoneLoad,
    told: Array,
    most_points: int,
    points_beyond: int,
    w: Walker,
    kept: Array,
    kept_stiffness: Array,
) -> tuple[int, bool, float, bool]:
    """Walk from `w.z`, in balance, with `w.modes`; the points go to `kept`, (points, n).

    Returns the number of points, whether the limit was reached, the factor at which the hoop gives
    way (NaN where it does not), and whether that is a greatest load.
    """
    size, limit, longest = w.z.size, told[LIMIT], LONGEST_STEP * told[STEP]
    stiffness = _set_out(hoop, load, told, w)
    _copy(w.z, kept[0])
    kept_stiffness[0] = stiffness
    points, length, beyond, gives_way, greatest = 1, told[STEP], 0, nan, False
    if limit <= 0.0:
        return points, True, gives_way, greatest
    while points < (kept.shape[0] if beyond > 0 else most_points):
        _weigh(told[SCALE], w)
        step, last = _aim(length, limit, w)
        good, rounds, found, agreement = _seek(hoop, load, told[TURN], step, w)
        if not good:
            length = 0.35 * step
            if length < SHORTEST_STEP:
                break
            continue
        if found < 0.0 and isnan(gives_way):
            closed, near = _close_in(hoop, load, told, step, stiffness, found, w)
            if not closed:
                # The stiffness leaps: another path, or a line that goes slack; see `walk`.
                length = 0.35 * step
                if length < SHORTEST_STEP:
                    gives_way = w.z[size - 1]
                    break
                continue
            gives_way, greatest = _give_way(stiffness, near, w)
            stiffness = near
            _copy(w.z, kept[points])
            kept_stiffness[points] = stiffness
            points += 1
            if not (greatest and points_beyond > 0):
                break
            beyond = points_beyond
            continue
        _move_on(w, agreement, step)
        stiffness = found
        _copy(w.z, kept[points])
        kept_stiffness[points] = stiffness
        points += 1
        length = min(length * EASES[min(rounds, 5)], longest)
        if last:
            return points, True, gives_way, greatest
        if beyond > 0:
            beyond -= 1
            if beyond == 0:
                break
    return points, False, gives_way, greatest


def _set_out(hoop: LoneHoop, load: LoneLoad, told: Array, w: Walker) -> float:
    """Metric, tangent and stiffness where a walk starts."""
    size, count = w.z.size, hoop.weights.size
    for m in range(count):
        w.metric[m] = hoop.weights[m] / (STEP_TURN * told[TURN]) ** 2
    w.metric[size - 1] = 1.0 / (STEP_LOAD * told[SCALE]) ** 2
    w.curving[:] = 0.0
    w.onward[:] = 0.0
    _copy(w.z, w.guess)
    _hold_factor(w)
    _, _, stiffness = correct(hoop, load, told[TURN], w)
    _unit(w, w.onward)
    _copy(w.onward, w.tangent)
    return stiffness


def _aim(length: float, limit: float, w: Walker) -> tuple[float, bool]:
    """Set guess and control for the next point; the step's length, and whether it is the last."""
    size = w.z.size
    left, rate = limit - w.z[size - 1], w.tangent[size - 1]
    last = rate > 0.0 and left / rate <= length
    step = left / rate if last else length
    _ahead(w, step)
    if last:
        _hold_factor(w)
        w.guess[size - 1] = limit
    else:
        _hold_path(w)
    return step, last


def _seek(
    hoop: LoneHoop, load: LoneLoad, turn: float, step: float, w: Walker
) -> tuple[bool, int, float, float]:
    """`correct`, with the cosine between the directions of path before and after."""
    good, rounds, stiffness = correct(hoop, load, turn, w)
    if not good:
        return False, rounds, stiffness, 0.0
    _unit(w, w.onward)
    agreement = _weighed(w, w.onward, w.tangent)
    # A sharp bend of path at once is most likely a leap to another path.
    sure = abs(agreement) > LEAST_AGREEMENT or step < SURE_STEP
    return sure, rounds, stiffness, agreement


def _move_on(w: Walker, agreement: float, step: float) -> None:
    """Take up the point found."""
    sign, over = (1.0 if agreement > 0.0 else -1.0), 1.0 / max(step, 1e-12)
    for m in range(w.z.size):
        onward = sign * w.onward[m]
        w.curving[m] = over * (onward - w.tangent[m])
        w.tangent[m] = onward
        w.z[m] = w.found[m]
    _take_movements(w)


def _close_in(
    hoop: LoneHoop,
    load: LoneLoad,
    told: Array,
    length: float,
    before: float,
    too_far: float,
    w: Walker,
) -> tuple[bool, float]:
    """False position (Illinois) on the stiffness between the last point and one too far."""
    aim = LAST_STIFFNESS * told[REST]
    low, high = 0.0, length
    low_value, high_value = max(before - aim, 0.0), too_far - aim
    _hold_path(w)
    for _ in range(CLOSING_ROUNDS):
        middle = low + (high - low) * low_value / (low_value - high_value)
        _ahead(w, middle)
        good, _, stiffness = correct(hoop, load, told[TURN], w)
        value = stiffness - aim
        if not good:
            # The far end comes nearer and keeps its value.
            high = middle
            continue
        _take_movements(w)
        if abs(value) < NEAR_ENOUGH * told[REST]:
            return True, stiffness
        if value > 0.0:
            low, low_value, high_value = middle, value, 0.5 * high_value
        else:
            high, high_value, low_value = middle, value, 0.5 * low_value
    return False, nan


def _give_way(before: float, near: float, w: Walker) -> tuple[float, bool]:
    """Take the point found, of almost no stiffness, as where the hoop gives way; see `walk`."""
    last = w.z.size - 1
    _unit(w, w.onward)
    sign = 1.0 if _weighed(w, w.onward, w.tangent) > 0.0 else -1.0
    share = before / (before - near)
    straight = w.z[last] + share * (w.found[last] - w.z[last])
    for m in range(w.z.size):
        w.tangent[m] = sign * w.onward[m]
        w.curving[m] = 0.0
        w.z[m] = w.found[m]
    greatest = abs(w.tangent[last] * sqrt(w.metric[last])) < LEVEL
    return (w.found[last] if greatest else straight), greatest
