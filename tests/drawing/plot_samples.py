"""Plots of made-up data, one of each kind, for the tests of plots."""

from __future__ import annotations

import numpy as np

from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import MONTH_MIDDLES, day_words
from hoopwright.drawing.plots.day_map import (
    day_map,
    difference_colours,
    difference_map,
    temperature_colours,
    temperature_map,
)
from hoopwright.drawing.plots.detail_plot import (
    ClockFace,
    Remark,
    SunSpan,
    detail_plot,
)
from hoopwright.drawing.plots.field import Size
from hoopwright.drawing.plots.line_plot import Curve, line_plot
from hoopwright.drawing.plots.range_bars import RangeBar, range_bars
from hoopwright.drawing.plots.span_chart import Span, SpanRow, SpanWords, span_chart
from hoopwright.drawing.plots.words import CHANGED, DASHES, PLAIN

HOURS = np.arange(8760)
DAYS = np.array(MONTH_MIDDLES)


def outside() -> np.ndarray:
    """A year of hours [degC] with frost from autumn to spring and unrest from day to day."""
    rng = np.random.default_rng(4)
    day, hour = HOURS / 24, HOURS % 24
    rough = np.repeat(rng.normal(0, 3, 365), 24)
    return (
        6
        - 13 * np.cos(2 * np.pi * (day - 20) / 365)
        - 6 * np.cos(2 * np.pi * (hour - 3) / 24)
        + rough
    )


def inside() -> np.ndarray:
    """The same under a cover: hot by day, at night now warmer and now colder."""
    hour = HOURS % 24
    return outside() + 8 * np.maximum(-np.cos(2 * np.pi * hour / 24), 0) + np.sin(HOURS / 200) * 0.8


def lines(system, width=0.168):
    mean = 5 - 12 * np.cos(2 * np.pi * (DAYS - 20) / 365)
    curves = (
        Curve("under film", mean + 1.5, mean - 3, mean + 6, CHANGED),
        Curve("station", mean, mean - 5, mean + 5, PLAIN),
    )
    title = "Nights under the film are warmer, but by less than people say and least when it counts"
    shown = gauge.temperature(system)
    return line_plot("lines", title, DAYS, curves, shown, note="A note.", size=Size(width, 0.06))


def map_outside(system, width=0.168):
    shown = gauge.temperature(system)
    scale = temperature_colours([outside(), inside()], shown)
    drawn = temperature_map(outside(), scale, system)
    return day_map("map-outside", "It freezes", drawn, shown, note="Note.", size=Size(width, 0.055))


def map_difference(system, width=0.168):
    shown = gauge.temperature_difference(system)
    apart = inside() - outside()
    drawn = difference_map(apart, difference_colours([apart], shown), system)
    return day_map("map-difference", "Warmer by day", drawn, shown, size=Size(width, 0.055))


def rows():
    made = [
        SpanRow(
            f"crop {n}",
            (Span(60 + 3 * n, 90 + 4 * n, 52 + 3 * n, 66 + 3 * n),),
            (Span(80 + 3 * n, 95 + 3 * n),) if n % 3 else (),
            150.0 + 3 * n,
        )
        for n in range(38)
    ]
    made.append(SpanRow("sweet potato", words="none: too short"))
    made.append(SpanRow("a berry with a name longer than most rows", (Span(0, 364),)))
    return made


def spans(system, width=0.168):
    words = SpanWords("sow under the cover", "sow in the open", "first harvest")
    return span_chart("spans", "Three weeks earlier in spring", rows(), words, width=width)


def bars(system, width=0.168):
    made = (
        RangeBar("Dry clear nights", 0.6, -0.8, 1.9),
        RangeBar("All nights", 1.9, 0.2, 3.8),
        RangeBar("Perforated film", -0.3, -1.2, 0.5, "colder"),
        RangeBar("Not measured", float("nan"), words="not known"),
    )
    shown = gauge.temperature_difference(system)
    return range_bars("bars", "The gain is least where it matters", made, shown, width=width)


def detail(system, width=0.168):
    shown = gauge.temperature(system)
    hours = np.arange(0.0, 49.0)
    part = slice(24 * 40, 24 * 40 + 49)
    curves = (
        Curve("under film", inside()[part], inside()[part] - 1, inside()[part] + 1, CHANGED),
        Curve("station", outside()[part]),
        Curve("film", outside()[part] + 0.4, look=DASHES),
    )
    suns = (SunSpan(7.2, 17.5), SunSpan(31.2, 41.5))
    low = int(np.argmin(outside()[part]))
    remark = Remark(
        float(low), float(outside()[part][low]), shown.show(float(outside()[part][low]))
    )
    names = (day_words(40), day_words(41))
    return detail_plot(
        "detail",
        "The night falls below freezing",
        hours,
        curves,
        suns,
        ClockFace(system, names),
        shown,
        remarks=(remark,),
        size=Size(width, 0.07),
    )


ALL = (lines, map_outside, map_difference, spans, bars, detail)
