"""What kind of bed this is, in the words by which tools, cautions and care are chosen."""

from hoopwright.answers.facts import hoops_of_role
from hoopwright.answers.voice import kind_of
from hoopwright.design import Design

#: [m] Work above this over the ground is out of reach for many (common practice, no source).
OVERHEAD = 1.8
#: [m] Pipe from here on is carried with an eye on the wires above (common practice, no source).
LONG_PIPE = 3.0

#: [m] A box longer than this bows under wet soil (common practice, no source).
LONG_BOX = 2.4


def pieces_of(design: Design, kind: str) -> tuple[float, ...]:
    """Return the lengths [m] of all pieces that are cut of a kind, as "tie"."""
    pieces = (piece for cut in design.parts.cut for piece in cut.pieces)
    return tuple(piece.length for piece in pieces if kind_of(piece.name) == kind)


def traits_of(design: Design) -> frozenset[str]:
    """Return the words that are true of this bed."""
    plan, bed, hoop, cover = design.plan, design.bed, design.hoop, design.cover
    held, fitted = design.hold_down, design.fitted
    found = {
        "always",
        hoop.pipe.material,
        hoop.pipe.bending,
        cover.material.kind,
        cover.style,
        f"box {plan.bed.box}",
        f"legs {plan.bed.legs}",
        f"rail {plan.holding.rail}",
        "two straps" if hoop.leg.straps == 2 else "one strap",
        *cover.edges,
        *plan.wishes.animals,
    }
    asked = {
        "plastic pipe": hoop.pipe.stuff.is_plastic,
        "metal pipe": hoop.pipe.material.startswith("steel"),
        "long pipe": hoop.cut_length >= LONG_PIPE,
        "whole pipes": _whole_pipes(design),
        "overhead": bed.height + hoop.crown_over_board > OVERHEAD,
        "treated": bed.species.decay == "treated",
        "joints": bed.joints,
        "courses": bed.courses > 1,
        "long box": bed.outer_length > LONG_BOX,
        "digging": "bury" in cover.edges or found >= {"box standing", "legs inside"},
        "stakes": held.stakes or held.leg == "sleeve",
        "staked": held.stakes and held.stake,
        "sleeves": held.leg == "sleeve",
        "rod": held.sleeve_rod,
        "pin": held.pin,
        "rail clip": held.rail_clip,
        "ties": held.tied_to_soil,
        "tie cords": pieces_of(design, "tie"),
        "strap": fitted.strap,
        "strap screw": fitted.strap and fitted.strap_screw,
        "board screw": fitted.board_screw,
        "batten screw": fitted.batten_screw,
        "foot on the ground": abs(hoop.leg.foot) < 1e-6,
        "on the edge": hoop.on_the_edge,
        "ridge": plan.hoops.ridge != "none",
        "braces": pieces_of(design, "brace"),
        "inner hoops": hoops_of_role(design, "inner"),
        "battens": cover.battens,
        "clips": cover.clip,
        "slit clips": cover.clip and cover.clip.kind == "slit tube",
        "one sheet": cover.roll_width is not None,
        "facing rails": len(cover.rails) == 2 and len(cover.rails[0]) > 1,
        "mesh band": cover.mesh_band > 0,
        "lacing": plan.cover.lacing,
        "lacing cords": pieces_of(design, "lacing"),
    }
    return frozenset(found | {trait for trait, true in asked.items() if true})


def _whole_pipes(design: Design) -> bool:
    """Return whether every hoop is a whole stick, so that no pipe is cut."""
    plans = [cuts.plan for cuts in design.order.sticks if cuts.thing == design.hoop.pipe.key]
    used = [stick for plan in plans for stick in plan.sticks]
    return bool(plans) and all(len(stick.pieces) == 1 and stick.left < 1e-6 for stick in used)


def applies(when: str, traits: frozenset[str]) -> bool:
    """Return whether a row is for this bed: alternatives parted by "|", joined by "+"; "not " says
    what must not be true."""

    def holds(word: str) -> bool:
        wanted = word.removeprefix("not ")
        return (wanted in traits) is (wanted == word)

    return any(all(holds(w.strip()) for w in option.split("+")) for option in when.split("|"))
