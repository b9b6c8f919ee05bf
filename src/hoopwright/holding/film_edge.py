"""Where the film is held: batten roll, screws through film, clips, and the rail as ballast."""

from dataclasses import dataclass

import numpy as np

from hoopwright.holding.grip import forces, shares
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread


def rolled_batten(
    turns: float, clamp: float, friction: Spread | None = None, most: float = 50.0
) -> Spread:
    """Return the pull [N/m] at which film slips off a batten it is rolled round and clamped.

    turns : [-] of film round the batten, 0.5 where it only passes over an edge
    clamp : [N/m] press of batten on board from its screws; friction : [-] film on wood
    most : [-] cap on the roll's gain: beyond it the film tears, not slips

    The clamp holds 2 mu N at the tail, the roll multiplies it by exp(mu 2 pi turns).
    Valid for: the film tearing first; always check film_tear. Source: capstan equation (Euler),
    Coulomb; friction of film on wood is an assumption.
    """
    friction = friction or shares()["film on wood"].value

    def pull(mu: float) -> float:
        return float(2 * mu * clamp * min(np.exp(mu * 2 * np.pi * turns), most))

    return Spread(pull(friction.low), pull(friction.likely), pull(friction.high))


def film_tear(thickness: float, yield_stress: Spread, break_stress: Spread) -> Spread:
    """Return the pull [N/m] at which a clean edge of film gives.

    thickness : [m]; yield_stress, break_stress : [Pa]. Low is first yield, likely the likely
    yield, high the break: film stretches several times its length between them.
    Source: stress times thickness.
    """
    return Spread(
        yield_stress.low * thickness,
        yield_stress.likely * thickness,
        max(break_stress.high, yield_stress.likely) * thickness,
    )


def tear_at_screws(
    thickness: float,
    screw_spacing: float,
    bearing_width: float,
    edge: float,
    yield_stress: Spread,
    break_stress: Spread,
) -> Spread:
    """Return the pull [N/m] at which film tears out at screws that alone hold it.

    thickness, screw_spacing : [m]; bearing_width : [m] of shank, washer or batten pressing the
    film; edge : [m] of film beyond the screw; stresses : [Pa]

    Low: yield of the film in front of the bearing width. Likely: two strips to the edge in shear
    (0.58 of yield) besides, at most the clean edge. High: the same at break.
    Valid for: film not clamped; a batten drawn tight shares the pull between the screws, then
    the clean edge governs (rolled_batten). Source: bearing and tear-out, von Mises; the
    likely sum is an assumption.
    """

    def pull(stress: float, strips: float) -> float:
        out = stress * thickness * (bearing_width + strips * 2 * edge * 0.58)
        return min(out / screw_spacing, stress * thickness)

    low = pull(yield_stress.low, 0.0)
    likely = max(pull(yield_stress.likely, 1.0), low)
    return Spread(low, likely, max(pull(break_stress.high, 1.0), likely))


def clip_grip(clip_spacing: float, one_clip: Spread | None = None) -> Spread:
    """Return the pull [N/m] at which snap clips on a pipe let the film go.

    clip_spacing : [m]; one_clip : [N] pull of one, from a person's own test where known

    Source: none found; the default is an assumption and wide. Old film, dust, dew and cold loosen
    a clip.
    """
    one = one_clip or forces()["snap clamp for film"].value
    return one.scaled(1 / clip_spacing)


@dataclass(frozen=True)
class RailHold:
    """A rail at the film's lower edge.

    hold : [N/m] pull along the film that it balances by weight alone
    lifts_at : [Pa] suction at which it leaves the board, given the radius of the film
    """

    hold: float
    lifts_at: float


def rail_ballast(mass_per_length: float, film_radius: float, film_slope: float) -> RailHold:
    """Return what the rail does as ballast.

    mass_per_length : [kg/m] of rail, splices and film rolled on it; film_radius : [m] of the
    curve that suction pulls from it; film_slope : [rad] from level of the film at the rail

    A rail hangs: its weight holds the film's pull times the sine of its slope. It lifts when
    suction times radius reaches that. Strapped or tied rails hold more: then the strap governs.
    Source: equilibrium, p R; exact.
    """
    weight = mass_per_length * STANDARD_GRAVITY
    hold = weight / float(np.sin(film_slope)) if film_slope > 0 else float("inf")
    return RailHold(hold=hold, lifts_at=hold / film_radius)


def batten_clamp(screw_pull: float, screw_spacing: float, share: float = 0.3) -> float:
    """Return the press [N/m] of a batten on its board.

    screw_pull : [N] withdrawal strength of a screw, which bounds how hard it can be drawn down
    share : [-] of it that is left after the wood creeps (assumption); screw_spacing : [m]
    """
    return share * screw_pull / screw_spacing
