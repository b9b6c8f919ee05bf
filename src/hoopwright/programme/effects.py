"""What a change of plans does to the gust and snow to plan for, weakest bed first."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hoopwright.checks import Severity
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.plan.read import PlanError, ReadPlan
from hoopwright.programme.changes import changed


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


def changed_design(design: Design, sets: Mapping[str, Any]) -> Design | None:
    """Return the design with some keys set (SI), or None where it cannot be built or must not.

    A change that brings a new finding to stop at counts as one that cannot be built.
    """
    try:
        after = design_of(ReadPlan(changed(design.plan, sets), design.catalogue))
    except PlanError:
        return None
    stops = {found.name for found in design.findings if found.severity is Severity.STOP}
    if any(f.severity is Severity.STOP and f.name not in stops for f in after.findings):
        return None
    return after


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
