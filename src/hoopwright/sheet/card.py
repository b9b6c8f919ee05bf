"""The card: one leaf that a bed can be built from, pictures for the order, words for numbers."""

from __future__ import annotations

import bisect
import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from hoopwright.answers.facts import standing_words, voice_of
from hoopwright.answers.spreadsheets import sold_as
from hoopwright.answers.voice import Voice, kind_of, message, sentence
from hoopwright.cutting.stock import CutRoll
from hoopwright.design import Design
from hoopwright.drawing.layout import Layout
from hoopwright.drawing.scene import View
from hoopwright.drawing.steps.pictures import finished_view, fitter, step_views
from hoopwright.frozen import dataclass
from hoopwright.materials.order import OrderLine
from hoopwright.sheet.card_pack import (
    COST_WIDTH,
    COUNT_WIDTH,
    LINE,
    Cell,
    Marked,
    height_of,
    lines_of,
    packed,
)
from hoopwright.sheet.card_pictures import bar, ruler, small_roll
from hoopwright.sheet.card_weather import weather_cells
from hoopwright.sheet.cautions import CLOSING, WEATHER_LAST, cautions_for, chosen
from hoopwright.sheet.content import Diagram, Paper
from hoopwright.sheet.cuts import CutGroup, group_words, groups_of
from hoopwright.sheet.document import answer_of, paper_of
from hoopwright.sheet.pictures import diagram_of
from hoopwright.sheet.steps import drafts_of, lettered
from hoopwright.sheet.traits import traits_of
from hoopwright.tables.languages import words_of

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport

#: Paper [m], its margin and the gutter between columns.
PAPERS: Mapping[Paper, tuple[float, float]] = {"letter": (0.2159, 0.2794), "a4": (0.210, 0.297)}
MARGIN, GUTTER = 0.008, 0.004
#: Columns of the front and of the back.
FRONT, BACK = 2, 3
#: Heights of pictures to try [m], tallest first.
STEP_HEIGHTS = tuple(0.034 - 0.001 * n for n in range(24))
BED_HEIGHTS = (0.062, 0.054, 0.047, 0.040, 0.034)
#: Paper kept free so that widths measured a little short still fit [m].
_SLACK = 0.003
_TITLE = 0.009


@dataclass(frozen=True)
class Page:
    """One side of the leaf: its heading, its columns of cells, what runs under them.

    across : how many columns there is room for
    """

    title: str
    words: tuple[str, ...]
    columns: tuple[tuple[Cell, ...], ...]
    across: int
    under: Diagram | None = None
    ruler: str = ""
    foot: str = ""


@dataclass(frozen=True)
class Card:
    """The whole card; `numbers` is what each page says of its place among them."""

    title: str
    paper: Paper
    date: datetime.date
    pages: tuple[Page, ...]
    numbers: tuple[str, ...]
    language: str


def card_of(
    design: Design, date: datetime.date, language: str = "en", season: SeasonReport | None = None
) -> Card:
    """Return the card of a design; the date is the reader's, nothing here reads a clock.

    language : one of `tables.languages`; raises NoSuchLanguage
    season   : the season where it was worked out before, for the dates of opening
    """
    say = replace(voice_of(design), words=words_of(language))
    paper = paper_of(design)
    wide, tall = PAPERS[paper]
    room, high = wide - 2 * MARGIN, tall - 2 * MARGIN
    weather = weather_cells(design, season, say)
    steps, keys = _step_sketches(design, _width(room, BACK), say)
    # Where the back is full of steps, the weather's cells stand on the front: the last first.
    for kept in (3, 2, 0):
        back = _back(design, room, high, (*steps, *map(Sketch, weather[:kept])), say)
        front = _front(design, keys, room, high, weather[kept:], say) if len(back) == 1 else []
        if len(front) == 1:
            break
    else:
        back = _back(design, room, high, (*steps, *map(Sketch, weather)), say)
        front = _front(design, keys, room, high - LINE, (), say)
        words = say.tell("This card takes {count} pages.", count=str(len(front) + len(back)))
        front[0] = replace(front[0], words=(*front[0].words, words))
    pages = [*front, *back]
    numbers = tuple(
        say.tell(
            "Page {number} of {all}, {date}", number=str(n), all=str(len(pages)), date=f"{date}"
        )
        for n in range(1, len(pages) + 1)
    )
    title = say.tell("{bed}, card", bed=design.plan.name)
    return Card(title, paper, date, tuple(pages), numbers, language)


@dataclass(frozen=True)
class Sketch:
    """A cell and the picture drawn in it, if any, before its height is known [m of paper]."""

    cell: Cell
    picture: Callable[[float], Layout] | None = None

    def at(self, height: float, *, drawn: bool) -> Cell:
        """Return the cell with its picture within a height, or with no more than its place."""
        if self.picture is None:
            return self.cell
        return replace(self.cell, picture=diagram_of(self.picture(height), drawn=drawn))


def _sketch(design: Design, cell: Cell, view: View | None, width: float) -> Sketch:
    return Sketch(cell, None if view is None else fitter(design, view, width))


def _pages(
    sketches: Sequence[Sketch],
    heights: Sequence[float],
    width: float,
    tall: float,
    columns: int,
    second: int | None = None,
) -> list[tuple[tuple[Cell, ...], ...]]:
    """Return the columns of each page: first the tallest pictures that keep all to one page, then
    in each column, all about as full, as tall as it has room for.

    heights : [m] to try, falling; what fits at one fits at every lower one, so the search halves
    second  : which cell is to begin the second and last column, where both then have room
    """

    @cache
    def high(index: int, n: int) -> float:
        return height_of(sketches[index].at(heights[n], drawn=False), width)

    def laid(n: int) -> list[list[int]]:
        tops = [high(i, n) for i in range(len(sketches))]
        if second and max(sum(tops[:second]), sum(tops[second:])) <= tall:
            return [list(range(second)), list(range(second, len(tops)))]
        found = packed(tops, tall)
        if second is None and len(found) == columns:
            low = (packed(tops, tall * share / 40) for share in range(20, 40))
            return next((one for one in low if len(one) == columns), found)
        return found

    def grown(column: Sequence[int]) -> tuple[Cell, ...]:
        def fits(n: int) -> bool:
            return sum(high(i, n) for i in column) <= tall

        n = bisect.bisect_left(range(most), True, key=fits)
        return tuple(sketches[i].at(heights[n], drawn=True) for i in column)

    most = bisect.bisect_left(range(len(heights) - 1), True, key=lambda n: len(laid(n)) <= columns)
    filled = [grown(column) for column in laid(most)]
    return [tuple(filled[n : n + columns]) for n in range(0, len(filled), columns)]


def _width(room: float, columns: int) -> float:
    return (room - (columns - 1) * GUTTER) / columns


def _front(
    design: Design,
    keys: Sequence[str],
    room: float,
    tall: float,
    more: Sequence[Cell],
    say: Voice,
) -> list[Page]:
    """Return the first page: the bed, what to buy, the cuts, more if it must, the ruler.

    keys : of all steps
    """
    width = _width(room, FRONT)
    answer, marks = answer_of(design, say), ruler(design, room, say)
    intro, closing = (answer,), say.word(CLOSING)
    under = marks.height + LINE * (1 + lines_of(closing, room)) + 0.003
    left = tall - _TITLE - LINE * lines_of(answer, room) - under - _SLACK - 0.004
    buying, cutting = buying_cells(design, width, say), _cut_cells(design, width, say)
    view = finished_view(design, keys, say)

    cell = Cell(say.tell("The bed as it will stand"), standing_words(design, say))
    bed = _sketch(design, cell, view, width)
    sketches = [bed, *map(Sketch, (*buying, *cutting, *more))]
    columns = _pages(sketches, BED_HEIGHTS, width, left, FRONT, 1 + len(buying))
    head = say.tell(
        "Tape marks of hoops 1 to {last}, both sides alike; board ends at {end:tape}",
        last=str(len(design.hoops)),
        end=design.bed.outer_length,
    )
    made = [Page(design.plan.name, intro, columns[0], FRONT, marks, head, closing)]
    title = say.tell("{bed}: cuts, continued", bed=design.plan.name)
    return made + [Page(title, (), rest, FRONT) for rest in columns[1:]]


def _cut_cells(design: Design, width: float, say: Voice) -> list[Cell]:
    """Return each way a stick is cut and each roll, drawn small; a whole stick needs no drawing."""
    cells, told = list[Cell](), set[str]()
    groups = list(stick_groups(design))
    for number, (name, group, kerf) in enumerate(groups, start=1):
        title = "" if name in told else name
        told.add(name)
        longest = max(one.stick_length for other, one, _ in groups if other == name)
        whole = len(group.lengths) == 1 and group.left < 1e-6
        picture = None if whole else bar(f"bar {number}", group, kerf, longest, width - 0.001, say)
        words = group_words(group, say)
        if number == 1:
            cell = Cell(say.tell("What to cut"), (f"{name}: {words}",), picture=picture)
        else:
            cell = Cell(title, (words,), picture=picture, run_in=bool(title))
        cells.append(cell)
    for run in design.order.rolls:
        for number, cut in enumerate(run.plan.rolls, start=1):
            again = say.tell("Roll {number}", number=str(number))
            title = sentence(run.name) if number == 1 else again
            words = roll_words(cut, say)
            picture = small_roll(f"roll {run.thing} {number}", cut, width - 0.001, words)
            cells.append(Cell(title, (words,), picture=picture, run_in=True))
    return cells


def _step_sketches(
    design: Design, width: float, say: Voice
) -> tuple[list[Sketch], tuple[str, ...]]:
    """Return the steps before their pictures' height is known, and the keys of all drafts."""
    steps, keys = _step_cells(design, say)
    views = step_views(design, keys, say)
    shown = {key: view for key, view in views.items() if key not in _WORDS_ONLY}
    return [_sketch(design, cell, shown.get(key), width) for key, cell in steps], keys


def _back(
    design: Design, room: float, tall: float, sketches: Sequence[Sketch], say: Voice
) -> list[Page]:
    """Return the second page: the steps, and of the weather what has room."""
    width, left = _width(room, BACK), tall - _TITLE - _SLACK
    title = say.tell("{bed}: building, step by step", bed=design.plan.name)
    more = say.tell("{title}, continued", title=title)
    return [
        Page(title if n == 0 else more, (), columns, BACK)
        for n, columns in enumerate(_pages(sketches, STEP_HEIGHTS, width, left, BACK))
    ]


#: Steps whose picture the card leaves out: the one before shows as much.
_WORDS_ONLY = ("ties", "fill")


def _step_cells(design: Design, say: Voice) -> tuple[list[tuple[str, Cell]], tuple[str, ...]]:
    """Return the steps with their keys, and the keys of all drafts in order.

    A draft without words of its own gives its cautions to the next one that has them.
    """
    drafts = drafts_of(design, say)
    cautions = lettered(cautions_for(traits_of(design)), drafts)
    cells, waiting, told = list[tuple[str, Cell]](), list[str](), set[str]()
    for draft in drafts:
        waiting += [key for key in draft.cautions if key not in WEATHER_LAST]
        if not draft.short:
            continue
        given = chosen(cautions, dict.fromkeys(waiting))
        new = tuple(Marked(c.letter, say.word(c.short)) for c in given if c.key not in told)
        old = tuple(sorted(c.letter for c in given if c.key in told))
        told.update(waiting)
        waiting.clear()
        number = str(len(cells) + 1)
        cell = Cell(draft.short, (draft.card,), number, cautions=new, marks=old)
        cells.append((draft.key, cell))
    return cells, tuple(draft.key for draft in drafts)


#: Part of a shop, and the tables of the catalogue whose things stand there (common practice).
AISLES = (
    (message("Lumber"), ("lumber", "batten", "stake")),
    (message("Pipe and its fittings"), ("pipe", "rail", "clip", "rail_clip", "strap")),
    (message("Screws"), ("screw",)),
    (message("Film, fabric, mesh"), ("cover",)),
    (message("Cord"), ("cord",)),
)


def buying_cells(design: Design, width: float, say: Voice) -> list[Cell]:
    """Return one cell an aisle, and the total."""

    def rows(lines: list[OrderLine]) -> tuple[tuple[str, str, str], ...]:
        return tuple(_row(design, line, width, say) for line in lines)

    lines = list(design.order.lines)
    cells = []
    for aisle, tables in AISLES:
        keys = {thing.key for table in tables for thing in design.catalogue.everything_in(table)}
        here = [line for line in lines if line.thing in keys]
        lines = [line for line in lines if line not in here]
        if here:
            cells.append(Cell(say.word(aisle), rows=rows(here)))
    if lines:
        cells.append(Cell(say.tell("Also"), rows=rows(lines)))
    order = design.order
    kind = say.tell("Invented example prices") if order.example_prices else say.tell("Prices")
    total = ("", say.tell("Everything to buy"), say.money(order.total))
    cells.append(Cell("", rows=(total,)))
    dated = say.tell("{prices} of {date}.", prices=kind, date=order.price_date)
    words = [dated if order.price_date else f"{kind}."]
    words += [say.tell("Cannot be bought as planned: {what}", what=what) for what in order.unmet]
    cells.append(Cell("", tuple(words)))
    return cells


def _row(design: Design, line: OrderLine, width: float, say: Voice) -> tuple[str, str, str]:
    """Return what to buy by the shop's label, and in the own word if it costs no line."""
    what = f", {sold_as(line, say)}"
    if line.form == "pack":
        parts = [part for part in design.parts.counted if part.thing == line.thing]
        counts = [(str(part.count), say.word(part.use)) for part in parts]
        uses = [say.tell("{count} to {use}", count=count, use=use) for count, use in counts]
        what += f": {say.listed(uses)}"
    if line.from_hand:
        what += say.tell("; {count} at hand", count=str(line.from_hand))
    price = say.money(line.total) if line.buy and line.price is not None else ""
    label, named = f"{line.name}{what}", f"{say.named(line.name)}{what}"
    room = width - COUNT_WIDTH - COST_WIDTH - 0.002
    longer = lines_of(named, room) > lines_of(label, room)
    return str(line.buy), label if longer else named, price


def stick_groups(design: Design) -> Iterator[tuple[str, CutGroup, float]]:
    """Return each way a stick is cut: the thing's name, the group and the saw's cut [m]."""
    for cuts in design.order.sticks:
        for group in groups_of(cuts.plan):
            yield sentence(cuts.name), group, cuts.plan.kerf


def roll_words(cut: CutRoll, say: Voice) -> str:
    """Return the sheets cut off a roll by their numbers, along it by across it."""
    sizes: dict[tuple[str, float, float], list[str]] = {}
    for number, placed in enumerate(cut.sheets, start=1):
        key = (kind_of(placed.sheet.name), placed.length, placed.width)
        sizes.setdefault(key, []).append(str(number))
    made = [
        f"{say.listed(numbers)} {say.noun(len(numbers), kind)}, {say.area(along, across)}"
        for (kind, along, across), numbers in sizes.items()
    ]
    return say.tell(
        "{width} wide, off its end: {sheets}. Cut across at {cuts}.",
        width=say.size(cut.roll.width),
        sheets="; ".join(made),
        cuts=say.listed([say.tape(at) for at in cut.cross_cuts]),
    )
