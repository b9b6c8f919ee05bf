"""Inputs that are known as a range only: shares and factors that belong to no other table."""

from collections.abc import Mapping

from hoopwright.tables.reader import Figure, ranges_of


def doubts() -> Mapping[str, Figure]:
    """Return the inputs [-] by name, each by its 5, 50 and 95 %."""
    return ranges_of("odds_share", "-", 0, 5)
