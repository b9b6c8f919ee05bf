"""Inputs that are known as a range only: shares and factors that belong to no other table."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated

from hoopwright.tables.reader import SURENESS, number, record_of, shipped, text
from hoopwright.tables.spread import Spread


@dataclass(frozen=True)
class Doubt:
    """One input [-]: its range, 5, 50 and 95 %, with its source and how sure that is."""

    quantity: Annotated[str, text()]
    low: Annotated[float, number("-", 0, 5)]
    likely: Annotated[float, number("-", 0, 5)]
    high: Annotated[float, number("-", 0, 5)]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]

    @property
    def value(self) -> Spread:
        """Return it as a range."""
        return Spread(self.low, self.likely, self.high)


@cache
def doubts() -> dict[str, Doubt]:
    """Return the inputs by name."""
    rows = [record_of(row, Doubt) for row in shipped("odds_share")]
    return {row.quantity: row for row in rows}
