"""Over or under budget, and what could be left out: features first, then beds."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.materials.order import AtHand
from hoopwright.plan.model import Plan
from hoopwright.programme.bulk_order import Buyer
from hoopwright.programme.buying import Bill, together
from hoopwright.programme.effects import Effect, changed_designs, effect, part_of
from hoopwright.programme.shares import BedShare

Wanted = Callable[[Plan], bool]

#: What can be left out of a bed that has it: in words, when it applies, the keys it sets.
OPTIONS: tuple[tuple[str, Wanted, Mapping[str, Any]], ...] = (
    ("No cord laced over the film", lambda p: p.cover.lacing, {"cover.lacing": False}),
    (
        "No ridge line (only taut film then keeps the hoops upright)",
        lambda p: p.hoops.ridge != "none",
        {"hoops.ridge": "none"},
    ),
    ("No stakes", lambda p: p.holding.stakes != "none", {"holding.stakes": "none"}),
    ("No ties under the soil", lambda p: p.holding.tied_to_soil, {"holding.tied_to_soil": False}),
    (
        "One strap on each leg instead of two",
        lambda p: p.hoops.straps_per_leg == 2 and p.holding.legs == "straps",
        {"hoops.straps_per_leg": 1},
    ),
    (
        "One side rolls up, the other is fixed",
        lambda p: p.cover.roll_up == "both",
        {"cover.roll_up": "one"},
    ),
    (
        "No boards bought: households bring their own boxes",
        lambda p: p.bed.box == "new",
        {"bed.box": "standing"},
    ),
)


@dataclass(frozen=True)
class LeftOut:
    """Something left out of all beds that have it.

    letters : the beds it is left out of
    saves   : off the class order [currency], at what shared sticks and packs then cost (film as
              a few beds at a time would share it)
    effect  : on the weakest of those beds
    """

    what: str
    letters: tuple[str, ...]
    saves: float
    effect: Effect


@dataclass(frozen=True)
class Budget:
    """A budget held against the order.

    left     : what remains of it [currency]; negative where the order is over it
    left_out : what would save most, the most first, each alone
    dropped  : the fewest beds whose leaving brings the order under budget; empty where none need
    dropped_total : what the order costs without them
    """

    budget: float
    total: float
    left_out: tuple[LeftOut, ...]
    dropped: tuple[str, ...]
    dropped_total: float

    @property
    def left(self) -> float:
        """Return what remains of the budget; negative where it is overspent."""
        return self.budget - self.total


def left_out(
    designs: Mapping[str, Design],
    at_hand: Sequence[AtHand],
    bill: Bill,
    tell: Callable[[float], object],
) -> tuple[LeftOut, ...]:
    """Return each thing that could be left out of the class with what it saves, most first.

    tell : told the share that is done, bed by bed
    """
    found = []
    total = bill.about(together((k, design.parts) for k, design in designs.items()), at_hand)
    for option, (what, wanted, sets) in enumerate(OPTIONS):
        after = changed_designs(designs, sets, wanted, part_of(tell, option, len(OPTIONS)))
        if not after:
            continue
        parts = together(
            (letter, after.get(letter, design).parts) for letter, design in designs.items()
        )
        saves = total - bill.about(parts, at_hand)
        if saves > 0.005:
            before = {letter: designs[letter] for letter in after}
            found.append(LeftOut(what, tuple(after), saves, effect(before, after)))
    return tuple(sorted(found, key=lambda one: -one.saves))


def budget_of(
    budget: float,
    designs: Mapping[str, Design],
    buyers: Sequence[Buyer],
    shares: Sequence[BedShare],
    total: float,
    shelf: Sequence[AtHand],
    bill: Bill,
    tell: Callable[[float], object],
) -> Budget:
    """Return how the order stands to a budget and, where it is over, what to leave out."""
    if total <= budget:
        return Budget(budget, total, (), (), total)
    options = left_out(designs, _all_at_hand(buyers, shelf), bill, tell)
    dropped, cost = _drop(budget, buyers, shares, total, shelf, bill)
    return Budget(budget, total, options, dropped, cost)


def _drop(
    budget: float,
    buyers: Sequence[Buyer],
    shares: Sequence[BedShare],
    total: float,
    shelf: Sequence[AtHand],
    bill: Bill,
) -> tuple[tuple[str, ...], float]:
    """Return beds to drop, the dearest share first, until what is left is within budget."""
    by_share = sorted(shares, key=lambda share: (-share.pays, share.letter))
    gone: list[str] = []
    cost, guess = total, total
    for share in by_share[:-1]:
        gone.append(share.letter)
        guess -= share.pays
        if guess > budget:
            continue
        kept = [buyer for buyer in buyers if buyer.letter not in gone]
        parts = together((buyer.letter, buyer.parts) for buyer in kept)
        cost = bill.total(parts, _all_at_hand(kept, shelf))
        if cost <= budget:
            return tuple(gone), cost
    return (), total


def _all_at_hand(buyers: Sequence[Buyer], shelf: Sequence[AtHand]) -> list[AtHand]:
    return [*(item for buyer in buyers for item in buyer.at_hand), *shelf]
