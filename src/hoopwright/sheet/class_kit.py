"""One household's part list: what is in its kit, and its share of the order; and the labels, one
for each cut piece or bag of like pieces, with the bed's letter large."""

import datetime
from dataclasses import asdict

from hoopwright.answers.facts import Fact
from hoopwright.answers.voice import Voice, kind_of, sentence
from hoopwright.frozen import dataclass
from hoopwright.programme.class_work import WorkedClass
from hoopwright.programme.station import Label
from hoopwright.sheet.class_words import (
    bed_size,
    class_paper,
    class_voice,
    day_words,
    household,
    parts_words,
)
from hoopwright.sheet.content import Document, FactList, Paragraph, Part, Section, Table, columns
from hoopwright.sheet.pdf import typeset
from hoopwright.tables.words import csv_text


def kit_document(
    worked: WorkedClass, letter: str, date: datetime.date, *, names: bool = False
) -> Document:
    """Return the part list of one bed, which goes with its card and its labels."""
    say = class_voice(worked, letter)
    kit = Section("kit", say.tell("In the kit"), _kit(worked, letter, say))
    name = household(worked, letter, names)
    bed = say.tell("{class}, bed {letter}", **{"class": worked.source.name, "letter": letter})
    return Document(
        title=f"{bed}: {name}" if name else bed,
        answer=say.tell(
            "Your kit for {day}: {count}, cut and counted. How to build with them is on the card.",
            day=day_words(worked.source.day, say),
            count=kit_count(worked, letter, say),
        ),
        footer=f"{bed}, {date.isoformat()}",
        paper=class_paper(worked),
        date=date,
        sections=(kit,),
    )


def _kit(worked: WorkedClass, letter: str, say: Voice) -> tuple[Part, ...]:
    share = next(share for share in worked.shares if share.letter == letter)
    facts = (
        Fact(say.tell("Bed"), f"{letter}, {bed_size(worked, letter, say)}."),
        Fact(
            say.tell("Share"),
            say.tell(
                "{pays:money} of the class order; alone the same things would have cost "
                "{alone:money}.",
                pays=share.pays,
                alone=share.alone,
            ),
        ),
    )
    intro = say.tell(
        "Every piece, bag or bundle carries the letter {letter} and what it is. Tick each off "
        "before you leave; what is missing is easier found here than at home.",
        letter=letter,
    )
    tables = (_pieces(worked, letter, say), _counted(worked, letter, say))
    return (Part("", (FactList(facts), Paragraph(intro), *tables)),)


def _pieces(worked: WorkedClass, letter: str, say: Voice) -> Table:
    alike: dict[tuple[str, str, float, float | None], list[Label]] = {}
    for label in worked.labels.get(letter, ()):
        key = (label.thing, kind_of(label.part), round(label.length, 4), label.width)
        alike.setdefault(key, []).append(label)
    rows = tuple(
        (
            str(len(labels)),
            parts_words(list(dict.fromkeys(say.piece(label.part) for label in labels)), say),
            say.length(length) if width is None else say.area(width, length),
            sentence(thing),
            "",
        )
        for (thing, _, length, width), labels in alike.items()
    )
    heads = columns(say.tell("How many > 0.9 | Part 2.4 | Size > 2.2 | Cut from 2.6 | There 0.7"))
    return Table(say.tell("Cut pieces"), heads, rows)


def _counted(worked: WorkedClass, letter: str, say: Voice) -> Table:
    names = {line.thing: line.name for line in worked.order.lines}
    rows = tuple(
        (
            str(part.count),
            sentence(say.named(names.get(part.thing, part.thing))),
            sentence(say.word(part.use)),
            "",
        )
        for part in worked.designs[letter].parts.counted
    )
    heads = columns(say.tell("How many > 0.9 | What 3.6 | For 2.2 | There 0.7"))
    note = say.tell(
        "Counted into a bag marked {letter}. A few spare of each does no harm.", letter=letter
    )
    return Table(say.tell("Counted things"), heads, rows, (), note)


def kit_count(worked: WorkedClass, letter: str, say: Voice) -> str:
    """Return how much a kit holds, in a few words."""
    pieces = len(worked.labels.get(letter, ()))
    counted = sum(part.count for part in worked.designs[letter].parts.counted)
    cut = say.count(pieces, "cut piece")
    return say.tell("{cut} and {count} small parts", cut=cut, count=f"{counted:,}")


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
