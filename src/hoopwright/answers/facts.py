"""What a design comes to, each fact a label and a sentence in the reader's units."""

import math

from hoopwright.answers.labour import labour_of, labour_words
from hoopwright.answers.voice import Voice, listed, message, numbered, plural
from hoopwright.design import Design
from hoopwright.frozen import dataclass

#: Every so far up [m] the inside width is told, in feet or in metric.
#: What holds a leg: a rod, or so many straps.
_ON_EACH = (message("a rod in the ground"), message("one strap"), message("two straps"))


@dataclass(frozen=True)
class Fact:
    """One thing to know: a short label and a sentence or number in the reader's units."""

    label: str
    says: str


def voice_of(design: Design) -> Voice:
    """Return how this plan's reader is spoken to."""
    return Voice(design.system, design.order.currency)


def facts(design: Design) -> tuple[Fact, ...]:
    """Return every fact of a design, in the order in which a builder asks."""
    say = voice_of(design)
    return (
        _size(design, say),
        _hoops(design, say),
        _height(design, say),
        _clearance(design, say),
        _marks(design, say),
        _strain(design, say),
        _thrust(design, say),
        _cover(design),
        _width(design, say),
        _fittings(design),
        _standard(design),
        Fact("Cost", cost_words(design, say)),
        Fact("Work", labour_words(labour_of(design), say)),
    )


def standing_words(design: Design, say: Voice) -> tuple[str, ...]:
    """Return what the hoops and the height come to, for this reader."""
    return _hoops(design, say).says, _height(design, say).says


def headline_facts(design: Design) -> tuple[Fact, ...]:
    """Return the few facts that belong on the first page."""
    return _labelled(design, "Bed", "Hoops", "Height", "Cover", "Cost", "Work")


def size_facts(design: Design) -> tuple[Fact, ...]:
    """Return the sizes to hold to while building, which stand beside the tape marks."""
    return _labelled(design, "Inside", "Sheet")


def _labelled(design: Design, *labels: str) -> tuple[Fact, ...]:
    return tuple(fact for fact in facts(design) if fact.label in labels)


def _size(design: Design, say: Voice) -> Fact:
    bed = design.bed
    courses = f", {bed.courses} courses" if bed.courses > 1 else ""
    words = (
        f"{say.area(bed.outer_length, bed.outer_width)} over the boards, "
        f"{say.length(bed.height)} high ({bed.board.name} boards of {bed.species.name}{courses}); "
        f"{say.area(bed.inner_length, bed.inner_width)} inside."
    )
    return Fact("Bed", words)


def _hoops(design: Design, say: Voice) -> Fact:
    hoop = design.hoop
    straps = _ON_EACH[2 if hoop.leg.straps == 2 else 1]
    straps = _ON_EACH[0] if design.hold_down.leg == "sleeve" else straps
    words = say.tell(
        "{count} of {pipe}, each cut {cut:length} long; legs {where} the boards, {span:length} "
        "apart on centres, {straps} on each.",
        count=str(len(design.hoops)),
        pipe=hoop.pipe.name,
        cut=hoop.cut_length,
        where=say.word(design.plan.bed.legs),
        span=hoop.span,
        straps=say.word(straps),
    )
    return Fact("Hoops", words)


def _standard(design: Design) -> Fact:
    standard = design.site.standard
    words = f"Wind and snow by {standard.name}, {standard.because}; site.standard chooses."
    return Fact("Standard", words)


def _height(design: Design, say: Voice) -> Fact:
    hoop = design.hoop
    words = say.tell(
        "Crown {clear:length} clear over the boards, {crown:length} over the ground; widest "
        "{widest:length} over the pipe.",
        clear=hoop.crown_over_board,
        crown=hoop.crown,
        widest=hoop.overall_width,
    )
    return Fact("Height", words)


def _clearance(design: Design, say: Voice) -> Fact:
    hoop, step = design.hoop, design.system.height_step
    top = hoop.crown_over_board
    levels = [step * n for n in range(1, max(1, math.floor(top / step - 0.05)) + 1)]
    levels = [level for level in levels if level < top] or [top / 2]
    widths = [
        f"{say.length(hoop.clear_width(hoop.leg.board_top + level))} wide at {say.tape(level)}"
        for level in levels
    ]
    return Fact("Inside", f"{listed(widths)} over the boards.")


def _marks(design: Design, say: Voice) -> Fact:
    marks = [say.tape(station.mark) for station in design.hoops]
    words = f"{listed(marks)} from the first end; the same on both sides."
    pairs = [n for n, s in enumerate(design.hoops, start=1) if s.role == "panel"]
    if pairs:
        words += f" Hoops {listed([str(n) for n in pairs])} carry the end panels."
    return Fact("Marks", words)


def _strain(design: Design, say: Voice) -> Fact:
    hoop, coldest = design.hoop, design.plan.hoops.coldest_bend
    if not hoop.pipe.springs:
        return Fact("Bend", f"{hoop.pipe.name} is formed on a bender, not sprung: see the checks.")
    limit = hoop.pipe.stuff.strain_limit_at(coldest)
    words = (
        f"The outside of the pipe is stretched {say.show(hoop.strain, 'strain')} at its tightest "
        f"(radius {say.length(hoop.curve.least_radius)}); bent at "
        f"{say.show(coldest, 'temperature')} it bears about {say.show(limit.low, 'strain')} to "
        f"{say.show(limit.high, 'strain')}."
    )
    return Fact("Bend", words)


def _thrust(design: Design, say: Voice) -> Fact:
    hoop = design.hoop
    if not hoop.pipe.springs:
        return Fact("Push", "A formed arch does not push on the boards of itself.")
    way = "outward" if hoop.curve.thrust_per_stiffness > 0 else "inward"
    later = hoop.thrust(hoop.pipe.stuff.relaxation.likely)
    words = (
        f"Each leg pushes {way} with {say.show(abs(hoop.thrust()), 'force')} when new, about "
        f"{say.show(abs(later), 'force')} after a season (a rough figure)."
    )
    return Fact("Push", words)


def _cover(design: Design) -> Fact:
    cover = design.cover
    style = {
        "framed": "framed ends and a body sheet of its own",
        "wrapped": "one sheet wrapped over all",
    }[cover.style]
    both = {"rail": "roll up on rails", "batten": "are held by battens", "bury": "are buried"}
    one = {"rail": "rolls up on a rail", "batten": "is held by battens", "bury": "is buried"}
    left, right = cover.edges
    edges = (
        f"both long sides {both[left]}"
        if left == right
        else f"the left side {one[left]}, the right side {one[right]}"
    )
    return Fact("Cover", f"{cover.material.name}, {style}; {edges}.")


def _width(design: Design, say: Voice) -> Fact:
    cover = design.cover
    needed = f"needs {say.length(cover.body.width)} of width"
    if cover.roll_width is None:
        return Fact(
            "Sheet", f"The body sheet {needed}, wider than any roll listed: see the checks."
        )
    words = (
        f"The body sheet {needed} and is cut {say.length(cover.body.length)} long off the "
        f"{say.size(cover.roll_width)} roll; it then hangs {say.length(cover.skirt)} down each "
        "board."
    )
    panel = cover.end_panel
    if panel is not None:
        words += f" Two end panels, each cut {say.area(panel.width, panel.height)}."
    return Fact("Sheet", words)


def _fittings(design: Design) -> Fact:
    names = {line.thing: line.name for line in design.order.lines}
    words = "; ".join(
        f"{part.count} to {part.use}: {names.get(part.thing, part.thing)}"
        for part in design.parts.counted
    )
    clips = f"; {plural(design.cover.clips, 'clip')} in all" if design.cover.clips else ""
    return Fact("Fittings", f"{words}{clips}." if words else "None fits: see the checks.")


def cost_words(design: Design, say: Voice) -> str:
    """Return the cost, with what kind of prices it rests on."""
    order = design.order
    words = f"{say.money(order.total)} for all that is to be bought"
    if order.example_prices:
        words += (
            f", at the invented example prices of {order.price_date}: compare them with your "
            "own shops"
        )
    elif order.price_date:
        words += f", at the prices of {order.price_date}"
    if order.unpriced:
        words += f"; without {listed(order.unpriced)}, which have no price"
    return words + "."


def hoops_of_role(design: Design, *roles: str, say: Voice | None = None) -> str:
    """Return the numbers of the hoops of these roles: "1 and 7"."""
    found = [n for n, s in enumerate(design.hoops, start=1) if s.role in roles]
    return say.numbered(found) if say else numbered(found)
