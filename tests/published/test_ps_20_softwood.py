"""Lumber rows against the least dressed sizes of the American Softwood Lumber Standard PS 20."""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
TABLE = list(csv.DictReader((Path(__file__).parent / "ps_20_softwood.csv").open()))
INCH = 0.0254


def inches(words: str) -> float:
    return float(sum(Fraction(part) for part in words.split()))


def dressed(nominal: str, face: str) -> tuple[float, float]:
    (row,) = [row for row in TABLE if (row["nominal"], row["face"]) == (nominal, face)]
    return inches(row["dry [in]"]) * INCH, inches(row["green [in]"]) * INCH


@pytest.mark.parametrize("board", CATALOGUE.boards.values(), ids=lambda board: board.key)
def test_every_board_is_the_standards_dressed_size(board) -> None:
    """Exact: the standard gives fractions of an inch."""
    thick, wide = board.key.split("x")
    thickness = dressed({"5/4": "1 1/4"}.get(thick, thick), "thickness")
    width = dressed(wide, "width")

    assert (board.thickness, board.green_thickness) == pytest.approx(thickness, abs=1e-12)
    assert (board.width, board.green_width) == pytest.approx(width, abs=1e-12)


def test_specific_gravities_lie_by_the_species_own_table() -> None:
    """Table of wood properties, a state university forestry college (12 % moisture, read).

    Douglas-fir 0.48, western hemlock 0.45: a group's assigned value differs by 0.03 at most.
    """
    assert CATALOGUE.species("doug-fir-larch").specific_gravity == pytest.approx(0.48, abs=0.03)
    assert CATALOGUE.species("hem-fir").specific_gravity == pytest.approx(0.45, abs=0.03)
