"""Several plans side by side, differences first."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.climate.weather import Weather
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.heat.covers import measured
from hoopwright.plan.read import ReadPlan
from hoopwright.programme.buying import Bill
from hoopwright.programme.weighing import Weigher, Worth

#: Figures closer than this share of the greater are called the same.
SAME = 0.005


@dataclass(frozen=True)
class Compared:
    """One plan of a comparison."""

    name: str
    design: Design
    worth: Worth


@dataclass(frozen=True)
class ComparedFigure:
    """One line of a comparison: what, its kind as units.show names it, and whether more is better.

    values : one for each plan, NaN where there is none
    ranges : within which each stands, where plans differ in what the model knows badly
    """

    what: str
    kind: str
    more_is_better: bool
    values: tuple[float, ...]
    ranges: tuple[tuple[float, float], ...] = ()

    @property
    def spread(self) -> float:
        """Return how far apart the plans are, as a share of the greatest [-]."""
        known = [value for value in self.values if not math.isnan(value)]
        if len(known) < 2:
            return 0.0
        greatest = max(abs(value) for value in known)
        if math.isinf(greatest):
            return 0.0 if min(known) == max(known) else 1.0
        return (max(known) - min(known)) / greatest if greatest > 0 else 0.0

    @property
    def differs(self) -> bool:
        """Return whether the plans differ in it."""
        return self.spread > SAME

    @property
    def best(self) -> tuple[int, ...]:
        """Return which plans are best in it; none where they are the same or not told apart."""
        if not self.differs:
            return ()
        known = [value for value in self.values if not math.isnan(value)]
        best = max(known) if self.more_is_better else min(known)
        found = tuple(n for n, value in enumerate(self.values) if value == best)
        if self.ranges:
            low, high = self.ranges[found[0]]
            rest = [one for n, one in enumerate(self.ranges) if n not in found]
            if any(a <= high and low <= b for a, b in rest):
                return ()
        return found

    def against_first(self, n: int) -> int:
        """Return 1 where a plan is better in it than the first, -1 where worse, else 0."""
        first, value = (self._judged(self.values[at]) for at in (0, n))
        if first == value or math.isnan(first) or math.isnan(value):
            return 0
        greatest = max(abs(first), abs(value))
        if math.isfinite(greatest) and abs(value - first) <= SAME * greatest:
            return 0
        return 1 if (value > first) == self.more_is_better else -1

    def _judged(self, value: float) -> float:
        """Return a value as far as anything is claimed."""
        return min(value, STRONGEST_GUST) if self.kind == "speed" else value


def compare(
    plans: Sequence[tuple[str, ReadPlan]], weathers: Sequence[Weather | None], march: Any = None
) -> tuple[Compared, ...]:
    """Return the plans with what each comes to.

    weathers : one year for each plan, or None to leave the climate out
    """
    found = []
    weighers: dict[int, Weigher] = {}
    for (name, read), weather in zip(plans, weathers, strict=True):
        # Plans of one place and one price list share what they have in common.
        key = id(weather) if weather is not None else 0
        weigher = weighers.setdefault(key, Weigher(Bill(read.catalogue), weather, march))
        if weigher.bill.catalogue.overlays != read.catalogue.overlays:
            weigher = Weigher(Bill(read.catalogue), weather, march)
        design = design_of(read)
        found.append(Compared(name, design, weigher.weigh(design)))
    return tuple(found)


def figures(
    compared: Sequence[Compared], work: Callable[[Design], float] | None = None
) -> tuple[ComparedFigure, ...]:
    """Return every figure, those in which the plans differ most first.

    work : gives a design's hours of work [s], where they are wanted
    """

    def of(take: Callable[[Compared], float]) -> tuple[float, ...]:
        return tuple(take(one) for one in compared)

    def grown(name: str) -> tuple[float, ...]:
        return of(
            lambda one: float(getattr(one.worth.growth, name)) if one.worth.growth else math.nan
        )

    found = [
        ComparedFigure("Cost", "money", False, of(lambda one: one.worth.cost)),
        ComparedFigure("Gust to plan for", "speed", True, of(lambda one: one.worth.wind)),
        ComparedFigure("Gust that half stand", "speed", True, of(lambda one: one.worth.half)),
        ComparedFigure("Wet snow to plan for", "depth", True, of(lambda one: one.worth.snow)),
        ComparedFigure(
            "Leaves warmer at night",
            "temperature difference",
            True,
            grown("degrees"),
            _by_trials(compared, grown("degrees")),
        ),
        ComparedFigure("Frost-free days gained", "count", True, grown("days")),
        ComparedFigure("Hours over 32 °C (90 °F)", "count", False, grown("hot")),
        ComparedFigure("Height over the boards", "tape", True, of(lambda one: one.worth.height)),
        ComparedFigure("Waste of sticks", "share", False, of(lambda one: one.worth.waste)),
        ComparedFigure(
            "Cover, a year of its life",
            "money",
            False,
            of(lambda one: one.worth.cover_cost_per_year),
        ),
        ComparedFigure("Checks that say change", "count", False, of(_asks)),
    ]
    if work is not None:
        found.insert(1, ComparedFigure("Work", "hours", False, of(lambda one: work(one.design))))
    known = [one for one in found if not all(math.isnan(value) for value in one.values)]
    return tuple(sorted(known, key=lambda one: (not one.differs, -one.spread)))


def _by_trials(
    compared: Sequence[Compared], degrees: Sequence[float]
) -> tuple[tuple[float, float], ...]:
    """Return the ranges of the gains by night, what trials measured under fabric taken in; none
    where all plans have the same cover, whose doubt is theirs alike."""
    families = [one.design.cover.material.optics_family for one in compared]
    if len(set(families)) < 2:
        return ()
    ends = [
        (gain, *measured(family).get("night", ()))
        for gain, family in zip(degrees, families, strict=True)
    ]
    return tuple((min(some), max(some)) for some in ends)


def _asks(one: Compared) -> float:
    return float(len(one.worth.changes) + len(one.worth.stops))
