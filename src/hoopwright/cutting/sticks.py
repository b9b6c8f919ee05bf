"""Straight pieces cut from sticks of the lengths sold and at hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.cutting.greedy import Filled, first_plan
from hoopwright.cutting.marks import metres, steps_down, steps_up
from hoopwright.cutting.stock import USUAL, CannotCut, CutPlan, CutStick, Effort, Piece, Stick


@dataclass(frozen=True)
class Job:
    """The same job in whole numbers: kinds of piece, longest first, with the kerf counted in.

    A piece with its kerf, in a stick with one kerf more, fits just when the piece itself
    with the kerfs between its neighbours does.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    pieces: tuple[tuple[Piece, ...], ...]
    capacities: tuple[int, ...]
    prices: tuple[int, ...]
    available: tuple[int | None, ...]
    kerf: int


def cut_sticks(
    pieces: Sequence[Piece],
    sticks: Sequence[Stick],
    kerf: float,
    effort: Effort = USUAL,
) -> CutPlan:
    """The cheapest way to cut `pieces` from `sticks`, with `kerf` [m] lost at each cut."""
    job = _job(pieces, sticks, kerf)
    filled = first_plan(job.sizes, job.demand, job.capacities, job.prices, job.available)
    if filled is None:
        raise CannotCut("The sticks are too few for the pieces. Add sticks of a length listed.")
    bound = _length_bound(job)
    return _plan(job, sticks, kerf, filled, bound)


def _job(pieces: Sequence[Piece], sticks: Sequence[Stick], kerf: float) -> Job:
    if kerf < 0.0:
        raise CannotCut(f"A kerf of {kerf} m is below zero. Give 0 or the saw's kerf.")
    saw = steps_up(kerf)
    kinds: dict[int, list[Piece]] = {}
    for piece in pieces:
        if piece.length <= 0.0:
            raise CannotCut(f"Piece '{piece.name}' has no length. Leave it out or give one.")
        kinds.setdefault(steps_up(piece.length) + saw, []).append(piece)
    sizes = tuple(sorted(kinds, reverse=True))
    capacities = tuple(steps_down(stick.length) + saw for stick in sticks)
    for size in sizes:
        if size > max(capacities, default=0):
            piece = kinds[size][0]
            raise CannotCut(
                f"Piece '{piece.name}' is {piece.length:.4g} m and longer than every stick. "
                f"A stick of {metres(size - saw):.4g} m or more would do, or two shorter "
                "pieces joined."
            )
    return Job(
        sizes=sizes,
        demand=tuple(len(kinds[size]) for size in sizes),
        pieces=tuple(tuple(sorted(kinds[s], key=lambda p: (p.name, p.length))) for s in sizes),
        capacities=capacities,
        prices=tuple(round(stick.price * 100) for stick in sticks),
        available=tuple(stick.available for stick in sticks),
        kerf=saw,
    )


def _length_bound(job: Job) -> int:
    """Cents that the mere length of the pieces costs, at the best price by length."""
    need = sum(n * size for n, size in zip(job.demand, job.sizes, strict=True))
    cost = 0
    for s in sorted(range(len(job.prices)), key=lambda s: job.prices[s] / job.capacities[s]):
        most = job.available[s]
        whole = need if most is None else min(need, most * job.capacities[s])
        cost += whole * job.prices[s] // job.capacities[s]
        need -= whole
    return cost


def _plan(
    job: Job, sticks: Sequence[Stick], kerf: float, filled: list[Filled], bound: int
) -> CutPlan:
    waiting = [list(reversed(kind)) for kind in job.pieces]
    cuts: list[CutStick] = []
    for s, counts in sorted(filled, key=lambda one: (one[0], [-n for n in one[1]])):
        cut = [
            waiting[i].pop() for i, n in enumerate(counts) for _ in range(min(n, len(waiting[i])))
        ]
        length = sum(n * size for n, size in zip(counts, job.sizes, strict=True))
        left = max(0, job.capacities[s] - job.kerf - length)
        cuts.append(CutStick(sticks[s], tuple(cut), metres(left)))
    cost = sum(job.prices[s] for s, _ in filled)
    proven = bound >= cost
    return CutPlan(tuple(cuts), cost / 100, min(bound, cost) / 100, proven, False, kerf)
