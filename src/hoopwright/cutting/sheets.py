"""Sheets cut from rolls of film: across the roll first, then ripped along it."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from hoopwright.cutting.buying import buy
from hoopwright.cutting.greedy import StickJob
from hoopwright.cutting.rolls import RollKnowledge, Terms
from hoopwright.cutting.shelves import Film, Shelf, ShelfSearch, Shelved, best_side
from hoopwright.cutting.solver import ROUNDS
from hoopwright.cutting.stock import (
    STEPS,
    CannotCut,
    CutRoll,
    PlacedSheet,
    Roll,
    RollPlan,
    Sheet,
    metres,
    steps_down,
    steps_up,
)
from hoopwright.frozen import dataclass

_CENTS = 100
_TRIES = 60
_MORE = 0.01
"""Share more film tried at a time where rolls that should hold the sheets did not."""


def cut_sheets(sheets: Sequence[Sheet], rolls: Sequence[Roll]) -> RollPlan:
    """The cheapest way found to cut `sheets` from `rolls`, in cross-cuts and then rips.

    Least cost first, then least length run off. Each strip between two cross-cuts is ripped
    along the roll into sheets, and a sheet shorter than its strip is trimmed to length. The
    bounds hold for this way of cutting; `area_bound` holds for any. No width is lost at a
    knife cut.
    """
    kinds, film = _film(sheets, rolls)
    if not kinds:
        return RollPlan((), 0.0, 0.0, True, 0.0, True, 0.0)
    plan, tried = _off_one_roll(film, rolls), list(rolls)
    if plan is None:
        worth = _worth_trying(film, rolls)
        film = replace(film, rolls=tuple(film.rolls[k] for k in worth))
        tried = [rolls[k] for k in worth]
        plan = _Ordering(film, tried).run()
    placed = _placed(kinds, film, tried, plan.bars)
    length = sum(cut.used for cut in placed)
    cost = round(sum(r.roll.price * (r.used if r.roll.by_length else 1) for r in placed), 2)
    bound = min(plan.cost_bound / _CENTS, cost)
    proven = cost - bound < 0.5 / _CENTS
    area = math.fsum(sheet.width * sheet.length for sheet in sheets)
    area_bound = area / max(roll.width for roll in rolls)
    length_bound = min(max(plan.length_bound / STEPS, area_bound), length)
    return RollPlan(
        rolls=placed,
        cost=cost,
        bound=cost if proven else bound,
        proven=proven,
        length_bound=length_bound,
        length_proven=proven and length - length_bound < 0.5 * math.gcd(*_lengths(film)) / STEPS,
        area_bound=area_bound,
    )


def _lengths(film: Film) -> list[int]:
    return [along for sides in film.sides for _, along in sides]


def _worth_trying(film: Film, rolls: Sequence[Roll]) -> list[int]:
    """Which rolls the cheapest plan may hold: none that costs more than one which alone will do."""

    def dear(k: int) -> float:
        return rolls[k].price * (rolls[k].length if rolls[k].by_length else 1.0)

    enough = min((dear(k) for k in _alone(film, rolls)), default=math.inf)
    return [k for k, roll in enumerate(rolls) if roll.by_length or roll.price <= enough]


def _alone(film: Film, rolls: Sequence[Roll]) -> Iterator[int]:
    """Which rolls alone will do, each sheet cut off right across, the shortest way round."""
    for k, (width, length) in enumerate(film.rolls):
        ends = [
            min((end for side, end in sides if side <= width), default=math.inf)
            for sides in film.sides
        ]
        run = sum(n * end for n, end in zip(film.demand, ends, strict=True))
        if run <= length and rolls[k].available != 0:
            yield k


def cost_of_one_roll(sheets: Sequence[Sheet], rolls: Sequence[Roll]) -> float | None:
    """What `cut_sheets` would cost where one roll will plainly do and no less; None elsewhere.

    That is so where some sheet goes on no roll that is cheaper. Rolls are sold whole.
    """
    _, film = _film(sheets, rolls)
    cost = min((rolls[k].price for k in _alone(film, rolls)), default=math.inf)
    cheaper = [size for size, roll in zip(film.rolls, rolls, strict=True) if roll.price < cost]
    for sides in film.sides:
        if not any(side <= w and end <= run for side, end in sides for w, run in cheaper):
            return cost if cost < math.inf else None
    return None


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


def _off_one_roll(film: Film, rolls: Sequence[Roll]) -> _Plan | None:
    """The plan where it is plain without a solver: one sheet that lies one way, off the one roll
    that is cheapest of those that hold it. None elsewhere."""
    if film.demand != (1,) or len(film.sides[0]) > 1 or any(roll.by_length for roll in rolls):
        return None
    ((_, along),) = film.sides[0]
    prices = {k: rolls[k].price for k in _alone(film, rolls)}
    least = min(prices.values())
    cheapest = [k for k, price in prices.items() if price == least]
    if len(cheapest) > 1 or least == 0.0:
        return None
    bars = [(cheapest[0], [Shelf(cheapest[0], along, (1,))])]
    return _Plan(bars, least * _CENTS, float(along))


class _Ordering:
    """Which rolls to buy, then what to run off each, then how shelves share out over rolls."""

    def __init__(self, film: Film, rolls: Sequence[Roll]) -> None:
        self.film, self.rolls = film, rolls
        self.rates = [r.price * _CENTS / STEPS if r.by_length else 0.0 for r in rolls]
        self.prices = [0.0 if r.by_length else r.price * _CENTS for r in rolls]
        # With film sold by length the cost decides; else every metre counts alike.
        self.by_cost = any(rate > 0.0 for rate in self.rates)
        self.weights = [1.0] * len(rolls)
        if self.by_cost:
            self.weights = [rate or 1e-3 * max(self.rates) for rate in self.rates]

    def run(self) -> _Plan:
        """The best plan found and its bounds."""
        cuts = RollKnowledge(
            self.film,
            Terms(
                tuple(roll.by_length for roll in self.rolls),
                tuple(a + b for a, b in zip(self.rates, self.prices, strict=True)),
                tuple(roll.available for roll in self.rolls),
            ),
        )
        best: tuple[float, Shelved, list[tuple[int, list[Shelf]]]] | None = None
        bound = math.inf
        unsettled = 0
        for _ in range(_TRIES):
            found = cuts.cheapest()
            if found is None or (best is not None and found[1] >= best[0] - 0.4):
                bound = min(bound, math.inf if best is None else best[0])
                break
            counts, floor = found
            search = self._search(counts)
            grain = 0.4 if self.by_cost else 0.9 * math.gcd(*_lengths(self.film))
            shelved = search.settle(grain)
            if self.by_cost:
                floor = max(floor, self._paid(counts, shelved, search))
            bars = self._rolled(shelved.shelves, counts)
            if bars is not None and (best is None or self._cost(bars) < best[0]):
                best = self._cost(bars), shelved, bars
            if best is not None and best[0] - floor < 0.5:
                bound = min(bound, floor)
                break
            # Not even divisible shelves fit: these counts are out, and all that are no longer.
            if shelved.impossible and cuts.too_short(*search.limits(), counts):
                continue
            if bars is not None or not shelved.impossible:
                bound = min(bound, floor)
                unsettled += 1
                if best is not None and unsettled >= ROUNDS:
                    break
                # The bound stands; for a plan it is quicker now to try rolls with some to spare.
                if best is None:
                    cuts.slack += _MORE
            cuts.ruled_out.append(counts)
        if best is None:
            raise CannotCut(
                "The rolls are too few or too short for the sheets. Allow another roll of "
                f"'{max(self.rolls, key=lambda r: (r.width, r.length)).name}'."
            )
        length_bound = best[1].bound
        if self.by_cost:
            one_rate = len(set(self.weights)) == 1
            length_bound = length_bound / self.weights[0] if one_rate else 0.0
        return _Plan(best[2], bound, length_bound)

    def _paid(self, counts: Sequence[int], shelved: Shelved, search: ShelfSearch) -> float:
        """Of a bound on weighted length, what is sure to be paid, with the whole rolls."""
        spare = sum(
            weight * run
            for weight, rate, run in zip(self.weights, self.rates, search.most, strict=True)
            if rate == 0.0 and run < math.inf
        )
        whole = sum(n * price for n, price in zip(counts, self.prices, strict=True))
        return whole + max(0.0, shelved.bound - spare)

    def _search(self, counts: Sequence[int]) -> ShelfSearch:
        most = [
            (math.inf if roll.available is None else float(roll.available * length))
            if roll.by_length
            else float(n * length)
            for n, roll, (_, length) in zip(counts, self.rolls, self.film.rolls, strict=True)
        ]
        return ShelfSearch(self.film, self.weights, most)

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
            job = StickJob(sizes, demand, (length,), (1,), (most,))
            filled = buy(job).filled
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
