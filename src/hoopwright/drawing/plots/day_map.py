"""A year of days by hours, or years of days, as coloured cells with a colour bar."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from hoopwright.drawing.plots.axes import (
    Area,
    Axis,
    Mark,
    Series,
    centred_axis,
    day_words,
    value_axis,
    year_axis,
)
from hoopwright.drawing.plots.colours import (
    ColourScale,
    bar_png,
    cells_png,
    difference_scale,
    temperature_scale,
)
from hoopwright.drawing.plots.contours import contour, hatched_cells, running_mean
from hoopwright.drawing.plots.field import (
    FROST,
    TICK,
    Size,
    month_rules,
    number_room,
    ticks,
    words_below,
)
from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.plots.words import EDGE, GAP, HALO, LINE, MIDDLE, PLAIN, end_room, heading
from hoopwright.drawing.scene import Anchor, Group, Image, Item, Layer, Point, Text, View, Weight
from hoopwright.drawing.style import WIDTHS
from hoopwright.frozen import dataclass
from hoopwright.units import System, show

#: Of a field [m of paper].
MAP_HEIGHT = 0.055
STRIP = 0.0024
BAR = 0.0032
PIXELS_ACROSS = 3
#: Lines shorter than this say nothing of the season and are left out [m].
SPECK = 0.008


@dataclass(frozen=True)
class DayMap:
    """What a map shows.

    values  : [SI] shape (rows, 365), row 0 at the bottom; NaN where unknown
    rows    : axis of the rows, from 0 to their number, with its marks
    scale   : colours over values; give the same one to maps that are to be compared
    level   : value of the line drawn across the colours (freezing), None for none
    days    : [d] over which that line is smoothed, so that it shows the season, not each night
    strip   : whether ticks above mark each day that comes down to the level
    hatched : value below which cells are hatched, None for none
    """

    values: Series
    rows: Axis
    scale: ColourScale
    level: float | None = FROST
    days: int = 31
    strip: bool = True
    hatched: float | None = None


def clock_axis(system: System) -> Axis:
    """Return the axis of the hours of a day in the reader's way of writing them."""
    hours = (0.0, 6.0, 12.0, 18.0, 24.0)
    return Axis(0.0, 24.0, tuple(Mark(hour, show(hour, "hour", system)) for hour in hours))


def day_hours(hourly: Series) -> Series:
    """Return hours in a row as cells of a map: 24 rows of 365 days; a leap day's end is cut."""
    return np.asarray(hourly[: 365 * 24].reshape(365, 24).T)


def temperature_colours(fields: Sequence[Series], gauge: Gauge) -> ColourScale:
    """Return one scale of temperature over several maps."""
    return temperature_scale(value_axis(fields, gauge, count=8, parts=2))


def difference_colours(fields: Sequence[Series], gauge: Gauge) -> ColourScale:
    """Return one scale of differences over several maps, nil in its middle."""
    return difference_scale(centred_axis(fields, gauge))


def temperature_map(values: Series, scale: ColourScale, system: System) -> DayMap:
    """Return the map of a year's hours [degC] with the season of freezing drawn in."""
    return DayMap(day_hours(values), clock_axis(system), scale)


def difference_map(values: Series, scale: ColourScale, system: System) -> DayMap:
    """Return the map of a year's differences [K], hatched where they fall below nil."""
    rows = clock_axis(system)
    return DayMap(day_hours(values), rows, scale, level=None, strip=False, hatched=0.0)


def day_map(
    name: str,
    title: str,
    shown: DayMap,
    gauge: Gauge,
    *,
    note: str = "",
    size: Size | None = None,
) -> View:
    """Return the map as a drawing; title: the finding."""
    size = size or Size(height=MAP_HEIGHT)
    left = number_room(shown.rows)
    side = ["frost days"] if shown.strip else []
    right = end_room(side) if side else 0.5 * LINE
    area = Area(left, 0.0, size.width - left - right, size.height, year_axis(), shown.rows)
    low, high = (area.left, area.bottom), (area.right, area.top)
    across, up = PIXELS_ACROSS, max(1, round(120 / shown.values.shape[0]))
    png = cells_png(shown.scale.indices(shown.values), shown.scale, across, up)
    said = _numbers(shown, gauge)
    items: list[Item] = [Group("cells", title, (Image(low, high, png),), said)]
    items += _hatching(area, shown)
    items += month_rules(area)
    items += _row_marks(area)
    items += _level(area, shown)
    top = area.top
    if shown.strip and shown.level is not None:
        items += _strip(area, shown)
        top += STRIP + GAP
    items += colour_bar(area, shown.scale, gauge, area.bottom - 1.9 * LINE)
    items += heading(title, note, 0.0, top + 0.8 * LINE, size.width)
    return View(name, title, said, tuple(items), 1.0)


def _row_marks(area: Area) -> list[Item]:
    items: list[Item] = []
    for mark in area.y.marks:
        y = area.up(mark.at)
        items.append(EDGE.trace(((area.left - TICK, y), (area.left, y))))
        place = (area.left - GAP - 0.0002, y - MIDDLE)
        items.append(Text(place, mark.label, Layer.TEXT, Anchor.END))
    return items


def _hatching(area: Area, shown: DayMap) -> list[Item]:
    """Return strokes over cells below the hatched value, and crossing ones over unknown cells."""
    items: list[Item] = []
    unknown = ~np.isfinite(shown.values)
    if unknown.any():
        strokes = hatched_cells(area, unknown, angle=-45.0)
        items.append(Group("unknown", "Not known", (EDGE.trace(*strokes),)))
    if shown.hatched is not None:
        below = np.where(unknown, np.inf, shown.values) < shown.hatched
        if below.any():
            strokes = hatched_cells(area, below)
            items.append(Group("hatched", "Below nil", (EDGE.trace(*strokes),)))
    return items


def _level(area: Area, shown: DayMap) -> list[Item]:
    if shown.level is None:
        return []
    rows = shown.values.shape[0]
    span = area.y.high - area.y.low
    paths: list[tuple[Point, ...]] = [
        tuple(area.at(x, area.y.low + y / rows * span) for x, y in line)
        for line in contour(running_mean(shown.values, shown.days), shown.level)
    ]
    paths = [path for path in paths if _length(path) > SPECK]
    if not paths:
        return []
    return [Group("level", "Line of freezing", (HALO.trace(*paths), PLAIN.trace(*paths)))]


def _length(path: tuple[Point, ...]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(path))


def _strip(area: Area, shown: DayMap) -> list[Item]:
    """Return a tick above each day whose lowest value reaches the level."""
    lowest = np.where(np.isfinite(shown.values), shown.values, np.inf).min(axis=0)
    days = np.flatnonzero(lowest <= (shown.level or 0.0))
    bottom = area.top + GAP
    wide = area.width / area.x.high
    look = EDGE if wide < WIDTHS[Weight.MEDIUM] * 1.2 else PLAIN
    places = [area.across(day + 0.5) for day in days]
    strokes = [((x, bottom), (x, bottom + STRIP)) for x in places]
    label = Text((area.right + GAP, bottom + STRIP / 2 - MIDDLE), "frost days")
    return [Group("strip", f"{days.size} days reach freezing", (look.trace(*strokes), label))]


def colour_bar(area: Area, scale: ColourScale, gauge: Gauge, top: float) -> list[Item]:
    """Return the bar of colours below a field with its numbers and unit."""
    # The numbers of a bar shorter than this would touch.
    width = min(max(0.5 * area.width, 0.055), 0.09)
    bar = Area(area.left, top - BAR, width, BAR, scale.axis, Axis(0.0, 1.0))
    image = Image((bar.left, bar.bottom), (bar.right, bar.top), bar_png(scale))
    items: list[Item] = [Group("bar", "Colours", (image,))]
    items.append(EDGE.trace(*ticks(bar, (mark.at for mark in bar.x.marks))))
    y = bar.bottom - 0.95 * LINE
    items += words_below(bar, y)
    items.append(Text((bar.right + 3 * GAP, y), gauge.mark))
    return items


def _numbers(shown: DayMap, gauge: Gauge) -> str:
    """Return the figures of the map in a sentence or two."""
    values = shown.values
    known = np.isfinite(values)
    said = []
    for word, at in (("Lowest", np.nanargmin(values)), ("highest", np.nanargmax(values))):
        row, day = np.unravel_index(int(at), values.shape)
        place = day_words(float(day))
        if values.shape[0] == 24:
            place += f" at {int(row) + 1} h"
        said.append(f"{word} {gauge.show(float(values[row, day]))} on {place}")
    words = ", ".join(said) + f"; mean {gauge.show(float(np.nanmean(values)))}."
    if shown.level is not None:
        count = int((values[known] <= shown.level).sum())
        days = int((np.where(known, values, np.inf).min(axis=0) <= shown.level).sum())
        words += f" {count} cells at or below {gauge.show(shown.level)}, on {days} days."
    if shown.hatched is not None:
        count = int((values[known] < shown.hatched).sum())
        words += f" {count} cells below {gauge.show(shown.hatched)}, hatched."
    if not known.all():
        words += f" {int((~known).sum())} cells not known."
    return words
