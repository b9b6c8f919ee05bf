"""How many rolls, and how much film by length, to proven least cost.

As with sticks: for any worth given to the sheets, what is bought must be worth at least what
they are. A whole roll is worth its worthiest filling (shelves within its length, each the
worthiest within its width: the two-stage knapsack of Gilmore and Gomory, 1965); film by
length is worth, for each step, its worthiest shelf's worth for each step of length.
"""

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.cutting.greedy import total
from hoopwright.cutting.patterns import Family, Staircase, ladder, worthiest
from hoopwright.cutting.shelves import Film, ShelfSearch, stops
from hoopwright.cutting.solver import BROKEN, GrowingProgramme, patience, rule_out, whole_programme
from hoopwright.frozen import dataclass

_FINENESS = 2.0**30
_NODES = 100_000
_SAFE = 1e-9
_CONTENT = 1e-4
"""Patterns are sought until none is worth more than it costs by this share; cuts hold anyway."""


@dataclass(frozen=True)
class Terms:
    """How each roll is sold: by length or whole, at what price [cents, or cents a step]."""

    by_length: tuple[bool, ...]
    prices: tuple[float, ...]
    available: tuple[int | None, ...]


@dataclass(frozen=True)
class RollInequality:
    """What one unit of each roll is worth at most, and what all sheets are worth.

    A unit is a whole roll, or of film by length as much as the longest roll holds.
    """

    worths: tuple[float, ...]
    need: float

    def broken(self, amounts: Sequence[float]) -> bool:
        """Whether these amounts cannot be enough."""
        worth = sum(a * w for a, w in zip(amounts, self.worths, strict=True))
        # Short by a share of a unit, as the solver counts it in the row made of this cut.
        return self.need - worth > BROKEN * max(self.worths)


class RollKnowledge:
    """The cuts and the patterns met so far; see the module."""

    def __init__(self, film: Film, terms: Terms) -> None:
        self.film, self.terms = film, terms
        self.unit = float(max(length for _, length in film.rolls))
        self.stops = [stops(film, k) for k in range(len(film.rolls))]
        self.cuts: list[RollInequality] = []
        self.ruled_out: list[list[int]] = []
        self.slack = 0.0
        self.known: set[tuple[int, float, tuple[int, ...]]] = set()
        kinds, count = len(film.demand), len(film.rolls)
        enough = sum(film.demand)
        self.most = [
            float(enough if n is None else min(n, enough)) * (length / self.unit if by else 1.0)
            for n, by, (_, length) in zip(terms.available, terms.by_length, film.rolls, strict=True)
        ]
        self.costs = [
            price * self.unit if by else price
            for price, by in zip(terms.prices, terms.by_length, strict=True)
        ]
        # What is free must weigh a little here, or a repair with it would be no repair.
        spare = 0.01 * min((cost for cost in self.costs if cost), default=1.0)
        self.weights = [cost or spare for cost in self.costs]
        self.programme = GrowingProgramme(
            least=[*map(float, film.demand), *[None] * (2 * count)],
            most=[*[None] * kinds, *[0.0] * count, *self.most],
        )
        for k, weight in enumerate(self.weights):
            entries = [(kinds + k, -1.0), (kinds + count + k, 1.0)]
            self.programme.add_column(weight, entries)
        self.dear = 10.0 * max(self.weights)
        for i in range(kinds):
            self.programme.add_column(self.dear, [(i, 1.0)])
        self._start()
        self.learn([0.0] * count)

    def _start(self) -> None:
        """Patterns to begin with: each shelf that matters by length, as often as a roll holds."""
        rates = [
            weight / (self.unit if by else length)
            for weight, by, (_, length) in zip(
                self.weights, self.terms.by_length, self.film.rolls, strict=True
            )
        ]
        search = ShelfSearch(self.film, rates, [math.inf] * len(rates))
        search.relax()
        for shelf in search.columns:
            times = 1
            if not self.terms.by_length[shelf.roll]:
                times = self.film.rolls[shelf.roll][1] // shelf.length
            self._admit(shelf.roll, shelf.length, tuple(times * n for n in shelf.counts))

    def _worthy(self, worths: list[int]) -> list[tuple[float, Staircase, Staircase, list[int]]]:
        """For each roll: a unit's worth, the shelf and roll ladders, and each shelf's worth."""
        found = []
        for k, (family, ends) in enumerate(self.stops):
            width, length = self.film.rolls[k]
            across = ladder(family, worths, width)
            shelf = [across.worth(items, width) for _, items in ends]
            sizes = tuple(size for size, _ in ends)
            # A longer shelf that is worth no more than a shorter one is never cut.
            better = [j for j in range(len(ends)) if not j or shelf[j] > max(shelf[:j])]
            along = ladder(
                Family(
                    tuple(better),
                    tuple(sizes[j] for j in better),
                    tuple(length // sizes[j] for j in better),
                ),
                shelf,
                length,
            )
            if self.terms.by_length[k]:
                rate = max((w / s for w, s in zip(shelf, sizes, strict=True)), default=0.0)
                worth = rate * self.unit * (1.0 + _SAFE)
            else:
                worth = float(along.worth(len(better), length))
            found.append((worth, across, along, shelf))
        return found

    def learn(self, amounts: Sequence[float]) -> bool:
        """New cuts that these amounts break; False if they might do, were all divisible."""
        kinds, count = len(self.film.demand), len(self.film.rolls)
        for k, amount in enumerate(amounts):
            self.programme.limit_row(kinds + k, None, amount)
            self.programme.limit_row(kinds + count + k, None, max(0.0, self.most[k] - amount))
        scale = _FINENESS / self.dear
        for _ in patience():
            missing, _, prices = self.programme.solve()
            if missing < BROKEN * self.dear:
                return False
            worths = [max(0, math.floor(p * scale)) for p in prices[:kinds]]
            worthy = self._worthy(worths)
            fresh = False
            for k, (worth, across, along, shelf) in enumerate(worthy):
                limit = -prices[kinds + k] * scale
                if worth > limit * (1.0 + _CONTENT) + 8.0:
                    fresh |= self._learn_pattern(k, across, along, shelf)
            if not fresh:
                break
        need = float(total(self.film.demand, worths))
        cut = RollInequality(tuple(one[0] for one in worthy), need)
        if cut in self.cuts or not cut.broken(amounts):
            return False
        self.cuts.append(cut)
        return True

    def _learn_pattern(self, k: int, across: Staircase, along: Staircase, shelf: list[int]) -> bool:
        ends = self.stops[k][1]
        width, length = self.film.rolls[k]
        kinds = len(self.film.demand)
        if self.terms.by_length[k]:
            best = max(range(len(ends)), key=lambda j: (shelf[j] / ends[j][0], -j))
            times = [1 if j == best else 0 for j in range(len(ends))]
            length = ends[best][0]
        else:
            times = list(worthiest(along, len(along.family.kinds), length, len(ends)))
        counts = np.zeros(kinds, np.int64)
        for (_, items), n in zip(ends, times, strict=True):
            if n:
                counts += n * np.array(worthiest(across, items, width, kinds))
        return self._admit(k, length, tuple(int(n) for n in counts))

    def _admit(self, k: int, length: int, counts: tuple[int, ...]) -> bool:
        """A filling of a roll, or of so much film by length; False if it is known."""
        amount = length / self.unit if self.terms.by_length[k] else 1.0
        pattern = k, amount, tuple(map(min, counts, self.film.demand))
        if pattern in self.known:
            return False
        self.known.add(pattern)
        entries = [(i, float(n)) for i, n in enumerate(pattern[2]) if n]
        self.programme.add_column(0.0, [*entries, (len(counts) + k, amount)])
        return True

    def cheapest(self) -> tuple[list[int], float] | None:
        """Whole rolls of each kind, and the least any plan can cost, by all that is known.

        With `slack` the rolls hold that share more than the sheets are worth; what they cost is
        then no bound.
        """
        found = None
        for _ in patience():
            found = self._least()
            if found is None and self.slack:
                self.slack = 0.0
                continue
            if found is None or not self.learn(found[0]):
                break
        return None if found is None else ([round(amount) for amount in found[0]], found[1])

    def too_short(self, worths: Sequence[float], need: float, amounts: Sequence[float]) -> bool:
        """Learn from shelves that no such rolls can hold; False where it tells nothing new.

        worths : what a step of each roll is worth at most; need : what all sheets are worth
        """
        units = [
            worth * (self.unit if by else length)
            for worth, by, (_, length) in zip(
                worths, self.terms.by_length, self.film.rolls, strict=True
            )
        ]
        cut = RollInequality(tuple(units), need)
        if not cut.broken(amounts):
            return False
        self.cuts.append(cut)
        return True

    def _least(self) -> tuple[list[float], float] | None:
        count = len(self.film.rolls)
        rows = [list(cut.worths) for cut in self.cuts]
        least = [cut.need * (1.0 + self.slack) for cut in self.cuts]
        upper = list(self.most)
        for counts in self.ruled_out:
            more = [
                k for k in range(count) if not self.terms.by_length[k] and counts[k] < self.most[k]
            ]
            rule_out(counts, more, rows, least, upper)
        matrix = np.zeros((len(rows), len(upper)))
        for at, row in enumerate(rows):
            size = max(map(abs, row), default=0.0) or 1.0
            matrix[at, : len(row)] = np.array(row) / size
            least[at] = least[at] / size * (1.0 - _SAFE)
        whole = np.ones(len(upper), bool)
        whole[:count] = [not by for by in self.terms.by_length]
        answer = whole_programme(
            np.append(self.costs, np.zeros(len(upper) - count)),
            np.array(upper),
            matrix,
            np.array(least),
            np.full(len(rows), np.inf),
            whole=whole,
            nodes=_NODES,
            near=0.1,
        )
        if answer.values is None:
            return None
        amounts = [
            float(v) if by else float(round(v))
            for v, by in zip(answer.values, self.terms.by_length, strict=False)
        ]
        # Rolls at hand may all be used: they cost nothing.
        for k, price in enumerate(self.terms.prices):
            if price == 0.0 and not self.terms.by_length[k]:
                amounts[k] = self.most[k]
        return amounts, answer.bound
