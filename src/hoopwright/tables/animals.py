"""Animals that a cover keeps out, and the gap and height that stop them."""

from collections.abc import Mapping
from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Named, number, table_of, text


@dataclass(frozen=True)
class Animal(Named):
    """One kind of animal.

    gap [m]     : widest gap that stops it
    barrier [m] : height of band that stops it; none where the whole opening must be closed
    from_below  : "yes" where it comes up through the soil
    """

    gap: Annotated[float, number("m", 0.003, 0.5)]
    barrier: Annotated[float | None, number("m", 0.05, 3, optional=True)]
    from_below: Annotated[str, text(choices=("yes", "no"))]
    answer: Annotated[str, text()]


def animals() -> Mapping[str, Animal]:
    """Return all animals by key."""
    return table_of(Animal, "animal")
