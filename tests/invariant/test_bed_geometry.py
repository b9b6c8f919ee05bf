"""What must hold for every bed: hoops equal and in place, sheets that cover, sums that add up."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.cover.fastening import rail_pieces
from hoopwright.design import design_of
from hoopwright.hoop.stations import bays, stations
from hoopwright.plan import PlanError, read_plan_text

INCH = 0.0254


def placed(length, greatest, framed):
    return stations(
        length,
        first_offset=0.0762,
        last_offset=0.0762,
        greatest=greatest,
        framed=framed,
        pair_gap=0.1016,
    )


@given(st.floats(1.2, 20), st.floats(0.4, 1.6), st.booleans())
def test_stations_are_even_symmetric_and_no_wider_than_asked(length, greatest, framed):
    hoops = placed(length, greatest, framed)
    marks = np.array([hoop.mark for hoop in hoops])
    assert np.all(np.diff(marks) > 0)
    assert np.diff(marks).max() <= greatest + 1e-5
    assert np.allclose(marks + marks[::-1], length, atol=1e-9)
    assert len(hoops) == bays(length, 0.0762, 0.0762, greatest) + 1 + 2 * framed


@given(st.floats(1.2, 20), st.floats(0.4, 1.6))
def test_one_bay_fewer_would_be_too_wide(length, greatest):
    number = bays(length, 0.0762, 0.0762, greatest)
    run = length - 2 * 0.0762
    assert run / number <= greatest + 1e-5
    if number > 1:
        assert run / (number - 1) > greatest - 1e-5


@given(
    st.floats(0.5, 12),
    st.floats(1.5, 6.1),
    st.lists(st.floats(0.0, 12), max_size=10),
    st.booleans(),
)
def test_rail_pieces_add_up_and_none_is_longer_than_its_stick(length, stock, hoops, mirrored):
    pieces = rail_pieces(length, stock, hoops, mirrored=mirrored)
    assert sum(pieces) == pytest.approx(length)
    assert max(pieces) <= stock + 1e-9
    assert min(pieces) > 0


def test_rail_splices_keep_off_the_hoops_and_the_two_sides_differ():
    hoops = [0.15 + 0.9 * number for number in range(9)]
    left = rail_pieces(7.5, 3.05, hoops)
    right = rail_pieces(7.5, 3.05, hoops, mirrored=True)
    for rail in (left, right):
        joints = np.cumsum(rail)[:-1]
        assert all(abs(joint - hoop) >= 0.1 for joint in joints for hoop in hoops)
    assert left == tuple(reversed(right)) or left != right
    assert not np.allclose(np.cumsum(left)[:-1], np.cumsum(right)[:-1])


@pytest.mark.parametrize("legs", ["inside", "outside"])
def test_film_is_as_long_as_the_line_it_lies_on(legs):
    """The arc by the pipe's turn against the sum of the chords over its outside: plain geometry."""
    outline = design_of(read_plan_text(f'[bed]\nlegs = "{legs}"\n')).hoop.outline
    chords = float(np.hypot(*np.diff(outline.points, axis=0).T).sum())
    assert outline.length == pytest.approx(chords, rel=2e-4)
    assert np.all(np.diff(outline.arc) >= 0)


PIPES = ("pvc40-1/2", "pvc40-3/4", "pvc40-1", "pex-3/4", "fibreglass-3/8")


@st.composite
def plans(draw):
    width = draw(st.integers(20, 60))
    return (
        f'[bed]\nlength = "{draw(st.integers(60, 300))} in"\nwidth = "{width} in"\n'
        f'legs = "{draw(st.sampled_from(["inside", "outside"]))}"\n'
        f'[hoops]\npipe = "{draw(st.sampled_from(PIPES))}"\n'
        f'stock_length = "{draw(st.integers(width + 45, 3 * width + 30))} in"\n'
        f"straps_per_leg = {draw(st.sampled_from([1, 2]))}\n"
        f'[cover]\nstyle = "{draw(st.sampled_from(["framed", "wrapped"]))}"\n'
        f'roll_up = "{draw(st.sampled_from(["both", "one", "none"]))}"\n'
    )


@settings(max_examples=60, deadline=None, derandomize=True)
@given(plans())
def test_any_bed_works_out_to_consistent_pieces(text):
    try:
        design = design_of(read_plan_text(text))
    except PlanError as error:
        refused = str(error)
    else:
        refused = ""
    if refused:
        assert "no hoop can be bent" in refused or "too short" in refused
        return
    hoop, cover = design.hoop, design.cover
    line = hoop.centreline
    run = np.hypot(*np.diff(line, axis=0).T).sum()
    assert run == pytest.approx(hoop.cut_length, rel=2e-4)
    assert np.allclose(line[:, 0], -line[::-1, 0], atol=1e-9)
    assert hoop.crown_over_board > 0
    assert cover.body.width > cover.body.bare > hoop.span
    if cover.end_panel is not None:
        assert cover.end_panel.width > hoop.overall_width
        assert cover.end_panel.height > hoop.crown_over_board
    cut = [piece for cuts in design.order.sticks for s in cuts.plan.sticks for piece in s.pieces]
    wanted = [piece for part in design.parts.cut for piece in part.pieces]
    assert sorted(p.name for p in cut) == sorted(p.name for p in wanted)
    assert design.order.total == pytest.approx(sum(line.total for line in design.order.lines))


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(24, 48), st.integers(20, 44), st.sampled_from(["inside", "outside"]))
def test_the_height_asked_for_is_the_height_had_and_leads_back_to_the_pipe(width, height, legs):
    text = f'[bed]\nwidth = "{width} in"\nlegs = "{legs}"\n[hoops]\n'
    hoop = design_of(read_plan_text(text + f'height = "{height} in"')).hoop
    assert hoop.crown_over_board == pytest.approx(height * INCH, abs=1e-6)
    again = design_of(read_plan_text(text + f'stock_length = "{hoop.cut_length * 1000:.6f} mm"'))
    assert again.hoop.crown_over_board == pytest.approx(height * INCH, abs=1e-5)


def test_a_wider_bed_lowers_the_crown_and_eases_the_bend():
    widths = (30, 36, 42, 48)
    hoops = [design_of(read_plan_text(f'[bed]\nwidth = "{width} in"')).hoop for width in widths]
    crowns = [hoop.crown for hoop in hoops]
    strains = [hoop.strain for hoop in hoops]
    assert crowns == sorted(crowns, reverse=True)
    assert strains == sorted(strains, reverse=True)
