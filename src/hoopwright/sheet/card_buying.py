"""What to buy for the card, grouped as a shop is, and what is cut from it."""

from collections.abc import Iterator

from hoopwright.answers.spreadsheets import sold_as
from hoopwright.answers.voice import Voice, kind_of, message, sentence
from hoopwright.cutting import CutRoll
from hoopwright.design import Design
from hoopwright.materials.order import OrderLine
from hoopwright.sheet.card_pack import COST_WIDTH, COUNT_WIDTH, Cell, lines_of
from hoopwright.sheet.cuts import CutGroup, groups_of

#: Part of a shop, and the tables of the catalogue whose things stand there (common practice).
AISLES = (
    (message("Lumber"), ("lumber", "batten", "stake")),
    (message("Pipe and its fittings"), ("pipe", "rail", "clip", "rail_clip", "strap")),
    (message("Screws"), ("screw",)),
    (message("Film, fabric, mesh"), ("cover",)),
    (message("Cord"), ("cord",)),
)


def buying_cells(design: Design, width: float, say: Voice) -> list[Cell]:
    """Return one cell an aisle, and the total."""

    def rows(lines: list[OrderLine]) -> tuple[tuple[str, str, str], ...]:
        return tuple(_row(design, line, width, say) for line in lines)

    lines = list(design.order.lines)
    cells = []
    for aisle, tables in AISLES:
        keys = {thing.key for table in tables for thing in design.catalogue.everything_in(table)}
        here = [line for line in lines if line.thing in keys]
        lines = [line for line in lines if line not in here]
        if here:
            cells.append(Cell(say.word(aisle), rows=rows(here)))
    if lines:
        cells.append(Cell(say.tell("Also"), rows=rows(lines)))
    order = design.order
    kind = say.tell("Invented example prices") if order.example_prices else say.tell("Prices")
    total = ("", say.tell("Everything to buy"), say.money(order.total))
    cells.append(Cell("", rows=(total,)))
    dated = say.tell("{prices} of {date}.", prices=kind, date=order.price_date)
    words = [dated if order.price_date else f"{kind}."]
    words += [say.tell("Cannot be bought as planned: {what}", what=what) for what in order.unmet]
    cells.append(Cell("", tuple(words)))
    return cells


def _row(design: Design, line: OrderLine, width: float, say: Voice) -> tuple[str, str, str]:
    """Return what to buy by the shop's label, and in the own word if it costs no line."""
    what = f", {sold_as(line, say)}"
    if line.form == "pack":
        parts = [part for part in design.parts.counted if part.thing == line.thing]
        counts = [(str(part.count), say.word(part.use)) for part in parts]
        uses = [say.tell("{count} to {use}", count=count, use=use) for count, use in counts]
        what += f": {say.listed(uses)}"
    if line.from_hand:
        what += say.tell("; {count} at hand", count=str(line.from_hand))
    price = say.money(line.total) if line.buy and line.price is not None else ""
    label, named = f"{line.name}{what}", f"{say.named(line.name)}{what}"
    room = width - COUNT_WIDTH - COST_WIDTH - 0.002
    longer = lines_of(named, room) > lines_of(label, room)
    return str(line.buy), label if longer else named, price


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
        f"{say.listed(numbers)} {say.noun(len(numbers), kind)}, {say.area(along, across)}"
        for (kind, along, across), numbers in sizes.items()
    ]
    return say.tell(
        "{width} wide, off its end: {sheets}. Cut across at {cuts}.",
        width=say.size(cut.roll.width),
        sheets="; ".join(made),
        cuts=say.listed([say.tape(at) for at in cut.cross_cuts]),
    )
