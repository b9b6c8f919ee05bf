"""How many sticks of each length to buy, to proven least cost.

Cost depends only on the number of sticks of each stock, a handful of whole numbers. What is
known about them is a list of cuts: for any worth given to the pieces, the sticks must be
worth at least what the pieces are, each stick being worth its worthiest pattern. The
cheapest numbers that satisfy all cuts are tried; either a linear programme finds a new cut
that they break, or the pieces are cut from just these sticks and nothing can be cheaper.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from hoopwright.cutting.greedy import Filled, StickJob, first_plan, total
from hoopwright.cutting.packing import StickInequality, pack
from hoopwright.cutting.patterns import Family, Staircase, ladder, worthiest
from hoopwright.cutting.solver import (
    BROKEN,
    ROUNDS,
    GrowingProgramme,
    patience,
    rule_out,
    whole_programme,
)
from hoopwright.frozen import dataclass

_FINENESS = 1_000_000
_MASTER_NODES = 200_000
_MOST_STOCKS, _MOST_PURCHASES = 12, 400
"""Kinds and purchases weighed before the solver is asked: what takes about as long as it does."""


Rank = tuple[int, int, int]
"""Cost, sticks bought, and length of stock: compared in this order."""


@dataclass(frozen=True)
class Bought:
    """Sticks filled, or None where there is no way; the least rank possible; all settled?"""

    filled: list[Filled] | None
    bound: Rank
    settled: bool


def rank(job: StickJob, counts: Sequence[int]) -> Rank:
    """The rank of buying `counts` of each stock."""
    return (
        total(counts, job.prices),
        sum(n for s, n in enumerate(counts) if _bought(job, s)),
        total(counts, job.capacities),
    )


def counted(job: StickJob, filled: Sequence[Filled]) -> list[int]:
    """How many sticks of each stock are used."""
    counts = [0] * len(job.capacities)
    for s, _ in filled:
        counts[s] += 1
    return counts


def buy(job: StickJob) -> Bought:
    """The cheapest sticks; of the cheapest the fewest bought; of those the least length."""
    best = first_plan(job)
    if best is not None and _plainly_least(job, rank(job, counted(job, best))):
        return Bought(best, rank(job, counted(job, best)), True)
    knowledge = _Knowledge(job, best or [])
    bound: Rank | None = None
    least: Rank = (0, 0, 0)
    unsettled = 0
    for _ in patience():
        counts = knowledge.cheapest()
        known = rank(job, counted(job, best)) if best is not None else None
        now = None if counts is None else rank(job, counts)
        if counts is None or now is None or (known is not None and now >= known):
            return Bought(best, bound or known or (0, 0, 0), bound is None)
        packed = pack(job, counts, knowledge.cuts, knowledge.fractions(counts))
        if packed.filled is not None:
            filled = [one for one in packed.filled if any(one[1])]
            return Bought(filled, bound or now, bound is None)
        best = _better(job, best, _made_whole(job, packed.nearly))
        if not packed.impossible:
            bound = bound or now
            unsettled += 1
            if unsettled >= ROUNDS:
                return Bought(best, bound, False)
        knowledge.ruled_out.append(counts)
        least = now
    return Bought(best, bound or least, False)


def _plainly_least(job: StickJob, known: Rank) -> bool:
    """Return whether every purchase of less rank is too short, or has too few places.

    Of each is asked only that its sticks be as long as all pieces, and hold as many pieces of each
    size or more as there are. It saves a solver for the easiest jobs; a false answer says nothing.
    """
    # What is bought last, the cheapest, is bought as far as it may cost.
    order = sorted(range(len(job.prices)), key=lambda s: (job.prices[s] > 0, -job.prices[s]))
    free = [most for price, most in zip(job.prices, job.available, strict=True) if not price]
    if None in free or len(free) == len(order) or len(order) > _MOST_STOCKS:
        return False
    asked = [(total(job.demand, job.sizes), job.capacities)]
    for size in job.sizes:
        wanted = sum(n for n, other in zip(job.demand, job.sizes, strict=True) if other >= size)
        asked.append((wanted, tuple(room // size for room in job.capacities)))
    left = _MOST_PURCHASES

    def fails(at: int, counts: list[int]) -> bool:
        """Return whether all purchases fail that have these counts of the first stocks."""
        nonlocal left
        left -= 1
        if left < 0:
            return False
        s = order[at]
        price, held = job.prices[s], job.available[s]
        most = known[0] if held is None else held
        if price:
            most = min(most, (known[0] - total(counts, job.prices)) // price)
        if at + 1 < len(order):
            tries = (counts[:s] + [n] + counts[s + 1 :] for n in range(most + 1))
            return all(fails(at + 1, one) for one in tries)
        # The more there are of the last, the likelier they do; one less is sure to cost less.
        for counts[s] in range(most, max(most - 2, -1), -1):
            if rank(job, counts) < known:
                return any(total(counts, one) < need for need, one in asked)
        return True

    return fails(0, [0] * len(order))


def _made_whole(job: StickJob, nearly: list[Filled] | None) -> list[Filled] | None:
    """A filling that leaves pieces over, with sticks bought for these; None if it cannot be."""
    filled = [one for one in nearly or [] if any(one[1])]
    used = counted(job, filled)
    left = list(job.demand)
    for _, pattern in filled:
        left = [a - b for a, b in zip(left, pattern, strict=True)]
    free = [None if n is None else n - u for n, u in zip(job.available, used, strict=True)]
    more = first_plan(replace(job, demand=tuple(left), available=tuple(free)))
    return None if more is None else filled + more


def _better(
    job: StickJob, one: list[Filled] | None, other: list[Filled] | None
) -> list[Filled] | None:
    if one is None or other is None:
        return one or other
    return min(one, other, key=lambda plan: rank(job, counted(job, plan)))


def _bought(job: StickJob, s: int) -> bool:
    return job.prices[s] > 0 or job.available[s] is None


class _Knowledge:
    """The cuts, the counts ruled out, and the patterns met so far.

    Its linear programme asks what the dearest-free repair of given counts would cost: more
    sticks at their price, as far as there are any, and pieces left uncut at a higher one.
    """

    def __init__(self, job: StickJob, first: Sequence[Filled]) -> None:
        self.job = job
        kinds, stocks = len(job.sizes), len(job.capacities)
        self.family = Family(tuple(range(kinds))[::-1], job.sizes[::-1], job.demand[::-1])
        self.cuts: list[StickInequality] = []
        self.ruled_out: list[list[int]] = []
        self.columns: list[Filled] = []
        self.known: set[Filled] = set()
        self.least_cost = 0
        weights = _repair_weights(job)
        self.top = max(weights)
        self.programme = GrowingProgramme(
            least=[*map(float, job.demand), *[None] * (2 * stocks)],
            most=[*[None] * kinds, *[0.0] * stocks, *job.available],
        )
        for s, weight in enumerate(weights):
            entries = [(kinds + s, -1.0), (kinds + stocks + s, 1.0)]
            self.programme.add_column(weight, entries)
        rate = 10.0 * max(w / c for w, c in zip(weights, job.capacities, strict=True))
        for i, size in enumerate(job.sizes):
            self.programme.add_column(rate * size, [(i, 1.0)])
        longest = max(range(stocks), key=lambda s: job.capacities[s])
        for i, size in enumerate(job.sizes):
            many = min(job.demand[i], job.capacities[longest] // size)
            self._learn((longest, tuple(many if k == i else 0 for k in range(kinds))))
        for one in first:
            self._learn(one)
        self._worthy(list(job.sizes))
        self._learn_cuts([0] * stocks)

    def _learn(self, column: Filled) -> bool:
        if column in self.known:
            return False
        self.known.add(column)
        self.columns.append(column)
        s, pattern = column
        entries = [(i, float(n)) for i, n in enumerate(pattern) if n]
        self.programme.add_column(0.0, [*entries, (len(pattern) + s, 1.0)])
        return True

    def _worthy(self, worths: list[int]) -> tuple[Staircase, StickInequality]:
        """What each stock is worth; kept as the newest cut."""
        steps = ladder(self.family, worths, max(self.job.capacities))
        stocks = tuple(steps.worth(len(worths), capacity) for capacity in self.job.capacities)
        cut = StickInequality(tuple(worths), stocks)
        self.cuts.append(cut)
        return steps, cut

    def _learn_cuts(self, counts: Sequence[int]) -> bool:
        """New cuts that these counts break; False if they might do, were sticks divisible."""
        kinds, stocks = len(self.job.sizes), len(self.job.capacities)
        for s, n in enumerate(counts):
            most = self.job.available[s]
            self.programme.limit_row(kinds + s, None, float(n))
            self.programme.limit_row(
                kinds + stocks + s, None, None if most is None else float(max(0, most - n))
            )
        scale = _FINENESS / self.top
        start = len(self.cuts)
        for _ in patience():
            missing, _, prices = self.programme.solve()
            if missing < BROKEN * self.top:
                del self.cuts[start:]
                return False
            steps, cut = self._worthy([max(0, math.floor(prices[i] * scale)) for i in range(kinds)])
            fresh = [
                self._learn((s, worthiest(steps, kinds, self.job.capacities[s], kinds)))
                for s in range(stocks)
                if cut.stocks[s] > -prices[kinds + s] * scale + 1
            ]
            if not any(fresh):
                break
        broken = [cut for cut in self.cuts[start:] if cut.loss(counts, self.job.demand) < 0]
        # The last is the deepest; the first break is kept because it differs the most from it.
        self.cuts[start:] = broken[-1:] if len(broken) < 2 else [broken[0], broken[-1]]
        return bool(broken)

    def fractions(self, counts: Sequence[int]) -> list[tuple[int, tuple[int, ...], float]]:
        """Patterns and how often each, to cut all pieces from divisible sticks."""
        self._learn_cuts(counts)
        _, values, _ = self.programme.solve()
        often = values[len(self.job.capacities) + len(self.job.sizes) :]
        return [
            (s, pattern, n) for (s, pattern), n in zip(self.columns, often, strict=True) if n > 1e-9
        ]

    def cheapest(self) -> list[int] | None:
        """The counts of least rank that nothing known forbids and that might do."""
        job = self.job
        bought = [1 if _bought(job, s) else 0 for s in range(len(job.prices))]
        unit = math.gcd(*job.capacities)
        lengths = [capacity // unit for capacity in job.capacities]
        limits: list[tuple[Sequence[int], int]] = []
        answer: list[int] = [0] * len(job.prices)
        for costs in (job.prices, bought, lengths):
            if not any(costs):
                continue
            tried: list[list[int]] = []
            for _ in patience():
                found = self._least(costs, limits)
                if found is None:
                    return None
                # A count that comes back is one that the solver takes for whole though it breaks
                # a cut: the cuts are exact, so it is out, and so are fewer.
                if found in tried:
                    self.ruled_out.append(found)
                tried.append(found)
                answer = found
                if not self._learn_cuts(answer):
                    break
            least = total(answer, costs)
            if costs is job.prices:
                self.least_cost = least
            limits.append((costs, least))
        return answer

    def _least(
        self, costs: Sequence[int], limits: Sequence[tuple[Sequence[int], int]]
    ) -> list[int] | None:
        """Counts of least cost that keep all cuts, limits and what was ruled out."""
        job = self.job
        stocks = len(job.capacities)
        rows: list[list[float]] = [[float(w) for w in cut.stocks] for cut in self.cuts]
        nothing = [0] * stocks
        least = [-float(cut.loss(nothing, job.demand)) for cut in self.cuts]
        most = [math.inf] * len(rows)
        for factors, limit in limits:
            rows.append([float(f) for f in factors])
            least.append(-math.inf)
            most.append(float(limit))
        rows.append([float(p) for p in job.prices])
        least.append(float(self.least_cost))
        most.append(math.inf)
        upper = [math.inf if n is None else float(n) for n in job.available]
        for counts in self.ruled_out:
            more = [s for s in range(stocks) if job.some_left(s, counts[s])]
            rule_out(counts, more, rows, least, upper)
        most += [math.inf] * (len(rows) - len(most))
        matrix = np.zeros((len(rows), len(upper)))
        for at, row in enumerate(rows):
            matrix[at, : len(row)] = row
        solved = whole_programme(
            np.array([*costs, *[0] * (len(upper) - stocks)], float),
            np.array(upper),
            matrix,
            np.array(least),
            np.array(most),
            nodes=_MASTER_NODES,
        )
        if solved.values is None:
            return None
        return [round(value) for value in solved.values[:stocks]]


def _repair_weights(job: StickJob) -> list[float]:
    """What one more stick counts while counts are tried: its price, or a tenth of the like."""
    rates = [p / c for p, c in zip(job.prices, job.capacities, strict=True) if p]
    spare = 0.1 * min(rates, default=1.0)
    return [float(p) if p else spare * c for p, c in zip(job.prices, job.capacities, strict=True)]
