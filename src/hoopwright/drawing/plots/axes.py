"""Axes: where a value falls on paper, and the round numbers or months marked along it."""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.scene import Point
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import MONTH_STARTS
from hoopwright.units import MONTH_NAMES

Series = NDArray[np.float64]

YEAR = 365
MONTH_MIDDLES = tuple((start + after) / 2 for start, after in pairwise(MONTH_STARTS))


@dataclass(frozen=True)
class Mark:
    """A place on an axis and the word beside it."""

    at: float
    label: str


@dataclass(frozen=True)
class Axis:
    """From which value to which an axis runs [SI], and its marks."""

    low: float
    high: float
    marks: tuple[Mark, ...] = ()

    def share(self, value: float) -> float:
        """Return how far along the axis a value falls: 0 at its low end, 1 at its high end."""
        return (value - self.low) / (self.high - self.low)

    def holds(self, value: float) -> bool:
        """Return whether a value lies on the axis."""
        return self.low - 1e-9 <= value <= self.high + 1e-9


@dataclass(frozen=True)
class Area:
    """The field of a plot on paper [m], with lower left corner, size and both axes."""

    left: float
    bottom: float
    width: float
    height: float
    x: Axis
    y: Axis

    @property
    def right(self) -> float:
        """Return where the field ends [m]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Return where the field ends upward [m]."""
        return self.bottom + self.height

    def across(self, value: float) -> float:
        """Return the place of an x value [m]."""
        return self.left + self.width * self.x.share(value)

    def up(self, value: float) -> float:
        """Return the place of a y value [m]."""
        return self.bottom + self.height * self.y.share(value)

    def at(self, x: float, y: float) -> Point:
        """Return the place of a pair of values [m]."""
        return self.across(x), self.up(y)

    def level(self, value: float) -> tuple[Point, ...]:
        """Return the line across the field at a y value [m]."""
        return self.at(self.x.low, value), self.at(self.x.high, value)

    def upright(self, value: float) -> tuple[Point, ...]:
        """Return the line up the field at an x value [m]."""
        return self.at(value, self.y.low), self.at(value, self.y.high)

    def pieces(self, xs: Series, ys: Series) -> tuple[tuple[Point, ...], ...]:
        """Return the line through pairs of values [m], broken where y is unknown."""
        known = np.isfinite(ys)
        edges = np.diff(np.concatenate([[0], known.astype(np.int8), [0]]))
        firsts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
        return tuple(
            tuple(self.at(float(x), float(y)) for x, y in zip(xs[a:b], ys[a:b], strict=True))
            for a, b in zip(firsts, ends, strict=True)
        )


def nice_step(span: float, count: int) -> float:
    """Return 1, 2 or 5 times a power of ten: the finest that needs at most `count` steps."""
    rough = span / count
    power = 10.0 ** math.floor(math.log10(rough))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= rough * (1 - 1e-9))


def value_axis(
    values: Iterable[Sequence[float] | Series],
    gauge: Gauge,
    count: int = 6,
    floor: bool = False,
    parts: int = 1,
) -> Axis:
    """Return an axis over all known values, from round number to round number of the reader.

    count : most steps between marks
    floor : whether it starts at nil
    parts : of a step to which the axis may stop short of a mark
    """
    known = np.concatenate([np.ravel(np.asarray(part, dtype=float)) for part in values])
    known = known[np.isfinite(known)]
    if known.size == 0:
        raise ValueError("a plot needs at least one known value")
    numbers = [gauge.number(float(known.min())), gauge.number(float(known.max()))]
    if floor:
        numbers[0] = min(0.0, numbers[0])
    if numbers[1] - numbers[0] < 1e-9:
        numbers[1] = numbers[0] + 1.0
    step = nice_step(numbers[1] - numbers[0], count)
    low = math.floor(numbers[0] / step * parts + 1e-9) / parts
    high = math.ceil(numbers[1] / step * parts - 1e-9) / parts
    marks = tuple(
        _mark(number * step, gauge) for number in range(math.ceil(low), math.floor(high) + 1)
    )
    return Axis(gauge.value(low * step), gauge.value(high * step), marks)


def _mark(number: float, gauge: Gauge) -> Mark:
    shown = f"{number:,.10g}"
    return Mark(gauge.value(number), "0" if shown == "-0" else shown)


def centred_axis(values: Iterable[Series], gauge: Gauge, least: float = 1e-6) -> Axis:
    """Return an axis that reaches as far below nil as above it."""
    reach = max(float(np.nanmax(np.abs(part))) for part in values)
    reach = max(reach, least)
    return value_axis([(-reach, reach)], gauge, count=8, parts=2)


def year_axis() -> Axis:
    """Return the axis of a common year in days from 1 January, marked at each month's start."""
    marks = zip(MONTH_STARTS, MONTH_NAMES, strict=False)
    return Axis(0.0, float(YEAR), tuple(Mark(float(day), name) for day, name in marks))


def day_words(day: float) -> str:
    """Return the date of a day from 1 January (0): "14 May"; beyond the year "14 May next year"."""
    whole = round(day)
    later = " next year" if whole >= YEAR else ""
    within = whole % YEAR
    month = max(m for m in range(12) if MONTH_STARTS[m] <= within)
    return f"{within - MONTH_STARTS[month] + 1} {MONTH_NAMES[month]}{later}"
