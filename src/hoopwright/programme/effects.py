"""What a change of plans does to the gust and snow to plan for, weakest bed first."""

from collections.abc import Callable, Mapping
from typing import Any

from hoopwright.checks.finding import Severity
from hoopwright.checks.ladders import Ladders
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.plan.model import Plan
from hoopwright.programme.changes import changed_design


@dataclass(frozen=True)
class Effect:
    """Gust [m/s] and wet snow [m] to plan for, of the weakest bed in each, before and after.

    wind_bed, snow_bed : the letters of those beds
    """

    wind_bed: str
    wind_before: float
    wind: float
    snow_bed: str
    snow_before: float
    snow: float

    @property
    def weaker(self) -> bool:
        """Return whether either gives way noticeably sooner."""
        return self.wind < 0.98 * self.wind_before or self.snow < 0.98 * self.snow_before

    @property
    def halved(self) -> bool:
        """Return whether either gives way at less than half of what it did."""
        return self.wind < 0.5 * self.wind_before or self.snow < 0.5 * self.snow_before


def gust_planned_for(design: Design) -> float:
    """Return the gust to plan for [m/s]."""
    return design.ladder.opens.told[0]


def snow_planned_for(design: Design) -> float:
    """Return the depth of wet snow to plan for [m]."""
    return design.ladder.wet_snow.careful


def changed_designs(
    designs: Mapping[str, Design],
    sets: Mapping[str, Any],
    wanted: Callable[[Plan], bool] = lambda _plan: True,
    tell: Callable[[float], object] = lambda _done: None,
) -> dict[str, Design]:
    """Return designs with some keys set (SI), without those that cannot be built or must not.

    A change that brings a new finding to stop at counts as one that cannot be built.

    wanted : of which plans; tell : told the share that is done, design by design
    """
    # What-ifs share with one another and with what was there, and go when they are told.
    ladders, made = Ladders(), dict[str, Design | None]()
    for letter, design in designs.items():
        plan = design.plan
        made[letter] = (
            changed_design(plan, design.catalogue, sets, ladders) if wanted(plan) else None
        )
        if made[letter] is not None:
            ladders.know(design.ladder)
    ladders.prepare(one.standing for one in made.values() if one is not None)
    found = {}
    for number, (letter, after) in enumerate(made.items()):
        tell(number / len(made))
        if after is not None and not _stops(after) - _stops(designs[letter]):
            found[letter] = after
    return found


def part_of(tell: Callable[[float], object], number: int, count: int) -> Callable[[float], object]:
    """Return what tells the share done of one of several parts alike as a share of them all."""
    return lambda done: tell((number + done) / count)


def _stops(design: Design) -> set[str]:
    return {found.name for found in design.findings if found.severity is Severity.STOP}


def weakest(designs: Mapping[str, Design]) -> tuple[str, str]:
    """Return the letters of the bed that gives way first in wind, and in wet snow."""
    wind = min(designs, key=lambda letter: (gust_planned_for(designs[letter]), letter))
    snow = min(designs, key=lambda letter: (snow_planned_for(designs[letter]), letter))
    return wind, snow


def effect(before: Mapping[str, Design], after: Mapping[str, Design]) -> Effect:
    """Return what a change does to the weakest beds of those it touches."""
    wind, snow = weakest(before)
    return Effect(
        wind,
        gust_planned_for(before[wind]),
        gust_planned_for(after[wind]),
        snow,
        snow_planned_for(before[snow]),
        snow_planned_for(after[snow]),
    )
