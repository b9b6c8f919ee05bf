"""Cover, heat, loads and drawing take any outline: a low box with a lid, a pointed arch.

Lengths and areas are worked out by hand from the corners.
"""

import dataclasses
import math

import numpy as np
import pytest
from arc_rig import section_of

from hoopwright.bed import SOIL_BELOW_TOP
from hoopwright.cover.assembly import cover_of
from hoopwright.design import design_of
from hoopwright.design.growing import enclosure_of
from hoopwright.design.wishes import cover_wishes_of
from hoopwright.drawing.view_end import end_view
from hoopwright.drawing.views import subject_of
from hoopwright.hoop.outline import outline_of
from hoopwright.loads.arc_section import resultant
from hoopwright.loads.wind_cases import every_case
from hoopwright.plan import read_plan_text

DESIGN = design_of(read_plan_text('[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'))
HALF, TOP = DESIGN.bed.outer_width / 2, DESIGN.bed.height
LID = outline_of([(-HALF, TOP), (-HALF, TOP + 0.4), (HALF, TOP + 0.2), (HALF, TOP)], 0.02)
POINTED = outline_of(
    [
        *((x, TOP + 0.7 * (1 - (x / HALF) ** 2)) for x in np.linspace(-HALF, -0.2, 30)),
        (0.0, TOP + 0.9),
        *((x, TOP + 0.7 * (1 - (x / HALF) ** 2)) for x in np.linspace(0.2, HALF, 30)),
    ],
    0.02,
)
OUTLINES = pytest.mark.parametrize("outline", [LID, POINTED], ids=["lid", "pointed"])


def wishes():
    read = read_plan_text("")
    return cover_wishes_of(read.plan, read.catalogue, DESIGN.fitted)


def test_sizes_of_a_lid_by_hand():
    slant = math.hypot(2 * HALF, 0.2)
    assert LID.length == pytest.approx(0.4 + slant + 0.2)
    assert (LID.span, LID.rise, LID.clear_rise) == pytest.approx((2 * HALF, 0.4, 0.38))


def test_the_hoop_makes_one():
    outline = DESIGN.hoop.outline
    assert outline.foot == pytest.approx(TOP)
    assert outline.clear_rise == pytest.approx(DESIGN.hoop.crown_over_board, abs=1e-9)


@OUTLINES
def test_cover_takes_it(outline):
    asked = wishes()
    cover = cover_of(asked, DESIGN.bed, outline, DESIGN.hoops, "outside")
    assert cover.body.width == pytest.approx(
        outline.length + 2 * asked.skirt + sum(cover.body.edges)
    )
    assert cover.end_panel.outline[:, 1].max() == pytest.approx(outline.rise)
    assert cover.clips > 0


@OUTLINES
def test_heat_takes_it(outline):
    space = enclosure_of(outline, DESIGN.bed, ("rail", "rail"), 90.0)
    x, y = outline.points.T
    above_the_boards = float(np.trapezoid(y - TOP, x))
    assert space.section_area > above_the_boards * 0.97
    assert space.section_area < above_the_boards * 1.03 + DESIGN.bed.outer_width * SOIL_BELOW_TOP
    up = np.array(space.curve)[:, 1]
    assert up.max() == pytest.approx(TOP + outline.rise - DESIGN.bed.soil_depth, abs=0.02)
    assert space.sides_that_open == 2


@OUTLINES
def test_loads_take_it(outline):
    across, up = outline.points.T
    section = section_of(across, up, DESIGN.bed.height)
    assert section.rise_ratio == pytest.approx(outline.rise / outline.span)
    cases = every_case(section, 0.3, TOP + outline.rise, DESIGN.bed.outer_length)
    assert all(np.isfinite(case.likely).all() for case in cases)
    # One pascal outward all over lifts by the span, whatever the shape, and drags nothing.
    along, rise = np.diff(across), np.diff(up)
    middle = [(part[1:] + part[:-1]) / 2 for part in (across, up)]
    length, turn = np.hypot(along, rise), np.arctan2(rise, along)
    even = resultant(-np.ones(length.size), length, turn, *middle)
    assert (even.lift, even.drag) == pytest.approx((outline.span, 0.0), abs=1e-12)


@OUTLINES
def test_drawing_takes_it(outline):
    subject = dataclasses.replace(subject_of(DESIGN), outline=outline)
    shapes = [shape for shape in end_view(subject).shapes() if hasattr(shape, "points")]
    drawn = {point for shape in shapes for point in shape.points}
    crown = max(map(tuple, outline.points), key=lambda point: point[1])
    assert any(math.dist(point, crown) < 1e-9 for point in drawn)
