"""What becomes of a crop started on each day of each year: ripe when, lost to what."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.season.bed_years import HARDNESS, YEAR, Digest, first_reaching
from hoopwright.season.crop_records import Band
from hoopwright.season.crops import Crop

Series = NDArray[np.float64]
Days = NDArray[np.int64]


@dataclass(frozen=True)
class Habits:
    """How a crop's life is cut into stages and how long a gardener waits; assumptions all.

    seedling_share    : [-] of the way to harvest that a plant counts as a seedling
    longest_emergence : [d] seed lies in the soil at most before it is given up
    longest_factor    : [-] times the seed list's longest days within which a crop must be ripe
    shoots_after      : [degC d] above base that tubers and cloves need to send up shoots, which
                        until then are safe in the soil
    """

    seedling_share: float = 0.15
    longest_emergence: int = 40
    longest_factor: float = 2.0
    shoots_after: float = 100.0


@dataclass(frozen=True)
class Fates:
    """One crop under one cover, arrays of shape (years, start days of the year).

    emerged, flowering, ripe : [d] counted from 1 January of the year of the start
    frost          : [-] chance of loss to cold that year, the killing band taken as evenly likely
    frost_careful  : 1 where leaves came to the top of the band, the first to die
    frost_bold     : 1 where they came to its bottom, with hardly a survivor
    heat           : [-] chance of loss to heat, the limit's band in three steps
    unripe         : 1 where it did not come up or ripen in the time a gardener waits
    """

    emerged: Days
    flowering: Days
    ripe: Days
    frost: Series
    frost_careful: Series
    frost_bold: Series
    heat: Series
    unripe: Series

    @property
    def lost(self) -> Series:
        """Return the chance of loss to anything [-]."""
        return np.maximum(np.maximum(self.frost, self.heat), self.unripe)

    def lost_with(self, frost: Series) -> Series:
        """Return the chance of loss with another reading of the killing band [-]."""
        return np.maximum(np.maximum(frost, self.heat), self.unripe)


def fates(crop: Crop, digest: Digest, habits: Habits | None = None) -> Fates:
    """Return what became of the crop, started on every day of every year.

    Growth by hourly degree days of the air at plant height; emergence by the soil at seed depth.
    """
    how = habits or Habits()
    years = len(digest.years)
    start = np.broadcast_to(np.arange(YEAR), (years, YEAR))
    warmth = digest.warmth(crop.growth.base, crop.growth.ceiling)
    needed = crop.thermal_time().middle
    emerged = _emerged(crop, digest, start)
    grown = first_reaching(warmth, emerged, how.seedling_share * needed)
    flowering = first_reaching(warmth, emerged, crop.heat.sensitive_from * needed)
    ripe = first_reaching(warmth, emerged, needed)
    buried = crop.habit.sown == "set"
    shown = first_reaching(warmth, emerged, how.shoots_after) if buried else emerged
    cold = _Cold(crop, digest, shown, grown, flowering, ripe)
    return Fates(
        emerged=emerged,
        flowering=flowering,
        ripe=ripe,
        frost=cold.chance(),
        frost_careful=cold.reached(top=True),
        frost_bold=cold.reached(top=False),
        heat=_heat(crop, digest, emerged, flowering, ripe),
        unripe=_unripe(crop, start, emerged, ripe, how),
    )


def _emerged(crop: Crop, digest: Digest, start: Days) -> Days:
    if crop.planted or crop.emergence is None:
        return start
    sums = digest.sprouting(crop.emergence, crop.germination)
    return first_reaching(sums, start, 1.0)


def _unripe(crop: Crop, start: Days, emerged: Days, ripe: Days, how: Habits) -> Series:
    longest = how.longest_factor * crop.habit.days_to_harvest.high
    too_long = (ripe - start > longest) | (ripe > 2 * YEAR)
    too_late = emerged - start > how.longest_emergence
    return (too_long | too_late).astype(np.float64)


def between(soft: Band, hard: Band, hardness: float) -> Band:
    """Return the killing band [degC] of a plant hardened by a share [-]."""
    return Band(
        soft.low + hardness * (hard.low - soft.low), soft.high + hardness * (hard.high - soft.high)
    )


class _Cold:
    """The coldest leaf of each stage against that stage's killing band."""

    def __init__(
        self,
        crop: Crop,
        digest: Digest,
        emerged: Days,
        grown: Days,
        flowering: Days,
        ripe: Days,
    ) -> None:
        bands = crop.cold
        self.pairs: list[tuple[Series, Band]] = []
        for hardness, coldest in zip(HARDNESS, digest.by_hardness, strict=True):
            for first, last, soft in (
                (emerged, grown, bands.seedling_kill),
                (grown, ripe, bands.plant_kill),
            ):
                band = between(soft, bands.hardened_kill, hardness)
                self.pairs.append((coldest.between(first, last), band))
        if bands.flower_kill is not None:
            self.pairs.append((digest.coldest.between(flowering, ripe), bands.flower_kill))

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


def _heat(crop: Crop, digest: Digest, emerged: Days, flowering: Days, ripe: Days) -> Series:
    rows = np.arange(len(digest.years))[:, None]
    last = 2 * YEAR
    begin, end = np.minimum(flowering, last), np.minimum(ripe, last)
    steps = []
    for limit in (crop.heat.limit.low, crop.heat.limit.middle, crop.heat.limit.high):
        counted = digest.hot_days(limit)
        steps.append(counted[rows, end] - counted[rows, begin] >= crop.heat.spoils_after)
    spoiled = np.mean(steps, axis=0)
    death = crop.heat.death
    hottest = -digest.hottest.between(emerged, ripe)
    killed = np.clip((hottest - death.low) / max(death.high - death.low, 1e-6), 0.0, 1.0)
    return np.asarray(np.maximum(spoiled, killed))
