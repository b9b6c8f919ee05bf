"""What a change of plans does to the ladder: the first rung before and after, weakest bed first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hoopwright.checks import Severity
from hoopwright.checks.rung import Rung
from hoopwright.design import Design, design_of
from hoopwright.plan.read import PlanError, ReadPlan
from hoopwright.programme.changes import changed, wet_snow


@dataclass(frozen=True)
class Effect:
    """First rungs of the weakest bed in wind and of the weakest in wet snow, before and after.

    wind_bed, snow_bed : the letters of those beds
    """

    wind_bed: str
    wind_before: Rung
    wind: Rung
    snow_bed: str
    snow_before: Rung
    snow: Rung

    @property
    def weaker(self) -> bool:
        """Return whether either gives way noticeably sooner."""
        return (
            self.wind.at.likely < 0.98 * self.wind_before.at.likely
            or self.snow.at.likely < 0.98 * self.snow_before.at.likely
        )


def first_wind(design: Design) -> Rung:
    """Return the first rung in wind, nuisances apart."""
    rung = design.ladder.first("wind")
    assert rung is not None
    return rung


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
    wind = min(designs, key=lambda letter: (first_wind(designs[letter]).at.likely, letter))
    snow = min(designs, key=lambda letter: (wet_snow(designs[letter]).at.likely, letter))
    return wind, snow


def effect(before: Mapping[str, Design], after: Mapping[str, Design]) -> Effect:
    """Return what a change does to the weakest beds of those it touches."""
    wind, snow = weakest(before)
    return Effect(
        wind,
        first_wind(before[wind]),
        first_wind(after[wind]),
        snow,
        wet_snow(before[snow]),
        wet_snow(after[snow]),
    )
