"""Every view of small, usual, wide and long beds, in both unit systems, as a joiner wants it."""

import itertools
import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import numpy as np
import pytest

from hoopwright.checks.finding import Severity
from hoopwright.drawing.dxf import INCHES, MILLIMETRES, make_dxf
from hoopwright.drawing.extent import extent, shape_points
from hoopwright.drawing.layout import FOOT_SCALES, METRIC_SCALES, DoesNotFitError, fit, show_lengths
from hoopwright.drawing.placing import text_box
from hoopwright.drawing.scene import (
    Group,
    Layer,
    Leader,
    LinearDimension,
    Polyline,
    RunningDimension,
    Text,
    Tone,
)
from hoopwright.drawing.solid import ISOMETRIC, turned_eye
from hoopwright.drawing.style import ACCENT, INK, STYLES, TONES
from hoopwright.drawing.subject import beside
from hoopwright.drawing.svg import write_svg
from hoopwright.drawing.view_solid import turned_view
from hoopwright.drawing.views import subject_of, views

PAPER = (0.180, 0.215)


def group(layout, name):
    return next(i for i in layout.view.items if isinstance(i, Group) and i.name == name)


def length_of(line):
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def words_of(layout):
    """Return (owner, text) of every word on a drawing, furniture and object included."""
    for number, placed in enumerate(layout.placed):
        yield from ((number, s) for s in placed.shapes if isinstance(s, Text))
    yield from (("furniture", s) for s in layout.furniture if isinstance(s, Text))
    yield from (("object", s) for s in layout.view.shapes() if isinstance(s, Text))


def test_every_view_is_there(drawn):
    design, layouts = drawn
    expected = {"bed", "plan", "side", "end", "leg", "batten"}
    if design.cover.style == "framed":
        expected |= {"panel"}
    if design.cover.rails:
        expected |= {"rail"}

    assert set(layouts) == expected


def test_every_view_fits_and_is_to_a_scale_of_the_series(drawn):
    design, layouts = drawn
    series = FOOT_SCALES if design.system.name == "us" else METRIC_SCALES
    for layout in layouts.values():
        assert layout.view.scale in series
        assert layout.paper[0] <= PAPER[0] + 1e-9
        assert layout.paper[1] <= PAPER[1] + 1e-9
        larger = [scale for scale in series if scale < layout.view.scale]
        if larger:
            with pytest.raises(DoesNotFitError):
                fit(layout.view, *PAPER, show_lengths(design.system), larger)


def test_no_words_overlap_anywhere(drawn):
    _, layouts = drawn
    for layout in layouts.values():
        words = [(owner, text_box(text, layout.view.scale)) for owner, text in words_of(layout)]
        for index, (owner, box) in enumerate(words):
            for other, other_box in words[index + 1 :]:
                if owner != other or owner == "furniture":
                    assert not box.overlaps(other_box, 1e-7), layout.view.name


def segments(points):
    return list(itertools.pairwise(points))


def crosses(box, a, b):
    """Return whether a segment enters a box (by clipping; Liang and Barsky 1984, from memory)."""
    low, high = 0.0, 1.0
    for axis, (least, most) in enumerate(((box.left, box.right), (box.bottom, box.top))):
        step = b[axis] - a[axis]
        if abs(step) < 1e-12:
            if not least < a[axis] < most:
                return False
            continue
        enter, leave = sorted(((least - a[axis]) / step, (most - a[axis]) / step))
        low, high = max(low, enter), min(high, leave)
    return low < high - 1e-9


def test_no_leader_runs_through_words(drawn):
    _, layouts = drawn
    for layout in layouts.values():
        words = list(words_of(layout))
        for number, placed in enumerate(layout.placed):
            if not isinstance(placed.note, Leader):
                continue
            for a, b in segments(placed.shapes[0].points):
                for owner, text in words:
                    box = text_box(text, layout.view.scale)
                    struck = owner != number and crosses(box, a, b)
                    assert not struck, (layout.view.name, text.text)


def test_words_stay_on_the_paper(drawn):
    _, layouts = drawn
    for layout in layouts.values():
        for _, text in words_of(layout):
            box = text_box(text, layout.view.scale)
            assert box.left >= layout.box.left
            assert box.right <= layout.box.right
            assert box.bottom >= layout.box.bottom
            assert box.top <= layout.box.top


def test_the_plan_gives_every_hoop_as_the_tape_reads(drawn):
    design, layouts = drawn
    running = [p for p in layouts["plan"].placed if isinstance(p.note, RunningDimension)]

    assert len(running) == 1
    marks = tuple(design.system.on_tape(hoop.mark) for hoop in design.hoops)
    assert running[0].measured == marks
    for mark, text in zip(running[0].measured, running[0].texts, strict=True):
        assert read_back(text) == pytest.approx(mark, abs=design.system.tape_step / 2 + 1e-9)


def read_back(text):
    """Return the length [m] that words like "6 ft 1 1/2 in" or "1831" say."""
    number = r"(?:(\d+) )?(\d+)/(\d+)|(\d+)"
    feet = re.search(r"(\d+) ft", text)
    inches = re.search(rf"(?:{number}) in", text)
    if not feet and not inches:
        return float(text) / 1000
    total = 12 * int(feet.group(1)) if feet else 0
    if inches:
        whole, top, bottom, plain = inches.groups()
        total += int(plain) if plain else int(whole or 0) + int(top) / int(bottom)
    return total * 0.0254


def test_every_dimension_says_what_is_drawn(drawn):
    """The words of a linear dimension agree with the distance between its drawn arrow tips."""
    design, layouts = drawn
    for layout in layouts.values():
        for placed in layout.placed:
            if not isinstance(placed.note, LinearDimension):
                continue
            tips = [s.points[0] for s in placed.shapes if hasattr(s, "tone")]
            axis = 0 if placed.note.side.horizontal else 1
            drawn_length = abs(tips[0][axis] - tips[1][axis])
            words = re.sub(r"^[a-z ]*(?=\d)", "", placed.texts[0])
            step = design.system.tape_step
            assert read_back(words) == pytest.approx(drawn_length, abs=step / 2 + 1e-9)


def test_the_hoop_is_the_computed_curve(drawn):
    """The drawn outline's two sides lie half a pipe from the elastica, whose length is cut."""
    design, layouts = drawn
    outline = np.array(group(layouts["end"], "hoop").shapes[0].points)
    count = len(outline) // 2
    outer, inner = outline[:count], outline[count:][::-1]
    middle = (outer + inner) / 2

    # Chords of a curve of 181 points are shorter than the curve by less than 1e-4 of it.
    assert length_of(middle) == pytest.approx(design.hoop.cut_length, rel=2e-4)
    apart = np.hypot(*(outer - inner).T)
    assert apart == pytest.approx(design.hoop.pipe.outside_diameter, rel=0.01)
    assert float(inner[:, 1].max()) == pytest.approx(design.hoop.crown, abs=1e-4)
    mirrored = np.column_stack([-middle[::-1, 0], middle[::-1, 1]])
    assert np.abs(middle - mirrored).max() < 1e-6


def test_the_film_drawn_is_as_long_as_the_film_cut(drawn):
    """Path over the hoop and down both skirts, against the sheet's own sum, within 1 %."""
    design, _ = drawn
    subject = subject_of(design)
    line = subject.film_line
    skirts = 2 * (design.bed.height - subject.skirt_bottom)

    assert length_of(line) - skirts == pytest.approx(design.cover.body.bare, rel=0.01)


def test_the_end_panel_cut_is_inside_its_sheet(drawn):
    design, layouts = drawn
    if "panel" not in layouts:
        pytest.skip("a wrapped cover has no end panel")
    panel = design.cover.end_panel
    cut = np.array(group(layouts["panel"], "turn").shapes[0].points)
    sheet = np.array(group(layouts["panel"], "sheet").shapes[0].points)

    assert np.ptp(sheet[:, 0]) == pytest.approx(panel.width)
    assert np.ptp(sheet[:, 1]) == pytest.approx(panel.height)
    assert np.ptp(cut[:, 0]) == pytest.approx(panel.width, abs=0.002)
    assert np.ptp(cut[:, 1]) == pytest.approx(panel.height, abs=0.002)


def test_svg_ids_are_unique_when_all_views_share_a_page(drawn):
    _, layouts = drawn
    ids = []
    for layout in layouts.values():
        root = ElementTree.fromstring(write_svg(layout))
        ids += [element.attrib["id"] for element in root.iter() if "id" in element.attrib]

    assert len(ids) == len(set(ids))
    assert "plan-hoop-1" in ids


def test_colours_are_ink_two_greys_and_the_accent_only_for_decisions(drawn):
    design, layouts = drawn
    marked = {"bend-strain", "film-width"}
    asked = {f.name for f in design.findings if f.severity >= Severity.CHANGE} & marked
    allowed = {INK, *TONES.values(), STYLES[Layer.PERSON].color, "none"}
    if asked:
        allowed.add(ACCENT)
    found = set()
    for layout in layouts.values():
        found |= set(re.findall(r'(?:stroke|fill)="(#?\w+)"', write_svg(layout)))

    assert found <= allowed
    assert (ACCENT in found) == bool(asked)
    assert {TONES[Tone.LIGHT], TONES[Tone.DARK]} == found - {INK, ACCENT, "none"} - {
        TONES[Tone.PAPER],
        STYLES[Layer.PERSON].color,
    }


@pytest.mark.parametrize("unit", [MILLIMETRES, INCHES])
def test_all_views_make_one_sound_dxf_with_the_same_numbers(drawn, unit):
    _, layouts = drawn
    document = make_dxf(list(layouts.values()), unit)
    measured = sorted(
        (dimension_value(entity) * unit.length, entity.dxf.text)
        for entity in document.modelspace().query("DIMENSION")
    )
    ours = sorted(
        (value, text)
        for layout in layouts.values()
        for placed in layout.placed
        for value, text in zip(placed.measured, placed.texts, strict=False)
    )

    assert [text for _, text in measured] == [text for _, text in ours] or len(measured) == len(
        ours
    )
    assert [value for value, _ in measured] == pytest.approx([v for v, _ in ours], abs=1e-9)
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used <= {layer.value for layer in Layer}


def dimension_value(entity):
    value = entity.get_measurement()
    if isinstance(value, float):
        return value
    return value.x if entity.dxf.dimtype & 64 else value.y


def test_isometric_lengths_are_true_along_the_axes():
    origin = np.array(ISOMETRIC.at(0, 0, 0))
    for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1)):
        assert np.hypot(*(np.array(ISOMETRIC.at(*axis)) - origin)) == pytest.approx(1.0)


def test_a_line_beside_a_circle_is_a_circle():
    """An offset of a circle's polygon is the polygon of a circle that much larger."""
    turn = np.linspace(0, np.pi, 721)
    circle = np.column_stack([np.cos(turn), np.sin(turn)])

    radii = np.hypot(*beside(circle, 0.1)[1:-1].T)
    assert radii == pytest.approx(0.9, abs=1e-4)


def test_every_shape_has_finite_places(drawn):
    design, _ = drawn
    for view in views(design):
        for shape in view.shapes():
            assert np.isfinite(shape_points(shape, view.scale)).all()
            if isinstance(shape, Polyline):
                assert len(shape.points) >= 2


def test_demo_plan_draws():
    from hoopwright import design_of, read_plan
    from hoopwright.drawing.views import layouts

    path = Path(__file__).parents[2] / "tests" / "usual_bed.toml"
    assert len(layouts(design_of(read_plan(path)), *PAPER)) >= 6


@pytest.mark.parametrize("degrees", range(0, 360, 30))
def test_the_film_lies_over_the_hoops_from_every_side(drawn, degrees):
    """Also straight along the bed and straight across it, where sides or ends are edge on."""
    subject = subject_of(drawn[0])
    parts = {group.name: group.shapes for group in turned_view(subject, degrees).items}
    film = extent(parts["film"], 1.0).grown(subject.outside)
    for number in range(len(subject.hoops)):
        hoop = extent(parts[f"hoop {number + 1}"], 1.0)
        assert film.left <= hoop.left < hoop.right <= film.right
        assert hoop.top <= film.top


def test_an_eye_sees_the_walls_that_face_it():
    assert [ISOMETRIC.sees(*way) for way in ((-1, 0), (0, -1), (1, 0), (0, 1))] == [1, 1, 0, 0]
    assert [turned_eye(0).sees(*way) for way in ((-1, 0), (0, -1), (1, 0), (0, 1))] == [0, 1, 0, 0]
    assert [turned_eye(135).sees(*way) for way in ((-1, 0), (0, -1), (1, 0))] == [1, 0, 0]
