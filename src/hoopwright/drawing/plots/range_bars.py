"""Numbers side by side as bars, each with its range."""

import math
from collections.abc import Sequence

from hoopwright.drawing.font import text_width
from hoopwright.drawing.plots.axes import Area, Axis, value_axis
from hoopwright.drawing.plots.field import WIDTH, words_below
from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.plots.words import EDGE, GAP, HEAVY, LINE, MIDDLE, PLAIN, RULE, heading
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Group,
    Item,
    Layer,
    Shape,
    Text,
    Tone,
    View,
    rectangle,
    thin_part,
)
from hoopwright.frozen import dataclass

ROW = 0.0064
BAR = 0.0036
#: From one number of the axis to the next, at least about [m].
MARK = 0.01


@dataclass(frozen=True)
class RangeBar:
    """One row: a likely value [SI] and the range round it; NaN ends for no range.

    words : said after the number
    """

    label: str
    value: float
    low: float = math.nan
    high: float = math.nan
    words: str = ""

    def __post_init__(self) -> None:
        if self.ranged and not self.low <= self.value + 1e-9 <= self.high + 2e-9:
            raise ValueError(f"{self.label}: {self.value} lies outside its own range")

    @property
    def ranged(self) -> bool:
        """Return whether there is a range."""
        return math.isfinite(self.low) and math.isfinite(self.high)


def range_bars(
    name: str,
    title: str,
    bars: Sequence[RangeBar],
    gauge: Gauge,
    *,
    note: str = "",
    width: float = WIDTH,
) -> View:
    """Return bars from nil to each value, a stroke over its range, and the number at its end.

    title : the finding
    """
    if not bars:
        raise ValueError("a chart needs at least one bar")
    known = [v for bar in bars for v in (bar.value, bar.low, bar.high) if math.isfinite(v)]
    left = max(text_width(bar.label, TEXT_SIZE) for bar in bars) + 1.5 * GAP
    said = [_number(bar, gauge) for bar in bars]
    right = max(text_width(words, TEXT_SIZE) for words in said) + 2 * GAP
    marks = min(8, max(2, round((width - left - right) / MARK)))
    horizontal = value_axis([known], gauge, count=marks, floor=True)
    height = len(bars) * ROW
    rows = Axis(0.0, float(len(bars)))
    area = Area(left, 0.0, width - left - right, height, horizontal, rows)
    items = _marks(area, gauge)
    for number, (bar, words) in enumerate(zip(bars, said, strict=True)):
        items.append(_row(area, bar, words, number, area.top - (number + 0.5) * ROW))
    items += heading(title, note, 0.0, area.top + 1.9 * LINE, width)
    words = "; ".join(f"{bar.label}: {part}" for bar, part in zip(bars, said, strict=True)) + "."
    return View(name, title, words, tuple(items), 1.0)


def _number(bar: RangeBar, gauge: Gauge) -> str:
    if not math.isfinite(bar.value):
        return bar.words or "not known"
    said = gauge.show(bar.value)
    if bar.ranged:
        said += f" ({gauge.bare(bar.low)} to {gauge.bare(bar.high)})"
    return f"{said} {bar.words}".rstrip()


def _marks(area: Area, gauge: Gauge) -> list[Item]:
    marks = area.x.marks
    items: list[Item] = [RULE.trace(*(area.upright(mark.at) for mark in marks))]
    if area.x.holds(0.0):
        items.append(EDGE.trace(area.upright(0.0)))
    y = area.top + 0.35 * LINE
    items += words_below(area, y)
    end = area.across(marks[-1].at) + text_width(marks[-1].label, TEXT_SIZE) / 2
    items.append(Text((end + GAP, y), gauge.mark))
    return items


def _row(area: Area, bar: RangeBar, words: str, number: int, y: float) -> Group:
    shapes: list[Shape] = [Text((area.left - GAP, y - MIDDLE), bar.label, Layer.TEXT, Anchor.END)]
    end = area.left
    if math.isfinite(bar.value):
        nil = area.across(min(max(0.0, area.x.low), area.x.high))
        value = area.across(bar.value)
        low, high, half = min(nil, value), max(nil, value), BAR / 2
        shapes.append(thin_part(rectangle(low, y - half, high, y + half), Layer.SCALE, Tone.DARK))
        shapes.append(HEAVY.trace(((value, y - half), (value, y + half))))
        end = high
    if bar.ranged:
        a, b, cap = area.across(bar.low), area.across(bar.high), 0.28 * BAR
        caps = (((a, y - cap), (a, y + cap)), ((b, y - cap), (b, y + cap)))
        shapes.append(PLAIN.trace(((a, y), (b, y)), *caps))
        end = max(end, b)
    shapes.append(Text((end + GAP, y - MIDDLE), words))
    return Group(f"bar-{number + 1}", f"{bar.label}: {words}", tuple(shapes))
