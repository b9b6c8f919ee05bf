"""What becomes of a crop started on each day of each year: ripe when, lost to what."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.season.bed_years import HARDNESS, YEAR, Digest, first_reaching
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import Crop

THIRDS = (1 / 6, 1 / 2, 5 / 6)
"""[-] middles of the thirds of a band in which any value is as likely as another."""

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
    """

    seedling_share: float = 0.15
    longest_emergence: int = 28
    least_soil: float = 4.4
    soil_days: int = 3
    cool_season: float = 20.0
    longest_factor: float = 2.0
    shoots_after: float = 100.0


@dataclass(frozen=True)
class Fates:
    """One crop under one cover, arrays of shape (years, start days of the year).

    emerged, flowering, ripe : [d] counted from 1 January of the year of the start
    picked         : [d] from when on a gardener picks before a killing night or a hot spell: what
                     is eaten whole is big enough at the shortest time the seed list promises
                     (common practice, no source); fruit and pods must be ripe
    frost          : [-] chance of loss to cold that year, the killing band taken as evenly likely
    frost_careful  : 1 where leaves came to the top of the band, the first to die
    frost_bold     : 1 where they came to its bottom, with hardly a survivor
    heat           : [-] chance of loss to heat, the limit's band in three steps
    unripe         : 1 where it did not ripen in the time a gardener waits
    cold_soil      : 1 where the soil was too cold to start in, or seed lay in it too long: no
                     loss, since a gardener waits until it is warm
    """

    emerged: Days
    flowering: Days
    picked: Days
    ripe: Days
    frost: Series
    frost_careful: Series
    frost_bold: Series
    heat: Series
    unripe: Series
    cold_soil: Series

    @property
    def lost(self) -> Series:
        """Return the chance of loss to anything [-]."""
        return self.lost_with(self.frost)

    def lost_with(self, frost: Series) -> Series:
        """Return the chance of loss with another reading of the killing band [-]."""
        return np.asarray(np.max([frost, self.heat, self.unripe], axis=0))


def fates(crop: Crop, digest: Digest, habits: Habits | None = None) -> Fates:
    """Return what became of the crop, started on every day of every year.

    Growth by hourly degree days of the air at plant height; emergence by the soil at seed depth.
    """
    how = habits or Habits()
    years = len(digest.years)
    start = np.broadcast_to(np.arange(YEAR), (years, YEAR))
    warmth = digest.warmth(crop.degrees.base.middle, crop.degrees.ceiling.middle)
    needed = crop.thermal_time()
    emerged = _emerged(crop, digest, start)
    grown = first_reaching(warmth, emerged, how.seedling_share * needed.middle)
    flowering = first_reaching(warmth, emerged, (crop.stages.sensitive_from or 0.0) * needed.middle)
    ripe = first_reaching(warmth, emerged, needed.middle)
    whole = crop.habit.part not in ("pod", "fruit")
    picked = first_reaching(warmth, emerged, needed.low) if whole else ripe
    buried = crop.habit.sown == "set"
    shown = first_reaching(warmth, emerged, how.shoots_after) if buried else emerged
    regrown = first_reaching(warmth, emerged, (crop.stages.regrows_until or 0.0) * needed.middle)
    cold = _Cold(crop, digest, np.maximum(shown, regrown), grown, flowering, picked)
    return Fates(
        emerged=emerged,
        flowering=flowering,
        picked=picked,
        ripe=ripe,
        frost=cold.chance(),
        frost_careful=cold.reached(top=True),
        frost_bold=cold.reached(top=False),
        heat=_heat(crop, digest, emerged, flowering, picked, how),
        unripe=_unripe(crop, start, ripe, how),
        cold_soil=_cold_soil(crop, digest, start, emerged, how),
    )


def _emerged(crop: Crop, digest: Digest, start: Days) -> Days:
    if crop.planted or crop.emergence is None or crop.germination is None:
        return start
    sums = digest.sprouting(crop.emergence, crop.germination)
    return first_reaching(sums, start, 1.0)


def _unripe(crop: Crop, start: Days, ripe: Days, how: Habits) -> Series:
    longest = how.longest_factor * crop.habit.days_to_harvest.high
    return ((ripe - start > longest) | (ripe > 2 * YEAR)).astype(np.float64)


def _cold_soil(crop: Crop, digest: Digest, start: Days, emerged: Days, how: Habits) -> Series:
    """Return 1 where the soil was too cold to start in, or seed came up too late."""
    if crop.planted or crop.germination is None:
        wanted = crop.growth.soil_to_plant or crop.degrees.base.middle
    else:
        wanted = crop.germination.least_soil
    cold = digest.soil_before(how.soil_days)[:, :YEAR] < max(how.least_soil, wanted)
    return (cold | (emerged - start > how.longest_emergence)).astype(np.float64)


def between(soft: CropRange, hard: CropRange, hardness: float) -> CropRange:
    """Return the killing band [degC] of a plant hardened by a share [-]."""
    return CropRange(
        soft.low + hardness * (hard.low - soft.low), soft.high + hardness * (hard.high - soft.high)
    )


class _Cold:
    """The coldest leaf of each stage against that stage's killing band.

    emerged : from when on cold kills for good: tops that come back from below the ground do not
    count until then
    """

    def __init__(
        self,
        crop: Crop,
        digest: Digest,
        emerged: Days,
        grown: Days,
        flowering: Days,
        picked: Days,
    ) -> None:
        bands = crop.cold
        self.pairs: list[tuple[Series, CropRange]] = []
        for hardness, coldest in zip(HARDNESS, digest.by_hardness, strict=True):
            for first, last, soft in (
                (emerged, grown, bands.seedling_kill),
                (np.maximum(emerged, grown), picked, bands.plant_kill),
            ):
                band = between(soft, crop.hardened.hardened_kill, hardness)
                self.pairs.append((coldest.between(first, last), band))
        if bands.flower_kill is not None:
            self.pairs.append((digest.coldest.between(flowering, picked), bands.flower_kill))

    def chance(self) -> Series:
        """Return how far the coldest leaf went into a band, 0 at its top and 1 at its bottom."""
        shares = [
            np.clip((band.high - coldest) / max(band.high - band.low, 1e-6), 0.0, 1.0)
            for coldest, band in self.pairs
        ]
        return np.asarray(np.max(shares, axis=0))

    def reached(self, top: bool) -> Series:
        """Return 1 where the top (or the bottom) of a band was reached."""
        hits = [coldest <= (band.high if top else band.low) for coldest, band in self.pairs]
        return np.asarray(np.any(hits, axis=0), dtype=np.float64)


def _hot_limits(crop: Crop, how: Habits) -> list[tuple[float, float]]:
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


def _heat(
    crop: Crop, digest: Digest, emerged: Days, flowering: Days, picked: Days, how: Habits
) -> Series:
    rows = np.arange(len(digest.years))[:, None]
    last = 2 * YEAR
    begin, end = np.minimum(flowering, last), np.minimum(picked, last)
    steps = []
    for limit, mean in _hot_limits(crop, how):
        counted = digest.hot_days(limit, mean)
        steps.append(counted[rows, end] - counted[rows, begin] >= crop.spoiled_after())
    spoiled = np.mean(steps, axis=0)
    death = crop.stages.death
    assert death is not None  # the row for all crops has one
    hottest = -digest.hottest.between(emerged, picked)
    killed = np.clip((hottest - death.low) / max(death.high - death.low, 1e-6), 0.0, 1.0)
    return np.asarray(np.maximum(spoiled, killed))
