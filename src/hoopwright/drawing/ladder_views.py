"""The drawings of the ladder: loaded shapes and bars of the rungs, from one design."""

import math
from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial

import numpy as np

from hoopwright.checks.followed_hoop import SNOW_CASES
from hoopwright.checks.rung import Rung
from hoopwright.design import Design
from hoopwright.drawing.font import text_width
from hoopwright.drawing.layout import Layout, fit, lay_out, scales, show_lengths
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
from hoopwright.drawing.view_loaded import LoadedCase, loaded_view, wind_cases
from hoopwright.frozen import dataclass
from hoopwright.loads.snow import snow_kinds
from hoopwright.tables.constants import INCH, STANDARD_GRAVITY
from hoopwright.tables.reader import shipped
from hoopwright.units import show

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


MPH = 0.44704
KMH = 1 / 3.6
#: A chart narrower than this [m of paper] has half the marks on its axis, and its title over it.
HALF = 0.1
#: Bars drawn even where they lie beyond the axis.
FEWEST_BARS = 4
#: Rungs of rain on lying snow.
IN_RAIN = {"rain-on-settled": "Rain on settled snow", "pocket-fills": "Water fills a pocket"}


@cache
def known_rungs() -> Mapping[str, Mapping[str, str]]:
    """Return the short words of rungs, and what the failure of each is drawn as, by their keys."""
    return {row.cells["rung"]: row.cells for row in shipped("rungs", "drawing/data")}


def short_name(name: str) -> str:
    """Return what a rung is called on a chart: its own short words, else its key in words."""
    return known_rungs().get(name, {}).get("short", name.replace("-", " ").capitalize())


def _bar(label: str, rung: Rung) -> Bar:
    return Bar(label, rung.careful, rung.middle, rung.strong, at_least=rung.at_least)


def wind_chart(design: Design, width: float = WIDTH) -> View:
    """Return the wind rungs as bars over the gust. width : [m] of paper"""
    us, asked = design.system.name == "us", design.site.gust
    ruled = (MPH, 20, 120, "mph") if us else (KMH, 40, 200, "km/h")
    bars = [_bar(short_name(rung.name), rung) for rung in design.ladder.wind]
    marked = (asked, f"plan's gust, {show(asked, 'speed', design.system)}") if asked else None
    return _chart("wind-ladder", "What gives way first in wind", bars, "Gust", ruled, width, marked)


def snow_chart(design: Design, width: float = WIDTH) -> View:
    """Return the rungs of wet snow, and of rain on what lies, as bars over the depth.

    Settled snow gives way close to wet; it and ice are left to the words.
    """
    ruled = (INCH, 4, 24, "in") if design.system.name == "us" else (0.01, 10, 60, "cm")
    wanted = [
        rung
        for rung in design.ladder.snow
        if rung.hazard == "snow" and ("wet" in rung.case or rung.name in IN_RAIN)
    ]
    bars = [_bar(_snow_label(rung), rung) for rung in wanted]
    return _chart("snow-ladder", "What gives way first under wet snow", bars, "Depth", ruled, width)


def _chart(
    name: str,
    title: str,
    bars: Sequence[Bar],
    what: str,
    ruled: tuple[float, int, int, str],
    width: float,
    marked: tuple[float, str] | None = None,
) -> View:
    """Return bars on an axis ruled in a unit [SI], by a step of it, up to an end."""
    unit, step, end, mark = ruled
    half = width < HALF
    step *= 2 if half else 1
    drawn = [b for n, b in enumerate(bars) if b.low < end * unit or n < FEWEST_BARS]
    axis = LadderAxis(end * unit, step * unit, lambda v: f"{v / unit:.0f}", f"{what}, {mark}")
    more = len(bars) - len(drawn)
    beyond = f"{more} more beyond {end} {mark}, nine beds in ten" if more else ""
    return ladder_chart(name, title, drawn, axis, marked, beyond, width, not half)


def _snow_label(rung: Rung) -> str:
    if rung.name in IN_RAIN:
        return IN_RAIN[rung.name]
    return {
        "crown": "Crown sinks",
        "hoop": "Hoop folds",
        "hoops": "Hoops fall along the bed",
        "pipe": "Pipe cracks",
        "film": "Cover tears",
        "end": "End hoops pulled over",
    }[rung.name.split("-")[0]]


def loaded_in_wind(design: Design) -> View:
    """Return the hoop at three gusts, up to what it bears or 80 mph."""
    standing, followed = design.standing, design.ladder.followed
    unit, marks = (MPH, (40, 60, 80)) if design.system.name == "us" else (KMH, (60, 100, 130))
    say = partial(show, kind="speed", system=design.system)
    cases = wind_cases(standing, followed, [mark * unit for mark in marks], say)
    note = "Dashed: no wind. True shapes, sides down."
    title = "The hoop in a gust from the left"
    return loaded_view("loaded-wind", standing, followed, cases, title, note)


def overnight_load(design: Design, depth: float) -> float:
    """Return the load [Pa] on a new pipe that bends it as wet snow so deep [m] does overnight.

    What lies overnight finds a pipe that has partly relaxed.
    """
    heavy = snow_kinds()["wet"].likely * STANDARD_GRAVITY
    return depth * heavy / design.hoop.pipe.stuff.stiffness_under_snow.likely


def loaded_by_snow(design: Design) -> View:
    """Return the hoop under one-sided wet snow at three depths up to near its fall."""
    standing, followed = design.standing, design.ladder.followed
    row = followed.snow_rows[SNOW_CASES.index("snow on one half")]
    last = followed.path.critical_factor[row]
    further = math.isnan(last)
    last = float(np.nanmax(followed.path.factor[row])) if further else float(last)
    loads = [last * share for share in (0.4, 0.7, 0.95)]
    deep = [load / overnight_load(design, 1.0) for load in loads]
    names = [f"{show(value, 'depth', design.system)} of wet snow" for value in deep]
    cases = [LoadedCase(row, load, name) for load, name in zip(loads, names, strict=True)]
    note = "As the sun leaves it. Dashed: no snow. True shapes."
    if further:
        note = "Dashed: no snow. It bears the deepest drawn at least."
    title = "The hoop under snow on one half"
    return loaded_view("loaded-snow", standing, followed, cases, title, note)


def ladder_layouts(
    design: Design, width: float, height: float, chart: float = WIDTH
) -> tuple[Layout, ...]:
    """Return the two loaded hoops laid out for a place on paper [m], and the two charts.

    chart : [m] of paper across a chart
    """
    lengths, series = show_lengths(design.system), scales(design.system)
    loaded = [
        fit(view, width, height, lengths, series)
        for view in (loaded_in_wind(design), loaded_by_snow(design))
    ]
    charts = [
        lay_out(view, lengths, titled=False)
        for view in (wind_chart(design, chart), snow_chart(design, chart))
    ]
    return (*loaded, *charts)
