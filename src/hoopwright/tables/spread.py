"""A number that is honest about how well it is known: low, likely and high."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Spread:
    """One quantity as a range.

    low, likely, high : in the unit the function that returns it names, low <= likely <= high
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(
                f"a range runs from low to high, not {self.low:g}, {self.likely:g}, {self.high:g}"
            )

    def scaled(self, factor: float) -> Spread:
        """Return the range times one factor, which may not be negative."""
        if factor < 0:
            raise ValueError(f"a range is not scaled by a negative factor ({factor:g})")
        return Spread(self.low * factor, self.likely * factor, self.high * factor)

    def times(self, other: Spread) -> Spread:
        """Return the product of two ranges that are both not negative.

        Low meets low and high meets high, as if both errors came together: a wide range.
        """
        if min(self.low, other.low) < 0:
            raise ValueError("only ranges that are not negative can be multiplied")
        return Spread(self.low * other.low, self.likely * other.likely, self.high * other.high)

    def plus(self, other: Spread) -> Spread:
        """Return the sum of two ranges, low with low and high with high."""
        return Spread(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def over(self, other: Spread) -> Spread:
        """Return this range divided by a positive one, the widest way."""
        if other.low <= 0 or self.low < 0:
            raise ValueError("division needs a positive divisor and a range not negative")
        return Spread(self.low / other.high, self.likely / other.likely, self.high / other.low)


def exactly(value: float) -> Spread:
    """Return a range of no width."""
    return Spread(value, value, value)


def least(ranges: Iterable[Spread]) -> Spread:
    """Return the weakest of several ranges, end by end: what a chain of links holds."""
    every = list(ranges)
    if not every:
        raise ValueError("the weakest of no ranges is not defined")
    return Spread(
        min(one.low for one in every),
        min(one.likely for one in every),
        min(one.high for one in every),
    )
