"""Words that come from outside: what no page can hold, and what a spreadsheet would run."""

import csv
import io
import unicodedata
from collections.abc import Iterable

_RUN = ("=", "+", "-", "@")


def unprintable(text: str) -> str:
    """Return the first character of a text that no drawing, sheet or terminal can hold, or "".

    Control characters, line breaks among them, and marks that turn the direction of writing
    (Unicode 15, categories Cc, Zl and Zp; embeddings, overrides and isolates).
    """
    if text.isascii() and text.isprintable():
        return ""
    turns = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
    return next(
        (
            mark
            for mark in text
            if unicodedata.category(mark) in ("Cc", "Zl", "Zp", "Cs")
            or unicodedata.bidirectional(mark) in turns
        ),
        "",
    )


def for_spreadsheet(cell: object) -> object:
    """Return a cell that a spreadsheet shows and does not run: a text like a formula is quoted.

    Spreadsheets take a cell that starts with =, +, - or @ for a formula; the apostrophe before it
    says that it is text. Numbers stay numbers.
    """
    if not isinstance(cell, str) or not cell.lstrip().startswith(_RUN):
        return cell
    try:
        float(cell)
    except ValueError:
        return f"'{cell}"
    return cell


def csv_text(rows: Iterable[Iterable[object]]) -> str:
    """Return rows as the text of a CSV file for a spreadsheet, with nothing in it that runs."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(map(for_spreadsheet, row) for row in rows)
    return out.getvalue()
