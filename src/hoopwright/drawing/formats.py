"""How lengths are written on a drawing."""

from __future__ import annotations

from hoopwright import units
from hoopwright.drawing.fitting import FOOT_SCALES, METRIC_SCALES
from hoopwright.drawing.scene import Show


def show_lengths(system: units.System) -> Show:
    """Return a writer of lengths: feet and inches with sixteenths, or plain millimetres.

    A metric drawing leaves the unit out, as ISO 129-1 does; the scale line says it once.
    """
    if system.name == "us":
        return lambda value: units.show(value, "length", system)
    return lambda value: f"{round(value * 1000)}"


def show_marks(system: units.System) -> Show:
    """Return a writer of tape marks: inches all the way, as a tape counts them, or millimetres.

    So the marks on a drawing read as those of the tape-mark table, which leads with inches.
    """
    if system.name == "us":
        return lambda value: units.show(value, "tape", system)
    return show_lengths(system)


def scales(system: units.System) -> tuple[int, ...]:
    """Return the series of drawing scales a reader of these units expects."""
    return FOOT_SCALES if system.name == "us" else METRIC_SCALES


def unit_note(system: units.System) -> str:
    """Return what the numbers on a drawing are in."""
    return "" if system.name == "us" else "sizes in millimetres"
