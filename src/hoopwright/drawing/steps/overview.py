"""Steps shown on the whole bed: what the step adds in black on what stands in grey."""

import itertools
import math
from collections.abc import Callable
from dataclasses import replace

from hoopwright.bed import SOIL_BELOW_TOP
from hoopwright.drawing.scene import (
    Anchor,
    Arc,
    Circle,
    Fill,
    Group,
    Hatch,
    Item,
    Layer,
    Leader,
    Line,
    Polyline,
    Shape,
    Side,
    Text,
    Tone,
    View,
    Weight,
)
from hoopwright.drawing.solid import CABINET
from hoopwright.drawing.steps.hands import level_size, tape_measure, upright_size
from hoopwright.drawing.steps.parts import PARTS, part_of
from hoopwright.drawing.subject import Subject

#: What each step leaves standing, in the order of the trade.
ADDS: dict[str, tuple[str, ...]] = {
    "square": ("far boards", "near boards"),
    "standing-box": ("far boards", "near boards"),
    "stakes": ("stakes",),
    "ties": ("ties",),
    "mesh-below": ("mesh below",),
    "fill": ("soil",),
    "mark": ("marks",),
    "top-straps": ("top straps",),
    "rods": ("rods",),
    "bend": ("hoops",),
    "low-straps": ("low straps",),
    "pin": ("pins",),
    "ridge": ("ridge", "braces"),
    "panels": ("panels",),
    "battens": ("end battens",),
    "body": ("film", "film edges"),
    "wrapped-sheet": ("film", "film edges", "end battens"),
    "rails": ("rails", "rail ties"),
    "side-battens": ("side battens",),
    "bury": ("buried",),
    "lacing": ("lacing",),
    "mesh-band": ("mesh band",),
}
#: Parts that are out of sight once the next step is done, and those that hoops make superfluous.
_OUT_OF_SIGHT = {"ties", "mesh below"}
_WITHOUT_HOOPS = {"stakes", "marks"}
#: Parts drawn faintly on the finished bed, so that its shape stays clear.
_FAINT = {"mesh band", "lacing", "top straps", "low straps", "pins", "ridge", "braces"}


def greyed(item: Item) -> Item:
    """Return a part as it stands already: thin grey lines, its tones a step paler."""
    if isinstance(item, Group):
        return replace(item, shapes=tuple(_grey(shape) for shape in item.shapes))
    return item


def _grey(shape: Shape) -> Shape:
    if isinstance(shape, Text):
        return shape
    if isinstance(shape, Fill):
        return replace(shape, layer=Layer.STANDING, tone=_paler(shape.tone))
    if isinstance(shape, Hatch):
        return replace(shape, layer=Layer.STANDING)
    if isinstance(shape, Polyline | Circle):
        fill = None if shape.fill is None else _paler(shape.fill)
        return replace(shape, layer=Layer.STANDING, weight=Weight.THIN, fill=fill)
    if isinstance(shape, Line | Arc):
        return replace(shape, layer=Layer.STANDING, weight=Weight.THIN)
    return replace(shape, layer=Layer.STANDING)


def _paler(tone: Tone) -> Tone:
    return {Tone.INK: Tone.DARK, Tone.DARK: Tone.LIGHT}.get(tone, tone)


def overview(key: str, before: tuple[str, ...], subject: Subject) -> View:
    """Return the whole bed at a step.

    before : the steps done already
    """
    new = set(ADDS.get(key, ()))
    standing = {name for step in before for name in ADDS.get(step, ())} - new - _OUT_OF_SIGHT
    if "hoops" in new | standing:
        standing -= _WITHOUT_HOOPS
    if "film" in new | standing:
        standing -= {"soil"}
    shown = (part_of(name, subject) for name in PARTS if name in new | standing)
    items: list[Item] = [
        group if group.name in new else greyed(group) for group in shown if group.shapes
    ]
    if key in _NOTES:
        items += _NOTES[key](subject)
    tell, word = subject.say.tell, subject.say.word
    title = word(key.replace("-", " ").capitalize())
    black, grey = (", ".join(map(word, sorted(names))) for names in (new, standing))
    described = tell("{step}: new in black {parts}", step=title, parts=black)
    if standing:
        described += tell("; standing in grey {parts}", parts=grey)
    return View(f"step-{key}", title, f"{described}.", tuple(items), 48.0)


def finished(done: tuple[str, ...], subject: Subject) -> View:
    """Return the bed as it will stand, with its main sizes."""
    shown = {name for step in done for name in ADDS.get(step, ())}
    shown -= _OUT_OF_SIGHT | _WITHOUT_HOOPS | {"soil"}
    items: list[Item] = []
    for name in PARTS:
        group = part_of(name, subject)
        if name in shown and group.shapes:
            items.append(greyed(group) if name in _FAINT else group)
    bed = subject.bed
    length = bed.outer_length
    sizes = {"wide": bed.outer_width, "high": subject.top}
    size = subject.say.tell("{wide:length} wide, {high:length} high", **sizes)
    items += level_size(0.0, length, 0.0, subject.say.tell("{size:length} long", size=length))
    items.append(Text((length / 2, -0.14 * length), size, anchor=Anchor.MIDDLE))
    words = subject.say.tell(
        "{bed} as it will stand: {long:length} by {wide:length}, {hoops} hoops, {high:length} high "
        "over the ground.",
        bed=subject.name,
        long=length,
        hoops=str(len(subject.hoops)),
        **sizes,
    )
    return View("finished", "The bed as it will stand", words, tuple(items), 48.0)


def _box(subject: Subject) -> list[Item]:
    bed = subject.bed
    top, length, width = bed.height, bed.outer_length, bed.outer_width
    corners = [CABINET.at(x, y, top) for x, y in ((0, 0), (length, width), (length, 0), (0, width))]
    middle = CABINET.at(length / 2, width / 2, top)
    diagonal = math.hypot(length, width)
    return [
        Line(corners[0], corners[1], Layer.HIDDEN),
        Line(corners[2], corners[3], Layer.HIDDEN),
        Text(
            (middle[0], middle[1] - 0.02),
            subject.say.tell("both {size:length}", size=diagonal),
            anchor=Anchor.MIDDLE,
            clear=True,
        ),
        *level_size(0.0, length, 0.0, subject.shown(length)),
    ]


def _stakes(subject: Subject) -> list[Item]:
    length = subject.bed.outer_length
    depth = subject.held.stake_depth
    return upright_size(length + 0.1, -depth, 0.0, subject.mark(depth))


def _ties(subject: Subject) -> list[Item]:
    at = CABINET.at(0.0, subject.bed.outer_width, subject.bed.height)
    return [Text((at[0], at[1] + 0.08), subject.say.tell("{count} cords", count=str(subject.ties)))]


def _fill(subject: Subject) -> list[Item]:
    bed = subject.bed
    at = CABINET.at(bed.outer_length / 2, bed.outer_width / 2, bed.height - 0.05)
    words = subject.say.tell("{depth:tape} below the edge", depth=SOIL_BELOW_TOP)
    return [Text(at, words, anchor=Anchor.MIDDLE, clear=True)]


def _mark(subject: Subject) -> list[Item]:
    bed, marks = subject.bed, [station.mark for station in subject.hoops]
    reach = bed.outer_length - 0.1
    made: list[Item] = [Group("tape", "Tape", tape_measure(reach, bed.height))]
    below = -0.04 * bed.outer_length
    for mark in (marks[0], marks[-1]):
        made.append(Line((mark, 0.0), (mark, 0.35 * bed.height), Layer.DIMENSIONS))
        made.append(Text((mark, below), subject.mark(mark), anchor=Anchor.MIDDLE, clear=True))
    return made


def _rods(subject: Subject) -> list[Item]:
    length = subject.hoops[-1].mark
    tip = subject.hoop.leg.top_strap
    depth = subject.held.stake_depth
    return [
        *upright_size(length + 0.2, 0.0, tip, subject.mark(tip)),
        *upright_size(length + 0.2, -depth, 0.0, subject.mark(depth)),
    ]


def _body(subject: Subject) -> list[Item]:
    a, b = -subject.overhang, subject.bed.outer_length + subject.overhang
    low, top = subject.skirt_bottom, subject.bed.height
    skirt = subject.cover.skirt
    items = upright_size(b + 0.1, low, top, subject.say.tell("skirt {size:tape}", size=skirt))
    if skirt > top - low:  # what is more than the board is high lies on the ground
        along = ((b + 0.1, low), (b + 0.1 + skirt - (top - low), low))
        items.append(Line(*along, Layer.DIMENSIONS, Weight.MEDIUM))
    if subject.overhang:
        items += level_size(a, b, 0.0, subject.shown(b - a))
    return items


def _rails(subject: Subject) -> list[Item]:
    ends = [-subject.overhang]
    for piece in subject.rolled:
        ends.append(ends[-1] + piece)
    return [
        item
        for a, b in itertools.pairwise(ends)
        for item in level_size(a, b, 0.0, subject.shown(b - a))
    ]


def _lacing(subject: Subject) -> list[Item]:
    bays = sum(station.role != "panel" for station in subject.hoops) - 1
    at = CABINET.at(0.0, subject.bed.outer_width, subject.top)
    return [Text(at, subject.say.tell("{count} cords", count=str(bays)), anchor=Anchor.END)]


def _mesh_band(subject: Subject) -> list[Item]:
    length, low = subject.bed.outer_length, subject.bed.height
    band = subject.cover.mesh_band
    return upright_size(length + 0.1, low, low + band, subject.shown(band))


def _bury(subject: Subject) -> list[Item]:
    depth = subject.cover.allowances.burial
    words = subject.say.tell("{depth:tape} in the trench", depth=depth)
    return [Leader((subject.bed.outer_length / 2, -0.05), words, Side.BELOW)]


def _side_battens(subject: Subject) -> list[Item]:
    low, length = subject.skirt_bottom, subject.bed.outer_length
    return level_size(0.0, length, min(low, 0.0), subject.shown(length))


_NOTES: dict[str, Callable[[Subject], list[Item]]] = {
    "square": _box,
    "standing-box": _box,
    "stakes": _stakes,
    "ties": _ties,
    "fill": _fill,
    "mark": _mark,
    "rods": _rods,
    "body": _body,
    "wrapped-sheet": _body,
    "rails": _rails,
    "side-battens": _side_battens,
    "bury": _bury,
    "lacing": _lacing,
    "mesh-band": _mesh_band,
}
