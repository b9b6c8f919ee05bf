"""Whether hands reach the middle of the bed."""

from typing import Literal

ReachFrom = Literal["both", "one"]


def needed_reach(outer_width: float, reach_from: ReachFrom) -> float:
    """Return how far in an arm must reach [m] to work every plant.

    From both sides the far point is the middle; from one side it is the far board.
    """
    return outer_width / 2 if reach_from == "both" else outer_width


def widest_bed(reach: float, reach_from: ReachFrom) -> float:
    """Return the widest outer width [m] that an arm of this reach [m] can work."""
    return 2 * reach if reach_from == "both" else reach
