"""The steps of the card: one or two lines each, with the numbers of the plan."""

from __future__ import annotations

import math
from collections.abc import Callable

from hoopwright.answers.facts import hoops_of_role
from hoopwright.answers.voice import listed, plural
from hoopwright.bed import SOIL_BELOW_TOP
from hoopwright.cover import batten_screws
from hoopwright.cover.fastening import evenly
from hoopwright.materials.parts import CORNER_SCREWS
from hoopwright.sheet.step_drafts import Bench
from hoopwright.sheet.steps_hoops import pilot

Words = tuple[str, str]


def _square(bench: Bench) -> Words:
    bed, say = bench.design.bed, bench.say
    diagonal = say.length(math.hypot(bed.outer_length, bed.outer_width))
    joint = " A plate inside over each joint." if bed.joints else ""
    return (
        "Box",
        f"End boards between the sides, {CORNER_SCREWS} screws a corner.{joint} Level; both "
        f"diagonals {diagonal}.",
    )


def _standing(bench: Bench) -> Words:
    bed, say = bench.design.bed, bench.say
    return (
        "Box that stands",
        f"Must be {say.area(bed.outer_length, bed.outer_width)} outside and "
        f"{say.length(bed.height)} high. Mend rot and loose corners first.",
    )


def _stakes(bench: Bench) -> Words:
    held, say = bench.design.hold_down, bench.say
    return (
        "Stakes",
        f"{held.stakes} inside the boards, {say.tape(held.stake_depth)} deep, 2 screws each.",
    )


def _ties(bench: Bench) -> Words:
    ties = bench.pieces("tie")
    cords = f"{plural(len(ties), 'cord')} of {bench.say.length(ties[0])}" if ties else "Cord"
    return "Ties", f"{cords}, board to board, low, under the soil."


def _mesh_below(bench: Bench) -> Words:
    opening = bench.say.tape(0.0127)
    return "Mesh below", f"Openings of {opening} or less, edges turned up the boards and stapled."


def _fill(bench: Bench) -> Words:
    level = bench.say.tape(SOIL_BELOW_TOP)
    when = "Only now fill" if bench.design.plan.bed.legs == "inside" else "Fill"
    return "Soil", f"{when}, to {level} below the boards' edge."


def _mark(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    face = design.plan.bed.legs[:-4] + "side"
    last = say.tape(design.hoops[-1].mark)
    return (
        "Marks",
        f"{len(design.hoops)} by the ruler, page 1, to {last}: hook the tape on once. Square them "
        f"down the {face} face, both sides.",
    )


def _fixing(bench: Bench) -> str:
    strap, screw = bench.design.fitted.strap, bench.design.fitted.strap_screw
    if strap is None or screw is None:
        return ""
    bit = bench.say.bit(pilot(screw, bench.design.bed.species.specific_gravity))
    return f" {plural(round(strap.holes), 'screw')} each, drill {bit}."


def _top_straps(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    down = say.tape(design.hoop.leg.board_top - design.hoop.leg.top_strap)
    return (
        "Top straps, loose",
        f"{2 * len(design.hoops)}, middle {down} below the edge.{_fixing(bench)} Pipe still "
        "slides.",
    )


def _rods(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    depth, tip = design.hold_down.stake_depth, design.hoop.leg.top_strap
    return (
        "Rods",
        f"{2 * len(design.hoops)} at the marks, tight to the board: {say.tape(depth)} in the "
        f"ground, {say.tape(tip)} over it.",
    )


def _bend(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    hoop = design.hoop
    if "sleeves" in bench.traits:
        how = "One holds an end down over its rod, the other walks the free end over."
    else:
        how = (
            f"Mark pipes {say.tape(hoop.leg.embed)} from both ends: level with the edge. One "
            "holds, one walks the free end over."
        )
    return "Pipe in, two people", f"{how} {len(design.hoops)} hoops."


def _plumb(bench: Bench) -> Words:
    return (
        "Plumb",
        f"Legs upright both ways, {bench.say.length(bench.design.hoop.span)} apart.",
    )


def _low_straps(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    leg = design.hoop.leg
    assert leg.low_strap is not None
    return (
        "Low straps, loose",
        f"{2 * len(design.hoops)}, middle {say.tape(leg.board_top - leg.low_strap)} below the "
        f"edge.{_fixing(bench)}",
    )


def _sight(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    levelling = next(f for f in design.findings if f.name == "levelling")
    low, lift = float(levelling.values["low"]), float(levelling.values["lift"])
    return (
        "Sight the crowns",
        f"All in line. {say.tape(low)} low: raise both legs {say.tape(lift)}.",
    )


def _tighten(bench: Bench) -> Words:
    order = "Low straps first, then top." if bench.design.hoop.leg.straps == 2 else "Hoop by hoop."
    return "Tighten", f"{order} Stop when the pipe will not turn."


def _pin(bench: Bench) -> Words:
    design = bench.design
    screw = design.hold_down.pin
    assert screw is not None
    bit = bench.say.bit(pilot(screw, design.bed.species.specific_gravity))
    return (
        "Pins",
        f"{2 * len(design.hoops)}: drill {bit} through pipe into board, one screw; stop when its "
        "head touches.",
    )


def _ridge(bench: Bench) -> Words:
    pieces = bench.pieces("ridge")
    length = bench.say.length(sum(pieces) or bench.design.bed.outer_length)
    return (
        "Ridge",
        f"{bench.design.plan.hoops.ridge.capitalize()}, {length}, tied under every crown.",
    )


def _clips(bench: Bench) -> Words:
    clip = bench.design.cover.clip
    assert clip is not None
    return (
        "Clips",
        f"{bench.design.cover.clips} of {bench.say.tape(clip.length)}, slit, corners rounded.",
    )


def _panels(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    panel, cover = design.cover.end_panel, design.cover
    assert panel is not None
    clips = f", {len(cover.clip_arc)} clips on each" if cover.clip is not None else ""
    return (
        "End panels",
        f"2 of {say.area(panel.width, panel.height)} over hoops {hoops_of_role(design, 'panel')}, "
        f"crown first; {say.tape(panel.turn)} round the pipe{clips}.",
    )


def _battens(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    cover = design.cover
    length = next(run for run in cover.battens if "end" in run.name).pieces[0]
    places = evenly(length, 0.4572, 0.0762)
    if len(places) < batten_screws(length):
        places = (0.0762, length / 2, length - 0.0762)
    return (
        "Batten roll",
        f"Roll {say.tape(cover.allowances.batten_roll)} round the batten, top "
        f"{say.tape(cover.body.skirt)} below the edge. Screws at "
        f"{listed([say.tape(place) for place in places])}.",
    )


def _sheet_cut(bench: Bench) -> str:
    cover, say = bench.design.cover, bench.say
    long = say.length(cover.body.length)
    if cover.roll_width is None:
        return f"Strips {long} long, lapped {say.tape(0.1524)} and taped."
    return f"{long} off the {say.size(cover.roll_width)} roll."


def _body(bench: Bench) -> Words:
    design, say = bench.design, bench.say
    cover = design.cover
    over = say.tape(cover.allowances.end_overlap)
    clips = (
        f" Clips: {len(cover.clip_arc)} on hoops {hoops_of_role(design, 'end')} first."
        if cover.clip is not None
        else ""
    )
    return (
        "Body sheet, two people",
        f"{_sheet_cut(bench)} {over} past each end, skirt {say.tape(cover.skirt)}.{clips}",
    )


def _wrapped(bench: Bench) -> Words:
    cover, say = bench.design.cover, bench.say
    return (
        "Sheet, two people",
        f"{_sheet_cut(bench)} Skirt {say.tape(cover.skirt)} both sides. Fold the ends like a "
        f"parcel; roll the lowest {say.tape(cover.allowances.batten_roll)} round the batten, "
        f"{say.tape(cover.body.skirt)} below the edge.",
    )


#: How a rolled-down rail is held, by the plan's choice.
_HELD = {
    "weight": "",
    "tied": " A screw and a cord loop at every hoop.",
    "clipped": " Clip it at every hoop.",
}


def _rails(bench: Bench) -> Words:
    cover, say = bench.design.cover, bench.say
    turns = f"{cover.allowances.rail_wraps:g}".replace("1.5", "1 1/2")
    pieces = [listed([say.length(piece) for piece in rail]) for rail in cover.rails]
    rails = "; ".join(dict.fromkeys(pieces))
    return (
        "Rails",
        f"{plural(len(cover.rails), 'rail')} of {rails}. Tape the edge on, roll {turns} turns, "
        f"level.{_HELD[bench.design.plan.holding.rail]}",
    )


def _side_battens(bench: Bench) -> Words:
    runs = [run for run in bench.design.cover.battens if "side" in run.name]
    number, length = sum(len(run.pieces) for run in runs), runs[0].pieces[0]
    roll = bench.say.tape(bench.design.cover.allowances.batten_roll)
    return (
        "Side battens",
        f"{number} of {bench.say.length(length)}, {batten_screws(length)} screws each, {roll} of "
        "the sheet rolled round, from the middle outward.",
    )


def _bury(bench: Bench) -> Words:
    depth = bench.say.tape(bench.design.cover.allowances.burial)
    return "Bury the edge", f"The last {depth} of the sheet in a trench, filled and trodden down."


def _lacing(bench: Bench) -> Words:
    cords = bench.pieces("lacing")
    cut = f"{plural(len(cords), 'cord')} of {bench.say.length(cords[0])}" if cords else "Cords"
    return "Lacing", f"{cut}, mid-bay, screw to screw; unties by hand."


def _mesh_band(bench: Bench) -> Words:
    height = bench.say.length(bench.design.cover.mesh_band)
    return "Mesh", f"{height} high, inside the film: staple it, tie every leg."


SHORT: dict[str, Callable[[Bench], Words]] = {
    "square": _square,
    "standing-box": _standing,
    "stakes": _stakes,
    "ties": _ties,
    "mesh-below": _mesh_below,
    "fill": _fill,
    "mark": _mark,
    "top-straps": _top_straps,
    "rods": _rods,
    "bend": _bend,
    "plumb": _plumb,
    "low-straps": _low_straps,
    "sight": _sight,
    "tighten": _tighten,
    "pin": _pin,
    "ridge": _ridge,
    "clips": _clips,
    "panels": _panels,
    "battens": _battens,
    "body": _body,
    "wrapped-sheet": _wrapped,
    "rails": _rails,
    "side-battens": _side_battens,
    "bury": _bury,
    "lacing": _lacing,
    "mesh-band": _mesh_band,
}
"""The card's words of each step; a step that is not here goes with the one after it."""
