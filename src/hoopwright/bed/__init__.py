"""The board box, whose side boards run the full length with the end boards between, and who can
reach across it."""

import math
from typing import Literal

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import INCH
from hoopwright.tables.wood import Board, Species

Legs = Literal["inside", "outside"]
ReachFrom = Literal["both", "one"]

#: Length [m] of the board screwed behind a butt joint (common practice, no source).
JOINT_PLATE = 0.6096

#: Soil is filled to this far below the boards' top [m] (common practice, no source).
SOIL_BELOW_TOP = INCH


@dataclass(frozen=True)
class BoardPiece:
    """One board to cut: what it is and its length [m]."""

    name: str
    length: float


@dataclass(frozen=True)
class Bed:
    """A rectangular box of boards on the ground, open below.

    outer_length, outer_width : [m] over the boards
    courses                   : boards one above the other
    """

    outer_length: float
    outer_width: float
    board: Board
    species: Species
    courses: int

    @property
    def wall(self) -> float:
        """Return the board thickness [m]."""
        return self.board.thickness

    @property
    def height(self) -> float:
        """Return the height of the box above the ground [m]."""
        return self.courses * self.board.width

    @property
    def soil_depth(self) -> float:
        """Return the depth of the soil in the filled box [m]."""
        return max(0.0, self.height - SOIL_BELOW_TOP)

    @property
    def inner_length(self) -> float:
        """Return the clear length between the end boards [m]."""
        return self.outer_length - 2 * self.wall

    @property
    def inner_width(self) -> float:
        """Return the clear width between the side boards [m]."""
        return self.outer_width - 2 * self.wall

    @property
    def side_parts(self) -> int:
        """Return how many boards make up one side of one course."""
        return max(1, math.ceil(self.outer_length / max(self.board.stock_lengths) - 1e-6))

    @property
    def joints(self) -> int:
        """Return the butt joints in the sides, each backed by a plate."""
        return 2 * self.courses * (self.side_parts - 1)

    def pieces(self) -> tuple[BoardPiece, ...]:
        """Return every board of the box, and a plate behind each joint of a long side."""
        sides = BoardPiece("side board", self.outer_length / self.side_parts)
        ends = BoardPiece("end board", self.inner_width)
        plate = BoardPiece("joint plate", JOINT_PLATE)
        return (
            (sides,) * (2 * self.courses * self.side_parts)
            + (ends,) * (2 * self.courses)
            + (plate,) * self.joints
        )


def box_of(
    length: float,
    width: float,
    *,
    measured: Literal["outer", "inner"],
    board: Board,
    species: Species,
    courses: int,
) -> Bed:
    """Return the bed whose outer or inner measures [m] are given."""
    wall = 2 * board.thickness if measured == "inner" else 0.0
    return Bed(length + wall, width + wall, board, species, courses)


def needed_reach(outer_width: float, reach_from: ReachFrom) -> float:
    """Return how far in an arm must reach [m] to work every plant.

    From both sides the far point is the middle; from one side it is the far board.
    """
    return outer_width / 2 if reach_from == "both" else outer_width


def widest_bed(reach: float, reach_from: ReachFrom) -> float:
    """Return the widest outer width [m] that an arm of this reach [m] can work."""
    return 2 * reach if reach_from == "both" else reach
