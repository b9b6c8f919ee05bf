"""When to sow and plant: the days on which a crop comes through at a chosen risk."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.frost import quantile
from hoopwright.season.bed_years import NO_ODDS, YEAR, BedYears, Digest, SeasonError
from hoopwright.season.crops import Crop
from hoopwright.season.losses import Fates, Habits, fates

Series = NDArray[np.float64]
Flags = NDArray[np.bool_]
Cause = Literal["frost", "heat", "too short", "cold soil", "year's end"]

ONE_IN_TEN = 0.1
SHORTEST_RUN = 5
"""[d] a stretch of good start days must last, lest one lucky day be called a season, and so must
what parts two stretches, lest one unlucky day end it; ours."""
USUAL = 0.5
"""[-] of the years in which the soil must be warm enough on a start day; ours."""
RESAMPLES = 200


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
class HarvestDates:
    """Days from 1 January of the start's year by which 10, 50, 90 % of the years reach harvest.

    NaN where too few years came through. Years lost are left out, so read it with the losses.
    """

    early: float
    middle: float
    late: float


@dataclass(frozen=True)
class Losses:
    """Of `years` starts on `day`, how many were lost to each cause (expected number)."""

    day: int
    years: int
    frost: float
    heat: float
    too_short: float
    cold_soil: float


@dataclass(frozen=True)
class Window:
    """One crop under one cover at one risk.

    earliest, latest : first day of the first stretch and last day of the last; None for none
    careful, bold    : (earliest, latest) if the killing band is read at its top or its bottom
    harvest, losses  : of a start on the earliest day (or on the best day, where none is good)
    flowering        : median day of first flowers from that start; for crops that need insects
                       the cover must be open from then on
    hindrance        : what stands in the way where there is no window, else None
    obstacles        : for each of the 365 start days what loses most starts, or "" on a good day
    cautions         : sentences on how sure this is
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
    losses: Losses
    hindrance: Cause | None
    obstacles: tuple[Cause | Literal[""], ...]
    cautions: tuple[str, ...]

    @property
    def start_days(self) -> int:
        """Return on how many days of the year the crop can be started."""
        return sum(stretch.last - stretch.first + 1 for stretch in self.stretches)


def window(
    crop: Crop,
    digest: Digest,
    risk: float = ONE_IN_TEN,
    habits: Habits | None = None,
    seed: int = 1,
) -> Window:
    """Return when the crop can be started with at most this risk of losing it.

    risk : [-] of loss before the first harvest, the mean over the years of each year's chance
    A typical year is refused: it carries no odds.
    """
    if digest.years.typical_year:
        raise SeasonError(NO_ODDS)
    if not 0 < risk < 1:
        raise SeasonError(f"a risk lies between 0 and 1, not {risk:g}")
    fate = fates(crop, digest, habits)
    even = np.full((1, len(digest.years)), 1.0 / len(digest.years))
    good = _good_days(fate, fate.lost, risk, even)[0]
    spans = spans_of(good)
    day = spans[0][0] if spans else _best_day(fate)
    causes = _causes(fate)

    def beyond(at: int) -> Cause:
        return causes[at] if 0 <= at < YEAR else "year's end"

    draw = _resampled(fate, risk, seed) if spans else None
    return Window(
        crop=crop.key,
        cover=digest.years.name,
        risk=risk,
        years=len(digest.years),
        earliest=_ranged(spans[0][0], draw, first=True) if draw is not None else None,
        latest=_ranged(spans[-1][1], draw, first=False) if draw is not None else None,
        stretches=tuple(Stretch(a, b, beyond(a - 1), beyond(b + 1)) for a, b in spans),
        careful=_ends(_good_days(fate, fate.lost_with(fate.frost_careful), risk, even)[0]),
        bold=_ends(_good_days(fate, fate.lost_with(fate.frost_bold), risk, even)[0]),
        harvest=_harvest(fate, day),
        flowering=_flowering(fate, day),
        losses=_losses(fate, day),
        hindrance=None if spans else causes[day],
        obstacles=tuple("" if fine else why for fine, why in zip(good, causes, strict=True)),
        cautions=_cautions(crop, len(digest.years), risk),
    )


def windows(
    crops: Iterable[Crop],
    covers: Sequence[BedYears],
    risk: float = ONE_IN_TEN,
    habits: Habits | None = None,
    step: Callable[[], None] | None = None,
) -> dict[str, dict[str, Window]]:
    """Return crop key -> cover name -> window, for many crops and covers.

    step : called after each crop, for a progress bar
    """
    digests = [Digest(years) for years in covers]
    found = {}
    for crop in crops:
        found[crop.key] = {
            digest.years.name: window(crop, digest, risk, habits) for digest in digests
        }
        if step is not None:
            step()
    return found


def _losses(fate: Fates, day: int) -> Losses:
    return Losses(
        day,
        fate.frost.shape[0],
        float(fate.frost[:, day].sum()),
        float(fate.heat[:, day].sum()),
        float(fate.unripe[:, day].sum()),
        float(fate.cold_soil[:, day].sum()),
    )


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


def _good_days(fate: Fates, lost: Series, risk: float, weight: Series) -> Flags:
    """Return the start days that keep the risk, in soil that is usually warm enough.

    weight : [-] of each year, shape (any, years); so many rows of flags are returned
    """
    safe = weight @ lost <= risk + 1e-9
    runs = long_runs(safe & (weight @ fate.cold_soil <= USUAL + 1e-9))
    return runs | ~long_runs(~runs)


def _best_day(fate: Fates) -> int:
    """Return the day that loses least among those whose soil is usually warm enough."""
    chance, cold = fate.lost.mean(axis=0), fate.cold_soil.mean(axis=0)
    return int(np.argmin(np.where(cold <= max(USUAL, cold.min()), chance, np.inf)))


def _ends(good: Flags) -> tuple[int, int] | None:
    spans = spans_of(good)
    return (spans[0][0], spans[-1][1]) if spans else None


def _resampled(fate: Fates, risk: float, seed: int) -> Flags:
    """Return good days in resamples of the years (bootstrap; Efron 1979)."""
    years = fate.frost.shape[0]
    drawn = np.random.default_rng(seed).integers(0, years, (RESAMPLES, years))
    weight = np.zeros((RESAMPLES, years))
    np.add.at(weight, (np.arange(RESAMPLES)[:, None], drawn), 1.0 / years)
    return _good_days(fate, fate.lost, risk, weight)


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
    names: tuple[Cause, ...] = ("frost", "too short", "heat")
    worst = np.argmax([part.mean(axis=0) for part in (fate.frost, fate.unripe, fate.heat)], axis=0)
    return [
        "cold soil" if too_cold else names[which]
        for too_cold, which in zip(cold, worst, strict=True)
    ]


def _harvest(fate: Fates, day: int) -> HarvestDates:
    kept = fate.lost[:, day] < 0.5
    ripe = fate.ripe[kept, day].astype(np.float64)
    if ripe.size == 0:
        return HarvestDates(float("nan"), float("nan"), float("nan"))
    if ripe.size < 3:
        return HarvestDates(float("nan"), float(np.median(ripe)), float("nan"))
    return HarvestDates(quantile(ripe, 0.1), quantile(ripe, 0.5), quantile(ripe, 0.9))


def _flowering(fate: Fates, day: int) -> float:
    opened = fate.flowering[:, day]
    seen = opened[opened <= 2 * YEAR]
    return float(np.median(seen)) if seen.size else float("nan")


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
