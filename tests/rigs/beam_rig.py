"""Rods and loads that no door asks for, built on the solver that they all use: for its tests."""

from __future__ import annotations

import numpy as np

from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import Load, load
from hoopwright.beam.panels import Array
from hoopwright.beam.slender import (
    END_ANGLE,
    END_MOMENT,
    END_X,
    END_Y,
    FORCE_X,
    FORCE_Y,
    START_ANGLE,
    START_MOMENT,
    UNKNOWN_ENDS,
    BentRod,
    _rule,
    bend,
    starting_guess,
)

#: A foot that cannot turn: the bound that two straps approach as they come close.
CLAMPED = Hold(turning=False)


def point_load(frame: HoopFrame, share: float, down: float = 0.0, across: float = 0.0) -> Load:
    """A dead load [N] at a break of the frame, given as a share of the arc."""
    none = load(frame)
    index = frame.station(share)
    none.point_down[index] = down
    none.point_across[index] = across
    return none


def _rows(*bound: tuple[int, float]) -> tuple[Array, Array]:
    conditions, targets = np.zeros((len(bound), 8)), np.zeros(len(bound))
    for row, (which, value) in enumerate(bound):
        conditions[row, which] = 1.0
        targets[row] = value
    return conditions, targets


def cantilever_tip(load: float, points: int = 32) -> tuple[float, float, float]:
    """Tip of a cantilever under a dead load across it: (drop / length, draw-in / length, slope).

    load: P length^2 / EI [-], 0 to about 50. Slope in [rad]. Published values: Bisshopp and Drucker
    (1945), Mattiasson (1981); see tests/published.
    """
    rule = _rule(points)[0]
    rod: BentRod | None = None
    guess = starting_guess(-0.2 * rule.points, 0.0)
    for share in np.linspace(0.0, 1.0, 2 + int(abs(load) / 2.0))[1:]:
        bound = _rows(
            (START_ANGLE, 0.0), (END_MOMENT, 0.0), (FORCE_X, 0.0), (FORCE_Y, -load * share)
        )
        rod = bend(guess, *bound)
        if rod is None:
            raise ValueError(f"no equilibrium found for a cantilever load of {load:g}")
        guess = np.concatenate([rod.angle, rod.ends[list(UNKNOWN_ENDS)]])
    assert rod is not None
    return -rod.value(END_Y), 1.0 - rod.value(END_X), -rod.value(END_ANGLE)


def strut_after_buckling(end_slope: float, points: int = 32) -> tuple[float, float, float]:
    """A strut, clamped at its base, past its Euler load: (load / Euler load, height, sideways).

    end_slope: angle of the free end from the line of the load [rad], up to about 3. Height and
    sideways place of the free end over the length. Published values: Timoshenko and Gere, Theory of
    Elastic Stability, table 2-4; see tests/published.
    """
    rule = _rule(points)[0]
    guess = starting_guess(end_slope * np.cos(np.pi / 2.0 * rule.points), end_slope)
    rod = bend(
        guess,
        *_rows((START_ANGLE, end_slope), (START_MOMENT, 0.0), (END_ANGLE, 0.0), (FORCE_Y, 0.0)),
    )
    if rod is None:
        raise ValueError(f"no equilibrium found for an end slope of {end_slope:g} rad")
    euler = np.pi**2 / 4.0
    return -rod.value(FORCE_X) / euler, rod.value(END_X), rod.value(END_Y)
