"""Straight pieces cut from sticks of the lengths sold and at hand."""

import math
from collections.abc import Sequence

from hoopwright.cutting.buying import Bought, buy, counted, rank
from hoopwright.cutting.greedy import Filled, StickJob, total
from hoopwright.cutting.patterns import Family, ladder, worthiest
from hoopwright.cutting.stock import (
    CannotCut,
    CutPlan,
    CutStick,
    Piece,
    Stick,
    metres,
    steps_down,
    steps_up,
)

CENTS = 100
"""Prices are compared in whole cents."""


def cut_sticks(pieces: Sequence[Piece], sticks: Sequence[Stick], kerf: float) -> CutPlan:
    """The cheapest way to cut `pieces` from `sticks`, with `kerf` [m] lost at each cut.

    Least cost first; of equal costs the fewest sticks bought (sticks at hand do not count);
    of these the least length of stock cut into. Then the largest single offcut is made as
    long as the search can, which is not proven.
    """
    kinds = _kinds(pieces, sticks, kerf)
    if not kinds:
        return CutPlan((), 0.0, 0.0, True, True, kerf)
    job = _job(kinds, sticks, kerf)
    bought = buy(job)
    if bought.filled is None:
        raise CannotCut(_what_is_short(job, sticks, bought.settled))
    return _plan(job, kinds, sticks, kerf, bought)


def _kinds(pieces: Sequence[Piece], sticks: Sequence[Stick], kerf: float) -> dict[int, list[Piece]]:
    """Pieces by their size in steps with one kerf, longest first, each kind in name order."""
    if not 0.0 <= kerf < math.inf:
        raise CannotCut(f"A kerf of {kerf} m makes no sense. Give 0 or the saw's kerf.")
    for stick in sticks:
        if not (0.0 < stick.length < math.inf and 0.0 <= stick.price < math.inf):
            raise CannotCut(
                f"Stick '{stick.name}' needs a length above 0 and a price of 0 or more."
            )
    saw = steps_up(kerf)
    longest = max((steps_down(s.length) for s in sticks if s.available != 0), default=0)
    kinds: dict[int, list[Piece]] = {}
    for piece in sorted(pieces, key=lambda p: (p.name, p.length)):
        if not 0.0 < piece.length < math.inf:
            raise CannotCut(f"Piece '{piece.name}' has no length. Leave it out or give one.")
        size = steps_up(piece.length)
        if size > longest:
            raise CannotCut(
                f"Piece '{piece.name}' is {piece.length:.4g} m; the longest stick is "
                f"{metres(longest):.4g} m. Use a stick of {piece.length:.4g} m or more, or "
                "join two shorter pieces."
            )
        kinds.setdefault(size + saw, []).append(piece)
    return {size: kinds[size] for size in sorted(kinds, reverse=True)}


def _job(kinds: dict[int, list[Piece]], sticks: Sequence[Stick], kerf: float) -> StickJob:
    saw = steps_up(kerf)
    return StickJob(
        sizes=tuple(kinds),
        demand=tuple(len(kind) for kind in kinds.values()),
        capacities=tuple(steps_down(stick.length) + saw for stick in sticks),
        prices=tuple(round(stick.price * CENTS) for stick in sticks),
        available=tuple(stick.available for stick in sticks),
    )


def _what_is_short(job: StickJob, sticks: Sequence[Stick], sure: bool) -> str:
    """Which stick, and how many more of it, would make the job possible."""
    longest = max(range(len(sticks)), key=lambda s: job.capacities[s])
    dear = 1 + sum(job.prices) * max(1, sum(n or 0 for n in job.available))
    wider = StickJob(
        job.sizes,
        job.demand,
        (*job.capacities, job.capacities[longest]),
        (*job.prices, dear),
        (*job.available, None),
    )
    found = buy(wider).filled or []
    more = sum(1 for s, _ in found if s == len(sticks))
    start = "There are too few sticks" if sure else "No plan was found with these sticks"
    return f"{start}: {more} more of '{sticks[longest].name}' would do."


def _plan(
    job: StickJob,
    kinds: dict[int, list[Piece]],
    sticks: Sequence[Stick],
    kerf: float,
    bought: Bought,
) -> CutPlan:
    filled = gather(job.sizes, job.capacities, bought.filled or [])
    saw = steps_up(kerf)
    waiting = [list(reversed(kind)) for kind in kinds.values()]
    cuts: list[CutStick] = []
    for s, counts in sorted(filled, key=lambda one: (one[0], [-n for n in one[1]])):
        cut = tuple(waiting[i].pop() for i, n in enumerate(counts) for _ in range(n))
        left = max(0, job.capacities[s] - saw - total(counts, job.sizes))
        cuts.append(CutStick(sticks[s], cut, metres(left)))
    own = rank(job, counted(job, filled))
    cost = own[0] / CENTS
    proven = bought.bound[0] >= own[0]
    bound = cost if proven else bought.bound[0] / CENTS
    return CutPlan(tuple(cuts), cost, bound, proven, bought.settled, kerf)


_KEEPERS = 3
_CELLS = 8192


def gather(sizes: Sequence[int], capacities: Sequence[int], filled: list[Filled]) -> list[Filled]:
    """The same sticks and pieces with the longest offcut made longer where it can be.

    Each of the emptiest few sticks in turn gives up pieces to every other: of the pieces of
    both, the other is filled as full as it goes. A stick that comes out empty is not cut at
    all. This finds a long offcut, not provably the longest there is.
    """
    if len(filled) < 2:
        return filled
    best, longest = filled, max(_left(sizes, capacities, one) for one in filled)
    order = sorted(
        range(len(filled)), key=lambda j: (-_left(sizes, capacities, filled[j]), filled[j], j)
    )
    for keeper in order[:_KEEPERS]:
        moved = _give_up(sizes, capacities, list(filled), keeper)
        left = _left(sizes, capacities, moved[keeper])
        if left > longest:
            best, longest = moved, left
    return [one for one in best if any(one[1])]


def _left(sizes: Sequence[int], capacities: Sequence[int], one: Filled) -> int:
    return capacities[one[0]] - total(one[1], sizes)


def _give_up(
    sizes: Sequence[int], capacities: Sequence[int], filled: list[Filled], keeper: int
) -> list[Filled]:
    changed = True
    while changed:
        changed = False
        for j in range(len(filled)):
            if j == keeper or not _left(sizes, capacities, filled[j]):
                continue
            both = [a + b for a, b in zip(filled[keeper][1], filled[j][1], strict=True)]
            fuller = _fullest(sizes, both, capacities[filled[j][0]])
            old = total(filled[j][1], sizes)
            if total(fuller, sizes) > old:
                filled[j] = (filled[j][0], fuller)
                rest = tuple(a - b for a, b in zip(both, fuller, strict=True))
                filled[keeper] = (filled[keeper][0], rest)
                changed = True
    return filled


def _fullest(sizes: Sequence[int], counts: Sequence[int], capacity: int) -> tuple[int, ...]:
    # Sizes are rounded up to coarser steps where the steps are many: what fits so, fits.
    cell = max(1, capacity // _CELLS)
    kinds = [i for i in range(len(sizes) - 1, -1, -1) if counts[i]]
    family = Family(
        tuple(kinds),
        tuple(-(-sizes[i] // cell) for i in kinds),
        tuple(counts[i] for i in kinds),
    )
    steps = ladder(family, sizes, capacity // cell)
    return worthiest(steps, len(kinds), capacity // cell, len(sizes))
