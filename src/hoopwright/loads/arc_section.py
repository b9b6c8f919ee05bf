"""The curve the wind and snow meet, and what pressures along it come to."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class ArcSection:
    """The cover's curve, at points from the windward foot over the crown to the lee foot.

    arc : [-] share of the developed length, 0 to 1, rising
    slope : [rad] steepness of the film there from level, 0 at the crown, no sign
    rise_ratio : [-] rise over span of the film's curve
    wall_ratio : [-] height of the board box below it over the span
    """

    arc: Floats
    slope: Floats
    rise_ratio: float
    wall_ratio: float = 0.0


def section_of(across: ArrayLike, up: ArrayLike, wall_height: float = 0.0) -> ArcSection:
    """Return the section of a curve given by points.

    across, up : [m] from the windward foot to the lee foot; wall_height : [m] of the box below
    """
    x, y = np.asarray(across, dtype=float), np.asarray(up, dtype=float)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    steepness = np.arctan2(np.abs(np.gradient(y, along)), np.abs(np.gradient(x, along)))
    span = abs(x[-1] - x[0])
    rise = y.max() - 0.5 * (y[0] + y[-1])
    return ArcSection(along / along[-1], steepness, float(rise / span), float(wall_height / span))


@dataclass(frozen=True)
class Resultant:
    """What a case comes to on one metre of bed at one pascal: lift up and drag to the lee [m]."""

    lift: float
    drag: float


def resultant(coefficient: ArrayLike, across: ArrayLike, up: ArrayLike) -> Resultant:
    """Return lift and drag [m] of net coefficients along a curve: times pressure, N per m of bed.

    coefficient : [-] at the points, positive inward; across, up : [m] from the windward to the
    lee foot

    Source: the sum of pressure times inward normal over the chords, exact for the polygon.
    """
    c = np.asarray(coefficient, dtype=float)
    between = 0.5 * (c[1:] + c[:-1])
    lift = -float(np.sum(between * np.diff(np.asarray(across, dtype=float))))
    drag = float(np.sum(between * np.diff(np.asarray(up, dtype=float))))
    return Resultant(lift=lift, drag=drag)
