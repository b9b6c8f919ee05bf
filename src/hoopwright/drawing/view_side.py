"""The bed seen from its long side, film on."""

import math
from itertools import pairwise

import numpy as np

from hoopwright.drawing.scene import (
    Group,
    Hatch,
    Item,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Polyline,
    Shape,
    Side,
    Tone,
    View,
    Weight,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.subject import Subject, along_line, stiffened
from hoopwright.drawing.view_plan import hoop_title


def ground(left: float, right: float) -> Group:
    """Return the ground line with a ruled strip under it."""
    strip = rectangle(left, -0.03, right, 0.0)
    shapes = (
        Hatch(strip, Layer.GROUND, 45.0, 0.0012),
        Line((left, 0.0), (right, 0.0), Layer.GROUND),
    )
    return Group("ground", "Ground", shapes)


def _leg_straps(subject: Subject, centre: float) -> list[Shape]:
    """Return the straps of one leg as seen square to the board."""
    if subject.strap is None:
        return []
    return [
        thin_part(subject.strap_face(centre, level), Layer.STRAPS, Tone.DARK)
        for level in subject.strap_levels
    ]


def _side_hoop(subject: Subject, index: int) -> Group:
    """Return a hoop seen from the long side: a post from its foot to the crown."""
    mark, radius = subject.hoops[index].mark, subject.outside / 2
    foot, board = subject.hoop.leg.foot, subject.bed.height
    shown_from = max(foot if subject.legs == "outside" else board, 0.0)
    pipe = rectangle(mark - radius, shown_from, mark + radius, subject.top)
    shapes: list[Shape] = [thin_part(pipe, Layer.HOOPS, Tone.PAPER)]
    if foot < shown_from:
        buried = rectangle(mark - radius, foot, mark + radius, shown_from)
        shapes.append(Polyline(buried, Layer.HIDDEN, closed=True))
    if subject.legs == "outside":
        shapes += _leg_straps(subject, mark)
    if subject.hoops[index].role != "inner":
        shapes += _side_clips(subject, mark)
    return Group(f"hoop {index + 1}", hoop_title(subject, index), tuple(shapes))


def _side_clips(subject: Subject, mark: float) -> list[Shape]:
    """Return the clips one sees from the long side, where they grip the pipe."""
    clip = subject.cover.clip
    if clip is None:
        return []
    line, half = subject.film_over_hoop, 0.8 * subject.outside
    made: list[Shape] = []
    for distance in subject.cover.clip_arc:
        (x, y), angle = along_line(line, distance)
        if x > 1e-6:
            continue
        high = max(0.004, abs(math.sin(angle)) * clip.length / 2)
        corners = rectangle(mark - half, y - high, mark + half, min(y + high, subject.top + 0.004))
        made.append(thin_part(corners, Layer.CLIPS, Tone.DARK))
    return made


def _side_ridge(subject: Subject) -> list[Item]:
    """Return the ridge under the crowns and the near cords that tie it back."""
    (first, _, up), (last, _, _) = subject.ridge
    radius = subject.outside / 2
    outline = rectangle(first, up - radius, last, up + radius)
    cords = tuple(Line((a[0], a[2]), (b[0], b[2]), Layer.STRAPS) for a, b in subject.braces[::2])
    line = (thin_part(outline, Layer.HOOPS, Tone.PAPER),) if subject.ridged else ()
    return stiffened(line, cords)


def _side_boards(subject: Subject) -> Group:
    bed = subject.bed
    corners = rectangle(0.0, 0.0, bed.outer_length, bed.height)
    shapes: list[Shape] = [part(corners, Layer.BOARDS)]
    for course in range(1, bed.courses):
        level = course * bed.board.width
        shapes.append(Line((0.0, level), (bed.outer_length, level), Layer.BOARDS))
    return Group("side board", f"Side board, {bed.board.name}", tuple(shapes))


def _side_film(subject: Subject) -> Group:
    """Return the sheet from the long side: framed, it is cut square; wrapped, it falls in."""
    length, low, top = subject.bed.outer_length, subject.bed.height, subject.top
    over, radius = subject.overhang, subject.outside / 2
    corners = rectangle(-over, low, length + over, top)
    if subject.cover.style == "wrapped":
        first, last = subject.hoops[0].mark - radius, subject.hoops[-1].mark + radius
        corners = ((0.0, low), (length, low), (last, top), (first, top))
    film = thin_part(corners, Layer.COVER, Tone.LIGHT)
    return Group("body sheet", f"Body sheet, {subject.cover.material.name}", (film,))


def _skirt(subject: Subject) -> Group:
    """Return the film that hangs in front of the board, as a thin line with its rail."""
    over, bed, cover = subject.overhang, subject.bed, subject.cover
    low, length = subject.skirt_bottom, bed.outer_length
    shapes: list[Shape] = [
        Polyline(
            ((-over, bed.height), (-over, low), (length + over, low), (length + over, bed.height)),
            Layer.COVER,
            weight=Weight.THIN,
        )
    ]
    if subject.rolled:
        radius = cover.rail.outside_diameter / 2
        ends = np.cumsum([-over, *subject.rolled])
        strips = [
            (rectangle(float(a), low - radius, float(b), low + radius), Layer.RAILS)
            for a, b in pairwise(ends)
        ]
    elif "batten" in cover.edges:
        strips = [(rectangle(0.0, low, length, low + cover.batten.width), Layer.BATTENS)]
    else:
        strips = []
    shapes += [thin_part(strip, layer, Tone.PAPER) for strip, layer in strips]
    high = 0.8 * cover.rail.outside_diameter
    shapes += [
        Line((at, low - high), (at, low + high), Layer.STRAPS, Weight.THICK)
        for at in subject.rail_ties
    ]
    return Group("skirt", "Skirt of the body sheet, with its rail", tuple(shapes))


def _side_leaders(subject: Subject) -> list[Leader]:
    """Return the words over the long side, each above the thing it names."""
    marks = [hoop.mark for hoop in subject.hoops]
    wide = subject.bed.height + 0.8 * (subject.top - subject.bed.height)
    bay = max(range(len(marks) - 1), key=lambda index: marks[index + 1] - marks[index])

    def within(share: float) -> float:
        return marks[bay] + share * (marks[bay + 1] - marks[bay])

    leaders = [Leader((within(0.3), wide), "body sheet", Side.ABOVE)]
    if subject.hoops[-1].role == "panel":
        leaders.append(Leader((marks[-1], subject.top), "end-panel hoop", Side.ABOVE))
        leaders.append(Leader((marks[-2], subject.top), "body-sheet hoop", Side.ABOVE))
    else:
        leaders.append(Leader((marks[-1], subject.top), "end hoop", Side.ABOVE))
    if subject.rolled:
        leaders.append(Leader((within(0.6), subject.skirt_bottom), "roll-up rail", Side.ABOVE))
    return leaders


def side_view(subject: Subject) -> View:
    """Return the elevation of the long side, film on."""
    bed = subject.bed
    length, over = bed.outer_length, subject.overhang
    items: list[Item] = [
        ground(-0.2, length + 0.2),
        _side_film(subject),
        _side_boards(subject),
        *_side_ridge(subject),
        *(_side_hoop(subject, index) for index in range(len(subject.hoops))),
        _skirt(subject),
        LinearDimension((0.0, 0.0), (length, 0.0), Side.BELOW),
        LinearDimension((0.0, 0.0), (0.0, bed.height), Side.LEFT),
        LinearDimension((0.0, 0.0), (0.0, subject.top), Side.LEFT),
        *_side_leaders(subject),
        subject.bar(length),
    ]
    if over:
        ends = (-over, 0.0), (length + over, 0.0)
        items.append(LinearDimension(*ends, Side.BELOW, "body sheet {}"))
    if len(subject.rolled) > 1:
        edges = np.cumsum([-over, *subject.rolled])
        items += [
            LinearDimension((float(a), 0.0), (float(b), 0.0), Side.BELOW, "rail {}")
            for a, b in pairwise(edges)
        ]
    description = (
        f"{subject.name} from its long side with the film on: boards {subject.shown(bed.height)} "
        f"high, top of the pipe {subject.shown(subject.top)} above the ground."
    )
    title = "Side elevation"
    return View("side", title, description, tuple(items), 24.0)
