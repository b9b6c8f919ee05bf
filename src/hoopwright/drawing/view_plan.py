"""The bed seen from above with its cover off: where the hoops stand, as a tape gives it."""

from hoopwright.drawing.layout import show_marks
from hoopwright.drawing.scene import (
    Group,
    Item,
    Layer,
    Line,
    LinearDimension,
    NorthArrow,
    RunningDimension,
    Side,
    Tone,
    View,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.subject import Subject, stiffened

ROLES = {
    "panel": "carries the end panel",
    "end": "carries the end of the body sheet",
    "inner": "carries the body sheet",
}


def _boards(subject: Subject) -> list[Item]:
    bed = subject.bed
    length, width, wall = bed.outer_length, bed.outer_width, bed.wall
    soil = thin_part(rectangle(wall, wall, length - wall, width - wall), Layer.GROUND, Tone.LIGHT)
    sides = (
        ("near side board", rectangle(0, 0, length, wall)),
        ("far side board", rectangle(0, width - wall, length, width)),
        ("first end board", rectangle(0, wall, wall, width - wall)),
        ("last end board", rectangle(length - wall, wall, length, width - wall)),
    )
    return [
        Group("soil", "Soil", (soil,)),
        *(
            Group(name, f"{name.capitalize()}, {bed.board.name}", (part(corners, Layer.BOARDS),))
            for name, corners in sides
        ),
    ]


def hoop_title(subject: Subject, index: int) -> str:
    """Return what a hoop is called wherever it can be pointed at."""
    station = subject.hoops[index]
    mark = subject.mark(station.mark)
    return f"Hoop {index + 1}, at {mark}, {ROLES[station.role]}"


def _hoops(subject: Subject) -> list[Item]:
    middle, half = subject.bed.outer_width / 2, subject.hoop.overall_width / 2
    radius = subject.outside / 2
    made: list[Item] = []
    for index, station in enumerate(subject.hoops):
        at = station.mark
        outline = rectangle(at - radius, middle - half, at + radius, middle + half)
        pipe = thin_part(outline, Layer.HOOPS, Tone.PAPER)
        ends = tuple(
            Line((at, middle + side * half), (at, middle + side * (half + 0.03)), Layer.CENTRE)
            for side in (-1, 1)
        )
        made.append(Group(f"hoop {index + 1}", hoop_title(subject, index), (pipe, *ends)))
    return made


def _ridge(subject: Subject) -> list[Item]:
    """Return the ridge under the hoops, and the cords that tie it back to the boards."""
    (first, middle, _), (last, _, _) = subject.ridge
    radius = subject.outside / 2
    outline = rectangle(first, middle - radius, last, middle + radius)
    cords = tuple(Line(a[:2], b[:2], Layer.STRAPS) for a, b in subject.braces)
    line = (thin_part(outline, Layer.HOOPS, Tone.PAPER),) if subject.ridged else ()
    return stiffened(line, cords)


def plan_view(subject: Subject) -> View:
    """Return the plan with stations."""
    bed = subject.bed
    length, width, wall = bed.outer_length, bed.outer_width, bed.wall
    middle, half = width / 2, subject.leg_at
    marks = tuple(station.mark for station in subject.hoops)
    items: list[Item] = [
        *_boards(subject),
        *_ridge(subject),
        *_hoops(subject),
        RunningDimension(
            (0.0, middle - subject.hoop.overall_width / 2 - 0.03),
            marks,
            Side.BELOW,
            tuple(map(show_marks(subject.system), marks)),
        ),
        LinearDimension((0.0, width), (length, width), Side.ABOVE),
        LinearDimension((wall, width), (length - wall, width), Side.ABOVE, "inside {}"),
        LinearDimension((0.0, 0.0), (0.0, width), Side.LEFT),
        LinearDimension((length, middle - half), (length, middle + half), Side.RIGHT, "legs {}"),
        subject.bar(length),
    ]
    if bed.inner_width > 0.3:
        items.append(LinearDimension((0.0, wall), (0.0, width - wall), Side.LEFT, "inside {}"))
    if subject.north is not None:
        items.append(NorthArrow(subject.north - 90.0))
    note = (
        "Hook the tape on the left end of the side board; the marks are hoop centres, "
        "the same on both sides."
    )
    if any(station.role == "panel" for station in subject.hoops):
        note += "\nAt each end the outer hoop carries the end panel, the inner one the body sheet."
    if subject.braces:
        note += "\nCords from both ends of the ridge to the boards hold the hoops upright."
    description = (
        f"{subject.name} from above, cover off: {subject.shown(length)} by "
        f"{subject.shown(width)} over the boards, {len(marks)} hoops at "
        + ", ".join(subject.mark(mark) for mark in marks)
        + " from the left end."
    )
    return View("plan", "Plan, cover off", description, tuple(items), 24.0, note)
