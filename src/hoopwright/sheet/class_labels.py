"""Label pages: one label for each cut piece or bag of like pieces, with its bed's letter large."""

from __future__ import annotations

from dataclasses import asdict

from hoopwright.answers.voice import Voice, kind_of
from hoopwright.frozen import dataclass
from hoopwright.programme.class_work import WorkedClass
from hoopwright.programme.station import Label
from hoopwright.sheet.class_words import class_paper, class_voice, parts_words
from hoopwright.sheet.pdf import typeset
from hoopwright.tables.words import csv_text

#: Like pieces this short [m] go into one bag or bundle with one label, and cord of any length.
BAGGED = 1.0


@dataclass(frozen=True)
class PrintedLabel:
    """One label as printed: letter, part, size and what it is cut from; count of a bag."""

    letter: str
    part: str
    size: str
    thing: str
    count: int


def printed_labels(worked: WorkedClass, letter: str) -> tuple[PrintedLabel, ...]:
    """Return the labels of one bed: each piece its own, bags of small pieces and fittings one."""
    say = class_voice(worked, letter)
    pieces: dict[tuple[str, str, float], list[Label]] = {}
    printed: list[PrintedLabel] = []
    cords = {one.name for one in worked.designs[letter].catalogue.everything_in("cord")}
    for label in worked.labels.get(letter, ()):
        if label.width is None and (label.length < BAGGED or label.thing in cords):
            key = (label.thing, kind_of(label.part), round(label.length, 4))
            pieces.setdefault(key, []).append(label)
        else:
            printed.append(_single(label, say))
    for (thing, _, length), bag in pieces.items():
        part = parts_words(list(dict.fromkeys(say.piece(label.part) for label in bag)), say)
        printed.append(PrintedLabel(letter, part, say.length(length), thing, len(bag)))
    names = {line.thing: line.name for line in worked.order.lines}
    for counted in worked.designs[letter].parts.counted:
        name = names.get(counted.thing, counted.thing)
        printed.append(
            PrintedLabel(letter, say.word(counted.use), "", say.named(name), counted.count)
        )
    return tuple(printed)


def _single(label: Label, say: Voice) -> PrintedLabel:
    size = say.length(label.length)
    if label.width is not None:
        size = say.area(label.width, label.length)
    return PrintedLabel(label.letter, say.piece(label.part), size, label.thing, 1)


def labels_pdf(worked: WorkedClass) -> bytes:
    """Return the label pages as a PDF, one bed after another."""
    data = {
        "title": f"{worked.source.name}: labels",
        "labels": [
            asdict(one) for letter in worked.letters for one in printed_labels(worked, letter)
        ],
    }
    return typeset("labels", class_paper(worked), data)


def labels_csv(worked: WorkedClass) -> str:
    """Return all labels as CSV, for a label printer."""
    labels = [label for letter in worked.letters for label in printed_labels(worked, letter)]
    cells = [(label.letter, label.part, label.size, label.thing, label.count) for label in labels]
    return csv_text([("bed", "part", "size", "cut from", "count"), *cells])
