"""The plots of a season: sowing chart, frost curve, maps of the year, a clear night, a hot noon."""

import math
from pathlib import Path

import numpy as np

from hoopwright import writing
from hoopwright.design.season_climates import OPEN
from hoopwright.design.season_report import SeasonReport, crop_label
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import day_words
from hoopwright.drawing.plots.day_map import (
    MAP_HEIGHT,
    day_map,
    difference_colours,
    difference_map,
    temperature_colours,
    temperature_map,
)
from hoopwright.drawing.plots.detail_plot import DETAIL_HEIGHT, ClockFace, detail_plot, sun_spans
from hoopwright.drawing.plots.field import WIDTH, Size, plot_svg
from hoopwright.drawing.plots.line_plot import Curve, line_plot
from hoopwright.drawing.plots.span_chart import Span, SpanRow, SpanWords, span_chart
from hoopwright.drawing.plots.words import CHANGED, DASHES, DASHES_AND_DOTS, PLAIN
from hoopwright.drawing.scene import View
from hoopwright.heat.compare import HOT
from hoopwright.season.windows import Window
from hoopwright.units import System

YEAR = 365


def season_views(report: SeasonReport, system: System, width: float = WIDTH) -> tuple[View, ...]:
    """Return every plot of a season, the most used first. width : [m] of paper"""
    return (
        *sowing_charts(report, max(1, len(report.windows)), width),
        frost_curves(report, width),
        *year_maps(report, system, width),
        clear_night(report, system, width),
        hot_noon(report, system, width),
    )


def write_season_plots(report: SeasonReport, folder: Path, system: System) -> list[Path]:
    """Write the plots as SVG and return the files written."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for view in season_views(report, system):
        written.append(writing.write(folder / f"{view.name}.svg", plot_svg(view)))
    return written


def own_cover(report: SeasonReport) -> str:
    """Return the name of the plan's own cover."""
    return report.covers[1].name


def sowing_charts(report: SeasonReport, most: int, width: float = WIDTH) -> tuple[View, ...]:
    """Return start days of every crop, under the plan's cover and in the open, on charts of at most
    so many crops each, for pages of one height."""
    rows, title = _sowing_rows(report)
    meaning = SpanWords("start under the cover", "start in the open", "first harvest, covered")
    note = report.marked(f"At a risk of {report.risk * 100:.0f} % a year. {report.origin}.")
    count = max(1, math.ceil(len(rows) / most))
    share = math.ceil(len(rows) / count)
    parts = [rows[n : n + share] for n in range(0, len(rows), share)] or [rows]
    if len(parts) == 1:
        return (span_chart("sowing", title, parts[0], meaning, note=note, width=width),)
    return tuple(
        span_chart(
            f"sowing-{number}",
            f"{title}, part {number} of {len(parts)}",
            part,
            meaning,
            note=note,
            width=width,
        )
        for number, part in enumerate(parts, start=1)
    )


def _sowing_rows(report: SeasonReport) -> tuple[list[SpanRow], str]:
    """Return a row for each crop, and the finding over all of them."""
    own = own_cover(report)
    rows = []
    gained = 0
    for key, row in report.windows.items():
        inside, outside = row[own], row[OPEN]
        gained += inside.start_days > outside.start_days
        harvest = inside.harvest.middle if inside.earliest is not None else np.nan
        rows.append(
            SpanRow(
                crop_label(report.crops[key]),
                dark=_spans(inside),
                light=_spans(outside),
                dot=harvest if harvest < YEAR else np.nan,
                words="" if inside.stretches or outside.stretches else f"none: {inside.hindrance}",
            )
        )
    return rows, f"The cover lengthens the time to start {gained} of {len(rows)} crops"


def _spans(window: Window) -> tuple[Span, ...]:
    found = []
    for number, stretch in enumerate(window.stretches):
        first, last = window.earliest, window.latest
        low = high = late_low = late_high = np.nan
        if number == 0 and first is not None:
            low, high = first.low, first.high
        if number == len(window.stretches) - 1 and last is not None:
            late_low, late_high = last.low, last.high
        found.append(Span(stretch.first, stretch.last, low, high, late_low, late_high))
    return tuple(found)


def frost_curves(report: SeasonReport, width: float = WIDTH) -> View:
    """Return the chance, day by day, of frost on leaves still to come or already been."""
    shown = (("open bed", OPEN, PLAIN), ("under cover", own_cover(report), CHANGED))
    curves = [
        Curve(words, found.chance, found.low, found.high, look)
        for words, name, look in shown
        if (found := report.curves[name])
    ]
    own = own_cover(report)
    bare, inside = report.curves[OPEN].chance, report.curves[own].chance
    earlier = _last_above(bare) - _last_above(inside)
    title = (
        f"Nine years in ten, leaves under the cover are past frost {earlier} days sooner"
        if earlier > 0
        else "The cover does not bring the last frost on leaves forward in nine years of ten"
    )
    note = report.marked(
        "Spring: chance of a frost on leaves on or after the day. Autumn: on or before it. "
        f"Bands: 90 % interval of {report.curves[OPEN].years} years."
    )
    days = np.arange(YEAR, dtype=float)
    size = Size(width)
    return line_plot(
        "frost", title, days, curves, gauge.share(), note=note, freezing=False, size=size
    )


def _last_above(chance: np.ndarray) -> int:
    """Return the last spring day on which the chance is still one in ten or more."""
    high = np.flatnonzero(chance[:196] >= 0.1)
    return int(high[-1]) if high.size else 0


def year_maps(report: SeasonReport, system: System, width: float = WIDTH) -> tuple[View, ...]:
    """Return a year of hours: outside, under the cover, and what the cover adds."""
    own = own_cover(report)
    under, bare = report.look[own], report.look[OPEN]
    outside = under.weather.air_temperature
    shown, apart = gauge.temperature(system), gauge.temperature_difference(system)
    colours = temperature_colours([outside, under.air], shown)
    gain = under.air - bare.air
    hot = int((under.air > HOT).sum())
    noon = float(gain.reshape(-1, 24)[:, 10:15].mean())
    night = float(gain.reshape(-1, 24)[:, 0:5].mean())
    kind = report.marked("One year of those run. Local standard time.")
    size = Size(width, MAP_HEIGHT)
    return (
        day_map(
            "year-outside",
            f"Outside: from {shown.show(float(outside.min()))} to "
            f"{shown.show(float(outside.max()))}",
            temperature_map(outside, colours, system),
            shown,
            note=kind,
            size=size,
        ),
        day_map(
            "year-inside",
            f"Air under the cover: {hot} hours above {shown.show(HOT)} that year",
            temperature_map(under.air, colours, system),
            shown,
            note=kind,
            size=size,
        ),
        day_map(
            "year-gain",
            f"Against the open bed the cover adds {apart.show(noon)} at midday and "
            f"{apart.show(night)} after midnight, on average",
            difference_map(gain, difference_colours([gain], apart), system),
            apart,
            note=f"{kind} Hatched: colder inside than out.",
            size=size,
        ),
    )


def clear_night(report: SeasonReport, system: System, width: float = WIDTH) -> View:
    """Return the clearest cold night of spring: air and leaves, inside and out."""
    under = report.look[own_cover(report)]
    weather = under.weather
    cloud = weather.sky_cover[: YEAR * 24].reshape(YEAR, 24)[:, :6].mean(axis=1)
    lowest = report.look[OPEN].leaf[: YEAR * 24].reshape(YEAR, 24).min(axis=1)
    spring = np.arange(YEAR)
    spring = spring[(spring > 90) & (spring < 170) & (lowest < 2.0)]
    if not spring.size:
        spring = np.arange(91, 170)
    day = int(spring[np.argmin(cloud[spring])])
    inside, out = under.leaf, report.look[OPEN].leaf
    rows = slice(24 * (day - 1) + 12, 24 * (day - 1) + 36)
    apart = float(inside[rows].min() - out[rows].min())
    words = gauge.temperature_difference(system).show(abs(apart))
    more = "warmer" if apart >= 0 else "colder"
    title = f"On a clear spring night leaves under the cover stay {words} {more} than open ones"
    return _detail("clear-night", title, report, day - 1, 12, 36, system, width)


def hot_noon(report: SeasonReport, system: System, width: float = WIDTH) -> View:
    """Return the day on which the cover adds the most heat to the air."""
    under, bare = report.look[own_cover(report)], report.look[OPEN]
    added = (under.air - bare.air)[: YEAR * 24]
    hottest = int(np.argmax(added))
    shown, apart = gauge.temperature(system), gauge.temperature_difference(system)
    title = (
        f"Sun on the shut cover: {shown.show(float(under.air[hottest]))} inside, "
        f"{apart.show(float(added[hottest]))} more than over the open bed"
    )
    return _detail("hot-noon", title, report, hottest // 24, 0, 24, system, width)


def _detail(
    name: str,
    title: str,
    report: SeasonReport,
    day: int,
    first: int,
    last: int,
    system: System,
    width: float,
) -> View:
    """Return the hours of one day or night, bands where the report holds them."""
    own = own_cover(report)
    under, bare = report.look[own], report.look[OPEN]
    weather = under.weather
    shown = gauge.temperature(system)
    rows = slice(24 * day + first - 1 if day or first else 0, 24 * day + last)
    hours = np.arange(rows.start + 1 - 24 * day, last + 1, dtype=float)
    air, leaf = report.bands["air"], report.bands["leaf"]
    curves = (
        Curve("station air", weather.air_temperature[rows], look=DASHES_AND_DOTS),
        Curve("open leaves", bare.leaf[rows], look=DASHES),
        Curve("leaves inside", under.leaf[rows], leaf.low[rows], leaf.high[rows], PLAIN),
        Curve("air inside", under.air[rows], air.low[rows], air.high[rows], CHANGED),
    )
    suns = sun_spans(weather, day, 2 if last > 24 else 1)
    names = tuple(day_words(turn) for turn in (day, day + 1))
    return detail_plot(
        name,
        title,
        hours,
        curves,
        suns,
        ClockFace(system, names),
        shown,
        note=report.marked(
            "Bands: nine in ten of the runs with the model's figures drawn from their ranges. "
            "Local standard time."
        ),
        size=Size(width, DETAIL_HEIGHT),
    )
