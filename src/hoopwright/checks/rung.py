"""A rung of the ladder: at what gust, depth or stone one thing gives way, and how bad that is."""

from collections.abc import Iterable, Mapping
from dataclasses import field
from functools import cached_property
from typing import Literal

from hoopwright.frozen import dataclass
from hoopwright.odds.quantiles import Floats, weak_to_strong

#: Said of a case whose path ends before anything is passed, though not at its limit.
NO_FURTHER = " (followed no further: it bears this at least)"
Harm = Literal["nuisance", "repair", "loss", "hazard"]
Hazard = Literal["wind", "snow", "ice", "hail"]
#: What a rung does to the whole: the cover is open from there on, or lost, or the bed moves;
#: "" where the rest goes on as it was, or where the case is one that a person chooses.
Brings = Literal["", "opens", "lost", "moves"]


@dataclass(frozen=True, eq=False)
class Rung:
    """One thing that gives way, on as many drawn beds.

    name   : stable key, as "legs-slip"
    hazard : what does it; `at` is a gust [m/s], a depth of snow [m], a thickness of
             ice [m] or a stone [m]
    at     : where each drawn bed gives way, infinite where it does not
    happens: what is seen, fields "{name:kind}" from values
    harm   : nuisance, repair, loss, or hazard to people
    case   : the load case that governs most often, in words
    do     : what raises it
    load   : [Pa] of snow in place of its depth, where there is one
    brings : what it does to the whole
    """

    name: str
    hazard: Hazard
    at: Floats
    happens: str
    harm: Harm
    case: str
    do: str
    sources: tuple[str, ...]
    values: Mapping[str, float | str] = field(default_factory=dict)
    load: Floats | None = None
    brings: Brings = ""

    @property
    def kind(self) -> str:
        """Return the kind of quantity that `at` is, as units.show names it."""
        return {"wind": "speed", "snow": "depth", "ice": "tape", "hail": "tape"}[self.hazard]

    @cached_property
    def _told(self) -> tuple[float, float, float]:
        return weak_to_strong(self.at)

    @property
    def careful(self) -> float:
        """Return what nine beds in ten stand."""
        return self._told[0]

    @property
    def middle(self) -> float:
        """Return what half of the beds stand."""
        return self._told[1]

    @property
    def strong(self) -> float:
        """Return what one bed in ten stands."""
        return self._told[2]

    @cached_property
    def careful_load(self) -> float | None:
        """Return the load of snow [Pa] that nine beds in ten stand, where it is one of snow."""
        return None if self.load is None else weak_to_strong(self.load)[0]

    @property
    def at_least(self) -> bool:
        """Return whether `at` is no more than a lower bound."""
        return NO_FURTHER in self.case

    @property
    def never(self) -> bool:
        """Return whether nothing within reason brings it about, on nine beds in ten."""
        return self.careful == float("inf")


def by_care(rungs: Iterable[Rung]) -> tuple[Rung, ...]:
    """Return rungs in the order of what nine beds in ten stand, then of the half."""
    return tuple(sorted(rungs, key=lambda rung: (rung.careful, rung.middle)))


def first(rungs: Iterable[Rung], hazard: Hazard) -> Rung | None:
    """Return the rung whose careful end comes first for a hazard, nuisances apart, or None."""
    serious = [rung for rung in rungs if rung.hazard == hazard and rung.harm != "nuisance"]
    return by_care(serious)[0] if serious else None
