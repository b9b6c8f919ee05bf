"""Animals that a cover keeps out, and the gap and height that stop them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from hoopwright.tables.reader import SURENESS, number, record_of, shipped, text


@dataclass(frozen=True)
class Animal:
    """One kind of animal.

    gap [m]     : widest gap that stops it
    barrier [m] : height of band that stops it; none where the whole opening must be closed
    from_below  : "yes" where it comes up through the soil
    """

    key: Annotated[str, text()]
    name: Annotated[str, text()]
    gap: Annotated[float, number("m", 0.003, 0.5)]
    barrier: Annotated[float | None, number("m", 0.05, 3, optional=True)]
    from_below: Annotated[str, text(choices=("yes", "no"))]
    answer: Annotated[str, text()]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@lru_cache(maxsize=1)
def animals() -> Mapping[str, Animal]:
    """Return all animals by key."""
    return {row.key: row for row in (record_of(raw, Animal) for raw in shipped("animal"))}
