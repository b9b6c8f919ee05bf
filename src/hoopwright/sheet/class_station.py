"""The cutting station's sheets: which tool cuts what, in what order, each piece's mark."""

import datetime
from collections.abc import Sequence
from dataclasses import replace

from hoopwright.answers.facts import Fact
from hoopwright.answers.labour import labour_of
from hoopwright.answers.voice import Voice, plural, sentence
from hoopwright.cutting.stock import CutRoll
from hoopwright.materials.order import RollCuts
from hoopwright.programme.class_work import WorkedClass
from hoopwright.programme.station import CuttingStation, StickWork, StopSetting
from hoopwright.sheet.cautions import CLOSING, cautions_for, chosen
from hoopwright.sheet.class_words import class_paper, class_voice, day_words, labels_words
from hoopwright.sheet.content import (
    Block,
    Bullets,
    CautionList,
    Diagram,
    Document,
    FactList,
    Paragraph,
    Part,
    Section,
    Table,
    columns,
)
from hoopwright.sheet.cuts import roll_proof, stick_proof
from hoopwright.sheet.pictures import roll_diagram
from hoopwright.sheet.traits import traits_of

#: What is cut at which station, in the words of labour.csv.
_LABOUR = {"wood saw": ("board-cut",), "pipe cutter": ("pipe-cut",), "shears": ("clip-cut",)}
#: What is handled there: boards, pipe, film and mesh, often with children about.
STATION_CAUTIONS = (
    *("saws", "fibre-dust", "treated-wood", "lifting"),
    *("film-children", "cut-mesh", "overhead-lines"),
)


def station_document(worked: WorkedClass, date: datetime.date) -> Document:
    """Return the cutting station's sheets. Beds go by letter alone."""
    say = class_voice(worked)
    sections = [Section("order", "In this order", (Part("", tuple(_first(worked, say))),))]
    for number, station in enumerate(worked.stations, start=1):
        parts = tuple(_work(work, worked, say) for work in station.works)
        title = f"Station {number}: {station.tool}"
        sections.append(Section(f"station-{number}", title, parts, new_page=False))
    if worked.order.rolls:
        number = len(worked.stations) + 1
        parts = tuple(part for run in worked.order.rolls for part in _roll_parts(run, worked, say))
        sections.append(Section("film", f"Station {number}: long table and shears", parts))
    return Document(
        title=f"{worked.source.name}: cutting station",
        answer=(
            f"Everything for {plural(len(worked.designs), 'bed')}, cut before "
            f"{day_words(worked.source.day)}. Every piece gets its bed's letter and its part."
        ),
        footer=f"{worked.source.name}, cutting station, {date.isoformat()}",
        paper=class_paper(worked),
        date=date,
        sections=tuple(sections),
    )


def _first(worked: WorkedClass, say: Voice) -> list[Block]:
    facts = [
        Fact(f"{number} {station.tool}", _station_words(station, worked, say))
        for number, station in enumerate(worked.stations, start=1)
    ]
    if worked.order.rolls:
        sheets = sum(len(cut.sheets) for run in worked.order.rolls for cut in run.plan.rolls)
        times = _hours(worked, ("sheet-cut",), say)
        number = len(worked.stations) + 1
        facts.append(Fact(f"{number} long table", f"{plural(sheets, 'sheet')}; {times}."))
    traits = frozenset().union(*(traits_of(design) for design in worked.designs.values()))
    cautions = chosen(cautions_for(traits), STATION_CAUTIONS)
    rules = Bullets(
        (
            "Measure each piece from the fresh end of the stick, never all from one end: the saw "
            "takes its width at every cut.",
            "Set a stop at the length, cut every stick of that row, and only then move the stop. "
            "Longest pieces come first, so that a spoilt one can still be cut again shorter.",
            "Write the label on the piece as it falls: bed letter first, then the part and its "
            "number, on tape or on the inner face. Lay each bed's pieces in its own pile.",
            "Tick the row when its pieces lie in their piles. Check the first piece of each row "
            "with a second tape.",
        )
    )
    return [rules, FactList(tuple(facts)), CautionList(cautions, CLOSING)]


def _station_words(station: CuttingStation, worked: WorkedClass, say: Voice) -> str:
    things = ", ".join(work.name for work in station.works)
    times = _hours(worked, _LABOUR.get(station.tool, ()), say)
    return f"{plural(station.cuts, 'cut')}: {things}" + (f"; {times}." if times else ".")


def _hours(worked: WorkedClass, keys: Sequence[str], say: Voice) -> str:
    works = [
        work
        for design in worked.designs.values()
        for work in labour_of(design).works
        if work.key in keys
    ]
    if not works:
        return ""
    low = say.show(sum(work.low for work in works), "hours")
    high = say.show(sum(work.high for work in works), "hours")
    return f"one person {low} to {high}, an estimate"


def _work(work: StickWork, worked: WorkedClass, say: Voice) -> Part:
    plan = next(cuts.plan for cuts in worked.order.sticks if cuts.thing == work.thing)
    rows = tuple(
        (str(number), *_setting(setting, say), "")
        for number, setting in enumerate(work.settings, start=1)
    )
    heads = columns(
        "Row > 0.5 | Sticks 1.6 | Cut from each, in this order 2.6 | Labels 4.2 | Offcut > 1.9 | "
        "Done 0.7"
    )
    pieces = sum(setting.sticks * len(setting.lengths) for setting in work.settings)
    title = f"{sentence(work.name)}: {plural(pieces, 'piece')}"
    table = Table(title, heads, rows, (), stick_proof(plan, say), True)
    return Part(title, (table,))


def _setting(setting: StopSetting, say: Voice) -> tuple[str, str, str, str]:
    hand = ", at hand" if setting.at_hand else ""
    lengths: dict[float, int] = {}
    for length in setting.lengths:
        lengths[length] = lengths.get(length, 0) + 1
    cut = " + ".join(
        f"{count} x {say.length(length)}" if count > 1 else say.length(length)
        for length, count in lengths.items()
    )
    words = []
    for length in lengths:
        same = [
            label
            for place, labels in zip(setting.lengths, setting.labels, strict=True)
            if place == length
            for label in labels
        ]
        head = f"{say.length(length)}: " if len(lengths) > 1 else ""
        words.append(head + labels_words(same))
    left = say.length(setting.left) if setting.left > 1e-6 else "none"
    return (
        f"{setting.sticks} of {say.size(setting.stick_length)}{hand}",
        cut,
        ". ".join(words),
        left,
    )


def _roll_parts(run: RollCuts, worked: WorkedClass, say: Voice) -> list[Part]:
    parts = []
    for number, cut in enumerate(run.plan.rolls, start=1):
        blocks: list[Block] = [_roll_diagram(run, cut, number, say)]
        blocks.append(_strips(cut, run, number, say))
        if number == len(run.plan.rolls):
            blocks.append(Paragraph(_roll_words(run, say)))
        size = f"{say.size(cut.roll.width)} by {say.size(cut.roll.length)}"
        parts.append(Part(f"{sentence(run.name)}, roll {number}: {size}", tuple(blocks)))
    return parts


def _roll_words(run: RollCuts, say: Voice) -> str:
    plan = run.plan
    proof = roll_proof(plan, say)
    if plan.length_proven:
        return f"{proof} No less length can be run off at this cost."
    if plan.length_bound <= 0:
        return proof
    return f"{proof} Length run off: within {say.show(plan.length_gap, 'share')} of the least."


def _strips(cut: CutRoll, run: RollCuts, number: int, say: Voice) -> Table:
    """Return the strips of a roll from its free end: cut across, then rip."""
    rows = []
    start = 0.0
    for strip, end in enumerate(cut.cross_cuts, start=1):
        inside = [s for s in cut.sheets if start - 1e-6 <= s.y < end - 1e-6]
        sheets = "; ".join(
            f"{placed.sheet.name}, {say.length(placed.width)} wide"
            + (
                f", trim to {say.length(placed.length)}"
                if end - start - placed.length > 0.001
                else ""
            )
            for placed in sorted(inside, key=lambda placed: placed.x)
        )
        rows.append((str(strip), say.length(end - start), say.length(end), sheets, ""))
        start = end
    heads = columns(
        "Strip > 0.6 | Long > 1.3 | Cut across at > 1.4 | "
        "Rip into, from one edge, and label 4.6 | Done 0.7"
    )
    title = f"{sentence(run.name)}, roll {number}"
    note = f"{say.length(cut.left)} stays on the roll." if cut.left > 0.001 else ""
    return Table(title, heads, tuple(rows), (), note, True)


def _roll_diagram(run: RollCuts, cut: CutRoll, number: int, say: Voice) -> Diagram:
    """Return a roll to scale, each sheet by its bed's letter."""
    lettered = replace(
        cut,
        sheets=tuple(
            replace(placed, sheet=replace(placed.sheet, name=placed.sheet.name.split()[0]))
            for placed in cut.sheets
        ),
        cross_cuts=(cut.cross_cuts[-1],),
    )
    title = f"{sentence(run.name)}, roll {number}"
    diagram = roll_diagram(run, lettered, number, say)
    alt = f"{title}, drawn to scale, each sheet marked with its bed's letter; the table lists them."
    return replace(diagram, alt=alt)
