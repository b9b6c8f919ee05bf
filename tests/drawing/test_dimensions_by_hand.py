"""Every length and station that the drawings tell of one bed, worked out by hand."""

from __future__ import annotations

from functools import cache

import pytest

from hoopwright.design import Design, design_of
from hoopwright.drawing.extent import extent
from hoopwright.drawing.layout import lay_out
from hoopwright.drawing.scene import (
    Circle,
    Group,
    LinearDimension,
    NorthArrow,
    Polyline,
    RunningDimension,
    View,
)
from hoopwright.drawing.views import north_of, views
from hoopwright.plan.read import read_plan_text

INCH = 0.0254
#: 12 ft by 3 ft of 2x12 (11 1/4 by 1 1/2 in), pipe 0.84 in over all, rail 1.05 in, 1x2 battens.
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\ndirection = "{}"\n[hoops]\nstraps_per_leg = 2\n'


@cache
def bed(direction: str = "0 deg") -> Design:
    return design_of(read_plan_text(BED.format(direction)))


@cache
def drawn(direction: str = "0 deg") -> dict[str, View]:
    return {view.name: view for view in views(bed(direction))}


def told(name: str) -> list[tuple[str, str, float]]:
    """Return side, words and inches of each length that a view tells, in order."""
    notes = [note for note in drawn()[name].notes() if isinstance(note, LinearDimension)]
    return sorted(
        (note.side.name, note.label.replace("{}", "").strip(), note.length / INCH) for note in notes
    )


def crown() -> float:
    """Return the clear height of the crown over the boards [in]."""
    return bed().hoop.crown_over_board / INCH


def over() -> float:
    """Return the width over the outside of the hoop where it is widest [in]."""
    hoop = bed().hoop
    return (hoop.span + 2 * hoop.curve.bulge) / INCH + 0.84


def check(name: str, wanted: list[tuple[str, str, float]]) -> None:
    found, by_hand = told(name), sorted(wanted)
    assert [one[:2] for one in found] == [one[:2] for one in by_hand]
    assert [one[2] for one in found] == pytest.approx([one[2] for one in by_hand], abs=0.01)


def test_the_side_tells_the_bed_the_sheet_and_the_rail() -> None:
    """The top of the pipe stands 11 1/4 in, the clear height and the pipe itself over the ground;
    the sheet reaches 3 in past either end, and so does a rail of two sticks or more."""
    rails = bed().cover.rails[-1]
    check(
        "side",
        [
            ("BELOW", "", 144.0),
            ("LEFT", "", 11.25),
            ("LEFT", "", 11.25 + crown() + 0.84),
            ("BELOW", "body sheet", 150.0),
            *(("BELOW", "rail", piece / INCH) for piece in rails if len(rails) > 1),
        ],
    )


def test_the_end_tells_the_legs_and_the_clear_height() -> None:
    """Legs outside a 36 in box stand 36.84 in apart on centres."""
    wide = [("BELOW", "widest", over())] if bed().hoop.curve.bulge > 0.003 else []
    check(
        "end",
        [
            ("BELOW", "", 36.0),
            ("BELOW", "legs", 36.84),
            ("LEFT", "", 11.25),
            ("LEFT", "clear", crown()),
            ("LEFT", "", 11.25 + crown() + 0.84),
            *wide,
        ],
    )


def test_the_plan_tells_the_box_and_where_the_tape_reads() -> None:
    """Two walls of 1 1/2 in less inside; hoops as the tape gives them, from the board's end."""
    check(
        "plan",
        [
            ("ABOVE", "", 144.0),
            ("ABOVE", "inside", 141.0),
            ("LEFT", "", 36.0),
            ("LEFT", "inside", 33.0),
            ("RIGHT", "legs", 36.84),
        ],
    )
    (running,) = [n for n in drawn()["plan"].notes() if isinstance(n, RunningDimension)]
    marks = [3.0, 7.0, 37.5, 72.0, 106.5, 137.0, 141.0]
    assert [at / INCH for at in running.stations] == pytest.approx(marks)
    assert running.origin[0] == 0.0
    assert running.texts[2].startswith("37 1/2")


def test_a_running_dimension_is_drawn_at_its_stations() -> None:
    """1 : 24: a station 72 in from the origin stands 3 in from it on paper, 72 in the drawing's
    own metres, whatever the scale."""
    layout = lay_out(drawn()["plan"], str)
    (running,) = [one for one in layout.placed if isinstance(one.note, RunningDimension)]
    stands = {round(line.start[0] / INCH, 3) for line in running.extension}
    assert {3.0, 7.0, 37.5, 72.0, 106.5, 137.0, 141.0} <= stands


def test_the_end_panel_tells_what_to_cut() -> None:
    """Its arch is the outside of the hoop: as high over the board's top as crown and pipe. 6 in are
    turned round the hoop at either side and the top, and 8 1/2 in hang below the board's top: 4 in
    down and 4 1/2 once round a 1x2 (3/4 by 1 1/2 in)."""
    arch = crown() + 0.84
    check(
        "panel",
        [
            ("BELOW", "cut", over() + 12.0),
            ("BELOW", "hoop", over()),
            ("LEFT", "cut", arch + 6.0 + 8.5),
            ("LEFT", "", arch),
            ("LEFT", "", 8.5),
        ],
    )


def test_the_cut_line_of_a_panel_runs_a_turn_outside_the_arch() -> None:
    view = drawn()["panel"]
    groups = {item.name: item for item in view.items if isinstance(item, Group)}
    (turned,) = [s for s in groups["turn"].shapes if isinstance(s, Polyline)]
    (arch,) = [s for s in groups["arch"].shapes if isinstance(s, Polyline)]
    top = max(y for _, y in turned.points) - max(y for _, y in arch.points)
    wide = max(x for x, _ in turned.points) - max(x for x, _ in arch.points)
    assert (top / INCH, wide / INCH) == pytest.approx((6.0, 6.0), abs=0.1)


def test_the_leg_tells_its_straps_from_the_boards_top() -> None:
    check(
        "leg",
        [
            ("BELOW", "", 1.5),
            ("LEFT", "", 1.5),
            ("LEFT", "", 9.75),
            ("LEFT", "pipe", 11.25),
        ],
    )


def test_the_batten_hangs_a_skirt_below_the_edge() -> None:
    """Its top 4 in below, 1 1/2 in wide."""
    check("batten", [("LEFT", "", 4.0), ("LEFT", "", 1.5)])


def test_the_rail_hangs_where_the_rolls_width_leaves_it() -> None:
    """A 10 ft roll less the arch and one and a half turns round 1.05 in at either side: half of the
    rest hangs down each board."""
    left = (120.0 - bed().hoop.outline.length / INCH - 2 * 1.5 * 3.14159 * 1.05) / 2
    check("rail", [("LEFT", "to the rail", left)])


@pytest.mark.parametrize(
    ("direction", "north", "points"),
    [("0 deg", 180.0, (1.0, 0.0)), ("90 deg", 90.0, (0.0, 1.0))],
)
def test_north_is_where_the_beds_direction_puts_it(
    direction: str, north: float, points: tuple[float, float]
) -> None:
    """Long sides that run to the north (0 deg): the tape runs north, to the drawing's right. Long
    sides that run east (90 deg): north lies to the left of the tape, up the drawing."""
    assert north_of(bed(direction)) == pytest.approx(north)
    view = drawn(direction)["plan"]
    assert any(isinstance(item, NorthArrow) for item in view.items)
    layout = lay_out(view, str)
    (letter,) = [one for one in layout.furniture if getattr(one, "text", "") == "N"]
    (ring,) = [one for one in layout.furniture if isinstance(one, Circle)]
    across = letter.position[0] - ring.centre[0]
    up = letter.position[1] - ring.centre[1]
    assert (across * points[0] + up * points[1]) > 0.8 * (across**2 + up**2) ** 0.5


def test_the_arm_reaches_as_far_in_as_the_person_does() -> None:
    """From the right edge of a 36 in bed, 18 in from its middle."""
    reach = bed().catalogue.reach(bed().plan.wishes.workers[0]).from_one_side
    (arm,) = [item for item in drawn()["end"].items if getattr(item, "name", "") == "arm"]
    tip = extent(arm.shapes, 20.0).left
    assert tip / INCH == pytest.approx(18.0 - reach / INCH, abs=0.3)


def test_the_end_board_stands_between_the_sides() -> None:
    """33 in from wall to wall, 11 1/4 high; the side boards' ends beside it to 36 in over all."""
    (boards,) = [one for one in drawn()["end"].items if getattr(one, "name", "") == "end board"]
    spans = [extent([shape], 20.0) for shape in boards.shapes]
    assert [round(box.width / INCH, 3) for box in spans] == [33.0, 1.5, 1.5]
    assert {round(box.height / INCH, 3) for box in spans} == {11.25}
    ends = [edge / INCH for box in spans for edge in (box.left, box.right)]
    assert sorted(ends) == pytest.approx([-18.0, -16.5, -16.5, 16.5, 16.5, 18.0])
