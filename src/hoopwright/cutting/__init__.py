"""Pieces from stock and roll, with proof of how little is wasted."""

from hoopwright.cutting.sheets import cut_sheets
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
    "cut_sheets",
    "cut_sticks",
]
