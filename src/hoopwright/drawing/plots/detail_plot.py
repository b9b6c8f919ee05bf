"""One to three days hour by hour: several temperatures, night shaded, sunrise and sunset named."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from hoopwright.climate.sun import day_spans
from hoopwright.climate.weather import Weather
from hoopwright.drawing.font import text_width
from hoopwright.drawing.placing import text_box
from hoopwright.drawing.plots.axes import YEAR, Area, Axis, Mark, Series, value_axis
from hoopwright.drawing.plots.field import (
    FROST,
    Size,
    freezing_line,
    number_room,
    number_rules,
    ticks,
    words_below,
)
from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.plots.line_plot import Curve
from hoopwright.drawing.plots.words import (
    EDGE,
    GAP,
    LINE,
    MIDDLE,
    RULE,
    end_labels,
    end_room,
    heading,
)
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Circle,
    Fill,
    Group,
    Hatch,
    Item,
    Layer,
    Shape,
    Text,
    Tone,
    View,
    Weight,
    rectangle,
)
from hoopwright.frozen import dataclass
from hoopwright.units import System, show

#: Of a field [m of paper].
DETAIL_HEIGHT = 0.07


@dataclass(frozen=True)
class SunSpan:
    """Sunrise and sunset of one day [h] from the plot's start."""

    sunrise: float
    sunset: float


def sun_spans(weather: Weather, day: int, count: int) -> list[SunSpan]:
    """Return the sun of so many days from a day of the year, on from its midnight; a day on which
    it does not rise is left out."""
    spans = day_spans(weather.start, YEAR, weather.station)
    return [
        SunSpan(24.0 * n + float(spans.sunrise[day + n]), 24.0 * n + float(spans.sunset[day + n]))
        for n in range(count)
        if np.isfinite(spans.sunrise[day + n])
    ]


@dataclass(frozen=True)
class Remark:
    """A word at one place of the plot: [h] from its start, value [SI]."""

    hour: float
    value: float
    words: str


@dataclass(frozen=True)
class ClockFace:
    """How hours and days are written.

    days : name of each day; the plot's hours count from the first one's midnight
    """

    system: System
    days: tuple[str, ...]

    def hour(self, hours: float) -> str:
        """Return the time of day at so many of the plot's hours."""
        return show(hours % 24, "hour", self.system)


def detail_plot(
    name: str,
    title: str,
    hours: Series,
    curves: Sequence[Curve],
    suns: Sequence[SunSpan],
    clock: ClockFace,
    gauge: Gauge,
    *,
    remarks: Sequence[Remark] = (),
    note: str = "",
    size: Size | None = None,
) -> View:
    """Return the hours of one to three days.

    title : the finding
    hours : [h] from the plot's start of each value
    suns  : of every day that the plot touches
    """
    size = size or Size(height=DETAIL_HEIGHT)
    vertical = value_axis([*(e for c in curves for e in c.edges), [FROST]], gauge)
    left = number_room(vertical)
    words = [*(curve.label for curve in curves), "freezing"]
    field = size.width - left - end_room(words)
    horizontal = _hours(float(hours[0]), float(hours[-1]), clock, field)
    area = Area(left, 0.0, field, size.height, horizontal, vertical)
    items: list[Item] = [_nights(area, suns), *_bands(area, hours, curves)]
    items += number_rules(area, gauge.mark)
    items += _hour_marks(area, clock)
    items += freezing_line(area)
    said = []
    for number, curve in enumerate(curves):
        trace = curve.look.trace(*area.pieces(hours, curve.values))
        said.append(_numbers(curve, hours, clock, gauge))
        items.append(Group(f"line-{number + 1}", curve.label, (trace,), said[-1]))
    ends = [area.up(curve.last) for curve in curves] + [area.up(FROST)]
    items += end_labels(area.right, ends, words, area.bottom, area.top)
    sun, lines = _sun_marks(area, suns, clock)
    items.append(sun)
    drawn = [_dense(area, hours, curve.values) for curve in curves]
    drawn += [_upright(area, at) for sun in suns for at in (sun.sunrise, sun.sunset)]
    for remark in remarks:
        items += _remark(area, remark, drawn)
    items += heading(title, note, 0.0, area.top + (1.0 + lines) * LINE, size.width)
    return View(name, title, " ".join(said), tuple(items), 1.0)


def _hours(first: float, last: float, clock: ClockFace, width: float) -> Axis:
    """Return the axis of hours, marked as closely as the words allow on a field so wide [m]."""
    for step in (3.0, 6.0, 12.0, 24.0):
        start = math.ceil(first / step - 1e-9) * step
        count = math.floor((last - start) / step + 1e-9) + 1
        hours = [start + number * step for number in range(count)]
        marks = tuple(Mark(hour, clock.hour(hour)) for hour in hours)
        widest = max((text_width(mark.label, TEXT_SIZE) for mark in marks), default=0.0)
        if widest + GAP <= width * step / (last - first):
            break
    return Axis(first, last, marks)


def _nights(area: Area, suns: Sequence[SunSpan]) -> Group:
    """Return the hours between sunset and sunrise as a tint."""
    edges = [area.x.low]
    for sun in sorted(suns, key=lambda one: one.sunrise):
        edges += [sun.sunrise, sun.sunset]
    edges.append(area.x.high)
    shapes: list[Shape] = []
    for dusk, dawn in zip(edges[::2], edges[1::2], strict=True):
        a = area.across(min(max(dusk, area.x.low), area.x.high))
        b = area.across(min(max(dawn, area.x.low), area.x.high))
        if b > a:
            shapes.append(Fill(rectangle(a, area.bottom, b, area.top), Layer.SCALE, Tone.LIGHT))
    return Group("nights", "Nights", tuple(shapes))


def _bands(area: Area, hours: Series, curves: Sequence[Curve]) -> list[Item]:
    items: list[Item] = []
    for number, curve in enumerate(curves):
        if curve.low is None or curve.high is None:
            continue
        (lower,) = area.pieces(hours, curve.low)
        (upper,) = area.pieces(hours, curve.high)
        angle = 45.0 if number % 2 == 0 else -45.0
        band = Hatch((*lower, *upper[::-1]), Layer.SCALE, angle, 0.0011)
        items.append(Group(f"band-{number + 1}", f"Band of {curve.label}", (band,)))
    return items


def _hour_marks(area: Area, clock: ClockFace) -> list[Item]:
    """Return ticks and hours below, and the day's name under them between midnights."""
    strokes = ticks(area, (mark.at for mark in area.x.marks))
    y = area.bottom - 1.12 * LINE
    items: list[Item] = [EDGE.trace(area.level(area.y.low), *strokes), *words_below(area, y)]
    midnights = [24.0 * n for n in range(len(clock.days) + 1)]
    inner = [m for m in midnights if area.x.low < m < area.x.high]
    items.append(RULE.trace(*map(area.upright, inner)))
    for number, day in enumerate(clock.days):
        a, b = max(midnights[number], area.x.low), min(midnights[number + 1], area.x.high)
        if b - a >= 6:
            items.append(Text((area.across((a + b) / 2), y - LINE), day, Layer.TEXT, Anchor.MIDDLE))
    return items


def _sun_marks(area: Area, suns: Sequence[SunSpan], clock: ClockFace) -> tuple[Group, int]:
    """Return a stroke at each sunrise and sunset, its words above, and how many lines they take.

    Words side by side that would touch are broken into two lines; those that still would are
    left out, later ones first.
    """
    places = [(sun.sunrise, "sunrise") for sun in suns] + [(sun.sunset, "sunset") for sun in suns]
    marks = [
        (area.across(at), f"{word} {clock.hour(at)}")
        for at, word in sorted(places)
        if area.x.holds(at)
    ]
    whole = all(
        right - left > (_wide(one) + _wide(other)) / 2 + GAP
        for (left, one), (right, other) in pairwise(marks)
    )
    strokes = [((x, area.bottom), (x, area.top + 0.3 * LINE)) for x, _ in marks]
    shapes: list[Shape] = [EDGE.trace(*strokes)]
    reached = -math.inf
    for x, words in marks:
        lines = [words] if whole else words.split(" ", 1)
        half = max(map(_wide, lines)) / 2
        if x - half < reached + GAP:
            continue
        reached = x + half
        shapes += [
            Text((x, area.top + (0.45 + number) * LINE), line, Layer.TEXT, Anchor.MIDDLE)
            for number, line in enumerate(reversed(lines))
        ]
    return Group("sun", "Sunrise and sunset", tuple(shapes)), 1 if whole else 2


def _wide(words: str) -> float:
    return text_width(words, TEXT_SIZE)


def _dense(area: Area, hours: Series, values: Series) -> Series:
    """Return points along a drawn curve [m], close enough that no word slips between them."""
    fine = np.linspace(hours[0], hours[-1], 12 * hours.size)
    heights = np.interp(fine, hours, values)
    return np.array([area.at(float(x), float(y)) for x, y in zip(fine, heights, strict=True)])


def _upright(area: Area, hour: float) -> Series:
    return np.array([(area.across(hour), y) for y in np.linspace(area.bottom, area.top, 200)])


def _remark(area: Area, remark: Remark, drawn: Sequence[Series]) -> list[Item]:
    """Return a ring at the place and its words where the fewest lines run through them."""
    x, y = area.at(remark.hour, remark.value)
    lift = 0.0024
    ways = [
        Text((x + side * lift, base), remark.words, Layer.TEXT, anchor)
        for far in (1.0, 2.4)
        for base in (y + far * lift, y - far * lift - 2 * MIDDLE)
        for side, anchor in ((0.0, Anchor.MIDDLE), (1.0, Anchor.START), (-1.0, Anchor.END))
    ]
    best = min(ways, key=lambda words: _crossed(words, area, drawn))
    return [Circle((x, y), 0.0009, Layer.SCALE, Tone.PAPER, Weight.MEDIUM), best]


def _crossed(words: Text, area: Area, drawn: Sequence[Series]) -> int:
    """Return how many points of lines fall into a text's box; outside the field counts most."""
    box = text_box(words, 1.0).grown(0.0005)
    if box.left < area.left or box.right > area.right or box.bottom < area.bottom:
        return 1_000_000
    return sum(
        int(
            (
                (points[:, 0] > box.left)
                & (points[:, 0] < box.right)
                & (points[:, 1] > box.bottom)
                & (points[:, 1] < box.top)
            ).sum()
        )
        for points in drawn
    )


def _numbers(curve: Curve, hours: Series, clock: ClockFace, gauge: Gauge) -> str:
    low, high = int(np.nanargmin(curve.values)), int(np.nanargmax(curve.values))
    said = []
    for word, at in (("lowest", low), ("highest", high)):
        when = clock.hour(float(hours[at]))
        said.append(f"{word} {gauge.show(float(curve.values[at]))} at {when}")
    return f"{curve.name}: " + ", ".join(said) + "."
