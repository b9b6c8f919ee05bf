"""The opening calendar: how to run the cover in each half of each month."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, SeasonError
from hoopwright.season.crop_days import Habits, Series, hot_limits
from hoopwright.season.crops import Crop
from hoopwright.season.opening_options import Opening, OptionYears
from hoopwright.tables.constants import MONTH_STARTS


def half_month_days(number: int) -> slice:
    """Return the days of the year (from 0) of a half month numbered 0 to 23."""
    month, half = divmod(number, 2)
    start, after = MONTH_STARTS[month], MONTH_STARTS[month + 1]
    return slice(start + 15, after) if half else slice(start, start + 15)


@dataclass(frozen=True)
class Limits:
    """What the bed should stay within.

    too_hot     : [degC] day maximum of the inside air
    too_cold    : [degC] nightly minimum of the leaves
    hot_days    : [-] share of days that may be hotter
    cold_nights : [-] share of nights that may be colder
    off_above   : [degC] leaves' nightly minimum that the open bed should keep on nine nights of
                  ten before the film comes off; 7 degC is an assumption
    hot           : [degC] (peak, day's mean) that must both be passed for a day to be too hot, of
                  each crop; () takes too_hot alone
    The shares are assumptions: one day in ten, one night in ten.
    """

    too_hot: float
    too_cold: float
    hot_days: float = 0.1
    cold_nights: float = 0.1
    off_above: float = 7.0
    hot: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class HalfMonth:
    """One half month of the calendar.

    month, half : 1 to 12; 1 (to the 15th) or 2
    opening     : how to run the cover
    mesh        : with the film off, put mesh or shade on instead
    hot_days, cold_nights : [-] shares that remain
    night_cost  : [K] mean by which leaves are colder at night than under the shut cover
    day_saving  : [K] mean by which the day's peak is lower than under the shut cover
    sentence    : what to do and why
    """

    month: int
    half: int
    opening: Opening
    mesh: bool
    hot_days: float
    cold_nights: float
    night_cost: float
    day_saving: float
    sentence: str

    @property
    def first(self) -> tuple[int, int]:
        """Return the first day as (month, day)."""
        return self.month, 1 if self.half == 1 else 16

    @property
    def last(self) -> tuple[int, int]:
        """Return the last day as (month, day)."""
        length = MONTH_STARTS[self.month] - MONTH_STARTS[self.month - 1]
        return self.month, 15 if self.half == 1 else max(length, 29 if self.month == 2 else 0)


def crop_limits(crops: Iterable[Crop]) -> Limits:
    """Return the limits of the most delicate of several crops: least heat, least cold."""
    held = list(crops)
    if not held:
        raise SeasonError("name the crops that stand in the bed, or give limits of your own")
    return Limits(
        too_hot=min(crop.heat.limit.low for crop in held),
        too_cold=max(crop.cold.plant_damage.middle for crop in held),
    )


def standing_limits(crops: Sequence[Crop], drop: float, hardness: float) -> Limits:
    """Return the limits of several crops as the sowing dates read them.

    Cold: the leaves at which the first plants of any die, as hard as they then are, `drop` [K]
    under what lists name at a thermometer. Heat: `crop_days.hot_limits`, its most careful reading.
    """
    kills = [
        one.cold.plant_kill.high
        + hardness * (one.hardened.hardened_kill.high - one.cold.plant_kill.high)
        for one in crops
    ]
    hot = tuple(hot_limits(one, Habits())[0] for one in crops)
    return replace(crop_limits(crops), too_cold=max(kills) - drop, hot=hot)


NOTHING_STANDS = Limits(too_hot=45.0, too_cold=-90.0)
"""For an empty bed: spare the film a great heat (an assumption), never mind the cold."""


def limits_through_year(
    standing: Iterable[tuple[Crop, int, int]], drop: float = 0.0, hardness: Series | None = None
) -> list[Limits]:
    """Return 24 limits from crops and the days of the year (from 0) they stand, first and last.

    A last day beyond the year's end runs on into its beginning. What does not stand on the middle
    day of a half month is no matter in it.
    drop     : [K] see `crop_days.shelter_drop`
    hardness : [-] of plants on each of the 365 days; soft where not given
    """
    hard = np.zeros(YEAR) if hardness is None else hardness
    held = list(standing)
    found = []
    for number in range(24):
        days = half_month_days(number)
        here = [
            crop
            for crop, first, last in held
            for turn in (0, YEAR, 2 * YEAR)
            if first <= (days.start + days.stop) // 2 + turn <= last
        ]
        found.append(
            standing_limits(here, drop, float(hard[days].mean())) if here else NOTHING_STANDS
        )
    return found


def opening_calendar(
    options: Sequence[OptionYears], limits: Sequence[Limits] | Limits
) -> tuple[HalfMonth, ...]:
    """Return the 24 half months, each run the least open way that stays within the limits.

    options : the shut cover first, then ever more open (from `run_ways`)
    limits  : one for the year, or 24, where the crops in the bed change
    Where no way keeps both limits, the least open that keeps the heat's: cold that no way keeps
    out is a matter for fabric. Where none keeps that, the coolest by day.
    The film comes off where it would have to stand open day and night, or even that is too hot,
    and the nights of the open bed are warm enough.
    """
    if not options or options[0].opening.way != "closed":
        raise SeasonError("the ways to run the cover begin with the shut one")
    each = [limits] * 24 if isinstance(limits, Limits) else list(limits)
    if len(each) != 24:
        raise SeasonError(f"give limits for 24 half months, not {len(each)}")
    air = [_by_day(option.air) for option in options]
    nights = [_by_day(option.leaf).min(axis=2) for option in options]
    return tuple(_half_month(options, air, nights, each[number], number) for number in range(24))


def _by_day(hours: Series) -> Series:
    return hours.reshape(hours.shape[0], YEAR, 24)


def _half_month(
    options: Sequence[OptionYears],
    air: Sequence[Series],
    nights: Sequence[Series],
    limits: Limits,
    number: int,
) -> HalfMonth:
    days = half_month_days(number)
    peaks, means = ([of(one[:, days], axis=2) for one in air] for of in (np.max, np.mean))
    pairs = limits.hot or ((limits.too_hot, -np.inf),)
    hot = np.array(
        [
            float(np.any([(peak > a) & (mean > b) for a, b in pairs], axis=0).mean())
            for peak, mean in zip(peaks, means, strict=True)
        ]
    )
    cold = np.array([float((night[:, days] < limits.too_cold).mean()) for night in nights])
    at = _least_open(options, hot, cold, limits)
    at = _off_if_better(options, at, hot, cold, nights, days, limits)
    opening, rolls = options[at].opening, any(one.opening.height > 0.0 for one in options)
    cost = float((nights[0][:, days] - nights[at][:, days]).mean())
    saving = float((peaks[0] - peaks[at]).mean())
    return HalfMonth(
        month=number // 2 + 1,
        half=number % 2 + 1,
        opening=opening,
        mesh=opening.way == "off",
        hot_days=float(hot[at]),
        cold_nights=float(cold[at]),
        night_cost=cost,
        day_saving=saving,
        sentence=_sentence(opening, rolls, float(hot[0]), float(hot[at]), float(cold[at]), limits),
    )


def _least_open(options: Sequence[OptionYears], hot: Series, cold: Series, limits: Limits) -> int:
    covered = np.array([option.opening.way != "off" for option in options])
    cool = (hot <= limits.hot_days) & covered
    both = cool & (cold <= limits.cold_nights)
    if both.any():
        return int(np.argmax(both))
    if cool.any():
        return int(np.argmax(cool))
    # Shares in steps of 2 %, so that of ways as cool as each other the least open is taken.
    return int(np.argmin(np.where(covered, np.round(hot * 50), np.inf)))


def _off_if_better(
    options: Sequence[OptionYears],
    at: int,
    hot: Series,
    cold: Series,
    nights: Sequence[Series],
    days: slice,
    limits: Limits,
) -> int:
    off = next((i for i, option in enumerate(options) if option.opening.way == "off"), None)
    wanted = options[at].opening.way == "always" or hot[at] > limits.hot_days
    if off is None or not wanted or hot[off] > hot[at]:
        return at
    warm = float(np.quantile(nights[off][:, days], 0.1)) >= limits.off_above
    return off if warm and cold[off] <= limits.cold_nights else at


def _sentence(
    opening: Opening, rolls: bool, hot_shut: float, hot: float, cold: float, limits: Limits
) -> str:
    too_hot = f"{100 * hot_shut:.0f} % of days are too hot"
    hotter = hot > limits.hot_days
    if opening.way == "closed" and hotter and not rolls:
        said = f"Take it off on warm days, put it on for cold nights; shut all day {too_hot}."
        hotter = False
    elif opening.way == "closed":
        said = "Keep it shut."
        if limits == NOTHING_STANDS:
            free = "open it" if rolls else "take it off"
            said += f" None of these crops stands in it: {free} for whatever else does."
    elif opening.way in ("days", "visits", "opener"):
        said = f"Open by day, shut at night; shut all day {too_hot}."
    elif opening.way == "always":
        said = "Leave it open day and night."
    else:
        said = "Take the film off; put on mesh or shade."
    if hotter:
        said += f" Even so {100 * hot:.0f} % of days are too hot for what stands in it: shade it."
    if cold > limits.cold_nights and opening.way != "off":
        said += f" {100 * cold:.0f} % of nights are too cold for what stands in it: wait, or "
        said += "shelter it."
    return said


def film_changes(calendar: Sequence[HalfMonth]) -> list[tuple[tuple[int, int], str]]:
    """Return (month, day) and "off" or "on" at each half month where the film comes or goes."""
    found = []
    for before, now in zip([calendar[-1], *calendar[:-1]], calendar, strict=True):
        if (before.opening.way == "off") != (now.opening.way == "off"):
            found.append((now.first, "off" if now.opening.way == "off" else "on"))
    return found
