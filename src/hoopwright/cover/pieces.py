"""The developed size of every piece of the cover, worked out from the hoop that carries it."""

import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Style = Literal["framed", "wrapped"]
Edge = Literal["rail", "batten", "bury"]


@dataclass(frozen=True)
class Allowances:
    """What a sheet needs beyond the bare surface it covers [m].

    rail_wraps  : [-] turns of film round a roll-up rail before it grips itself
    batten_roll : film rolled once round a batten before it is screwed down; 4 1/2 in for a 1x2
    burial      : film laid in a trench and covered with soil
    turn        : film turned round an end hoop under its clips
    end_overlap : body sheet beyond the last board end
    Source: common practice, no source.
    """

    rail_wraps: float = 1.5
    batten_roll: float = 0.1143
    burial: float = 0.2032
    turn: float = 0.1524
    end_overlap: float = 0.0762

    def edge(self, edge: Edge, rail_diameter: float, board_height: float, skirt: float) -> float:
        """Return the film that one long edge takes up beyond the skirt [m].

        A buried edge first reaches the ground, however short the skirt was wished.
        """
        match edge:
            case "rail":
                return self.rail_wraps * math.pi * rail_diameter
            case "batten":
                return self.batten_roll
            case "bury":
                return self.burial + max(0.0, board_height - skirt)


@dataclass(frozen=True)
class BodySheet:
    """The sheet over the hoops and what its width is made of [m].

    over_hoops    : along the outside of the pipe from one board top to the other
    over_boards   : across the board tops where the legs stand inside
    skirt         : film hanging below each board top, before rail, batten or trench
    edges         : film that the two long edges take up (left, right)
    """

    over_hoops: float
    over_boards: float
    skirt: float
    edges: tuple[float, float]
    length: float

    @property
    def bare(self) -> float:
        """Return the width that just reaches both board tops [m]."""
        return self.over_hoops + self.over_boards

    @property
    def width(self) -> float:
        """Return the width to have [m]."""
        return self.bare + 2 * self.skirt + sum(self.edges)

    def skirt_from(self, roll_width: float) -> float:
        """Return the skirt each side [m] that a roll of this width leaves; negative is a gap."""
        return (roll_width - self.bare - sum(self.edges)) / 2


@dataclass(frozen=True)
class EndPanel:
    """The flat pattern of one end: the arch, what is turned over, and the foot on the board.

    outline : (n, 2) [m] finished edge, y up from the board top, x from the middle
    turn    : [m] film beyond the arch for the clips
    foot    : [m] film below the board top, batten roll included
    """

    outline: NDArray[np.float64]
    turn: float
    foot: float

    @property
    def width(self) -> float:
        """Return the cut width [m]."""
        return float(np.ptp(self.outline[:, 0])) + 2 * self.turn

    @property
    def height(self) -> float:
        """Return the cut height [m]."""
        return float(self.outline[:, 1].max()) + self.turn + self.foot
