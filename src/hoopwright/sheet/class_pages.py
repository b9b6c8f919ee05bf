"""All sheets of a class: the trainer's pack and every household's kit."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping

from hoopwright.programme.class_work import WorkedClass
from hoopwright.sheet import Format, build_sheet, rendered
from hoopwright.sheet.card import card_of
from hoopwright.sheet.card_pdf import card_pdf
from hoopwright.sheet.class_kit import kit_document
from hoopwright.sheet.class_labels import labels_csv, labels_pdf
from hoopwright.sheet.class_order import class_order_document
from hoopwright.sheet.class_station import station_document


def class_files(
    worked: WorkedClass,
    date: datetime.date,
    *,
    names: bool = False,
    format: Format = "pdf",
    tell: Callable[[int, int], None] | None = None,
) -> dict[str, bytes]:
    """Return every file by its name: the order with its sheet to sign, the cutting station and
    the book of the typical bed; for each household its card and its part list; the labels.

    names : True prints the households' names; they go no further than these sheets
    tell  : told how many are printed, of how many
    """
    typical = typical_bed(worked)
    documents = {
        "order": class_order_document(worked, date, names=names),
        "cutting-station": station_document(worked, date),
        f"book-{typical}": build_sheet(worked.designs[typical], date),
    }
    for letter in worked.letters:
        documents[f"kit-{letter}"] = kit_document(worked, letter, date, names=names)
    files: dict[str, bytes] = {}
    whole = len(documents) + len(worked.letters)

    def printed(name: str, body: bytes) -> None:
        files[name] = body
        if tell is not None:
            tell(len(files), whole)

    for name, one in documents.items():
        printed(f"{name}.{format}", rendered(one, format))
    for letter in worked.letters:
        card = card_of(worked.designs[letter], date, worked.bed(letter).language)
        printed(f"card-{letter}.pdf", card_pdf(card))
    return {**files, "labels.pdf": labels_pdf(worked), "labels.csv": labels_csv(worked).encode()}


def typical_bed(worked: WorkedClass) -> str:
    """Return the letter of the bed in the middle of all by its area."""

    def area(letter: str) -> float:
        bed = worked.designs[letter].bed
        return bed.outer_length * bed.outer_width

    return sorted(worked.letters, key=area)[len(worked.letters) // 2]


def paper_sheets(files: Mapping[str, bytes]) -> int:
    """Return how many sheets of paper the PDFs take, front and back; labels on one side."""
    total = 0
    for name, data in files.items():
        if name.endswith(".pdf"):
            pages = len(re.findall(rb"/Type */Page\b", data))
            total += pages if name == "labels.pdf" else -(-pages // 2)
    return total
