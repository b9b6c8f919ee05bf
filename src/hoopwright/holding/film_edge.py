"""Where the film is held: a batten it is rolled round, and the rail as ballast."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

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


def rail_ballast(mass_per_length: float, film_slope: float) -> float:
    """Return the pull along the film [N/m] that a hanging rail balances by its weight alone.

    mass_per_length : [kg/m] of rail, splices and film rolled on it; film_slope : [rad] from level
    of the film at the rail

    Its weight holds the film's pull times the sine of its slope. Strapped or tied rails hold
    more: then the strap governs. Source: equilibrium; exact.
    """
    weight = mass_per_length * STANDARD_GRAVITY
    return weight / float(np.sin(film_slope)) if film_slope > 0 else float("inf")


def rail_between_ties(
    spacing: float,
    stiffness: ArrayLike,
    strength: ArrayLike,
    turning: ArrayLike,
    rise: ArrayLike,
) -> tuple[Floats, Floats]:
    """Return the even lifts [N/m] at which a rail bows so far between two ties, and breaks.

    spacing : [m] between ties; stiffness : [N m2]; strength : [N m] of the rail in bending
    turning : [-] how far a tie and the next bay keep its ends from turning, 0 a joint, 1 clamped
    rise : [m] that it bows by

    End moments of turning w L^2 / 12: sag (5 - 4 turning) w L^4 / 384 EI, greatest moment w L^2
    times the greater of turning / 12 and 1/8 - turning / 12. That the film slackens as the rail
    gives way to it is left out, on the safe side. Valid for: bows to about a fifth of the spacing.
    Source: beam under an even load; exact for a small bow. Check: 5/384 and 1/8, 1/384 and 1/12.
    """
    turn = np.clip(np.asarray(turning, dtype=float), 0.0, 1.0)
    bows = 384 * np.asarray(stiffness) * np.asarray(rise) / ((5 - 4 * turn) * spacing**4)
    breaks = np.asarray(strength) / (spacing**2 * np.maximum(turn / 12, 1 / 8 - turn / 12))
    return np.asarray(bows), np.asarray(breaks)


def batten_clamp(screw_pull: ArrayLike, screw_spacing: float, share: float = 0.3) -> Floats:
    """Return the press [N/m] of a batten on its board.

    screw_pull : [N] withdrawal strength of a screw, which bounds how hard it can be drawn down
    share : [-] of it that is left after the wood creeps (assumption); screw_spacing : [m]
    """
    return np.asarray(share * np.asarray(screw_pull) / screw_spacing)
