"""Whether the pipe makes the bend, how narrow a bed it can cross, and how level hoops are set."""

from __future__ import annotations

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.hold import Hold
from hoopwright.tables.pipes import Pipe


def narrowest_span(pipe: Pipe, length: float, hold: Hold, strain: float) -> float | None:
    """Return the least span [m] at which this free length stays within a fibre strain [-].

    None where no span is gentle enough. Narrow spans bend the crown; wide ones, where the feet are
    held upright, the feet: so spans are tried from narrow to wide, and the first that will do is
    closed in on by halving.
    """
    least_radius = pipe.outside_diameter / (2 * strain)

    def gentle(span: float) -> bool:
        return bend_hoop(length, span, hold).least_radius >= least_radius

    spans = [length * share / 100 for share in range(12, 98, 2)]
    wide = next((span for span in spans if gentle(span)), None)
    if wide is None or wide == spans[0]:
        return wide
    narrow = wide - 0.02 * length
    while wide - narrow > 1e-4 * length:
        middle = (narrow + wide) / 2
        if gentle(middle):
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
