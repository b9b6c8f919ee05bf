"""The scale at which a view fits its place on a sheet, and how its lengths are written."""

from collections.abc import Sequence

from hoopwright import units
from hoopwright.drawing.layout import Layout, lay_out, solid_of
from hoopwright.drawing.scene import Show, View

#: ISO 5455 (from memory): 1, 2, 5 and their tens; 15, 25, 30 and 40 between them are joiners' use.
METRIC_SCALES = (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200)
#: 12, 6, 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16, 1/8 and 1/16 inch to the foot: common practice,
#: as on a three-sided architect's scale.
FOOT_SCALES = (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 192)


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


class DoesNotFitError(ValueError):
    """No scale of the series is small enough."""


def fit(
    view: View,
    width: float,
    height: float,
    show: Show,
    scales: Sequence[float] = METRIC_SCALES,
    *,
    titled: bool = True,
) -> Layout:
    """Return a view laid out at the largest scale of a series that fits a place on paper.

    width, height : [m] of paper
    scales        : how many times smaller than the thing, rising
    """
    solid = solid_of(view)
    # What is drawn is no smaller than the thing itself.
    least = 0.999 * max(solid.box.width / width, solid.box.height / height)
    for scale in (one for one in scales if one >= least):
        layout = lay_out(view.at_scale(float(scale)), show, titled=titled, solid=solid)
        across, up = layout.paper
        if across <= width + 1e-9 and up <= height + 1e-9:
            return layout
    raise DoesNotFitError(
        f"{view.title}: {width * 1000:.0f} x {height * 1000:.0f} mm of paper is too small for it "
        f"even at 1 : {scales[-1]:g}; give it more room"
    )
