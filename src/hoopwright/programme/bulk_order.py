"""One order for a class: sticks, rolls and packs shared by all beds, never dearer than apart."""

from collections.abc import Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

from hoopwright.cutting.stock import CutPlan, Piece, RollPlan, Sheet
from hoopwright.frozen import dataclass
from hoopwright.materials.order import AtHand, Order, RollCuts, StickCuts
from hoopwright.materials.parts import Parts
from hoopwright.programme.buying import CENT, Bill, by_thing, put_together, together


@dataclass(frozen=True)
class Buyer:
    """One bed as a buyer: its letter, its parts and what its household has already."""

    letter: str
    parts: Parts
    at_hand: tuple[AtHand, ...] = ()


@dataclass(frozen=True)
class BulkOrder:
    """What a class buys together.

    order        : everything, each piece named with its bed's letter
    alone        : what each bed would pay for each thing alone, by letter and key [currency]
    without_shelf: what the class would pay with the households' own stock but no shelf
    kept_apart   : things for which no shared cutting cheaper than each for itself was found
    bounds       : by thing, the least any shared cutting can cost (of the forms and stock listed)
    """

    order: Order
    alone: dict[str, dict[str, float]]
    without_shelf: float
    kept_apart: tuple[str, ...]
    bounds: dict[str, float]

    @property
    def alone_total(self) -> float:
        """Return what all beds would pay buying each for itself, without the shelf."""
        return sum(sum(things.values()) for things in self.alone.values())

    @property
    def saving(self) -> float:
        """Return what buying together saves; the shelf is not counted in."""
        return self.alone_total - self.without_shelf

    @property
    def shelf_worth(self) -> float:
        """Return what the class shelf saves besides."""
        return self.without_shelf - self.order.total

    @property
    def gap(self) -> float:
        """Return the most that could still be saved, as a share of the order [-]."""
        total = self.order.total
        return 0.0 if total <= 0 else max(0.0, (total - sum(self.bounds.values())) / total)


def bulk_order(buyers: Sequence[Buyer], bill: Bill, shelf: Sequence[AtHand] = ()) -> BulkOrder:
    """Return the shared order of a class.

    What the beds' own plans have at hand goes into the common stock. Where the bounded search
    finds no cheaper shared cutting, each bed's own cutting is taken, so the shared order costs
    no more than the beds' orders together.
    """
    own = [item for buyer in buyers for item in buyer.at_hand]
    shared = by_thing(together((buyer.letter, buyer.parts) for buyer in buyers))
    alone: dict[str, dict[str, float]] = {buyer.letter: {} for buyer in buyers}
    singles: dict[str, list[tuple[Buyer, Order]]] = {}
    for buyer in buyers:
        for thing, parts in by_thing(together([("", buyer.parts)])).items():
            order = bill.order(thing, parts, buyer.at_hand)
            alone[buyer.letter][thing] = order.total
            singles.setdefault(thing, []).append((buyer, order))
    chosen, bounds, apart = [], {}, []
    without_shelf = 0.0
    for thing, parts in shared.items():
        best, one_by_one = _cheaper(thing, parts, [*own, *shelf], singles[thing], bill)
        plain = best
        if any(item.thing == thing for item in shelf):
            plain, _ = _cheaper(thing, parts, own, singles[thing], bill)
            # A shelf only adds to what can be used: never worse than without.
            best = plain if plain.total < best.total and not plain.unmet else best
        without_shelf += plain.total
        apart += [thing] if one_by_one else []
        bounds[thing] = _bound(best)
        chosen.append(best)
    return BulkOrder(put_together(chosen), alone, without_shelf, tuple(apart), bounds)


def _cheaper(
    thing: str,
    parts: Parts,
    at_hand: Sequence[AtHand],
    singles: Sequence[tuple[Buyer, Order]],
    bill: Bill,
) -> tuple[Order, bool]:
    """Return the shared order of one thing, or the single orders put together, if cheaper."""
    order = bill.order(thing, parts, at_hand)
    if any(single.unmet for _, single in singles):
        return order, False
    apart = sum(single.total for _, single in singles)
    if not order.unmet and order.total <= apart + CENT:
        return order, False
    named = [_named(buyer.letter, single) for buyer, single in singles]
    merged = put_together(named)
    least = _bound(order) if not order.unmet else 0.0
    sticks, rolls = _one_sticks(merged.sticks, least), _one_rolls(merged.rolls, least)
    return replace(merged, sticks=sticks, rolls=rolls), True


def _named(letter: str, held: Any) -> Any:
    """Return a bed's own order with its letter before every piece, whatever holds it."""
    if isinstance(held, Piece | Sheet):
        return replace(held, name=f"{letter} {held.name}")
    if isinstance(held, tuple):
        return tuple(_named(letter, one) for one in held)
    if is_dataclass(held) and not isinstance(held, type):
        parts = {one.name: _named(letter, getattr(held, one.name)) for one in fields(held)}
        return replace(held, **parts)
    return held


def _one_sticks(cuts: Sequence[StickCuts], least: float) -> tuple[StickCuts, ...]:
    if not cuts:
        return ()
    plans = [one.plan for one in cuts]
    cost = sum(plan.cost for plan in plans)
    whole = CutPlan(
        tuple(stick for plan in plans for stick in plan.sticks),
        cost,
        min(least, cost),
        cost - least < CENT,
        False,
        plans[0].kerf,
    )
    return (replace(cuts[0], plan=whole),)


def _one_rolls(runs: Sequence[RollCuts], least: float) -> tuple[RollCuts, ...]:
    if not runs:
        return ()
    plans = [one.plan for one in runs]
    cost = sum(plan.cost for plan in plans)
    whole = replace(
        plans[0],
        rolls=tuple(roll for plan in plans for roll in plan.rolls),
        cost=cost,
        bound=min(least, cost),
        proven=cost - least < CENT,
        length_bound=0.0,
        length_proven=False,
        area_bound=sum(plan.area_bound for plan in plans),
    )
    return (replace(runs[0], plan=whole),)


def _bound(order: Order) -> float:
    """Return the least that one thing can cost: the cutting's bound; packs are exact."""
    plans: list[CutPlan | RollPlan] = [cuts.plan for cuts in order.sticks]
    plans += [run.plan for run in order.rolls]
    if not plans:
        return order.total
    return sum(order.total if plan.proven else min(plan.bound, order.total) for plan in plans)
