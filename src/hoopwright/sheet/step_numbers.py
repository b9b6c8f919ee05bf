"""What the words of a step ask for by name: the numbers of this bed."""

import math
import string
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from hoopwright.answers.facts import hoops_of_role
from hoopwright.answers.voice import Voice, kind_of, listed, plural, sentence
from hoopwright.bed import SOIL_BELOW_TOP
from hoopwright.cover.assembly import SEAM_LAP, BattenRun
from hoopwright.cover.fastening import batten_holes, batten_screws
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.materials.parts import CORNER_SCREWS, JOINT_SCREWS
from hoopwright.sheet.traits import pieces_of
from hoopwright.tables.fittings import Screw
from hoopwright.units import plain_fractions

_SIDES = ("left", "right")


@dataclass(frozen=True)
class Bench:
    """What every step is written from."""

    design: Design
    traits: frozenset[str]
    say: Voice

    def pieces(self, kind: str) -> tuple[float, ...]:
        """Return the lengths [m] of all pieces that are cut of a kind, as "tie"."""
        return pieces_of(self.design, kind)

    def battens(self, where: str) -> list[BattenRun]:
        """Return the battens of the "end" or of the "side"."""
        return [run for run in self.design.cover.battens if where in run.name]

    def sides(self, edge: str) -> list[str]:
        """Return the sides whose lower edge is held so: by a rail, a batten, or buried."""
        edges = self.design.cover.edges
        return [side for side, held in zip(_SIDES, edges, strict=True) if held == edge]


class Merged(string.Formatter):
    """Words with the numbers of a bed put in.

    A name in braces is one of NUMBERS, or else a part of the design with what is within it; behind
    its colon stands how it is said: a kind of quantity of `units.show`, "bit" for the drill,
    "capital", or "count" and a thing to be counted. Several values are said as a list.
    """

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    def get_value(self, key: int | str, args: Sequence[Any], kwargs: Mapping[str, Any]) -> Any:
        """Return what a name stands for."""
        make = NUMBERS.get(str(key))
        return getattr(self._bench.design, str(key)) if make is None else make(self._bench)

    def own(self, words: str) -> str:
        """Return words in the reader's language, their names in braces still to be put in."""
        return self._bench.say.word(words)

    def format_field(self, value: Any, format_spec: str) -> str:
        """Return a value as its words behind the colon have it."""
        say = self._bench.say
        if isinstance(value, tuple | list):
            return say.listed([self.format_field(one, format_spec) for one in value])
        if format_spec.startswith("count "):
            return say.count(round(value), format_spec.removeprefix("count "))
        if format_spec == "capital":
            return sentence(say.word(value))
        if format_spec == "bit":
            return say.bit(value)
        return say.show(value, format_spec) if format_spec else str(value)


def pilot(screw: Screw, gravity: float) -> float:
    """Return the pilot hole [m] for a wood's specific gravity; dense from 0.6
    (NDS 2018 12.1.5.2, from memory)."""
    return screw.size.pilot_hardwood if gravity > 0.6 else screw.size.pilot_softwood


def _bit(bench: Bench, screw: Screw | None) -> float:
    assert screw is not None
    return pilot(screw, bench.design.bed.species.specific_gravity)


def _low_strap(bench: Bench) -> float:
    level = bench.design.hoop.leg.low_strap
    assert level is not None
    return level


def _strap_screws(bench: Bench) -> int:
    strap = bench.design.fitted.strap
    assert strap is not None
    return 2 * len(bench.design.hoops) * round(strap.holes)


def _boards(bench: Bench) -> list[str]:
    """Return the boards to cut, by kind, number and length."""
    alike: dict[tuple[str, float], int] = {}
    for piece in bench.design.bed.pieces():
        key = (kind_of(piece.name), piece.length)
        alike[key] = alike.get(key, 0) + 1
    return [f"{plural(n, kind)} {bench.say.length(at)} long" for (kind, at), n in alike.items()]


def _levelling(bench: Bench, what: str) -> float:
    found = next(f for f in bench.design.findings if f.name == "levelling")
    return float(found.values[what])


def _batten_holes(bench: Bench) -> tuple[float, ...]:
    """Return where the screws of an end batten go [m from its end]."""
    return batten_holes(bench.battens("end")[0].pieces[0])


def _strips(bench: Bench) -> list[Any]:
    """Return the strips of a body sheet that no roll is wide enough for."""
    sheets = (sheet for part in bench.design.parts.sheets for sheet in part.sheets)
    return [sheet for sheet in sheets if sheet.name.startswith("body")]


def _rail_sides(bench: Bench) -> str:
    """Return each rail with its joints, a line each."""
    cover, say = bench.design.cover, bench.say
    lines = []
    for side, rail in zip(bench.sides("rail"), cover.rails, strict=True):
        pieces = listed([say.length(piece) for piece in rail])
        joints = listed([say.tape(sum(rail[:n])) for n in range(1, len(rail))])
        lines.append(
            f"The {side} rail is {cover.rail.name} of {pieces}, in this order from the first end "
            f"of the bed, joined by {cover.rail.splice}: joint at {joints} from the rail's start, "
            "off the hoops."
            if joints
            else f"The {side} rail is one piece of {cover.rail.name}, {pieces} long."
        )
    return "\n".join(lines)


def _rail_pieces(bench: Bench) -> str:
    say = bench.say
    rails = [say.listed([say.length(one) for one in rail]) for rail in bench.design.cover.rails]
    return "; ".join(dict.fromkeys(rails))


def _hook_screw(bench: Bench) -> str:
    screw = bench.design.fitted.hook_screw
    return f" ({screw.name})" if screw else ""


def _held_sides(bench: Bench, edge: str, what: str) -> str:
    sides = bench.sides(edge)
    return f"{listed(sides)} {what}" + ("s" if len(sides) > 1 else "")


#: Name in the words of a step -> how it is worked out, in SI. Every bed has those it asks for:
#: the rows that name a thing are chosen only where there is one.
NUMBERS: dict[str, Callable[[Bench], Any]] = {
    "boards": _boards,
    "in_each_course": lambda b: " in each course" if b.design.bed.courses > 1 else "",
    "corner_screws": lambda b: CORNER_SCREWS,
    "corner_edge": lambda b: 0.0508,
    "joint_screws": lambda b: JOINT_SCREWS,
    "diagonal": lambda b: math.hypot(b.design.bed.outer_length, b.design.bed.outer_width),
    "mesh_opening": lambda b: 0.0127,
    "soil": lambda b: SOIL_BELOW_TOP,
    "ties": lambda b: len(b.pieces("tie")),
    "tie": lambda b: b.pieces("tie")[0],
    "all_hoops": lambda b: len(b.design.hoops),
    "all_legs": lambda b: 2 * len(b.design.hoops),
    "marks": lambda b: [station.mark for station in b.design.hoops],
    "last_mark": lambda b: b.design.hoops[-1].mark,
    "face": lambda b: b.say.word(b.design.plan.bed.legs),
    "top_strap": lambda b: b.design.hoop.leg.board_top - b.design.hoop.leg.top_strap,
    "low_strap": lambda b: b.design.hoop.leg.board_top - _low_strap(b),
    "past_low_strap": lambda b: _low_strap(b) - b.design.hoop.leg.foot,
    "strap_bit": lambda b: _bit(b, b.design.fitted.strap_screw),
    "strap_screws": _strap_screws,
    "low": lambda b: _levelling(b, "low"),
    "lift": lambda b: _levelling(b, "lift"),
    "pin_bit": lambda b: _bit(b, b.design.hold_down.pin),
    "ridge": lambda b: sum(b.pieces("ridge")) or b.design.bed.outer_length,
    "ridge_joined": lambda b: (
        f" in {len(b.pieces('ridge'))} lengths, joined off the hoops,"
        if len(b.pieces("ridge")) > 1
        else ""
    ),
    "braces": lambda b: len(b.pieces("brace")),
    "brace": lambda b: b.pieces("brace")[0],
    "panel_hoops": lambda b: hoops_of_role(b.design, "panel", say=b.say),
    "end_hoops": lambda b: hoops_of_role(b.design, "end", say=b.say),
    "inner_hoops": lambda b: hoops_of_role(b.design, "inner", say=b.say),
    "end_clips": lambda b: len(b.design.cover.clip_arc),
    "end_battens": lambda b: sum(len(run.pieces) for run in b.battens("end")),
    "end_batten": lambda b: b.battens("end")[0].pieces[0],
    "batten_bit": lambda b: _bit(b, b.design.fitted.batten_screw),
    "batten_holes": _batten_holes,
    "batten_holes_each": lambda b: len(_batten_holes(b)),
    "strips": lambda b: len(_strips(b)),
    "strip_width": lambda b: _strips(b)[0].width,
    "lap": lambda b: SEAM_LAP,
    "still_day": lambda b: (
        "On a still, mild day (film stretches in heat and then hangs slack),"
        if b.design.cover.material.kind == "film"
        else "On a still day,"
    ),
    "fall": lambda b: (b.design.cover.body.length - b.design.bed.outer_length) / 2,
    "rails": lambda b: len(b.design.cover.rails),
    "rail_sides": _rail_sides,
    "rail_pieces": _rail_pieces,
    "rail_holds": lambda b: len(b.design.cover.rails) * len(b.design.hoops),
    "rail_tie": lambda b: b.pieces("rail tie")[0],
    "hook_screw": _hook_screw,
    "rail_turns": lambda b: plain_fractions(b.design.cover.allowances.rail_wraps),
    "batten_sides": lambda b: _held_sides(b, "batten", "side"),
    "bury_sides": lambda b: _held_sides(b, "bury", "edge"),
    "side_battens": lambda b: sum(len(run.pieces) for run in b.battens("side")),
    "side_batten": lambda b: b.battens("side")[0].pieces[0],
    "side_batten_screws": lambda b: batten_screws(b.battens("side")[0].pieces[0]),
    "lacings": lambda b: len(b.pieces("lacing")),
    "lacing": lambda b: b.pieces("lacing")[0],
}
