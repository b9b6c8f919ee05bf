"""Loads on one hoop: dead weight, pressure that turns with the pipe, and loads at a point."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.panels import Array, values_and_integrals
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Load:
    """A load, or a batch of loads with a first axis of cases, on one hoop.

    down, across: dead load per metre of arc, downward and to the right [N/m], at the frame's `arc`.
    pressure: follower load per metre of arc, normal to the pipe, inward positive [N/m].
    point_down, point_across: dead loads [N] at the frame's `stations`; those at the feet are taken
    by the feet and change nothing here.
    """

    down: Array
    across: Array
    pressure: Array
    point_down: Array
    point_across: Array

    def __add__(self, other: Load) -> Load:
        return Load(
            self.down + other.down,
            self.across + other.across,
            self.pressure + other.pressure,
            self.point_down + other.point_down,
            self.point_across + other.point_across,
        )

    def __mul__(self, share: float) -> Load:
        return Load(
            self.down * share,
            self.across * share,
            self.pressure * share,
            self.point_down * share,
            self.point_across * share,
        )

    __rmul__ = __mul__

    @property
    def cases(self) -> int:
        """How many loads the batch holds (1 for a single load)."""
        return 1 if self.down.ndim == 1 else self.down.shape[0]


def load(
    frame: HoopFrame,
    down: ArrayLike = 0.0,
    across: ArrayLike = 0.0,
    pressure: ArrayLike = 0.0,
    on_plan: ArrayLike = 0.0,
) -> Load:
    """A spread load, each a number or an array at the frame's `arc` [N/m].

    on_plan: dead load per metre of plan (snow), frozen on the unloaded shape.
    """
    size = frame.arc.size
    weight = np.asarray(down, dtype=float) + np.asarray(on_plan, dtype=float) * frame.plan_share

    def spread(value: ArrayLike) -> Array:
        return np.asarray(np.zeros(size) + np.asarray(value), dtype=float)

    at_stations = frame.stations.size
    return Load(
        spread(weight),
        spread(across),
        spread(pressure),
        np.zeros(at_stations),
        np.zeros(at_stations),
    )


def between(frame: HoopFrame, start: float, end: float) -> Array:
    """1 at points between two shares of the arc, else 0, exact where both are breaks.

    Where one lies inside a panel, the points there hold the polynomial nearest to the jump in the
    mean of squares: its integral and moments up to the panel's order are the jump's own.
    """
    rule = frame.rule
    degree = np.arange(rule.points_each)
    share = rule.points
    inside = ((share > start) & (share < end)).astype(float)
    for panel, (low, high) in enumerate(pairwise(rule.edges)):
        ends = 2.0 * (np.clip([start, end], low, high) - low) / (high - low) - 1.0
        if np.ptp(ends) in (0.0, 2.0):
            continue
        here = slice(panel * rule.points_each, (panel + 1) * rule.points_each)
        local = 2.0 * (share[here] - low) / (high - low) - 1.0
        _, integrals = values_and_integrals(ends, rule.points_each)
        values, _ = values_and_integrals(local, rule.points_each)
        inside[here] = values @ ((degree + 0.5) * (integrals[1] - integrals[0]))
    return inside


def stack(loads: list[Load]) -> Load:
    """Several loads as one batch."""
    return Load(
        np.stack([one.down for one in loads]),
        np.stack([one.across for one in loads]),
        np.stack([one.pressure for one in loads]),
        np.stack([one.point_down for one in loads]),
        np.stack([one.point_across for one in loads]),
    )
