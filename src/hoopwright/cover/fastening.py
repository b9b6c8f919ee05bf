"""Clips on the hoops and screws in the battens: how many, and where."""

from __future__ import annotations

import math


def evenly(length: float, greatest: float, end: float) -> tuple[float, ...]:
    """Return positions [m] along a length, the first and last `end` from its ends.

    length, end : [m]
    greatest    : [m] the widest gap allowed
    """
    run = length - 2 * end
    if run <= 0:
        return (length / 2,)
    gaps = max(1, math.ceil(run / greatest - 1e-6))
    return tuple(end + run * index / gaps for index in range(gaps + 1))


#: Screws of a batten: no further apart, and the outer ones so far from its ends [m] (common
#: practice, no source).
BATTEN_SCREW_GREATEST, BATTEN_SCREW_END = 0.4572, 0.0762


def batten_holes(length: float) -> tuple[float, ...]:
    """Return where the screws of one batten go [m from its end]: at least three, evenly.

    Three in a 3 ft batten is common practice, no source.
    """
    places = evenly(length, BATTEN_SCREW_GREATEST, BATTEN_SCREW_END)
    if len(places) >= 3:
        return places
    return BATTEN_SCREW_END, length / 2, length - BATTEN_SCREW_END


def batten_screws(length: float) -> int:
    """Return the screws in one batten."""
    return len(batten_holes(length))


def clip_positions(arc: float, greatest: float, clip_length: float) -> tuple[float, ...]:
    """Return where clips sit along a hoop's arc from board top to board top [m]."""
    return evenly(arc, greatest, clip_length)


def batten_lengths(length: float, longest: float) -> tuple[float, ...]:
    """Return equal battens that cover a run [m], none longer than `longest` [m]."""
    number = max(1, math.ceil(length / longest - 1e-6))
    return (length / number,) * number
