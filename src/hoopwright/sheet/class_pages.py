"""All sheets of a class: the trainer's pack and every household's kit."""

import datetime
import re
from collections.abc import Callable, Mapping
from functools import partial

from hoopwright.programme.class_work import WorkedClass
from hoopwright.sheet import Format, build_sheet, rendered
from hoopwright.sheet.card import card_of
from hoopwright.sheet.class_kit import kit_document, labels_csv, labels_pdf
from hoopwright.sheet.class_order import class_order_document
from hoopwright.sheet.class_station import station_document
from hoopwright.sheet.content import Document
from hoopwright.sheet.pdf import card_pdf


def class_files(
    worked: WorkedClass,
    date: datetime.date,
    *,
    names: bool = False,
    format: Format = "pdf",
    tell: Callable[[float, str], object] | None = None,
    ready: Mapping[str, bytes] | None = None,
) -> dict[str, bytes]:
    """Return every file by its name: the order with its sheet to sign, the cutting station and
    the book of the typical bed; for each household its card and its part list; the labels.

    names : True prints the households' names; they go no further than these sheets
    tell  : told the share of the work that is done, and how many sheets of how many
    ready : what is made already, by its name without ending
    """
    typical, ready = typical_bed(worked), ready or {}
    # What each takes, a card being 1.
    makers: dict[str, tuple[float, Callable[[], bytes | Document]]] = {
        "order": (1.0, lambda: class_order_document(worked, date, names=names)),
        "cutting-station": (1.0, lambda: station_document(worked, date)),
        f"book-{typical}": (6.0, lambda: build_sheet(worked.designs[typical], date)),
    }
    for one in worked.letters:
        makers[f"kit-{one}"] = (0.2, partial(kit_document, worked, one, date, names=names))
    for one in worked.letters:
        work = 0.0 if f"card-{one}" in ready else 1.0
        makers[f"card-{one}"] = (work, partial(bed_card, worked, one, date))
    whole, done = sum(work for work, _ in makers.values()), 0.0
    files: dict[str, bytes] = {}
    for name, (work, make) in makers.items():
        made = ready.get(name) or make()
        if isinstance(made, bytes):
            files[f"{name}.pdf"] = made
        else:
            files[f"{name}.{format}"] = rendered(made, format)
        done += work
        if tell is not None:
            tell(done / whole, f"{len(files)} of {len(makers)} sheets of the class printed.")
    return {**files, "labels.pdf": labels_pdf(worked), "labels.csv": labels_csv(worked).encode()}


def bed_card(worked: WorkedClass, letter: str, date: datetime.date) -> bytes:
    """Return the card of a bed, in its household's language."""
    return card_pdf(card_of(worked.designs[letter], date, worked.bed(letter).language))


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
