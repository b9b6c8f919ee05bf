"""Cutting sticks against published instances whose optimum is known.

Bins: E. Falkenauer (1996)
'A hybrid grouping genetic algorithm for bin packing', J. Heuristics 2, as kept in J. E.
Beasley's OR-Library, file binpack1; the optimum is the value that file gives, of which
later exact work confirmed all used here. The OR-Library gives its files under the MIT licence
(copyright J. E. Beasley; from memory of its legal page).
"""

import csv
from pathlib import Path

import pytest

from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import Piece, Stick

HERE = Path(__file__).parent


def bin_instances():
    with open(HERE / "cutting_bins.csv", newline="") as lines:
        for row in csv.DictReader(lines):
            sizes = [int(size) for size in row["sizes [-]"].split()]
            yield row["instance"], int(row["capacity [-]"]), int(row["optimum"]), sizes


@pytest.mark.parametrize(
    ("name", "stock", "optimum", "lengths"),
    list(bin_instances()),
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_known_optimum(name, stock, optimum, lengths):
    pieces = [Piece(f"{length}", length / 1000) for length in lengths]
    plan = cut_sticks(pieces, [Stick("stock", stock / 1000, 1.0)], kerf=0.0)
    assert plan.proven
    assert len(plan.sticks) == optimum
    assert plan.bound == optimum
    cut = sorted(piece.name for stick in plan.sticks for piece in stick.pieces)
    assert cut == sorted(piece.name for piece in pieces)
    for stick in plan.sticks:
        assert sum(int(piece.name) for piece in stick.pieces) <= stock


def test_data_is_complete():
    assert [len(sizes) for *_, sizes in bin_instances()] == [120] * 4
