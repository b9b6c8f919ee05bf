"""Counts rounded up to packs: the cheapest set of packs that holds enough."""

from collections.abc import Sequence

from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Pack:
    """A pack as sold: how many are in it, and its price."""

    count: int
    price: float


def cheapest_packs(needed: int, packs: Sequence[Pack]) -> tuple[tuple[Pack, int], ...]:
    """Return the packs to buy and how many of each.

    Least cost first, then fewest left over, then fewest packs; exact, by the usual table over
    every count up to `needed`. Raises ValueError where there are no packs.
    """
    if needed <= 0:
        return ()
    if not packs:
        raise ValueError("no pack is listed")
    # best[n]: (cost in cents, things bought, packs bought, last pack) that hold n or more
    best: list[tuple[int, int, int, Pack | None]] = [(0, 0, 0, None)]
    for count in range(1, needed + 1):
        options = []
        for pack in packs:
            before = best[max(0, count - pack.count)]
            cents = round(pack.price * 100)
            options.append((before[0] + cents, before[1] + pack.count, before[2] + 1, pack))
        best.append(min(options, key=lambda option: option[:3]))
    chosen: dict[Pack, int] = {}
    left = needed
    while left > 0:
        last = best[left][3]
        assert last is not None
        chosen[last] = chosen.get(last, 0) + 1
        left -= last.count
    return tuple(sorted(chosen.items(), key=lambda item: -item[0].count))
