"""Whether given sticks hold given pieces, and how: the part that is all or nothing."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hoopwright.cutting.greedy import Filled, StickJob, total
from hoopwright.cutting.patterns import Family, Whole, all_worth, ladder, worthiest
from hoopwright.cutting.solver import NODES, PATTERNS, Solved, whole_programme
from hoopwright.frozen import dataclass

Share = tuple[int, tuple[int, ...], float]
"""A stock, a pattern and how often it is cut, in fractions."""


@dataclass(frozen=True)
class StickInequality:
    """What the kinds of piece are worth, and each stock its worthiest pattern.

    The sticks of any plan are worth at least what all pieces are; what they are worth more is
    the most that any one pattern of the plan can fall short of its stock's worth. With the
    lengths themselves as worths this is the offcut.
    """

    worths: tuple[int, ...]
    stocks: tuple[int, ...]

    def loss(self, counts: Sequence[int], demand: Sequence[int]) -> int:
        """Worth of the sticks less worth of the pieces; below nought it cannot be done."""
        return total(counts, self.stocks) - total(demand, self.worths)


@dataclass(frozen=True)
class PackingProblem:
    """What does not change from one try to the next; `cut` is the sharpest that is known."""

    job: StickJob
    cut: StickInequality


@dataclass(frozen=True)
class Packed:
    """The sticks filled, or None; and whether it is certain that there is no way.

    `nearly` is the filling that leaves the least length of pieces over, if one was met.
    """

    filled: list[Filled] | None
    impossible: bool = False
    nearly: list[Filled] | None = None


def pack(
    job: StickJob,
    counts: Sequence[int],
    cuts: Sequence[StickInequality],
    fractions: Sequence[Share],
) -> Packed:
    """Cut all pieces from exactly these sticks (`counts` of each stock), if it can be done.

    `fractions` are patterns with how often a linear programme would cut each; their whole
    parts are kept and the rest is settled by an integer programme, keeping less and less.
    """
    demand = job.demand
    if any(cut.loss(counts, demand) < 0 for cut in cuts):
        return Packed(None, impossible=True)
    filled, nearly = fill_tightly(job, counts)
    if filled is not None:
        return Packed(filled)
    sharpest = min(cuts, key=lambda cut: cut.loss(counts, demand) / max(cut.stocks))
    problem = PackingProblem(job, sharpest)
    sharper = _sharper(problem, demand, counts)
    if sharper is not None and not sharper:
        return Packed(None, impossible=True, nearly=nearly)
    shares = sharper or fractions
    tried: set[tuple[tuple[int, ...], int]] = set()
    for step, few in ((0, _FEW), (1, _FEW), (1, _MORE), (2, _MORE), (3, _MORE), (3, _ALL)):
        most = min(few, PATTERNS)
        packed = _keep_and_settle(problem, demand, counts, shares, step, most, tried)
        if packed.filled is not None or packed.impossible:
            return packed if packed.filled else Packed(None, True, nearly)
        met = packed.nearly or []
        nearly = max(nearly, met, key=lambda plan: _cut_length(plan, job.sizes))
    return Packed(None, nearly=nearly)


_FEW, _MORE, _ALL = 400, 1600, 10**9


def _keep_and_settle(
    problem: PackingProblem,
    demand: Sequence[int],
    counts: Sequence[int],
    fractions: Sequence[Share],
    step: int,
    most: int,
    tried: set[tuple[tuple[int, ...], int]],
) -> Packed:
    """Keep some of the whole parts of `fractions`, fewer at each step, and settle the rest."""
    keep = (lambda n: n, lambda n: max(0, n - 1), lambda n: n // 2, lambda _: 0)[step]
    kept = [(s, pattern, keep(int(often + 1e-6))) for s, pattern, often in fractions]
    head = [(s, pattern) for s, pattern, n in kept for _ in range(n)]
    rest, sticks = _rest(demand, counts, kept)
    if (tuple(rest), most) in tried:
        return Packed(None)
    tried.add((tuple(rest), most))
    tail = _settle(problem, rest, sticks, most)
    whole = None if tail.filled is None else _without_surplus(head + tail.filled, demand)
    nearly = None if tail.nearly is None else _without_surplus(head + tail.nearly, demand)
    return Packed(whole, tail.impossible and not head, nearly)


def _cut_length(filled: Sequence[Filled], sizes: Sequence[int]) -> int:
    return sum(total(pattern, sizes) for _, pattern in filled)


def fill_tightly(job: StickJob, counts: Sequence[int]) -> tuple[list[Filled] | None, list[Filled]]:
    """Fill stick after stick as full as it goes, shortest first, larger pieces preferred.

    Returns the filling that holds everything, or None, and the one that held the most.
    """
    sizes, capacities = job.sizes, job.capacities
    kinds = range(len(sizes))[::-1]
    nearly: list[Filled] = []
    # Coarser steps, pieces rounded up, keep the staircases short; what fits so fits truly.
    cell = max(1, max(capacities) // 8192)
    coarse = [-(-size // cell) for size in sizes]
    for favour in (0, 1, 2):
        left = list(job.demand)
        filled: list[Filled] = []
        worths = [size * 1000 + size * 1000 * favour * size // (20 * max(sizes)) for size in sizes]
        for s in sorted(range(len(capacities)), key=lambda s: (capacities[s], s)):
            for _ in range(counts[s]):
                family = Family(
                    tuple(i for i in kinds if left[i]),
                    tuple(coarse[i] for i in kinds if left[i]),
                    tuple(left[i] for i in kinds if left[i]),
                )
                room = capacities[s] // cell
                steps = ladder(family, worths, room)
                pattern = worthiest(steps, len(family.kinds), room, len(sizes))
                left = [a - b for a, b in zip(left, pattern, strict=True)]
                filled.append((s, pattern))
        if not any(left):
            return filled, filled
        nearly = max(nearly, filled, key=lambda plan: _cut_length(plan, sizes))
    return None, nearly


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


def _sharper(
    problem: PackingProblem, demand: Sequence[int], counts: Sequence[int]
) -> list[Share] | None:
    """Fractions of patterns that these sticks have the slack for; [] if there is no such.

    What is left of any one stick cannot be more than what is left of all, and that is far
    less than a linear programme would waste. None where the patterns are too many to list.
    """
    columns = _tightest(problem, demand, counts, PATTERNS, shrink=False)
    if not columns.complete:
        return None
    answer = _cover(problem, columns, demand, counts, whole=False, nodes=0)
    if answer.values is None or answer.bound > _least(problem, demand) * 1e-4:
        return []
    often = answer.values[: len(columns.stocks)]
    return [
        (int(columns.stocks[j]), tuple(int(n) for n in columns.patterns[j]), float(often[j]))
        for j in np.nonzero(often > 1e-9)[0]
    ]


def _settle(
    problem: PackingProblem,
    demand: Sequence[int],
    counts: Sequence[int],
    most: int,
) -> Packed:
    """An integer programme over the tightest patterns, at most `most` of them."""
    kinds = len(demand)
    if not any(demand):
        return Packed(_empty(counts, kinds))
    columns = _tightest(problem, demand, counts, most)
    divisible = _cover(problem, columns, demand, counts, whole=False, nodes=0)
    if divisible.bound > 0.5 * _least(problem, demand):
        return Packed(None, impossible=columns.complete)
    answer = _cover(problem, columns, demand, counts, whole=True, nodes=NODES)
    impossible = columns.complete and (
        answer.impossible or answer.bound > 0.25 * _least(problem, demand)
    )
    if answer.values is None:
        return Packed(None, impossible)
    taken = np.rint(answer.values).astype(int)
    count = len(columns.stocks)
    filled = [
        (int(columns.stocks[j]), tuple(int(n) for n in columns.patterns[j]))
        for j in range(count)
        for _ in range(taken[j])
    ]
    spare = [n - sum(1 for t, _ in filled if t == s) for s, n in enumerate(counts)]
    filled += _empty(spare, kinds)
    if taken[count:].any():
        return Packed(None, impossible, filled)
    return Packed(filled)


def _least(problem: PackingProblem, demand: Sequence[int]) -> float:
    """What leaving out the shortest piece wanted costs in `_cover`."""
    return min(problem.job.sizes[i] for i, n in enumerate(demand) if n) / max(problem.job.sizes)


def _cover(
    problem: PackingProblem,
    columns: Columns,
    demand: Sequence[int],
    counts: Sequence[int],
    whole: bool,
    nodes: int,
) -> Solved:
    """Cut the pieces from the sticks; pieces left out cost their length, and nothing else does."""
    kinds, stocks, count = len(demand), len(counts), len(columns.stocks)
    matrix = np.zeros((kinds + stocks, count + kinds))
    matrix[:kinds, :count] = columns.patterns.T
    matrix[:kinds, count:] = np.eye(kinds)
    matrix[kinds + columns.stocks, np.arange(count)] = 1.0
    sizes = np.array(problem.job.sizes, float)
    limit = np.array(counts, float)
    return whole_programme(
        costs=np.append(np.zeros(count), sizes / sizes.max()),
        upper=np.append(limit[columns.stocks], np.array(demand, float)),
        matrix=matrix,
        least=np.append(np.array(demand, float), np.full(stocks, -np.inf)),
        most=np.append(np.full(kinds, np.inf), limit),
        whole=whole,
        nodes=nodes,
        target=0.5 * _least(problem, demand),
        near=0.5 * _least(problem, demand),
    )


@dataclass(frozen=True)
class Columns:
    """Patterns, one a row, with the stock of each; whether they are all that can matter."""

    stocks: Whole
    patterns: Whole
    complete: bool


def _tightest(
    problem: PackingProblem,
    demand: Sequence[int],
    counts: Sequence[int],
    most: int,
    shrink: bool = True,
) -> Columns:
    """The patterns that fall short of their stocks by no more than all do; fewer if too many."""
    cut, kinds = problem.cut, len(demand)
    wanted = [i for i in range(kinds - 1, -1, -1) if demand[i]]
    family = Family(
        tuple(wanted), tuple(problem.job.sizes[i] for i in wanted), tuple(demand[i] for i in wanted)
    )
    loss = cut.loss(counts, demand)
    slack = total(counts, problem.job.capacities) - total(demand, problem.job.sizes)
    nothing = Columns(np.zeros(0, np.int64), np.zeros((0, kinds), np.int64), True)
    if loss < 0 or slack < 0:
        return nothing
    steps = ladder(family, cut.worths, max(problem.job.capacities))
    allowed = loss
    while True:
        found = [nothing]
        room = most
        for s, capacity in enumerate(problem.job.capacities):
            if not counts[s]:
                continue
            least = max(0, cut.stocks[s] - allowed)
            some = all_worth(steps, len(wanted), capacity, least, demand, 2 * room)
            if some is None:
                break
            some = some[capacity - some @ np.array(problem.job.sizes) <= slack]
            room -= len(some)
            if room < 0:
                break
            found.append(Columns(np.full(len(some), s, np.int64), some, True))
        else:
            break
        if allowed == 0 or not shrink:
            return Columns(nothing.stocks, nothing.patterns, False)
        allowed = allowed * 3 // 4
    return Columns(
        np.concatenate([one.stocks for one in found]),
        np.concatenate([one.patterns for one in found]),
        allowed == loss,
    )


def _empty(counts: Sequence[int], kinds: int) -> list[Filled]:
    return [(s, (0,) * kinds) for s, n in enumerate(counts) for _ in range(n)]


def _without_surplus(filled: list[Filled], demand: Sequence[int]) -> list[Filled]:
    """Drop pieces cut beyond what is wanted."""
    left = list(demand)
    kept: list[Filled] = []
    for s, pattern in filled:
        taken = tuple(min(a, b) for a, b in zip(pattern, left, strict=True))
        left = [a - b for a, b in zip(left, taken, strict=True)]
        kept.append((s, taken))
    return kept
