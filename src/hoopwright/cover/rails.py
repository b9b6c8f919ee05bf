"""Roll-up rails: spliced from stock so that no joint lies on a hoop."""

from __future__ import annotations

from collections.abc import Sequence


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
