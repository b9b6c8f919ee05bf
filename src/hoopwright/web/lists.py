"""The cut list as rows for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from hoopwright.materials.order import Order
from hoopwright.units import System, show

HEAD = ("from", "number", "size", "at hand", "piece", "length", "width", "starts at")


def cuts_csv(order: Order, system: System) -> str:
    """Return every cut of every stick and roll, one row a piece, in the reader's units."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(HEAD)
    rows.writerows(_of_sticks(order, system))
    rows.writerows(_of_rolls(order, system))
    return out.getvalue()


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
