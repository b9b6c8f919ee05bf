"""The board box: lengths, boards, soil, and who can reach across it."""

from hoopwright.bed.box import SOIL_BELOW_TOP, Bed, Legs, box_of
from hoopwright.bed.reach import ReachFrom, needed_reach, widest_bed

__all__ = [
    "SOIL_BELOW_TOP",
    "Bed",
    "Legs",
    "ReachFrom",
    "box_of",
    "needed_reach",
    "widest_bed",
]
