"""Steps for the cover: clips, end panels, battens, sheet, rails, and a walk round at the end."""

from __future__ import annotations

from hoopwright.answers.facts import hoops_of_role
from hoopwright.answers.voice import listed, plural
from hoopwright.cover import batten_screws
from hoopwright.cover.fastening import evenly
from hoopwright.sheet.step_drafts import Bench, Draft
from hoopwright.sheet.steps_hoops import pilot

_SIDES = ("left", "right")


def cover_steps(bench: Bench) -> tuple[Draft, ...]:
    """Return the steps from the first clip to the last look."""
    framed = bench.design.cover.style == "framed"
    ends = (
        (_panels(bench), _battens(bench), _body(bench))
        if framed
        else (_battens(bench), _wrapped_sheet(bench))
    )
    after = (*_sides(bench), *_lacing(bench), *_mesh(bench), _last_look(bench))
    return (*_clips(bench), *ends, *after)


def _stuff(bench: Bench) -> str:
    return {"film": "film", "fabric": "fabric", "mesh": "mesh"}[bench.design.cover.material.kind]


def _clips(bench: Bench) -> tuple[Draft, ...]:
    clip, say = bench.design.cover.clip, bench.say
    if clip is None or clip.kind != "slit tube":
        return ()
    return (
        Draft(
            "clips",
            "Cut the clips",
            (
                f"Cut the tube into {plural(bench.design.cover.clips, 'clip')} "
                f"{say.tape(clip.length)} long and slit each along one side, straight.",
                "Round the sharp corners with a file: they cut "
                f"{_stuff(bench)}. Warm stiff tube in hot water before you press it on.",
            ),
            ("saws", "scald"),
        ),
    )


def _panels(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    panel, cover = design.cover.end_panel, design.cover
    assert panel is not None
    clips = (
        f"Press on a clip at the crown, then one at each shoulder, then the rest: "
        f"{len(cover.clip_arc)} on each of these hoops."
        if cover.clip is not None
        else "Fasten it to the hoop from the crown down."
    )
    return Draft(
        "panels",
        "Hang the end panels",
        (
            f"Cut two sheets {say.area(panel.width, panel.height)} off the roll, as the roll "
            "diagram shows, and mark the middle of each. Trim to the pattern.",
            f"Hang one over each outermost hoop ({hoops_of_role(design, 'panel')}), its middle on "
            f"the crown, and turn {say.tape(panel.turn)} of it round the pipe.",
            clips,
            f"Smooth it downward as you go; {say.tape(panel.foot)} hangs below the board's top "
            "edge for the batten.",
        ),
        ("saws", "film-children", "wind", "ladder"),
        "panel",
    )


def _battens(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    cover, screw = design.cover, design.fitted.batten_screw
    ends = [run for run in cover.battens if "end" in run.name]
    length = ends[0].pieces[0]
    places = evenly(length, 0.4572, 0.0762)
    if len(places) < batten_screws(length):
        places = (0.0762, length / 2, length - 0.0762)
    holes = listed([say.tape(place) for place in places])
    number = sum(len(run.pieces) for run in ends)
    what = (
        f"with a {say.bit(pilot(screw, design.bed.species.specific_gravity))} bit, "
        f"{len(places)} holes each"
        if screw
        else f"{len(places)} holes each"
    )
    name = f" ({screw.name})" if screw else ""
    roll = say.tape(cover.allowances.batten_roll)
    overlap = say.tape(cover.body.skirt)
    fix = (
        f"Roll the lowest {roll} of the {_stuff(bench)} round the batten so "
        f"that its top comes about {overlap} below the board's top edge, and drive the "
        f"screws{name} through the roll into the end board."
    )
    sentences = [
        f"Cut {plural(number, 'batten')} {say.length(length)} long for the ends and pre-drill "
        f"them {what}, at {holes}.",
    ]
    if cover.style == "framed":
        sentences += [fix, "Screw the middle first, then outward, pulling the panel smooth."]
    else:
        sentences.append("Lay them ready: they are screwed on when the sheet hangs.")
    return Draft(
        "battens",
        "Cut and drill the battens" if cover.style == "wrapped" else "Batten the end panels",
        tuple(sentences),
        ("saws", "drill"),
        "batten",
    )


def _still_day(bench: Bench) -> str:
    if bench.design.cover.material.kind == "film":
        return "On a still, mild day (film stretches in heat and then hangs slack), "
    return "On a still day, "


def _inner_clips(bench: Bench) -> str:
    cover, design = bench.design.cover, bench.design
    if cover.clip is None:
        return "Fasten it to the hoops from the middle of the bed outward."
    inner = hoops_of_role(design, "inner")
    words = (
        f"Clip it at the ends first: {len(cover.clip_arc)} clips on hoops "
        f"{hoops_of_role(design, 'end')}, from the crown down."
    )
    return words + (f" Then crown and both shoulders of hoops {inner}." if inner else "")


def _body(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    cover = design.cover
    return Draft(
        "body",
        "Spread the body sheet",
        (
            *_cut_body(bench),
            f"{_still_day(bench)}two people draw it over the hoops and centre it: "
            f"{say.tape(cover.allowances.end_overlap)} beyond each end of the boards, the same "
            f"on both sides, {say.tape(cover.skirt)} of skirt below the boards' top edge.",
            _inner_clips(bench),
        ),
        ("wind", "film-children", "heat", "ladder"),
    )


def _cut_body(bench: Bench) -> tuple[str, ...]:
    cover, say = bench.design.cover, bench.say
    if cover.roll_width is not None:
        return (f"Cut {say.length(cover.body.length)} off the {say.size(cover.roll_width)} roll.",)
    strips = [
        sheet
        for part in bench.design.parts.sheets
        for sheet in part.sheets
        if sheet.name.startswith("body")
    ]
    return (
        f"Cut {plural(len(strips), 'strip')} {say.length(cover.body.length)} long off the "
        f"{say.size(strips[0].width)} roll. Lap them {say.tape(0.1524)} along the crown and tape "
        "the seam on both faces before you lift the sheet.",
    )


def _wrapped_sheet(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    cover = design.cover
    fall = (cover.body.length - design.bed.outer_length) / 2
    ends = (
        f"At each end gather the {say.length(fall)} that falls over the last hoop into flat "
        "folds, like a parcel, towards the middle of the end board; roll the lowest "
        f"{say.tape(cover.allowances.batten_roll)} round the batten and screw it to the end board "
        f"about {say.tape(cover.body.skirt)} below its top edge."
    )
    return Draft(
        "wrapped-sheet",
        "Spread the sheet over all",
        (
            *_cut_body(bench),
            f"{_still_day(bench)}two people draw it over the hoops and centre it along and "
            f"across: {say.tape(cover.skirt)} of skirt below the boards' top edge on both sides.",
            _inner_clips(bench),
            ends,
        ),
        ("wind", "film-children", "heat", "ladder", "drill"),
    )


def _sides(bench: Bench) -> tuple[Draft, ...]:
    cover = bench.design.cover
    drafts = []
    if cover.rails:
        drafts.append(_rails(bench))
    for edge, write in (("batten", _side_battens), ("bury", _bury)):
        sides = [side for side, held in zip(_SIDES, cover.edges, strict=True) if held == edge]
        if sides:
            drafts.append(write(bench, sides))
    return tuple(drafts)


#: How a rolled-down rail is held, by the plan's choice.
_RAIL_HELD = {
    "weight": (),
    "tied": (
        "Put a screw in the board under the rail at every hoop, and a loop of cord on each that "
        "hooks over the rolled-down rail. Hook them whenever the sides are down.",
    ),
    "clipped": (
        "At every hoop clip the rolled-down rail to the board, whenever the sides are down.",
    ),
}


def _rails(bench: Bench) -> Draft:
    design, say = bench.design, bench.say
    cover = design.cover
    rolled = [s for s, edge in zip(_SIDES, cover.edges, strict=True) if edge == "rail"]
    sentences = []
    for side, rail in zip(rolled, cover.rails, strict=True):
        pieces = listed([say.length(piece) for piece in rail])
        if len(rail) == 1:
            sentences.append(f"The {side} rail is one piece of {cover.rail.name}, {pieces} long.")
            continue
        joints = [sum(rail[:n]) for n in range(1, len(rail))]
        marks = listed([say.tape(joint) for joint in joints])
        sentences.append(
            f"The {side} rail is {cover.rail.name} of {pieces}, in this order from the first end "
            f"of the bed, joined by {cover.rail.splice}: joint at {marks} from the rail's start, "
            "off the hoops."
        )
    if len(cover.rails) == 2 and len(cover.rails[0]) > 1:
        sentences.append("The joints of the two sides do not face each other.")
    turns = f"{cover.allowances.rail_wraps:g}".replace("1.5", "1 1/2")
    sentences += [
        f"Lay each rail along the sheet's lower edge, {say.tape(cover.allowances.end_overlap)} "
        "beyond the boards at each end, tape the edge to it along its whole length and roll it "
        f"up {turns} turns.",
        "Roll each side to the crown and down again. It should run level; if it climbs at one "
        "end, unroll and start that end again.",
        *_RAIL_HELD[bench.design.plan.holding.rail],
    ]
    return Draft("rails", "Roll the sides on their rails", tuple(sentences), ("saws",), "rail")


def _side_battens(bench: Bench, sides: list[str]) -> Draft:
    design, say = bench.design, bench.say
    runs = [run for run in design.cover.battens if "side" in run.name]
    number, length = sum(len(run.pieces) for run in runs), runs[0].pieces[0]
    return Draft(
        "side-battens",
        f"Batten the {listed(sides)} side" + ("s" if len(sides) > 1 else ""),
        (
            f"Cut {plural(number, 'batten')} {say.length(length)} long and pre-drill each for "
            f"{batten_screws(length)} screws.",
            f"Roll the lowest {say.tape(design.cover.allowances.batten_roll)} of the sheet round "
            "each batten and screw it to the side board, beside the legs and not over a strap, "
            "from the middle of the bed outward.",
        ),
        ("saws", "drill"),
    )


def _bury(bench: Bench, sides: list[str]) -> Draft:
    say = bench.say
    depth = bench.design.cover.allowances.burial
    return Draft(
        "bury",
        f"Bury the {listed(sides)} edge" + ("s" if len(sides) > 1 else ""),
        (
            f"Dig a trench beside the board, about {say.tape(depth)} deep measured along its "
            "slope.",
            f"Lay the last {say.tape(depth)} of the sheet down its side and across its floor, "
            "fill it with the soil you took out and tread it down.",
        ),
        ("buried-lines",),
    )


def _lacing(bench: Bench) -> tuple[Draft, ...]:
    if not bench.design.plan.cover.lacing:
        return ()
    cords = bench.pieces("lacing")
    cut = f"{plural(len(cords), 'cord')} {bench.say.length(cords[0])} long" if cords else "cords"
    return (
        Draft(
            "lacing",
            "Lace the cover down",
            (
                f"Cut {cut}. In the middle of each bay draw one over the cover from a screw low "
                "in one side board to one in the other, snug and not biting.",
                "Tie it so that it loosens by hand when the sides are to be rolled up.",
            ),
            ("wind", "trips"),
        ),
    )


def _mesh(bench: Bench) -> tuple[Draft, ...]:
    height = bench.design.cover.mesh_band
    if height <= 0:
        return ()
    return (
        Draft(
            "mesh-band",
            "Stretch the mesh band",
            (
                f"Cut mesh to a band {bench.say.length(height)} high over the board, with a "
                "little more to staple, as long as the sides that open.",
                "Staple it to the board and tie it to every leg, inside the film and tight.",
            ),
            ("saws", "cut-mesh", "net-animals"),
        ),
    )


def _last_look(bench: Bench) -> Draft:
    sentences = [
        "Walk round once: every strap tight, every batten screw home, no sharp end against the "
        f"{_stuff(bench)}.",
    ]
    if bench.design.cover.rails:
        sentences.append("Roll the sides up and down, and tie them as you mean to leave them.")
    sentences.append("Roll up loose cuttings and take them away. Look again after the first wind.")
    return Draft(
        "last-look", "Try it and clear up", tuple(sentences), ("film-children", "snow", "flame")
    )
