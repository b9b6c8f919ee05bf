"""The finished bed as a solid: in isometric drawing, and turned to be looked at from any side."""

from hoopwright.drawing.scene import Group, Item, Layer, Tone, View, thin_part
from hoopwright.drawing.solid import (
    ISOMETRIC,
    Eye,
    braces,
    far_boards,
    fastenings,
    film,
    film_edges,
    floor,
    hoops,
    near_boards,
    ridge,
    soil_shown,
    turned_eye,
)
from hoopwright.drawing.subject import Subject, stiffened


def _items(subject: Subject, eye: Eye) -> list[Item]:
    """Return the parts of the bed from the furthest to the nearest, the film as if clear."""
    bed, level = subject.bed, soil_shown(subject.bed)
    far = far_boards(subject, eye, level, Tone.LIGHT)
    soil = thin_part(floor(subject, eye, level), Layer.GROUND, Tone.DARK)
    pipe = thin_part(ridge(subject, eye), Layer.HOOPS, Tone.PAPER) if subject.ridged else None
    return [
        Group("film", f"Body sheet, {subject.cover.material.name}", film(subject, eye)),
        Group("far boards", "Boards and soil", (*far, soil)),
        *stiffened((pipe,) if pipe else (), braces(subject, eye)),
        Group("near boards", f"Boards, {bed.board.name}", near_boards(subject, eye)),
        *(
            Group(
                f"hoop {number + 1}",
                f"Hoop {number + 1}",
                (thin_part(pipe, Layer.HOOPS, Tone.PAPER),),
            )
            for number, pipe in hoops(subject, eye).items()
        ),
        Group("film edges", "Edges of the body sheet", film_edges(subject, eye)),
        Group("fastenings", "Rail and end batten", fastenings(subject, eye)),
    ]


def isometric_view(subject: Subject) -> View:
    """Return the finished bed, seen from above its near end."""
    bed = subject.bed
    items = (*_items(subject, ISOMETRIC), subject.bar(bed.outer_length))
    description = (
        f"{subject.name} as it will stand: {subject.shown(bed.outer_length)} by "
        f"{subject.shown(bed.outer_width)}, {len(subject.hoops)} hoops, the top of "
        f"their pipe {subject.shown(subject.top)} above the ground."
    )
    note = "Isometric: lengths along the bed, across it and upright are to scale."
    return View("bed", "The finished bed", description, items, 24.0, note)


def turned_view(subject: Subject, degrees: float = 30.0) -> View:
    """Return the finished bed turned by an angle about its middle, seen from 30 degrees above.

    For looking at: it is not to scale along any axis, and says so.
    """
    title = f"The finished bed, turned {degrees:.0f}°"
    description = (
        f"{subject.name} seen from above and turned {degrees:.0f} degrees: "
        f"{len(subject.hoops)} hoops over the board box, the film as a tone."
    )
    items = tuple(_items(subject, turned_eye(degrees)))
    return View("turned", title, description, items, 24.0, "For looking at; not to scale.")
