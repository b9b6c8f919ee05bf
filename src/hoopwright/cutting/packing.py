"""Whether given sticks hold given pieces, and how: the part that is all or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cutting.greedy import Filled
from hoopwright.cutting.patterns import Family, all_worth, ladder, worthiest
from hoopwright.cutting.solver import Row, whole_programme
from hoopwright.cutting.stock import Effort


@dataclass(frozen=True)
class Packed:
    """The sticks filled, or None; and whether it is certain that there is no way."""

    filled: list[Filled] | None
    impossible: bool = False


def pack(
    sizes: Sequence[int],
    demand: Sequence[int],
    capacities: Sequence[int],
    counts: Sequence[int],
    fractions: Sequence[tuple[int, tuple[int, ...], float]],
    effort: Effort,
) -> Packed:
    """Cut all pieces from exactly these sticks (`counts` of each stock), if it can be done.

    `fractions` are patterns with how often a linear programme would cut each; their whole
    parts are kept and the rest is settled by an integer programme, keeping less and less.
    """
    slack = _length(counts, capacities) - _length(demand, sizes)
    if slack < 0:
        return Packed(None, impossible=True)
    filled = fill_tightly(sizes, demand, capacities, counts)
    if filled is not None:
        return Packed(filled)
    tried: set[tuple[int, ...]] = set()
    for keep in (1.0, 0.7, 0.4, 0.0):
        kept = [(s, pattern, int(keep * (often + 1e-6))) for s, pattern, often in fractions]
        rest, sticks = _rest(demand, counts, kept)
        if tuple(rest) in tried:
            continue
        tried.add(tuple(rest))
        tail = _settle(sizes, rest, capacities, sticks, effort)
        if tail.filled is not None:
            head = [(s, pattern) for s, pattern, n in kept for _ in range(n)]
            return Packed(_without_surplus(head + tail.filled, demand))
        if tail.impossible and rest == list(demand) and sticks == list(counts):
            return tail
    return Packed(None)


def fill_tightly(
    sizes: Sequence[int],
    demand: Sequence[int],
    capacities: Sequence[int],
    counts: Sequence[int],
) -> list[Filled] | None:
    """Fill stick after stick as full as it goes, shortest first, larger pieces preferred."""
    kinds = range(len(sizes))[::-1]
    for favour in (0, 1, 2):
        left = list(demand)
        filled: list[Filled] = []
        worths = [size * 1000 + size * 1000 * favour * size // (20 * max(sizes)) for size in sizes]
        for s in sorted(range(len(capacities)), key=lambda s: (capacities[s], s)):
            for _ in range(counts[s]):
                family = Family(
                    tuple(i for i in kinds if left[i]),
                    tuple(sizes[i] for i in kinds if left[i]),
                    tuple(left[i] for i in kinds if left[i]),
                )
                steps = ladder(family, worths, capacities[s])
                pattern = worthiest(steps, len(family.kinds), capacities[s], len(sizes))
                left = [a - b for a, b in zip(left, pattern, strict=True)]
                filled.append((s, pattern))
        if not any(left):
            return filled
    return None


def _length(counts: Sequence[int], sizes: Sequence[int]) -> int:
    return sum(n * size for n, size in zip(counts, sizes, strict=True))


def _rest(
    demand: Sequence[int],
    counts: Sequence[int],
    kept: Sequence[tuple[int, tuple[int, ...], int]],
) -> tuple[list[int], list[int]]:
    """Pieces and sticks that the kept patterns leave over."""
    rest, sticks = list(demand), list(counts)
    for s, pattern, n in kept:
        sticks[s] -= n
        rest = [max(0, a - n * b) for a, b in zip(rest, pattern, strict=True)]
    return rest, sticks


def _settle(
    sizes: Sequence[int],
    demand: Sequence[int],
    capacities: Sequence[int],
    counts: Sequence[int],
    effort: Effort,
) -> Packed:
    """An integer programme over every pattern that these sticks have the slack for.

    What is left of any one stick cannot be more than what is left of all, so patterns that
    waste more are out. Shortages are allowed at the price of their length; no shortage, no
    price.
    """
    slack = _length(counts, capacities) - _length(demand, sizes)
    if slack < 0:
        return Packed(None, impossible=True)
    wanted = [i for i in range(len(sizes) - 1, -1, -1) if demand[i]]
    if not wanted:
        return Packed([])
    family = Family(
        tuple(wanted), tuple(sizes[i] for i in wanted), tuple(demand[i] for i in wanted)
    )
    steps = ladder(family, list(sizes), max(capacities))
    columns: list[Filled] = []
    for s, capacity in enumerate(capacities):
        if not counts[s]:
            continue
        patterns = all_worth(
            steps, len(wanted), capacity, max(0, capacity - slack), demand, effort.patterns
        )
        if patterns is None or len(columns) + len(patterns) > effort.patterns:
            return Packed(None)
        columns += [(s, tuple(int(n) for n in pattern)) for pattern in patterns]
    rows: list[Row] = []
    for at, i in enumerate(wanted):
        entries = [(j, float(p[i])) for j, (_, p) in enumerate(columns) if p[i]]
        rows.append(([*entries, (len(columns) + at, 1.0)], float(demand[i]), None))
    for s in range(len(capacities)):
        own = [(j, 1.0) for j, (t, _) in enumerate(columns) if t == s]
        if own:
            rows.append((own, None, float(counts[s])))
    scale = max(sizes)
    answer = whole_programme(
        costs=[0.0] * len(columns) + [sizes[i] / scale for i in wanted],
        upper=[float(counts[s]) for s, _ in columns] + [float(demand[i]) for i in wanted],
        whole=[True] * (len(columns) + len(wanted)),
        rows=rows,
        nodes=effort.nodes,
        target=0.5 * min(sizes) / scale,
        near=0.5 * min(sizes) / scale,
    )
    if answer.values is None:
        return Packed(None)
    taken = [round(value) for value in answer.values]
    if any(taken[len(columns) :]):
        return Packed(None, impossible=answer.bound > 0.25 * min(sizes) / scale)
    filled = [column for column, n in zip(columns, taken, strict=False) for _ in range(n)]
    spare = [(s, (0,) * len(sizes)) for s in range(len(capacities)) for _ in range(counts[s])]
    for s, _ in filled:
        spare.remove((s, (0,) * len(sizes)))
    return Packed(_without_surplus(filled + spare, demand))


def _without_surplus(filled: list[Filled], demand: Sequence[int]) -> list[Filled]:
    """Drop pieces cut beyond what is wanted."""
    left = list(demand)
    kept: list[Filled] = []
    for s, pattern in filled:
        taken = tuple(min(a, b) for a, b in zip(pattern, left, strict=True))
        left = [a - b for a, b in zip(left, taken, strict=True)]
        kept.append((s, taken))
    return kept
