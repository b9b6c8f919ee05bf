"""A first plan in no time: longest first, into the tightest place. Every search starts here."""

from collections.abc import Sequence

from hoopwright.frozen import dataclass

Filled = tuple[int, tuple[int, ...]]
"""A stock's number and how many of each kind are cut from one of it."""


def total(counts: Sequence[int], sizes: Sequence[int]) -> int:
    """Return what so many of each come to, by length or worth or price of one."""
    return sum(n * size for n, size in zip(counts, sizes, strict=True))


@dataclass(frozen=True)
class StickJob:
    """The job in whole numbers: kinds of piece, longest first, with the kerf counted in.

    A piece with its kerf, in a stick with one kerf more, fits just when the piece itself
    with the kerfs between its neighbours does. Prices are in cents.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    capacities: tuple[int, ...]
    prices: tuple[int, ...]
    available: tuple[int | None, ...]

    def some_left(self, s: int, used: int) -> bool:
        """Return whether there is a stick of a stock beyond those used."""
        most = self.available[s]
        return most is None or used < most


def first_plan(job: StickJob) -> list[Filled] | None:
    """The cheapest of several longest-first plans, or None if none of them finds room.

    Free stock is filled before any is bought; each way of buying one main stock is tried;
    afterwards every stick is swapped for the cheapest that still holds what is cut from it.
    """
    plans = [_fill(job, main) for main in range(len(job.capacities))]
    return min(
        (_swap_down(job, plan) for plan in plans if plan is not None),
        key=lambda plan: (
            sum(job.prices[s] for s, _ in plan),
            len(plan),
            sum(job.capacities[s] for s, _ in plan),
        ),
        default=None,
    )


def _fill(job: StickJob, main: int) -> list[Filled] | None:
    """Longest first into the tightest open stick; else a free one; else the main one."""
    sizes, capacities, prices = job.sizes, job.capacities, job.prices
    order = sorted(range(len(sizes)), key=lambda i: (-sizes[i], i))
    stock_order = sorted(
        range(len(capacities)),
        key=lambda s: (prices[s] > 0, s != main, prices[s], capacities[s], s),
    )
    used = [0] * len(capacities)
    open_sticks: list[tuple[int, int, list[int]]] = []
    for i in order:
        fits = [s for s in stock_order if capacities[s] >= sizes[i]]
        for _ in range(job.demand[i]):
            at = min(
                (k for k, (_, room, _) in enumerate(open_sticks) if room >= sizes[i]),
                key=lambda k: (open_sticks[k][1], k),
                default=None,
            )
            if at is None:
                new = next((s for s in fits if job.some_left(s, used[s])), None)
                if new is None:
                    return None
                used[new] += 1
                at = len(open_sticks)
                open_sticks.append((new, capacities[new], [0] * len(sizes)))
            stock, room, counts = open_sticks[at]
            counts[i] += 1
            open_sticks[at] = (stock, room - sizes[i], counts)
    return [(stock, tuple(counts)) for stock, _, counts in open_sticks]


def _swap_down(job: StickJob, filled: list[Filled]) -> list[Filled]:
    """Move each stick's pieces to a cheaper, else shorter, stock that still holds them."""
    capacities = job.capacities
    used = [0] * len(capacities)
    for s, _ in filled:
        used[s] += 1
    swapped: list[Filled] = []
    for s, counts in filled:
        length = total(counts, job.sizes)
        used[s] -= 1
        best = min(
            (
                t
                for t in range(len(capacities))
                if capacities[t] >= length and job.some_left(t, used[t])
            ),
            key=lambda t: (job.prices[t], capacities[t], t),
        )
        used[best] += 1
        swapped.append((best, counts))
    return swapped
