"""Whether the pipe makes the bend, how narrow a bed it can cross, and how level hoops are set."""

from __future__ import annotations

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.hold import Hold
from hoopwright.tables.pipes import Pipe


def narrowest_span(pipe: Pipe, length: float, hold: Hold, strain: float) -> float | None:
    """Return the least span [m] at which this free length stays within a fibre strain [-].

    None where even an almost straight pipe is beyond it. The strain falls as the span grows,
    so the answer is found by halving.
    """
    least_radius = pipe.outside_diameter / (2 * strain)
    narrow, wide = 0.12 * length, 0.97 * length
    if bend_hoop(length, wide, hold).least_radius < least_radius:
        return None
    if bend_hoop(length, narrow, hold).least_radius >= least_radius:
        return narrow
    while wide - narrow > 1e-4 * length:
        middle = (narrow + wide) / 2
        if bend_hoop(length, middle, hold).least_radius >= least_radius:
            wide = middle
        else:
            narrow = middle
    return wide


def leg_lift(length: float, span: float, hold: Hold, drop: float) -> float:
    """Return how far to raise each leg [m] so that a crown low by `drop` [m] comes level.

    Raising both legs by e lengthens the free arc by 2e at the same span, which raises the crown
    by more than e; the slope of rise against length is taken over the small step itself.
    """
    step = max(abs(drop), 1e-3)
    now = bend_hoop(length, span, hold).rise
    longer = bend_hoop(length + step, span, hold).rise
    return drop / ((longer - now) / step) / 2
