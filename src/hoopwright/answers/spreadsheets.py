"""What to buy and what to cut as rows for a spreadsheet."""

from collections.abc import Iterator

from hoopwright.answers.voice import Voice
from hoopwright.materials.order import Order, OrderLine
from hoopwright.tables.words import csv_text
from hoopwright.units import System, show

HEAD = ("from", "number", "size", "at hand", "piece", "length", "width", "starts at")


def shopping_csv(order: Order, system: System) -> str:
    """Return the shopping list as CSV text."""
    rows: list[list[object]] = [["item", "size", "buy", "at hand", "price each", "total", "for"]]
    for line in order.lines:
        price = "" if line.price is None else f"{line.price:.2f}"
        total = f"{line.total:.2f}"
        size = sold_as(line, Voice(system))
        rows.append([line.name, size, line.buy, line.from_hand, price, total, line.use])
    return csv_text(rows)


def sold_as(line: OrderLine, say: Voice) -> str:
    """Return the form a line is sold in: a length, a roll, a pack."""
    if line.form == "roll":
        width, length = say.size(line.width or 0.0), say.size(line.length or 0.0)
        return say.tell("{width} by {length} roll", width=width, length=length)
    if line.form == "stick":
        return say.size(line.length or 0.0)
    if line.contents == 1:
        return say.word("single")
    return say.tell("pack of {number}", number=str(line.contents))


def bought(line: OrderLine, say: Voice) -> tuple[str, str, str, str, str]:
    """Return how a line is sold, how many are at hand and to buy, what each and all cost."""
    price = line.price if line.buy else None
    costs = ("", "") if price is None else (say.money(price), say.money(line.total))
    return sold_as(line, say), str(line.from_hand or ""), str(line.buy or ""), *costs


def cuts_csv(order: Order, system: System) -> str:
    """Return every cut of every stick and roll, one row a piece, in the reader's units."""
    return csv_text([HEAD, *_of_sticks(order, system), *_of_rolls(order, system)])


def _of_sticks(order: Order, system: System) -> Iterator[tuple[str, ...]]:
    for cuts in order.sticks:
        for number, used in enumerate(cuts.plan.sticks, start=1):
            size = show(used.stick.length, "size", system)
            hand = "yes" if used.stick.at_hand else ""
            for piece in used.pieces:
                length = show(piece.length, "length", system)
                yield cuts.name, str(number), size, hand, piece.name, length, "", ""


def _of_rolls(order: Order, system: System) -> Iterator[tuple[str, ...]]:
    for cuts in order.rolls:
        for number, used in enumerate(cuts.plan.rolls, start=1):
            sizes = (used.roll.width, used.roll.length)
            size = " x ".join(show(part, "size", system) for part in sizes)
            for placed in used.sheets:
                width, length, start = (
                    show(part, "length", system) for part in (placed.width, placed.length, placed.y)
                )
                yield cuts.name, str(number), size, "", placed.sheet.name, length, width, start
