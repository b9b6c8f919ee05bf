"""When to sow and plant: the days on which a crop comes through at a chosen risk."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import NO_ODDS, YEAR, BedYears, Digest, SeasonError
from hoopwright.season.crop_days import CropDays, Habits, Series
from hoopwright.season.crops import Crop
from hoopwright.season.harvests import (
    Flags,
    HarvestDates,
    cleared_days,
    first_flowers,
    first_harvest,
    harvest_weeks,
    middle_harvest,
)
from hoopwright.season.losses import Fates, picked_from
from hoopwright.season.running import ALWAYS_OFF, Covered, Rule, open_bed, tried

Cause = Literal["frost", "heat", "bolting", "too short", "cold soil", "year's end"]

ONE_IN_TEN = 0.1
SHORTEST_RUN = 5
"""[d] a stretch of good start days must last, lest one lucky day be called a season, and so must
what parts two stretches, lest one unlucky day end it; ours."""
USUAL = 0.5
"""[-] of the years in which the soil must be warm enough on a start day; ours."""
SOME = 0.05
"""[-] of plants in flower before the harvest from which it is told; ours."""
RESAMPLES = 200
WORTH = 3.0
"""[d] of waiting that a hundredth of loss is worth when ways are weighed: ours."""


@dataclass(frozen=True)
class DateRange:
    """A day of the year (0 is the first) with the 90 % interval of its sampling error.

    low, high : day; NaN where fewer than nine in ten resamples of the years have such a day
    drawn     : the day in each resample, NaN where there is none. The same years are drawn for
                every cover, so the days of two covers can be taken from each other
    """

    day: int
    low: float
    high: float
    drawn: tuple[float, ...] = field(default=(), repr=False)


@dataclass(frozen=True)
class Stretch:
    """Start days from first to last on which the crop comes through, and what ends them.

    before, after : what stands in the way the day before the first and the day after the last
    """

    first: int
    last: int
    before: Cause
    after: Cause


@dataclass(frozen=True)
class Losses:
    """Of `years` starts on `day`, how many were lost to each cause (expected number)."""

    day: int
    years: int
    frost: float
    heat: float
    bolting: float
    too_short: float
    cold_soil: float


@dataclass(frozen=True)
class Window:
    """One crop under one cover at one risk, the cover run by the rule that suits each start best.

    earliest, latest : first day of the first stretch and last day of the last; None for none
    careful, bold    : (earliest, latest) if the killing band is read at its top or its bottom
    picking          : [-] yield of a picking of that start by its light, of the best, low and high;
                       None where no trial knows it
    rule             : how the cover is run for a start on the earliest day (or the best)
    last_rule        : the same for a start on the latest day
    middle_harvest   : [d] median first harvest of a start on each of the 365 days; NaN where lost
    cleared          : [d] when picking ends, of a start on each of the 365 days; NaN where lost
    harvest_weeks    : [weeks] of the year in which there is something to pick, sown again and again
    ripe_by_year     : [d] first harvest of each year's start on each of the 365 days, -1 where the
                       chance of loss is a half or more, shape (years, 365); None once it is used
    harvest, losses  : of a start on the earliest day (or on the best day, where none is good)
    up               : median day from which plants of that start show
    flowering        : median day of first flowers from that start; for crops that need insects
                       the cover must be open from then on
    hindrance        : what stands in the way where there is no window, else None
    obstacles        : for each of the 365 start days what loses most starts, or "" on a good day
    cautions         : sentences on how sure this is
    stalks           : the good start day on which most flower in long or warm days before there is
                       a harvest, and their share [-]; None where hardly any do
    """

    crop: str
    cover: str
    risk: float
    years: int
    earliest: DateRange | None
    latest: DateRange | None
    stretches: tuple[Stretch, ...]
    careful: tuple[int, int] | None
    bold: tuple[int, int] | None
    harvest: HarvestDates
    flowering: float
    up: float
    losses: Losses
    hindrance: Cause | None
    obstacles: tuple[Cause | Literal[""], ...]
    cautions: tuple[str, ...]
    stalks: tuple[int, float] | None = None
    picking: tuple[float, float] | None = None
    rule: Rule = ALWAYS_OFF
    last_rule: Rule = ALWAYS_OFF
    middle_harvest: tuple[float, ...] = field(default=(), repr=False)
    cleared: tuple[float, ...] = field(default=(), repr=False)
    harvest_weeks: float = 0.0
    ripe_by_year: NDArray[np.int16] | None = field(default=None, repr=False, compare=False)

    @property
    def start_days(self) -> int:
        """Return on how many days of the year the crop can be started."""
        return sum(stretch.last - stretch.first + 1 for stretch in self.stretches)


def window(
    crop: Crop,
    cover: Digest | Covered,
    risk: float = ONE_IN_TEN,
    habits: Habits | None = None,
    seed: int = 1,
    known: dict[Digest, CropDays] | None = None,
) -> Window:
    """Return when the crop can be started with at most this risk of losing it.

    A day counts as long as the years cannot tell its odds from the risk: one standard error more,
    so that a date more or less lost does not move a window by weeks. The careful dates keep the
    risk itself, the killing band read at its top.

    cover : the bed run one way, or a cover with all its ways, of which each start takes the best
    risk  : [-] of loss before the first harvest, the mean over the years of each year's chance
    known : see `running.tried`
    A typical year is refused: it carries no odds.
    """
    held = open_bed(cover.years.name, cover) if isinstance(cover, Digest) else cover
    how = habits or Habits()
    years = held.digests[0].years
    if years.typical_year:
        raise SeasonError(NO_ODDS)
    if not 0 < risk < 1:
        raise SeasonError(f"a risk lies between 0 and 1, not {risk:g}")
    rules, several = zip(*tried(crop, held, how, known), strict=True)
    even = np.full((1, len(years)), 1.0 / len(years))
    told = risk + doubt(risk, len(years))
    good = kept_days(several, risk)
    chosen = _chosen(several, told, even)
    fate = picked_from(several, chosen)
    spans = spans_of(good)
    day = spans[0][0] if spans else _best_day(fate)
    last = spans[-1][1] if spans else day
    causes = _causes(fate)

    def beyond(at: int) -> Cause:
        return causes[at] if 0 <= at < YEAR else "year's end"

    middle = middle_harvest(fate)
    cleared = cleared_days(crop, fate, middle)
    ways = (several[0], fate) if len(several) > 1 else (fate,)
    draw = _resampled(ways, told, seed) if spans else None
    careful = [(one, one.lost_with(one.frost_careful)) for one in several]
    bold = [(one, one.lost_with(one.frost_bold)) for one in several]
    return Window(
        crop=crop.key,
        cover=held.name,
        risk=risk,
        years=len(years),
        earliest=_ranged(spans[0][0], draw, first=True) if draw is not None else None,
        latest=_ranged(spans[-1][1], draw, first=False) if draw is not None else None,
        stretches=tuple(Stretch(a, b, beyond(a - 1), beyond(b + 1)) for a, b in spans),
        careful=_ends(_good_days(careful, risk, even)[0]),
        bold=_ends(_good_days(bold, told, even)[0]),
        harvest=first_harvest(fate, day),
        flowering=first_flowers(fate, day),
        up=float(np.median(fate.emerged[:, day])),
        losses=_losses(fate, day),
        hindrance=None if spans else causes[day],
        obstacles=tuple("" if fine else why for fine, why in zip(good, causes, strict=True)),
        cautions=_cautions(crop, len(years), risk),
        stalks=_stalks(crop, fate, good),
        picking=_picking(crop, fate, day),
        rule=rules[chosen[day]],
        last_rule=rules[chosen[last]],
        middle_harvest=middle,
        cleared=cleared,
        harvest_weeks=harvest_weeks(good, middle, cleared),
        ripe_by_year=np.where(fate.lost < 0.5, fate.ripe, -1).astype(np.int16),
    )


def _chosen(several: Sequence[Fates], risk: float, even: Series) -> NDArray[np.int64]:
    """Return by which of the ways tried each start day does best.

    Those that keep the risk before those that do not; then what loses least, a hundredth of loss
    weighing as much as `WORTH` days of waiting for the harvest.
    """
    scores = []
    for fate in several:
        safe, lost = _kept_by(fate, fate.lost, risk, even)
        waits = np.minimum(np.median(fate.ripe, axis=0), 2 * YEAR)
        scores.append(np.where(safe[0], 0.0, 10_000.0) + waits + 100.0 * WORTH * lost[0])
    return np.asarray(np.argmin(scores, axis=0))


def _week(daily: Series) -> Series:
    """Return the mean of the week about each start day, over the last axis.

    Neighbouring starts meet the same nights, so the odds of one day taken alone jump with them: a
    day is good on its own odds or on its week's.
    """
    long = np.concatenate([daily[..., -3:], daily, daily[..., :3]], axis=-1)
    sums = np.cumsum(np.concatenate([np.zeros((*daily.shape[:-1], 1)), long], axis=-1), axis=-1)
    return np.asarray((sums[..., 7:] - sums[..., :-7]) / 7.0)


def windows(
    crops: Iterable[Crop],
    covers: Sequence[BedYears | Covered],
    risk: float = ONE_IN_TEN,
    habits: Habits | None = None,
    step: Callable[[], None] | None = None,
) -> dict[str, dict[str, Window]]:
    """Return crop key -> cover name -> window, for many crops and covers.

    step : called after each crop, for a progress bar
    """
    held = [open_bed(one.name, Digest(one)) if isinstance(one, BedYears) else one for one in covers]
    found = {}
    for crop in crops:
        known: dict[Digest, CropDays] = {}
        found[crop.key] = {
            cover.name: window(crop, cover, risk, habits, known=known) for cover in held
        }
        if step is not None:
            step()
    return found


def _losses(fate: Fates, day: int) -> Losses:
    causes = (fate.frost, fate.heat, fate.bolting, fate.unripe, fate.cold_soil)
    return Losses(day, len(fate.frost), *(float(each[:, day].sum()) for each in causes))


def long_runs(good: Flags, shortest: int = SHORTEST_RUN) -> Flags:
    """Return the flags that lie in a run of at least `shortest`, along the last axis."""
    padded = np.concatenate([np.zeros((*good.shape[:-1], 1)), np.cumsum(good, axis=-1)], axis=-1)
    full = (padded[..., shortest:] - padded[..., :-shortest]) >= shortest
    kept = np.zeros(good.shape, dtype=bool)
    for offset in range(shortest):
        kept[..., offset : offset + full.shape[-1]] |= full
    return kept


def spans_of(good: Flags) -> list[tuple[int, int]]:
    """Return first and last day of each run of flags."""
    edges = np.diff(np.concatenate([[0], good.astype(np.int8), [0]]))
    firsts, after = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return [(int(a), int(b) - 1) for a, b in zip(firsts, after, strict=True)]


def _weighed(weight: Series, yearly: Series) -> Series:
    """Return sums over the years by rows of weights.

    Not by `@`: its library starts threads that wait for each other where the machine is busy.
    """
    return np.asarray(np.einsum("ry,yd->rd", weight, yearly))


def doubt(risk: float, years: int) -> float:
    """Return the standard error [-] of a share of lost years, where the share is the risk."""
    return float(np.sqrt(risk * (1.0 - risk) / years))


def kept_days(several: Sequence[Fates], risk: float) -> Flags:
    """Return the start days that keep the risk by any way, as far as the years can tell."""
    years = len(several[0].frost)
    told, even = risk + doubt(risk, years), np.full((1, years), 1.0 / years)
    kept: Flags = _good_days([(one, one.lost) for one in several], told, even)[0]
    return kept


def _good_days(several: Sequence[tuple[Fates, Series]], risk: float, weight: Series) -> Flags:
    """Return the start days that keep the risk by any way, in soil that is usually warm enough.

    several : the fates by each way, and the chance of loss to count
    weight  : [-] of each year, shape (any, years); so many rows of flags are returned
    """
    safe = np.zeros((len(weight), YEAR), dtype=bool)
    for fate, lost in several:
        safe |= _kept_by(fate, lost, risk, weight)[0]
    runs = long_runs(safe)
    return runs | ~long_runs(~runs)


def _kept_by(fate: Fates, lost: Series, risk: float, weight: Series) -> tuple[Flags, Series]:
    """Return the start days that keep the risk in soil that is usually warm enough, and the odds
    of loss [-] that they are judged by: the day's own or its week's."""
    odds = _weighed(weight, lost)
    odds = np.minimum(odds, _week(odds))
    return (odds <= risk + 1e-9) & (_weighed(weight, fate.cold_soil) <= USUAL + 1e-9), odds


def _best_day(fate: Fates) -> int:
    """Return the day that loses least among those whose soil is usually warm enough."""
    chance, cold = fate.lost.mean(axis=0), fate.cold_soil.mean(axis=0)
    return int(np.argmin(np.where(cold <= max(USUAL, cold.min()), chance, np.inf)))


def _ends(good: Flags) -> tuple[int, int] | None:
    spans = spans_of(good)
    return (spans[0][0], spans[-1][1]) if spans else None


def _resampled(several: Sequence[Fates], risk: float, seed: int) -> Flags:
    """Return good days in resamples of the years (bootstrap; Efron 1979), the ways as chosen."""
    years = several[0].frost.shape[0]
    drawn = np.random.default_rng(seed).integers(0, years, (RESAMPLES, years))
    weight = np.zeros((RESAMPLES, years))
    np.add.at(weight, (np.arange(RESAMPLES)[:, None], drawn), 1.0 / years)
    return _good_days([(fate, fate.lost) for fate in several], risk, weight)


def _ranged(day: int, draw: Flags, first: bool) -> DateRange:
    some = draw.any(axis=1)
    days = draw.argmax(axis=1) if first else YEAR - 1 - draw[:, ::-1].argmax(axis=1)
    drawn = tuple(np.where(some, days, np.nan).tolist())
    if some.mean() < 0.9:
        return DateRange(day, float("nan"), float("nan"), drawn)
    low, high = np.quantile(days[some], [0.05, 0.95])
    return DateRange(day, float(low), float(high), drawn)


def _causes(fate: Fates) -> list[Cause]:
    """Return what loses most starts of each day; of equals the first to come in the year."""
    cold = fate.cold_soil.mean(axis=0) > USUAL
    names: tuple[Cause, ...] = ("frost", "too short", "heat", "bolting")
    parts = (fate.frost, fate.unripe, fate.heat, fate.bolting)
    worst = np.argmax([part.mean(axis=0) for part in parts], axis=0)
    return [
        "cold soil" if too_cold else names[which]
        for too_cold, which in zip(cold, worst, strict=True)
    ]


def _stalks(crop: Crop, fate: Fates, good: Flags) -> tuple[int, float] | None:
    odds = np.where(good, fate.bolting.mean(axis=0), 0.0)
    day = int(np.argmax(odds))
    return (day, float(odds[day])) if crop.stalk is not None and odds[day] >= SOME else None


def _picking(crop: Crop, fate: Fates, day: int) -> tuple[float, float] | None:
    light = float(fate.light[:, day].mean())
    return None if crop.by_light is None or np.isnan(light) else crop.by_light.share(light)


def _cautions(crop: Crop, years: int, risk: float) -> tuple[str, ...]:
    said = []
    if years * risk < 1:
        said.append(
            f"{years} years cannot show a chance of 1 in {1 / risk:.0f}: no year in them may be "
            "lost. Take more years."
        )
    elif years < 20:
        said.append(f"{years} years are few for a chance of 1 in {1 / risk:.0f}; see the range.")
    if crop.habit.pollination == "insects":
        said.append("Needs insects: the cover must be open by day while it flowers.")
    return tuple(said)
