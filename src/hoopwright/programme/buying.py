"""Parts bought together: the parts of several beds as one, and what they cost at the least."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from hoopwright.cutting.stock import Piece
from hoopwright.materials.order import (
    AtHand,
    Leftover,
    Order,
    OrderLine,
    cost_of_film,
    name_of,
    order_of,
)
from hoopwright.materials.parts import CountedPart, CutParts, Parts, SheetParts, one_line_each
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.people import Price

CENT = 0.005
#: Sheets of film priced together where only a difference is wanted (about three beds' worth).
FILM_AT_A_TIME = 9


def together(beds: Iterable[tuple[str, Parts]]) -> Parts:
    """Return the parts of several beds as one, each piece's name behind its bed's letter.

    An empty letter leaves the names as they are. Counted things of one kind become one line.
    """
    cut: dict[str, tuple[list[Piece], float]] = {}
    sheets: dict[str, list[SheetParts]] = {}
    counted: list[CountedPart] = []
    for letter, parts in beds:
        for part in parts.cut:
            pieces, kerf = cut.get(part.thing, ([], 0.0))
            pieces += [Piece(_named(letter, piece.name), piece.length) for piece in part.pieces]
            cut[part.thing] = (pieces, max(kerf, part.kerf))
        for film in parts.sheets:
            own = tuple(replace(one, name=_named(letter, one.name)) for one in film.sheets)
            sheets.setdefault(film.thing, []).append(SheetParts(film.thing, own))
        counted += parts.counted
    return Parts(
        tuple(CutParts(thing, tuple(pieces), kerf) for thing, (pieces, kerf) in cut.items()),
        tuple(
            SheetParts(thing, tuple(sheet for part in parts for sheet in part.sheets))
            for thing, parts in sheets.items()
        ),
        one_line_each(counted),
    )


def _named(letter: str, name: str) -> str:
    return f"{letter} {name}" if letter else name


def by_thing(parts: Parts) -> dict[str, Parts]:
    """Return the parts of each thing alone, by its key."""
    single: dict[str, Parts] = {}
    for cut in parts.cut:
        single[cut.thing] = Parts((cut,), (), ())
    for film in parts.sheets:
        single[film.thing] = Parts((), (film,), ())
    for counted in parts.counted:
        before = single.get(counted.thing, Parts((), (), ()))
        single[counted.thing] = replace(before, counted=(*before.counted, counted))
    return single


@dataclass
class Bill:
    """What parts cost, each thing's cutting worked out once however often it is asked for.

    catalogue : the price list
    gone      : keys of things of which no form at all is for sale
    """

    catalogue: Catalogue
    gone: frozenset[str] = frozenset()
    known: dict[object, Order] = field(default_factory=dict)
    plain: dict[object, float | None] = field(default_factory=dict)

    def order(self, thing: str, parts: Parts, at_hand: Sequence[AtHand] = ()) -> Order:
        """Return the order of one thing with its pieces by their names."""
        return self.priced(thing, parts, at_hand, (_names(parts),))

    def priced(
        self,
        thing: str,
        parts: Parts,
        at_hand: Sequence[AtHand] = (),
        names: tuple[object, ...] = (),
    ) -> Order:
        """Return the order of one thing; pieces have the names of who asked first."""
        own = tuple(item for item in at_hand if item.thing == thing)
        key = (thing, _sizes(parts), own, *names)
        if key not in self.known:
            self.known[key] = (
                self._unmet(thing) if thing in self.gone else order_of(parts, self.catalogue, own)
            )
        return self.known[key]

    def _unmet(self, thing: str) -> Order:
        says = f"{name_of(self.catalogue, thing)}: out of stock in every form"
        return Order((), (), (), (), False, "", self.catalogue.currency, (says,))

    def total(self, parts: Parts, at_hand: Sequence[AtHand] = ()) -> float:
        """Return what all these parts cost; infinite where something cannot be had."""
        single = by_thing(parts).items()
        return round(sum(self.cost(thing, one, at_hand) for thing, one in single), 2)

    def cost(self, thing: str, parts: Parts, at_hand: Sequence[AtHand] = ()) -> float:
        """Return what one thing costs; infinite where it cannot be had."""
        own = any(item.thing == thing for item in at_hand)
        if parts.sheets and not (own or parts.counted or thing in self.gone):
            key = (thing, _sizes(parts))
            if key not in self.plain:
                self.plain[key] = cost_of_film(parts.sheets[0], self.catalogue)
            found = self.plain[key]
            if found is not None:
                return found
        order = self.priced(thing, parts, at_hand)
        return float("inf") if order.unmet else order.total

    def added(self, before: Parts, after: Parts, at_hand: Sequence[AtHand] = ()) -> float:
        """Return what parts cost more than others; not finite where something cannot be had.

        Things alike in both are not priced.
        """
        own, new = by_thing(before), by_thing(after)
        alike = {
            thing for thing in own if thing in new and _sizes(own[thing]) == _sizes(new[thing])
        }
        new_cost, own_cost = (
            sum(
                self.cost(thing, parts, at_hand)
                for thing, parts in one.items()
                if thing not in alike
            )
            for one in (new, own)
        )
        return new_cost - own_cost

    def about(self, parts: Parts, at_hand: Sequence[AtHand] = ()) -> float:
        """Return what parts cost with film bought by a few beds at a time; infinite as above.

        Sharing rolls among all beds takes seconds to work out, too long for each of many what-ifs.
        Held against another such figure it tells what a change adds or saves.
        """
        cost = self.total(replace(parts, sheets=()), at_hand)
        for film in parts.sheets:
            for first in range(0, len(film.sheets), FILM_AT_A_TIME):
                some = SheetParts(film.thing, film.sheets[first : first + FILM_AT_A_TIME])
                cost += self.total(Parts((), (some,), ()), at_hand if first == 0 else ())
        return round(cost, 2)


def _names(parts: Parts) -> object:
    return (
        tuple((piece.name, piece.length) for cut in parts.cut for piece in cut.pieces),
        tuple((sheet.name, sheet.length) for film in parts.sheets for sheet in film.sheets),
    )


def _sizes(parts: Parts) -> object:
    return (
        tuple(
            (round(cut.kerf, 6), tuple(sorted(round(piece.length, 6) for piece in cut.pieces)))
            for cut in parts.cut
        ),
        tuple(
            tuple(sorted((round(s.width, 6), round(s.length, 6), s.may_turn) for s in film.sheets))
            for film in parts.sheets
        ),
        tuple(counted.count for counted in parts.counted),
    )


def put_together(orders: Sequence[Order]) -> Order:
    """Return several orders as one: lines of the same thing in the same form added up.

    Nothing is cut anew, so the whole costs what the orders cost.
    """
    lines: dict[object, OrderLine] = {}
    for line in (line for order in orders for line in order.lines):
        key = (line.thing, line.form, line.length, line.width, line.contents)
        before = lines.get(key)
        lines[key] = line if before is None else _added(before, line)
    leftovers: dict[object, Leftover] = {}
    for left in (left for order in orders for left in order.leftovers):
        size = (left.name, left.length, left.width)
        before_left = leftovers.get(size)
        count = left.count + (before_left.count if before_left else 0)
        leftovers[size] = replace(left, count=count)
    return Order(
        tuple(cuts for order in orders for cuts in order.sticks),
        tuple(run for order in orders for run in order.rolls),
        tuple(lines.values()),
        tuple(leftovers.values()),
        example_prices=any(order.example_prices for order in orders),
        price_date=max((order.price_date for order in orders), default=""),
        currency=next((order.currency for order in orders), "USD"),
        unmet=tuple(says for order in orders for says in order.unmet),
    )


def _added(one: OrderLine, other: OrderLine) -> OrderLine:
    return replace(
        one,
        buy=one.buy + other.buy,
        from_hand=one.from_hand + other.from_hand,
        needed=one.needed + other.needed,
        use=", ".join(dict.fromkeys((one.use, other.use))),
    )


def without_forms(
    catalogue: Catalogue, missing: Iterable[tuple[str, float | None, float | None]]
) -> Bill:
    """Return a bill on the catalogue without the prices of forms that are out of stock.

    missing : (key, length [m] or None, width [m] or None); None takes every length or width
    """
    gone = list(missing)
    kept = tuple(
        price
        for price in catalogue.prices
        if not any(price.thing == key and _is_form(price, *size) for key, *size in gone)
    )
    thinned = Catalogue(catalogue.overlays)
    # `prices` is worked out once and kept in the instance; here it is put there beforehand.
    vars(thinned)["prices"] = kept
    left = {price.thing for price in kept}
    return Bill(thinned, frozenset(key for key, *_ in gone if key not in left))


def _is_form(price: Price, length: float | None, width: float | None) -> bool:
    same_length = length is None or (
        price.length is not None and abs(price.length - length) < 0.0005
    )
    same_width = width is None or (price.width is not None and abs(price.width - width) < 0.0005)
    return same_length and same_width
