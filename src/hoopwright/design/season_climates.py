"""What each way of covering does to a bed's year: nights, heat, light, water, soil."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.heat.compare import (
    DEGREE_BASE,
    HOT,
    VERY_HOT,
    NightGain,
    NightGains,
    degree_days,
    frost_free,
    gain,
    hours_above,
    night_gain,
    nightly_minimum,
    water_used,
    wet_leaf_hours,
)
from hoopwright.heat.covers import measured
from hoopwright.heat.results import UnderCover
from hoopwright.heat.schedule import Schedule, settings
from hoopwright.heat.uncertainty import Band, banded
from hoopwright.season.bed_years import LIGHT_INTEGRAL
from hoopwright.season.crops import crop

OPEN = "open bed"
#: Depth [m] at which a gardener's thermometer stands, 2 in.
READ_DEPTH = 0.05
#: Leaf temperatures whose frost-free spans are told [degC]: tender, half-hardy and hardy crops.
KILLING = (0.0, -2.0, -4.0)


@dataclass(frozen=True)
class CoverClimate:
    """What one way of covering does to the year, means over the years unless said.

    gains        : the nights against the open bed and the station; None for the open bed itself
    gain_band    : [K] mean leaf gain with the model's coefficients drawn from their ranges; of a
                   fabric, what trials measured under its like taken in
    trials       : [K] over the open bed in spring, as `heat.covers.measured` has it
    hot, very_hot: [h] a year above 32 and 38 degC
    degree_days  : [K d] above 10 degC; wet_leaf [h]; water [mm]
    light        : [mol/m2 d] on the plants in the halves of the year with long and short days
    lettuce      : [-] growth of lettuce by that light, of what light enough would give
    spans        : [d] median frost-free days by killing leaf temperature
    soil_spring  : [degC] soil at 5 cm, monthly means (12)
    """

    name: str
    gains: NightGains | None
    gain_band: Band | None
    trials: Mapping[str, tuple[float, float]]
    hot: float
    very_hot: float
    degree_days: float
    wet_leaf: float
    water: float
    light: tuple[float, float]
    lettuce: tuple[float, float]
    spans: Mapping[float, float]
    soil: NDArray[np.float64]


Drawn = Mapping[str, list[tuple[UnderCover, UnderCover]]]


def climates_of(
    runs: Mapping[str, list[UnderCover]],
    schedule: Schedule,
    drawn: Drawn,
    families: Mapping[str, str],
) -> tuple[CoverClimate, ...]:
    """Return the year of the open bed and of each cover.

    drawn : one year, coefficients drawn;  families : of the covers' optics
    """
    found = []
    for name, under in runs.items():
        gains, band = None, None
        trials = measured(families[name]) if name in families else {}
        if name != OPEN:
            gains = _gains(under, runs[OPEN], schedule)
            band = with_trials(banded(drawn[name], _mean_leaf_gain), trials)
        found.append(_climate(name, under, gains, band, trials))
    return tuple(found)


def with_trials(found: Band, trials: Mapping[str, tuple[float, float]]) -> Band:
    """Return a band of the nights' gain [K] that takes in what trials of such a cover measured."""
    low, high = trials.get("night", (found.low, found.high))
    return Band(min(found.low, low), found.middle, max(found.high, high))


def _mean_leaf_gain(under: UnderCover, open_bed: UnderCover) -> float:
    """Return the mean gain of the leaves over all nights of the year [K]."""
    return gain(under.leaf, open_bed.leaf, under.weather).mean


def _gains(
    under: Sequence[UnderCover], bare: Sequence[UnderCover], schedule: Schedule
) -> NightGains:
    """Return the gains over all nights of all years on which the cover is on."""
    on = [
        nightly_minimum(settings(schedule, run.weather).covered, run.weather) > 0.5 for run in under
    ]

    def of(pick: Callable[[UnderCover], Any], other: Callable[[UnderCover], Any]) -> NightGain:
        nights = [
            (nightly_minimum(pick(one), one.weather) - nightly_minimum(other(two), one.weather))[
                covered
            ]
            for one, two, covered in zip(under, bare, on, strict=True)
        ]
        return night_gain(np.concatenate(nights), len(under))

    return NightGains(
        of(lambda run: run.air, lambda run: run.weather.air_temperature),
        of(lambda run: run.air, lambda run: run.air),
        of(lambda run: run.leaf, lambda run: run.leaf),
    )


def _climate(
    name: str,
    under: Sequence[UnderCover],
    gains: NightGains | None,
    band: Band | None,
    trials: Mapping[str, tuple[float, float]],
) -> CoverClimate:
    def mean(of: Callable[[UnderCover], float]) -> float:
        return float(np.mean([of(run) for run in under]))

    lit = [np.concatenate(parts) for parts in zip(*map(_light_by_halves, under), strict=True)]
    light, lettuce = (
        (float(long.mean()), float(short.mean()))
        for long, short in (lit, [crop("lettuce-leaf").light.share(half) for half in lit])
    )
    spans = {
        kills: float(np.median([frost_free(run.leaf, kills).days for run in under]))
        for kills in KILLING
    }
    return CoverClimate(
        name=name,
        gains=gains,
        gain_band=band,
        trials=trials,
        hot=mean(lambda run: hours_above(run.air, HOT)),
        very_hot=mean(lambda run: hours_above(run.air, VERY_HOT)),
        degree_days=mean(lambda run: degree_days(run.air, DEGREE_BASE)),
        wet_leaf=mean(wet_leaf_hours),
        water=mean(water_used),
        light=light,
        lettuce=lettuce,
        spans=spans,
        soil=_monthly(under),
    )


def _light_by_halves(run: UnderCover) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the light [mol/m2 d] on the plants on each day of the two halves of the year, April
    to September and October to March, the other way about south of the equator."""
    days = len(run.light) // 24
    lit = run.light[: 24 * days].reshape(-1, 24).mean(axis=1) * LIGHT_INTEGRAL
    warm = (run.weather.months[: 24 * days : 24] - 3) % 12 < 6
    long = warm if run.weather.station.latitude >= 0 else ~warm
    return lit[long], lit[~long]


def _monthly(under: Sequence[UnderCover]) -> NDArray[np.float64]:
    """Return the mean soil temperature at seed depth of each month [degC]."""
    totals: NDArray[np.float64] = np.zeros(12)
    for run in under:
        month = run.weather.months
        soil = run.soil_at(READ_DEPTH)
        totals += np.array([soil[month == number].mean() for number in range(12)])
    return totals / len(under)
