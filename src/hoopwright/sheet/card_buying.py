"""What to buy for the card, grouped as a shop is, and what is cut from it."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.answers.spreadsheets import sold_as
from hoopwright.answers.voice import Voice, kind_of, listed, sentence
from hoopwright.cutting import CutRoll
from hoopwright.design import Design
from hoopwright.materials.order import OrderLine
from hoopwright.sheet.card_pack import Cell
from hoopwright.sheet.cuts import CutGroup, groups_of

#: Part of a shop, and the tables of the catalogue whose things stand there (common practice).
AISLES = (
    ("Lumber", ("lumber", "batten", "stake")),
    ("Pipe and its fittings", ("pipe", "rail", "clip", "strap")),
    ("Screws", ("screw",)),
    ("Film, fabric, mesh", ("cover",)),
    ("Cord", ("cord",)),
)


def buying_cells(design: Design, say: Voice) -> list[Cell]:
    """Return one cell an aisle, and the total."""
    lines = list(design.order.lines)
    cells = []
    for aisle, tables in AISLES:
        keys = {thing.key for table in tables for thing in design.catalogue.everything_in(table)}
        here = [line for line in lines if line.thing in keys]
        lines = [line for line in lines if line not in here]
        if here:
            cells.append(Cell(aisle, rows=tuple(_row(line, say) for line in here)))
    if lines:
        cells.append(Cell("Also", rows=tuple(_row(line, say) for line in lines)))
    order = design.order
    kind = "Invented example prices" if order.example_prices else "Prices"
    total = ("", "Everything to buy", say.money(order.total))
    cells.append(Cell("", rows=(total,)))
    words = [f"{kind} of {order.price_date}." if order.price_date else f"{kind}."]
    words += [f"Cannot be bought as planned: {unmet}" for unmet in order.unmet]
    cells.append(Cell("", tuple(words)))
    return cells


def _row(line: OrderLine, say: Voice) -> tuple[str, str, str]:
    what = f"{line.name}, {sold_as(line, say)}"
    if line.form == "pack":
        what += f": {line.needed} to {line.use}"
    if line.from_hand:
        what += f"; {line.from_hand} at hand"
    price = say.money(line.total) if line.buy and line.price is not None else ""
    return str(line.buy), what, price


def stick_groups(design: Design) -> Iterator[tuple[str, CutGroup, float]]:
    """Return each way a stick is cut: the thing's name, the group and the saw's cut [m]."""
    for cuts in design.order.sticks:
        for group in groups_of(cuts.plan):
            yield sentence(cuts.name), group, cuts.plan.kerf


def roll_words(cut: CutRoll, say: Voice) -> str:
    """Return the sheets cut off a roll by their numbers, along it by across it."""
    sizes: dict[tuple[str, float, float], list[str]] = {}
    for number, placed in enumerate(cut.sheets, start=1):
        key = (kind_of(placed.sheet.name), placed.length, placed.width)
        sizes.setdefault(key, []).append(str(number))
    made = [
        f"{listed(numbers)} {kind if len(numbers) == 1 else kind + 's'}, {say.area(along, across)}"
        for (kind, along, across), numbers in sizes.items()
    ]
    cuts = listed([say.tape(at) for at in cut.cross_cuts])
    return f"{say.size(cut.roll.width)} wide, off its end: {'; '.join(made)}. Cut across at {cuts}."
