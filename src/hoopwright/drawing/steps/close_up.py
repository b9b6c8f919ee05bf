"""Steps shown close up or from the end: straps, the pipe going in, plumb, sight, batten, clips."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from hoopwright.answers.voice import message
from hoopwright.drawing.people import STATURE, reaching_arm, standing
from hoopwright.drawing.scene import (
    Anchor,
    Arc,
    Circle,
    Group,
    Item,
    Layer,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Shape,
    Text,
    Tone,
    View,
    Weight,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.steps.hands import (
    arrow,
    kneeling,
    level_size,
    level_tool,
    screw_head,
    turn,
    upright_size,
)
from hoopwright.drawing.steps.overview import greyed
from hoopwright.drawing.steps.parts import PIN_BELOW
from hoopwright.drawing.subject import Subject, band, points
from hoopwright.drawing.view_details import batten_view
from hoopwright.drawing.view_end import hoop_outline

#: How much of the pipe's bend the last part of the way in still lacks.
_BENT_SO_FAR = 0.84
_HALF_WIDE = 0.15
#: Which strap is tightened first.
_ORDER = (message("1st"), message("2nd"))


def _board_face(subject: Subject) -> Group:
    """Return a stretch of a board's face round a mark, with the mark squared down it."""
    top = subject.bed.height
    shapes: tuple[Shape, ...] = (
        thin_part(rectangle(-_HALF_WIDE, 0.0, _HALF_WIDE, top), Layer.BOARDS, Tone.PAPER),
        Line((0.0, 0.0), (0.0, top), Layer.CENTRE),
    )
    return Group("board", "Face of the board with its mark", shapes)


def _pipe(subject: Subject, low: float, high: float) -> Group:
    half = subject.outside / 2
    return Group("pipe", "Pipe", (part(rectangle(-half, low, half, high), Layer.HOOPS),))


def _strap(subject: Subject, level: float, name: str) -> Group:
    """Return a strap over the pipe with the heads of its screws."""
    heads = [s for at in _screws_at(subject) for s in screw_head((at, level), 0.0075)]
    strap = part(subject.strap_face(0.0, level), Layer.STRAPS, Tone.DARK)
    return Group(name, name.capitalize(), (strap, *heads))


def _screws_at(subject: Subject) -> tuple[float, ...]:
    out = (subject.strap_length - 0.012) / 2
    return (-out, out) if subject.strap is None or subject.strap.holes > 1 else (out,)


def _standing_leg(subject: Subject) -> list[Item]:
    foot = max(subject.hoop.leg.foot, 0.0) if subject.legs == "outside" else subject.hoop.leg.foot
    return [greyed(_board_face(subject)), greyed(_pipe(subject, foot, subject.bed.height + 0.09))]


def _down(subject: Subject, level: float) -> list[Item]:
    """Return how far below the board's top edge a strap's middle is."""
    top = subject.hoop.leg.board_top
    words = subject.mark(top - level)
    return upright_size(_HALF_WIDE + 0.03, level, top, words)


def _top_straps(subject: Subject) -> list[Item]:
    leg = subject.hoop.leg
    scrap = _pipe(subject, leg.top_strap - 0.09, leg.board_top + 0.05)
    x = 0.035 + subject.outside / 2
    up, down = (x, leg.board_top + 0.045), (x, leg.board_top - 0.005)
    return [
        greyed(_board_face(subject)),
        greyed(scrap),
        _strap(subject, leg.top_strap, "top strap"),
        Group(
            "slides", "The scrap still slides", (*arrow(down, up, 0.012), *arrow(up, down, 0.012))
        ),
        *_down(subject, leg.top_strap),
    ]


def _low_straps(subject: Subject) -> list[Item]:
    leg = subject.hoop.leg
    assert leg.low_strap is not None
    return [
        *_standing_leg(subject),
        greyed(_strap(subject, leg.top_strap, "top strap")),
        _strap(subject, leg.low_strap, "low strap"),
        *_down(subject, leg.low_strap),
    ]


def _tighten(subject: Subject) -> list[Item]:
    levels = subject.strap_levels[::-1]
    items = _standing_leg(subject)
    for number, level in enumerate(levels, start=1):
        items.append(greyed(_strap(subject, level, f"strap {number}")))
        arrows = tuple(s for at in _screws_at(subject) for s in turn((at, level), 0.018))
        items.append(Group(f"turn {number}", "Tighten", arrows))
        if len(levels) > 1:
            words = subject.say.word(_ORDER[number - 1])
            items.append(Text((_HALF_WIDE + 0.01, level - 0.01), words, bold=True))
    return items


def _pin(subject: Subject) -> list[Item]:
    leg = subject.hoop.leg
    at = leg.top_strap - PIN_BELOW
    items = _standing_leg(subject)
    items += [
        greyed(_strap(subject, level, f"strap {number}"))
        for number, level in enumerate(subject.strap_levels[::-1], start=1)
    ]
    items.append(Group("pin", "Screw through the pipe", screw_head((0.0, at), 0.009)))
    items.append(Group("arrow", "Here", arrow((_HALF_WIDE - 0.02, at), (0.022, at), 0.014)))
    items.append(Text((_HALF_WIDE + 0.005, at - 0.01), subject.say.tell("1 a leg")))
    return items


def _end_of_bed(subject: Subject) -> list[Item]:
    """Return the boards in section, the ground and the straps, all standing."""
    bed = subject.bed
    half, wall = bed.outer_width / 2, bed.wall
    shapes: list[Shape] = [
        thin_part(rectangle(-half, 0.0, half, bed.height), Layer.BOARDS, Tone.PAPER),
        thin_part(rectangle(-half, 0.0, -half + wall, bed.height), Layer.BOARDS, Tone.LIGHT),
        thin_part(rectangle(half - wall, 0.0, half, bed.height), Layer.BOARDS, Tone.LIGHT),
        Line((-half - 0.75, 0.0), (half + 0.75, 0.0), Layer.GROUND),
    ]
    if subject.strap is not None and subject.legs == "outside":
        out, level = subject.outside + subject.strap.thickness, subject.hoop.leg.top_strap
        high = subject.strap_half_width
        for a, b in ((-half - out, -half), (half, half + out)):
            shapes.append(
                thin_part(rectangle(a, level - high, b, level + high), Layer.STRAPS, Tone.DARK)
            )
    return [greyed(Group("box", "The box from its end", tuple(shapes)))]


def half_bent(line: NDArray[np.float64], share: float) -> NDArray[np.float64]:
    """Return a pipe of the same length bent to a share of its curvature, its first leg held.

    line : (n, 2) [m] from foot to foot
    """
    steps = np.diff(line, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    angles = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    angles = angles[0] + share * (angles - angles[0])
    moved = np.column_stack([lengths * np.cos(angles), lengths * np.sin(angles)])
    path: NDArray[np.float64] = np.vstack([line[:1], line[0] + np.cumsum(moved, axis=0)])
    return path


def _clear(subject: Subject, at: float) -> list[Item]:
    """Return the clear height of the crown over the boards, at a place along."""
    return upright_size(at, subject.bed.height, subject.hoop.crown, _clear_words(subject))


def _clear_words(subject: Subject) -> str:
    return subject.say.tell("{height:length} clear", height=subject.hoop.crown_over_board)


def _bend(subject: Subject) -> list[Item]:
    half = subject.bed.outer_width / 2
    path = half_bent(subject.hoop.centreline, _BENT_SO_FAR)
    pipe = part(band(path, subject.outside / 2), Layer.HOOPS)
    free: Point = (float(path[-1, 0]), float(path[-1, 1]))
    grip: Point = (float(path[0, 0]), subject.bed.height + 0.3)
    stands = max(half, free[0]) + 0.4
    to = (subject.leg_at + 0.02, subject.bed.height + 0.1)
    over = max(float(path[:, 1].max()) + 0.12, STATURE + 0.06)
    return [
        *_end_of_bed(subject),
        Group("person 1", "One holds the leg", standing(-half - 0.55)),
        Group("person 2", "One walks the free end over", standing(stands)),
        Group("goal", "Where it goes", (Polyline(points(subject.hoop.centreline), Layer.HIDDEN),)),
        Group("pipe", "The pipe on its way", (pipe,)),
        Group("hand 1", "Hand", reaching_arm(grip, leftward=False)),
        Group("hand 2", "Hand", reaching_arm((free[0], free[1] + 0.15), leftward=True)),
        Group("arrow", "Over and down", arrow((free[0] + 0.02, free[1] - 0.06), to, 0.07)),
        Text((0.0, over), _clear_words(subject), anchor=Anchor.MIDDLE),
    ]


def _plumb(subject: Subject) -> list[Item]:
    out = subject.leg_at + subject.outside / 2
    low, long = subject.bed.height + 0.03, 0.6
    hoop = greyed(Group("hoop", "Hoop", (hoop_outline(subject),)))
    levels = (
        *level_tool(out + 0.005, low, long, upright=True),
        *level_tool(-out - 0.06, low, long, upright=True),
    )
    middle = Line((0.0, 0.0), (0.0, subject.top + 0.1), Layer.CENTRE)
    return [
        *_end_of_bed(subject),
        hoop,
        middle,
        Group("levels", "Spirit level on each leg", levels),
        Group("hand", "Hand", reaching_arm((out + 0.07, low + 0.3), leftward=True)),
        *level_size(-subject.leg_at, subject.leg_at, 0.0, subject.shown(2 * subject.leg_at)),
    ]


def _sight(subject: Subject) -> list[Item]:
    bed, radius = subject.bed, subject.outside / 2
    shapes: list[Shape] = [
        thin_part(rectangle(0.0, 0.0, bed.outer_length, bed.height), Layer.BOARDS, Tone.PAPER)
    ]
    for s in subject.hoops:
        post = rectangle(s.mark - radius, bed.height, s.mark + radius, subject.top)
        shapes.append(thin_part(post, Layer.HOOPS, Tone.PAPER))
    first, last = subject.hoops[0].mark, subject.hoops[-1].mark
    at = first - 0.75
    items: list[Item] = [greyed(Group("bed", "The bed from its side", tuple(shapes)))]
    items.append(Group("person", "Kneel and sight along the crowns", kneeling(at, subject.top)))
    line = Line((at + 0.15, subject.top), (last + 0.2, subject.top), Layer.CUT, Weight.MEDIUM)
    items.append(Group("line", "String or line of sight", (line,)))
    return [*items, *_clear(subject, last + 0.3)]


def _battens(subject: Subject) -> list[Item]:
    stays = {"batten", "film", "screw"}
    view = batten_view(subject)
    items: list[Item] = []
    for item in view.items:
        if isinstance(item, Group):
            items.append(item if item.name in stays else greyed(item))
        elif isinstance(item, LinearDimension):
            words = subject.mark(item.length)
            low, high = sorted((item.start[1], item.end[1]))
            items += upright_size(item.start[0] - 0.02, low, high, words, leftward=True)
    return items


def _clips(subject: Subject) -> list[Item]:
    clip = subject.cover.clip
    if clip is None:
        return []
    pipe, wide = subject.outside / 2, subject.outside / 2 + 0.003
    tube = rectangle(-0.115, -wide, -0.115 + clip.length, wide)
    slit = Line((-0.115, 0.0), (-0.115 + clip.length, 0.0), Layer.CUT)
    grip = Arc((0.0, 0.0), pipe + 0.005, -140.0, 140.0, Layer.CUT, Weight.THICK)
    push = arrow((0.07, 0.0), (pipe + 0.012, 0.0), 0.012)
    return [
        Group("tube", "Tube cut to length and slit", (part(tube, Layer.CLIPS), slit)),
        greyed(Group("pipe", "Pipe", (Circle((0.0, 0.0), pipe, Layer.HOOPS, Tone.PAPER),))),
        Group(
            "film",
            "Sheet over the pipe",
            (Arc((0.0, 0.0), pipe + 0.002, -100.0, 100.0, Layer.COVER, Weight.THIN),),
        ),
        Group("clip", "Clip pressed over sheet and pipe", (grip, *push)),
        Text(
            (-0.115 + clip.length / 2, wide + 0.008),
            subject.say.tell("{count} clips", count=str(subject.cover.clips)),
            anchor=Anchor.MIDDLE,
        ),
        *level_size(-0.115, -0.115 + clip.length, -wide, subject.mark(clip.length)),
    ]


CLOSE_UPS: dict[str, Callable[[Subject], list[Item]]] = {
    "top-straps": _top_straps,
    "bend": _bend,
    "plumb": _plumb,
    "low-straps": _low_straps,
    "sight": _sight,
    "tighten": _tighten,
    "pin": _pin,
    "battens": _battens,
    "clips": _clips,
}


def close_up(key: str, subject: Subject) -> View:
    """Return a step close up, or from an end or a side of the bed."""
    items = CLOSE_UPS[key](subject)
    titles = [item.title.partition(",")[0] for item in items if isinstance(item, Group)]
    named = [subject.say.word(title) for title in titles]
    title = subject.say.word(key.replace("-", " ").capitalize())
    return View(f"step-{key}", title, f"{title}: {'; '.join(named)}.", tuple(items), 12.0)
