"""The ladder as bars: for each thing the range in which it gives way, and the likely place."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from hoopwright.drawing.font import text_width
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    TITLE_SIZE,
    Anchor,
    Group,
    Item,
    Layer,
    Line,
    Polyline,
    Show,
    Text,
    Tone,
    View,
    Weight,
    rectangle,
    thin_part,
)
from hoopwright.frozen import dataclass

Place = Callable[[float], float]

ROW = 0.005
BAR = 0.003
#: Paper of a chart [m], and the least of it that its axis takes.
WIDTH, LEAST_AXIS = 0.15, 0.03
GAP = 0.003


@dataclass(frozen=True)
class Bar:
    """One row: what gives way, and where along the axis (low, likely, high).

    at_least : True where no more is known than that it bears this: the bar is left open upward
    """

    label: str
    low: float
    likely: float
    high: float
    at_least: bool = False

    @property
    def words(self) -> str:
        """Return the label as drawn."""
        return f"{self.label}, at least" if self.at_least else self.label


@dataclass(frozen=True)
class LadderAxis:
    """The axis: its end, the step of its marks, how to show a mark, and what it is of."""

    end: float
    step: float
    show: Show
    title: str


def ladder_chart(
    name: str,
    title: str,
    bars: Sequence[Bar],
    axis: LadderAxis,
    marked: tuple[float, str] | None = None,
    beyond: str = "",
    width: float = WIDTH,
    headed: bool = True,
) -> View:
    """Return the chart, in metres of paper at 1 : 1.

    marked : a place on the axis that needs a decision, as the design gust, and its words
    beyond : what is left out of the chart, said in a row of its own below the bars
    width : [m] of paper; headed : False where the page has the title over it
    Bars that run beyond the axis, or that are no more than a lower bound, end in an arrow.
    """
    words = [axis.title, *(bar.words for bar in bars)]
    left = max(text_width(word, TEXT_SIZE) for word in words) + GAP
    across = max(width - left - GAP, LEAST_AXIS)

    def at(value: float) -> float:
        return left + across * min(max(value, 0.0), axis.end) / axis.end

    top = len(bars) * ROW
    items: list[Item] = [Text((0.0, top + 0.25 * ROW), axis.title)]
    if headed:
        items.append(Text((0.0, top + 2.1 * ROW), title, size=TITLE_SIZE, bold=True))
    items += _marks(axis, at, top)
    for number, bar in enumerate(bars):
        items.append(_row(bar, at, top - (number + 0.5) * ROW, axis.end, left, number))
    if beyond:
        place = (left + across, -(1.1 if marked is None else 2.3) * ROW)
        items.append(Text(place, beyond, Layer.TEXT, Anchor.END))
    if marked is not None:
        x = at(marked[0])
        items.append(Line((x, -0.5 * ROW), (x, top + 0.3 * ROW), Layer.DECISION, Weight.MEDIUM))
        items.append(Text((x, -1.35 * ROW), marked[1], Layer.DECISION, Anchor.MIDDLE))
    told = "; ".join(
        f"{bar.label}: at least {axis.show(bar.likely)}"
        if bar.at_least
        else f"{bar.label}: nine in ten stand {axis.show(bar.low)}, half {axis.show(bar.likely)}"
        for bar in bars
    )
    told += f". {beyond}" if beyond else ""
    return View(name, title, told, tuple(items), 1.0)


def _marks(axis: LadderAxis, place: Place, top: float) -> list[Item]:
    items: list[Item] = []
    for index in range(math.floor(axis.end / axis.step + 1e-9) + 1):
        value = index * axis.step
        x = place(value)
        items.append(Line((x, 0.0), (x, top), Layer.DIMENSIONS, Weight.THIN))
        items.append(Text((x, top + 0.25 * ROW), axis.show(value), Layer.TEXT, Anchor.MIDDLE))
    return items


def _row(bar: Bar, place: Place, y: float, end: float, left: float, number: int) -> Group:
    # Nothing is known above a lower bound, so its bar ends there.
    top = min(bar.likely, end) if bar.at_least else bar.high
    low, likely, high = (place(value) for value in (bar.low, bar.likely, top))
    half = BAR / 2
    shapes: list[Text | Polyline | Line] = [
        Text((left - GAP, y - 0.3 * TEXT_SIZE), bar.words, Layer.TEXT, Anchor.END)
    ]
    if bar.low < end:
        shapes.append(thin_part(rectangle(low, y - half, high, y + half), Layer.HOOPS, Tone.DARK))
    if bar.high > end or bar.at_least:
        tip = ((high, y + half), (high + 0.7 * BAR, y), (high, y - half))
        shapes.append(Polyline(tip, Layer.HOOPS, weight=Weight.THIN))
    if bar.likely <= end and not bar.at_least:
        tall = 1.3 * half
        shapes.append(Line((likely, y - tall), (likely, y + tall), Layer.HOOPS, Weight.THICK))
    return Group(f"bar-{number + 1}", bar.words, tuple(shapes))
