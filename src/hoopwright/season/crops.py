"""The crops by key, with a user's own varieties laid over ours."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Annotated, Any, TypeVar

from hoopwright.frozen import dataclass
from hoopwright.season.crop_records import (
    Bolting,
    Cold,
    CropLight,
    CropRange,
    DegreeDays,
    Emergence,
    Germination,
    Growth,
    Habit,
    Hardened,
    Heat,
    Listed,
    Stages,
    Stalk,
    WaterNeed,
    YieldByLight,
    banded,
    complete_bolting,
    complete_cold,
    complete_degree_days,
    complete_emergence,
    complete_water,
)
from hoopwright.tables.overlay import OverlayRow, Source, laid_over, overlay_rows
from hoopwright.tables.reader import (
    Complete,
    Sourced,
    TableError,
    by_key,
    nearest,
    records_of,
    shipped,
    text,
    texts,
)

Record = TypeVar("Record")
Row = TypeVar("Row", CropLight, Bolting, Listed, Stalk, YieldByLight)

TABLES = (
    "crop",
    "crop_growth",
    "crop_base",
    "crop_germination",
    "crop_emergence",
    "crop_cold",
    "crop_hardened",
    "crop_heat",
    "crop_water",
)
"""The tables that together make the crops; a user's overlay may name any of them. A crop without
a row in one of them is as its nearest kin (table `crop_kin`). What is planted, not sown, needs no
seed: such a crop may be missing from `crop_germination` and `crop_emergence`."""

HARDENING = 5 / 1.8
"""[K] by how much colder a plant dies after a week or more of cool days, where table
`crop_hardened` has no row: assumption."""

HOT_SHARE = 0.4
"""[-] share of the stage open to heat, at the pace of a mild month, that must be hot days to spoil
a harvest: assumption."""

SOME_CAME_UP = 0.5
"""[-] share of seed that comes up at a temperature only where the limits of germination hold it."""


@dataclass(frozen=True)
class Crop:
    """One crop or variety: everything the season needs of it, each part with its own source.

    bolting : None where cold does not make it flower in its first year
    stalk : None where no trial says when long or warm days do
    by_light : None where no trial says what less light takes of the yield
    flower_read_at_leaf : True where the list of flowers' killing temperatures is one of tissue
    like : the crop a user's variety was taken from, or ""
    """

    key: str
    habit: Habit
    growth: Growth
    degrees: DegreeDays
    germination: Germination | None
    emergence: Emergence | None
    cold: Cold
    hardened: Hardened
    heat: Heat
    stages: Stages
    water: WaterNeed
    light: CropLight
    bolting: Bolting | None = None
    stalk: Stalk | None = None
    by_light: YieldByLight | None = None
    flower_read_at_leaf: bool = False
    like: str = ""

    @property
    def name(self) -> str:
        """Return the name to print."""
        return self.habit.name

    @property
    def planted(self) -> bool:
        """True where days count from planting a transplant, tuber or clove."""
        return self.habit.days_counted_from == "planting"

    @property
    def comes_up(self) -> bool:
        """True where seed lies in the bed until it comes up; what is planted stands at once."""
        known = self.emergence is not None and self.germination is not None
        return known and not self.planted

    def thermal_time(self) -> CropRange:
        """Return the degree days [degC d] from emergence or planting to first harvest.

        Published sums where the table has them. Else the days that seed lists promise times
        the degrees above base in the middle of the crop's optimum months (Knott's Handbook):
        an assumption, checked against published sums in tests/recalled/test_degree_days_recalled.py
        (within 15 %). Days counted from sowing lose those of emergence at the best soil.
        """
        known = self.degrees.degree_days
        if known is not None:
            return known
        above = self.growth.optimum_month.middle - self.degrees.base.middle
        days = self.habit.days_to_harvest
        seedbed = 0.0 if self.planted or self.emergence is None else min(self.emergence.days)
        return CropRange((days.low - seedbed) * above, (days.high - seedbed) * above)

    def spoiled_after(self) -> float:
        """Return the hot days [d] in the sensitive stage that spoil the harvest."""
        sensitive = self.stages.sensitive_from or 0.0
        return HOT_SHARE * (1.0 - sensitive) * self.habit.days_to_harvest.middle


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
    in_bands = banded(("days_to_harvest", "spacing"), ("days_to_harvest",))
    habits = _read("crop", Habit, theirs, in_bands)
    growth = _read("crop_growth", Growth, theirs, banded(("optimum_month",)))
    degrees = _read("crop_base", DegreeDays, theirs, complete_degree_days)
    germination = _read("crop_germination", Germination, theirs, banded(("best_soil",)))
    emergence = _read("crop_emergence", Emergence, theirs, complete_emergence)
    cold = _read("crop_cold", Cold, theirs, complete_cold)
    hardened = _read("crop_hardened", Hardened, theirs, banded(("hardened_kill",)))
    heat = _read("crop_heat", Heat, theirs, banded(("limit",)))
    water = _read("crop_water", WaterNeed, theirs, complete_water)
    _no_strays(theirs, habits)
    kin, stages = _kin(), records_of(shipped("crop_stage"), Stages, banded(("death",)))
    lights = records_of(shipped("crop_light"), CropLight)
    boltings = records_of(shipped("crop_bolt"), Bolting, complete_bolting)
    stalks = records_of(shipped("crop_stalk"), Stalk, banded(("day", "warmth"), ("day", "warmth")))
    yields = records_of(shipped("crop_yield"), YieldByLight, banded(("per_light", "enough")))
    listed = records_of(shipped("crop_listed"), Listed)

    def own(table: Mapping[str, Record], key: str) -> Record | None:
        """Return the row of a crop, of what it is like, or of its nearest kin that has one."""
        line = _line(key, likes)
        for known in line:
            if known in table:
                return table[known]
        near = kin.get(line[-1])
        while near is not None and near not in line:
            if near in table:
                return _as_kin(table[near])
            line.append(near)
            near = kin.get(near)
        return None

    def part(table: Mapping[str, Record], key: str, name: str) -> Record:
        found = own(table, key)
        if found is None:
            raise TableError(
                f"crop '{key}' has no row in table '{name}'; give one, or say `like` which it is"
            )
        return found

    found = {}
    for key, habit in habits.items():
        seed, grid, bands = own(germination, key), own(emergence, key), part(cold, key, "crop_cold")
        if habit.days_counted_from == "planting":
            seed, grid = _of_its_own(germination, key, likes), _of_its_own(emergence, key, likes)
        if habit.part in ("pod", "fruit") and bands.flower_kill is None:
            bands = replace(bands, flower_kill=bands.plant_kill)
        found[key] = Crop(
            key=key,
            habit=habit,
            growth=part(growth, key, "crop_growth"),
            degrees=part(degrees, key, "crop_base"),
            germination=seed,
            emergence=grid,
            cold=bands,
            hardened=_hardened(hardened, bands, _line(key, likes)),
            heat=part(heat, key, "crop_heat"),
            stages=_stages(stages, _line(key, likes)[-1]),
            water=part(water, key, "crop_water"),
            light=_for_crop(lights, _line(key, likes)[-1]) or lights[0],
            bolting=_for_crop(boltings, _line(key, likes)[-1]),
            stalk=_for_crop(stalks, _line(key, likes)[-1]),
            by_light=_for_crop(yields, _line(key, likes)[-1]),
            flower_read_at_leaf=_flower_at_leaf(listed, _line(key, likes)[-1]),
            like=likes.get(key, ""),
        )
        _agree(found[key])
    return found


def _read(
    table: str, record: type[Record], theirs: Sequence[OverlayRow], complete: Complete
) -> dict[str, Record]:
    return by_key(laid_over(table, shipped(table), theirs), record, complete)


def _of_its_own(table: Mapping[str, Record], key: str, likes: Mapping[str, str]) -> Record | None:
    return next((table[known] for known in _line(key, likes) if known in table), None)


def _as_kin(row: Record) -> Record:
    """Return a row of another crop's, which says that it is."""
    held: Any = row
    says = f"taken as the row of '{held.key}': assumption; {held.source}"
    changed: Record = replace(held, source=says, sure="assumption")
    return changed


@dataclass(frozen=True)
class _Kin(Sourced):
    """The crops that take their rows, where they have none, from one other crop."""

    taken_from: Annotated[str, text()]
    crops: Annotated[tuple[str, ...], texts()]


def _for_crop(rows: Sequence[Row], key: str) -> Row | None:
    """Return the row that names the crop, or the one for all, or None."""
    named = [row for row in rows if key in row.crops]
    return next(iter(named or [row for row in rows if not row.crops]), None)


def _flower_at_leaf(rows: Sequence[Listed], key: str) -> bool:
    found = _for_crop([row for row in rows if "flower" in row.bands], key)
    return found is not None and found.read_at == "leaf"


def _kin() -> dict[str, str]:
    """Return the nearest kin of each crop that has one."""
    rows = records_of(shipped("crop_kin"), _Kin)
    return {key: row.taken_from for row in rows for key in row.crops}


def _stages(rows: Sequence[Stages], key: str) -> Stages:
    """Return when a crop is open to harm: its own rows before those for all crops."""
    merged: dict[str, Any] = {"crops": (key,), "sure": "assumption", "source": ""}
    told = []
    for row in sorted(rows, key=lambda row: bool(row.crops)):
        if row.crops and key not in row.crops:
            continue
        told.append(row.source)
        for name in ("sensitive_from", "death", "regrows_until"):
            if getattr(row, name) is not None:
                merged[name] = getattr(row, name)
    return Stages(**{**merged, "source": "; ".join(told)})


def _hardened(rows: Mapping[str, Hardened], cold: Cold, line: Sequence[str]) -> Hardened:
    """Return what a hardened plant bears: by its own row, else so much colder than the plant.

    A plant that dies of the first frost does not harden.
    """
    for known in (*line, cold.key):
        if known in rows:
            return rows[known]
    tender = cold.plant_kill.high >= 0.0
    kill = cold.plant_kill if tender else cold.plant_kill.raised(-HARDENING)
    told = "as the plant" if tender else "5 degF below the plant: assumption"
    return Hardened(source=told, sure="assumption", key=cold.key, hardened_kill=kill)


def _agree(plant: Crop) -> None:
    """Refuse limits of germination that the trials of the same crop's emergence contradict.

    A kin's trial does not bind. A degree Fahrenheit is left for rounding.
    """
    seed, grid = plant.germination, plant.emergence
    if seed is None or grid is None or seed.key != grid.key:
        return
    slack = 1.0 / 1.8 + 1e-6
    for soil in grid.no_emergence_at:
        if seed.best_soil.low <= soil <= seed.best_soil.high:
            raise TableError(
                f"crop '{plant.key}': nothing came up at {soil:.1f} degC, which table "
                "'crop_germination' has within its 'best soil'"
            )
    for soil, share in zip(grid.tried, grid.come_up, strict=True):
        inside = seed.least_soil - slack <= soil <= seed.most_soil + slack
        if share >= SOME_CAME_UP and not inside:
            raise TableError(
                f"crop '{plant.key}': {share:.0%} came up at {soil:.1f} degC, which table "
                "'crop_germination' has outside its 'least soil' and 'most soil'"
            )


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
