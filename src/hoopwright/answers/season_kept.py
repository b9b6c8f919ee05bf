"""The season of a plan, worked out once and kept for every door that asks for it."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

from hoopwright.caching import kept
from hoopwright.design.season_report import SeasonReport
from hoopwright.plan.read import ReadPlan
from hoopwright.tables.overlay import Source

Tell = Callable[[str, float], None]
FIRST_USE = (
    "First use of the season on this machine: compiling comes first, half a minute to two minutes."
)
"""A guess from few machines; a busy one takes longer."""


def season_of(read: ReadPlan, tell: Tell, fresh: bool = False) -> SeasonReport:
    """Return the season, from the cache where nothing that it rests on has changed.

    tell : told what is being done and the share that is done
    """
    from hoopwright.design import design_of
    from hoopwright.design.growing import place_years
    from hoopwright.design.season_report import season_report
    from hoopwright.heat.compiled import compiled_before, compiled_march

    held = None if fresh else kept_season(read)
    if held is None:
        if not compiled_before():
            tell(FIRST_USE, 0.0)
        place = place_years(read.plan, read.weather_file)
        held = season_report(design_of(read), place, compiled_march(), tell)
        kept.save(_name(read), held)
    return held


def kept_season(read: ReadPlan) -> SeasonReport | None:
    """Return the season if it was worked out before, or None."""
    return kept.load(_name(read), SeasonReport)


def _name(read: ReadPlan) -> str:
    """Return the name of a plan's season: of what it says, and of the files that it names."""
    said = {"name": True, "paper": True, "prices": True, "catalogue": True}
    plan = read.plan.model_dump_json(exclude={**said, "site": {"weather"}, "season": {"varieties"}})
    weather = read.plan.site.weather if read.weather_file is None else _print(read.weather_file)
    crops = [_print(source) for source in read.varieties]
    return f"season-{kept.key(plan, repr(read.catalogue.overlays), weather, *crops)}"


def _print(source: Source) -> str:
    held = source.read_bytes() if isinstance(source, Path) else source.text.encode("utf-8")
    return hashlib.sha256(held).hexdigest()
