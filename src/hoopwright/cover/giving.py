"""Film pulled tight between ends that give: the harder it pulls, the more they let it sag."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]
#: Half angles of the film's arc [rad] that are worked out, from almost flat to a half circle.
HALF_ANGLES: Floats = np.concatenate([np.geomspace(0.01, 1.0, 40), np.linspace(1.04, 1.57, 16)])


@dataclass(frozen=True)
class Giving:
    """Film over several equal spans between two ends that give, as its arc bends up.

    pressure : [Pa] square to the film; pull : [N/m] level, at each end
    Only states are held that a pressure brings about.
    """

    pressure: Floats
    pull: Floats


def giving_span(
    span: float,
    stiffness: float,
    spans: int,
    give: float,
    give_by_pressure: float = 0.0,
    give_at_rest: float = 0.0,
) -> Giving:
    """Return the pull of film whose two ends come together under it.

    span : [m] between the lines that it lies over; stiffness : [N/m] E times thickness
    spans : [-] in a row between the ends
    give : [m per N/m] both ends together by the film's own pull; give_by_pressure : [m/Pa] by
    what grows with the pressure beside it; give_at_rest : [m] by anything else, negative apart

    Each span is an arc of one radius; film slides over the lines between the ends, so that
    every span slackens alike. With half angle h and u = p span / (2 h stiffness), the balance
    of stretch and give is a quadratic in u for each h: closed, no iteration.
    Valid for: as `elastic_span`, which this is where nothing gives.
    Source: p R = T, Hooke's law on the arc, and ends in proportion to their load; ours.
    """
    half = HALF_ANGLES
    room = span - give_at_rest / spans
    beside = give_by_pressure / spans * 2 * half * stiffness / span
    least = room - span * np.sin(half) / half
    sum_of_both = room + give / spans * stiffness * np.cos(half) + beside
    under = sum_of_both**2 - 4 * beside * least
    made = (least > 0) & (under >= 0)
    half, beside, least = half[made], beside[made], least[made]
    share = 2 * least / (sum_of_both[made] + np.sqrt(under[made]))
    tension = stiffness * share / (1 - share)
    return Giving(2 * half * stiffness * share / span, tension * np.cos(half))
