"""The odds at a place by its own daily record, in place of a code's figures."""

import numpy as np

from hoopwright.answers.strength_words import through_words
from hoopwright.checks.judged import BRUSHED
from hoopwright.climate.weather import DailyRecord
from hoopwright.design import Design
from hoopwright.loads.extremes import TooFewYears, fitted, yearly_greatest
from hoopwright.loads.yearly import Brushed
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.units import show

_DAYS: dict[Brushed, int] = {"daily": 1, "weekly": 7}


def record_words(design: Design, record: DailyRecord) -> tuple[tuple[str, str], ...]:
    """Return what a daily record says of this bed's gusts and snows, as pairs."""
    return (("Gusts by the record", _gusts(design, record)), ("Snow by it", _snow(design, record)))


def _gusts(design: Design, record: DailyRecord) -> str:
    if record.peak_gust is None:
        return "the record has no peak gusts (WSFG)."
    try:
        found = fitted(yearly_greatest(record.peak_gust, record.dates, winters=False))
    except TooFewYears as problem:
        return f"peak gusts (WSFG): {problem}."
    low, middle, high = (show(one, "given speed", design.system) for one in found.once_in(10))
    through = through_words(lambda n: found.gets_through(design.ladder.opens.at, n), "year")
    return (
        f"once in ten years up to {high} ({middle} in the middle, {low} at least), fitted to "
        f"{found.years} years at its mast. Left on all year, the cover stays closed and whole "
        f"{through}."
    )


def _snow(design: Design, record: DailyRecord) -> str:
    often = design.standing.brushed
    days = _DAYS.get(often)
    depths, kind = (record.snow_depth, "settled") if days is None else (record.snowfall, "wet")
    if days is not None and days > 1:
        whole = np.concatenate([[0.0], np.cumsum(np.nan_to_num(depths))])
        sums = whole[days:] - whole[:-days]
        depths = np.where(np.isfinite(depths[days - 1 :]), sums, np.nan)
        dates = record.dates[days - 1 :]
    else:
        dates = record.dates
    try:
        found = fitted(yearly_greatest(depths, dates, winters=True))
    except TooFewYears as problem:
        return f"{problem}."
    weight = STANDARD_GRAVITY * design.ladder.inputs.density(kind)
    stands = design.ladder.cover_in_snow / weight
    low, middle, high = (show(one, "depth", design.system) for one in found.once_in(10))
    through = through_words(lambda n: found.gets_through(stands, n), "winter")
    what = {None: "lie on the ground", 1: "fall in a day"}.get(days, f"fall in {days} days")
    return (
        f"once in ten winters up to {high} ({middle} in the middle, {low} at least) {what}, fitted "
        f"to {found.years} winters. {BRUSHED[often].capitalize()}, and all of it taken as {kind}, "
        f"the cover gets {through}."
    )
