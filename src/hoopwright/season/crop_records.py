"""What is known of one crop, as the tables hold it: one record a table, each with its source."""

from typing import Annotated, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import DAY
from hoopwright.tables.reader import Keyed, Named, Sourced, TableError, number, numbers, text, texts

LIST_WIDTH = 2 / 1.8
"""[K] how far below the one number a list prints the last plants die: assumption (the lists go in
steps of 2 to 5 degF)."""

DAMAGE_ABOVE_KILL = 4 / 1.8
"""[K] by how much sooner leaves are hurt than the plant dies: assumption."""

SEEDLING_ABOVE_PLANT = 2 / 1.8
"""[K] by how much sooner a seedling dies than the grown plant: assumption."""


@dataclass(frozen=True)
class CropRange:
    """A range between which sources, plants and varieties differ; the unit is the owner's."""

    low: float
    high: float

    @property
    def middle(self) -> float:
        """Return the middle of the band."""
        return self.at(0.5)

    def at(self, share: float) -> float:
        """Return what lies at a share [-] of the way up the band."""
        return self.low + share * (self.high - self.low)

    def raised(self, by: float) -> "CropRange":
        """Return the band so much higher."""
        return CropRange(self.low + by, self.high + by)


@dataclass(frozen=True)
class Habit(Named):
    """How a crop is grown.

    part               : what is eaten
    sown               : "direct", "transplant", "either" or "set" (tubers, cloves)
    days_counted_from  : "sowing" or "planting"
    days_to_harvest    : [d] as seed lists promise, for a mild month
    spacing            : [m] between plants
    pollination        : "insects" (the cover must be open in flower), "wind" or "none"
    """

    kind: Annotated[str, text(choices=("vegetable", "herb", "fruit"))]
    part: Annotated[str, text(choices=("leaf", "root", "head", "pod", "bulb", "fruit"))]
    sown: Annotated[str, text(choices=("direct", "transplant", "either", "set"))]
    days_counted_from: Annotated[str, text(choices=("sowing", "planting"))]
    days_to_harvest: Annotated[CropRange, numbers("s", 15 * DAY, 400 * DAY)]
    spacing: Annotated[CropRange, numbers("m", 0.01, 2.0)]
    pollination: Annotated[str, text(choices=("insects", "wind", "none"))]


@dataclass(frozen=True)
class Growth(Keyed):
    """The temperatures a crop grows in [degC].

    optimum_month  : monthly means in which it grows best
    least_month, most_month : monthly means at which it still grows fairly
    soil_to_plant  : soil in which planting makes sense, or None
    """

    optimum_month: Annotated[CropRange, numbers("degC", 5, 35)]
    least_month: Annotated[float, number("degC", 0, 25)]
    most_month: Annotated[float, number("degC", 15, 40)]
    soil_to_plant: Annotated[float | None, number("degC", 0, 30, optional=True)]


@dataclass(frozen=True)
class DegreeDays(Keyed):
    """Between which temperatures [degC] degree days add, and how many a crop needs.

    base, ceiling  : below and above which they stop to add; sources differ, the middle is used
    degree_days    : [degC d] from sowing or planting to harvest (read as days at 1 K above the
                     base), or None where only calendar days are known
    """

    base: Annotated[CropRange, numbers("degC", -3, 20)]
    ceiling: Annotated[CropRange, numbers("degC", 15, 48)]
    degree_days: Annotated[CropRange | None, numbers("s", 100 * DAY, 3000 * DAY)]


@dataclass(frozen=True)
class Germination(Keyed):
    """Soil temperatures [degC] at which seed comes up at all, and comes up best."""

    least_soil: Annotated[float, number("degC", -1, 25)]
    best_soil: Annotated[CropRange, numbers("degC", 5, 40)]
    most_soil: Annotated[float, number("degC", 18, 45)]


@dataclass(frozen=True)
class Emergence(Keyed):
    """Days to emergence [d] from half an inch deep at soil temperatures [degC].

    no_emergence_at : [degC] temperatures tried at which little or nothing came up
    come_up : [-] share of the seed that came up at the temperatures `tried` [degC]
    """

    soil: Annotated[tuple[float, ...], numbers("degC", -1, 45)]
    days: Annotated[tuple[float, ...], numbers("s", 0.5 * DAY, 250 * DAY)]
    no_emergence_at: Annotated[tuple[float, ...], numbers("degC", -1, 45)]
    tried: Annotated[tuple[float, ...], numbers("degC", -1, 45)]
    come_up: Annotated[tuple[float, ...], numbers("-", 0, 1)]

    def rate(self, soil: ArrayLike, limits: Germination) -> NDArray[np.float64]:
        """Return the share of the way to emergence done in a day [1/d] at soil temperature [degC].

        Between the temperatures of the grid the rate (not the days) is drawn straight; it falls to
        nothing at the nearest temperature at which nothing came up, else at the crop's limit of
        germination, else at the last one tried. Source of the grid: Harrington & Minges 1954.
        Drawing the rate straight is the usual thermal-time reading of such grids (Garcia-Huidobro
        et al. 1982, J. Exp. Bot. 33, 288-296, from memory); we have not tested it against trials.
        """
        temperatures, rates = list(self.soil), [1.0 / days for days in self.days]
        foot = max(
            (t for t in self.no_emergence_at if t < temperatures[0]), default=limits.least_soil
        )
        head = min(
            (t for t in self.no_emergence_at if t > temperatures[-1]), default=limits.most_soil
        )
        if foot < temperatures[0]:
            temperatures, rates = [foot, *temperatures], [0.0, *rates]
        if head > temperatures[-1]:
            temperatures, rates = [*temperatures, head], [*rates, 0.0]
        asked = np.asarray(soil, dtype=np.float64)
        return np.interp(asked, temperatures, rates, left=0.0, right=0.0)


@dataclass(frozen=True)
class Cold(Keyed):
    """Leaf temperatures [degC] that kill, by growth stage.

    A band runs from the temperature that kills nearly all plants up to that which kills the first.
    plant_damage : from where nearly all leaves are hurt up to where the first are
    flower : open blossoms, heads or curds; None where the crop is eaten before it flowers
    What a source does not print, `complete_cold` works out from what it does.
    """

    seedling_kill: Annotated[CropRange, numbers("degC", -35, 5)]
    plant_kill: Annotated[CropRange, numbers("degC", -35, 5)]
    plant_damage: Annotated[CropRange, numbers("degC", -35, 15)]
    flower_kill: Annotated[CropRange | None, numbers("degC", -35, 5)]


@dataclass(frozen=True)
class Hardened(Keyed):
    """Leaf temperatures [degC] that kill a plant after a week or more of cool days."""

    hardened_kill: Annotated[CropRange, numbers("degC", -35, 5)]


@dataclass(frozen=True)
class Heat(Keyed):
    """Day maxima at plant height [degC] above which the harm begins, and what happens."""

    limit: Annotated[CropRange, numbers("degC", 15, 45)]
    effect: Annotated[str, text()]


@dataclass(frozen=True)
class Stages(Sourced):
    """When a crop is open to harm; a row counts for the crops it names, or for all others.

    sensitive_from : [-] share of the way to harvest at which the stage that heat spoils begins
    death          : [degC] leaf temperature that kills within an hour
    regrows_until  : [-] share of the way up to which killed tops come back from below the ground,
                     at the cost of a week or three; 0 for none
    """

    crops: Annotated[tuple[str, ...], texts()]
    sensitive_from: Annotated[float | None, number("-", 0, 1, optional=True)]
    death: Annotated[CropRange | None, numbers("degC", 38, 60)]
    regrows_until: Annotated[float | None, number("-", 0, 1, optional=True)]


@dataclass(frozen=True)
class WaterNeed(Keyed):
    """FAO-56 coefficients.

    single_coefficient, basal_coefficient : [-] Kc and Kcb at the start, in mid-season, at the end
    stage_lengths : [d] initial, development, mid-season, late
    root_depth    : [m] at full growth, in deep soil
    depletion     : [-] share p of the stored water that is easily taken, at 5 mm/d
    stand_height  : [m] of the field crop that the coefficients belong to
    """

    single_coefficient: Annotated[tuple[float, ...], numbers("-", 0.1, 1.4)]
    basal_coefficient: Annotated[tuple[float, ...], numbers("-", 0.05, 1.4)]
    stage_lengths: Annotated[tuple[float, ...], numbers("s", DAY, 200 * DAY)]
    root_depth: Annotated[CropRange, numbers("m", 0.1, 2.0)]
    depletion: Annotated[float, number("-", 0.1, 0.8)]
    stand_height: Annotated[float, number("m", 0.05, 3.0)]


@dataclass(frozen=True)
class CropLight(Sourced):
    """How growth falls with the daily light integral on the plants; no crops: for all others.

    enough : [mol/m2 d] at which more light no longer speeds growth
    half   : [mol/m2 d] the share is light / (light + half), times what makes it 1 at enough
    """

    crops: Annotated[tuple[str, ...], texts()]
    enough: Annotated[float, number("-", 5, 60)]
    half: Annotated[float, number("-", 0.1, 40)]

    def share(self, light: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return the share of growth [-] that daily light integrals [mol/m2 d] allow."""
        held = np.minimum(light, self.enough)
        return np.asarray(held / (held + self.half) * (1.0 + self.half / self.enough))


@dataclass(frozen=True)
class YieldByLight(Sourced):
    """How a picking's yield falls with the mean daily light integral while it grew.

    per_light : [-] of yield lost for each share of light lost, low and high
    enough    : [mol/m2 d] at which more light adds nothing, low and high
    """

    crops: Annotated[tuple[str, ...], texts()]
    per_light: Annotated[CropRange, numbers("-", 0, 2)]
    enough: Annotated[CropRange, numbers("-", 5, 60)]

    def share(self, light: float) -> tuple[float, float]:
        """Return the yield [-], low and high, at a light [mol/m2 d], of what enough would give."""
        ends = zip(
            (self.per_light.high, self.per_light.low),
            (self.enough.high, self.enough.low),
            strict=True,
        )
        low, high = (1.0 - per * max(0.0, 1.0 - light / enough) for per, enough in ends)
        return low, high


@dataclass(frozen=True)
class Bolting(Sourced):
    """How cold weeks make a crop flower before its time.

    chill    : [degC] day's mean at which cold begins to count, counts whole (from, to), and no more
    chilled  : [d] of whole cold from which the first bolt, and nine in ten
    juvenile : [-] of the way to harvest before which cold does not count
    """

    crops: Annotated[tuple[str, ...], texts()]
    chill: Annotated[tuple[float, ...], numbers("degC", -5, 25)]
    chilled: Annotated[CropRange, numbers("s", DAY, 200 * DAY)]
    juvenile: Annotated[float, number("-", 0, 1)]

    def rate(self, mean: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return how much of a day of cold [d] each day of such a mean [degC] is."""
        return np.asarray(np.interp(mean, self.chill, (0.0, 1.0, 1.0, 0.0)))


@dataclass(frozen=True)
class Stalk(Sourced):
    """How warmth makes a crop flower that needs no cold for it, the sooner the longer the days.

    warm_from : [degC] day's mean above which warmth adds
    day    : [h] up to the first a day's warmth counts `short` [-], from the second on whole
    warmth : [degC d] from emergence until the first show a stalk, and nine in ten
    """

    crops: Annotated[tuple[str, ...], texts()]
    warm_from: Annotated[float, number("degC", 0, 25)]
    day: Annotated[CropRange, numbers("s", 0, DAY)]
    short: Annotated[float, number("-", 0, 1)]
    warmth: Annotated[CropRange, numbers("s", 50 * DAY, 3000 * DAY)]

    def share(self, hours: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return what share of its warmth [-] a day of so many hours [h] counts."""
        ends = (self.day.low * 24.0, self.day.high * 24.0)
        return np.asarray(np.interp(hours, ends, (self.short, 1.0)))


@dataclass(frozen=True)
class Listed(Sourced):
    """Where the thermometer stood by which lists name killing temperatures; no crops: for all.

    bands : "plant" (seedlings, leaves) or "flower"
    """

    crops: Annotated[tuple[str, ...], texts()]
    bands: Annotated[tuple[str, ...], texts()]
    read_at: Annotated[str, text(choices=("shelter", "leaf"))]


def complete_bolting(values: dict[str, Any], place: str) -> dict[str, Any]:
    """Check the number of temperatures and that they rise, and make a band of the days."""
    _lengths(values, place, {"chill": 4})
    if list(values["chill"]) != sorted(values["chill"]):
        raise TableError(f"{place}, column 'chill': give four temperatures, rising")
    found: dict[str, Any] = banded(("chilled",), ("chilled",))(values, place)
    return found


def banded(bands: tuple[str, ...], in_days: tuple[str, ...] = ()) -> Any:
    """Return a completer that makes pairs into bands and seconds into days.

    bands, in_days : names of the fields concerned
    """

    def complete(values: dict[str, Any], place: str) -> dict[str, Any]:
        changed: dict[str, Any] = {}
        for name in in_days:
            held = values[name]
            changed[name] = (
                tuple(part / DAY for part in held) if isinstance(held, tuple) else held / DAY
            )
        for name in bands:
            changed[name] = _band(changed.get(name, values[name]), name, place)
        return changed

    return complete


def _band(pair: tuple[float, ...], name: str, place: str) -> CropRange | None:
    if not pair:
        return None
    if len(pair) != 2 or pair[0] > pair[1]:
        shown = name.replace("_", " ")
        raise TableError(f"{place}, column '{shown}': give two numbers, low;high")
    return CropRange(*pair)


def complete_degree_days(values: dict[str, Any], place: str) -> dict[str, Any]:
    """Make bands of base and ceiling, of which a source may print one number only."""
    doubled = {
        name: values[name] * 2 if len(values[name]) == 1 else values[name]
        for name in ("base", "ceiling")
    }
    bands = ("base", "ceiling", "degree_days")
    changed: dict[str, Any] = banded(bands, ("degree_days",))({**values, **doubled}, place)
    if changed["base"].middle >= changed["ceiling"].middle:
        raise TableError(f"{place}: the base temperature is not below the ceiling")
    return changed


def complete_cold(values: dict[str, Any], place: str) -> dict[str, Any]:
    """Make bands, of which a list may print the upper end only, and the bands that none prints."""
    kills = ("seedling_kill", "plant_kill", "flower_kill")
    bands = {
        name: (held[0] - LIST_WIDTH, held[0]) if len(held) == 1 else held
        for name, held in ((name, values[name]) for name in kills)
    }
    found: dict[str, Any] = banded((*kills, "plant_damage"))({**values, **bands}, place)
    plant = found["plant_kill"]
    if plant is None:
        raise TableError(f"{place}: column 'plant kill' is empty")
    if found["plant_damage"] is None:
        found["plant_damage"] = plant.raised(DAMAGE_ABOVE_KILL)
    if found["seedling_kill"] is None:
        # no seedling dies of cold above freezing because the grown plant dies at it
        room = max(0.0, -plant.high)
        found["seedling_kill"] = plant.raised(min(SEEDLING_ABOVE_PLANT, room))
    return found


def _lengths(values: dict[str, Any], place: str, wanted: dict[str, int]) -> None:
    for name, length in wanted.items():
        if len(values[name]) != length:
            shown = name.replace("_", " ")
            raise TableError(f"{place}, column '{shown}': give {length} numbers parted by ;")


def complete_emergence(values: dict[str, Any], place: str) -> dict[str, Any]:
    """Check that the grids are grids, and give the days in days."""
    for across, along in (("soil", "days"), ("tried", "come_up")):
        grid = values[across]
        if len(grid) != len(values[along]) or list(grid) != sorted(set(grid)):
            shown = along.replace("_", " ")
            raise TableError(
                f"{place}: '{across}' and '{shown}' need as many numbers each, {across} rising"
            )
    if len(values["soil"]) < 2:
        raise TableError(f"{place}: 'soil' and 'days' need two numbers or more")
    return {"days": tuple(part / DAY for part in values["days"])}


def complete_water(values: dict[str, Any], place: str) -> dict[str, Any]:
    """Check the number of stages, and give their lengths in days."""
    _lengths(values, place, {"single_coefficient": 3, "basal_coefficient": 3, "stage_lengths": 4})
    changed = banded(("root_depth",), ("stage_lengths",))(values, place)
    assert isinstance(changed, dict)
    return changed
