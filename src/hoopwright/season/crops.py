"""The crops by key, with a user's own varieties laid over ours."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeVar

from hoopwright.season.crop_records import (
    Band,
    Cold,
    Emergence,
    Germination,
    Growth,
    Habit,
    Heat,
    WaterNeed,
    banded,
    complete_emergence,
    complete_water,
)
from hoopwright.tables.overlay import OverlayRow, Source, laid_over, overlay_rows
from hoopwright.tables.reader import TableError, nearest, records_of, shipped

Record = TypeVar("Record")
Complete = Callable[[dict[str, Any], str], dict[str, Any]]

TABLES = (
    "crop",
    "crop_growth",
    "crop_germination",
    "crop_emergence",
    "crop_cold",
    "crop_heat",
    "crop_water",
)
"""The tables that together make the crops; a user's overlay may name any of them."""


@dataclass(frozen=True)
class Crop:
    """One crop or variety: everything the season needs of it, each part with its own source.

    like : the crop a user's variety was taken from, or ""
    """

    key: str
    habit: Habit
    growth: Growth
    germination: Germination
    emergence: Emergence | None
    cold: Cold
    heat: Heat
    water: WaterNeed
    like: str = ""

    @property
    def name(self) -> str:
        """Return the name to print."""
        return self.habit.name

    @property
    def planted(self) -> bool:
        """True where days count from planting a transplant, tuber or clove."""
        return self.habit.days_counted_from == "planting"

    def thermal_time(self) -> Band:
        """Return the degree days [degC d] from emergence or planting to first harvest.

        Published sums where the table has them. Else the days that seed lists promise times
        the degrees above base in the middle of the crop's optimum months (Knott's Handbook):
        an assumption, checked against published sums in tests/recalled/test_degree_days_recalled.py
        (within 15 %). Days counted from sowing lose those of emergence at the best soil.
        """
        known = self.growth.degree_days
        if known is not None:
            return known
        above = self.growth.optimum_month.middle - self.growth.base
        days = self.habit.days_to_harvest
        seedbed = 0.0 if self.planted or self.emergence is None else min(self.emergence.days)
        return Band((days.low - seedbed) * above, (days.high - seedbed) * above)


class UnknownCropError(ValueError):
    """No crop of that key; the message offers the nearest."""


def crop(key: str, known: Mapping[str, Crop] | None = None) -> Crop:
    """Return one crop by key."""
    among = crops() if known is None else known
    if key not in among:
        raise UnknownCropError(f"no crop '{key}'{nearest(key, among)}")
    return among[key]


def crops(*overlays: Source) -> Mapping[str, Crop]:
    """Return all crops by key, a user's files of varieties laid over ours.

    A variety is a row of table `crop` that is `like` another and gives what differs; rows of
    the other tables with the same key change its temperatures, and what they leave out is the
    other crop's. See hoopwright.tables.overlay for the two file forms.
    """
    return _crops(tuple(overlays))


def crop_keys(*overlays: Source) -> list[str]:
    """Return the keys of all crops, as `crops` has them; ours alone without reading their rows."""
    return list(crops(*overlays)) if overlays else [row.cells["key"] for row in shipped("crop")]


@lru_cache(maxsize=8)
def _crops(overlays: tuple[Source, ...]) -> Mapping[str, Crop]:
    theirs = [row for path in overlays for row in overlay_rows(path, TABLES)]
    likes = {
        item.row.cells["key"]: item.row.cells["like"]
        for item in theirs
        if item.table == "crop" and {"key", "like"} <= set(item.row.cells)
    }
    habits = _read(
        "crop",
        Habit,
        theirs,
        banded(("days_to_harvest", "spacing", "height"), ("days_to_harvest",)),
    )
    growth = _read("crop_growth", Growth, theirs, _growth)
    germination = _read("crop_germination", Germination, theirs, banded(("best_soil",)))
    emergence = _read("crop_emergence", Emergence, theirs, complete_emergence)
    cold = _read("crop_cold", Cold, theirs, banded(_COLD_BANDS))
    heat = _read("crop_heat", Heat, theirs, banded(("limit", "death"), ("spoils_after",)))
    water = _read("crop_water", WaterNeed, theirs, complete_water)
    _no_strays(theirs, habits)

    def part(table: Mapping[str, Record], key: str, name: str) -> Record:
        for known in _line(key, likes):
            if known in table:
                return table[known]
        raise TableError(
            f"crop '{key}' has no row in table '{name}'; give one, or say `like` which crop it is"
        )

    return {
        key: Crop(
            key=key,
            habit=habit,
            growth=part(growth, key, "crop_growth"),
            germination=part(germination, key, "crop_germination"),
            emergence=next(
                (emergence[known] for known in _line(key, likes) if known in emergence), None
            ),
            cold=part(cold, key, "crop_cold"),
            heat=part(heat, key, "crop_heat"),
            water=part(water, key, "crop_water"),
            like=likes.get(key, ""),
        )
        for key, habit in habits.items()
    }


_COLD_BANDS = tuple(
    f"{stage}_{harm}"
    for stage in ("seedling", "plant", "hardened", "flower")
    for harm in ("damage", "kill")
)


def _growth(values: dict[str, Any], place: str) -> dict[str, Any]:
    changed: dict[str, Any] = banded(("optimum_month", "degree_days"), ("degree_days",))(
        values, place
    )
    if values["base"] >= values["ceiling"]:
        raise TableError(f"{place}: the base temperature is not below the ceiling")
    return changed


def _read(
    table: str, record: type[Record], theirs: Sequence[OverlayRow], complete: Complete
) -> dict[str, Record]:
    rows = laid_over(table, shipped(table), theirs)
    found: dict[str, Record] = {}
    for row, item in zip(rows, records_of(rows, record, complete), strict=True):
        key = row.cells["key"]
        if key in found:
            raise TableError(f"{row.place}: key '{key}' stands twice")
        found[key] = item
    return found


def _line(key: str, likes: Mapping[str, str]) -> list[str]:
    """Return the key and what it is like, and what that is like, to the end."""
    line = [key]
    while line[-1] in likes and likes[line[-1]] not in line:
        line.append(likes[line[-1]])
    return line


def _no_strays(theirs: Sequence[OverlayRow], habits: Mapping[str, Habit]) -> None:
    for item in theirs:
        key = item.row.cells.get("key", "")
        if key not in habits:
            raise TableError(
                f"{item.row.place}: no crop '{key}' in table 'crop'{nearest(key, habits)}"
            )
