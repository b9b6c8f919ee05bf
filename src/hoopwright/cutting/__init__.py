"""Pieces from stock and roll, with proof of how little is wasted."""

from hoopwright.cutting.sheets import cost_of_one_roll, cut_sheets
from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import (
    CannotCut,
    CutPlan,
    CutRoll,
    CutStick,
    Piece,
    Roll,
    RollPlan,
    Sheet,
    Stick,
)

__all__ = [
    "CannotCut",
    "CutPlan",
    "CutRoll",
    "CutStick",
    "Piece",
    "Roll",
    "RollPlan",
    "Sheet",
    "Stick",
    "cost_of_one_roll",
    "cut_sheets",
    "cut_sticks",
]
