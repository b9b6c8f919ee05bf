"""Which pieces fit side by side: the worthiest patterns, and all that are worth enough.

Everything here is in whole numbers, so 'best' and 'all' are meant to the letter.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class Family:
    """Items that lie side by side in one direction, in the order they are considered.

    An item is a kind of piece, its size in that direction and how many could be wanted. A
    kind may come twice, once each way round.
    """

    kinds: tuple[int, ...]
    sizes: tuple[int, ...]
    most: tuple[int, ...]


@dataclass(frozen=True)
class Staircase:
    """For every number of first items, the best worth within each room (a staircase)."""

    family: Family
    worths: tuple[int, ...]
    rooms: tuple[Whole, ...]
    best: tuple[Whole, ...]

    def worth(self, items: int, room: int) -> int:
        """The most that the first `items` items are worth within `room`."""
        at = int(self.rooms[items].searchsorted(room, side="right")) - 1
        return int(self.best[items][at])


def ladder(family: Family, worth_of_kind: Sequence[int], room: int) -> Staircase:
    """Dynamic programme of the bounded knapsack, kept as staircases (any unit, exact)."""
    worths = tuple(worth_of_kind[kind] for kind in family.kinds)
    rooms = [np.zeros(1, np.int64)]
    best = [np.zeros(1, np.int64)]
    for size, worth, most in zip(family.sizes, worths, family.most, strict=True):
        stair = (rooms[-1], best[-1])
        left = min(most, room // size) if worth > 0 else 0
        part = 1
        while left > 0:
            many = min(part, left)
            stair = _with_more(stair, many * size, many * worth, room)
            left -= many
            part *= 2
        rooms.append(stair[0])
        best.append(stair[1])
    return Staircase(family, worths, tuple(rooms), tuple(best))


def _with_more(stair: tuple[Whole, Whole], size: int, worth: int, room: int) -> tuple[Whole, Whole]:
    """The staircase when one more thing of this size and worth may be taken or left."""
    rooms, best = stair
    keep = int(rooms.searchsorted(room - size, side="right"))
    if keep == 0:
        return stair
    all_rooms = np.concatenate((rooms, rooms[:keep] + size))
    all_best = np.concatenate((best, best[:keep] + worth))
    order = all_rooms.argsort(kind="stable")
    top = np.maximum.accumulate(all_best[order])
    rises = np.empty(len(top), bool)
    rises[0] = True
    np.greater(top[1:], top[:-1], out=rises[1:])
    all_rooms, top = all_rooms[order][rises], top[rises]
    # Of equal rooms the last holds the most.
    last = np.empty(len(top), bool)
    last[-1] = True
    np.not_equal(all_rooms[1:], all_rooms[:-1], out=last[:-1])
    return all_rooms[last], top[last]


def worthiest(steps: Staircase, items: int, room: int, kinds: int) -> tuple[int, ...]:
    """One pattern of the greatest worth; of several, the one with most of the later items."""
    need = steps.worth(items, room)
    counts = [0] * kinds
    for k in range(items - 1, -1, -1):
        size, worth = steps.family.sizes[k], steps.worths[k]
        if worth <= 0:
            continue
        for many in range(min(steps.family.most[k], room // size), -1, -1):
            if steps.worth(k, room - many * size) + many * worth >= need:
                counts[steps.family.kinds[k]] += many
                room -= many * size
                need -= many * worth
                break
    return tuple(counts)


def all_worth(
    steps: Staircase, items: int, room: int, least: int, demand: Sequence[int], limit: int
) -> Whole | None:
    """Every full pattern worth `least` or more, one a row; None when there are over `limit`.

    Full means that nothing wanted fits in what is left: any other pattern is part of one
    that costs the same and is worth no less. Patterns with more of a kind than wanted are
    left out for the same reason.
    """
    if steps.worth(items, room) < least:
        return np.zeros((0, len(demand)), np.int64)
    rooms = np.array([room], np.int64)
    needs = np.array([least], np.int64)
    counts = np.zeros((1, len(demand)), np.int64)
    for k in range(items - 1, -1, -1):
        kind, size, worth = steps.family.kinds[k], steps.family.sizes[k], steps.worths[k]
        most = min(steps.family.most[k], int(rooms.max()) // size) if len(rooms) else 0
        taken: list[tuple[Whole, Whole, Whole]] = []
        total = 0
        for many in range(most + 1):
            left = rooms - many * size
            owed = needs - many * worth
            at = np.searchsorted(steps.rooms[k], left, side="right") - 1
            good = (left >= 0) & (steps.best[k][at] >= owed)
            good &= counts[:, kind] + many <= demand[kind]
            if not good.any():
                continue
            new = counts[good]
            new[:, kind] += many
            taken.append((left[good], owed[good], new))
            total += len(new)
            if total > 4 * limit:
                return None
        if not taken:
            return np.zeros((0, len(demand)), np.int64)
        rooms = np.concatenate([one[0] for one in taken])
        needs = np.concatenate([one[1] for one in taken])
        counts = np.concatenate([one[2] for one in taken])
    full = np.ones(len(rooms), bool)
    for k in range(items):
        kind, size = steps.family.kinds[k], steps.family.sizes[k]
        full &= (rooms < size) | (counts[:, kind] >= demand[kind])
    counts = counts[full]
    return None if len(counts) > limit else counts
