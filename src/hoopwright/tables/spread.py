"""A number that is honest about how well it is known: low, likely and high."""

from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Spread:
    """One quantity as a range.

    low, likely, high : in the unit the function that returns it names, low <= likely <= high;
    read as its 5, 50 and 95 % wherever it is drawn (odds.draws), and never multiplied end by end
    """

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(
                f"a range runs from low to high, not {self.low:g}, {self.likely:g}, {self.high:g}"
            )


def exactly(value: float) -> Spread:
    """Return a range of no width."""
    return Spread(value, value, value)
