"""What to buy and what to cut as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator

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
        size = size_of(line, system)
        rows.append([line.name, size, line.buy, line.from_hand, price, total, line.use])
    return csv_text(rows)


def size_of(line: OrderLine, system: System) -> str:
    """Return the size in which a line is sold, in the reader's units."""
    if line.form == "roll":
        width, length = (show(part or 0.0, "size", system) for part in (line.width, line.length))
        return f"{width} x {length} roll"
    if line.form == "stick":
        return show(line.length or 0.0, "size", system)
    return "each" if line.contents == 1 else f"pack of {line.contents}"


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
