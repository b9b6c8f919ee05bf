"""The printed build sheet and its page: one content model, three writers.

The writers bring their typesetting with them only when they are called.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from hoopwright import writing
from hoopwright.design import Design
from hoopwright.sheet.content import Document

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport

Format = Literal["pdf", "html", "md"]

__all__ = [
    "Document",
    "Format",
    "build_sheet",
    "write",
    "write_card",
]


def build_sheet(
    design: Design, date: datetime.date, season: SeasonReport | None = None
) -> Document:
    """Return the whole sheet of a design as content, before it is written."""
    from hoopwright.sheet.document import document_of

    return document_of(design, date, season)


def write(
    design: Design,
    path: Path | str,
    *,
    format: Format,
    date: datetime.date,
    season: SeasonReport | None = None,
) -> Document:
    """Write the build sheet to a file and return its content.

    format : pdf (tagged, for paper), html (one file that needs no other) or md
    date   : printed on every page; the same plan, prices and date give the same bytes
    season : the season worked out, for its pages; None leaves them out
    """
    document = build_sheet(design, date, season)
    writing.write(Path(path), rendered(document, format))
    return document


def write_card(
    design: Design,
    path: Path | str,
    *,
    date: datetime.date,
    language: str = "en",
    season: SeasonReport | None = None,
) -> int:
    """Write the card, a PDF of two pages (three for some long beds), and return its pages.

    language : "en", or one of the folders of sheet/locale; raises NoSuchLanguage
    season   : the season where it was worked out before, for the dates of opening
    """
    from hoopwright.sheet.card import card_of
    from hoopwright.sheet.pdf import card_pdf

    card = card_of(design, date, language, season)
    writing.write(Path(path), card_pdf(card))
    return len(card.pages)


def rendered(document: Document, format: Format) -> bytes:
    """Return a document in one of the three formats."""
    if format == "pdf":
        from hoopwright.sheet.pdf import to_pdf

        return to_pdf(document)
    if format == "html":
        from hoopwright.sheet.html import to_html

        return to_html(document).encode("utf-8")
    from hoopwright.sheet.markdown import to_markdown

    return to_markdown(document).encode("utf-8")
