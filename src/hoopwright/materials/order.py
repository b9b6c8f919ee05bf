"""From parts to an order: what to cut from which stick, what to buy, what it costs."""

import math
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from hoopwright.cutting.sheets import cost_of_one_roll, cut_sheets
from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import CannotCut, CutPlan, Piece, Roll, RollPlan, Sheet, Stick
from hoopwright.frozen import dataclass
from hoopwright.materials.packs import Pack, cheapest_packs
from hoopwright.materials.parts import CountedPart, CutParts, Parts, SheetParts, one_line_each
from hoopwright.tables.catalogue import PRICED, Catalogue

Form = Literal["stick", "roll", "pack"]
Size = tuple[float | None, float]
OFFCUT_WORTH_KEEPING = 0.3048


@dataclass(frozen=True)
class AtHand:
    """Something the person already has: lengths and widths in [m]."""

    thing: str
    count: int
    length: float | None = None
    width: float | None = None


@dataclass(frozen=True)
class OrderLine:
    """One line of the shopping list.

    form    : how it is sold; length, width [m] and contents (pieces in a pack) say which size
    buy     : how many to buy; from_hand : how many of this size (or pieces) are used from stock
    needed  : pieces or counts wanted of the thing altogether
    price   : of one, or None where no price is listed
    """

    thing: str
    name: str
    form: Form
    length: float | None
    width: float | None
    contents: int | None
    buy: int
    from_hand: int
    needed: int
    use: str
    price: float | None

    @property
    def total(self) -> float:
        """Return what this line costs; 0 where no price is listed."""
        return self.buy * self.price if self.price is not None else 0.0


@dataclass(frozen=True)
class StickCuts:
    """How the pieces of one thing are cut from its sticks."""

    thing: str
    name: str
    plan: CutPlan


@dataclass(frozen=True)
class RollCuts:
    """How the sheets of one cover material are cut off its rolls."""

    thing: str
    name: str
    plan: RollPlan


@dataclass(frozen=True)
class Leftover:
    """What remains and is worth keeping: an offcut [m], or pieces of an opened pack."""

    name: str
    length: float | None
    width: float | None
    count: int


@dataclass(frozen=True)
class Order:
    """The whole order of one bed.

    example_prices : True where any price comes from the invented example list
    price_date     : year and month of the latest price list used
    unmet          : sentences, one for each thing that cannot be cut or is not sold
    """

    sticks: tuple[StickCuts, ...]
    rolls: tuple[RollCuts, ...]
    lines: tuple[OrderLine, ...]
    leftovers: tuple[Leftover, ...]
    example_prices: bool
    price_date: str
    currency: str
    unmet: tuple[str, ...]

    @property
    def total(self) -> float:
        """Return the cost of everything to buy."""
        return sum(line.total for line in self.lines)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Return the names of things to buy that have no price."""
        return tuple(line.name for line in self.lines if line.price is None and line.buy)


def order_of(parts: Parts, catalogue: Catalogue, at_hand: Sequence[AtHand]) -> Order:
    """Return the cheapest order for these parts, with every cut."""
    sticks, rolls, lines, leftovers, unmet = [], [], [], [], []
    for cut in parts.cut:
        try:
            cuts = _cut_sticks(cut, catalogue, at_hand)
        except CannotCut as error:
            unmet.append(f"{name_of(catalogue, cut.thing)}: {error}")
            continue
        sticks.append(cuts)
        lines += _stick_lines(cuts, catalogue, cut)
        leftovers += _stick_leftovers(cuts)
    for sheets in parts.sheets:
        try:
            run = _cut_rolls(sheets, catalogue, at_hand)
        except CannotCut as error:
            unmet.append(f"{name_of(catalogue, sheets.thing)}: {error}")
            continue
        rolls.append(run)
        lines += _roll_lines(run, catalogue, sheets)
        leftovers += _roll_leftovers(run)
    for counted in one_line_each(parts.counted):
        new, spare = _pack_lines(counted, catalogue, at_hand)
        lines += new
        leftovers += spare
    used = [price for line in lines for price in catalogue.prices_of(line.thing)]
    return Order(
        tuple(sticks),
        tuple(rolls),
        tuple(lines),
        tuple(leftovers),
        example_prices=any(price.example == "yes" for price in used),
        price_date=max((price.date for price in used), default=""),
        currency=catalogue.currency,
        unmet=tuple(unmet),
    )


def name_of(catalogue: Catalogue, thing: str) -> str:
    """Return what a person calls a thing of the catalogue."""
    for table in PRICED:
        for record in catalogue.everything_in(table):
            if record.key == thing:
                return str(record.name)
    return thing


# Most changes of a plan leave most of its cuts alone.
@lru_cache(maxsize=256)
def _sticks_cut(pieces: tuple[Piece, ...], sticks: tuple[Stick, ...], kerf: float) -> CutPlan:
    return cut_sticks(pieces, sticks, kerf)


@lru_cache(maxsize=64)
def _sheets_cut(sheets: tuple[Sheet, ...], rolls: tuple[Roll, ...]) -> RollPlan:
    return cut_sheets(sheets, rolls)


def _cut_sticks(cut: CutParts, catalogue: Catalogue, at_hand: Sequence[AtHand]) -> StickCuts:
    own = [
        Stick(f"at hand {_mm(item.length)}", item.length, 0.0, item.count)
        for item in at_hand
        if item.thing == cut.thing and item.length is not None
    ]
    sold = [
        Stick(f"{price.sold_as} {_mm(price.length)}", price.length, price.price)
        for price in catalogue.prices_of(cut.thing)
        if price.length is not None and price.sold_as in ("stick", "coil")
    ]
    # Without a price the least length bought is the best that can be said.
    sold = sold or [
        Stick(f"stick {_mm(length)}", length, length) for length in _lengths(catalogue, cut.thing)
    ]
    plan = _sticks_cut(tuple(cut.pieces), (*own, *sold), cut.kerf)
    return StickCuts(cut.thing, name_of(catalogue, cut.thing), plan)


def _lengths(catalogue: Catalogue, thing: str) -> tuple[float, ...]:
    for table in ("pipe", "lumber", "batten", "rail", "clip", "stake", "cord"):
        for record in catalogue.everything_in(table):
            if record.key == thing:
                return tuple(record.stock_lengths)
    return ()


def _stick_lines(cuts: StickCuts, catalogue: Catalogue, cut: CutParts) -> list[OrderLine]:
    used = [((None, one.stick.length), one.stick.at_hand) for one in cuts.plan.sticks]
    return _lines(cuts, catalogue, "stick", used, [piece.name for piece in cut.pieces])


def _roll_lines(run: RollCuts, catalogue: Catalogue, sheets: SheetParts) -> list[OrderLine]:
    used = [((one.roll.width, one.roll.length), one.roll.at_hand) for one in run.plan.rolls]
    return _lines(run, catalogue, "roll", used, [sheet.name for sheet in sheets.sheets])


def _lines(
    cuts: StickCuts | RollCuts,
    catalogue: Catalogue,
    form: Form,
    used: Sequence[tuple[Size, bool]],
    names: Sequence[str],
) -> list[OrderLine]:
    """Return a line for each size used, smallest first.

    used : width [m] (None for sticks) and length [m] of each cut into, and whether it was at hand
    """
    prices = {
        _size(None if form == "stick" else price.width, price.length): price.price
        for price in catalogue.prices_of(cuts.thing)
        if price.length is not None
    }
    sizes = [_size(*size) for size, _ in used]
    own = Counter(size for size, (_, at_hand) in zip(sizes, used, strict=True) if at_hand)
    return [
        OrderLine(
            thing=cuts.thing,
            name=cuts.name,
            form=form,
            length=length,
            width=width,
            contents=None,
            buy=sizes.count((width, length)) - own[width, length],
            from_hand=own[width, length],
            needed=len(names),
            use=_uses(names),
            price=prices.get((width, length)),
        )
        for width, length in sorted(set(sizes), key=lambda size: (size[0] or 0.0, size[1]))
    ]


def _size(width: float | None, length: float | None) -> tuple[float | None, float]:
    return (None if width is None else round(width, 6), round(length or 0.0, 6))


def _uses(names: Sequence[str]) -> str:
    """Return what pieces are for: their names without the numbers, each once."""
    plain = [" ".join(word for word in name.split() if not word.isdigit()) for name in names]
    seen = list(dict.fromkeys(plain))
    return ", ".join(f"{plain.count(name)} {name}" for name in seen)


def _stick_leftovers(cuts: StickCuts) -> list[Leftover]:
    kept = [used.left for used in cuts.plan.sticks if used.left >= OFFCUT_WORTH_KEEPING]
    rounded = [round(length, 4) for length in kept]
    return [
        Leftover(cuts.name, length, None, rounded.count(length))
        for length in sorted(set(rounded), reverse=True)
    ]


def _cut_rolls(sheets: SheetParts, catalogue: Catalogue, at_hand: Sequence[AtHand]) -> RollCuts:
    own = [
        Roll(f"at hand {_mm(item.width)}", item.width, item.length, 0.0, item.count)
        for item in at_hand
        if item.thing == sheets.thing and item.width is not None and item.length is not None
    ]
    sold = _rolls_sold(sheets.thing, catalogue) or [
        Roll(f"roll {_mm(roll.width)}", roll.width, roll.length, roll.width * roll.length)
        for roll in catalogue.cover(sheets.thing).rolls
    ]
    plan = _sheets_cut(tuple(sheets.sheets), (*own, *sold))
    return RollCuts(sheets.thing, name_of(catalogue, sheets.thing), plan)


def _rolls_sold(thing: str, catalogue: Catalogue) -> list[Roll]:
    return [
        Roll(f"roll {_mm(price.width)}", price.width, price.length, price.price)
        for price in catalogue.prices_of(thing)
        if price.width is not None and price.length is not None
    ]


def cost_of_film(sheets: SheetParts, catalogue: Catalogue) -> float | None:
    """Return what sheets cost where that is plain, for one roll will do; else None."""
    sold = _rolls_sold(sheets.thing, catalogue)
    try:
        return cost_of_one_roll(sheets.sheets, sold) if sold and sheets.sheets else None
    except CannotCut:
        return None


def _roll_leftovers(run: RollCuts) -> list[Leftover]:
    return [
        Leftover(run.name, cut.left, cut.roll.width, 1)
        for cut in run.plan.rolls
        if cut.left >= OFFCUT_WORTH_KEEPING
    ]


def _pack_lines(
    part: CountedPart, catalogue: Catalogue, at_hand: Sequence[AtHand]
) -> tuple[list[OrderLine], list[Leftover]]:
    name = name_of(catalogue, part.thing)
    own = min(part.count, sum(item.count for item in at_hand if item.thing == part.thing))
    needed = part.count - own
    packs = [
        Pack(round(price.count or 1), price.price) for price in catalogue.prices_of(part.thing)
    ]
    priced = bool(packs)
    chosen = cheapest_packs(needed, packs or [Pack(1, 1.0)])
    lines = [
        OrderLine(
            thing=part.thing,
            name=name,
            form="pack",
            length=None,
            width=None,
            contents=pack.count,
            buy=number,
            from_hand=own if index == 0 else 0,
            needed=part.count,
            use=part.use,
            price=pack.price if priced else None,
        )
        for index, (pack, number) in enumerate(chosen)
    ]
    if not chosen:
        lines = [
            OrderLine(part.thing, name, "pack", None, None, 1, 0, own, part.count, part.use, None)
        ]
    spare = sum(pack.count * number for pack, number in chosen) - needed
    return lines, [Leftover(name, None, None, spare)] if spare else []


def _mm(length: float | None) -> str:
    return f"{math.floor((length or 0.0) * 1000 + 0.5)} mm"
