"""The tape-mark table: where each hoop stands and what it carries."""

import itertools
from collections.abc import Mapping, Sequence

from hoopwright.answers.facts import size_facts
from hoopwright.answers.voice import Voice
from hoopwright.design import Design
from hoopwright.sheet.content import Diagram, FactList, Paragraph, Part, Table, columns

ROLES = {
    "panel": "End panel",
    "end": "End of the body sheet",
    "inner": "Body sheet",
}


def marks_table(design: Design, say: Voice) -> Table:
    """Return the running marks of every hoop, left to right."""
    feet = design.system.name == "us"
    marks = [design.system.on_tape(station.mark) for station in design.hoops]
    gaps = ["", *(say.tape(b - a) for a, b in itertools.pairwise(marks))]
    rows = []
    for number, (station, gap) in enumerate(zip(design.hoops, gaps, strict=True), start=1):
        row = [str(number), say.tape(station.mark)]
        if feet:
            row.append(say.length(station.mark))
        rows.append((*row, gap, ROLES[station.role]))
    in_feet = " | In feet > 1.4" if feet else ""
    heads = columns(
        f"Hoop > 0.6 | Mark on the tape > 1.4{in_feet} | From the last > 1.2 | Carries 2.4"
    )
    end = say.tape(design.bed.outer_length)
    blank = ("",) * (len(heads) - 3)
    foot = ("", end, *blank, "End of the board")
    return Table("Tape marks, left to right", heads, tuple(rows), foot)


def strap_table(design: Design, say: Voice) -> Table:
    """Return how far below the board's top edge each strap and the pipe's foot come."""
    leg = design.hoop.leg
    if design.hold_down.leg == "sleeve":
        rods = (("Tip of the rod", say.tape(leg.top_strap)), ("Foot of the pipe", say.tape(0.0)))
        heads = columns("On every leg 2 | Over the ground > 2")
        return Table("Rods beside the board", heads, rods)
    rows = [("Middle of the top strap", say.tape(leg.board_top - leg.top_strap))]
    if leg.low_strap is not None:
        rows.append(("Middle of the low strap", say.tape(leg.board_top - leg.low_strap)))
    rows.append(("Foot of the pipe", say.tape(leg.embed)))
    heads = columns("On every leg 2 | Below the board's top edge > 2")
    return Table("Straps on the board", heads, tuple(rows))


#: A4 between the margins of the sheet's template, and what keeps two drawings apart [m].
_LINE_WIDTH, _GAP = 0.180, 0.004
#: Drawings to scale behind the marks, in the order of the work.
_DRAWN = ("side", "rail", "end", "batten", "plan", "panel")


def marks_parts(design: Design, views: Mapping[str, Diagram], say: Voice) -> tuple[Part, ...]:
    """Return the marks, the straps' places and the drawings to scale."""
    words = (
        "Hook the tape on the left end of a side board and leave it there: every mark is from "
        "that end, so small errors do not add up. Mark the top edge, then square each mark down "
        f"the board's {design.plan.bed.legs[:-4]}side face. On the other side board start from "
        "the same end of the bed. Marks are the middles of the pipes."
    )
    blocks = (Paragraph(words), marks_table(design, say))
    drawn = beside_each_other([views[name] for name in _DRAWN if name in views])
    straps = Part("", (strap_table(design, say),), half=True)
    sizes = Part("Sizes to hold to", (FactList(size_facts(design)),), half=True)
    return (Part("", blocks), straps, sizes, Part("Drawings to scale", drawn))


def beside_each_other(drawn: Sequence[Diagram]) -> tuple[Diagram, ...]:
    """Return drawings in such an order that narrow ones share a line of the page.

    Each goes on the first line with room for it, in the order given.
    """
    lines: list[list[Diagram]] = []
    for one in drawn:
        taken = (sum(other.width + _GAP for other in line) for line in lines)
        room = (n for n, width in enumerate(taken) if width + one.width <= _LINE_WIDTH)
        place = next(room, None)
        if place is None:
            lines.append([one])
        else:
            lines[place].append(one)
    return tuple(one for line in lines for one in line)
