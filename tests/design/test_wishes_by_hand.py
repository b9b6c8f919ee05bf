"""From the words of a plan to what the rooms reckon with, each number by hand."""

from __future__ import annotations

from functools import cache

import pytest

from hoopwright.design import Design, design_of
from hoopwright.design.wishes import ridge_strut_of
from hoopwright.plan.read import read_plan_text

INCH, LBF = 0.0254, 4.4482216
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@cache
def bed(more: str = "") -> Design:
    return design_of(read_plan_text(BED + more))


def test_a_batten_is_rolled_once_round_and_a_ridge_batten_bows_the_thin_way() -> None:
    """2 x (3/4 + 1 1/2) in of film. E b h^3 / 12 of a 1x2 that lies flat: 1 1/2 x (3/4)^3 / 12 in4
    by the boards' modulus; a pipe its own; a cord pushes nothing."""
    assert bed().cover.allowances.batten_roll / INCH == pytest.approx(4.5)
    found = {
        ridge: ridge_strut_of(
            bed(f'[hoops]\nridge = "{ridge}"\n').plan, bed().catalogue, bed().hoop, bed().bed
        )
        for ridge in ("batten", "pipe", "cord", "none")
    }
    flat = bed().bed.species.modulus * 1.5 * 0.75**3 / 12 * INCH**4
    assert found["batten"] == pytest.approx(flat)
    assert found["pipe"] == bed().hoop.pipe.bending_stiffness
    assert (found["cord"], found["none"]) == (0.0, 0.0)


def test_a_pull_test_is_of_as_many_straps_as_the_leg_has() -> None:
    for straps in (1, 2):
        held = f'[hoops]\nstraps_per_leg = {straps}\n[holding]\npull_test = ["40 lb", "50 lb"]\n'
        test = bed(f"{held}pull_test_aged = true\n").hold_down.pull_test
        assert test is not None
        assert (test.straps, test.aged) == (straps, True)
        assert test.slipped_at == pytest.approx((40 * LBF, 50 * LBF), rel=1e-6)


def test_stakes_stand_at_the_corners_and_opposite_each_other_along_the_sides() -> None:
    """Four, or four and one on either side wherever the sides are tied along."""
    from hoopwright.design.wishes import ties_along

    def stakes(where: str) -> int:
        return bed(f'[holding]\nstakes = "{where}"\n').hold_down.stakes

    assert (stakes("none"), stakes("corners")) == (0, 4)
    between = ties_along(bed().bed.outer_length)
    assert between > 0
    assert stakes("corners and sides") == 4 + 2 * between


def test_gusts_and_snows_come_in_their_own_years() -> None:
    site = bed(
        '[site]\ngust = "60 mph"\ngust_years = 10\nground_snow = "20 psf"\nsnow_years = 30\n'
    ).site
    assert (site.gust_years, site.snow_years) == (10.0, 30.0)
    assert site.gust == pytest.approx(60 * 0.44704)
    assert site.ground_snow == pytest.approx(20 * 47.880259, rel=1e-6)


def test_pipes_are_of_ten_feet_unless_asked_for() -> None:
    assert bed().hoop.cut_length / INCH == pytest.approx(120.0)
    longer = bed('[hoops]\nstock_length = "12 ft"\n')
    assert longer.hoop.cut_length / INCH == pytest.approx(144.0)
