"""How many sticks of each length to buy, to proven least cost.

Cost depends only on the number of sticks of each stock, a handful of whole numbers. What is
known about them is a list of cuts: for any worth given to the pieces, the sticks must be
worth at least what the pieces are, each stick being worth its worthiest pattern. The
cheapest numbers that satisfy all cuts are tried; either a linear programme finds a new cut
that they break, or the pieces are cut from just these sticks and nothing can be cheaper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cutting.greedy import Filled, first_plan
from hoopwright.cutting.packing import pack
from hoopwright.cutting.patterns import Family, ladder, worthiest
from hoopwright.cutting.solver import GrowingProgramme, Row, whole_programme
from hoopwright.cutting.stock import Effort

_FINENESS = 1_000_000
_MASTER_NODES = 200_000


@dataclass(frozen=True)
class Job:
    """The job in whole numbers: kinds of piece, longest first, with the kerf counted in.

    A piece with its kerf, in a stick with one kerf more, fits just when the piece itself
    with the kerfs between its neighbours does. Prices are in cents.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    capacities: tuple[int, ...]
    prices: tuple[int, ...]
    available: tuple[int | None, ...]


Rank = tuple[int, int, int]
"""Cost, sticks bought, and length of stock: compared in this order."""


@dataclass(frozen=True)
class Bought:
    """Sticks filled, or None where there is no way; the least rank possible; all settled?"""

    filled: list[Filled] | None
    bound: Rank
    settled: bool


def rank(job: Job, counts: Sequence[int]) -> Rank:
    """The rank of buying `counts` of each stock."""
    return (
        sum(n * price for n, price in zip(counts, job.prices, strict=True)),
        sum(n for s, n in enumerate(counts) if _bought(job, s)),
        sum(n * length for n, length in zip(counts, job.capacities, strict=True)),
    )


def counted(job: Job, filled: Sequence[Filled]) -> list[int]:
    """How many sticks of each stock are used."""
    counts = [0] * len(job.capacities)
    for s, _ in filled:
        counts[s] += 1
    return counts


def buy(job: Job, effort: Effort) -> Bought:
    """The cheapest sticks; of the cheapest the fewest bought; of those the least length."""
    best = first_plan(job.sizes, job.demand, job.capacities, job.prices, job.available)
    knowledge = _Knowledge(job, best or [])
    bound: Rank | None = None
    unsettled = 0
    while True:
        counts = knowledge.cheapest()
        if counts is None:
            sure = bound is None
            return Bought(best, bound or rank(job, counted(job, best or [])), sure)
        now = rank(job, counts)
        if best is not None and now >= rank(job, counted(job, best)):
            return Bought(best, bound or rank(job, counted(job, best)), bound is None)
        fractions = knowledge.fractions(counts)
        if fractions is None:
            continue
        packed = pack(job.sizes, job.demand, job.capacities, counts, fractions, effort)
        if packed.filled is not None:
            filled = [one for one in packed.filled if any(one[1])]
            return Bought(filled, bound or now, bound is None)
        if not packed.impossible:
            bound = bound or now
            unsettled += 1
            if unsettled >= effort.rounds:
                return Bought(best, bound, False)
        knowledge.rule_out(counts)


def _bought(job: Job, s: int) -> bool:
    return job.prices[s] > 0 or job.available[s] is None


class _Knowledge:
    """The cuts, the counts ruled out, and the patterns met so far."""

    def __init__(self, job: Job, first: Sequence[Filled]) -> None:
        self.job = job
        kinds = tuple(range(len(job.sizes)))[::-1]
        self.family = Family(kinds, job.sizes[::-1], job.demand[::-1])
        self.cuts: list[tuple[list[int], int]] = []
        self.ruled_out: list[list[int]] = []
        self.columns: list[Filled] = []
        self.known: set[Filled] = set()
        self.weights = _repair_weights(job)
        stocks = len(job.capacities)
        self.programme = GrowingProgramme(
            least=[*map(float, job.demand), *[None] * stocks],
            most=[*[None] * len(job.demand), *[0.0] * stocks],
        )
        for s, weight in enumerate(self.weights):
            self.programme.add_column(weight, [(len(job.demand) + s, -1.0)])
        longest = max(range(stocks), key=lambda s: job.capacities[s])
        for i, size in enumerate(job.sizes):
            many = min(job.demand[i], job.capacities[longest] // size)
            self._learn((longest, tuple(many if k == i else 0 for k in range(len(job.sizes)))))
        for one in first:
            self._learn(one)
        self._cut(list(job.sizes))
        self.fractions([0] * stocks)

    def _learn(self, column: Filled) -> bool:
        if column in self.known:
            return False
        self.known.add(column)
        self.columns.append(column)
        s, pattern = column
        entries = [(i, float(n)) for i, n in enumerate(pattern) if n]
        self.programme.add_column(0.0, [*entries, (len(pattern) + s, 1.0)])
        return True

    def _cut(self, worths: list[int]) -> tuple[list[int], int]:
        job = self.job
        steps = ladder(self.family, worths, max(job.capacities))
        self.steps = steps
        worthy = [steps.worth(len(worths), capacity) for capacity in job.capacities]
        cut = worthy, sum(n * w for n, w in zip(job.demand, worths, strict=True))
        self.cuts.append(cut)
        return cut

    def fractions(self, counts: Sequence[int]) -> list[tuple[int, tuple[int, ...], float]] | None:
        """Patterns that cut all pieces from these sticks if they might be cut in fractions.

        None if not even that can be done; then a cut says so from now on.
        """
        kinds, stocks = len(self.job.sizes), len(self.job.capacities)
        for s, n in enumerate(counts):
            self.programme.limit_row(kinds + s, None, float(n))
        scale = _FINENESS / max(self.weights)
        searching = any(counts)
        while True:
            missing, values, prices = self.programme.solve()
            often = values[stocks:]
            if missing < 1e-7 * max(self.weights):
                break
            worths = [max(0, math.floor(prices[i] * scale)) for i in range(kinds)]
            worthy, need = self._cut(worths)
            broken = sum(n * w for n, w in zip(counts, worthy, strict=True)) < need
            if broken and searching:
                return None
            fresh = [
                self._learn((s, worthiest(self.steps, kinds, self.job.capacities[s], kinds)))
                for s in range(stocks)
                if worthy[s] > -prices[kinds + s] * scale + 1
            ]
            if not any(fresh):
                break
            self.cuts.pop()
        return [
            (s, pattern, n) for (s, pattern), n in zip(self.columns, often, strict=True) if n > 1e-9
        ]

    def rule_out(self, counts: list[int]) -> None:
        """These counts, or fewer of any, will not do."""
        self.ruled_out.append(counts)

    def cheapest(self) -> list[int] | None:
        """The counts of least rank that nothing known forbids."""
        job = self.job
        stocks = len(job.capacities)
        bought = [1 if _bought(job, s) else 0 for s in range(stocks)]
        unit = math.gcd(*job.capacities)
        lengths = [capacity // unit for capacity in job.capacities]
        rows: list[Row] = [
            ([(s, float(w)) for s, w in enumerate(worthy) if w], float(need), None)
            for worthy, need in self.cuts
        ]
        upper: list[float | None] = [None if n is None else float(n) for n in job.available]
        for counts in self.ruled_out:
            start = len(upper)
            more = [s for s in range(stocks) if not _at_limit(job, s, counts[s])]
            for k, s in enumerate(more):
                rows.append(([(s, 1.0), (start + k, -float(counts[s] + 1))], 0.0, None))
            rows.append(([(start + k, 1.0) for k in range(len(more))], 1.0, None))
            upper += [1.0] * len(more)
        answer: list[int] = []
        for costs in (list(job.prices), bought, lengths):
            if not any(costs):
                continue
            spare = [0.0] * (len(upper) - stocks)
            solved = whole_programme(
                [*map(float, costs), *spare], upper, [True] * len(upper), rows, _MASTER_NODES
            )
            if solved.values is None:
                return None
            answer = [round(value) for value in solved.values[:stocks]]
            least = sum(n * cost for n, cost in zip(answer, costs, strict=True))
            rows.append(([(s, float(c)) for s, c in enumerate(costs) if c], None, float(least)))
        return answer


def _at_limit(job: Job, s: int, n: int) -> bool:
    most = job.available[s]
    return most is not None and n >= most


def _repair_weights(job: Job) -> list[float]:
    """What one more stick counts while counts are tried: its price, or a tenth of the like."""
    rates = [p / c for p, c in zip(job.prices, job.capacities, strict=True) if p]
    spare = 0.1 * min(rates, default=1.0)
    return [float(p) if p else spare * c for p, c in zip(job.prices, job.capacities, strict=True)]
