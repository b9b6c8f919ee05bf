"""Two-stage cutting of a roll as shelves: strips across the roll, each ripped into sheets.

A shelf is as long, along the roll, as its longest sheet; across, its sheets lie side by side.
Which sheets share a shelf is the pattern problem of sticks again, one for each length a shelf
can have. The length run off is the sum over the shelves.
"""

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.cutting.greedy import total
from hoopwright.cutting.patterns import Family, Staircase, all_worth, ladder, worthiest
from hoopwright.cutting.solver import (
    NODES,
    PATTERNS,
    ROUNDS,
    GrowingProgramme,
    Real,
    patience,
    whole_programme,
)
from hoopwright.frozen import dataclass

_BITS = 40


@dataclass(frozen=True)
class Film:
    """Kinds of sheet with their number, and rolls; all in steps.

    `sides` are (across, along) of a kind, once or both ways round. A roll is (width, length).
    """

    sides: tuple[tuple[tuple[int, int], ...], ...]
    demand: tuple[int, ...]
    rolls: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Shelf:
    """A roll's number, the length along it, and how many of each kind."""

    roll: int
    length: int
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Shelved:
    """Shelves, or None where none were found; and what no shelves can cost less than.

    `impossible` says that the rolls are too short for any shelves that hold the sheets.
    """

    shelves: list[Shelf] | None
    bound: float
    impossible: bool = False


def stops(film: Film, roll: int) -> tuple[Family, list[tuple[int, int]]]:
    """The sheets that a roll can hold, shortest first, and for each length how many they are."""
    width, length = film.rolls[roll]
    lying = sorted(
        (along, across, kind)
        for kind, sides in enumerate(film.sides)
        for across, along in sides
        if across <= width and along <= length
    )
    family = Family(
        tuple(kind for _, _, kind in lying),
        tuple(across for _, across, _ in lying),
        tuple(film.demand[kind] for _, _, kind in lying),
    )
    ends = {along: at + 1 for at, (along, _, _) in enumerate(lying)}
    return family, sorted(ends.items())


class ShelfSearch:
    """Cheapest shelves where a step of roll k costs `rates[k]` and at most `most[k]` are run.

    First a linear programme over ever more patterns gives a bound; then an integer one over
    all patterns that the bound leaves in question, which makes the answer exact if they can
    be listed.
    """

    def __init__(self, film: Film, rates: Sequence[float], most: Sequence[float]) -> None:
        self.film, self.rates, self.most = film, rates, most
        self.stops = [stops(film, k) for k in range(len(film.rolls))]
        self.columns: list[Shelf] = []
        self.known: set[Shelf] = set()
        kinds = len(film.demand)
        self.programme = GrowingProgramme(
            least=[*map(float, film.demand), *[None] * len(most)],
            most=[*[None] * kinds, *(None if m == math.inf else m for m in most)],
        )
        self.dearest = max(rates) * max(along for sides in film.sides for _, along in sides)
        dear = 10.0 * self.dearest
        for i in range(kinds):
            self.programme.add_column(dear, [(i, 1.0)])
        self.most_cost = sum(r * m for r, m in zip(rates, most, strict=True))
        self.bound = -math.inf
        self.worths = [0] * kinds
        self.burden = [0] * len(most)
        self.scale = 1.0

    def learn(self, shelf: Shelf) -> bool:
        """Admit a shelf; False if it is known."""
        if shelf in self.known:
            return False
        self.known.add(shelf)
        self.columns.append(shelf)
        entries = [(i, float(n)) for i, n in enumerate(shelf.counts) if n]
        entries.append((len(shelf.counts) + shelf.roll, float(shelf.length)))
        self.programme.add_column(self.rates[shelf.roll] * shelf.length, entries)
        return True

    def relax(self) -> tuple[float, list[int]]:
        """The bound with divisible shelves, and what each kind of sheet is then worth.

        Worths are whole numbers (money times `scale`), so the bound does not hang on rounding.
        """
        film = self.film
        kinds = len(film.demand)
        self.scale = 2.0 ** (_BITS - math.ceil(math.log2(self.dearest)))
        for _ in patience():
            _, _, prices = self.programme.solve()
            worths = [max(0, math.floor(p * self.scale)) for p in prices[:kinds]]
            burden = [max(0, math.ceil(-p * self.scale)) for p in prices[kinds:]]
            bound, fresh = self._price(worths, burden)
            if bound >= self.bound:
                self.bound, self.worths, self.burden = bound, worths, burden
            if not fresh:
                break
        return self.bound, self.worths

    def limits(self) -> tuple[list[float], float]:
        """What a step of each roll is worth at most, and what all sheets are worth.

        Rolls whose lengths together are worth less than the sheets cannot hold them, however
        many of each there are: also those that had no length here are given their worth.
        """
        steps_worth = []
        for k, (family, ends) in enumerate(self.stops):
            width = self.film.rolls[k][0]
            steps = ladder(family, self.worths, width)
            steps_worth.append(
                max((steps.worth(items, width) / length for length, items in ends), default=0.0)
            )
        need = float(total(self.film.demand, self.worths))
        return [worth * (1.0 + 1e-9) for worth in steps_worth], need

    def _cost(self, roll: int, length: int, burden: Sequence[int]) -> int:
        """A shelf's cost, scaled and rounded down, with what its length keeps from others."""
        return math.floor(self.rates[roll] * length * self.scale) + burden[roll] * length

    def _price(self, worths: Sequence[int], burden: Sequence[int]) -> tuple[float, bool]:
        excess, fresh = 0, False
        for k, (family, ends) in enumerate(self.stops):
            if not ends or self.most[k] <= 0:
                continue
            width = self.film.rolls[k][0]
            steps = ladder(family, worths, width)
            for length, items in ends:
                over = steps.worth(items, width) - self._cost(k, length, burden)
                excess = max(excess, over)
                if over > max(1, 2 ** (_BITS - 30)):
                    counts = worthiest(steps, items, width, len(worths))
                    fresh |= self.learn(Shelf(k, length, counts))
        bound = total(self.film.demand, worths)
        bound -= sum(self.film.demand) * excess
        bound -= sum(
            math.ceil(b * m) for b, m in zip(burden, self.most, strict=True) if b and m < math.inf
        )
        return bound / self.scale, fresh

    def settle(self, grain: float) -> Shelved:
        """The cheapest shelves; costs that differ by less than `grain` count as the same."""
        relaxed, _ = self.relax()
        if relaxed > self.most_cost * (1.0 + 1e-9):
            return Shelved(None, relaxed, impossible=True)
        best, _ = self._whole(self.columns, grain)
        bound = relaxed
        for _ in range(ROUNDS):
            if best is not None and self.cost(best) - bound < grain:
                break
            gap = self.cost(best) - relaxed if best is not None else 2.0 * relaxed
            window, listed = self._window(gap, PATTERNS // 3)
            if listed is None:
                break
            found, least = self._whole([*listed, *(best or [])], grain)
            improved = found is not None and (best is None or self.cost(found) < self.cost(best))
            if improved:
                best = found
            whole = best is not None and window >= self.cost(best) - relaxed - grain
            bound = max(bound, least if whole else min(least, relaxed + window))
            if whole or not improved:
                break
        if best is not None:
            bound = min(bound, self.cost(best))
        return Shelved(best, bound)

    def cost(self, shelves: Sequence[Shelf]) -> float:
        """What the shelves cost."""
        return sum(self.rates[shelf.roll] * shelf.length for shelf in shelves)

    def _window(self, gap: float, limit: int) -> tuple[float, list[Shelf] | None]:
        """Every shelf that a plan within `gap` of the bound can use, or within less of it."""
        ladders = [
            ladder(family, self.worths, self.film.rolls[k][0])
            for k, (family, _) in enumerate(self.stops)
        ]
        window = gap
        for _ in range(24):
            listed = self._listed(ladders, window, limit)
            if listed is not None:
                return window, listed
            window *= 0.7
        return 0.0, None

    def _listed(self, ladders: list[Staircase], window: float, limit: int) -> list[Shelf] | None:
        listed: list[Shelf] = []
        for k, (family, ends) in enumerate(self.stops):
            if self.most[k] <= 0:
                continue
            before = 0
            for length, items in ends:
                own = set(family.kinds[before:items])
                before = items
                least = self._cost(k, length, self.burden) - math.ceil(window * self.scale)
                room = limit - len(listed)
                rows = all_worth(
                    ladders[k], items, self.film.rolls[k][0], least, self.film.demand, room
                )
                if rows is None:
                    return None
                rows = rows[(rows[:, sorted(own)] > 0).any(axis=1)]
                listed += [Shelf(k, length, tuple(int(n) for n in row)) for row in rows]
        return listed

    def _whole(self, columns: Sequence[Shelf], grain: float) -> tuple[list[Shelf] | None, float]:
        """The cheapest whole numbers of these shelves, and the least they could cost."""
        film = self.film
        kinds, count = len(film.demand), len(columns)
        if not count:
            return None, math.inf
        matrix = np.zeros((kinds + len(self.rates), count))
        matrix[:kinds] = np.array([shelf.counts for shelf in columns], float).T
        places = np.array([shelf.roll for shelf in columns])
        lengths = np.array([shelf.length for shelf in columns], float)
        matrix[kinds + places, np.arange(count)] = lengths
        demand = np.array(film.demand, float)
        costs = np.array(self.rates)[places] * lengths
        unit = max(float(costs.max()), 1e-12) / 1000.0
        answer = whole_programme(
            costs / unit,
            _needed(matrix[:kinds], demand),
            matrix,
            np.append(demand, np.full(len(self.rates), -np.inf)),
            np.append(np.full(kinds, np.inf), np.array(self.most, float)),
            nodes=NODES,
            near=0.99 * grain / unit,
        )
        if answer.values is None:
            return None, math.inf if answer.impossible else answer.bound * unit
        taken = np.rint(answer.values).astype(int)
        shelves = [s for s, n in zip(columns, taken, strict=True) for _ in range(n)]
        # The search stops within a grain of its bound, so a grain is all the bound may lack.
        return trimmed(film, shelves), answer.bound * unit


def _needed(patterns: Real, demand: Real) -> Real:
    """How often each pattern could be wanted at most."""
    with np.errstate(divide="ignore"):
        times = np.where(patterns > 0, np.ceil(demand[:, None] / np.maximum(patterns, 1)), 0.0)
    return np.asarray(times.max(axis=0), float)


def best_side(film: Film, shelf: Shelf, kind: int) -> tuple[int, int]:
    """How a kind of sheet lies in a shelf: of the ways not longer than it, the narrowest."""
    return min(side for side in film.sides[kind] if side[1] <= shelf.length)


def trimmed(film: Film, shelves: Sequence[Shelf]) -> list[Shelf]:
    """The shelves without surplus sheets, and no longer than what is left in them needs."""
    left = list(film.demand)
    kept: list[Shelf] = []
    for shelf in sorted(shelves, key=lambda s: (s.length, s.roll, s.counts)):
        counts = tuple(min(a, b) for a, b in zip(shelf.counts, left, strict=True))
        left = [a - b for a, b in zip(left, counts, strict=True)]
        if any(counts):
            length = max(best_side(film, shelf, i)[1] for i, n in enumerate(counts) if n)
            kept.append(Shelf(shelf.roll, length, counts))
    return kept
