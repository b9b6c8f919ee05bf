"""Clips on the hoops, screws in the battens and the pieces of a rail: how many, and where."""

import math
from collections.abc import Sequence


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


def rail_pieces(
    length: float,
    stock_length: float,
    hoops: Sequence[float],
    *,
    clear: float = 0.1016,
    least_piece: float = 0.3048,
    mirrored: bool = False,
) -> tuple[float, ...]:
    """Return the pieces of one rail [m], in order from the first board end.

    length       : [m] of the rail
    stock_length : [m] of the longest stick sold
    hoops        : [m] hoop stations measured from the rail's own start
    clear        : [m] a splice keeps from any hoop, so that the joint does not ride on the pipe
    least_piece  : [m] shortest piece worth splicing on
    mirrored     : True builds it from the other end, so that the joints of the two sides of a
                   bed do not face each other
    Source of clear and least_piece: common practice, no source.
    """
    if mirrored:
        turned = [length - mark for mark in hoops]
        other = rail_pieces(length, stock_length, turned, clear=clear, least_piece=least_piece)
        return tuple(reversed(other))
    pieces: list[float] = []
    start = 0.0
    while length - start > stock_length + 1e-9:
        joint = min(start + stock_length, length - least_piece)
        joint = _off_the_hoops(joint, start + least_piece, hoops, clear)
        pieces.append(joint - start)
        start = joint
    pieces.append(length - start)
    return tuple(pieces)


def _off_the_hoops(joint: float, least: float, hoops: Sequence[float], clear: float) -> float:
    """Move a joint back until it is clear of every hoop; keep it where there is no room."""
    moved = joint
    for hoop in sorted(hoops, reverse=True):
        if abs(moved - hoop) < clear:
            moved = hoop - clear
    return moved if moved >= least else joint
