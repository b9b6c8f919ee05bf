"""Where the film is held: a batten it is rolled round, and the rail as ballast."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import STANDARD_GRAVITY

Floats = NDArray[np.float64]


def rolled_batten(
    turns: float, clamp: ArrayLike, friction: ArrayLike, most: float = 50.0
) -> Floats:
    """Return the pull [N/m] at which film slips off a batten it is rolled round and clamped.

    turns : [-] of film round the batten, 0.5 where it only passes over an edge
    clamp : [N/m] press of batten on board from its screws; friction : [-] film on wood
    most : [-] cap on the roll's gain: beyond it the film tears, not slips

    The clamp holds 2 mu N at the tail, the roll multiplies it by exp(mu 2 pi turns).
    Valid for: the film tearing first; always check that. Source: capstan equation (Euler),
    Coulomb; friction of film on wood is an assumption.
    """
    mu = np.asarray(friction, dtype=float)
    return np.asarray(2 * mu * clamp * np.minimum(np.exp(mu * 2 * np.pi * turns), most))


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


def batten_clamp(screw_pull: ArrayLike, screw_spacing: float, share: float = 0.3) -> Floats:
    """Return the press [N/m] of a batten on its board.

    screw_pull : [N] withdrawal strength of a screw, which bounds how hard it can be drawn down
    share : [-] of it that is left after the wood creeps (assumption); screw_spacing : [m]
    """
    return np.asarray(share * np.asarray(screw_pull) / screw_spacing)
