"""The boards of a box, counted and measured by hand."""

from collections import Counter

import pytest

from hoopwright.bed import box_of, needed_reach, widest_bed
from hoopwright.tables.catalogue import our_catalogue
from hoopwright.units.convert import FOOT, INCH


def box(length: float, width: float, measured: str = "outer", courses: int = 1):
    """Return a box [ft] of 2x12 boards, 1 1/2 in thick and 11 1/4 in wide."""
    known = our_catalogue()
    board, species = known.board("2x12"), known.species("spruce-pine-fir")
    return box_of(
        *(length * FOOT, width * FOOT),
        measured=measured,
        board=board,
        species=species,
        courses=courses,
    )


def test_a_bed_measured_within_is_two_boards_larger_over_them() -> None:
    """8 ft by 4 ft within is 8 ft 3 in by 4 ft 3 in over boards of 1 1/2 in; and back."""
    bed = box(8, 4, "inner")
    assert (bed.outer_length / INCH, bed.outer_width / INCH) == pytest.approx((99.0, 51.0))
    assert (bed.inner_length / INCH, bed.inner_width / INCH) == pytest.approx((96.0, 48.0))
    assert (box(8, 4).inner_length / INCH, box(8, 4).inner_width / INCH) == pytest.approx((93, 45))


def test_the_boards_to_cut() -> None:
    """Two courses of 8 ft by 4 ft: four sides of 8 ft and four ends of 45 in between them, 22 1/2
    in high with soil an inch lower."""
    bed = box(8, 4, courses=2)
    lengths = Counter((one.name, round(one.length / INCH, 3)) for one in bed.pieces())
    assert lengths == {("side board", 96.0): 4, ("end board", 45.0): 4}
    assert (bed.height / INCH, bed.soil_depth / INCH) == pytest.approx((22.5, 21.5))


def test_a_side_longer_than_any_board_is_joined_over_plates() -> None:
    """50 ft of boards of 20 ft at most are three of 16 ft 8 in a side; two courses of two sides are
    12 boards with 2 joints in each of the 4 runs, 8 plates of 2 ft."""
    bed = box(50, 4, courses=2)
    assert max(bed.board.stock_lengths) / FOOT == pytest.approx(20.0)
    lengths = Counter((one.name, round(one.length / INCH, 3)) for one in bed.pieces())
    assert lengths == {("side board", 200.0): 12, ("end board", 45.0): 4, ("joint plate", 24.0): 8}


def test_the_reach_into_a_bed() -> None:
    """From both sides half of 4 ft, from one the whole; an arm of 24 in works 4 ft or 2 ft."""
    assert needed_reach(4 * FOOT, "both") / INCH == pytest.approx(24.0)
    assert needed_reach(4 * FOOT, "one") / INCH == pytest.approx(48.0)
    assert widest_bed(24 * INCH, "both") / FOOT == pytest.approx(4.0)
    assert widest_bed(24 * INCH, "one") / FOOT == pytest.approx(2.0)
