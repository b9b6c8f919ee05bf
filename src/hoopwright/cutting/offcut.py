"""One long offcut is worth more than many short ones: move pieces until the longest is longer."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.cutting.greedy import Filled, total
from hoopwright.cutting.patterns import Family, ladder, worthiest

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
