"""The bed seen from its end: the true bent pipe, the film round it, a person beside it; and the
flat pattern of its end panel, as it lies on the floor to be cut."""

import math

import numpy as np

from hoopwright.drawing.people import reaching_arm, standing
from hoopwright.drawing.scene import (
    Anchor,
    Circle,
    Group,
    Item,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Polyline,
    Shape,
    Side,
    Text,
    Tone,
    View,
    Weight,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.subject import Subject, along_line, band, beside, points, stiffened
from hoopwright.drawing.view_side import ground
from hoopwright.tables.people import Reach


def _end_boards(subject: Subject) -> Group:
    bed = subject.bed
    half, wall = bed.outer_width / 2, bed.wall
    shapes: list[Shape] = []
    for course in range(bed.courses):
        low, high = course * bed.board.width, (course + 1) * bed.board.width
        shapes.append(part(rectangle(-half + wall, low, half - wall, high), Layer.BOARDS))
        for left in (-half, half - wall):
            grain = rectangle(left, low, left + wall, high)
            shapes.append(part(grain, Layer.BOARDS, Tone.LIGHT))
    return Group("end board", f"End board between the side boards, {bed.board.name}", tuple(shapes))


def hoop_outline(subject: Subject) -> Polyline:
    """Return the bent pipe as a closed outline, from the computed curve."""
    return part(band(subject.hoop.centreline, subject.outside / 2), Layer.HOOPS)


def _end_straps(subject: Subject) -> list[Shape]:
    """Return the straps of both legs seen edge on: bent round the pipe, flat on the board."""
    if subject.strap is None or subject.legs == "inside":
        return []
    face, out = subject.bed.outer_width / 2, subject.outside + subject.strap.thickness
    high = subject.strap_half_width
    return [
        thin_part(
            rectangle(min(a, b), level - high, max(a, b), level + high), Layer.STRAPS, Tone.DARK
        )
        for level in subject.strap_levels
        for a, b in ((face, face + out), (-face, -face - out))
    ]


def _end_edges(subject: Subject) -> list[Shape]:
    """Return what ends the film at its two long edges: a rail, or a batten on the board."""
    cover, low = subject.cover, subject.skirt_bottom
    made: list[Shape] = []
    for edge, at, sign in zip(cover.edges, subject.skirt_at, (-1, 1), strict=True):
        if edge == "rail":
            radius = cover.rail.outside_diameter / 2
            centre = (at + sign * radius, max(low, radius))
            made.append(Circle(centre, radius, Layer.RAILS, Tone.PAPER))
            made.append(Circle(centre, 0.8 * radius, Layer.RAILS, weight=Weight.THIN))
        elif edge == "batten":
            thick = cover.batten.thickness
            left, right = sorted((at, at + sign * thick))
            corners = rectangle(left, low, right, low + cover.batten.width)
            made.append(part(corners, Layer.BATTENS, Tone.DARK))
        else:
            deep = 0.7 * cover.allowances.burial
            trench = ((at, low), (at, 0.0), (at + sign * 0.4 * deep, -deep))
            made.append(Polyline(trench, Layer.HIDDEN))
    return made


def _end_batten(subject: Subject) -> Group:
    half, low = subject.bed.outer_width / 2, subject.end_batten_low
    width = subject.cover.batten.width
    corners = rectangle(-half, low, half, low + width)
    batten = thin_part(corners, Layer.BATTENS, Tone.DARK)
    return Group("end batten", f"Batten across the end, {subject.cover.batten.name}", (batten,))


def _end_clips(subject: Subject) -> list[Shape]:
    clip = subject.cover.clip
    if clip is None:
        return []
    made: list[Shape] = []
    for distance in subject.cover.clip_arc:
        (x, y), angle = along_line(subject.film_over_hoop, distance)
        along = np.array([math.cos(angle), math.sin(angle)]) * clip.length / 2
        inward = np.array([math.sin(angle), -math.cos(angle)])
        outer = np.array([x, y]) - 0.002 * inward
        deep = inward * 0.55 * subject.outside
        corners = (outer - along, outer + along, outer + along + deep, outer - along + deep)
        made.append(thin_part(points(np.array(corners)), Layer.CLIPS, Tone.DARK))
    return made


def _person(subject: Subject, right: float) -> list[Item]:
    """Return a figure beside the bed and an arm over the board, to the reach of that person."""
    made: list[Item] = []
    if subject.reach is not None:
        half, wall = subject.bed.outer_width / 2, subject.bed.wall
        from_edge = max(half - subject.reach.from_one_side, wall - half)
        level = subject.bed.height + 0.06
        arm = reaching_arm((from_edge, level), leftward=True)
        made.append(Group("arm", _reach_words(subject.reach, subject), arm))
    figure = standing(right + 0.42)
    made.append(Group("person", f"A person {subject.shown(1.70)} tall, for size", figure))
    return made


def _end_braces(subject: Subject) -> list[Item]:
    """Return the cords from the ridge's end down to both boards."""
    half = subject.bed.outer_width / 2
    cords = tuple(
        Line((a[1] - half, a[2]), (b[1] - half, b[2]), Layer.STRAPS, Weight.THIN)
        for a, b in subject.braces[:2]
    )
    return stiffened((), cords)


def end_view(subject: Subject) -> View:
    """Return the elevation of an end: the true bent pipe, the board, the film, a person."""
    bed, hoop = subject.bed, subject.hoop
    half = bed.outer_width / 2
    wide = max(half, hoop.overall_width / 2, subject.skirt_at[1])
    film = Polyline(points(subject.film_line), Layer.COVER, weight=Weight.THIN)
    inside = thin_part(points(subject.film_over_hoop), Layer.COVER, Tone.LIGHT)
    middle = Line((0.0, -0.06), (0.0, subject.top + 0.06), Layer.CENTRE)
    boards, batten = _end_boards(subject), _end_batten(subject)
    hoop_group = Group("hoop", _hoop_words(subject), (hoop_outline(subject),))
    clips = f"Clips, {len(subject.cover.clip_arc)} on each end hoop"
    order: list[Item] = [
        ground(-wide - 0.12, wide + 0.75),
        Group("end panel", "End panel", (inside,)),
        *((hoop_group, boards) if subject.legs == "inside" else (boards, hoop_group)),
        *_end_braces(subject),
        Group("straps", "Straps", tuple(_end_straps(subject))),
        Group("clips", clips, tuple(_end_clips(subject))),
        Group("body sheet", "Body sheet and its edges", (film, *_end_edges(subject))),
        batten,
        middle,
        *_person(subject, wide),
        LinearDimension((-half, 0.0), (half, 0.0), Side.BELOW),
        LinearDimension((-subject.leg_at, 0.0), (subject.leg_at, 0.0), Side.BELOW, "legs {}"),
        LinearDimension((-half, 0.0), (-half, bed.height), Side.LEFT),
        LinearDimension((-half, bed.height), (0.0, hoop.crown), Side.LEFT, "clear {}"),
        LinearDimension((-half, 0.0), (0.0, subject.top), Side.LEFT),
        _least_radius(subject),
        *_film_decision(subject),
        subject.bar(2 * wide),
    ]
    if hoop.curve.bulge > 0.003:
        ends = (-hoop.overall_width / 2, 0.0), (hoop.overall_width / 2, 0.0)
        order.append(LinearDimension(*ends, Side.BELOW, "widest {}"))
    description = (
        f"{subject.name} from its end. {_hoop_words(subject)}. Clear height over the board "
        f"{subject.shown(hoop.crown_over_board)}."
    )
    shown = [item for item in order if not (isinstance(item, Group) and not item.shapes)]
    note = f"The hoop is the computed curve of a {subject.shown(hoop.cut_length)} pipe."
    if subject.reach is not None:
        note += f"\n{_reach_words(subject.reach, subject)}"
    return View("end", "End elevation", description, tuple(shown), 20.0, note)


def _hoop_words(subject: Subject) -> str:
    hoop = subject.hoop
    return (
        f"Hoop of {hoop.pipe.name}, {subject.shown(hoop.cut_length)} long, bent to a least "
        f"radius of {subject.shown(hoop.curve.least_radius)}"
    )


def _reach_words(reach: Reach, subject: Subject) -> str:
    distance = subject.shown(reach.from_one_side)
    return f"The arm shows the reach over the board: {distance} ({reach.key})."


def _least_radius(subject: Subject) -> Group:
    """Return where the pipe bends most, and to what radius, written inside the hoop."""
    hoop = subject.hoop
    index = int(np.argmin(np.abs(hoop.curve.arc - hoop.curve.least_radius_arc)))
    tip = (
        abs(float(hoop.curve.x[index] - hoop.span / 2)),
        float(hoop.curve.y[index] + hoop.hold_height) - subject.outside / 2,
    )
    level = hoop.crown - 0.36 * hoop.crown_over_board
    radius = subject.shown(hoop.curve.least_radius)
    word = subject.decisions.get("bend-strain")
    layer = Layer.DECISION if word else Layer.TEXT
    words = [f"{word}: too tight a bend"] if word else []
    words += ["least bend", f"radius {radius}"]
    return Group(
        "least radius",
        f"Least bend radius {radius}",
        (
            Line(tip, (0.0, level), Layer.DIMENSIONS),
            *(
                Text((0.0, level), text, layer, Anchor.MIDDLE, clear=True, line=number)
                for number, text in enumerate(words)
            ),
        ),
    )


def _film_decision(subject: Subject) -> list[Item]:
    """Return the mark of a sheet that no roll is wide enough for."""
    word = subject.decisions.get("film-width")
    if word is None:
        return []
    x, y = subject.film_line[len(subject.film_line) // 3]
    text = f"{word}: no roll is wide enough"
    return [Leader((float(x), float(y)), text, Side.ABOVE, decision=True)]


def panel_view(subject: Subject) -> View | None:
    """Return the end panel's pattern, or None for a bed whose cover has none."""
    panel = subject.cover.end_panel
    if panel is None:
        return None
    arch = panel.outline
    half, width = panel.width / 2, float(np.ptp(arch[:, 0]))
    foot = float(abs(arch[0, 0]))
    crown, bottom = float(arch[:, 1].max()), -panel.foot
    sheet = rectangle(-half, bottom, half, bottom + panel.height)
    over_hoop = Polyline(points(arch), Layer.HIDDEN)
    board_top = Line((-foot, 0.0), (foot, 0.0), Layer.HIDDEN)
    size = f"{subject.shown(panel.width)} by {subject.shown(panel.height)}"
    turned = _turn_line(arch, panel.turn, bottom)
    items: list[Item] = [
        Group("sheet", f"Sheet to cut, {size}", (thin_part(sheet, Layer.COVER, Tone.PAPER),)),
        Group(
            "turn",
            f"Film turned over the hoop, {subject.shown(panel.turn)}",
            (part(turned, Layer.COVER, Tone.LIGHT),),
        ),
        Group("arch", "Line of the outside of the end hoop", (over_hoop,)),
        Group("board top", "Top edge of the end board", (board_top,)),
        Line((0.0, bottom - 0.03), (0.0, bottom + panel.height + 0.03), Layer.CENTRE),
        LinearDimension((-half, bottom), (half, bottom), Side.BELOW, "cut {}"),
        LinearDimension((-width / 2, bottom), (width / 2, bottom), Side.BELOW, "hoop {}"),
        LinearDimension((-half, bottom), (-half, bottom + panel.height), Side.LEFT, "cut {}"),
        LinearDimension((-half, 0.0), (-half, crown), Side.LEFT),
        LinearDimension((-half, bottom), (-half, 0.0), Side.LEFT),
        Leader(_on(arch, 0.62), "outside of the end hoop", Side.RIGHT),
        Leader((0.9 * foot, 0.0), "top edge of the end board", Side.RIGHT),
        Leader(
            _on(np.array(turned[1:-1]), 0.8), "cut line, film to turn\nround the hoop", Side.RIGHT
        ),
        subject.bar(panel.width),
    ]
    description = (
        f"End panel, two to cut: a sheet {size}; {subject.shown(panel.turn)} is turned round the "
        f"hoop and {subject.shown(panel.foot)} hangs below the board's top edge for the batten."
    )
    note = "Film laid flat. Mark from the centre line; cut on the full line."
    return View("panel", "End panel, cut two", description, tuple(items), 16.0, note)


def _turn_line(arch: np.ndarray, turn: float, bottom: float) -> tuple[tuple[float, float], ...]:
    """Return the cut line: the arch moved out by the turn, down to the foot."""
    outward = beside(arch[1:-1] if len(arch) > 4 else arch, turn)
    middle = int(np.argmax(outward[:, 1]))
    first = int(np.argmin(outward[:, 0]))
    last = int(np.argmax(outward[:, 0]))
    # Below its widest the cut runs straight down: easier to cut, and more to hold.
    kept = outward[min(first, middle) : max(last, middle) + 1]
    return (float(kept[0, 0]), bottom), *points(kept), (float(kept[-1, 0]), bottom)


def _on(line: np.ndarray, share: float) -> tuple[float, float]:
    """Return the point of a line at a share of its points."""
    x, y = line[int(share * (len(line) - 1))]
    return float(x), float(y)
