"""What a cover adds to the season of a crop, at each end and over all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import isnan

import numpy as np

from hoopwright.season.bed_years import YEAR
from hoopwright.season.windows import Window


@dataclass(frozen=True)
class Gain:
    """Days that a cover adds; negative where it takes.

    early, late : [d] at the first and last start day; None where one of the two has no window
    start_days  : [d] more start days in the year
    harvest     : [d] earlier median first harvest, each from its own earliest start
    sentence    : the gist in words, which says heat where it is heat that takes
    """

    crop: str
    cover: str
    early: int | None
    late: int | None
    start_days: int
    harvest: float
    sentence: str


def gain(outside: Window, inside: Window) -> Gain:
    """Return what the cover of `inside` adds to the open bed of `outside`."""
    early = late = None
    if outside.earliest and inside.earliest and outside.latest and inside.latest:
        early = outside.earliest.day - inside.earliest.day
        late = inside.latest.day - outside.latest.day
    return Gain(
        crop=inside.crop,
        cover=inside.cover,
        early=early,
        late=late,
        start_days=inside.start_days - outside.start_days,
        harvest=outside.harvest.middle - inside.harvest.middle,
        sentence=_sentence(outside, inside, early, late),
    )


def limited_by_heat(outside: Window, inside: Window) -> bool:
    """Return True where most of the start days that the cover takes away are lost to heat."""
    taken = [
        inner
        for outer, inner in zip(outside.obstacles, inside.obstacles, strict=True)
        if not outer and inner
    ]
    return bool(taken) and sum(cause == "heat" for cause in taken) >= len(taken) / 2


def _sentence(outside: Window, inside: Window, early: int | None, late: int | None) -> str:
    hot = limited_by_heat(outside, inside)
    if early is None or late is None:
        if inside.earliest is None and outside.earliest is None:
            return f"No safe start, covered or open: {inside.hindrance}. {_best(inside)}"
        if inside.earliest is None:
            reason = "it is too hot under it; open it more" if hot else str(inside.hindrance)
            return f"Only in the open: under the cover {reason}."
        return f"Only under the cover; in the open {outside.hindrance} stands in the way."
    sure = not within_error(outside, inside)
    said = f"Start {_end(early, 'earlier', 'later')} in spring{_doubt(early, sure)} and "
    said += f"{_end(late, 'later', 'earlier')} in the year than in the open"
    said += f"{_doubt(late, not within_error(outside, inside, first=False))}."
    if hot and min(early, late) >= 0:
        said += (
            " Between, it is heat under the cover that takes days; open it more, or take it off."
        )
    elif hot:
        said += " It is heat under the cover that limits; open it more, or take it off."
    elif early < 0 and sure:
        said += " Seed comes up sooner and plants are softer under the cover, while nights still "
        said += "kill."
    return said


def _best(inside: Window) -> str:
    """Say how much a start on the best day loses, for those who would risk it."""
    lost = inside.losses
    worst = max(lost.frost, lost.heat, lost.too_short)
    if worst > 0.95 * lost.years:
        return "Every start is lost."
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
