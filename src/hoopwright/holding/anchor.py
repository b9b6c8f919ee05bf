"""The whole bed in the wind: does it lift, tip over or slide, and do its corners hold?"""

from dataclasses import dataclass

import numpy as np

from hoopwright.holding.grip import shares
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread, exactly

NOTHING = exactly(0.0)


@dataclass(frozen=True)
class Ballast:
    """What keeps a bed down.

    frame_mass : [kg] of boards, hoops and cover
    soil_mass : [kg] of soil in the bed, in the state looked at (dry, wet, 0 empty)
    tied_to_soil : the lower edges are tied across under the soil, or a mesh floor is stapled to
    them; a bare frame lifts off its own soil like a lid. Stakes do not tie it to its soil: they
    hold by their own pull-out
    stake_pull_out : [N] all stakes together; stake_side : [N] all stakes together, sideways
    """

    frame_mass: float
    soil_mass: float
    tied_to_soil: bool
    stake_pull_out: Spread = NOTHING
    stake_side: Spread = NOTHING

    @property
    def weight(self) -> float:
        """Return the weight [N] that resists uplift without stakes."""
        held = self.frame_mass + (self.soil_mass if self.tied_to_soil else 0.0)
        return held * STANDARD_GRAVITY


def lift_capacity(ballast: Ballast, soil_spread: float = 0.15) -> Spread:
    """Return the uplift [N] at which the bed leaves the ground.

    soil_spread : [-] doubt on the soil's weight (assumption)

    Tied to its soil, the bed lifts at its weight, or at frame and stakes where these hold more.
    Source: equilibrium, exact; nothing is granted for soil sticking to the boards.
    """
    frame = ballast.frame_mass * STANDARD_GRAVITY
    soil = ballast.weight - frame
    staked = exactly(frame).plus(ballast.stake_pull_out)
    weighed = Spread(
        frame + (1 - soil_spread) * soil, frame + soil, frame + (1 + soil_spread) * soil
    )
    return Spread(
        max(staked.low, weighed.low),
        max(staked.likely, weighed.likely),
        max(staked.high, weighed.high),
    )


def overturning_share(
    uplift: float, drag: float, drag_height: float, width: float, capacity: float
) -> float:
    """Return overturning over resisting moment about the lee edge [-]; 1 tips the bed.

    uplift, drag : [N] on the whole bed; drag_height : [m] of the drag above the ground
    width : [m] of the bed across the wind; capacity : [N] from lift_capacity, which is taken to
    act at mid-width

    Source: equilibrium about the lee edge: drag times height and uplift times half the width
    against the weight times half the width.
    """
    return (drag * drag_height + uplift * width / 2) / (capacity * width / 2)


def slide_capacity(ballast: Ballast, uplift: float, friction: Spread | None = None) -> Spread:
    """Return the drag [N] at which the bed slides, with an uplift [N] already on it.

    friction : [-] of boards and soil on the ground, 0.3 to 0.7

    Valid for: the soil pushes along with the boards, which it does where the bed is full.
    Stakes add their sideways hold. Source: Coulomb; friction is common practice, no source.
    """
    friction = friction or shares()["board on soil"].value
    pressing = (ballast.frame_mass + ballast.soil_mass) * STANDARD_GRAVITY
    left = max(pressing - uplift, 0.0)
    return friction.scaled(left).plus(ballast.stake_side)


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


def corner_pull(line_load: float, tie_spacing: float) -> float:
    """Return the force [N] that parts an end board's corner from a side board.

    line_load : [N/m] sideways thrust of soil and hoops on the side; tie_spacing : [m] from the
    corner to the first stake or cross-tie (the bed's length where there is none)

    Source: half the span's load goes to each end, exact for a simple beam.
    """
    return line_load * tie_spacing / 2


def corner_capacity(
    screws: int, one_screw: Spread, into_end_grain: bool, end_grain_share: float = 0.67
) -> Spread:
    """Return what a corner bears against being parted [N].

    screws : [-] in the corner; one_screw : [N] withdrawal of one where it sits in side grain (a
    corner post), lateral where it sits in end grain and the force is sideways to it

    Where the screws run through the side board into the end board's end grain, thrust pulls
    straight at them: NDS grants no withdrawal there. The low end is then nothing; likely and
    high are end_grain_share of the side-grain value, as tests of end grain show about two thirds
    to three quarters (Wood Handbook, from memory).
    Source: NDS 2018 12.2.1.5 and 12.5.2, from memory.
    """
    side_grain = one_screw.scaled(float(screws))
    if not into_end_grain:
        return side_grain
    share = end_grain_share
    return Spread(0.0, share * side_grain.likely, share * side_grain.high)


def tie_tension(hoop_thrust: float, soil_line_load: float, spacing: float) -> float:
    """Return the tension [N] of a cross-tie at the top of the boards.

    hoop_thrust : [N] of a hoop at the tie, outward positive; soil_line_load : [N/m] that the tie
    takes (a third of the soil's thrust acts at the top of a board held at both edges)
    spacing : [m] of the ties. Source: equilibrium; the third is the reaction of a triangle.
    """
    return hoop_thrust + soil_line_load / 3 * spacing
