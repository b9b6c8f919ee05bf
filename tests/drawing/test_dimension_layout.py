"""Dimensions stand clear of each other, shortest nearest, whatever is asked of them."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright import units
from hoopwright.drawing.extent import text_corners
from hoopwright.drawing.layout import lay_out, show_lengths
from hoopwright.drawing.placing import Frame, spread, text_box
from hoopwright.drawing.scene import (
    Layer,
    Leader,
    LinearDimension,
    Polyline,
    RunningDimension,
    Side,
    Text,
    View,
)

LENGTH, WIDTH = 3.6, 0.9
BOX = Polyline(((0, 0), (LENGTH, 0), (LENGTH, WIDTH), (0, WIDTH)), Layer.BOARDS, closed=True)

stations = st.lists(
    st.integers(0, 360).map(lambda hundredths: hundredths / 100),
    min_size=2,
    max_size=9,
    unique=True,
).map(sorted)
heights = st.lists(
    st.integers(0, 90).map(lambda hundredths: hundredths / 100), min_size=2, max_size=5, unique=True
).map(sorted)
systems = st.sampled_from([units.US, units.METRIC])


def words(layout):
    return [
        (placed, shape)
        for placed in layout.placed
        for shape in placed.shapes
        if isinstance(shape, Text)
    ]


def assert_words_clear(layout):
    scale = layout.view.scale
    boxes = [text_box(text, scale) for _, text in words(layout)]
    for index, box in enumerate(boxes):
        assert not any(box.overlaps(other, 1e-7) for other in boxes[index + 1 :])
        for placed in layout.placed:
            for line in placed.extension:
                level = abs(line.start[1] - line.end[1]) < 1e-9
                across = line.start[1] if level else line.start[0]
                low, high = sorted((line.start[0 if level else 1], line.end[0 if level else 1]))
                spans = (box.bottom, box.top) if level else (box.left, box.right)
                along = (box.left, box.right) if level else (box.bottom, box.top)
                struck = spans[0] < across < spans[1]
                assert not (struck and along[0] < high - 1e-9 and low < along[1] - 1e-9)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(stations, stations, heights, systems, st.sampled_from([10.0, 24.0, 48.0]))
def test_no_two_words_meet_and_no_extension_line_strikes_them(below, above, left, system, scale):
    def chain(side, pairs):
        if side.horizontal:
            y = WIDTH if side is Side.ABOVE else 0.0
            return [LinearDimension((a, y), (b, y), side) for a, b in pairs]
        x = LENGTH if side is Side.RIGHT else 0.0
        return [LinearDimension((x, a), (x, b), side) for a, b in pairs]

    items = [BOX, RunningDimension((0.0, 0.0), tuple(below), Side.BELOW)]
    items += chain(Side.BELOW, zip(below, below[2:], strict=False))
    items += chain(Side.ABOVE, itertools.pairwise(above))
    items += chain(Side.LEFT, [(0.0, height) for height in left if height])
    items += chain(Side.RIGHT, itertools.pairwise(left))
    items += [Leader((x, 0.4), "a word\nor two", Side.RIGHT) for x in above[:3]]

    layout = lay_out(View("box", "Box", "", tuple(items), scale), show_lengths(system))

    assert_words_clear(layout)


@settings(max_examples=60, derandomize=True, deadline=None)
@given(stations)
def test_the_shorter_of_two_nested_dimensions_is_nearer(marks):
    notes = [LinearDimension((0.0, 0.0), (mark, 0.0), Side.BELOW) for mark in marks if mark]
    layout = lay_out(View("b", "B", "", (BOX, *notes), 24.0), show_lengths(units.METRIC))
    lengths = sorted((placed.measured[0], -placed.base[1]) for placed in layout.placed)

    depths = [depth for _, depth in lengths]
    assert depths == sorted(depths)
    assert len(set(depths)) == len(depths)


def test_a_chain_of_dimensions_shares_one_line():
    marks = (0.0, 0.9, 1.8, 2.7, 3.6)
    notes = [LinearDimension((a, 0.0), (b, 0.0), Side.ABOVE) for a, b in itertools.pairwise(marks)]
    layout = lay_out(View("b", "B", "", (BOX, *notes), 24.0), show_lengths(units.US))

    assert len({round(placed.base[1], 9) for placed in layout.placed}) == 1


def test_words_that_do_not_fit_move_out():
    narrow = LinearDimension((1.0, 0.0), (1.05, 0.0), Side.BELOW)
    layout = lay_out(View("b", "B", "", (BOX, narrow), 24.0), show_lengths(units.US))
    box = text_box(words(layout)[0][1], 24.0)

    assert box.left > 1.05 or box.right < 1.0


def test_words_read_from_below_or_from_the_right():
    notes = [
        LinearDimension((0.0, 0.0), (LENGTH, 0.0), Side.BELOW),
        LinearDimension((0.0, 0.0), (0.0, WIDTH), Side.LEFT),
        LinearDimension((LENGTH, 0.0), (LENGTH, WIDTH), Side.RIGHT),
    ]
    layout = lay_out(View("b", "B", "", (BOX, *notes), 24.0), show_lengths(units.US))

    for placed, text in words(layout):
        x, y = placed.base
        middle = np.mean(text_corners(text, 24.0), axis=0)
        if placed.note.side is Side.BELOW:
            assert text.angle == 0
            assert middle[1] > y
        else:
            assert text.angle == 90
            assert middle[0] < x


@settings(max_examples=100, derandomize=True, deadline=None)
@given(st.lists(st.floats(-10, 10), min_size=2, max_size=8), st.floats(0, 3))
def test_spread_is_the_least_squares_move(wanted, gap):
    """Against scipy's quadratic solution of the same problem."""
    from scipy.optimize import isotonic_regression

    shifts = np.arange(len(wanted)) * gap
    expected = isotonic_regression(np.array(wanted) - shifts).x + shifts

    assert spread(wanted, [gap] * (len(wanted) - 1)) == pytest.approx(expected.tolist(), abs=1e-9)


places = st.tuples(st.integers(1, 35), st.integers(1, 8)).map(lambda xy: (xy[0] / 10, xy[1] / 10))


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.lists(places, min_size=2, max_size=6, unique=True), st.sampled_from(list(Side)))
def test_leaders_do_not_cross(tips, side):
    leaders = [Leader(tip, f"thing {n}", side) for n, tip in enumerate(tips)]
    layout = lay_out(View("b", "B", "", (BOX, *leaders), 24.0), show_lengths(units.US))
    lines = [placed.shapes[0].points[:2] for placed in layout.placed]

    def turn(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    for i, (a, b) in enumerate(lines):
        for c, d in lines[i + 1 :]:
            crossing = turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0
            assert not crossing


def test_frames_face_outward():
    layout = lay_out(View("b", "B", "", (BOX,), 24.0), show_lengths(units.US))
    for side in Side:
        x, y = Frame(side, layout.object, 24.0).at(0.01, 0.01)
        outside = not (0 <= x <= LENGTH and 0 <= y <= WIDTH)
        assert outside
