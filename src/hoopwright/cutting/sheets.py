"""Sheets cut from rolls of film: across the roll first, then ripped along it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hoopwright.cutting.buying import Job, buy
from hoopwright.cutting.marks import STEPS, metres, steps_down, steps_up
from hoopwright.cutting.patterns import ladder
from hoopwright.cutting.shelves import Film, Shelf, ShelfSearch, Shelved, best_side
from hoopwright.cutting.solver import whole_programme
from hoopwright.cutting.stock import (
    USUAL,
    CannotCut,
    CutRoll,
    Effort,
    PlacedSheet,
    Roll,
    RollPlan,
    Sheet,
)

_CENTS = 100
_NODES = 100_000
_TRIES = 60


def cut_sheets(sheets: Sequence[Sheet], rolls: Sequence[Roll], effort: Effort = USUAL) -> RollPlan:
    """The cheapest way found to cut `sheets` from `rolls`, in cross-cuts and then rips.

    Least cost first, then least length run off. Each strip between two cross-cuts is ripped
    along the roll into sheets, and a sheet shorter than its strip is trimmed to length. The
    bounds hold for this way of cutting; `area_bound` holds for any. No width is lost at a
    knife cut.
    """
    kinds, film = _film(sheets, rolls)
    if not kinds:
        return RollPlan((), 0.0, 0.0, True, 0.0, True, 0.0)
    plan = _Ordering(film, rolls, effort).run()
    placed = _placed(kinds, film, rolls, plan.bars)
    length = sum(cut.used for cut in placed)
    cost = round(sum(r.roll.price * (r.used if r.roll.by_length else 1) for r in placed), 2)
    bound = min(plan.cost_bound / _CENTS, cost)
    proven = cost - bound < 0.5 / _CENTS
    length_bound = min(plan.length_bound / STEPS, length)
    area = sum(sheet.width * sheet.length for sheet in sheets)
    return RollPlan(
        rolls=placed,
        cost=cost,
        bound=cost if proven else bound,
        proven=proven,
        length_bound=length_bound,
        length_proven=proven and length - length_bound < 0.5 * math.gcd(*_lengths(film)) / STEPS,
        area_bound=area / max(roll.width for roll in rolls),
    )


def _lengths(film: Film) -> list[int]:
    return [along for sides in film.sides for _, along in sides]


Kinds = dict[tuple[tuple[int, int], ...], list[Sheet]]


def _film(sheets: Sequence[Sheet], rolls: Sequence[Roll]) -> tuple[Kinds, Film]:
    usable = [roll for roll in rolls if roll.available != 0]
    for roll in rolls:
        if not (roll.width > 0.0 and roll.length > 0.0 and roll.price >= 0.0):
            raise CannotCut(f"Roll '{roll.name}' needs a width, a length and no price below 0.")
    if sheets and not usable:
        raise CannotCut("There is no roll to cut from. Name one that is available.")
    kinds: Kinds = {}
    for sheet in sorted(sheets, key=lambda s: (s.name, s.width, s.length)):
        if not (0.0 < sheet.width < math.inf and 0.0 < sheet.length < math.inf):
            raise CannotCut(f"Sheet '{sheet.name}' has no size. Leave it out or give one.")
        across, along = steps_up(sheet.width), steps_up(sheet.length)
        ways = {(across, along), (along, across)} if sheet.may_turn else {(across, along)}
        fits = [
            way
            for way in ways
            if any(way[0] <= steps_down(r.width) and way[1] <= steps_down(r.length) for r in usable)
        ]
        if not fits:
            raise CannotCut(_too_large(sheet, usable))
        kinds.setdefault(tuple(sorted(fits)), []).append(sheet)
    order = sorted(kinds, reverse=True)
    film = Film(
        sides=tuple(order),
        demand=tuple(len(kinds[sides]) for sides in order),
        rolls=tuple((steps_down(r.width), steps_down(r.length)) for r in rolls),
    )
    return {sides: kinds[sides] for sides in order}, film


def _too_large(sheet: Sheet, rolls: Sequence[Roll]) -> str:
    widest = max(roll.width for roll in rolls)
    size = f"Sheet '{sheet.name}' is {sheet.width:.4g} m across and {sheet.length:.4g} m along"
    if sheet.width > widest:
        turn = "" if sheet.may_turn or sheet.length > widest else ", or turning it if it may be"
        return (
            f"{size}; the widest roll is {widest:.4g} m. A roll of {sheet.width:.4g} m would do"
            f"{turn}, or a seam."
        )
    return f"{size}; no roll that is wide enough is so long. A longer roll would do, or a seam."


@dataclass(frozen=True)
class _Plan:
    """Shelves roll by roll, and the least cost [cents] and length [steps] that can be."""

    bars: list[tuple[int, list[Shelf]]]
    cost_bound: float
    length_bound: float


class _Ordering:
    """Which rolls to buy and how much to run off each.

    Whole rolls are bought in whole numbers; film by length is bought as it is run. For any
    worth of the sheets, what is run off each roll must be worth at least what they are: such
    cuts bound the numbers, and the cheapest numbers that keep them are tried.
    """

    def __init__(self, film: Film, rolls: Sequence[Roll], effort: Effort) -> None:
        self.film, self.rolls, self.effort = film, rolls, effort
        self.rates = [r.price * _CENTS / STEPS if r.by_length else 0.0 for r in rolls]
        self.prices = [0.0 if r.by_length else r.price * _CENTS for r in rolls]
        total = sum(
            max(along for _, along in sides) * n
            for sides, n in zip(film.sides, film.demand, strict=True)
        )
        self.total = float(total)
        self.cuts: list[tuple[list[float], float]] = []
        self.ruled_out: list[list[int]] = []
        paid = any(rate > 0.0 for rate in self.rates)
        # With film sold by length the cost decides; else every metre counts alike.
        self.weights = [rate or 1e-3 * max(self.rates) for rate in self.rates]
        if not paid:
            self.weights = [1.0] * len(rolls)
        self.by_cost = paid

    def run(self) -> _Plan:
        """The best plan found and its bounds."""
        self._learn()
        bound: float | None = None
        best: tuple[float, float, _Plan] | None = None
        for tries in range(_TRIES):
            counts, cost = self._cheapest()
            if counts is None or (best is not None and cost >= best[0] - 0.01):
                break
            search = self._search(counts)
            shelved = search.settle(self.effort, self._grain())
            bars = self._rolled(shelved.shelves, counts)
            if bars is not None:
                found = self._cost(bars)
                floor = cost
                if self.by_cost:
                    fixed = sum(n * p for n, p in zip(counts, self.prices, strict=True))
                    floor = max(cost, fixed + self._paid(shelved, search))
                plan = _Plan(bars, bound if bound is not None else floor, shelved.bound)
                if best is None or found < best[0]:
                    best = found, 0.0, plan
                if bound is None and found - floor < 0.5:
                    break
            bound = cost if bound is None else bound
            if best is not None and tries >= self.effort.rounds:
                break
            self.ruled_out.append(counts)
        if best is None:
            raise CannotCut(
                "The rolls at hand are too few or too short for the sheets. Allow another roll "
                f"of '{max(self.rolls, key=lambda r: (r.width, r.length)).name}'."
            )
        plan = best[2]
        length = plan.length_bound
        if self.by_cost:
            length = plan.length_bound / max(self.weights) if self._one_rate() else 0.0
        cost_bound = plan.cost_bound if bound is None else min(plan.cost_bound, bound)
        return _Plan(plan.bars, cost_bound, length)

    def _one_rate(self) -> bool:
        return len(set(self.weights)) == 1

    def _paid(self, shelved: Shelved, search: ShelfSearch) -> float:
        """Of a bound on weighted length, what is sure to be paid."""
        spare = sum(
            weight * run
            for weight, rate, run in zip(self.weights, self.rates, search.most, strict=True)
            if rate == 0.0 and run < math.inf
        )
        return max(0.0, shelved.bound - spare)

    def _grain(self) -> float:
        if self.by_cost:
            return 0.4
        return 0.9 * math.gcd(*_lengths(self.film))

    def _search(self, counts: Sequence[int]) -> ShelfSearch:
        most = [
            (math.inf if roll.available is None else float(roll.available * length))
            if roll.by_length
            else float(n * length)
            for n, roll, (_, length) in zip(counts, self.rolls, self.film.rolls, strict=True)
        ]
        return ShelfSearch(self.film, self.weights, most)

    def _learn(self) -> None:
        """The cut that the sheets' worth at the cheapest film makes, and that of their area."""
        area = [float(sides[0][0] * sides[0][1]) for sides in self.film.sides]
        widths = [float(width) for width, _ in self.film.rolls]
        need = sum(a * n for a, n in zip(area, self.film.demand, strict=True))
        self.cuts.append(([w / max(widths) for w in widths], need / max(widths)))
        rates = [
            roll.price / (1.0 if roll.by_length else roll.length) or 1e-3 for roll in self.rolls
        ]
        for weights in (rates, [1.0] * len(rates)):
            most = [
                math.inf if r.available is None else float(r.available * length)
                for r, (_, length) in zip(self.rolls, self.film.rolls, strict=True)
            ]
            search = ShelfSearch(self.film, weights, most)
            search.relax()
            self.cuts.append(self._cut(search))

    def _cut(self, search: ShelfSearch) -> tuple[list[float], float]:
        """What a step of each roll is worth at most, and what all sheets are worth."""
        worth = []
        for k, (family, ends) in enumerate(search.stops):
            steps = ladder(family, search.worths, self.film.rolls[k][0])
            worth.append(
                max((steps.worth(n, self.film.rolls[k][0]) / along for along, n in ends), default=0)
            )
        need = sum(w * n for w, n in zip(search.worths, self.film.demand, strict=True))
        top = max(*worth, 1e-12)
        return [w / top * (1 + 1e-9) for w in worth], need / top * (1 - 1e-9)

    def _cheapest(self) -> tuple[list[int] | None, float]:
        """Whole rolls and lengths of least cost that nothing known forbids."""
        count = len(self.rolls)
        scale = 1.0 / max(length for _, length in self.film.rolls)
        rows: list[list[float]] = []
        least: list[float] = []
        for worth, need in self.cuts:
            rows.append([0.0] * count + worth)
            least.append(need * scale)
        upper = [0.0] * (2 * count)
        for k, (roll, (_, length)) in enumerate(zip(self.rolls, self.film.rolls, strict=True)):
            enough = sum(self.film.demand)
            number = enough if roll.available is None else min(enough, roll.available)
            upper[k] = 0.0 if roll.by_length else float(number)
            upper[count + k] = number * length * scale
            if not roll.by_length:
                row = [0.0] * (2 * count)
                row[k], row[count + k] = length * scale, -1.0
                rows.append(row)
                least.append(0.0)
        for counts in self.ruled_out:
            more = [k for k in range(count) if counts[k] < upper[k]]
            start = len(upper)
            upper += [1.0] * len(more)
            for at, k in enumerate(more):
                row = [0.0] * len(upper)
                row[k], row[start + at] = 1.0, -float(counts[k] + 1)
                rows.append(row)
                least.append(0.0)
            rows.append([0.0] * start + [1.0] * len(more))
            least.append(1.0)
        matrix = np.zeros((len(rows), len(upper)))
        for at, row in enumerate(rows):
            matrix[at, : len(row)] = row
        costs = np.zeros(len(upper))
        costs[:count] = self.prices
        costs[count : 2 * count] = [rate / scale for rate in self.rates]
        whole = np.ones(len(upper), bool)
        whole[count : 2 * count] = False
        answer = whole_programme(
            costs,
            np.array(upper),
            matrix,
            np.array(least),
            np.full(len(rows), np.inf),
            whole=whole,
            nodes=_NODES,
            near=0.1,
        )
        if answer.values is None:
            return None, math.inf
        numbers = [round(v) for v in answer.values[:count]]
        # Free rolls may all be used; it costs nothing to have them in reach.
        for k, roll in enumerate(self.rolls):
            if roll.price == 0.0 and not roll.by_length:
                numbers[k] = int(upper[k])
        return numbers, answer.bound

    def _rolled(
        self, shelves: list[Shelf] | None, counts: Sequence[int]
    ) -> list[tuple[int, list[Shelf]]] | None:
        """The shelves shared out over rolls; None when they do not fit on so many."""
        if shelves is None:
            return None
        bars: list[tuple[int, list[Shelf]]] = []
        for k, (_, length) in enumerate(self.film.rolls):
            own = sorted((s for s in shelves if s.roll == k), key=lambda s: (-s.length, s.counts))
            if not own:
                continue
            sizes = tuple(sorted({s.length for s in own}, reverse=True))
            demand = tuple(sum(1 for s in own if s.length == size) for size in sizes)
            most = self.rolls[k].available if self.rolls[k].by_length else counts[k]
            job = Job(sizes, demand, (length,), (1,), (most,))
            filled = buy(job, self.effort).filled
            if filled is None:
                return None
            waiting = {size: [s for s in own if s.length == size] for size in sizes}
            for _, pattern in filled:
                bar = [waiting[sizes[i]].pop(0) for i, n in enumerate(pattern) for _ in range(n)]
                bars.append((k, bar))
        return bars

    def _cost(self, bars: list[tuple[int, list[Shelf]]]) -> float:
        return sum(
            self.prices[k] + self.rates[k] * sum(shelf.length for shelf in bar) for k, bar in bars
        )


def _placed(
    kinds: Kinds,
    film: Film,
    rolls: Sequence[Roll],
    bars: list[tuple[int, list[Shelf]]],
) -> tuple[CutRoll, ...]:
    waiting = [list(reversed(kind)) for kind in kinds.values()]
    cut: list[CutRoll] = []
    for k, bar in bars:
        y = 0
        ends: list[float] = []
        placed: list[PlacedSheet] = []
        for shelf in bar:
            x = 0
            every = [i for i, n in enumerate(shelf.counts) for _ in range(n)]
            lying = sorted(
                ((best_side(film, shelf, i), i) for i in every),
                key=lambda one: (-one[0][1], -one[0][0], one[1]),
            )
            for (across, along), i in lying:
                sheet = waiting[i].pop()
                turned = across != steps_up(sheet.width)
                placed.append(
                    PlacedSheet(sheet, metres(x), metres(y), metres(across), metres(along), turned)
                )
                x += across
            y += shelf.length
            ends.append(metres(y))
        cut.append(CutRoll(rolls[k], tuple(ends), tuple(placed)))
    return tuple(cut)
