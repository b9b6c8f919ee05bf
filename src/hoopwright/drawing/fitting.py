"""The scale at which a view fits its place on a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.drawing.layout import Layout, lay_out
from hoopwright.drawing.scene import Show, View

#: ISO 5455 (from memory): 1, 2, 5 and their tens; 15, 25, 30 and 40 between them are joiners' use.
METRIC_SCALES = (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200)
#: 12, 6, 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 3/16, 1/8 and 1/16 inch to the foot: common practice,
#: as on a three-sided architect's scale.
FOOT_SCALES = (1, 2, 4, 8, 12, 16, 24, 32, 48, 64, 96, 192)


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
    for scale in scales:
        layout = lay_out(view.at_scale(float(scale)), show, titled=titled)
        across, up = layout.paper
        if across <= width + 1e-9 and up <= height + 1e-9:
            return layout
    raise DoesNotFitError(
        f"{view.title}: {width * 1000:.0f} x {height * 1000:.0f} mm of paper is too small for it "
        f"even at 1 : {scales[-1]:g}; give it more room"
    )
