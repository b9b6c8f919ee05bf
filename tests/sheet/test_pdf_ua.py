"""PDF/UA-1 by an outside checker, and by hand, with pypdf, what it leaves out or cannot read.

pdfua, on pikepdf, checks 16 of the 106 rules a machine can check, by its own list.
"""

from __future__ import annotations

import io
from itertools import pairwise

import pdfua
import pypdf
import pytest
from plans_to_print import DATE, design, document
from printed import tags_of

from hoopwright.sheet.card import card_of
from hoopwright.sheet.pdf import card_pdf, to_pdf, typeset

LABEL = {"letter": "A", "part": "hoop 1", "size": "10 ft", "thing": "pipe", "count": 1}
MADE = {
    "card-en": lambda: card_pdf(card_of(design("small"), DATE)),
    "card-es": lambda: card_pdf(card_of(design("small"), DATE, "es")),
    "book": lambda: to_pdf(document("small")),
    "labels": lambda: typeset("labels", "a4", {"title": "Labels", "labels": [LABEL] * 5}),
}


@pytest.fixture(params=sorted(MADE), scope="module")
def made(request):
    """Give the bytes of each kind of paper."""
    return request.param, MADE[request.param]()


def test_the_checker_finds_nothing(made, tmp_path):
    name, data = made
    path = tmp_path / f"{name}.pdf"
    path.write_bytes(data)
    report = pdfua.validate(path)
    assert [(one.rule_id, one.message) for one in report.findings] == []


def test_headings_go_down_by_one_and_are_not_empty(made):
    """ISO 14289-1, 7.4.2: no level is skipped on the way down (from memory)."""
    root = pypdf.PdfReader(io.BytesIO(made[1])).trailer["/Root"]
    heads = [str(tag["/S"]) for tag in tags_of(root["/StructTreeRoot"]) if tag["/S"][:2] == "/H"]
    levels = [int(head[2:]) for head in heads if head[2:].isdigit()]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_title_language_order_of_tabs_and_fonts(made):
    """ISO 14289-1, 7.1, 7.2, 7.18.3 and 7.21.4.1 (from memory): what a reader aloud relies on."""
    name, data = made
    file = pypdf.PdfReader(io.BytesIO(data))
    root = file.trailer["/Root"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/Lang"] == ("es" if name == "card-es" else "en")
    assert file.metadata.title
    for page in file.pages:
        if "/Annots" in page:
            assert page["/Tabs"] == "/S"
        for font in page["/Resources"].get("/Font", {}).values():
            for kid in font.get_object().get("/DescendantFonts", [font]):
                parts = kid.get_object()["/FontDescriptor"].get_object()
                assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(parts), font
            assert "/ToUnicode" in font.get_object()


def test_a_fault_is_found():
    """The checker is no rubber stamp: without its tags the same card fails."""
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(MADE["card-en"]()))
    del writer.root_object["/StructTreeRoot"]
    out = io.BytesIO()
    writer.write(out)
    assert any(one.rule_id == "UA-01-005" for one in pdfua.validate(out).findings)
