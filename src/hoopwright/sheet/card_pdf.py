"""The card as a tagged PDF."""

from __future__ import annotations

import json
from importlib import resources
from typing import Any

from hoopwright.sheet.card import BACK, FRONT, GUTTER, MARGIN, PAPERS, Card
from hoopwright.sheet.card_pack import Cell, is_beside
from hoopwright.sheet.content import Diagram

_PAPER = {"letter": "us-letter", "a4": "a4"}


def card_pdf(card: Card) -> bytes:
    """Return the card as PDF/UA-1; the same card gives the same bytes."""
    import typst  # 80 MB of typesetting, wanted by the writers alone

    with resources.as_file(resources.files("hoopwright.sheet")) as folder:
        return typst.compile(
            folder / "templates" / "card.typ",
            sys_inputs={"data": json.dumps(_data(card), ensure_ascii=False)},
            font_paths=[folder / "fonts"],
            ignore_system_fonts=True,
            format="pdf",
            pdf_standards="ua-1",
        )


def _data(card: Card) -> dict[str, Any]:
    """Return the card as plain data, lengths of paper in millimetres."""
    day, (wide, _) = card.date, PAPERS[card.paper]
    pages = []
    for number, page in enumerate(card.pages):
        across = FRONT if number == 0 or page.title.endswith("cuts, continued") else BACK
        width = (wide - 2 * MARGIN - (across - 1) * GUTTER) / across
        pages.append(
            {
                "title": page.title,
                "words": page.words,
                "columns": [[_cell(cell, width) for cell in column] for column in page.columns],
                "across": across,
                "ruler": page.ruler,
                "under": _diagram(page.under),
                "foot": page.foot,
            }
        )
    return {
        "title": f"{card.title}, card",
        "paper": _PAPER[card.paper],
        "date": [day.year, day.month, day.day],
        "day": day.isoformat(),
        "pages": pages,
    }


def _cell(cell: Cell, width: float) -> dict[str, Any]:
    return {
        "title": cell.title,
        "number": cell.number,
        "words": cell.words,
        "picture": _diagram(cell.picture),
        "run-in": cell.run_in,
        "beside": is_beside(cell, width),
        "rows": cell.rows,
        "cautions": [{"letter": one.letter, "text": one.text} for one in cell.cautions],
        "marks": cell.marks,
    }


def _diagram(diagram: Diagram | None) -> dict[str, Any] | None:
    if diagram is None:
        return None
    return {"svg": diagram.svg, "alt": diagram.alt, "width": 1000 * diagram.width}
