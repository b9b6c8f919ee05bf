"""Warmer than what: nightly gains, heat, season lengths and water, under cover against the open."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.results import UnderCover

#: Air that spoils a day for most crops [degC]: blossom drop of tomatoes and peppers starts about
#: 32 (crop table); 38 is where little sets.
HOT, VERY_HOT = 32.0, 38.0
#: Base of the degree days told [degC].
DEGREE_BASE = 10.0
NIGHT_FROM, NIGHT_TO = 18, 9  # [h] a night runs from this hour to that hour of the next day


@dataclass(frozen=True)
class NightGain:
    """Nightly minimum under cover less the same outside [K]: mean, spread, and nights colder in.

    tenth, ninetieth : [K] of the nights;  colder : number of nights;  nights : how many in all
    """

    mean: float
    tenth: float
    ninetieth: float
    colder: int
    nights: int


@dataclass(frozen=True)
class NightGains:
    """The three meanings of 'warmer'.

    station_air : inside air against the station's screen air
    bed_air     : inside air against the air over the open bed at the same height
    leaf        : leaves inside against leaves on the open bed; the one that decides frost
    """

    station_air: NightGain
    bed_air: NightGain
    leaf: NightGain


def nightly_minimum(values: Series, weather: Weather) -> Series:
    """Lowest value of each whole night, 18 h to 9 h local standard time."""
    clock = weather.start.hour
    first = (NIGHT_FROM - clock - 1) % 24
    length = (NIGHT_TO - NIGHT_FROM) % 24 + 1
    count = max(0, (len(values) - first - length) // 24 + 1)
    rows = first + 24 * np.arange(count)[:, None] + np.arange(length)[None, :]
    return np.asarray(values[rows].min(axis=1))


def gain(inside: Series, outside: Series, weather: Weather) -> NightGain:
    """Compare nightly minima; each side's own minimum, whatever hour it falls on."""
    return night_gain(nightly_minimum(inside, weather) - nightly_minimum(outside, weather))


def night_gain(apart: Series, years: int = 1) -> NightGain:
    """Sum up differences [K] of nights of so many years; the counts are of one year."""
    low, high = np.percentile(apart, [10.0, 90.0])
    colder, nights = (round(count / years) for count in (int((apart < 0.0).sum()), len(apart)))
    return NightGain(float(apart.mean()), float(low), float(high), colder, nights)


def hours_above(values: Series, limit: float) -> int:
    """Hours whose end lies above `limit` [degC]."""
    return int((values > limit).sum())


def degree_days(values: Series, base: float, ceiling: float | None = None) -> float:
    """Degree days [K d] above `base` [degC] from hourly values, held at `ceiling` where given."""
    top = values if ceiling is None else np.minimum(values, ceiling)
    return float(np.maximum(top - base, 0.0).sum() / 24.0)


def wet_leaf_hours(under: UnderCover, least: float = 0.01) -> int:
    """Hours with dew on the leaves, `least` [kg/m2] and more (a visible film; an assumption)."""
    return int((under.leaf_water >= least).sum())


def water_used(under: UnderCover) -> float:
    """Water that left soil and leaves [mm] over the record; rain is not counted in."""
    return float(under.water.sum())


@dataclass(frozen=True)
class FrostFree:
    """The longest stretch of whole days without the killing temperature.

    first, last : day number in the record, from 0;  days : length
    """

    first: int
    last: int
    days: int


def frost_free(leaf: Series, kills_at: float) -> FrostFree:
    """The longest run of days in which the leaf stays above `kills_at` [degC]."""
    whole = len(leaf) // 24
    safe = leaf[: whole * 24].reshape(whole, 24).min(axis=1) > kills_at
    best, first, run = (0, 0), 0, 0
    for day in range(whole + 1):
        if day < whole and safe[day]:
            run += 1
            continue
        if run > best[0]:
            best = (run, first)
        first, run = day + 1, 0
    return FrostFree(best[1], best[1] + best[0] - 1, best[0])


def opening_for_limit(
    run: Callable[[float], UnderCover],
    limit: float,
    most: float,
    hours: NDArray[np.bool_] | None = None,
    share: float = 0.01,
    accuracy: float = 0.01,
) -> float | None:
    """The least opening [m] that keeps the inside air under `limit` [degC].

    run   : gives the climate for an opening height
    hours : the hours that count; all by default
    share : [-] of those hours that may still lie above
    None where even `most` [m] does not do. Bisection: more opening is never hotter at noon.
    """

    def is_enough(height: float) -> bool:
        air = run(height).air
        chosen = air if hours is None else air[hours]
        return float((chosen > limit).mean()) <= share

    if is_enough(0.0):
        return 0.0
    if not is_enough(most):
        return None
    low, high = 0.0, most
    while high - low > accuracy:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    return high
