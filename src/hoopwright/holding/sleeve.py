"""A rod in the ground with the pipe slipped over it: weight only, and the rod's own hold."""

from collections.abc import Mapping
from typing import Annotated

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.reader import Sourced, number, table_of, text
from hoopwright.tables.spread import Spread


@dataclass(frozen=True)
class SoilFriction(Sourced):
    """What soil grips a driven rod with. beta_* : [-]; adhesion_* : [Pa]"""

    soil: Annotated[str, text()]
    beta_low: Annotated[float, number("-", 0.05, 1.2)]
    beta_high: Annotated[float, number("-", 0.05, 1.2)]
    adhesion_low: Annotated[float, number("Pa", 0, 1e5)]
    adhesion_high: Annotated[float, number("Pa", 0, 1e5)]


def soil_frictions() -> Mapping[str, SoilFriction]:
    """Return the soils a rod may stand in by name."""
    return table_of(SoilFriction, "holding_soil_friction", "soil")


def sleeve_uplift(mass_on_leg: float) -> float:
    """Return the uplift [N] at which a leg leaves its rod.

    mass_on_leg : [kg] of pipe, film and rail that the leg carries

    Weight only. The friction between rod and pipe is not counted: the couple that makes it
    vanishes at a span of 0.457 of the arc, relaxes by half and shakes loose.
    Source: weight, exact; the zero is our choice.
    """
    return mass_on_leg * STANDARD_GRAVITY


def rod_pull_out(
    diameter: float,
    depth: float,
    soil: SoilFriction,
    density: float = 1700.0,
    soaked: bool = False,
    disturbed_depth: float = 0.1,
    tension_share: float = 0.7,
) -> Spread:
    """Return the pull that draws a driven rod out of the ground [N].

    diameter, depth : [m] of the rod below ground; density : [kg/m3] of the soil
    soaked : water stands to the surface, which halves the grip of the grains
    disturbed_depth : [m] at the top that dries, heaves and is dug: not counted (assumption)
    tension_share : [-] of the skin friction a pile has in compression, for pulling; 0.7

    Grains: beta times the effective overburden along the skin. Clay: adhesion besides, in the
    high end whole and in the low end its low value. Likely is the geometric mean.
    Valid for: straight smooth rods; deformed bar is a little better, loose bed mix far worse.
    Written for piles: at half a metre deep it is an order only.
    Source: beta method, FHWA NHI-05-042 (Fellenius ranges), from memory; 0.7 in tension,
    common practice for sand piles, from memory.
    """
    gripped = max(depth - disturbed_depth, 0.0)
    skin = np.pi * diameter * gripped
    effective = density - 1000.0 if soaked else density
    overburden = STANDARD_GRAVITY * effective * (disturbed_depth + depth) / 2

    def pull(beta: float, adhesion: float) -> float:
        return float(tension_share * skin * (beta * overburden + adhesion))

    low = pull(soil.beta_low, 0.0 if soaked else soil.adhesion_low)
    high = pull(soil.beta_high, soil.adhesion_high)
    return Spread(low, float(np.sqrt(low * high)), high)
