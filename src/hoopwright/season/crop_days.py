"""What each day of many years is to one crop: its growth, and what would harm it."""

from collections.abc import Sequence
from dataclasses import fields
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, Digest, RangeLeast, mean_before, summed, two_years
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import Crop

THIRDS = (1 / 6, 1 / 2, 5 / 6)
"""[-] middles of the thirds of a band in which any value is as likely as another."""

MARCH_EQUINOX, SEPTEMBER_EQUINOX = 79, 265
"""[d] of the year between which days are longer than nights."""

KILLING_NIGHTS = (-10.0, 2.0)
"""[degC] of the station's nightly minimum among which crops die; for `shelter_drop`."""

Series = NDArray[np.float64]
Days = NDArray[np.int64]


@dataclass(frozen=True)
class Habits:
    """How a crop's life is cut into stages and how long a gardener waits; assumptions all.

    seedling_share    : [-] of the way to harvest that a plant counts as a seedling
    longest_emergence : [d] seed lies in the soil at most before it rots or is given up
    least_soil        : [degC] of the soil to start anything in: 40 degF for cool-season crops
                        (Utah State extension, secondary copy read). Seed wants the least it
                        germinates at, plants their soil or base, where those are warmer
    cool_season       : [degC] top of the best months up to which a crop is of the cool season
    soil_days         : [d] the soil must have been that warm on the mean of so many
    longest_factor    : [-] times the seed list's longest days within which a crop must be ripe
    shoots_after      : [degC d] above base that tubers and cloves need to send up shoots, which
                        until then are safe in the soil
    shelter_drop      : [K] by which the leaves of an open bed are colder than the air in a
                        thermometer shelter on nights that kill; see `shelter_drop`
    bolts_after       : [d] that a cold-made flower stalk takes to show
    """

    seedling_share: float = 0.15
    longest_emergence: int = 28
    least_soil: float = 4.4
    soil_days: int = 3
    cool_season: float = 20.0
    longest_factor: float = 2.0
    shoots_after: float = 100.0
    shelter_drop: float = 0.0
    bolts_after: int = 14


def shelter_drop(open_bed: Digest) -> float:
    """Return how much colder [K] the open bed's leaves are than the shelter's air on cold nights.

    The lists of killing temperatures name that air; this turns them to leaves. The mean over the
    nights of all years whose shelter minimum lies among the killing ones; 0 where it is not known.
    """
    station = open_bed.years.station
    if station is None:
        return 0.0
    least = station.reshape(len(station), YEAR, 24).min(axis=2)
    cold = (least >= KILLING_NIGHTS[0]) & (least <= KILLING_NIGHTS[1])
    if not cold.any():
        return 0.0
    return max(0.0, float((least - open_bed.least_leaf)[cold].mean()))


@dataclass(frozen=True)
class CropDays:
    """Days of many years for one crop under one way of running the cover, shape (years, 365).

    sprout        : [-] share of emergence the day brings; growth: [degC d], light reckoned with
    seedling, plant, flower : how far the coldest leaf goes into the killing band: 0 at its top, 1
                    at its bottom, beyond either where it goes beyond
    scorched      : the same of the hottest leaf, into the band of heat that kills
    hot           : 1 on a hot day, by three readings of the limit, shape (3, years, 365)
    chill         : [d] of cold that makes it flower, 1 at the temperature that does most
    stalk         : [degC d] of warmth that makes it flower, of short days less
    light         : [mol/m2 d] on the plants; NaN where it is not known
    ready         : 1 where the soil is warm enough to start in
    """

    sprout: Series
    growth: Series
    seedling: Series
    plant: Series
    flower: Series
    scorched: Series
    hot: Series
    chill: Series
    stalk: Series
    light: Series
    ready: Series

    @cached_property
    def made(self) -> dict[Any, Any]:
        """What is made of these days once, for all rules that run the cover so and all starts."""
        return {}

    def summed(self, name: str, reading: int | None = None) -> Series:
        """Return the running sums of a field over two years (of `hot` by one of its readings)."""
        if (name, reading) not in self.made:
            daily = getattr(self, name)
            daily = daily if reading is None else daily[reading]
            self.made[name, reading] = summed(two_years(daily))
        return np.asarray(self.made[name, reading])

    def deepest(self, name: str, first: Days, after: Days) -> Series:
        """Return a field's greatest value of the days [first, after); below 0 where none is."""
        if ("deepest", name) not in self.made:
            daily = getattr(self, name)
            none = daily.max() < 0.0
            self.made["deepest", name] = None if none else RangeLeast(two_years(-daily))
        held = self.made["deepest", name]
        if held is None:
            return np.full(first.shape, -1.0)
        return np.asarray(np.maximum(-held.between(first, after), -1.0), dtype=np.float64)


def crop_days(crop: Crop, digest: Digest, how: Habits) -> CropDays:
    """Return the days of a crop under one cover."""
    shape = digest.least_leaf.shape
    warmth = digest.warmth(crop.degrees.base.middle, crop.degrees.ceiling.middle)
    sprout = np.ones(shape)
    if crop.comes_up:
        assert crop.emergence is not None
        assert crop.germination is not None
        sprout = digest.sprouting(crop.emergence, crop.germination)
    drop, bands = how.shelter_drop, crop.cold
    hard = crop.hardened.hardened_kill.raised(-drop)
    nothing = np.full(shape, -1.0)
    flower = nothing
    if bands.flower_kill is not None:
        at = bands.flower_kill if crop.flower_read_at_leaf else bands.flower_kill.raised(-drop)
        flower = (at.high - digest.least_leaf) / max(at.high - at.low, 1e-6)
    death = crop.stages.death
    assert death is not None  # the row for all crops has one
    return CropDays(
        sprout=sprout,
        growth=warmth if digest.light is None else warmth * crop.light.share(digest.light),
        seedling=_depth(digest, bands.seedling_kill.raised(-drop), hard),
        plant=_depth(digest, bands.plant_kill.raised(-drop), hard),
        flower=flower,
        scorched=(digest.greatest_leaf - death.low) / max(death.high - death.low, 1e-6),
        hot=np.stack(
            [
                (digest.greatest_air > limit) & (digest.mean_air > mean)
                for limit, mean in hot_limits(crop, how)
            ]
        ).astype(np.float64),
        chill=np.zeros(shape) if crop.bolting is None else crop.bolting.rate(digest.mean_air),
        stalk=_stalk(crop, digest),
        light=np.full(shape, np.nan) if digest.light is None else digest.light,
        ready=np.where(
            mean_before(digest.mean_soil, how.soil_days) >= wanted_soil(crop, how), 1.0, 0.0
        ),
    )


def _stalk(crop: Crop, digest: Digest) -> Series:
    asked, hours = crop.stalk, digest.day_hours
    if asked is None or hours is None:
        return np.zeros(digest.mean_air.shape)
    return np.asarray(np.maximum(digest.mean_air - asked.warm_from, 0.0) * asked.share(hours))


def _depth(digest: Digest, soft: CropRange, hard: CropRange) -> Series:
    """Return how deep the coldest leaf goes into the band that the plants' hardness sets."""
    hardness = digest.hardness
    high = soft.high + hardness * (hard.high - soft.high)
    low = soft.low + hardness * (hard.low - soft.low)
    return np.asarray((high - digest.least_leaf) / np.maximum(high - low, 1e-6))


def wanted_soil(crop: Crop, how: Habits) -> float:
    """Return the soil [degC] to start the crop in."""
    if crop.planted or crop.germination is None:
        wanted = crop.growth.soil_to_plant or crop.degrees.base.middle
    else:
        wanted = crop.germination.least_soil
    return max(how.least_soil, wanted)


def hot_limits(crop: Crop, how: Habits) -> list[tuple[float, float]]:
    """Return three readings, equally likely, of a day's maximum and mean [degC] that harm the crop.

    Pollen of the warm season's crops feels the hour: their mean is of no account. The sheets'
    limits for cool-season crops are those of places with warm nights; Knott's monthly means, from
    the top of the best ones to the warmest it bears, call the same noons good where nights are
    cold. So there both must be passed.
    """
    limits = [crop.heat.limit.at(share) for share in THIRDS]
    best, most = crop.growth.optimum_month.high, crop.growth.most_month
    if best > how.cool_season:
        return [(limit, -np.inf) for limit in limits]
    return list(zip(limits, (CropRange(best, most).at(share) for share in THIRDS), strict=True))


def spliced(parts: Sequence[CropDays], which: NDArray[np.int64]) -> CropDays:
    """Return days taken from several ways to run the cover, by the day of the year.

    which : number of the way on each of the 365 days. The soil of a way is taken as if it had
    been kept up all the time: after a change it lags by some days in truth, which is left out.
    """
    first = int(which[0])
    if (which == first).all():
        return parts[first]
    held = {}
    for field in fields(CropDays):
        found = getattr(parts[first], field.name).copy()
        for number in set(which.tolist()) - {first}:
            days = which == number
            found[..., days] = getattr(parts[number], field.name)[..., days]
        held[field.name] = found
    return CropDays(**held)
