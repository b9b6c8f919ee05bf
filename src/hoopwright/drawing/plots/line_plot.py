"""Lines over the year, with bands of uncertainty and a word beside each line."""

from collections.abc import Sequence

import numpy as np

from hoopwright.drawing.plots.axes import Area, Series, day_words, value_axis, year_axis
from hoopwright.drawing.plots.field import (
    FROST,
    Size,
    freezing_line,
    month_rules,
    number_room,
    number_rules,
)
from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.plots.words import HATCH, LINE, PLAIN, Look, end_labels, end_room, heading
from hoopwright.drawing.scene import Fill, Group, Hatch, Item, Layer, Point, Shape, Tone, View
from hoopwright.drawing.style import hatch_lines
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Curve:
    """One line with its band; NaN where unknown.

    label     : the word beside its end; lines parted by a line feed
    values    : [SI]
    low, high : [SI] the band, both or neither
    """

    label: str
    values: Series
    low: Series | None = None
    high: Series | None = None
    look: Look = PLAIN

    def __post_init__(self) -> None:
        if (self.low is None) != (self.high is None):
            raise ValueError(f"{self.label}: a band has a low and a high edge")
        if self.low is not None and self.high is not None:
            known = np.isfinite(self.low) & np.isfinite(self.high)
            if (self.low[known] > self.high[known]).any():
                raise ValueError(f"{self.label}: the band's low edge lies above its high edge")

    @property
    def name(self) -> str:
        """Return the label on one line."""
        return self.label.replace("\n", " ")

    @property
    def last(self) -> float:
        """Return the last known value [SI]."""
        known = self.values[np.isfinite(self.values)]
        if known.size == 0:
            raise ValueError(f"{self.name}: no value is known")
        return float(known[-1])

    @property
    def edges(self) -> tuple[Series, ...]:
        """Return every series of the curve."""
        return tuple(part for part in (self.values, self.low, self.high) if part is not None)


def line_plot(
    name: str,
    title: str,
    days: Series,
    curves: Sequence[Curve],
    gauge: Gauge,
    *,
    note: str = "",
    freezing: bool = True,
    size: Size | None = None,
) -> View:
    """Return lines over the days of a year.

    title    : the finding
    days     : day of the year from 0 of each value, fractions allowed
    freezing : whether the values are temperatures [degC], so that the freezing line is due
    """
    size = size or Size()
    extra = [(FROST,)] if freezing else []
    vertical = value_axis([*(e for curve in curves for e in curve.edges), *extra], gauge)
    left = number_room(vertical)
    named = [curve.label for curve in curves]
    ends = [curve.last for curve in curves]
    words = [*named, "freezing"] if freezing else named
    area = Area(left, 0.0, size.width - left - end_room(words), size.height, year_axis(), vertical)
    items: list[Item] = []
    for number, curve in enumerate(curves):
        items += _band(area, days, curve, number)
    items += number_rules(area, gauge.mark)
    items += month_rules(area)
    places = [area.up(end) for end in ends]
    if freezing:
        items += freezing_line(area)
        places.append(area.up(FROST))
    for number, curve in enumerate(curves):
        trace = curve.look.trace(*area.pieces(days, curve.values))
        description = _numbers(curve, days, gauge)
        items.append(Group(f"line-{number + 1}", curve.name, (trace,), description))
    items += end_labels(area.right, places, words, area.bottom, area.top)
    told = f"{note}\n{band_words(curves)}".strip()
    items += heading(title, told, 0.0, area.top + 2.0 * LINE, size.width)
    said = " ".join(_numbers(curve, days, gauge) for curve in curves)
    return View(name, title, said, tuple(items), 1.0)


def band_words(curves: Sequence[Curve]) -> str:
    """Return which band is whose, where there are several."""
    banded = [(number, curve) for number, curve in enumerate(curves) if curve.low is not None]
    if len(banded) < 2:
        return ""
    said = [f"{'Ruled' if number % 2 else 'Grey'} band: {curve.name}." for number, curve in banded]
    return " ".join(said)


def _band(area: Area, days: Series, curve: Curve, number: int) -> list[Item]:
    """Return a curve's band: the first as a tint, further ones ruled, so that both show."""
    if curve.low is None or curve.high is None:
        return []
    both = np.where(np.isfinite(curve.low) & np.isfinite(curve.high), 1.0, np.nan)
    shapes: list[Shape] = []
    pairs = zip(
        area.pieces(days, curve.low * both), area.pieces(days, curve.high * both), strict=True
    )
    for lower, upper in pairs:
        corners: tuple[Point, ...] = (*lower, *upper[::-1])
        if number % 2 == 0:
            shapes.append(Fill(corners, Layer.SCALE, Tone.LIGHT if number else Tone.DARK))
        else:
            angle = 45.0 if number % 4 == 1 else -45.0
            ruled = hatch_lines(Hatch(corners, Layer.SCALE, angle, 0.0013), 1.0)
            shapes.append(HATCH.trace(*((line.start, line.end) for line in ruled)))
            shapes.append(HATCH.trace(lower, upper))
    return [Group(f"band-{number + 1}", f"Band of {curve.name}", tuple(shapes))]


def _numbers(curve: Curve, days: Series, gauge: Gauge) -> str:
    known = np.flatnonzero(np.isfinite(curve.values))
    lowest = known[np.argmin(curve.values[known])]
    highest = known[np.argmax(curve.values[known])]
    said = (
        f"{curve.name}: lowest {gauge.show(float(curve.values[lowest]))} about "
        f"{day_words(float(days[lowest]))}, highest {gauge.show(float(curve.values[highest]))} "
        f"about {day_words(float(days[highest]))}"
    )
    if curve.low is not None and curve.high is not None:
        width = float(np.nanmean(curve.high - curve.low)) / 2
        said += f", band of {abs(width / gauge.factor):.{gauge.digits}f} {gauge.mark} to each side"
    return said + "."
