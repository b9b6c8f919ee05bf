"""The season of a plan, worked out once and kept for every door that asks for it."""

import hashlib
from collections.abc import Callable

from hoopwright.caching import kept
from hoopwright.climate.read.text import weather_bytes
from hoopwright.design.season_report import SeasonReport
from hoopwright.plan.read import ReadPlan
from hoopwright.tables.overlay import text_of_own

Tell = Callable[[str, float], None]
FIRST_USE = (
    "First use of the model on this machine: compiling comes first, about half a minute, three "
    "minutes where the machine is busy."
)
"""Measured on one machine: 22 s of one core; 174 s passed while seven programs shared two cores."""


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
    file = read.weather_file
    weather = read.plan.site.weather if file is None else _print(weather_bytes(file))
    crops = [_print(text_of_own(source).encode("utf-8")) for source in read.varieties]
    return f"season-{kept.key(plan, repr(read.catalogue.overlays), weather, *crops)}"


def _print(held: bytes) -> str:
    return hashlib.sha256(held).hexdigest()
