"""The whole bed in the wind: what its box, the soil in it and its stakes hold."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class SoilInBox:
    """The soil against the boards of a box.

    depth : [m] of it; unit_weight : [N/m3]; windward, ends, lee : [-] earth pressure
    coefficients on the windward board, the end boards and the lee board
    friction : [-] tangent of soil on board; adhesion : [Pa]
    """

    depth: float
    unit_weight: float
    windward: Floats
    ends: Floats
    lee: Floats
    friction: Floats
    adhesion: Floats

    def shear(self, coefficient: ArrayLike) -> Floats:
        """Return how hard a metre of board is held along its face [N/m]."""
        thrust = np.asarray(coefficient) * self.unit_weight * self.depth**2 / 2
        return np.asarray(thrust * self.friction + self.adhesion * self.depth)


def box_turns_at(
    weight: float, soil: SoilInBox, length: float, outer_width: float, inner_width: float
) -> Floats:
    """Return the moment about the lee toe at which a box turns off its soil [N m].

    weight : [N] of boards, hoops and cover; length, outer_width, inner_width : [m]

    The windward board is dragged up along the soil with the whole width as arm, each end board
    with half; and it turns into the soil, which thrusts on it harder than on the lee board.
    Valid for: a box full of soil that stands level and stays in place, a slow turn.
    Source: equilibrium; which coefficients act is a prior of ours, for no measured overturning of
    a low tunnel was found.
    """
    windward = soil.shear(soil.windward) * length * outer_width
    ends = 2 * soil.shear(soil.ends) * inner_width * outer_width / 2
    thrust = (soil.windward - soil.lee) * soil.unit_weight * soil.depth**2 / 2
    return np.asarray(weight * outer_width / 2 + windward + ends + thrust * length * soil.depth / 3)


def box_lifts_at(weight: float, soil: SoilInBox, length: float, width: float) -> Floats:
    """Return the uplift at which a box rises off its soil [N]; length, width : [m] within it.

    The soil is at rest against all four boards. Source: equilibrium, as box_turns_at.
    """
    return np.asarray(weight + soil.shear(soil.ends) * 2 * (length + width))


def stake_side_capacity(
    width: float,
    depth: float,
    load_height: float,
    friction_tangent: Spread,
    density: float = 1700.0,
) -> Spread:
    """Return the sideways push [N] that turns a short stake over in sandy ground.

    width, depth : [m] of the stake below ground; load_height : [m] of the push above ground
    friction_tangent : [-] of the soil's friction angle; density : [kg/m3], less 1000 where soaked

    Valid for: short stiff stakes, level ground, no cohesion (clay holds more).
    Source: Broms 1964 for free-headed piles in sand, gamma b L^3 Kp / 2 (e + L), from memory.
    How sure: half to twice.
    """

    def push(tangent: float) -> float:
        sine = np.sin(np.arctan(tangent))
        passive = (1 + sine) / (1 - sine)
        weight = density * STANDARD_GRAVITY
        return float(weight * width * depth**3 * passive / (2 * (load_height + depth)))

    return Spread(
        0.5 * push(friction_tangent.low),
        push(friction_tangent.likely),
        2 * push(friction_tangent.high),
    )
