"""What a cover adds to the season of a crop, at each end and over all; and which variety would make
it: the days to maturity that a place and a cover leave room for."""

from dataclasses import replace
from datetime import date, timedelta
from math import isnan

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, Digest
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.crop_days import CropDays, Habits
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import Crop
from hoopwright.season.running import Covered, tried
from hoopwright.season.windows import Window, kept_days

SHORTEST = 0.75
"""[-] of the quickest usual variety's days, below which a variety is not advised, for hardly one is
sold: ours."""
TRIED = 6
"""Varieties tried between that and the usual one, and then those next to the slowest of them."""


def days_that_fit(crop: Crop, cover: Covered, risk: float, how: Habits) -> tuple[int, int] | None:
    """Return the fewest and the most days to maturity [d] that leave a sowing window, or None.

    As seed lists count them, from sowing or planting, in a mild month; up to the usual
    variety's. Of all that do, those up to the slowest; the fewest is 0 where every quicker one
    tried does as well. They need not: a quicker one may flower into a frost.
    """
    least = int(np.ceil(SHORTEST * crop.habit.days_to_harvest.low))
    most = int(crop.habit.days_to_harvest.middle)
    known: dict[Digest, CropDays] = {}

    def fit(number: int) -> bool:
        return _fits(crop, number, cover, risk, how, known)

    step = max(1, (most - least) // TRIED)
    grid = list(range(least, most + 1, step))
    made = [fit(number) for number in grid]
    if not any(made):
        return None
    last = max(place for place, one in enumerate(made) if one)
    first = last
    while first > 0 and made[first - 1]:
        first -= 1
    slowest = grid[last]
    while slowest < min(grid[last] + step - 1, most) and fit(slowest + 1):
        slowest += 1
    return (grid[first] if first else 0, slowest)


def of_days(crop: Crop, days: float) -> Crop:
    """Return the crop as a variety of so many days to maturity [d].

    One of fewer days needs as much less warmth.
    """
    share = days / crop.habit.days_to_harvest.middle
    known = crop.degrees.degree_days
    degrees = replace(
        crop.degrees,
        degree_days=None
        if known is None
        else CropRange(known.middle * share, known.middle * share),
    )
    return replace(
        crop, habit=replace(crop.habit, days_to_harvest=CropRange(days, days)), degrees=degrees
    )


def _fits(
    crop: Crop,
    days: int,
    cover: Covered,
    risk: float,
    how: Habits,
    known: dict[Digest, CropDays],
) -> bool:
    several = [one for _, one in tried(of_days(crop, days), cover, how, known)]
    return bool(kept_days(several, risk).any())


@dataclass(frozen=True)
class Gain:
    """What a cover adds for one crop, run by the rule that suits each start best.

    early, late : [d] at the first and last start day; None where one of the two has no window
    start_days  : [d] more start days in the year
    harvest     : [d] sooner to the median first harvest, each from its own earliest start
    same_day    : [d] sooner, both started on the open bed's earliest day
    weeks, weeks_open : [weeks] of harvest in the year under the cover and in the open
    fits, fits_open   : [d] to maturity, fewest and most, of the varieties that make it where the
                  usual does not, 0 for any fewer; None where the usual does, or none would
    sentence    : the gist in words
    NaN where there is no harvest to compare.
    """

    crop: str
    cover: str
    early: int | None
    late: int | None
    start_days: int
    harvest: float
    same_day: float
    weeks: float
    weeks_open: float
    fits: tuple[int, int] | None
    fits_open: tuple[int, int] | None
    sentence: str


def gain(
    outside: Window,
    inside: Window,
    fits: tuple[int, int] | None = None,
    fits_open: tuple[int, int] | None = None,
    begins: int = 0,
) -> Gain:
    """Return what the cover of `inside` adds to the open bed of `outside`, in the season's days.

    fits, fits_open : from `season.fits.days_that_fit`, where a crop has no window
    begins : day of the calendar year on which the season's years begin; the sentence tells the
             calendar's dates
    """
    early = late = None
    same_day = float("nan")
    if outside.earliest and inside.earliest and outside.latest and inside.latest:
        early = outside.earliest.day - inside.earliest.day
        late = inside.latest.day - outside.latest.day
        day = outside.earliest.day
        same_day = outside.middle_harvest[day] - inside.middle_harvest[day]
    harvest = float("nan")
    if early is not None:
        harvest = outside.harvest.middle - inside.harvest.middle
    found = Gain(
        crop=inside.crop,
        cover=inside.cover,
        early=early,
        late=late,
        start_days=inside.start_days - outside.start_days,
        harvest=harvest,
        same_day=same_day,
        weeks=inside.harvest_weeks,
        weeks_open=outside.harvest_weeks,
        fits=fits,
        fits_open=fits_open,
        sentence="",
    )
    told = _sentence(in_calendar(outside, begins), in_calendar(inside, begins), found)
    return replace(found, sentence=told)


def _sentence(outside: Window, inside: Window, found: Gain) -> str:
    early, late = found.early, found.late
    if early is None or late is None:
        if inside.earliest is None or inside.latest is None:
            return (
                f"No safe start, covered or open: {inside.hindrance}. {_best(inside)}"
                f"{_fitting(found)}"
            )
        return (
            f"Only under the cover; in the open {outside.hindrance} stands in the way. "
            f"{_weeks(found)}"
        )
    said = _sooner(found)
    said += f" Start {_end(early, 'earlier', 'later')} in spring"
    said += _doubt(early, not within_error(outside, inside))
    said += f", {_end(late, 'later', 'earlier')} in the year"
    said += _doubt(late, not within_error(outside, inside, first=False))
    return f"{said}. {_weeks(found)}"


def _sooner(found: Gain) -> str:
    """Say how many days sooner one eats, at its best and for the same sowing day."""
    if isnan(found.harvest) or isnan(found.same_day):
        return "First harvest not told apart."
    best, same = round(found.harvest), round(found.same_day)
    said = f"First harvest {_end(best, 'sooner', 'later')}"
    return f"{said}; started on the open bed's first day, {_end(same, 'sooner', 'later')}."


def _weeks(found: Gain) -> str:
    return f"{found.weeks:.0f} weeks of harvest, {found.weeks_open:.0f} in the open."


def _fitting(found: Gain) -> str:
    """Say which variety would make it."""
    if found.fits is None:
        return f" Nor would a variety of {100 * SHORTEST:.0f} % of the quickest one's days make it."
    said = f" A variety of {_days(*found.fits)} would make it under the cover"
    if found.fits_open is not None:
        said += f", one of {_days(*found.fits_open)} in the open"
    return f"{said}, nine years in ten."


def _days(fewest: int, most: int) -> str:
    return f"{fewest} to {most} days" if fewest else f"{most} days or fewer"


def _best(inside: Window) -> str:
    """Say how much a start on the best day loses, for those who would risk it."""
    lost = inside.losses
    worst = max(lost.frost, lost.heat, lost.bolting, lost.too_short)
    if worst > 0.95 * lost.years:
        return "Every start of the usual variety is lost."
    return (
        f"The best day under the cover, {date_text(lost.day)}, loses about {worst:.0f} of "
        f"{lost.years} years."
    )


def within_error(outside: Window, inside: Window, first: bool = True) -> bool:
    """Return True where the years cannot tell the two covers' first (last) days apart.

    The same resamples of the years are read under both covers; the 90 % interval of the days
    between them holds none (paired bootstrap; Efron 1979).
    """
    a = outside.earliest if first else outside.latest
    b = inside.earliest if first else inside.latest
    if a is None or b is None or len(a.drawn) != len(b.drawn) or not a.drawn:
        return False
    apart = np.array(b.drawn) - np.array(a.drawn)
    apart = apart[np.isfinite(apart)]
    if apart.size == 0:
        return True
    low, high = np.quantile(apart, [0.05, 0.95])
    return bool(low <= 0 <= high)


def _end(days: int, more: str, less: str) -> str:
    if days == 0:
        return "the same day"
    count = abs(days)
    return f"{count} day{'s' if count > 1 else ''} {more if days > 0 else less}"


def _doubt(days: int, sure: bool) -> str:
    return "" if sure or days == 0 else " (so few years cannot tell it from none)"


def date_text(day: float) -> str:
    """Return a day counted from 1 January (0) as "14 May", or "14 May next year"."""
    if isnan(day):
        return "none"
    whole = round(day)
    when = date(2001, 1, 1) + timedelta(days=whole % YEAR)
    later = " next year" if whole >= YEAR else ""
    return f"{when.day} {when:%B}{later}"
