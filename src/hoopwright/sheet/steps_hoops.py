"""Steps for the hoops: mark, straps loose, bend, plumb, second straps, sight, tighten."""

from __future__ import annotations

from hoopwright.answers.voice import listed, plural
from hoopwright.sheet.step_drafts import Bench, Draft
from hoopwright.tables.fittings import Screw


def hoop_steps(bench: Bench) -> tuple[Draft, ...]:
    """Return the steps from the first mark to the last tightened strap."""
    if "sleeves" in bench.traits:
        return (
            _mark(bench),
            _rods(bench),
            *_cut(bench),
            _slip_over(bench),
            _sight(bench),
            *_ridge(bench),
        )
    low = (_low_straps(bench),) if bench.design.hoop.leg.straps == 2 else ()
    return (
        _mark(bench),
        _top_straps(bench),
        *_cut(bench),
        _bend(bench),
        _plumb(bench),
        *low,
        _sight(bench),
        _tighten(bench),
        *_pin(bench),
        *_ridge(bench),
    )


def pilot(screw: Screw, gravity: float) -> float:
    """Return the pilot hole [m] for a wood's specific gravity; dense from 0.6
    (NDS 2018 12.1.5.2, from memory)."""
    return screw.size.pilot_hardwood if gravity > 0.6 else screw.size.pilot_softwood


def _mark(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    leg = design.hoop.leg
    marks = listed([say.tape(station.mark) for station in design.hoops])
    face = design.plan.bed.legs[:-4] + "side"
    down = f"Square each mark down the {face} face of the board"
    levels = f"{say.tape(leg.board_top - leg.top_strap)} below the top edge for the top strap"
    if leg.low_strap is not None:
        levels += f" and {say.tape(leg.board_top - leg.low_strap)} below it for the low strap"
    return Draft(
        "mark",
        "Mark the hoops",
        (
            f"Hook the tape on the left end of a side board and mark its top edge at {marks}. "
            "Do not move the tape between marks.",
            "On the other side board start from the same end of the bed.",
            f"{down}." if "sleeves" in bench.traits else f"{down}, and cross it {levels}.",
        ),
        (),
        "side",
    )


def _fixing(bench: Bench, number: int) -> str:
    """Return how a strap is fixed, pilot hole first."""
    strap, screw = bench.design.fitted.strap, bench.design.fitted.strap_screw
    if strap is None:
        return "Fix them with the fasteners their maker names."
    if screw is None:
        return f"Fix each ({strap.name}) with the fastener it is made for."
    bit = bench.say.bit(pilot(screw, bench.design.bed.species.specific_gravity))
    holes = plural(round(strap.holes), "screw")
    return (
        f"For each strap pre-drill with a {bit} bit and drive {holes} ({screw.name}): "
        f"{number * round(strap.holes)} screws for {number} straps."
    )


def _top_straps(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    number = 2 * len(design.hoops)
    strap = design.fitted.strap
    name = strap.name if strap else "a strap that fits the pipe"
    down = say.tape(design.hoop.leg.board_top - design.hoop.leg.top_strap)
    return Draft(
        "top-straps",
        "Put on the top straps, loose",
        (
            f"At every mark hold a strap ({name}) over a scrap of the pipe, its middle {down} "
            "below the board's top edge.",
            _fixing(bench, number),
            "Stop while the scrap still slides by hand; the straps are tightened last.",
        ),
        ("drill",),
        "leg",
    )


def _cut(bench: Bench) -> tuple[Draft, ...]:
    design, say = bench.design, bench.say
    hoop = design.hoop
    plans = [cuts.plan for cuts in design.order.sticks if cuts.thing == hoop.pipe.key]
    whole = all(
        len(stick.pieces) == 1 and stick.left < 1e-6 for plan in plans for stick in plan.sticks
    )
    number, long = len(design.hoops), say.length(hoop.cut_length)
    embed = say.tape(hoop.leg.embed)
    if plans and whole:
        cut = f"Each hoop is a whole {say.size(hoop.cut_length)} stick: nothing to cut."
    else:
        cut = f"Cut {plural(number, 'pipe')} {long} long, as the cut diagram shows. File off burrs."
    mark = (
        f"Mark every pipe {embed} from both ends: those marks come level with the boards' top "
        "edge. Mark the middle too; it is the crown."
    )
    sentences = [cut, mark]
    if not hoop.pipe.springs:
        sentences.append(
            f"{hoop.pipe.name} does not spring: have every arch formed alike on a bender or round "
            "a former before you go on, and check them one against another."
        )
    keys = () if plans and whole else ("saws", "fibre-dust")
    cautions = ("overhead-lines", *keys)
    return (Draft("cut-pipe", "Make the pipes ready", tuple(sentences), cautions),)


def _bend(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    hoop = design.hoop
    foot = (
        "its foot stands on the ground"
        if abs(hoop.leg.foot) < 1e-6
        else f"its foot is {say.tape(hoop.leg.foot)} above the ground"
    )
    sentences = [
        "Slide one end of a pipe down through its top strap until the mark is level with the "
        f"board's top edge; {foot}.",
        "While one person holds that leg, the other walks the free end over in one slow bend and "
        "feeds it into the strap across the bed, down to the same mark.",
        f"The crown then stands {say.length(hoop.crown_over_board)} clear over the boards. Do all "
        f"{len(design.hoops)} hoops.",
    ]
    if hoop.pipe.springs and "plastic pipe" in bench.traits:
        coldest = say.show(design.plan.hoops.coldest_bend, "temperature")
        sentences.insert(0, f"Choose a day at {coldest} or warmer, or bring the pipe from indoors.")
    if hoop.on_the_edge:
        sentences.append(
            "The pipe leans out against the board's top edge there; ease the edge round with "
            "sandpaper so that it does not bite."
        )
    return Draft(
        "bend",
        "Slide in the pipes and bend them",
        tuple(sentences),
        ("spring-back", "cold-pipe", "overhead-lines", "ladder"),
        "end",
    )


def _plumb(bench: Bench) -> Draft:
    sentences = [
        "Hold a level against each leg, first along the board and then across it, and shift the "
        "leg in its strap until it is plumb both ways.",
        "Look at each hoop from the end of the bed: both legs on the same mark, the crown over "
        "the middle.",
    ]
    if bench.design.hoop.leg.straps == 1:
        sentences.append(
            "One strap holds each leg, so the pipe can turn in it and the hoop can sway; the "
            "cover and the friction of the strap are all that steady it."
        )
    return Draft("plumb", "Plumb the legs", tuple(sentences), ("spring-back",))


def _low_straps(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    leg = design.hoop.leg
    assert leg.low_strap is not None
    down, apart = leg.board_top - leg.low_strap, leg.strap_spacing
    past = leg.low_strap - leg.foot
    return Draft(
        "low-straps",
        "Put on the low straps, loose",
        (
            f"Fix a second strap on every leg, its middle {say.tape(down)} below the board's top "
            f"edge, {say.tape(apart)} below the top strap; the pipe reaches {say.tape(past)} "
            "past it.",
            _fixing(bench, 2 * len(design.hoops)),
            "The two straps together hold the leg upright. Keep them loose enough that the leg "
            "slides with a push.",
        ),
        ("spring-back", "drill"),
    )


def _sight(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    levelling = next(f for f in design.findings if f.name == "levelling")
    low, lift = float(levelling.values["low"]), float(levelling.values["lift"])
    crown = design.hoop.crown_over_board
    return Draft(
        "sight",
        "Sight the crowns along the bed",
        (
            "Stretch a string from the first crown to the last, or kneel at one end and sight "
            "along them: every crown belongs on one line.",
            f"By the tape each is {say.length(crown)} over the boards' top edge, under the pipe.",
            f"A crown that is {say.tape(low)} low comes level when both its legs are raised "
            f"{say.tape(lift)}; raise both the same. A high one goes down the same way.",
        ),
        ("spring-back", "ladder"),
    )


def _tighten(bench: Bench) -> Draft:
    two = bench.design.hoop.leg.straps == 2
    first = (
        "Tighten the low straps first, then the top ones, hoop by hoop."
        if two
        else "Tighten the straps, hoop by hoop."
    )
    return Draft(
        "tighten",
        "Tighten bottom, then top" if two else "Tighten the straps",
        (
            first,
            "Drive each screw until the strap lies on the board and the pipe no longer turns by "
            "hand, and stop there: a crushed pipe cracks at the strap.",
            "Sight the crowns once more.",
        ),
        ("spring-back", "drill"),
    )


def _rods(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    rod, leg = design.hold_down.sleeve_rod, design.hoop.leg
    name = rod.name if rod is not None else "a rod that fits inside the pipe"
    return Draft(
        "rods",
        "Drive the rods",
        (
            f"At every mark, tight against the board, drive a rod ({name}) upright, "
            f"{say.tape(design.hold_down.stake_depth)} into the ground, so that "
            f"{say.tape(leg.top_strap)} of it stands over it: {2 * len(design.hoops)} in all.",
            "Try a piece of the pipe over each: it should drop on without force. Cap any rod that "
            "stays bare, for knees and eyes.",
        ),
        ("buried-lines", "trips"),
    )


def _slip_over(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    crown = say.length(design.hoop.crown_over_board)
    return Draft(
        "bend",
        "Slip the pipes over the rods and bend them",
        (
            "One person slips an end over its rod down to the ground and holds it; the other "
            "walks the free end over in one slow bend and slips it over the rod across the bed.",
            f"The crown then stands {crown} clear over the boards. Do all {len(design.hoops)} "
            "hoops.",
        ),
        ("spring-back", "cold-pipe", "overhead-lines", "ladder"),
        "end",
    )


def _pin(bench: Bench) -> tuple[Draft, ...]:
    design = bench.design
    screw = design.hold_down.pin
    if screw is None:
        return ()
    bit = bench.say.bit(pilot(screw, design.bed.species.specific_gravity))
    return (
        Draft(
            "pin",
            "Pin the legs",
            (
                f"Below the upper strap of every leg drill through the pipe into the board with a "
                f"{bit} bit and drive one screw ({screw.name}): {2 * len(design.hoops)} in all.",
                "Drill the pipe at its middle and stop when the head touches; a pipe pulled flat "
                "cracks from the hole.",
            ),
            ("drill",),
        ),
    )


def _ridge(bench: Bench) -> tuple[Draft, ...]:
    design, say = bench.design, bench.say
    kind = design.plan.hoops.ridge
    if kind == "none":
        return ()
    pieces = bench.pieces("ridge")
    length = say.length(sum(pieces) or design.bed.outer_length)
    joined = f" in {len(pieces)} lengths, joined off the hoops," if len(pieces) > 1 else ""
    return (
        Draft(
            "ridge",
            "Run the ridge line",
            (
                f"Run a {kind}, {length},{joined} along under the crowns from the first hoop to "
                "the last, and tie it to every crown so that no hoop can lean along the bed.",
                "Nothing of it may stand up against the cover: turn knots and ends inward.",
                *_brace(bench),
            ),
            ("ladder",),
        ),
    )


def _brace(bench: Bench) -> tuple[str, ...]:
    cords = bench.pieces("brace")
    if not cords:
        return ()
    return (
        f"Cut {plural(len(cords), 'cord')} {bench.say.length(cords[0])} long. From each end of the "
        "ridge draw one down to a screw in either side board, as far in along the bed as the "
        "crown is high, and tighten all four till the hoops stand plumb.",
    )
