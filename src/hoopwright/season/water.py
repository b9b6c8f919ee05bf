"""The water of one bed, day by day, in the open and under the cover: what the crop drinks, what
dries off, when to water.

FAO-56 dual coefficient balance. Under film no rain comes in and the reference is that of the air
under the film; the caller gives both. The paper is made for fields: for a bed of a few square
metres take the amounts as +-25 % (our judgement) and look at the soil.
"""

import numpy as np

from hoopwright.climate.air import saturation_over_water
from hoopwright.climate.reference_evapotranspiration import (
    clear_sky_radiation,
    daily_extraterrestrial,
    daily_reference,
)
from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.results import UnderCover
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.crop_records import WaterNeed
from hoopwright.season.water_coefficients import (
    WaterStore,
    canopy_cover,
    climate_shift,
    depletion_share,
    evaporating_share,
    evaporation_reduction,
    greatest_coefficient,
    stage_curve,
    stress,
)


@dataclass(frozen=True)
class Watering:
    """How the bed is watered.

    wetted   : [-] share of the soil that watering wets; FAO-56 table 20: 1 by can or sprinkler,
               0.3 to 0.4 by drip
    drip     : True where the wet spots lie under the plants
    by_hand  : True to water whenever the easy water is used up; False to give nothing
    """

    wetted: float = 1.0
    drip: bool = False
    by_hand: bool = True


#: Trickle wets 0.3 to 0.4 of the ground: FAO-56 table 20, from memory.
DRIP = Watering(wetted=0.35, drip=True)


@dataclass(frozen=True)
class DailyAir:
    """What the balance needs of each day, arrays of one length.

    reference       : [mm] ET0 where the crop stands
    rain            : [mm] that reaches the soil (0 under film)
    wind            : [m/s] at 2 m
    least_humidity  : [-] of the day
    """

    reference: Series
    rain: Series
    wind: Series
    least_humidity: Series

    def __post_init__(self) -> None:
        lengths = {len(self.reference), len(self.rain), len(self.wind), len(self.least_humidity)}
        if len(lengths) != 1:
            raise ValueError("the days of reference, rain, wind and humidity are not as many")


@dataclass(frozen=True)
class Balance:
    """The balance of each day [mm]; depletions are those at its end.

    transpired, evaporated : by the crop and from the soil
    given                  : watering, as mm over the whole bed
    lost                   : rain and watering that ran through
    root_depletion, skin_depletion : below field capacity
    stressed               : [-] Ks of the day
    evaporation_coefficient: [-] Ke
    """

    transpired: Series
    evaporated: Series
    given: Series
    lost: Series
    root_depletion: Series
    skin_depletion: Series
    stressed: Series
    evaporation_coefficient: Series

    @property
    def need(self) -> float:
        """Return all the water given [mm] over the season."""
        return float(self.given.sum())

    @property
    def interval(self) -> float:
        """Return the mean days between waterings; infinite where at most one was given."""
        days = np.flatnonzero(self.given > 0)
        return float(np.diff(days).mean()) if days.size > 1 else float("inf")


def balance(
    need: WaterNeed,
    days: DailyAir,
    store: WaterStore,
    bed_depth: float,
    open_bottom: bool = True,
    watering: Watering | None = None,
    wet_at_start: bool = True,
) -> Balance:
    """Return the daily balance from planting; FAO-56 chapters 7 and 8, eqs. 69 to 86.

    bed_depth   : [m] of soil in the box; roots stop there if the bottom is closed
    open_bottom : roots go on into the ground below (taken as like soil)
    Roots and height grow straight with the basal coefficient from 0.15 and 0.05 m.
    Water moves through the same day; nothing rises from below.
    """
    how = watering or Watering()
    number = len(days.reference)
    age = np.arange(number) + 0.5
    basal = stage_curve(need.basal_coefficient, need.stage_lengths, age)
    grown = _grown(basal, need)
    height = 0.05 + (need.stand_height - 0.05) * grown
    shift = climate_shift(days.wind, days.least_humidity, height)
    basal = basal + np.where(basal > 0.45, shift, 0.0)
    greatest = greatest_coefficient(basal, days.wind, days.least_humidity, height)
    shade = canopy_cover(basal, greatest, height)
    deepest = need.root_depth.low if open_bottom else min(need.root_depth.low, bed_depth)
    roots = 0.15 + (max(deepest, 0.15) - 0.15) * grown
    return _march(need, days, store, how, basal, greatest, shade, roots, wet_at_start)


def _grown(basal: Series, need: WaterNeed) -> Series:
    """Return how far the crop has grown [-]: it never shrinks again."""
    start, middle, _ = need.basal_coefficient
    share = (basal - start) / max(middle - start, 1e-6)
    return np.asarray(np.maximum.accumulate(np.clip(share, 0.0, 1.0)))


def _march(
    need: WaterNeed,
    days: DailyAir,
    store: WaterStore,
    how: Watering,
    basal: Series,
    greatest: Series,
    shade: Series,
    roots: Series,
    wet_at_start: bool,
) -> Balance:
    rows = np.zeros((len(basal), 8))
    wetted = how.wetted
    skin = 0.0 if wet_at_start else store.evaporable
    root = 0.0 if wet_at_start else 0.5 * store.available(float(roots[0]))
    for day, reference in enumerate(days.reference):
        available = store.available(float(roots[day]))
        share = float(depletion_share(need.depletion, basal[day] * reference))
        gift = root if how.by_hand and root >= share * available else 0.0
        rain = float(days.rain[day])
        if rain > 0.2 * reference:  # FAO-56 ch. 7: rain wets all; less than 0.2 ET0 is nothing
            wetted = 1.0
        elif gift > 0:
            wetted = how.wetted
        exposed = float(evaporating_share(shade[day], wetted, how.drip and wetted < 1))
        skin = max(skin - rain - gift / wetted, 0.0)
        room = root - rain - gift
        lost, root = max(-room, 0.0), max(room, 0.0)
        unstressed = float(stress(root, available, share))
        loss = float(evaporation_reduction(skin, store)) * (greatest[day] - basal[day])
        surface = max(min(loss, exposed * greatest[day]), 0.0)
        # The skin cannot give more than it holds.
        evaporated = min(surface * reference, exposed * (store.evaporable - skin))
        transpired = unstressed * basal[day] * reference
        skin = min(skin + evaporated / exposed, store.evaporable)
        root = min(root + evaporated + transpired, available)
        rows[day] = transpired, evaporated, gift, lost, root, skin, unstressed, surface
    return Balance(*(rows[:, column] for column in range(8)))


def litres(water: float, area: float) -> float:
    """Return litres for a depth [mm] over an area [m2]."""
    return water * area


MEGAJOULES = 3600e-6
"""[MJ/m2] in one hour of 1 W/m2."""

STILL_AIR = 208.0 / 295.0
"""[m/s] wind at 2 m that gives FAO-56's reference the aerodynamic resistance of 295 s/m measured
in a plastic house (Fernandez et al. 2010, from memory); FAO-56 eq. 4: ra = 208/u2."""


def covered_air(
    run: UnderCover, first: int = 0, days: int | None = None, rain_passes: float = 0.0
) -> DailyAir:
    """Return the days under the cover from a run of the heat model.

    rain_passes : [-] share of the rain that comes through, 0 for film, 1 for fabric or mesh
    FAO-56's reference with the inside air and light and a fixed still wind: its wind function
    fails under a cover. The sky's long-wave is left as in the open, which makes it a little low.
    """
    weather = run.weather
    hours = _hours(weather, first, days)
    celsius = _by_day(run.air[hours])
    vapour = _by_day(run.vapour[hours]) / 1000.0
    light = _by_day(run.light[hours]).sum(axis=1) * MEGAJOULES
    outside = _by_day(weather.global_horizontal[hours]).sum(axis=1) * MEGAJOULES
    # Keep the sky's own cloudiness: inside light over a clear sky dimmed as much.
    passed = light / np.maximum(outside, 1e-6)
    clear = _clear(weather, first, len(celsius)) * np.clip(passed, 0.05, 1.0)
    rain = rain_passes * _by_day(weather.precipitation[hours])
    still = np.full(len(celsius), STILL_AIR)
    return _daily(weather, celsius, vapour, still, light, clear, rain)


def _daily(
    weather: Weather,
    celsius: Series,
    vapour: Series,
    wind: Series,
    light: Series,
    clear: Series,
    rain: Series,
) -> DailyAir:
    found = daily_reference(
        celsius.max(axis=1),
        celsius.min(axis=1),
        vapour.mean(axis=1),
        wind,
        light,
        clear,
        weather.station.elevation,
    )
    humidity = vapour * 1000.0 / saturation_over_water(celsius)
    return DailyAir(
        reference=np.maximum(found.reference, 0.0),
        rain=np.nan_to_num(rain).sum(axis=1),
        wind=np.asarray(wind, dtype=np.float64),
        least_humidity=np.clip(humidity.min(axis=1), 0.0, 1.0),
    )


def _hours(weather: Weather, first: int, days: int | None) -> slice:
    whole = len(weather) // 24
    count = whole - first if days is None else days
    if first < 0 or count < 1 or first + count > whole:
        raise SeasonError(f"the record has {whole} days; {count} from day {first} cannot be had")
    return slice(24 * first, 24 * (first + count))


def _by_day(hours: Series) -> Series:
    return hours.reshape(-1, 24)


def _clear(weather: Weather, first: int, days: int) -> Series:
    begun = weather.start.timetuple().tm_yday + first
    number = np.asarray((begun - 1 + np.arange(days)) % 365 + 1, dtype=np.float64)
    outside = daily_extraterrestrial(weather.station.latitude, number)
    return np.asarray(clear_sky_radiation(outside, weather.station.elevation))
