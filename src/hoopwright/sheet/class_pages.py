"""All sheets of a class, written to a folder."""

from __future__ import annotations

import datetime
from pathlib import Path

from hoopwright import writing
from hoopwright.programme.class_work import WorkedClass
from hoopwright.sheet import Format, rendered
from hoopwright.sheet.class_kit import kit_document
from hoopwright.sheet.class_labels import labels_csv, labels_pdf
from hoopwright.sheet.class_order import class_order_document
from hoopwright.sheet.class_station import station_document


def write_class(
    worked: WorkedClass,
    folder: Path,
    date: datetime.date,
    *,
    names: bool = False,
    format: Format = "pdf",
) -> tuple[Path, ...]:
    """Write the order, the cutting station, every kit and the labels; return the paths.

    names : True prints the households' names; they go no further than these sheets
    """
    folder.mkdir(parents=True, exist_ok=True)
    documents = {
        "order": class_order_document(worked, date, names=names),
        "cutting-station": station_document(worked, date),
    }
    for letter in worked.letters:
        documents[f"kit-{letter}"] = kit_document(worked, letter, date, names=names)
    written = []
    for name, document in documents.items():
        written.append(writing.write(folder / f"{name}.{format}", rendered(document, format)))
    written.append(writing.write(folder / "labels.pdf", labels_pdf(worked)))
    written.append(writing.write(folder / "labels.csv", labels_csv(worked)))
    return tuple(written)
