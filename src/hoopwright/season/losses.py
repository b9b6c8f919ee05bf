"""What becomes of a crop started on each day of each year: ripe when, lost to what."""

from collections.abc import Callable, Sequence
from dataclasses import fields
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, at_days, first_reaching, two_years
from hoopwright.season.crop_days import MARCH_EQUINOX, SEPTEMBER_EQUINOX, CropDays, Habits, Series
from hoopwright.season.crops import Crop

Days = NDArray[np.int64]


@dataclass(frozen=True)
class Fates:
    """One crop under one cover, arrays of shape (years, start days of the year).

    emerged, flowering, ripe : [d] counted from 1 January of the year of the start
    picked         : [d] from when on a gardener picks before a killing night or a hot spell: what
                     is eaten whole is big enough at the shortest time the seed list promises
                     (common practice, no source); fruit and pods must be ripe
    ended          : [d] first day after it is ripe on which half of the plants die of cold or have
                     made a flower stalk in long or warm days
    frost          : [-] chance of loss to cold that year, the killing band taken as evenly likely
    frost_careful  : 1 where leaves came to the top of the band, the first to die
    frost_bold     : 1 where they came to its bottom, with hardly a survivor
    heat           : [-] chance of loss to heat, the limit's band in three steps
    bolting        : [-] chance of a flower stalk made by cold weeks, or by long or warm days,
                     before there is a harvest
    unripe         : 1 where it did not ripen in the time a gardener waits
    cold_soil      : 1 where the soil was too cold to start in, or seed lay in it too long: no
                     loss, since a gardener waits until it is warm
    light          : [mol/m2 d] mean on the plants until they are picked, NaN where it is not
                     known, or no trial tells the yield by it
    """

    emerged: Days
    flowering: Days
    picked: Days
    ripe: Days
    ended: Days
    frost: Series
    frost_careful: Series
    frost_bold: Series
    heat: Series
    bolting: Series
    unripe: Series
    cold_soil: Series
    light: Series

    @cached_property
    def lost(self) -> Series:
        """Return the chance of loss to anything [-]."""
        return self.lost_with(self.frost)

    @cached_property
    def _lost_else(self) -> Series:
        return np.asarray(np.maximum(np.maximum(self.heat, self.bolting), self.unripe))

    def lost_with(self, frost: Series) -> Series:
        """Return the chance of loss with another reading of the killing band [-]."""
        return np.asarray(np.maximum(frost, self._lost_else))


def picked_from(several: Sequence[Fates], which: NDArray[np.int64]) -> Fates:
    """Return the fates of starts by the way chosen for each start day (number of it)."""
    held = {}
    for field in fields(Fates):
        parts = np.stack([getattr(one, field.name) for one in several])
        held[field.name] = parts[which, :, np.arange(len(which))].T
    return Fates(**held)


def fates_of(crop: Crop, seedbed: CropDays, standing: CropDays, how: Habits) -> Fates:
    """Return what became of the crop, with the cover run one way until it is up, then another.

    seedbed, standing : the days until plants show, and from then on
    """
    years = len(seedbed.growth)
    start = np.broadcast_to(np.arange(YEAR), (years, YEAR))
    warmth = standing.summed("growth")
    needed = crop.thermal_time()

    def grown(share: float) -> Days:
        return first_reaching(warmth, emerged, share * needed.middle) if share else emerged

    emerged = start
    if crop.comes_up:
        emerged = first_reaching(seedbed.summed("sprout"), start, 1.0)
    young = grown(how.seedling_share)
    flowering = grown(crop.stages.sensitive_from or 0.0)
    ripe = grown(1.0)
    whole = crop.habit.part not in ("pod", "fruit")
    picked = first_reaching(warmth, emerged, needed.low) if whole else ripe
    shown = grown(how.shoots_after / needed.middle) if crop.habit.sown == "set" else emerged
    shown = np.maximum(shown, grown(crop.stages.regrows_until or 0.0))
    cold = np.maximum(
        standing.deepest("seedling", shown, young),
        standing.deepest("plant", np.maximum(shown, young), picked),
    )
    if crop.cold.flower_kill is not None:
        cold = np.maximum(cold, standing.deepest("flower", flowering, picked))
    longest = how.longest_factor * crop.habit.days_to_harvest.high
    return Fates(
        emerged=emerged,
        flowering=flowering,
        picked=picked,
        ripe=ripe,
        ended=np.minimum(_next_killing(standing, ripe), _in_flower(crop, standing, emerged)),
        frost=np.clip(cold, 0.0, 1.0),
        frost_careful=(cold >= 0.0).astype(np.float64),
        frost_bold=(cold >= 1.0).astype(np.float64),
        heat=_heat(crop, standing, emerged, flowering, picked),
        bolting=np.maximum(
            _bolting(crop, standing, how, grown, picked),
            _stalked(crop, standing, emerged, picked),
        ),
        unripe=np.where((ripe - start > longest) | (ripe > 2 * YEAR), 1.0, 0.0),
        cold_soil=np.where(
            (seedbed.ready < 1.0) | (emerged - start > how.longest_emergence), 1.0, 0.0
        ),
        light=_light(crop, standing, emerged, picked),
    )


def _next_killing(standing: CropDays, after: Days) -> Days:
    """Return the first day from each on which the coldest leaf goes half through the band."""
    if "killing" not in standing.made:
        killing = two_years(standing.plant) >= 0.5
        day = np.where(killing, np.arange(2 * YEAR), 2 * YEAR)
        standing.made["killing"] = np.minimum.accumulate(day[:, ::-1], axis=1)[:, ::-1]
    coming = standing.made["killing"]
    rows = np.arange(len(after))[:, None]
    return np.asarray(coming[rows, np.minimum(after, 2 * YEAR - 1)])


def _counted(sums: Series, first: Days, after: Days) -> Series:
    """Return what running sums grow by over the days [first, after), to the next year's end."""
    begin, end = (np.minimum(day, 2 * YEAR) for day in (first, after))
    return at_days(sums, end) - at_days(sums, begin)


def _heat(crop: Crop, days: CropDays, emerged: Days, flowering: Days, picked: Days) -> Series:
    counted = (_counted(days.summed("hot", n), flowering, picked) for n in range(len(days.hot)))
    steps = [hot >= crop.spoiled_after() for hot in counted]
    killed = np.clip(days.deepest("scorched", emerged, picked), 0.0, 1.0)
    return np.asarray(np.maximum(np.mean(steps, axis=0), killed))


def _bolting(
    crop: Crop, days: CropDays, how: Habits, grown: Callable[[float], Days], picked: Days
) -> Series:
    """Return the chance that cold days before the harvest have made a stalk that shows by then.

    Only where days are longer than nights at the harvest: stalks rise in long days.
    """
    asked = crop.bolting
    if asked is None:
        return np.zeros(picked.shape)
    first = grown(asked.juvenile)
    chilled = _counted(days.summed("chill"), first, np.maximum(picked - how.bolts_after, first))
    share = (chilled - asked.chilled.low) / (asked.chilled.high - asked.chilled.low)
    by_day = picked % YEAR
    long_days = (by_day > MARCH_EQUINOX) & (by_day < SEPTEMBER_EQUINOX)
    return np.where(long_days, np.clip(share, 0.0, 1.0), 0.0)


def _light(crop: Crop, days: CropDays, emerged: Days, picked: Days) -> Series:
    """Return the mean light while it grew; not summed where nothing is told by it."""
    if crop.by_light is None:
        return np.full(picked.shape, np.nan)
    return np.asarray(
        _counted(days.summed("light"), emerged, picked) / np.maximum(picked - emerged, 1)
    )


def _stalked(crop: Crop, days: CropDays, emerged: Days, picked: Days) -> Series:
    """Return the chance that long or warm days have made a stalk before the harvest."""
    if crop.stalk is None:
        return np.zeros(picked.shape)
    asked = crop.stalk.warmth
    share = (_counted(days.summed("stalk"), emerged, picked) - asked.low) / (asked.high - asked.low)
    return np.clip(share, 0.0, 1.0)


def _in_flower(crop: Crop, days: CropDays, emerged: Days) -> Days:
    """Return the day on which half of the plants show a stalk made by long or warm days."""
    if crop.stalk is None:
        return np.full(emerged.shape, 2 * YEAR)
    return first_reaching(days.summed("stalk"), emerged, crop.stalk.warmth.middle)
