"""Tape marks, straps, cut lists and their drawings: each figure worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import pytest

from hoopwright.answers.voice import Voice
from hoopwright.cutting.stock import (
    CutPlan,
    CutRoll,
    CutStick,
    Piece,
    PlacedSheet,
    Roll,
    RollPlan,
    Sheet,
    Stick,
)
from hoopwright.design import Design, design_of
from hoopwright.drawing.scene import Group, Line, Polyline, RunningDimension, Text
from hoopwright.materials.order import RollCuts, StickCuts
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet.class_order import _saving_words
from hoopwright.sheet.cut_drawings import bars_view, roll_view, shown_length
from hoopwright.sheet.cuts import cut_table, cuts_parts, groups_of, roll_table
from hoopwright.sheet.marks import marks_table, strap_table
from hoopwright.units import US

SAY, INCH, FOOT = Voice(US), 0.0254, 0.3048
KERF = INCH / 8


@cache
def bed(legs: str = "straps") -> Design:
    return design_of(
        read_plan_text(
            '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[hoops]\nstraps_per_leg = 2\n'
            f'[holding]\nlegs = "{legs}"\n'
        )
    )


def test_the_step_from_mark_to_mark_is_told_beside_the_running_marks() -> None:
    """Hoops at 3, 7, 37 1/2, 72, 106 1/2, 137 and 141 in: their differences, none at the first."""
    table = marks_table(bed(), SAY)
    rows = [(row[1], row[3]) for row in table.rows]
    assert rows == [
        ("3 in", ""),
        ("7 in", "4 in"),
        ("37 1/2 in", "30 1/2 in"),
        ("72 in", "34 1/2 in"),
        ("106 1/2 in", "34 1/2 in"),
        ("137 in", "30 1/2 in"),
        ("141 in", "4 in"),
    ]
    assert table.foot[1] == "144 in"


def test_straps_are_told_below_the_boards_top_edge() -> None:
    """On an 11 1/4 in board whose pipe stands on the ground, the middle of a strap 1 1/2 in below
    the edge and of the other 1 1/2 in above the pipe's foot: 9 3/4 below the edge."""
    assert strap_table(bed(), SAY).rows == (
        ("Middle of the top strap", "1 1/2 in"),
        ("Middle of the low strap", "9 3/4 in"),
        ("Foot of the pipe", "11 1/4 in"),
    )


def two_of_four_feet() -> StickCuts:
    """Two pieces of 48 in of a stick of 120 in, an eighth lost at each cut: 23 3/4 in are left."""
    stick = CutStick(Stick("10 ft", 10 * FOOT, 8.0), (Piece("a 1", 4 * FOOT),) * 2, 23.75 * INCH)
    return StickCuts("x", "board", CutPlan((stick,), 8.0, 8.0, True, True, KERF))


def test_offcuts_and_saw_cuts_are_told_as_a_share_of_the_sticks() -> None:
    """23 3/4 in and two eighths are 24 of 120 in: a fifth."""
    table = cut_table(two_of_four_feet(), SAY)
    assert table.rows[0][:2] == ("1", "10 ft")
    assert table.rows[0][3] == "23 3/4 in"
    assert "Offcuts 23 3/4 in and saw cuts 1/4 in, 20 % of the sticks." in table.note


def test_pieces_are_drawn_where_the_saw_leaves_them() -> None:
    """The first from 0 to 48 in, the second from 48 1/8 to 96 1/8, the rest is the offcut."""
    (group,) = groups_of(two_of_four_feet().plan)
    view = bars_view("bar", "Board", [group], KERF, 20.0, SAY)
    (bar,) = [item for item in view.items if isinstance(item, Group)]
    ticks = sorted({shape.start[0] / INCH for shape in bar.shapes if isinstance(shape, Line)})
    assert ticks == pytest.approx([48.0, 96.125])
    outline = next(shape for shape in bar.shapes if isinstance(shape, Polyline))
    assert max(x for x, _ in outline.points) / INCH == pytest.approx(120.0)
    words = [(one.text, one.position[0] / INCH) for one in bar.shapes if isinstance(one, Text)]
    assert [at for text, at in words if text.startswith("a ")] == pytest.approx([24.0, 72.125])
    (offcut,) = [at for text, at in words if text == "offcut 23 3/4 in"]
    assert offcut == pytest.approx((96.125 + 120) / 2)


def cut_roll() -> CutRoll:
    """Off a roll 10 ft by 100: a sheet 12 ft long of its whole width, then one of 4 ft by 3 ft."""
    roll = Roll("roll", 10 * FOOT, 100 * FOOT, 90.0)
    body, end = Sheet("body sheet", 10 * FOOT, 12 * FOOT), Sheet("end panel", 4 * FOOT, 3 * FOOT)
    placed = (
        PlacedSheet(body, 0.0, 0.0, 10 * FOOT, 12 * FOOT, False),
        PlacedSheet(end, 0.0, 12 * FOOT, 4 * FOOT, 3 * FOOT, False),
    )
    return CutRoll(roll, (12 * FOOT, 15 * FOOT), placed)


def test_film_is_told_from_the_rolls_end_and_its_waste_in_square_feet() -> None:
    """15 ft run off 10 ft wide are 150 sq ft, the sheets 120 and 12: 18 are waste, 12 %."""
    plan = RollPlan((cut_roll(),), 90.0, 90.0, True, 15 * FOOT, True, 13.2 * FOOT)
    table = roll_table(RollCuts("film", "film", plan), SAY)
    assert [row[-1] for row in table.rows] == ["0 in to 144 in", "144 in to 180 in"]
    assert table.rows[1][3:5] == ("4 ft", "36 in")
    assert "18.0 sq ft of the film run off is waste, 12 %." in table.note
    assert plan.rolls[0].left / FOOT == pytest.approx(85.0)
    # At best 12 of the 15 ft would do: a fifth of them could still be saved.
    assert replace(plan, length_proven=False, length_bound=12 * FOOT).length_gap == pytest.approx(
        0.2
    )


def test_a_roll_is_drawn_with_every_cross_cut_and_a_little_of_what_stays_on_it() -> None:
    """Cuts at 12 and 15 ft; of the 85 ft left a fifth of the used is drawn: 18 ft in all."""
    cut = cut_roll()
    assert shown_length(cut) / FOOT == pytest.approx(18.0)
    view = roll_view("roll", "Film", cut, 40.0, SAY)
    running = next(item for item in view.items if isinstance(item, RunningDimension))
    assert [at / FOOT for at in running.stations] == pytest.approx([12.0, 15.0])
    assert "85 ft stays on it" in view.description


def test_the_widest_saw_cut_is_warned_of() -> None:
    """An eighth for boards; pipe loses half as much and cord nothing."""
    assert {round(cuts.plan.kerf / INCH, 4) for cuts in bed().order.sticks} >= {0.125, 0.0625, 0.0}
    (intro,) = cuts_parts(bed(), {}, SAY)[0].blocks
    assert "the saw takes 1/8 in or so at every cut" in intro.text


def test_what_a_class_saves_is_a_share_of_buying_apart() -> None:
    """$20 of $80 is 25 %, and the shelf's $5 are told besides."""
    bulk = SimpleNamespace(saving=20.0, alone_total=80.0, shelf_worth=5.0)
    words = _saving_words(SimpleNamespace(bulk=bulk), SAY)
    assert words == (
        "Sharing sticks, rolls and packs saves $20.00 (25 %); what is on the shelf saves $5.00 "
        "besides."
    )


def test_pieces_too_short_for_their_words_share_them_in_the_middle_of_their_run() -> None:
    """After one of 60 in five of 1 in, an eighth lost between: from 60 1/8 over 5 1/2 in to 65 5/8;
    their words stand at 62 7/8, and the offcut begins where they end."""
    pieces = (Piece("a 1", 60 * INCH), *[Piece(f"b {n}", INCH) for n in range(1, 6)])
    stick = CutStick(Stick("10 ft", 10 * FOOT, 8.0), pieces, (120 - 65.75) * INCH)
    (group,) = groups_of(CutPlan((stick,), 8.0, 8.0, True, True, KERF))
    (bar,) = bars_view("bar", "Board", [group], KERF, 20.0, SAY).items
    assert isinstance(bar, Group)
    words = {one.text: one.position[0] / INCH for one in bar.shapes if isinstance(one, Text)}
    (shared,) = [at for text, at in words.items() if text.startswith("5")]
    assert shared == pytest.approx(62.875, abs=0.01)
    (offcut,) = [at for text, at in words.items() if text.startswith("offcut")]
    assert offcut == pytest.approx((65.625 + 120) / 2, abs=0.01)
