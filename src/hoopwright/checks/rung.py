"""A rung of the ladder: at what gust, depth or stone one thing gives way, and how bad that is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from hoopwright.tables.spread import Spread

#: Said of a case whose path ends before anything is passed, though not at its limit.
NO_FURTHER = " (followed no further: it bears this at least)"
Harm = Literal["nuisance", "repair", "loss", "hazard"]
Hazard = Literal["wind", "snow", "ice", "hail"]


@dataclass(frozen=True)
class Rung:
    """One thing that gives way.

    name   : stable key, as "legs-slip"
    hazard : what does it; `at` is a gust [m/s], a depth of snow [m], a thickness of
             ice [m] or a stone [m]
    kind   : the kind of `at`, as units.show names it
    happens: what is seen, fields "{name:kind}" from values
    harm   : nuisance, repair, loss, or hazard to people
    case   : the load case that governs, in words
    do     : what raises it
    """

    name: str
    hazard: Hazard
    at: Spread
    kind: str
    happens: str
    harm: Harm
    case: str
    do: str
    sources: tuple[str, ...]
    values: Mapping[str, float | str] = field(default_factory=dict)

    @property
    def at_least(self) -> bool:
        """Return whether `at` is no more than a lower bound."""
        return NO_FURTHER in self.case

    @property
    def never(self) -> bool:
        """Return whether nothing within reason brings it about."""
        return self.at.likely == float("inf")


def first(rungs: tuple[Rung, ...], hazard: Hazard) -> Rung | None:
    """Return the rung that comes first for a hazard, nuisances apart, or None."""
    serious = [rung for rung in rungs if rung.hazard == hazard and rung.harm != "nuisance"]
    return min(serious, key=lambda rung: rung.at.likely, default=None)
