"""Hands and hours: operations counted from the plan, each with a guessed time and its range."""

from typing import Annotated

from hoopwright.answers.voice import Voice, kind_of
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import HOUR
from hoopwright.tables.reader import Keyed, number, rows_of, text

_YARD = 0.9144


@dataclass(frozen=True)
class LabourRow(Keyed):
    """The time [s] one operation takes one person, a fair guess with its range."""

    phase: Annotated[str, text()]
    work: Annotated[str, text()]
    low: Annotated[float, number("s", 1, 3 * HOUR)]
    likely: Annotated[float, number("s", 1, 3 * HOUR)]
    high: Annotated[float, number("s", 1, 6 * HOUR)]
    hands: Annotated[float, number("-", 1, 4)]


def labour_rows() -> tuple[LabourRow, ...]:
    """Return the times of operations."""
    return rows_of(LabourRow, "labour", "answers")


@dataclass(frozen=True)
class Work:
    """One kind of operation: how often, and the time for all of them [s] with its range."""

    key: str
    phase: str
    what: str
    count: int
    low: float
    likely: float
    high: float
    hands: int


@dataclass(frozen=True)
class Labour:
    """All the work of one bed. Times are those of one person; an estimate, not a record."""

    works: tuple[Work, ...]

    @property
    def low(self) -> float:
        """Return the least it may take one person [s]."""
        return sum(work.low for work in self.works)

    @property
    def likely(self) -> float:
        """Return what it may well take one person [s]."""
        return sum(work.likely for work in self.works)

    @property
    def high(self) -> float:
        """Return the most it may take one person [s]."""
        return sum(work.high for work in self.works)

    @property
    def hands(self) -> int:
        """Return how many people some of it wants."""
        return max((work.hands for work in self.works), default=1)


def counts_of(design: Design) -> dict[str, int]:
    """Return how often each operation of labour.csv is done."""
    hoops, cover, bed = len(design.hoops), design.cover, design.bed
    new = design.plan.bed.box == "new"
    sticks = {cuts.thing: cuts.plan for cuts in design.order.sticks}
    held = design.hold_down
    strapped = held.leg == "straps"
    names = [kind_of(piece.name) for part in design.parts.cut for piece in part.pieces]
    straps = 2 * hoops * design.hoop.leg.straps if strapped else 0
    boards = sticks.get(bed.board.key) if new else None
    sheets = sum(len(part.sheets) for part in design.parts.sheets)
    splices = sum(len(rail) - 1 for rail in cover.rails)
    slit = cover.clip is not None and cover.clip.kind == "slit tube"
    buried = sum(1 for edge in cover.edges if edge == "bury")
    cut_pipes = sum(
        len(stick.pieces) - (stick.left < 1e-6 and len(stick.pieces) == 1)
        for thing in (design.hoop.pipe.key, cover.rail.key)
        if thing in sticks
        for stick in sticks[thing].sticks
    )
    return {
        "prepare": 1,
        "board-cut": sum(len(stick.pieces) for stick in boards.sticks) if boards else 0,
        "corner": 4 * bed.courses if new else 0,
        "joint": bed.joints if new else 0,
        "square": int(new),
        "stake": held.stakes if held.stake is not None else 0,
        "tie": names.count("tie"),
        "mark": 2 * hoops,
        "strap": straps,
        "pipe-cut": cut_pipes,
        "bend": hoops,
        "plumb": hoops,
        "tighten": straps,
        "rod": 2 * hoops if not strapped else 0,
        "pin": 2 * hoops if held.pin is not None else 0,
        "ridge": hoops if design.plan.hoops.ridge != "none" else 0,
        "clip-cut": cover.clips if slit else 0,
        "sheet-cut": sheets,
        "panel": 2 if cover.end_panel is not None else 0,
        "batten": sum(len(run.pieces) for run in cover.battens),
        "body": 1,
        "end-fold": 2 if cover.style == "wrapped" else 0,
        "clip": cover.clips,
        "splice": splices,
        "rail": len(cover.rails),
        "rail-hold": 0 if held.rail == "weight" else len(cover.rails) * hoops,
        "lacing": names.count("lacing"),
        "trench": round(buried * bed.outer_length / _YARD),
        "clear-up": 1,
    }


def labour_of(design: Design) -> Labour:
    """Return the work of a bed."""
    counts = counts_of(design)
    works = []
    for row in labour_rows():
        count = counts[row.key]
        if count:
            times = (count * row.low, count * row.likely, count * row.high)
            works.append(Work(row.key, row.phase, row.work, count, *times, round(row.hands)))
    return Labour(tuple(works))


def labour_words(labour: Labour, say: Voice) -> str:
    """Return hands and hours in a sentence."""

    def hours(seconds: float) -> str:
        return say.show(seconds, "hours")

    return (
        f"About {hours(labour.likely)} of one person's work in all ({hours(labour.low)} to "
        f"{hours(labour.high)}); some steps want {labour.hands} people. An estimate from counted "
        "operations, not timed; soil and shopping not counted."
    )
