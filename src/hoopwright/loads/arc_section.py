"""The curve the wind and snow meet, and what pressures along it come to."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]

STEEP = float(np.radians(60.0))
"""From this slope [rad] a leg is also tried as a wall: an assumption; codes draw no line."""


@dataclass(frozen=True)
class ArcSection:
    """The cover's curve, at points from the windward foot over the crown to the lee foot.

    arc : [-] share of the developed length, 0 to 1, rising
    slope : [rad] steepness of the film there from level, 0 at the crown, no sign
    rise_ratio : [-] rise over span of the film's curve
    wall_ratio : [-] height of the board box below it over the span
    wall : [-] 1 where the windward leg is as steep as a wall, else 0; where that ends inside a
    panel of the beam's points, the values there that come to the same force and moments
    """

    arc: Floats
    slope: Floats
    rise_ratio: float
    wall_ratio: float
    wall: Floats


def steep_share(share: ArrayLike, slope: ArrayLike) -> float:
    """Return the share of the arc from a foot on which the slope is STEEP at least [-].

    share : [-] rising from 0 at the foot; slope : [rad] falling to the crown
    """
    at, steep = np.asarray(share, dtype=float), np.asarray(slope, dtype=float)
    near = at <= 0.5
    if steep[0] < STEEP:
        return 0.0
    return float(np.interp(-STEEP, -steep[near], at[near]))


@dataclass(frozen=True)
class Resultant:
    """What a case comes to on one metre of bed at one pascal.

    lift : [m] up; drag : [m] to the lee; tipping : [m2] about the lee toe
    """

    lift: float
    drag: float
    tipping: float


def resultant(
    coefficient: ArrayLike,
    weight: ArrayLike,
    angle: ArrayLike,
    across: ArrayLike,
    up: ArrayLike,
    toe: float = 0.0,
) -> Resultant:
    """Return what net coefficients along a curve come to: times pressure, N or N m per m of bed.

    coefficient : [-] at the points, positive inward; weight : [m] of arc that each stands for
    angle : [rad] of the curve there, from the windward foot; across, up : [m] places, up from
    the ground; toe : [m] place of the lee toe, about which the tipping is taken

    Source: the sum of pressure times inward normal, and of its moment; as exact as the weights.
    """
    push = np.asarray(coefficient, dtype=float) * np.asarray(weight, dtype=float)
    to_lee, upward = push * np.sin(angle), -push * np.cos(angle)
    arm = toe - np.asarray(across, dtype=float)
    return Resultant(
        lift=float(upward.sum()),
        drag=float(to_lee.sum()),
        tipping=float((to_lee * np.asarray(up, dtype=float) + upward * arm).sum()),
    )
