"""What is cut and counted for a bed, each length and number worked out by hand."""

from __future__ import annotations

from functools import cache
from types import SimpleNamespace

import pytest

from hoopwright.design import Design, design_of
from hoopwright.materials.order import (
    AtHand,
    Leftover,
    OrderLine,
    _roll_leftovers,
    _stick_leftovers,
    order_of,
)
from hoopwright.materials.packs import Pack, cheapest_packs
from hoopwright.materials.parts import CountedPart, Parts
from hoopwright.plan.read import read_plan_text

INCH = 0.0254
#: 12 ft by 3 ft of one course of 2x12, which is 11 1/4 in high.
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@cache
def bed(more: str = "", bed: str = BED) -> Design:
    return design_of(read_plan_text(bed + more))


def lengths(design: Design, kind: str) -> list[float]:
    """Return the lengths [in] of all pieces of a kind, by its name without a number."""
    pieces = [piece for part in design.parts.cut for piece in part.pieces]
    return [p.length / INCH for p in pieces if p.name.rstrip(" 0123456789") == kind]


def counted(design: Design, use: str) -> int:
    return sum(part.count for part in design.parts.counted if part.use == use)


def test_cords_are_as_long_as_their_way_and_two_feet_for_knots() -> None:
    """Lacing: over the hoops and down either board, 2 x 11 1/4. Guys: a quarter of the arch from
    either shoulder, and twice a board's height. Braces go as far in along the bed as the crown is
    high, so they are the root of twice its square and of half the bed's width, 18 in. Ties cross
    the bed under the soil every 2 ft. The arch is the film's own way over the pipes."""
    design = bed(
        '[hoops]\nridge = "pipe"\nbrace = true\nguys = true\n[cover]\nlacing = true\n'
        "[holding]\ntied_to_soil = true\n"
    )
    arch, crown = design.hoop.outline.length / INCH, design.hoop.crown_over_board / INCH
    assert lengths(design, "lacing") == pytest.approx([arch + 22.5 + 24] * 4)
    assert lengths(design, "guy") == pytest.approx([arch / 4 + 22.5 + 24] * 14)
    assert lengths(design, "peg") == pytest.approx([18.0] * 14)
    brace = (2 * crown**2 + 18**2) ** 0.5 + 24
    assert lengths(design, "brace") == pytest.approx([brace] * 4)
    assert lengths(design, "tie") == pytest.approx([60.0] * 6)
    assert lengths(design, "ridge") == pytest.approx([144.0])


def test_a_bed_of_no_whole_number_of_two_feet_is_tied_once_more() -> None:
    """13 ft over 2 ft is six and a half: seven ties."""
    design = bed("[holding]\ntied_to_soil = true\n", BED.replace("12 ft", "13 ft"))
    assert len(lengths(design, "tie")) == 7


def test_stakes_and_rods_reach_their_depth_in_the_ground() -> None:
    """18 in deep: a stake stands as high as the board besides, 29 1/4 in; a rod a foot over the
    ground, 30 in, one for each of 14 legs."""
    held = '[holding]\nstakes = "corners"\nstake_depth = "18 in"\n'
    assert lengths(bed(held), "stake") == pytest.approx([29.25] * 4)
    assert lengths(bed(f'{held}legs = "sleeve"\n'), "rod") == pytest.approx([30.0] * 14)


def test_screws_straps_and_pins_are_counted() -> None:
    """Seven hoops of two legs; two straps a leg of two screws each; a pin in each leg. Two courses
    of a 24 ft bed: three screws in each of four corners a course, and eight in each plate, of which
    each side of each course has as many as its boards less one."""
    two = bed("[hoops]\nstraps_per_leg = 2\n[holding]\npin = true\n")
    assert counted(two, "pin the hoop legs") == 14
    assert counted(two, "hold the hoop legs") == 28
    assert counted(two, "fix the straps") == 56
    long = bed("", '[bed]\nlength = "24 ft"\nwidth = "3 ft"\nboard = "2x6"\ncourses = 2\n')
    plates = 2 * 2 * (long.bed.side_parts - 1)
    assert long.bed.side_parts == 2
    assert counted(long, "fix the boards") == 4 * 3 * 2 + 8 * plates == 56
    assert len(lengths(long, "joint plate")) == plates == 4
    assert lengths(long, "side board") == pytest.approx([144.0] * 8)
    assert lengths(long, "end board") == pytest.approx([33.0] * 4)


def test_mesh_stands_along_every_side_that_opens() -> None:
    design = bed('[cover]\nmesh_band = "12 in"\n')
    (mesh,) = [part for part in design.parts.sheets if part.thing != design.cover.material.key]
    assert [one.width / INCH for one in mesh.sheets] == pytest.approx([12.0] * 2)
    assert [one.length / INCH for one in mesh.sheets] == pytest.approx([144.0] * 2)


def test_pieces_of_one_thing_are_cut_with_the_widest_of_their_saw_cuts() -> None:
    """A batten ridge is cut with the end battens: an eighth of an inch, not a pipe's sixteenth."""
    design = bed('[hoops]\nridge = "batten"\n')
    kerfs = {part.thing: part.kerf / INCH for part in design.parts.cut}
    assert kerfs["batten-1x2"] == pytest.approx(1 / 8)
    assert kerfs["pvc40-1/2"] == pytest.approx(1 / 16)


def test_what_is_at_hand_is_neither_bought_nor_paid_for_and_packs_leave_their_rest() -> None:
    """35 wanted and 18 at hand: 17 to buy; what the packs hold over 17 is left."""
    thing = "screw-10x1-1/4"
    one = Parts((), (), (CountedPart(thing, 35, "to fix"),))
    order = order_of(one, bed().catalogue, [AtHand(thing, 18)])
    bought = sum(line.buy * (line.contents or 0) for line in order.lines)
    assert sum(line.from_hand for line in order.lines) == 18
    (left,) = order.leftovers
    assert left.count == bought - 17
    line = OrderLine(thing, "", "pack", None, None, 25, 3, 2, 35, "", 4.5)
    assert line.total == pytest.approx(3 * 4.5)


def test_of_packs_that_cost_alike_the_fewest_are_left_over() -> None:
    """30 wanted of tens at 2: with twenties at 3 one of each comes to 5. A forty at 6 costs what
    three tens do, and would leave ten over: the tens, though they are two packs more."""
    ten, twenty, forty = Pack(10, 2.0), Pack(20, 3.0), Pack(40, 6.0)
    assert cheapest_packs(30, [ten, twenty]) == ((twenty, 1), (ten, 1))
    assert cheapest_packs(30, [ten, forty]) == ((ten, 3),)


def test_one_example_price_marks_an_order_and_the_latest_list_dates_it(tmp_path) -> None:
    (tmp_path / "own.csv").write_text(
        "thing,sold as,length [ft],price [USD],date,source\n"
        "pvc40-1/2,stick,10,0.25,2027-03,my store\n"
    )
    order = design_of(read_plan_text('prices = "own.csv"\n' + BED, folder=tmp_path)).order
    assert (order.example_prices, order.price_date) == (True, "2027-03")


def test_only_ends_of_a_foot_or_more_are_called_left_over() -> None:
    """Of ends of 11, 13, 13 and 40 in the first is waste."""
    sticks = [SimpleNamespace(left=inches * INCH) for inches in (11, 13, 40, 13)]
    cuts = SimpleNamespace(name="a pipe", plan=SimpleNamespace(sticks=sticks))
    assert _stick_leftovers(cuts) == [
        Leftover("a pipe", 1.016, None, 1),
        Leftover("a pipe", 0.3302, None, 2),
    ]
    roll = SimpleNamespace(width=3.0)
    rolls = [SimpleNamespace(roll=roll, left=inches * INCH) for inches in (11, 50)]
    run = SimpleNamespace(name="film", plan=SimpleNamespace(rolls=rolls))
    assert _roll_leftovers(run) == [Leftover("film", pytest.approx(1.27), 3.0, 1)]
