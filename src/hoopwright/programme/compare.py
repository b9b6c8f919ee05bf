"""Several plans side by side, differences first."""

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
        rest = (n for n in range(len(self.values)) if n not in found)
        return found if all(self.apart(found[0], n) for n in rest) else ()

    def apart(self, one: int, other: int) -> bool:
        """Return whether it is known in which of two plans there is more: ranges do not overlap."""
        if not self.ranges:
            return True
        (low, high), (least, most) = self.ranges[one], self.ranges[other]
        return not (least <= high and low <= most)

    def against_first(self, n: int) -> int:
        """Return 1 where a plan is better in it than the first, -1 where worse, else 0."""
        first, value = (self._judged(self.values[at]) for at in (0, n))
        if first == value or math.isnan(first) or math.isnan(value) or not self.apart(0, n):
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
        leaves_by_night([one.worth for one in compared]),
        ComparedFigure("Frost-free days gained", "count", True, grown("days")),
        ComparedFigure("Hours too hot", "count", False, grown("hot")),
        ComparedFigure("Height over the boards", "tape", True, of(lambda one: one.worth.height)),
        ComparedFigure("Waste of sticks", "share", False, of(lambda one: one.worth.waste)),
        ComparedFigure(
            "Cover, a year of its life",
            "money",
            False,
            of(lambda one: one.worth.cover_cost_per_year),
        ),
        ComparedFigure(
            "Checks that say change",
            "count",
            False,
            of(lambda one: float(len(one.worth.changes) + len(one.worth.stops))),
        ),
    ]
    if work is not None:
        found.insert(1, ComparedFigure("Work", "hours", False, of(lambda one: work(one.design))))
    known = [one for one in found if not all(math.isnan(value) for value in one.values)]
    return tuple(sorted(known, key=lambda one: (not one.differs, -one.spread)))


def leaves_by_night(worths: Sequence[Worth]) -> ComparedFigure:
    """Return by how much leaves are warmer at night, what trials measured taken into the ranges.

    There are none where all have the same cover, whose doubt is theirs alike.
    """
    degrees = tuple(one.growth.degrees if one.growth else math.nan for one in worths)
    ranges: tuple[tuple[float, float], ...] = ()
    if len({one.optics for one in worths}) > 1:
        trials = [measured(one.optics).get("night", ()) for one in worths]
        ends = [(gain, *some) for gain, some in zip(degrees, trials, strict=True)]
        ranges = tuple((min(some), max(some)) for some in ends)
    return ComparedFigure("Leaves warmer at night", "temperature difference", True, degrees, ranges)
