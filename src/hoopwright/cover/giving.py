"""Film pulled tight between ends that give: the harder it pulls, the more they let it sag."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]
#: Half angles of the film's arc [rad] that are worked out, from almost flat to a half circle.
HALF_ANGLES: Floats = np.concatenate([np.geomspace(0.01, 1.0, 40), np.linspace(1.04, 1.57, 16)])
#: Halvings of how far an end comes in where something stays it: 6e-5 of it.
_HALVINGS = 14


@dataclass(frozen=True, eq=False)
class Giving:
    """Film over several equal spans between two ends that give, as its arc bends up.

    pressure : [Pa] square to the film; pull : [N/m] level, at each end
    lean : [m] of the first end; stayed : [N/m] of the pull there that a stay takes
    row : of the stiffness that a state belongs to, rising
    Only states are held that a pressure brings about.
    """

    pressure: Floats
    pull: Floats
    lean: Floats
    stayed: Floats
    row: NDArray[np.int64]

    def some(self, chosen: NDArray[Any] | slice) -> Giving:
        """Return some of the states."""
        return Giving(*(one[chosen] for one in vars(self).values()))


def giving_spans(
    span: float,
    stiffness: ArrayLike,
    spans: int,
    give: ArrayLike,
    by_pressure: tuple[ArrayLike, ArrayLike] = (0.0, 0.0),
    at_rest: ArrayLike = 0.0,
    stay: Callable[[Floats], Floats] | None = None,
) -> Giving:
    """Return the pull of film whose two ends come together under it, for each stiffness.

    span : [m] between the lines that it lies over; stiffness : [N/m] E times thickness, (rows,)
    spans : [-] in a row between the ends
    give : [m per N/m] of each end by the film's own pull; by_pressure : [m/Pa] of either end by
    what grows with the pressure beside it; at_rest : [m] of each by anything else, negative
    apart; one of each or one a row
    stay : what holds an end back for each metre that it has come in [N/m per m], (rows, states),
    never falling.
    Where by_pressure differs, the second end, which it helps less, is left unstayed.

    Each span is an arc of one radius; film slides over the lines between the ends, so that
    every span slackens alike. With half angle h and u = p span / (2 h stiffness), the balance
    of stretch and give is a quadratic in u for each h: closed but for the stay, which is halved.
    Valid for: as `elastic_span`, which this is where nothing gives.
    Source: p R = T, Hooke's law on the arc, and ends in proportion to their load; ours.
    """
    stiff, give, near, far, rest = (
        np.atleast_1d(np.asarray(one, dtype=float))[:, None]
        for one in (stiffness, give, *by_pressure, at_rest)
    )
    chord, cosine = span * np.sin(HALF_ANGLES) / HALF_ANGLES, np.cos(HALF_ANGLES)
    given, per_share = give / spans * stiff * cosine, 2 * HALF_ANGLES * stiff / span
    pulled, alike, resting = stiff * cosine, near == far, bool(rest.any())
    beside_near, beside_far = near / spans * per_share, far / spans * per_share

    def film(held: Floats | float) -> tuple[Floats, Floats]:
        """Return stress over stiffness, NaN for no state, and how far the first end comes in."""
        eased = 1 / (1 + give * held)
        other = np.where(alike, eased, 1.0)
        beside = eased * beside_near + other * beside_far
        both = eased + other
        least = span - both * (rest / spans) - chord if resting else span - chord
        both = both * given + (least + chord) + beside
        # No state is where a root has none; least below none has one that is no state.
        share = 2 * least / (both + np.sqrt(both**2 - 4 * beside * least))
        share = np.where(least > 0, share, np.nan)
        pull, pressure = pulled * (share / (1 - share)), per_share * share
        return share, eased * (give * pull + near * pressure + rest)

    with np.errstate(invalid="ignore", divide="ignore"):
        share, lean = film(0.0)
        stayed = np.zeros_like(lean)
        if stay is not None:
            low, high = np.zeros_like(lean), np.maximum(np.nan_to_num(lean), 0.0)
            for _ in range(_HALVINGS):
                middle = 0.5 * (low + high)
                share, lean = film(stay(middle))
                # No state, NaN, is no further.
                further = lean > middle
                low, high = np.where(further, middle, low), np.where(further, high, middle)
            stayed = stay(middle) * middle
        pull, pressure = pulled * (share / (1 - share)), per_share * share
    made = ~np.isnan(share)
    return Giving(pressure[made], pull[made], lean[made], stayed[made], np.nonzero(made)[0])
