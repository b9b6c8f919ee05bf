"""Cutting sticks against published instances whose optimum is known.

Paper mill: the worked example of the encyclopaedia article 'Cutting stock problem' (5600 mm
rolls, 13 widths, 73 rolls). Textbook rolls: Fourer, Gay and Kernighan, AMPL, 2nd ed., ch. 15.
Chvatal: Linear Programming (1983), ch. 13. All three from memory.
"""

import csv
from collections import defaultdict
from pathlib import Path

import pytest

from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import Piece, Stick

HERE = Path(__file__).parent


def stock_instances():
    found = defaultdict(list)
    with open(HERE / "cutting_stock.csv", newline="") as lines:
        for row in csv.DictReader(lines):
            key = row["instance"], int(row["stock length [-]"]), int(row["optimum"])
            found[key] += [int(row["length [-]"])] * int(row["wanted"])
    return [(*key, lengths) for key, lengths in found.items()]


@pytest.mark.parametrize(
    ("name", "stock", "optimum", "lengths"),
    stock_instances(),
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
    assert {name: len(sizes) for name, _, _, sizes in stock_instances()} == {
        "paper mill": 219,
        "textbook rolls": 125,
        "Chvatal": 1313,
    }
