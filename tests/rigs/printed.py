"""A PDF as a reader sees it: each page's words, and where and how tall each stands.

Lines, colours and marks are struck from the pages first, for they hold no words and take the reader
most of its time; every page is read once.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import pypdf
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    PdfObject,
    StreamObject,
)

#: What shows nothing of words (ISO 32000-1, tables 59, 74 and 320): move to, line to, curve to and
#: rectangle with the numbers before them, colours, and where marked content begins and ends.
WORDLESS = re.compile(
    rb"(?:-?[\d.]+ ){2,6}[mlc]\s|(?:-?[\d.]+ ){4}re\s|/c\d+ (?:cs|CS) [\d. ]+ (?:scn|SCN)\s"
    rb"|(?:\bEMC)?/\w+<<[^<>]*>>BDC\s|\bEMC\b"
)
Matrix = tuple[float, ...]


@dataclass(frozen=True)
class Page:
    """text: as read; words: each with the matrices of page and text, and the type's size."""

    text: str
    words: tuple[tuple[str, Matrix, Matrix, float], ...]


@cache
def pages_of(data: bytes) -> tuple[Page, ...]:
    """Return what stands on each page of a PDF."""
    return tuple(_read(page) for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def _read(page: pypdf.PageObject) -> Page:
    contents, stream = page.get_contents(), StreamObject()
    assert contents is not None
    stream.set_data(WORDLESS.sub(b" ", contents.get_data()))
    page[NameObject("/Contents")] = stream
    words: list[tuple[str, Matrix, Matrix, float]] = []

    def look(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        words.append((text, tuple(cm), tuple(tm), size))

    return Page(page.extract_text(visitor_text=look), tuple(words))


def tags_of(node: PdfObject) -> Iterator[DictionaryObject]:
    """Give the tags under a node of a PDF's structure tree, in their order."""
    if isinstance(node, IndirectObject):
        held = node.get_object()
        assert held is not None
        node = held
    if isinstance(node, ArrayObject):
        for kid in node:
            yield from tags_of(kid)
    elif isinstance(node, DictionaryObject):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from tags_of(node["/K"])
