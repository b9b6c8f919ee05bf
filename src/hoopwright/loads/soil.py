"""Soil pushing on the side boards, and how far they bulge."""

from collections.abc import Mapping
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import STANDARD_GRAVITY, WATER_DENSITY
from hoopwright.tables.reader import Sourced, number, table_of, text
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class SoilKind(Sourced):
    """A soil. dry, drained, soaked : [kg/m3]; friction_* : [-] tangent of its friction angle"""

    kind: Annotated[str, text()]
    dry: Annotated[float, number("kg/m3", 300, 2200)]
    drained: Annotated[float, number("kg/m3", 300, 2200)]
    soaked: Annotated[float, number("kg/m3", 300, 2300)]
    friction_low: Annotated[float, number("-", 0.2, 1)]
    friction_likely: Annotated[float, number("-", 0.2, 1)]
    friction_high: Annotated[float, number("-", 0.2, 1)]


def soil_kinds() -> Mapping[str, SoilKind]:
    """Return the soils by name."""
    return table_of(SoilKind, "loads_soil_kind", "kind")


def active_coefficient(friction_angle: ArrayLike) -> Floats:
    """Return the Rankine active coefficient Ka [-] for a friction angle [rad].

    Valid for: level soil, a smooth upright board that gives a little (about h/500 of movement).
    Source: Rankine 1857, (1 - sin) / (1 + sin). Check: 30 degrees gives 1/3, 34 gives 0.2827.
    """
    sine = np.sin(np.asarray(friction_angle, dtype=float))
    return np.asarray((1 - sine) / (1 + sine))


def at_rest_coefficient(friction_angle: ArrayLike) -> Floats:
    """Return the coefficient at rest K0 [-] for a friction angle [rad].

    For boards held so stiffly that they do not give. Source: Jaky 1944, 1 - sin.
    """
    return np.asarray(1 - np.sin(np.asarray(friction_angle, dtype=float)))


def thrust(
    depth: ArrayLike, density: float, coefficient: float, water_depth: float = 0.0
) -> Floats:
    """Return the sideways thrust [N/m of board] of level soil.

    depth : [m] of soil against the board; density : [kg/m3] bulk; coefficient : [-] Ka or K0
    water_depth : [m] of standing water in the soil, from the bottom; 0 for a drained bed

    Where water stands the grains weigh less (bulk less water) and the water pushes in full.
    Valid for: no load on top; the resultant acts at a third of the depth.
    Source: Rankine; half K gamma h^2. Check: 10 ft, 115 pcf, 30 degrees gives 1.9 kip/ft
    (worked example, secondary copy).
    """
    h = np.asarray(depth, dtype=float)
    wet = np.minimum(water_depth, h)
    dry = h - wet
    weight = STANDARD_GRAVITY * density
    buoyed = STANDARD_GRAVITY * max(density - WATER_DENSITY, 0.0)
    grains = coefficient * (weight * dry**2 / 2 + weight * dry * wet + buoyed * wet**2 / 2)
    return np.asarray(grains + STANDARD_GRAVITY * WATER_DENSITY * wet**2 / 2)


@dataclass(frozen=True)
class BoardBending:
    """A side board between two stakes. bulge : [m] at mid-span; stress : [Pa]; moment : [N m]"""

    bulge: float
    stress: float
    moment: float


def board_bending(
    line_load: float,
    span: float,
    depth: float,
    thickness: float,
    stiffness: float,
    creep: float = 1.0,
    fixed_ends: bool = False,
) -> BoardBending:
    """Return the bulge and stress of a side board on flat under an even sideways load.

    line_load : [N/m] all soil thrust, and hoop thrust spread along the board; span : [m] between
    stakes, ties or corners; depth, thickness : [m]; stiffness : [Pa] E of the wood
    creep : [-] 2 for wet or unseasoned wood under a standing load (NDS 3.5.2, from memory)
    fixed_ends : the board runs on over the stakes

    Valid for: the whole thrust on one depth of board; two boards side by side share it by I.
    Source: beam formulae, 5 w l^4 / 384 E I and w l^2 / 8 (1/384 and 1/12 with fixed ends).
    """
    second_moment = depth * thickness**3 / 12
    section_modulus = depth * thickness**2 / 6
    bow, bend = (1 / 384, 1 / 12) if fixed_ends else (5 / 384, 1 / 8)
    moment = bend * line_load * span**2
    return BoardBending(
        bulge=creep * bow * line_load * span**4 / (stiffness * second_moment),
        stress=moment / section_modulus,
        moment=moment,
    )


def side_thrust(depth: float, soil: SoilKind, stiff_board: bool = False) -> Spread:
    """Return the soil thrust on a side board [N/m] as a range.

    depth : [m]; stiff_board : the board does not give, so K0 and not Ka

    Low is drained soil of high friction, likely drained soil of likely friction, high soaked
    soil of low friction with water standing in its lower half, after a cloudburst faster than
    the bed drains at its foot (an assumption).
    Source: thrust; the choice of ends is ours.
    """
    pressure = at_rest_coefficient if stiff_board else active_coefficient
    cases = (
        (soil.drained, soil.friction_high, 0.0),
        (soil.drained, soil.friction_likely, 0.0),
        (soil.soaked, soil.friction_low, depth / 2),
    )
    low, likely, high = (
        float(thrust(depth, density, float(pressure(np.arctan(friction))), water))
        for density, friction, water in cases
    )
    return Spread(low, likely, high)
