"""A first plan in no time: longest first, into the tightest place. Every search starts here."""

from __future__ import annotations

from collections.abc import Sequence

Filled = tuple[int, tuple[int, ...]]
"""A stock's number and how many of each kind are cut from one of it."""


def first_plan(
    sizes: Sequence[int],
    demand: Sequence[int],
    capacities: Sequence[int],
    prices: Sequence[int],
    available: Sequence[int | None],
) -> list[Filled] | None:
    """The cheapest of several longest-first plans, or None if none of them finds room.

    Sizes and capacities are in any one unit, kerf already counted in. Free stock is filled
    before any is bought; each way of buying one main stock is tried; afterwards every stick
    is swapped for the cheapest that still holds what is cut from it.
    """
    best: list[Filled] | None = None
    best_cost: tuple[int, int, int] | None = None
    for main in range(len(capacities)):
        filled = _fill(sizes, demand, capacities, prices, available, main)
        if filled is None:
            continue
        filled = _swap_down(sizes, capacities, prices, available, filled)
        cost = (
            sum(prices[s] for s, _ in filled),
            len(filled),
            sum(capacities[s] for s, _ in filled),
        )
        if best_cost is None or cost < best_cost:
            best, best_cost = filled, cost
    return best


def _fill(
    sizes: Sequence[int],
    demand: Sequence[int],
    capacities: Sequence[int],
    prices: Sequence[int],
    available: Sequence[int | None],
    main: int,
) -> list[Filled] | None:
    """Longest first into the tightest open stick; else a free one; else the main one."""
    order = sorted(range(len(sizes)), key=lambda i: (-sizes[i], i))
    stock_order = sorted(
        range(len(capacities)),
        key=lambda s: (prices[s] > 0, s != main, prices[s], capacities[s], s),
    )
    used = [0] * len(capacities)
    open_sticks: list[tuple[int, int, list[int]]] = []
    for i in order:
        for _ in range(demand[i]):
            at = min(
                (k for k, (_, room, _) in enumerate(open_sticks) if room >= sizes[i]),
                key=lambda k: (open_sticks[k][1], k),
                default=None,
            )
            if at is None:
                new = next(
                    (
                        s
                        for s in stock_order
                        if capacities[s] >= sizes[i] and _some_left(available[s], used[s])
                    ),
                    None,
                )
                if new is None:
                    return None
                used[new] += 1
                at = len(open_sticks)
                open_sticks.append((new, capacities[new], [0] * len(sizes)))
            stock, room, counts = open_sticks[at]
            counts[i] += 1
            open_sticks[at] = (stock, room - sizes[i], counts)
    return [(stock, tuple(counts)) for stock, _, counts in open_sticks]


def _swap_down(
    sizes: Sequence[int],
    capacities: Sequence[int],
    prices: Sequence[int],
    available: Sequence[int | None],
    filled: list[Filled],
) -> list[Filled]:
    """Move each stick's pieces to a cheaper, else shorter, stock that still holds them."""
    used = [0] * len(capacities)
    for s, _ in filled:
        used[s] += 1
    swapped: list[Filled] = []
    for s, counts in filled:
        length = sum(n * size for n, size in zip(counts, sizes, strict=True))
        used[s] -= 1
        best = min(
            (
                t
                for t in range(len(capacities))
                if capacities[t] >= length and _some_left(available[t], used[t])
            ),
            key=lambda t: (prices[t], capacities[t], t),
        )
        used[best] += 1
        swapped.append((best, counts))
    return swapped


def _some_left(available: int | None, used: int) -> bool:
    return available is None or used < available
