"""The page: well formed, self-contained, and holding what the content holds."""

from __future__ import annotations

import itertools
import re
from functools import cache
from html.parser import HTMLParser
from xml.etree import ElementTree

from parts import diagrams_of, tables_of

from hoopwright.sheet.content import Document, Step
from hoopwright.sheet.html import to_html

VOID = {"meta", "link", "br", "hr", "img", "input"}


@cache
def page_of(sheet: Document) -> str:
    return to_html(sheet)


class Reader(HTMLParser):
    """Reads a page strictly: every tag that opens must close, in order."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.levels: list[int] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = dict(attrs)
        if "id" in held:
            self.ids.append(held["id"] or "")
        self.links += [held[name] or "" for name in ("href", "src") if name in held]
        if re.fullmatch(r"h[1-6]", tag):
            self.levels.append(int(tag[1]))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if "id" in dict(attrs):
            self.ids.append(dict(attrs)["id"] or "")

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not {"style", "script"} & set(self.open):
            self.words.append(data)


def read(sheet: Document) -> Reader:
    reader = Reader()
    reader.feed(page_of(sheet))
    reader.close()
    return reader


def squeezed(words: str) -> str:
    return re.sub(r"\s+", "", words)


def test_it_is_well_formed(a_sheet: Document) -> None:
    reader = read(a_sheet)
    assert not reader.open
    assert page_of(a_sheet).startswith("<!DOCTYPE html>")


def test_ids_are_unique_and_links_stay_inside(a_sheet: Document) -> None:
    reader = read(a_sheet)
    assert len(set(reader.ids)) == len(reader.ids)
    for link in reader.links:
        assert link.startswith("#")
        assert link[1:] in reader.ids
    assert "url(http" not in page_of(a_sheet)
    assert "<script" not in page_of(a_sheet)


def test_headings_skip_no_level(a_sheet: Document) -> None:
    levels = read(a_sheet).levels
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in itertools.pairwise(levels))


def test_it_holds_what_the_content_holds(a_sheet: Document) -> None:
    words = squeezed("".join(read(a_sheet).words))
    for table in tables_of(a_sheet):
        for row in (*table.rows, table.foot):
            assert all(squeezed(cell) in words for cell in row)
    for step in a_sheet.steps():
        assert isinstance(step, Step)
        assert all(squeezed(sentence) in words for sentence in step.sentences)


def test_drawings_are_whole_and_described(a_sheet: Document) -> None:
    drawn = list(diagrams_of(a_sheet))
    page = page_of(a_sheet)
    assert page.count("<figure ") == len(drawn)
    for diagram in drawn:
        root = ElementTree.fromstring(diagram.svg)
        assert root.attrib["aria-labelledby"]
        described = root.find("{http://www.w3.org/2000/svg}desc")
        assert described is not None
        assert described.text == diagram.alt


def test_a_name_cannot_break_the_page(demo: Document) -> None:
    from dataclasses import replace

    page = to_html(replace(demo, title="<b>Bed</b> & co"))
    assert "&lt;b&gt;Bed&lt;/b&gt; &amp; co" in page
    assert "<b>Bed" not in page
