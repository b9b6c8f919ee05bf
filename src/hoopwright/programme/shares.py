"""Who pays what of a shared order: each bed in the measure of what it would have paid alone."""

from collections.abc import Mapping

from hoopwright.frozen import dataclass
from hoopwright.programme.bulk_order import BulkOrder


@dataclass(frozen=True)
class BedShare:
    """What one bed pays [currency]: its share of the class order, and what it would pay alone."""

    letter: str
    pays: float
    alone: float

    @property
    def saves(self) -> float:
        """Return what the class saves this household."""
        return self.alone - self.pays


def shares_of(bulk: BulkOrder) -> tuple[BedShare, ...]:
    """Return each bed's share of the order, in whole cents that add up to it exactly.

    Of each thing a bed pays in proportion to what it would have paid for it alone. So whoever
    would need little pays little, and nobody pays more than alone, but for a cent of rounding.
    """
    totals: dict[str, float] = {}
    for line in bulk.order.lines:
        totals[line.thing] = totals.get(line.thing, 0.0) + line.total
    exact = dict.fromkeys(bulk.alone, 0.0)
    for thing, total in totals.items():
        weights = {letter: things.get(thing, 0.0) for letter, things in bulk.alone.items()}
        whole = sum(weights.values())
        if whole <= 0.0:
            users = [letter for letter, things in bulk.alone.items() if thing in things]
            weights, whole = dict.fromkeys(users, 1.0), float(len(users) or 1)
        for letter, weight in weights.items():
            exact[letter] += total * weight / whole
    cents = _in_cents(exact, round(bulk.order.total * 100))
    return tuple(
        BedShare(letter, cents[letter] / 100, sum(things.values()))
        for letter, things in bulk.alone.items()
    )


def _in_cents(exact: Mapping[str, float], total: int) -> dict[str, int]:
    """Round to whole cents by the largest remainder, so that the sum is right."""
    floor = {letter: int(amount * 100 + 1e-9) for letter, amount in exact.items()}
    missing = total - sum(floor.values())
    order = sorted(exact, key=lambda letter: (floor[letter] - exact[letter] * 100, letter))
    for letter in order[: max(0, missing)]:
        floor[letter] += 1
    return floor
