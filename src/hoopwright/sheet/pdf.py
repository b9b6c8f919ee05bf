"""The build sheet and the card as tagged PDFs, typeset by typst with the shipped type."""

import json
import unicodedata
from collections.abc import Mapping
from dataclasses import asdict
from importlib import resources
from typing import Any

from hoopwright.drawing.font import in_type
from hoopwright.sheet.card import GUTTER, MARGIN, PAPERS, Card
from hoopwright.sheet.card_pack import Cell, is_beside
from hoopwright.sheet.content import HELD_UNITS, Block, Diagram, Document, Paper, Step


def to_pdf(document: Document) -> bytes:
    """Return the PDF; the same document gives the same bytes."""
    return typeset("sheet", document.paper, data_of(document))


def typeset(template: str, paper: Paper, data: Mapping[str, Any]) -> bytes:
    """Return what a template makes of plain data, the same bytes from the same data.

    Written to PDF/UA-1: typst refuses a picture without words, so none can slip in.
    """
    import typst  # 80 MB of typesetting, wanted by this writer alone

    whole = {**data, "paper": {"letter": "us-letter", "a4": "a4"}[paper], "units": HELD_UNITS}
    words = json.dumps(whole, ensure_ascii=False)
    with resources.as_file(resources.files("hoopwright.sheet")) as folder:

        def compiled(words: str) -> bytes:
            return typst.compile(
                folder / "templates" / f"{template}.typ",
                sys_inputs={"data": words},
                font_paths=[folder / "fonts"],
                ignore_system_fonts=True,
                format="pdf",
                pdf_standards="ua-1",
            )

        try:
            return compiled(words)
        except typst.TypstError as error:
            if "could not be displayed" not in str(error):
                raise
            # A name in a script that the shipped type has not.
            return compiled("".join(mark if _printable(mark) else "?" for mark in words))


def _printable(mark: str) -> bool:
    """Return whether the type has a letter; of signs the templates' own are taken for granted."""
    return in_type(mark) or (ord(mark) < 0x3000 and unicodedata.category(mark)[0] not in "LM")


def data_of(document: Document) -> dict[str, Any]:
    """Return the document as plain data for the template, lengths of paper in millimetres."""
    date = document.date
    return {
        "title": document.title,
        "answer": document.answer,
        "footer": document.footer,
        "date": [date.year, date.month, date.day],
        "sections": [
            {
                "key": section.key,
                "title": section.title,
                "new_page": section.new_page,
                "whole": section.whole,
                "parts": [
                    {
                        "title": part.title,
                        "half": part.half,
                        "blocks": [_block(block) for block in part.blocks],
                    }
                    for part in section.parts
                ],
            }
            for section in document.sections
        ],
    }


def _block(block: Block) -> dict[str, Any]:
    if isinstance(block, Diagram):
        return diagram_data(block)
    plain = {"kind": block.kind, **asdict(block)}
    if isinstance(block, Step):
        plain["diagram"] = diagram_data(block.diagram) if block.diagram is not None else None
    return plain


def diagram_data(diagram: Diagram) -> dict[str, Any]:
    """Return a drawing, its sizes in millimetres."""
    return {
        "kind": diagram.kind,
        "title": diagram.title,
        "svg": diagram.svg,
        "alt": diagram.alt,
        "width": 1000 * diagram.width,
        "height": 1000 * diagram.height,
    }


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
