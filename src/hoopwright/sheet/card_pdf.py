"""The card as a tagged PDF."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from hoopwright.sheet.card import GUTTER, MARGIN, PAPERS, Card
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
    for page, number in zip(card.pages, card.numbers, strict=True):
        width = (wide - 2 * MARGIN - (page.across - 1) * GUTTER) / page.across
        laid = [[_cell(cell, width) for cell in column] for column in page.columns]
        drawn = {"under": _picture(page.under), "columns": laid, "number": number}
        pages.append({**asdict(page), **drawn})
    return {
        "title": card.title,
        "language": card.language,
        "date": [day.year, day.month, day.day],
        "pages": pages,
    }


def _cell(cell: Cell, width: float) -> dict[str, Any]:
    drawn = {"picture": _picture(cell.picture), "beside": is_beside(cell, width)}
    return {**asdict(cell), **drawn}


def _picture(diagram: Diagram | None) -> dict[str, Any] | None:
    return None if diagram is None else diagram_data(diagram)
