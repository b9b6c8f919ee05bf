"""What to take where a thing is out of stock: other forms, other kinds, and what each does."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from operator import attrgetter
from typing import Any

from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.materials.order import AtHand, name_of
from hoopwright.programme.buying import Bill, by_thing, together
from hoopwright.programme.class_file import NotSold
from hoopwright.programme.effects import Effect, changed_designs, effect, part_of
from hoopwright.tables.catalogue import Catalogue

#: Substitutes worked out for one missing thing, the likest first.
MOST_TRIED = 5


@dataclass(frozen=True)
class Substitute:
    """One way round a shortage.

    what    : in words; letters : the beds it changes, none where only the form bought changes
    adds    : to the class order as it would be with nothing missing [currency]
    refused : beds for which it does not work (cannot be built, or a check says stop)
    effect  : on the weakest bed changed; None where no bed changes
    """

    what: str
    letters: tuple[str, ...]
    adds: float
    refused: tuple[str, ...]
    effect: Effect | None


@dataclass(frozen=True)
class Shortage:
    """A missing form of a thing, the beds that would use it, and what works instead."""

    missing: NotSold
    name: str
    letters: tuple[str, ...]
    substitutes: tuple[Substitute, ...]


def shortages(
    missing: Sequence[NotSold],
    designs: Mapping[str, Design],
    at_hand: Sequence[AtHand],
    usual: Bill,
    stocked: Bill,
    tell: Callable[[float], object],
) -> tuple[Shortage, ...]:
    """Return what works instead of each missing thing that some bed would use.

    usual, stocked : bills with everything for sale, and without what is missing
    tell           : told the share that is done, way by way
    """
    total = usual.about(together((k, d.parts) for k, d in designs.items()), at_hand)
    found = []
    for number, one in enumerate(missing):
        tell(number / len(missing))
        users = tuple(
            letter for letter, design in designs.items() if one.item in by_thing(design.parts)
        )
        if users:
            part = part_of(tell, number, len(missing))
            ways = _ways(one, users, designs, at_hand, total, stocked, part)
            found.append(Shortage(one, name_of(stocked.catalogue, one.item), users, tuple(ways)))
    return tuple(found)


def _ways(
    missing: NotSold,
    users: Sequence[str],
    designs: Mapping[str, Design],
    at_hand: Sequence[AtHand],
    total: float,
    stocked: Bill,
    tell: Callable[[float], object],
) -> list[Substitute]:
    found: list[Substitute] = []
    cost = stocked.about(together((k, d.parts) for k, d in designs.items()), at_hand)
    if math.isfinite(cost):
        found.append(Substitute("The other sizes it is sold in", (), cost - total, (), None))
    candidates = list(_candidates(missing, designs[users[0]], stocked.catalogue))
    for number, (what, sets) in enumerate(candidates):
        tell(number / len(candidates))
        one = _worked(what, sets, users, designs, at_hand, total, stocked)
        if one is not None:
            found.append(one)
    return sorted(found, key=_order)


def _order(one: Substitute) -> tuple[bool, bool, float]:
    weaker = one.effect is not None and one.effect.weaker
    return (bool(one.refused), weaker, one.adds)


def _worked(
    what: str,
    sets: Mapping[str, Any],
    users: Sequence[str],
    designs: Mapping[str, Design],
    at_hand: Sequence[AtHand],
    total: float,
    stocked: Bill,
) -> Substitute | None:
    after = changed_designs({letter: designs[letter] for letter in users}, sets)
    if not after:
        return None
    parts = together((k, after.get(k, design).parts) for k, design in designs.items())
    cost = stocked.about(parts, at_hand)
    if not math.isfinite(cost):
        return None
    refused = tuple(letter for letter in users if letter not in after)
    before = {letter: designs[letter] for letter in after}
    does = effect(before, after)
    # What halves the strength of a bed works no longer in its place, however cheap.
    return None if does.halved else Substitute(what, tuple(after), cost - total, refused, does)


def _candidates(
    missing: NotSold, design: Design, catalogue: Catalogue
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield changes that do without the missing thing, the likest first."""
    for_sale = {price.thing for price in catalogue.prices}
    for table, key, closeness in _PLACES:
        here = catalogue.everything_in(table)
        own = next((record for record in here if record.key == missing.item), None)
        if own is None:
            continue
        others = [record for record in here if record.key in for_sale - {missing.item}]
        others = [record for record in others if _same_kind(table, own, record)]
        others.sort(key=lambda record: abs(closeness(record) - closeness(own)))
        for record in others[:MOST_TRIED]:
            yield record.name, {key: record.key}
    if missing.item == design.hoop.pipe.key and missing.length is not None:
        sold = [
            price.length for price in catalogue.prices_of(missing.item) if price.length is not None
        ]
        if sold and max(sold) < design.hoop.cut_length:
            sets = {"hoops.stock_length": max(sold), "hoops.height": None}
            yield "Lower hoops from the longest stick left", sets


def _same_kind(table: str, own: Any, other: Any) -> bool:
    """Return whether a thing could stand in: bent alike, of one board's height, of one kind."""
    if table == "pipe":
        return bool(own.bending == other.bending)
    if table == "lumber":
        return bool(abs(own.width - other.width) < 0.02)
    if table in ("cover", "clip"):
        return bool(own.kind == other.kind)
    return True


#: Table, the plan key that chooses from it, and what makes one thing of it like another.
_PLACES: tuple[tuple[str, str, Callable[[Any], float]], ...] = (
    ("pipe", "hoops.pipe", lambda pipe: math.log(pipe.bending_stiffness)),
    ("cover", "cover.material", lambda cover: math.log(cover.mass_per_area)),
    ("lumber", "bed.board", attrgetter("thickness")),
    ("batten", "cover.batten", attrgetter("thickness")),
    ("rail", "cover.rail", attrgetter("outside_diameter")),
    ("screw", "holding.strap_screw", attrgetter("length")),
)
