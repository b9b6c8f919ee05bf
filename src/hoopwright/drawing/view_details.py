"""Close-ups in section: how a leg is held, how film is held to a batten and to a rail."""

import math
import re

import numpy as np

from hoopwright.drawing.scene import (
    Circle,
    Fill,
    Group,
    Hatch,
    Item,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Point,
    Polyline,
    Shape,
    Side,
    Tone,
    View,
    Weight,
    rectangle,
    thin_part,
)
from hoopwright.drawing.subject import Subject, points
from hoopwright.tables.fittings import Screw
from hoopwright.units import plain_fractions

#: Film is drawn this far off what it lies on [m], thicker than it is, so that it can be seen.
_FILM = 0.0022


def _crop(lowest: float) -> float:
    """Return from what height a close-up shows the board [m]: some way below the lowest thing, or
    from the ground where that is near."""
    low = lowest - 0.05
    return low if low > 0.05 else 0.0


def _board(subject: Subject, crop: float) -> Group:
    """Return the board cut across, its grain ruled."""
    bed = subject.bed
    shapes: list[Shape] = []
    for course in range(bed.courses):
        low, high = course * bed.board.width, (course + 1) * bed.board.width
        if high <= crop:
            continue
        corners = _broken_board(bed.wall, max(low, crop), high, crop > low)
        shapes += [
            Fill(corners, Layer.BOARDS, Tone.PAPER),
            Hatch(corners, Layer.BOARDS),
            Polyline(corners, Layer.CUT, closed=True),
        ]
    return Group("board", f"Board, {bed.board.name}, cut across", tuple(shapes))


def _broken_board(wall: float, low: float, high: float, broken: bool) -> tuple[Point, ...]:
    """Return a board's section, its lower end a zigzag where it goes on."""
    if not broken:
        return rectangle(0.0, low, wall, high)
    step = 0.006
    foot = ((0.0, low), (0.4 * wall, low), (0.47 * wall, low + step), (0.53 * wall, low - step))
    return (*foot, (0.6 * wall, low), (wall, low), (wall, high), (0.0, high))


def _soil(subject: Subject, wide: float, crop: float) -> list[Item]:
    """Return the soil in the bed and the ground outside it. The bed lies to the right."""
    wall = subject.bed.wall
    top = max(subject.bed.height - 0.05, 0.01)
    soil = rectangle(wall, crop, wall + wide, top)
    line = Line((wall, top), (wall + wide, top), Layer.GROUND, Weight.THIN)
    made: list[Item] = [Group("soil", "Soil in the bed", (Fill(soil, Layer.GROUND), line))]
    if crop <= 0.0:
        strip = rectangle(-0.10, -0.018, wall + wide, 0.0)
        ground = Line((strip[0][0], 0.0), (strip[1][0], 0.0), Layer.GROUND)
        hatch = Hatch(strip, Layer.GROUND, 45.0, 0.0012)
        made.append(Group("ground", "Ground", (hatch, ground)))
    return made


def _screw(at: Point, inward: float, length: float, diameter: float) -> tuple[Shape, ...]:
    """Return a screw driven along x from its head at a place; inward is +1 or -1."""
    x, y = at
    half = diameter / 2
    neck = x + inward * 0.0028
    tip = x + inward * length
    shank = (
        (neck, y - half),
        (tip - inward * 1.6 * diameter, y - half),
        (tip, y),
        (tip - inward * 1.6 * diameter, y + half),
        (neck, y + half),
    )
    head = ((x, y - 2 * half), (neck, y - 1.4 * half), (neck, y + 1.4 * half), (x, y + 2 * half))
    return (
        thin_part(shank, Layer.STRAPS, Tone.DARK),
        thin_part(head, Layer.STRAPS, Tone.INK),
    )


def leg_view(subject: Subject) -> View:
    """Return the leg and its straps in section across the side board.

    The bed lies to the right; the straps' screws stand before and behind the pipe and are drawn
    as if one saw them.
    """
    bed, hoop = subject.bed, subject.hoop
    wall, radius = bed.wall, subject.outside / 2
    outside = subject.legs == "outside"
    inward = 1.0 if outside else -1.0
    centre = -radius if outside else wall + radius
    cut_top = bed.height + 0.11
    foot, bore = hoop.leg.foot, hoop.pipe.inside_diameter / 2
    low_left, low_right, high_right, high_left = pipe = rectangle(
        centre - radius, foot, centre + radius, cut_top
    )
    shapes: list[Shape] = [
        Fill(pipe, Layer.HOOPS, Tone.PAPER),
        Line(low_left, high_left, Layer.HOOPS),
        Line(low_right, high_right, Layer.HOOPS),
        Line(low_left, low_right, Layer.HOOPS),
        Polyline(_break(centre, radius, cut_top), Layer.HOOPS, weight=Weight.THIN),
        Line((centre, foot - 0.02), (centre, cut_top + 0.02), Layer.CENTRE),
    ]
    if bore > 0:
        bores = (centre - bore, centre + bore)
        shapes += [Line((at, foot), (at, cut_top), Layer.HIDDEN) for at in bores]
    items: list[Item] = [
        *_soil(subject, 0.16, 0.0),
        _board(subject, 0.0),
        Group("leg", f"Leg of the hoop, {hoop.pipe.name}", tuple(shapes)),
        Group("straps", "Straps and their screws", tuple(_leg_straps(subject, centre, inward))),
    ]
    levels = subject.strap_levels
    far = min(-0.10, centre - radius)
    items += [LinearDimension((far, level), (far, bed.height), Side.LEFT) for level in levels]
    items += [
        LinearDimension((far, hoop.leg.foot), (far, bed.height), Side.LEFT, "pipe {}"),
        LinearDimension((0.0, 0.0), (wall, 0.0), Side.BELOW),
        *_leg_leaders(subject, centre, inward),
        subject.bar(0.4),
    ]
    number = "two straps" if hoop.leg.straps == 2 else "one strap"
    description = (
        f"A leg held by {number}: middle of the strap "
        + " and ".join(subject.shown(bed.height - level) for level in levels)
        + " below the board's top edge."
    )
    return View("leg", "Leg and straps, in section", description, tuple(items), 5.0)


def _leg_straps(subject: Subject, centre: float, inward: float) -> list[Shape]:
    made: list[Shape] = []
    if subject.strap is None:
        return made
    radius, thick = subject.outside / 2, subject.strap.thickness
    half = subject.strap.width / 2
    for level in subject.strap_levels:
        face = centre + inward * radius
        far = centre - inward * (radius + max(thick, 0.0015))
        left, right = sorted((face, far))
        if subject.screw is not None:
            head = face - inward * 0.003
            made += _screw((head, level), inward, subject.screw.length, 0.004)
        made.append(
            thin_part(rectangle(left, level - half, right, level + half), Layer.STRAPS, Tone.DARK)
        )
    return made


def _leg_leaders(subject: Subject, centre: float, inward: float) -> list[Leader]:
    levels = subject.strap_levels
    leaders = [Leader((centre, subject.bed.height + 0.07), subject.hoop.pipe.name, Side.RIGHT)]
    if subject.strap is not None:
        words = ["strap"]
        if len(levels) == 2:
            words = ["top strap", "low strap: with the top one\nit keeps the leg upright"]
        leaders += [
            Leader((centre, level), text, Side.RIGHT)
            for level, text in zip(levels, words, strict=False)
        ]
        if subject.screw is not None:
            tip = centre + inward * (subject.outside / 2 + 0.6 * subject.screw.length)
            words_of = f"{_screw_words(subject.screw)}\npre-drilled"
            leaders.append(Leader((tip, levels[0]), words_of, Side.RIGHT))
    return leaders


def _break(centre: float, radius: float, y: float) -> tuple[Point, ...]:
    """Return the wavy line that says a pipe goes on."""
    turns = np.linspace(-1, 1, 17)
    wave = 0.004 * np.sin(math.pi * turns)
    return points(np.column_stack([centre + radius * turns, y + wave]))


def _screw_words(screw: Screw | None) -> str:
    """Return a screw's size and head, its coating left to the shopping list."""
    if screw is None:
        return "screw,"
    return re.sub(r"(\d)-(\d+/\d)", r"\1 \2", screw.name.split(",")[0]) + ","


def batten_view(subject: Subject) -> View:
    """Return film rolled round a batten and screwed to the end board, in section.

    The bed lies to the right.
    """
    bed, batten = subject.bed, subject.cover.batten
    low = max(subject.end_batten_low, 0.02)
    gap = 3 * _FILM
    left = -batten.thickness - gap
    wood = rectangle(left, low, -gap, low + batten.width)
    crop = _crop(low)
    film = _batten_film(subject, wood)
    panel = subject.cover.style == "framed"
    film_words = "film of the end panel" if panel else "end of the sheet"
    grain = (
        Fill(wood, Layer.BATTENS, Tone.PAPER),
        Hatch(wood, Layer.BATTENS, 135.0),
        Polyline(wood, Layer.CUT, closed=True, weight=Weight.MEDIUM),
    )
    middle = (wood[0][1] + wood[2][1]) / 2
    screw = subject.batten_screw
    length = screw.length if screw is not None else 2 * batten.thickness
    items: list[Item] = [
        *_soil(subject, 0.07, crop),
        _board(subject, crop),
        Group("batten", f"Batten, {batten.name}", grain),
        Group("film", film_words.capitalize(), (Polyline(film, Layer.COVER),)),
        Group("screw", "Screw", _screw((left - 2.2 * _FILM, middle), 1.0, length, 0.0042)),
        LinearDimension((left, bed.height), (left, wood[2][1]), Side.LEFT),
        LinearDimension((left, wood[0][1]), (left, wood[2][1]), Side.LEFT),
        Leader((film[0][0], film[0][1] - 0.03), film_words, Side.RIGHT),
        Leader(
            (left / 2, wood[2][1] - 0.008),
            f"batten, film rolled once round it\n"
            f"({subject.shown(subject.cover.allowances.batten_roll)} of film)",
            Side.RIGHT,
        ),
        Leader((0.4 * length, middle), f"{_screw_words(screw)}\nbatten pre-drilled", Side.RIGHT),
        subject.bar(0.12),
    ]
    description = (
        "Film comes down the outside of the end board, is rolled round the batten, and the "
        "batten is screwed through its pre-drilled holes into the board."
    )
    return View("batten", "Batten roll, in section", description, tuple(items), 2.0)


def _batten_film(subject: Subject, wood: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return film down the board, under the batten, up its face, over, and down behind it."""
    (left, low), _, (right, high), _ = wood
    board = -_FILM * 0.7
    one, two = _FILM, 2 * _FILM
    top = subject.bed.height
    return (
        (board, top + 0.06),
        (board, top),
        (board, low - two),
        (left - two, low - two),
        (left - two, high + one),
        (right + one, high + one),
        (right + one, low - one),
        (left - one, low - one),
        (left - one, high - 0.006),
    )


def rail_view(subject: Subject) -> View | None:
    """Return the roll-up rail in section across the side board, or None where no side rolls.

    The bed lies to the right.
    """
    if not subject.cover.rails:
        return None
    bed, cover = subject.bed, subject.cover
    face = bed.outer_width / 2 + subject.skirt_at[0]
    radius = cover.rail.outside_diameter / 2
    low = max(subject.skirt_bottom, 2 * radius)
    hang = face - _FILM * 0.7
    centre = (hang - radius - _FILM, low)
    turns = cover.allowances.rail_wraps
    film = ((hang, bed.height + 0.08), (hang, low), *_wrap(centre, radius, turns))
    crop = _crop(low - radius)
    pipe_foot = max(subject.hoop.leg.foot, crop)
    pipe_left = face + (0.0 if subject.legs == "outside" else bed.wall)
    leg = rectangle(pipe_left, pipe_foot, pipe_left + subject.outside, bed.height + 0.08)
    rail = (
        Circle(centre, radius, Layer.CUT, Tone.PAPER),
        Circle(centre, 0.82 * radius, Layer.RAILS, weight=Weight.THIN),
    )
    items: list[Item] = [
        *_soil(subject, 0.07, crop),
        _board(subject, crop),
        Group("leg", "Leg of a hoop behind the cut", (thin_part(leg, Layer.HOOPS, Tone.PAPER),)),
        Group("rail", f"Roll-up rail, {cover.rail.name}", rail),
        Group("film", "Film of the body sheet", (Polyline(film, Layer.COVER),)),
        *_rail_held(subject, centre, radius),
        LinearDimension((hang, bed.height), (hang, low), Side.LEFT, "to the rail {}"),
        Leader((hang, bed.height + 0.05), "film of the body sheet", Side.RIGHT),
        Leader(
            centre,
            f"rail, film wound {plain_fractions(turns)} turns\nand taped to it",
            Side.RIGHT,
        ),
        subject.bar(0.12),
    ]
    description = (
        f"The body sheet hangs {subject.shown(bed.height - low)} below the board's top edge and "
        f"winds {plain_fractions(turns)} turns on the rail, {cover.rail.name}."
    )
    return View("rail", "Roll-up rail, in section", description, tuple(items), 2.0)


def _rail_held(subject: Subject, centre: Point, radius: float) -> list[Item]:
    """Return what holds the rail at a hoop: a loop of cord from a screw in the board, or a clip."""
    if not subject.rail_ties:
        return []
    x, y = centre
    tied = subject.held.rail == "tied"
    turn = np.linspace(math.radians(60.0), math.radians(270.0), 24)
    out = radius + 3 * _FILM
    loop = points(np.column_stack([x + out * np.cos(turn), y + out * np.sin(turn)]))
    level = y - out
    screw = _screw((x, level), 1.0, 0.038 - x, 0.004)
    what = "loop of cord on a screw" if tied else "rail clip, screwed on"
    cord = Polyline((*loop, (x, level)), Layer.CUT if tied else Layer.CLIPS, weight=Weight.MEDIUM)
    return [
        Group("tie", f"{what.capitalize()}, at every hoop", (cord, *screw)),
        Leader((x, level), what, Side.RIGHT),
    ]


def _wrap(centre: Point, radius: float, turns: float) -> tuple[Point, ...]:
    """Return film winding round a rail, starting at its right side and going under it."""
    angles = np.linspace(0.0, -2 * math.pi * turns, int(36 * turns) + 1)
    out = radius + _FILM * (1.0 - 0.55 * np.linspace(0.0, 1.0, len(angles)))
    x, y = centre
    return points(np.column_stack([x + out * np.cos(angles), y + out * np.sin(angles)]))
