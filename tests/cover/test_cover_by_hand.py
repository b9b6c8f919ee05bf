"""Every piece of a cover, worked by hand from the hoop that carries it.

Bed A: 12 ft x 3 ft, legs outside, 10 ft of half-inch PVC, framed, both sides rolled on 3/4 in PVC
(1.05 in). Bed B: 20 ft x 5 ft, legs inside, 14 ft pipe, wrapped, one side rolled on a 2x2 (1 1/2
in), the other battened.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from hoopwright.cover.assembly import seam_widths
from hoopwright.cover.fastening import (
    batten_holes,
    batten_lengths,
    batten_screws,
    clip_positions,
    evenly,
    rail_pieces,
)
from hoopwright.cover.membrane import elastic_span
from hoopwright.cover.pieces import Allowances
from hoopwright.design import Design, design_of
from hoopwright.plan import read_plan_text

INCH = 0.0254


@pytest.fixture(scope="module")
def framed() -> Design:
    return design_of(
        read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[hoops]\nstock_length = "10 ft"\n')
    )


@pytest.fixture(scope="module")
def wrapped() -> Design:
    return design_of(
        read_plan_text(
            '[bed]\nlength = "20 ft"\nwidth = "5 ft"\nlegs = "inside"\n'
            '[hoops]\nstock_length = "14 ft"\n[cover]\nstyle = "wrapped"\nroll_up = "one"\n'
            'material = "film-6mil"\nrail = "rail-wood-2x2"\n'
        )
    )


def along_the_outside(design: Design) -> float:
    """Length of the pipe's outside above the boards, walked point by point on the curve."""
    curve, hoop = design.hoop.curve, design.hoop
    radius = hoop.pipe.outside_diameter / 2
    x = curve.x - radius * np.sin(curve.angle)
    y = curve.y + radius * np.cos(curve.angle) + hoop.hold_height
    top = hoop.leg.board_top
    fine = np.linspace(0, 1, 200001)
    s = np.linspace(0, 1, x.size)
    x, y = np.interp(fine, s, x), np.interp(fine, s, y)
    over = y >= top
    return float(np.hypot(np.diff(x[over]), np.diff(y[over])).sum())


def test_the_body_sheet_lies_on_the_outside_of_the_pipe(framed: Design, wrapped: Design) -> None:
    """98.84 in for A: see tests/checks/test_findings_by_hand.py."""
    for design in (framed, wrapped):
        over = design.cover.body.over_hoops
        assert over == pytest.approx(along_the_outside(design), rel=2e-3)
    assert framed.cover.body.over_hoops == pytest.approx(98.84 * INCH, rel=1e-3)


def test_widths_and_lengths_of_the_body_sheet(framed: Design, wrapped: Design) -> None:
    """A: 98.84 + 2 x 4 + 2 x 1.5 pi 1.05 in wide, 144 + 2 x 3 in long. B: across two boards of
    1 1/2 in, a rail of 1.5 pi 1.5 in and a batten roll of 4 1/2 in; each end falls from the crown
    (57.31 in over the board) by 4 in of skirt and a batten roll: 240 + 2 x 65.81 in long."""
    a, b = framed.cover.body, wrapped.cover.body
    assert a.over_boards == 0.0
    assert a.bare == a.over_hoops
    rail = 1.5 * np.pi * 1.05 * INCH
    assert a.edges == pytest.approx((rail, rail))
    assert a.width == pytest.approx(a.over_hoops + 8 * INCH + 2 * rail)
    assert a.length == pytest.approx(150 * INCH)
    assert b.over_boards == pytest.approx(3 * INCH)
    assert b.edges == pytest.approx((1.5 * np.pi * 1.5 * INCH, 4.5 * INCH))
    assert b.width == pytest.approx(b.over_hoops + 3 * INCH + 8 * INCH + sum(b.edges))
    crown = wrapped.hoop.crown_over_board
    assert b.length == pytest.approx(240 * INCH + 2 * (crown + 8.5 * INCH))
    assert crown == pytest.approx(57.31 * INCH, rel=1e-3)


def test_skirt_that_a_roll_leaves(framed: Design) -> None:
    body, cover = framed.cover.body, framed.cover
    assert cover.roll_width == pytest.approx(120 * INCH)
    left = (120 * INCH - body.over_hoops - sum(body.edges)) / 2
    assert body.skirt_from(120 * INCH) == pytest.approx(left)
    assert cover.skirt == pytest.approx(left)
    assert body.skirt_from(body.width) == pytest.approx(4 * INCH)


@pytest.mark.parametrize(
    ("edge", "skirt", "inches"),
    [
        ("rail", 4, 1.5 * np.pi * 1.05), ("batten", 4, 4.5), ("bury", 4, 8 + 7.25),
        ("bury", 20, 8.0),
    ],
)  # fmt: skip
def test_film_that_an_edge_takes_up(edge: str, skirt: float, inches: float) -> None:
    """A buried edge first hangs to the ground from an 11 1/4 in board, then lies 8 in in it."""
    taken = Allowances().edge(edge, 1.05 * INCH, 11.25 * INCH, skirt * INCH)  # type: ignore[arg-type]
    assert taken == pytest.approx(inches * INCH)


def test_the_end_panel_of_a_framed_cover(framed: Design, wrapped: Design) -> None:
    """Wide: 36.84 in between legs, 2 x 0.603 in of bulge and 0.84 in of pipe, with 6 in turned
    over on both sides: 50.89 in. High: crown of the pipe's outside, 38.29 + 0.84 in over the
    board, 6 in turn, 4 in of skirt and a 4 1/2 in batten roll: 53.63 in."""
    panel = framed.cover.end_panel
    assert panel is not None
    assert panel.width == pytest.approx(50.89 * INCH, rel=1e-3)
    assert panel.height == pytest.approx(53.63 * INCH, rel=1e-3)
    assert panel.outline[0] == pytest.approx([-18.9 * INCH, 0.0], abs=1e-3)
    assert panel.outline[-1] == pytest.approx([18.9 * INCH, 0.0], abs=1e-3)
    assert panel.outline[:, 1].max() == pytest.approx(39.13 * INCH, rel=1e-3)
    assert np.all(panel.outline[:, 1] >= 0)
    assert wrapped.cover.end_panel is None


def test_rails_battens_and_clips(framed: Design, wrapped: Design) -> None:
    """A: rails of 150 in from 20 ft stock in one piece; an end batten as the bed is wide; clips
    every foot at most along 98.84 in less 3 in at both ends: 8 gaps, 9 clips on each of 4 clipped
    hoops and 3 on each of 3 inner ones: 45. B: a 246 in rail from 8 ft sticks, its last joint a
    foot at least from the end; 60 in ends in two, a 240 in side in five."""
    cover = framed.cover
    assert cover.rails == (pytest.approx((150 * INCH,)), pytest.approx((150 * INCH,)))
    assert [run.pieces for run in cover.battens] == [pytest.approx((36 * INCH,))] * 2
    arc = np.array(cover.clip_arc)
    assert arc.size == 9
    assert arc[0] == pytest.approx(3 * INCH)
    assert arc[-1] == pytest.approx(cover.body.over_hoops - 3 * INCH)
    assert np.diff(arc) == pytest.approx((98.84 - 6) / 8 * INCH, rel=1e-3)
    assert cover.clip_spacing == pytest.approx((98.84 - 6) / 8 * INCH, rel=1e-3)
    two = replace(cover, clip_arc=(0.1, 0.4))
    assert two.clip_spacing == pytest.approx(0.3)
    assert replace(two, clip_arc=(0.1,)).clip_spacing is None
    assert cover.clips == 4 * 9 + 3 * 3
    other = wrapped.cover
    assert [sum(rail) for rail in other.rails] == [pytest.approx(246 * INCH)]
    assert other.rails[0][:2] == pytest.approx((96 * INCH, 96 * INCH))
    assert [run.name for run in other.battens] == [
        "first end batten", "last end batten", "right side batten",
    ]  # fmt: skip
    assert [run.pieces for run in other.battens] == [
        pytest.approx((30 * INCH,) * 2), pytest.approx((30 * INCH,) * 2),
        pytest.approx((48 * INCH,) * 5),
    ]  # fmt: skip
    hoops = len(wrapped.hoops)
    assert other.clips == 2 * len(other.clip_arc) + (hoops - 2) * 3


def test_rail_joints_keep_off_the_hoops() -> None:
    """10 ft rail, 6 ft sticks. A hoop at 71 in: the joint at 72 moves to 4 in before it. Hoops at
    71 and 69: before both. None near: at the stick's end. Too little left: a foot from the end."""
    ten, six = 120 * INCH, 72 * INCH

    def joint(*hoops: float, length: float = ten, **more: bool) -> float:
        pieces = rail_pieces(length, six, [mark * INCH for mark in hoops], **more)
        assert sum(pieces) == pytest.approx(length)
        return pieces[0] / INCH

    assert joint(30.0) == pytest.approx(72)
    assert joint(71.0) == pytest.approx(67)
    assert joint(76.5) == pytest.approx(72)
    assert joint(75.5) == pytest.approx(71.5)
    assert joint(71.0, 69.0) == pytest.approx(65)
    assert joint(length=78 * INCH) == pytest.approx(66)
    assert len(rail_pieces(six, six, [])) == 1
    # From the other end: a hoop at 49 in lies 71 in from it.
    assert joint(49.0, mirrored=True) == pytest.approx(120 - 67)
    # No room to move back to: the joint stays.
    crowd = [float(mark) for mark in range(0, 120, 3)]
    assert joint(*crowd) == pytest.approx(72)


def test_joints_are_kept_off_where_the_hoops_stand_on_the_rail() -> None:
    """Hoops at 43, 91 and 139 in; the rail begins 3 in before the boards, so the middle one lies at
    94 in, too near the joint of an 8 ft stick: it moves to 90 in."""
    design = design_of(
        read_plan_text(
            '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[hoops]\nspacing = "4 ft"\n'
            'first_offset = "43 in"\nlast_offset = "5 in"\n'
            '[cover]\nstyle = "wrapped"\nrail = "rail-wood-2x2"\n'
        )
    )
    assert [hoop.mark / INCH for hoop in design.hoops] == pytest.approx([43, 91, 139])
    left, right = design.cover.rails
    assert left == pytest.approx((90 * INCH, 60 * INCH))
    # From the other end the hoops lie at 8, 56 and 104 in: the joint stays at 96.
    assert right == pytest.approx((54 * INCH, 96 * INCH))


def test_spacing_screws_and_battens() -> None:
    """36 in with 3 in ends and 18 in at most: 30 in, 2 gaps, 3 screws. 96 in: 90 in, 5 gaps, 6.
    20 in: still three. A run no longer than its ends has its one fastening in the middle."""
    assert evenly(10.0, 3.0, 1.0) == pytest.approx((1, 1 + 8 / 3, 1 + 16 / 3, 9))
    assert evenly(2.0, 3.0, 1.0) == (1.0,)
    assert evenly(2.5, 3.0, 1.0) == pytest.approx((1.0, 1.5))
    # 3 x 0.1 is a bit above 0.3 in floats, which asks no fourth gap.
    assert len(evenly(3 * 0.1, 0.1, 0.0)) == 4
    # 20 in: two screws 14 in apart would do, so one more in the middle.
    assert batten_holes(20 * INCH) == pytest.approx((3 * INCH, 10 * INCH, 17 * INCH))
    assert [batten_screws(inches * INCH) for inches in (20, 36, 42, 43, 96)] == [3, 3, 3, 4, 6]
    assert clip_positions(1.0, 0.3, 0.1) == pytest.approx((0.1, 0.1 + 0.8 / 3, 0.1 + 1.6 / 3, 0.9))
    assert batten_lengths(3.6, 1.2) == pytest.approx((1.2, 1.2, 1.2))
    assert batten_lengths(3.7, 1.2) == pytest.approx((0.925,) * 4)
    assert batten_lengths(0.5, 1.2) == (0.5,)


@pytest.mark.parametrize(
    ("needed", "sold", "width", "strips"),
    [
        (130, [72, 96, 120], 72, 2),  # 2 x 72 - 6 = 138
        (140, [72, 96, 120], 96, 2),  # 72: three, 216 in of film; 96: two, 192
        (195, [72, 96, 120], 72, 3),  # 3 x 72 - 12 = 204; 96 also three
        (210, [72, 96, 120], 120, 2),  # 240 in; 72 wants four, 288
        (60, [72, 96], 72, 1),
    ],
)
def test_strips_that_make_one_wide_sheet(
    needed: float, sold: list[float], width: float, strips: int
) -> None:
    """Strips lapped 6 in, least film first."""
    found = seam_widths(needed * INCH, [one * INCH for one in sold])
    assert found == (pytest.approx(width * INCH), strips)


def test_film_between_two_lines_against_the_shallow_strip() -> None:
    """Timoshenko and Woinowsky-Krieger's strip: sag = l (3 p l / (64 E t))^(1/3): 20 Pa on 0.9 m
    of 30 kN/m: 0.9 (3 x 20 x 0.9 / (64 x 30000))^(1/3) = 27.37 mm; pull p l^2 / (8 f) = 73.98 N/m;
    strain 8/3 (f/l)^2 = 0.2466 %; radius l^2 / (8 f) = 3.70 m."""
    film = elastic_span([20.0, -20.0], 0.9, 30000.0)
    assert film.sag == pytest.approx([0.02737, 0.02737], rel=3e-3)
    assert film.pull == pytest.approx([73.98, 73.98], rel=1e-2)  # shallow: good to (f/l)^2
    assert film.strain == pytest.approx([0.002466, 0.002466], rel=5e-3)
    assert film.radius == pytest.approx([3.70, 3.70], rel=5e-3)
    assert film.tension == pytest.approx(20 * film.radius)
    # The arc's own geometry, whatever the load.
    deep = elastic_span(4000.0, 0.9, 30000.0)
    half = np.arcsin(0.45 / deep.radius)
    assert deep.sag == pytest.approx(deep.radius * (1 - np.cos(half)))
    assert deep.strain == pytest.approx(2 * half * deep.radius / 0.9 - 1, rel=1e-6)
    assert deep.tension == pytest.approx(30000 * deep.strain, rel=1e-6)
    assert deep.pull == pytest.approx(deep.tension * np.cos(half))


def test_film_hung_tight_or_slack() -> None:
    """Hung with 500 N/m, 20 Pa lifts it by p l^2 / (8 T) = 4.05 mm; 1 % too long it bows by
    l sqrt(3/8 x 0.01) = 55.1 mm before it pulls at all."""
    tight = elastic_span(20.0, 0.9, 30000.0, pretension=500.0)
    assert tight.sag == pytest.approx(0.00405, rel=1e-2)
    assert tight.tension == pytest.approx(500.0, rel=5e-3)
    slack = elastic_span(1e-3, 0.9, 30000.0, slack=0.01)
    assert slack.sag == pytest.approx(0.0551, rel=1e-2)
    still = elastic_span(0.0, 0.9, 30000.0, pretension=500.0)
    assert (still.tension, still.strain) == (500.0, 0.0)
    loads = [float(elastic_span(p, 0.9, 30000.0, slack=0.02).tension) for p in (1, 10, 100, 1000)]
    assert all(a < b for a, b in pairwise(loads))
