"""Plots put values where their axes say, keep bands in order and words apart."""

import itertools
import math

import numpy as np
import plot_samples
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.drawing.extent import extent
from hoopwright.drawing.placing import text_box
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import (
    Area,
    Axis,
    centred_axis,
    day_words,
    nice_step,
    value_axis,
)
from hoopwright.drawing.plots.contours import contour, hatched_cells, running_mean
from hoopwright.drawing.plots.detail_plot import ClockFace, SunSpan, detail_plot
from hoopwright.drawing.plots.field import Size
from hoopwright.drawing.plots.line_plot import Curve, line_plot
from hoopwright.drawing.plots.range_bars import RangeBar, range_bars
from hoopwright.drawing.plots.span_chart import Span, SpanRow, SpanWords, span_chart
from hoopwright.drawing.scene import Anchor, Circle, Fill, Group, Layer, Polyline, Text, Trace
from hoopwright.tables.constants import MONTH_STARTS
from hoopwright.units import METRIC, US

SYSTEMS = (US, METRIC)


def group(view, name):
    return next(item for item in view.items if isinstance(item, Group) and item.name == name)


def texts(view):
    return [shape for shape in view.shapes() if isinstance(shape, Text)]


def level_of(view, word):
    """Height of the number beside a mark of the y axis: its words' middle."""
    label = next(t for t in texts(view) if t.text == word and t.anchor is Anchor.END)
    box = text_box(label, 1.0)
    return label.position[1] + 0.689 / 2 * label.size, box


@pytest.mark.parametrize("system", SYSTEMS, ids=lambda s: s.name)
def test_values_stand_where_the_numbers_of_the_axis_say(system):
    view = plot_samples.lines(system)
    shown = gauge.temperature(system)
    (low, _), (high, _) = level_of(view, "0"), level_of(view, "20")
    mean = 5 - 12 * np.cos(2 * np.pi * (plot_samples.DAYS - 20) / 365)

    (trace,) = group(view, "line-2").shapes
    for value, (_, y) in zip(mean, trace.paths[0], strict=True):
        expected = low + shown.number(value) / 20 * (high - low)
        assert y == pytest.approx(expected, abs=1e-5)


def test_a_line_stands_at_its_days():
    view = plot_samples.lines(METRIC)
    (trace,) = group(view, "line-1").shapes
    names = {t.text: t.position[0] for t in texts(view) if t.anchor is Anchor.MIDDLE}
    july, january = names["Jul"], names["Jan"]
    assert trace.paths[0][6][0] == pytest.approx(july, abs=1e-6)
    assert trace.paths[0][0][0] == pytest.approx(january, abs=1e-6)
    # 181 days lie between the middles of January and July: 15.5 to 196.5.
    year = (july - january) / 181 * 365
    assert trace.paths[0][3][0] == pytest.approx(january + year * (105 - 15.5) / 365, abs=1e-6)


@pytest.mark.parametrize("system", SYSTEMS, ids=lambda s: s.name)
def test_the_freezing_line_lies_at_nil_celsius(system):
    view = plot_samples.lines(system)
    dotted = [s for s in view.shapes() if isinstance(s, Trace) and s.dashes[:1] == (0.0003,)]
    assert len(dotted) == 1
    (low, _), (high, _) = level_of(view, "0"), level_of(view, "20")
    freezing = 32.0 if system is US else 0.0
    assert dotted[0].points[0][1] == pytest.approx(low + freezing / 20 * (high - low), abs=1e-5)


def test_bands_hold_their_line_and_are_drawn_in_order():
    view = plot_samples.lines(US)
    (trace,) = group(view, "line-1").shapes
    (fill,) = group(view, "band-1").shapes
    assert isinstance(fill, Fill)
    count = len(trace.paths[0])
    lower, upper = fill.points[:count], fill.points[count:][::-1]
    for (x, y), (xl, yl), (xu, yu) in zip(trace.paths[0], lower, upper, strict=True):
        assert x == xl == xu
        assert yl < y < yu
    assert any(isinstance(s, Trace) for s in group(view, "band-2").shapes)


def test_a_band_upside_down_or_half_given_is_refused():
    ones = np.ones(3)
    with pytest.raises(ValueError, match="low edge lies above"):
        Curve("a", ones, ones + 1, ones - 1)
    with pytest.raises(ValueError, match="a low and a high"):
        Curve("a", ones, low=ones)
    with pytest.raises(ValueError, match="outside its own range"):
        RangeBar("a", 3.0, 0.0, 2.0)


def test_unknown_values_break_the_line():
    values = np.array([1.0, 2.0, np.nan, 4.0, 5.0, 6.0])
    days = np.linspace(10, 300, 6)
    view = line_plot("gap", "Gap", days, [Curve("a", values)], gauge.temperature(METRIC))
    (trace,) = group(view, "line-1").shapes
    assert [len(path) for path in trace.paths] == [2, 3]


@given(st.floats(1e-3, 1e4), st.integers(3, 9))
@settings(derandomize=True)
def test_steps_are_one_two_or_five_and_no_finer_than_asked(span, count):
    step = nice_step(span, count)
    lead = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert round(lead, 6) in (1, 2, 5, 10)
    assert span / step <= count * (1 + 1e-9)
    assert span / step > count / 2.5 * (1 - 1e-9)


@given(st.floats(-60, 50), st.floats(0.5, 80), st.sampled_from(SYSTEMS), st.sampled_from((1, 2)))
@settings(derandomize=True)
def test_an_axis_holds_its_values_and_marks_round_numbers(low, span, system, parts):
    shown = gauge.temperature(system)
    axis = value_axis([(low, low + span)], shown, parts=parts)
    assert axis.holds(low)
    assert axis.holds(low + span)
    for mark in axis.marks:
        assert axis.holds(mark.at)
        assert shown.number(mark.at) == pytest.approx(float(mark.label.replace(",", "")), abs=1e-6)


def test_an_axis_of_differences_has_nil_in_its_middle():
    axis = centred_axis([np.array([-1.0, 7.3])], gauge.temperature_difference(US))
    assert axis.low == pytest.approx(-axis.high)
    assert axis.high >= 7.3


@pytest.mark.parametrize("system", SYSTEMS, ids=lambda s: s.name)
@pytest.mark.parametrize("make", plot_samples.ALL, ids=lambda m: m.__name__)
@pytest.mark.parametrize("width", [0.168, 0.130, 0.100])
def test_words_never_touch_and_the_plot_keeps_its_width(make, system, width):
    view = make(system, width)
    boxes = [(t.text, text_box(t, 1.0)) for t in texts(view) if t.text]
    for (a, one), (b, other) in itertools.combinations(boxes, 2):
        assert not one.overlaps(other), f"{a!r} on {b!r}"
    assert extent(view.shapes(), 1.0).width <= width + 0.004


@pytest.mark.parametrize("make", plot_samples.ALL, ids=lambda m: m.__name__)
def test_the_description_tells_the_numbers(make):
    said = make(METRIC).description
    assert sum(character.isdigit() for character in said) >= 6


def test_a_bar_of_days_begins_and_ends_at_its_dates():
    rows = [SpanRow("a", (Span(45, 75, 40, 50),), dot=200.0)]
    view = span_chart("one", "One", rows, SpanWords("safe", dot="harvest"))
    shapes = group(view, "row-1").shapes
    (bar,) = [s for s in shapes if isinstance(s, Polyline)]
    (dot,) = [s for s in shapes if isinstance(s, Circle)]
    names = {t.text: t.position[0] for t in texts(view) if t.anchor is Anchor.MIDDLE}
    day = (names["Dec"] - names["Jan"]) / ((334 + 15.5) - 15.5)
    left, right = min(p[0] for p in bar.points), max(p[0] for p in bar.points)
    start = names["Jan"] - 15.5 * day
    assert left == pytest.approx(start + 45 * day, abs=1e-6)
    assert right == pytest.approx(start + 76 * day, abs=1e-6)
    assert dot.centre[0] == pytest.approx(start + 200.5 * day, abs=1e-6)
    stroke = next(s for s in shapes if isinstance(s, Trace))
    assert [p[0] for p in stroke.paths[0]] == pytest.approx([start + 40 * day, start + 50 * day])
    assert "15 February to 17 March" in view.description


def test_forty_rows_fit_one_page():
    from hoopwright.drawing.plots.field import plot_layout

    width, height = plot_layout(plot_samples.spans(US)).paper
    assert width <= 0.172
    assert height <= 0.25


def test_range_bars_start_at_nil_and_their_strokes_end_at_the_range():
    view = plot_samples.bars(METRIC)
    marks = {t.text: t.position[0] for t in texts(view) if t.anchor is Anchor.MIDDLE}
    unit = marks["1"] - marks["0"]
    shapes = group(view, "bar-1").shapes
    (bar,) = [s for s in shapes if isinstance(s, Polyline)]
    assert min(p[0] for p in bar.points) == pytest.approx(marks["0"])
    assert max(p[0] for p in bar.points) == pytest.approx(marks["0"] + 0.6 * unit)
    stroke = [s for s in shapes if isinstance(s, Trace)][-1].paths[0]
    ends = [marks["0"] - 0.8 * unit, marks["0"] + 1.9 * unit]
    assert [p[0] for p in stroke] == pytest.approx(ends)
    below = next(s for s in group(view, "bar-3").shapes if isinstance(s, Polyline))
    assert max(p[0] for p in below.points) == pytest.approx(marks["0"])


def test_empty_charts_are_refused():
    with pytest.raises(ValueError, match="at least one"):
        range_bars("a", "A", [], gauge.share())
    with pytest.raises(ValueError, match="at least one"):
        span_chart("a", "A", [], SpanWords("safe"))
    with pytest.raises(ValueError, match="at least one known"):
        value_axis([np.array([np.nan])], gauge.share())


def test_night_is_shaded_from_sunset_to_sunrise_and_the_sun_named():
    view = plot_samples.detail(US)
    nights = group(view, "nights").shapes
    words = [s for s in group(view, "sun").shapes if isinstance(s, Text)]
    said = [t.text for t in words]
    assert said == ["sunrise 7:12 am", "sunset 5:30 pm"] * 2
    dark = [(min(p[0] for p in n.points), max(p[0] for p in n.points)) for n in nights]
    assert dark[1][0] == pytest.approx(words[1].position[0])
    assert dark[1][1] == pytest.approx(words[2].position[0])
    midnight = [t for t in texts(view) if t.text == "midnight"]
    hour = (midnight[1].position[0] - midnight[0].position[0]) / 24
    assert dark[1][1] - dark[1][0] == pytest.approx((31.2 - 17.5) * hour)


def test_three_days_on_a_narrow_page_keep_their_words_apart():
    hours = np.arange(0.0, 73.0)
    suns = [SunSpan(24 * n + 7.2, 24 * n + 17.5) for n in range(3)]
    curves = [Curve("air", plot_samples.outside()[:73])]
    clock = ClockFace(US, ("1 January", "2 January", "3 January"))
    shown = gauge.temperature(US)
    view = detail_plot("three", "Three days", hours, curves, suns, clock, shown, size=Size(0.13))
    boxes = [text_box(t, 1.0) for t in texts(view)]
    assert not any(a.overlaps(b) for a, b in itertools.combinations(boxes, 2))
    assert sum("sunrise" in t.text for t in texts(view)) >= 1


def test_a_remark_stands_clear_of_every_line():
    view = plot_samples.detail(METRIC)
    at = next(i for i, item in enumerate(view.items) if isinstance(item, Circle))
    words = view.items[at + 1]
    box = text_box(words, 1.0)
    for number in (1, 2, 3):
        (trace,) = group(view, f"line-{number}").shapes
        points = np.array(trace.paths[0])
        fine = np.linspace(points[0, 0], points[-1, 0], 5000)
        heights = np.interp(fine, points[:, 0], points[:, 1])
        inside = (fine > box.left) & (fine < box.right)
        assert not ((heights > box.bottom) & (heights < box.top) & inside).any()


def test_days_are_named_as_a_calendar_names_them():
    assert [day_words(d) for d in (0, 30, 31, 58, 59, 364, 365 + 13)] == [
        "1 January",
        "31 January",
        "1 February",
        "28 February",
        "1 March",
        "31 December",
        "14 January next year",
    ]
    assert MONTH_STARTS[-1] == 365


def test_a_contour_of_a_cone_is_a_circle():
    """Outside truth: the level set of the distance from a point is a circle."""
    rows, columns = np.mgrid[0:60, 0:80]
    middle_x, middle_y, radius = 41.3, 28.6, 17.0
    lines = contour(np.hypot(columns + 0.5 - middle_x, rows + 0.5 - middle_y), radius)
    assert len(lines) == 1
    ring = np.array(lines[0])
    assert ring[0] == pytest.approx(ring[-1])
    distance = np.hypot(ring[:, 0] - middle_x, ring[:, 1] - middle_y)
    assert np.abs(distance - radius).max() < 0.02
    length = np.hypot(*np.diff(ring, axis=0).T).sum()
    assert length == pytest.approx(2 * math.pi * radius, rel=2e-3)


def test_an_open_contour_reaches_both_edges_of_the_field():
    slope = np.tile(np.arange(10.0)[None, :], (6, 1))
    (line,) = contour(slope, 4.25)
    assert sorted({round(y, 9) for _, y in line})[:: len(line) - 1] == [0.0, 6.0]
    assert all(x == pytest.approx(4.75) for x, _ in line)


def test_every_square_of_a_chequered_field_is_crossed_and_each_crossing_used_once():
    rng = np.random.default_rng(8)
    field = rng.choice([-1.0, 1.0], (12, 15))
    lines = contour(field, 0.0)
    crossings = sum(len(line) - (line[0] == line[-1]) for line in lines)
    padded = np.pad(field, 1, mode="edge")
    sides = (padded[:, 1:] != padded[:, :-1]).sum() + (padded[1:] != padded[:-1]).sum()
    assert crossings == sides


def test_hatching_stays_in_its_cells_and_covers_them_evenly():
    flags = np.zeros((24, 365), dtype=bool)
    flags[3:9, 40:160] = True
    flags[12:14, 200:210] = True
    area = Area(0.01, 0.02, 0.15, 0.055, Axis(0, 365), Axis(0, 24))
    spacing = 0.0012
    strokes = hatched_cells(area, flags, spacing=spacing)
    for stroke in strokes:
        for t in (0.02, 0.5, 0.98):
            (x0, y0), (x1, y1) = stroke
            x, y = x0 + t * (x1 - x0) - area.left, y0 + t * (y1 - y0) - area.bottom
            assert flags[int(y / area.height * 24), int(x / area.width * 365)]
    length = sum(math.dist(*stroke) for stroke in strokes)
    covered = flags.mean() * area.width * area.height
    assert length * spacing == pytest.approx(covered, rel=0.06)


def test_the_running_mean_goes_round_the_year_and_leaves_out_the_unknown():
    rng = np.random.default_rng(2)
    values = rng.normal(size=(2, 20))
    values[1, 4] = np.nan
    smooth = running_mean(values, 5)
    for row, day in itertools.product(range(2), range(20)):
        window = [values[row, (day + k) % 20] for k in range(-2, 3)]
        assert smooth[row, day] == pytest.approx(np.nanmean(window))


def test_labels_of_plots_are_on_the_layer_of_words():
    assert {t.layer for t in texts(plot_samples.lines(US))} == {Layer.TEXT}
