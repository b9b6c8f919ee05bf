"""What is cut from what: every stick and roll, with its proof and its waste."""

from collections.abc import Mapping, Sequence

from hoopwright.answers.voice import Voice, kind_of, numbered, plural, sentence
from hoopwright.cutting.stock import CutPlan, CutStick, RollPlan
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.materials.order import RollCuts, StickCuts
from hoopwright.materials.parts import SAW_KERF
from hoopwright.sheet.content import Block, Diagram, Paragraph, Part, Table, columns


@dataclass(frozen=True)
class CutGroup:
    """Sticks of one length that are cut alike; each inner tuple is one stick's pieces by name.

    lengths : [m] of the pieces in order; left : [m] offcut of each stick
    """

    stick_length: float
    at_hand: bool
    lengths: tuple[float, ...]
    names: tuple[tuple[str, ...], ...]
    left: float

    @property
    def count(self) -> int:
        """Return how many sticks are cut so."""
        return len(self.names)


def groups_of(plan: CutPlan) -> tuple[CutGroup, ...]:
    """Return the sticks of a plan, those cut alike together; every piece is in once."""
    alike: dict[tuple[float, bool, tuple[float, ...], tuple[str, ...]], list[CutStick]] = {}
    for stick in plan.sticks:
        pieces = sorted(stick.pieces, key=lambda piece: -piece.length)
        lengths = tuple(round(piece.length, 6) for piece in pieces)
        kinds = tuple(kind_of(piece.name) for piece in pieces)
        key = (stick.stick.length, stick.stick.at_hand, lengths, kinds)
        alike.setdefault(key, []).append(stick)
    return tuple(
        CutGroup(
            length,
            at_hand,
            lengths,
            tuple(
                tuple(p.name for p in sorted(one.pieces, key=lambda piece: -piece.length))
                for one in sticks
            ),
            sticks[0].left,
        )
        for (length, at_hand, lengths, _), sticks in alike.items()
    )


def pieces_words(lengths: Sequence[float], names: Sequence[str], say: Voice) -> str:
    """Return the pieces of one stick: "2 side boards of 4 ft, 2 end boards of 21 in"."""
    kinds: dict[tuple[str, float], int] = {}
    for name, length in zip(names, lengths, strict=True):
        key = (kind_of(name), length)
        kinds[key] = kinds.get(key, 0) + 1
    return say.listed(
        [
            say.tell("{pieces} of {size:length}", pieces=say.count(number, kind), size=length)
            for (kind, length), number in kinds.items()
        ]
    )


def group_words(group: CutGroup, say: Voice) -> str:
    """Return what is cut from each stick of a group."""
    size, count = say.size(group.stick_length), say.count(group.count, "stick")
    sticks = say.tell("{sticks} of {size}", sticks=count, size=size)
    sticks += say.word(" at hand") if group.at_hand else ""
    each = "" if group.count == 1 else say.word(" each")
    left = say.tell("; offcut {left:length}", left=group.left) if group.left > 1e-6 else ""
    return f"{sticks},{each} {pieces_words(group.lengths, group.names[0], say)}{left}."


def _numbers_words(group: CutGroup) -> str:
    """Return which hoops a group of sticks makes, where its pieces are numbered."""
    names = [name for stick in group.names for name in stick]
    numbers = [int(name.split()[-1]) for name in names if name.split()[-1].isdigit()]
    kinds = {kind_of(name) for name in names}
    plain = len(kinds) == 1 and all(len(name.split()) == 2 for name in names)
    if len(numbers) != len(names) or not plain:
        return ""
    kind = kind_of(names[0]) + ("s" if len(numbers) > 1 else "")
    return f" ({kind} {numbered(numbers)})"


def cut_table(cuts: StickCuts, say: Voice) -> Table:
    """Return the cut list of one thing."""
    rows = []
    for group in groups_of(cuts.plan):
        words = pieces_words(group.lengths, group.names[0], say)
        hand = ", at hand" if group.at_hand else ""
        rows.append(
            (
                str(group.count),
                say.size(group.stick_length) + hand,
                words + _numbers_words(group),
                say.length(group.left) if group.left > 1e-6 else "none",
            )
        )
    heads = columns("Sticks > 1.1 | Of 1.3 | Cut from each, in this order 3.8 | Offcut > 2.2")
    return Table(sentence(cuts.name), heads, tuple(rows), (), stick_proof(cuts.plan, say), True)


def stick_proof(plan: CutPlan, say: Voice) -> str:
    """Return how good the cutting is known to be, and what it wastes."""
    if plan.proven:
        proof = "No cheaper cut exists (proven)."
    elif plan.bound > 0:
        proof = f"Within {say.show(plan.gap, 'share')} of the least possible cost."
    else:
        proof = "How near this is to the least possible cost is not known."
    share = plan.waste / plan.stock_length if plan.stock_length else 0.0
    if plan.waste < 1e-6:
        return f"{proof} Nothing is left over."
    waste = f" Offcuts {say.length(plan.left)}"
    if plan.sawdust > say.system.tape_step / 2:
        waste += f" and saw cuts {say.length(plan.sawdust)}"
    return f"{proof}{waste}, {say.show(share, 'share')} of the sticks."


def roll_proof(plan: RollPlan, say: Voice) -> str:
    """Return how good the cutting of a roll is known to be, and what it wastes."""
    if plan.proven:
        proof = "No cheaper way to cut these sheets across and along the roll exists (proven)."
    elif plan.bound > 0:
        proof = f"Within {say.show(plan.gap, 'share')} of the least possible cost."
    else:
        proof = "Whether a cheaper cut exists is not known."
    run_off = sum(cut.used * cut.roll.width for cut in plan.rolls)
    if plan.waste_area <= 1e-6 * run_off:
        return f"{proof} Nothing is wasted."
    share = plan.waste_area / run_off
    return (
        f"{proof} {say.show(plan.waste_area, 'area')} of the film run off is waste, "
        f"{say.show(share, 'share')}."
    )


def roll_table(run: RollCuts, say: Voice) -> Table:
    """Return where each sheet lies on its roll."""
    rows = []
    for number, cut in enumerate(run.plan.rolls, start=1):
        for place, placed in enumerate(cut.sheets, start=1):
            rows.append(
                (
                    str(number),
                    str(place),
                    sentence(placed.sheet.name),
                    say.length(placed.width),
                    say.length(placed.length),
                    f"{say.tape(placed.y)} to {say.tape(placed.y + placed.length)}",
                )
            )
    heads = columns(
        "Roll > 0.6 | No. > 0.5 | Sheet 2 | Across the roll > 1.5 | Along it > 1.5 | "
        "From the roll's end > 2"
    )
    return Table(sentence(run.name), heads, tuple(rows), (), roll_proof(run.plan, say), True)


def cuts_parts(
    design: Design, diagrams: Mapping[str, tuple[Diagram, ...]], say: Voice
) -> tuple[Part, ...]:
    """Return, for each thing cut, its diagrams to scale and its list."""
    order = design.order
    kerf = max((cuts.plan.kerf for cuts in order.sticks), default=SAW_KERF)
    intro = Paragraph(
        "Measure each piece from the fresh end, not all from one end: the saw takes "
        f"{say.bit(kerf)} or so at every cut. Bars and rolls are drawn to scale in "
        "length; the width of a bar is not."
    )
    parts = [Part("", (intro,))]
    # What is cut in fewest ways first, so that parts of like height stand side by side.
    for cuts in sorted(order.sticks, key=lambda cuts: len(groups_of(cuts.plan))):
        blocks: tuple[Block, ...] = (*diagrams.get(cuts.thing, ()), cut_table(cuts, say))
        parts.append(Part(_heading(cuts.name, cuts.plan), blocks, half=True))
    for run in order.rolls:
        words = f"{sentence(run.name)}: {plural(len(run.plan.rolls), 'roll')}"
        parts.append(Part(words, (*diagrams.get(run.thing, ()), roll_table(run, say))))
    return tuple(parts)


def _heading(name: str, plan: CutPlan) -> str:
    return f"{sentence(name)}: {plural(len(plan.sticks), 'stick')}"
