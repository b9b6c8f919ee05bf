"""What fits what, at the very edges of the rules: screws a hair too short, too long, just right."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hoopwright.tables import fits
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.fittings import Screw

INCH = 0.0254
CATALOGUE = Catalogue()
BOARD, PIPE = CATALOGUE.board("2x12"), CATALOGUE.pipe("pvc40-1/2")
STRAP, BATTEN = CATALOGUE.strap("strap-ips-1/2"), CATALOGUE.batten("batten-1x2")


def screw(key: str, inches: float) -> Screw:
    return replace(CATALOGUE.screw(key), key=f"{key} {inches}", length=inches * INCH)


@pytest.mark.parametrize(
    ("inches", "fit"), [(1.17, False), (1.19, True), (1.40, True), (1.43, False)]
)
def test_a_strap_screw_bites_six_diameters_and_keeps_an_eighth_of_an_inch_back(inches, fit) -> None:
    """NDS 2018 12.1.5.6 (copy read 2026-11): 6 x 0.190 in of a #10 are 1.14, and the strap's 0.036
    over it: 1.176. In a 1 1/2 in board no more than 1 3/8 and the strap: 1.411 in."""
    found = fits.strap_screw_for(STRAP, BOARD, [screw("screw-10x1-1/4", inches)]).item
    assert (found is not None) == fit
    one = screw("screw-10x1-1/4", 1.25)
    assert fits.strap_screw_bite(STRAP, one) / INCH == pytest.approx(1.25 - 0.0359, rel=1e-3)


@pytest.mark.parametrize(
    ("inches", "fit"), [(1.49, False), (1.51, True), (2.12, True), (2.13, False)]
)
def test_a_batten_screw_bites_three_quarters_of_an_inch(inches, fit) -> None:
    """Through a batten 3/4 in thick: 1 1/2 in to 3/4 + 1 3/8 = 2 1/8 in."""
    found = fits.batten_screw_for(BATTEN, BOARD, [screw("screw-8x1-1/2-deck", inches)]).item
    assert (found is not None) == fit


@pytest.mark.parametrize(
    ("inches", "fit"), [(1.58, False), (1.60, True), (2.21, True), (2.22, False)]
)
def test_a_pin_passes_the_pipe_and_bites_three_quarters_of_an_inch(inches, fit) -> None:
    """0.84 in of pipe and 3/4: 1.59 in; and no more than 0.84 + 1 3/8 = 2.215 in."""
    assert (fits.pin_for(PIPE, BOARD, [screw("screw-8x1-5/8-deck", inches)]) is not None) == fit


def test_of_pins_the_shortest_and_of_those_the_stoutest_is_taken() -> None:
    eight, ten = screw("screw-8x1-5/8-deck", 1.7), screw("screw-10x3-deck", 1.7)
    longer = screw("screw-10x3-deck", 2.0)
    assert fits.pin_for(PIPE, BOARD, [eight, longer, ten]) is ten
    assert fits.pin_for(PIPE, BOARD, [longer, eight]) is eight


def test_of_strap_screws_the_longest_is_taken() -> None:
    some = [screw("screw-10x1-1/4", inches) for inches in (1.2, 1.4, 1.3)]
    assert fits.strap_screw_for(STRAP, BOARD, some).item is some[1]
