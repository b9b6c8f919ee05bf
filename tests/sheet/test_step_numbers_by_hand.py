"""The numbers in the words of the steps, each worked out by hand for two beds.

A builder reads them from the sheet and sets a tape, a drill or a saw by them.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from hoopwright.answers.voice import Voice
from hoopwright.design import design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet.step_numbers import NUMBERS, Bench, Merged, pilot
from hoopwright.sheet.traits import traits_of
from hoopwright.tables.catalogue import Catalogue

INCH = 0.0254
#: 12 ft by 3 ft of one course of 2x12 (11 1/4 in), 10 ft pipes, two straps on each leg.
FRAMED = """
[bed]
length = "12 ft"
width = "3 ft"
species = "southern-pine-treated"
[hoops]
straps_per_leg = 2
ridge = "pipe"
[cover]
roll_up = "one"
fixed_edge = "batten"
[holding]
pin = true
tied_to_soil = true
"""
#: 24 ft by 4 ft of two courses: sides, battens and rails are joined from pieces.
LONG = """
[bed]
length = "24 ft"
width = "4 ft"
courses = 2
board = "2x6"
[hoops]
pipe = "pvc40-3/4"
stock_length = "14 ft"
"""


@cache
def bench(plan: str) -> Bench:
    design = design_of(read_plan_text(plan))
    return Bench(design, traits_of(design), Voice(design.system))


@pytest.mark.parametrize(
    ("name", "inches"),
    [
        ("diagonal", 148.43),  # root of 144^2 + 36^2, over the outside corners
        ("corner_edge", 2.0),
        ("soil", 1.0),  # below the board's top edge
        ("tie", 60.0),  # across 36 in, and 2 ft for the knots
        ("last_mark", 141.0),  # 3 in from the far end
        ("top_strap", 1.5),  # below the top edge
        ("low_strap", 9.75),  # 1 1/2 in from the pipe's end, which stands on the ground: 11.25 less
        ("past_low_strap", 1.5),
        ("ridge", 144.0),
        ("end_batten", 36.0),
        ("side_batten", 48.0),  # 12 ft in three, none over 4 ft
        ("fall", 3.0),  # of a framed sheet beyond either board end
        ("rail_tie", 18.60),  # twice round 1.05 in and a foot for the knot
        ("lap", 6.0),
    ],
)
def test_lengths_of_the_steps_are_those_of_the_bed(name: str, inches: float) -> None:
    assert NUMBERS[name](bench(FRAMED)) / INCH == pytest.approx(inches, rel=2e-3)


@pytest.mark.parametrize(
    ("name", "count"),
    [
        ("all_hoops", 7),
        ("all_legs", 14),
        ("strap_screws", 28),  # two in each of the 14 straps of one level
        ("ties", 6),  # every 2 ft of 12
        ("corner_screws", 3),
        ("joint_screws", 8),
        ("rails", 1),
        ("rail_holds", 7),
        ("end_battens", 2),
        ("side_battens", 3),
        ("side_batten_screws", 4),  # 3 in from the ends of 48, then no more than 18 apart: 14 each
        ("batten_holes_each", 3),
        # 98.84 in of film over the arch, 3 in left at either side, no more than 12 in apart
        ("end_clips", 9),
    ],
)
def test_counts_of_the_steps_are_those_of_the_bed(name: str, count: int) -> None:
    assert NUMBERS[name](bench(FRAMED)) == count


def test_marks_and_holes_are_told_from_the_end_of_the_board() -> None:
    """The panels' hoops 3 in from the ends of 144 in and the sheet's 4 in in from them, the others
    no more than 36 in apart. Holes 3 in from the ends of a 36 in batten, and its middle."""
    marks = [mark / INCH for mark in NUMBERS["marks"](bench(FRAMED))]
    assert marks[:2] + marks[-2:] == pytest.approx([3.0, 7.0, 137.0, 141.0])
    assert max(b - a for a, b in pairwise(marks)) <= 36.0 + 1e-6
    assert Merged(bench(FRAMED)).format("{batten_holes:tape}") == "3 in, 18 in and 33 in"


def test_pilot_holes_are_the_softwoods_up_to_a_gravity_of_six_tenths() -> None:
    """NDS 2018 12.1.5.2, from memory: dense wood is over 0.6. Southern pine is 0.55. A #10 has a
    root of 0.152 in: 70 % of it is 0.106 in, a 7/64 in drill, and 90 % 0.137 in, a 9/64 in one."""
    screw = Catalogue().screw("screw-10x1-1/4")
    assert pilot(screw, 0.55) / INCH == pytest.approx(7 / 64, rel=1e-3)
    assert pilot(screw, 0.61) / INCH == pytest.approx(9 / 64, rel=1e-3)
    assert Merged(bench(FRAMED)).format("{strap_bit:bit}") == "7/64 in"
    assert Merged(bench(FRAMED)).format("{pin_bit:bit}") == "3/32 in"


def test_a_joined_bed_tells_its_pieces_and_where_the_rails_joints_lie() -> None:
    """Two courses of sides of 24 ft from boards of 12 ft or more; 48 in less two walls of 1 1/2 in
    between them. A rail 24 ft and 3 in over at either end is 294 in; a joint is told from the
    rail's own start, the sum of the pieces before it."""
    made = bench(LONG)
    boards = NUMBERS["boards"](made)
    assert "4 end boards 45 in long" in boards
    assert NUMBERS["rail_holds"](made) == 2 * len(made.design.hoops)
    for rail in made.design.cover.rails:
        assert sum(rail) / INCH == pytest.approx(294.0)
    lines = NUMBERS["rail_sides"](made).split("\n")
    for line, rail in zip(lines, made.design.cover.rails, strict=True):
        assert len(rail) > 1
        for number in range(1, len(rail)):
            at = made.say.tape(sum(rail[:number]))
            assert at in line[line.index("joint at") :]
