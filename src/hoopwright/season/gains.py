"""What a cover adds to the season of a crop, at each end and over all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import isnan

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
            return f"No safe start, covered or open: {inside.hindrance}."
        if inside.earliest is None:
            reason = "it is too hot under it; open it more" if hot else str(inside.hindrance)
            return f"Only in the open: under the cover {reason}."
        return f"Only under the cover; in the open {outside.hindrance} stands in the way."
    parts = [_end(early, "earlier", "later"), _end(late, "later", "earlier")]
    said = f"Start {parts[0]} in spring and {parts[1]} in the year than in the open."
    if hot:
        said += " It is heat under the cover that limits; open it more, or take it off."
    elif early < 0:
        said += f" {_why_later(outside, inside)}"
    return said


def _why_later(outside: Window, inside: Window) -> str:
    """Say why a cover seems to cost days in spring: chance, or seed up sooner and plants softer."""
    if within_error(outside, inside):
        return "That is within the sampling error of so few years."
    return "Seed comes up sooner and plants are softer under the cover, while nights still kill."


def within_error(outside: Window, inside: Window) -> bool:
    """Return True where the two earliest days' 90 % intervals meet."""
    a, b = outside.earliest, inside.earliest
    if a is None or b is None:
        return False
    return not (b.low > a.high or a.low > b.high)


def _end(days: int, more: str, less: str) -> str:
    if days == 0:
        return "the same day"
    count = abs(days)
    return f"{count} day{'s' if count > 1 else ''} {more if days > 0 else less}"


def date_text(day: float) -> str:
    """Return a day counted from 1 January (0) as "14 May", or "14 May next year"."""
    if isnan(day):
        return "none"
    whole = round(day)
    when = date(2001, 1, 1) + timedelta(days=whole % YEAR)
    later = " next year" if whole >= YEAR else ""
    return f"{when.day} {when:%B}{later}"
