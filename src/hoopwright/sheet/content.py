"""What a build sheet is made of, before anyone decides how it is written."""

import datetime
from collections.abc import Iterator
from dataclasses import field
from typing import ClassVar, Literal

from hoopwright.answers.facts import Fact
from hoopwright.answers.findings import FindingWords
from hoopwright.frozen import dataclass

Paper = Literal["letter", "a4"]
Align = Literal["left", "right"]
#: Units that stand on one line with their number, however it is written.
HELD_UNITS = "ft|in|mm|cm|m|lb|N|h|sq ft|m2|°F|°C|mph|km/h|psf|Pa|gal|L"


@dataclass(frozen=True)
class UsualCaution:
    """A usual caution: the whole of it beside the first step it is for, the short form on the first
    page; its letter stands at every later step."""

    key: str
    title: str
    short: str
    text: str
    letter: str = ""


@dataclass(frozen=True)
class Paragraph:
    """Running text; `strong` where it is the answer, `decide` where the reader must decide,
    `caution` where it is one."""

    kind: ClassVar[str] = "paragraph"
    text: str
    strong: bool = False
    decide: bool = False
    caution: bool = False


@dataclass(frozen=True)
class Bullets:
    """Short points in no order, in as many columns."""

    kind: ClassVar[str] = "bullets"
    items: tuple[str, ...]
    columns: int = 1


@dataclass(frozen=True)
class FactList:
    """Facts in two columns, label and words."""

    kind: ClassVar[str] = "facts"
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class ColumnHead:
    """The head of a table's column; `share` is its part of the page's width."""

    head: str
    align: Align = "left"
    share: float = 1.0


def columns(written: str) -> tuple[ColumnHead, ...]:
    """Return the heads of a table's columns, written as "How many > 0.9 | Part 2.4": the head, ">"
    where its cells are set right, and its share of the page's width."""
    found = []
    for column in written.split("|"):
        head, share = column.strip().rsplit(" ", 1)
        align: Align = "right" if head.endswith(" >") else "left"
        found.append(ColumnHead(head.removesuffix(" >"), align, float(share)))
    return tuple(found)


@dataclass(frozen=True)
class Table:
    """A table with horizontal rules only.

    foot     : one last row that sums it up
    untitled : True where the heading above it says what it is, so that only a reader who cannot
               see the page is told its caption
    to_fill  : True where the reader writes in it, so that its rows are higher
    """

    kind: ClassVar[str] = "table"
    caption: str
    columns: tuple[ColumnHead, ...]
    rows: tuple[tuple[str, ...], ...]
    foot: tuple[str, ...] = ()
    note: str = ""
    untitled: bool = False
    to_fill: bool = False


@dataclass(frozen=True)
class Diagram:
    """A drawing to scale: its words for those who cannot see it, its size on paper [m]."""

    kind: ClassVar[str] = "diagram"
    name: str
    title: str
    alt: str
    svg: str
    width: float
    height: float


@dataclass(frozen=True)
class CautionList:
    """The usual cautions together, in short."""

    kind: ClassVar[str] = "cautions"
    cautions: tuple[UsualCaution, ...]
    closing: str


@dataclass(frozen=True)
class FindingList:
    """Findings, worst first."""

    kind: ClassVar[str] = "findings"
    findings: tuple[FindingWords, ...]


@dataclass(frozen=True)
class Step:
    """One step of the building: what to do in order, its cautions, and its picture.

    cautions : those told here; again: those told at an earlier step
    see      : title of the drawing to scale that shows its sizes, or ""
    """

    kind: ClassVar[str] = "step"
    key: str
    number: int
    title: str
    sentences: tuple[str, ...]
    cautions: tuple[UsualCaution, ...] = ()
    again: tuple[UsualCaution, ...] = ()
    diagram: Diagram | None = None
    see: str = ""


Block = Paragraph | Bullets | FactList | Table | Diagram | CautionList | FindingList | Step


@dataclass(frozen=True)
class Part:
    """A part of a section under its own heading; an empty title goes on without one.

    half : True where it stands on paper beside the next such part, in half the width
    """

    title: str
    blocks: tuple[Block, ...]
    half: bool = False


@dataclass(frozen=True)
class Section:
    """A section; `new_page` where it is a sheet of its own to carry about, `whole` where no
    page's end parts it but for its last part."""

    key: str
    title: str
    parts: tuple[Part, ...]
    new_page: bool = True
    whole: bool = False


@dataclass(frozen=True)
class Document:
    """The whole build sheet, ready for any writer."""

    title: str
    answer: str
    footer: str
    paper: Paper
    date: datetime.date
    sections: tuple[Section, ...] = field(default=())

    def blocks(self) -> Iterator[Block]:
        """Return every block in reading order."""
        for section in self.sections:
            for part in section.parts:
                yield from part.blocks

    def steps(self) -> Iterator[Step]:
        """Return every step in order."""
        return (block for block in self.blocks() if isinstance(block, Step))
