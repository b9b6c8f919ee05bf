"""What the views of the bed as a solid share: boards as faces, lines stood up along the bed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hoopwright.bed import Bed
from hoopwright.drawing.scene import Layer, Point, Polyline, Tone
from hoopwright.drawing.subject import Subject

Space = tuple[float, float, float]
"""A place [m]: along the bed from its near end, across it from its near side, and up."""


def board_face(corners: tuple[Point, ...], tone: Tone) -> Polyline:
    """Return the picture of one flat face of a board."""
    return Polyline(corners, Layer.BOARDS, closed=True, fill=tone)


def soil_shown(bed: Bed) -> float:
    """Return the level [m] at which the soil is shown, low enough that the boards' edge is seen."""
    return bed.height - min(0.05, bed.height / 3)


def stood_up(subject: Subject, mark: float, line: Iterable[Sequence[float]]) -> list[Space]:
    """Return a line of the end elevation (across from the middle, up) stood up at a mark."""
    middle = subject.bed.outer_width / 2
    return [(mark, middle - float(x), float(y)) for x, y in line]


def sheet_ends(subject: Subject) -> tuple[float, float]:
    """Return how far along the bed the arched part of the sheet goes [m]."""
    if subject.cover.style == "wrapped":
        return subject.hoops[0].mark, subject.hoops[-1].mark
    return -subject.overhang, subject.bed.outer_length + subject.overhang
