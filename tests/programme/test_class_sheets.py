"""The class's sheets: every piece on its kit and label, names only where asked for."""

from __future__ import annotations

import datetime
import io
import re
import tomllib
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from hoopwright.programme.class_file import ClassError, class_in, read_class
from hoopwright.programme.class_work import WorkedClass, work_out
from hoopwright.sheet import rendered
from hoopwright.sheet.class_kit import kit_document, labels_csv, labels_pdf, printed_labels
from hoopwright.sheet.class_order import class_order_document
from hoopwright.sheet.class_pages import class_files, paper_sheets, typical_bed
from hoopwright.sheet.class_station import station_document
from hoopwright.sheet.class_words import labels_words, parts_words
from hoopwright.sheet.content import Table

DATE = datetime.date(2027, 3, 1)
TEXT = """
name = "Tiny class"
budget = 150
[template.bed]
length = "6 ft"
width = "3 ft"
[template.hoops]
stock_length = "8 ft"
[[beds]]
household = "Household Alder"
[[beds]]
household = "Household Birch"
bed.box = "standing"
"""


@cache
def tiny() -> WorkedClass:
    """Return a class of two beds."""
    import tempfile
    from pathlib import Path

    path = Path(tempfile.mkdtemp()) / "class.toml"
    path.write_text(TEXT, encoding="utf-8")
    return work_out(read_class(path))


def words(document) -> str:  # type: ignore[no-untyped-def]
    """Return a document as Markdown."""
    return rendered(document, "md").decode()


def test_names_stay_away_unless_asked_for() -> None:
    """Order, kits, station and labels go by letter; --names brings the household."""
    plain = [
        words(class_order_document(tiny(), DATE)),
        words(kit_document(tiny(), "A", DATE)),
        words(station_document(tiny(), DATE)),
        labels_csv(tiny()),
    ]
    assert not any("Alder" in text or "Birch" in text for text in plain)
    assert "Household Alder" in words(class_order_document(tiny(), DATE, names=True))
    assert "Household Birch" in words(kit_document(tiny(), "B", DATE, names=True))


def test_the_kit_lists_every_piece_and_fitting() -> None:
    """Numbers on the kit sheet add up to the pieces of the bed's plan."""
    document = kit_document(tiny(), "A", DATE)
    pieces, counted = [block for block in document.blocks() if isinstance(block, Table)][:2]
    parts = tiny().designs["A"].parts
    wanted = sum(len(cut.pieces) for cut in parts.cut) + sum(len(s.sheets) for s in parts.sheets)
    assert sum(int(row[0]) for row in pieces.rows) == wanted
    assert [int(row[0]) for row in counted.rows] == [part.count for part in parts.counted]
    assert [section.key for section in document.sections] == ["kit"]


def test_a_class_says_how_much_paper_it_takes() -> None:
    """A card is a leaf and a part list a page; every file is counted as its reader counts it."""
    told: list[tuple[float, str]] = []
    files = class_files(tiny(), DATE, tell=lambda *said: told.append(said))
    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert told[-1][0] == pytest.approx(1.0)
    assert told[-1][1] == f"{len(told)} of {len(told)} sheets of the class printed."
    pages = {
        name: len(PdfReader(io.BytesIO(data)).pages)
        for name, data in files.items()
        if name.endswith(".pdf")
    }
    assert pages["card-A.pdf"] == 2
    assert pages["kit-A.pdf"] == 1
    sides = sum(-(-count // 2) for name, count in pages.items() if name != "labels.pdf")
    assert paper_sheets(files) == sides + pages["labels.pdf"]
    assert f"book-{typical_bed(tiny())}.pdf" in files


def test_labels_are_printed_on_one_side_and_the_rest_on_both() -> None:
    """Three pages of labels are three leaves, three of a kit two, a card's two one."""

    def pages(count: int) -> bytes:
        return b"<< /Type /Pages >>\n" + b"<< /Type /Page >>\n" * count

    files = {"labels.pdf": pages(3), "kit-A.pdf": pages(3), "card-A.pdf": pages(2)}
    assert paper_sheets(files | {"labels.csv": pages(9)}) == 3 + 2 + 1


def test_the_typical_bed_is_the_one_in_the_middle_by_area() -> None:
    sizes = {"A": (4.0, 1.0), "B": (2.0, 1.0), "C": (1.0, 6.0)}
    beds = {
        letter: SimpleNamespace(bed=SimpleNamespace(outer_length=long, outer_width=wide))
        for letter, (long, wide) in sizes.items()
    }
    assert typical_bed(SimpleNamespace(letters=tuple(beds), designs=beds)) == "A"
    del beds["C"]
    assert typical_bed(SimpleNamespace(letters=tuple(beds), designs=beds)) == "A"


def test_every_piece_has_a_label_or_lies_in_a_labelled_bag() -> None:
    """Counts on the labels add up to pieces and small parts."""
    for letter in tiny().letters:
        parts = tiny().designs[letter].parts
        wanted = (
            sum(len(cut.pieces) for cut in parts.cut)
            + sum(len(s.sheets) for s in parts.sheets)
            + sum(part.count for part in parts.counted)
        )
        assert sum(label.count for label in printed_labels(tiny(), letter)) == wanted


def test_the_pages_are_tagged_and_searchable() -> None:
    """The PDFs carry tags, a title, and the words that a person looks for."""
    order = PdfReader(io.BytesIO(rendered(class_order_document(tiny(), DATE), "pdf")))
    text = "".join(page.extract_text() for page in order.pages)
    assert "/StructTreeRoot" in order.trailer["/Root"]
    assert "Over budget" in text
    assert "Sign-off" in text
    labels = PdfReader(io.BytesIO(labels_pdf(tiny())))
    assert "/StructTreeRoot" in labels.trailer["/Root"]
    assert "first end panel" in "".join(page.extract_text() for page in labels.pages)


def test_the_station_lists_each_strip_of_film() -> None:
    """Strips follow one another to the last cut, and every sheet is in one of them."""
    text = words(station_document(tiny(), DATE))
    for name in ("A body sheet", "B body sheet", "A first end panel", "B last end panel"):
        assert name in text
    assert "fresh end" in text


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        (["hoop 1", "hoop 2", "hoop 3"], "hoop 1 to 3"),
        (["first end panel", "last end panel"], "first and last end panel"),
        (["rail 1 piece 1", "rail 2 piece 1"], "rail 1 piece and rail 2 piece 1"),
        (["ridge"], "ridge"),
    ],
)
def test_parts_are_drawn_together(parts: list[str], says: str) -> None:
    """Like parts are said once."""
    assert parts_words(parts) == says


def test_labels_are_drawn_together_by_bed() -> None:
    """A row of the station says each bed's pieces in one breath."""
    labels = [label for label in tiny().labels["A"] if label.part.startswith("hoop")]
    assert labels_words(labels) == f"A hoop 1 to {len(labels)}"


def in_spanish() -> WorkedClass:
    """Return the class whose every household reads Spanish."""
    beds = tuple(replace(bed, language="es") for bed in tiny().source.beds)
    return replace(tiny(), source=replace(tiny().source, beds=beds))


def test_a_household_reads_its_kit_and_labels_in_its_language() -> None:
    """The same numbers in the same order of lines; none of the English heads."""
    for letter in ("A", "B"):
        english, own = (words(kit_document(w, letter, DATE)) for w in (tiny(), in_spanish()))
        numbers = (Counter(re.findall(r"\d+(?:[./]\d+)?", text)) for text in (english, own))
        assert len({frozenset(found.items()) for found in numbers}) == 1
        assert "Piezas cortadas" in own
        # "of" and "for" stand in the shop's labels, which stay.
        assert not re.search(r"\b(?:the|every|pieces|hoop|bed)\b", own.partition("\n")[2])
        pairs = zip(
            printed_labels(tiny(), letter), printed_labels(in_spanish(), letter), strict=True
        )
        for one, other in pairs:
            assert (one.size.replace(" by ", " por "), one.count) == (other.size, other.count)
            assert one.part != other.part or one.part == "clip"  # the same word in both
            assert re.findall(r"\d+", one.part) == re.findall(r"\d+", other.part)


def test_the_class_file_names_each_households_language() -> None:
    """A language for all, another in a bed's row; an unknown one is told with those there are."""
    data = tomllib.loads('language = "es"\n' + TEXT + 'language = "en"\n')
    read = class_in(data, Path("class.toml"))
    assert [bed.language for bed in read.beds] == ["es", "en"]
    with pytest.raises(ClassError, match="'xx' is none of those printed here: en, es"):
        class_in(tomllib.loads('language = "xx"\n' + TEXT), Path("class.toml"))
