"""The card as a tagged PDF."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from hoopwright.sheet.card import BACK, FRONT, GUTTER, MARGIN, PAPERS, Card
from hoopwright.sheet.card_pack import Cell, is_beside
from hoopwright.sheet.content import Diagram
from hoopwright.sheet.pdf import diagram_data, typeset


def card_pdf(card: Card) -> bytes:
    """Return the card as PDF/UA-1; the same card gives the same bytes."""
    return typeset("card", card.paper, _data(card))


def _data(card: Card) -> dict[str, Any]:
    """Return the card as plain data, lengths of paper in millimetres."""
    day, (wide, _) = card.date, PAPERS[card.paper]
    pages = []
    for number, page in enumerate(card.pages):
        across = FRONT if number == 0 or page.title.endswith("cuts, continued") else BACK
        width = (wide - 2 * MARGIN - (across - 1) * GUTTER) / across
        laid = [[_cell(cell, width) for cell in column] for column in page.columns]
        drawn = {"under": _picture(page.under), "columns": laid, "across": across}
        pages.append({**asdict(page), **drawn})
    return {
        "title": f"{card.title}, card",
        "date": [day.year, day.month, day.day],
        "day": day.isoformat(),
        "pages": pages,
    }


def _cell(cell: Cell, width: float) -> dict[str, Any]:
    drawn = {"picture": _picture(cell.picture), "beside": is_beside(cell, width)}
    return {**asdict(cell), **drawn}


def _picture(diagram: Diagram | None) -> dict[str, Any] | None:
    return None if diagram is None else diagram_data(diagram)
