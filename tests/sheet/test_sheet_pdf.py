"""The PDF: its numbers, its pages, its tags, and the same bytes twice."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache

import pypdf
import pytest
from parts import diagrams_of, tables_of
from printed import pages_of, tags_of

from hoopwright.sheet.content import Document
from hoopwright.sheet.pdf import to_pdf


@cache
def pdf_of(sheet: Document) -> bytes:
    return to_pdf(sheet)


@cache
def reader(sheet: Document) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf_of(sheet)))


def squeezed(words: str) -> str:
    return re.sub(r"\s+", "", words)


@cache
def text_of(sheet: Document) -> str:
    return "".join(pages_squeezed(sheet))


@cache
def pages_squeezed(sheet: Document) -> tuple[str, ...]:
    return tuple(squeezed(page.text) for page in pages_of(pdf_of(sheet)))


def test_every_number_of_the_tables_is_in_the_pdf(a_sheet: Document) -> None:
    text = text_of(a_sheet)
    for table in tables_of(a_sheet):
        for row in (*table.rows, table.foot):
            for cell in row:
                assert squeezed(cell) in text, cell


def test_every_sentence_of_the_steps_is_in_the_pdf(a_sheet: Document) -> None:
    text = text_of(a_sheet)
    for step in a_sheet.steps():
        for sentence in step.sentences:
            # A sentence may be cut in two by a page's foot: its numbers may not be lost.
            for number in re.findall(r"\d[\d ]*/\d+|\d[\d.,]*\d|\d", sentence):
                assert squeezed(number) in text, sentence


@pytest.mark.parametrize(
    ("name", "size"),
    [("demo", (612, 792)), ("demo-metric", (595.28, 841.89)), ("small", (595.28, 841.89))],
)
def test_pages_are_letter_or_a4(
    sheets: dict[str, Document], name: str, size: tuple[float, float]
) -> None:
    """US Letter is 8 1/2 by 11 in; A4 is 210 by 297 mm (ISO 216); in points of 1/72 in."""
    for page in reader(sheets[name]).pages:
        assert float(page.mediabox.width) == pytest.approx(size[0], abs=0.01)
        assert float(page.mediabox.height) == pytest.approx(size[1], abs=0.01)


def test_the_first_page_shows_bed_facts_and_cautions(a_sheet: Document) -> None:
    first = pages_squeezed(a_sheet)[0]
    for words in (a_sheet.title, "Cautions", "Hoops", "Cost", "Local codes come first"):
        assert squeezed(words) in first


def test_page_one_says_what_stands_on_which_page(a_sheet: Document) -> None:
    """Every section's heading is on the page that the first page's contents give it."""
    pages = pages_squeezed(a_sheet)
    contents = pages[0].split("Onpage:")[1]
    for section in a_sheet.sections[1:]:
        title = squeezed(section.title)
        found = re.match(r"\d+", contents.split(title, 1)[1])
        assert found is not None, title
        assert title in pages[int(found.group()) - 1], title


def test_it_is_tagged_for_screen_readers(a_sheet: Document) -> None:
    """PDF/UA-1 (ISO 14289-1) asks for a tagged file with a language and a title."""
    file = reader(a_sheet)
    root = file.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert file.metadata is not None
    assert file.metadata.title == a_sheet.title
    assert b"pdfuaid:part" in root["/Metadata"].get_object().get_data()
    found = list(tags_of(root["/StructTreeRoot"]))
    kinds = [str(tag["/S"]) for tag in found]
    assert kinds.count("/Table") == len(list(tables_of(a_sheet)))
    assert kinds.count("/TH") == sum(len(table.columns) for table in tables_of(a_sheet))
    told = [str(tag["/Alt"]) for tag in found if tag["/S"] == "/Figure"]
    assert sorted(told) == sorted(diagram.alt for diagram in diagrams_of(a_sheet))


def test_a_drawing_without_words_is_refused(demo: Document) -> None:
    first = demo.sections[0]
    bare = replace(next(diagrams_of(demo)), alt="")
    sheet = replace(
        demo, sections=(replace(first, parts=(replace(first.parts[0], blocks=(bare,)),)),)
    )
    with pytest.raises(RuntimeError, match="alt"):
        to_pdf(sheet)


def test_the_same_sheet_gives_the_same_bytes(demo: Document) -> None:
    assert to_pdf(demo) == pdf_of(demo)


def test_only_the_shipped_type_is_used(demo: Document) -> None:
    names = {
        str(font.get_object()["/BaseFont"]).split("+")[-1]
        for page in reader(demo).pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert names
    assert all(name.startswith("FiraSans") for name in names)


def test_the_date_is_the_readers(demo: Document) -> None:
    assert "2026-11-25" in pages_squeezed(demo)[-1]
