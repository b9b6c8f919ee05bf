"""Steps for the board box: cut, screw, square, and fill or not yet."""

from __future__ import annotations

import math

from hoopwright.answers.voice import kind_of, listed, plural
from hoopwright.bed import SOIL_BELOW_TOP
from hoopwright.materials.parts import CORNER_SCREWS, JOINT_SCREWS
from hoopwright.sheet.step_drafts import Bench, Draft


def box_steps(bench: Bench) -> tuple[Draft, ...]:
    """Return the steps of a new box, or the making ready of one that stands."""
    if bench.design.plan.bed.box == "standing":
        return (_standing(bench), *_stakes(bench))
    mesh = _mesh(bench)
    fill = () if bench.design.plan.bed.legs == "inside" else (_fill(bench),)
    return (_cut(bench), _corners(bench), _square(bench), *_hold(bench), *mesh, *fill)


def filling_steps(bench: Bench) -> tuple[Draft, ...]:
    """Return the filling where it has to wait for legs inside the boards."""
    if bench.design.plan.bed.legs == "outside":
        return ()
    return (_fill(bench),)


def _cut(bench: Bench) -> Draft:
    bed, say = bench.design.bed, bench.say
    lengths: dict[tuple[str, float], int] = {}
    for piece in bed.pieces():
        key = (kind_of(piece.name), piece.length)
        lengths[key] = lengths.get(key, 0) + 1
    cut = listed([f"{plural(n, kind)} {say.length(at)} long" for (kind, at), n in lengths.items()])
    return Draft(
        "cut-boards",
        "Cut the boards",
        (
            f"From the {bed.board.name} boards cut {cut}, as the cut diagram shows.",
            "Boards are sold a little over length and not always square: square one end first "
            "and measure from it, even where a whole board is used.",
        ),
        ("saws", "treated-wood"),
    )


def _corners(bench: Bench) -> Draft:
    design, bed, say = bench.design, bench.design.bed, bench.say
    screw = design.fitted.board_screw
    drive = (
        f"drill with a {_bit(bench)} bit through the side board into the end board and drive "
        f"{CORNER_SCREWS} screws ({screw.name})"
        if screw
        else "fix the side board to the end board"
    )
    apart = f", one at mid-height and one {say.tape(0.0508)} from each edge of the board"
    courses = " in each course" if bed.courses > 1 else ""
    sentences = [
        "Stand the end boards between the side boards: the side boards run the full length.",
        f"At each corner{courses} {drive}{apart}.",
    ]
    if bed.joints:
        sentences.append(
            f"Each side is made of {bed.side_parts} boards: butt them, and over each joint screw "
            f"a plate of the same board on the inside with {JOINT_SCREWS} screws."
        )
    if bed.courses > 1:
        sentences.append(
            "Set the next course on the first with its joints elsewhere and tie the two with "
            "scraps of board screwed across the seam on the inside, at each corner and midway."
        )
    return Draft("corners", "Screw the corners", tuple(sentences), ("drill", "lifting"))


def _bit(bench: Bench) -> str:
    screw = bench.design.fitted.board_screw
    return bench.say.bit(screw.size.pilot_softwood) if screw else ""


def _square(bench: Bench) -> Draft:
    bed, say = bench.design.bed, bench.say
    diagonal = math.hypot(bed.outer_length, bed.outer_width)
    return Draft(
        "square",
        "Square and level the box",
        (
            "Set the box where it is to stand and measure both diagonals over the outside "
            f"corners: the box is square when each is {say.length(diagonal)}.",
            "Push the longer diagonal's corners together until both read the same.",
            "Level the box along and across, scraping soil from under high corners and not "
            "building up low ones.",
        ),
    )


def _mesh(bench: Bench) -> tuple[Draft, ...]:
    if "burrowers" not in bench.traits:
        return ()
    return (
        Draft(
            "mesh-below",
            "Lay mesh against burrowers",
            (
                "Before any soil goes in, lay hardware cloth with openings of "
                f"{bench.say.tape(0.0127)} or less under the whole bed.",
                "Lap the strips a hand's width, turn the edges up the inside of the boards and "
                "staple them.",
            ),
            ("saws", "cut-mesh"),
        ),
    )


def _hold(bench: Bench) -> tuple[Draft, ...]:
    """Return what holds the box to the ground and its sides together."""
    return (*_stakes(bench), *_ties(bench))


def _stakes(bench: Bench) -> tuple[Draft, ...]:
    held, say = bench.design.hold_down, bench.say
    if not held.stakes or held.stake is None:
        return ()
    return (
        Draft(
            "stakes",
            "Stake the box",
            (
                f"Drive {held.stakes} stakes ({held.stake.name}) tight against the inside of the "
                f"boards, one at each corner and any others evenly along the sides, "
                f"{say.tape(held.stake_depth)} into the ground.",
                "Drill and screw each to the board, two screws a stake.",
            ),
            ("buried-lines", "drill", "trips"),
        ),
    )


def _ties(bench: Bench) -> tuple[Draft, ...]:
    if not bench.design.hold_down.tied_to_soil:
        return ()
    ties = bench.pieces("tie")
    with_what = (
        f"with {plural(len(ties), 'cord')} evenly along the bed, each cut "
        f"{bench.say.length(ties[0])} long to leave enough for the knots,"
        if ties
        else "with cord, wire or a mesh floor,"
    )
    return (
        Draft(
            "ties",
            "Tie the lower edges across",
            (
                "Before filling, tie the lower edges of the two side boards to each other across "
                f"the bed {with_what} so that the soil above holds the box down.",
            ),
            ("trips",),
        ),
    )


def _standing(bench: Bench) -> Draft:
    design, bed, say = bench.design, bench.design.bed, bench.say
    sentences = [
        f"Measure the box that stands: this sheet is written for {say.length(bed.outer_length)} "
        f"by {say.length(bed.outer_width)} over the boards and {say.length(bed.height)} high. "
        "If yours is more than a finger's width off, put your sizes in the plan and print again.",
        "Push and pull at each board: rotten wood and loose corners do not hold hoops. Mend them "
        "first.",
    ]
    cautions: tuple[str, ...] = ("treated-wood",)
    if design.plan.bed.legs == "inside":
        sentences.append(
            "Dig the soil back along the inside of both side boards, a hand's width wide and "
            f"{say.length(design.hoop.leg.embed)} deep at each mark, so that the legs and straps "
            "reach the wood."
        )
        cautions = ("buried-lines", *cautions)
    return Draft("standing-box", "Make the box ready", tuple(sentences), cautions)


def _fill(bench: Bench) -> Draft:
    say, bed = bench.say, bench.design.bed
    level = say.tape(SOIL_BELOW_TOP)
    if bench.design.plan.bed.legs == "inside":
        return Draft(
            "fill",
            "Now fill the bed",
            (
                "The legs and both rows of straps are in place and tight: only now fill the bed."
                if bench.design.hoop.leg.straps == 2
                else "The legs and straps are in place and tight: only now fill the bed.",
                f"Fill to {level} below the boards' top edge, in layers, the same height on both "
                "sides of each leg so that none is pushed out of plumb.",
            ),
        )
    sentences = [
        f"Fill the bed to {level} below the boards' top edge, or leave it for later: the legs "
        "stand outside and do not need the soil.",
    ]
    if bed.outer_length > 2.4:
        sentences.append(
            "Wet soil pushes long boards outward. Sight along each side when it is full; if one "
            "bows by more than a thumb's width, tie the two sides across at mid-length."
        )
    return Draft("fill", "Fill the bed, or leave it", tuple(sentences))
