"""What the card says of weather: gust and snow to plan for, what to do before, when to open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hoopwright.answers.ladder_words import plan_for_snow
from hoopwright.answers.strength_words import plan_for_gusts
from hoopwright.answers.voice import Voice, message
from hoopwright.checks.judged import LEAST_BRUSHED, brush_at
from hoopwright.design import Design
from hoopwright.design.growing import allowed_opening, schedule_of_plan
from hoopwright.heat.schedule import MonthDay, Season, Visits
from hoopwright.season.opening_options import Opening
from hoopwright.sheet.card_pack import Cell, Marked
from hoopwright.sheet.cautions import WEATHER_LAST, cautions_for
from hoopwright.sheet.traits import traits_of

if TYPE_CHECKING:
    from hoopwright.design.season_report import SeasonReport

#: What is done with the rails before a storm, by how the plan holds them.
_STORM = {
    "weight": message("Roll the sides down and tie the rails."),
    "tied": message("Roll the sides down and hook every loop over its rail."),
    "clipped": message("Roll the sides down and clip the rails."),
}
#: When each kind of cover is opened, where the plan's schedule has no more to say.
_OPENING = {
    "film": message("Open the sides in the morning, before the sun is on the bed."),
    "fixed film": message(
        "No side rolls up: take the film off, or lift it by hand, before the sun is on the bed."
    ),
    "fabric": message("Take the fabric off when nights are safe."),
    "mesh": message("It may stay on; look along it every day."),
}
_MONTHS = (
    *(message("Jan"), message("Feb"), message("Mar"), message("Apr"), message("May")),
    *(message("Jun"), message("Jul"), message("Aug"), message("Sep"), message("Oct")),
    *(message("Nov"), message("Dec")),
)
#: Each way to run the sides through a stretch of the year.
_WAYS = {
    "closed": message("from {day} shut"),
    "days": message("from {day} open by day, {height:depth}"),
    "visits": message("from {day} open by day, {height:depth}"),
    "opener": message("from {day} by the opener, {height:depth}"),
    "always": message("from {day} open day and night, {height:depth}"),
    "off": message("from {day} cover off"),
}
_ALL_YEAR = ((1, 1), (12, 31))


def weather_cells(design: Design, season: SeasonReport | None, say: Voice) -> list[Cell]:
    """Return what wind and snow to plan for, what to do before them, and when to open.

    season : the season of this plan, where it was worked out before, for the dates; None says the
             plan's own rule alone
    """
    traits = traits_of(design)
    cautions = cautions_for(traits)
    snow, heat = (
        tuple(Marked("!", say.word(cautions[key].short)) for key in (name,) if key in cautions)
        for name in WEATHER_LAST
    )
    gust = plan_for_gusts(design, say)
    # Where the careful depth is next to nothing, no load is promised.
    bears = brush_at(design.ladder) >= LEAST_BRUSHED
    load = f"{plan_for_snow(design, say)}." if bears else say.tell("Let no wet snow lie on it.")
    off = say.tell("If more is forecast, or nobody will be there, take the cover off.")
    rails = say.word(_STORM[design.plan.holding.rail]) if "rail" in traits else ""
    storm = " ".join(words for words in (gust, rails, say.tell("Clear what is loose.")) if words)
    opening = list(_rules(design, say))
    if season is not None:
        opening.append(_dates(season, design.plan.season.cover_from, say))
    return [
        Cell(say.tell("Wind, and before a storm"), (storm,)),
        Cell(say.tell("Snow, and before it"), (f"{load} {off}",), cautions=snow),
        Cell(say.tell("When to open"), tuple(opening), cautions=heat),
    ]


def _rules(design: Design, say: Voice) -> Iterator[str]:
    """Yield how the plan works the cover, by the schedule its season is worked out by."""
    asked, kind = design.plan.season, design.cover.material.kind
    if (asked.cover_from, asked.cover_until) != _ALL_YEAR:
        first, last = (_day(day, say) for day in (asked.cover_from, asked.cover_until))
        yield say.tell("The cover is on from {first} to {last}.", first=first, last=last)
    height = min(asked.open_height, allowed_opening(design))
    worked = schedule_of_plan(design.plan) if kind == "film" and height > 0.0 else None
    told = [_rule(one, height, worked.visits, say) for one in worked.seasons] if worked else []
    kind = "fixed film" if kind == "film" and not allowed_opening(design) else kind
    yield from [words for words in told if words] or [say.word(_OPENING[kind])]


def _rule(season: Season, height: float, visits: Visits, say: Voice) -> str:
    """Return what is done with the sides through a stretch of the year, or "" for nothing."""
    if season.opener_from is not None:
        return say.tell(
            "The opener raises the sides up to {height:depth} from {start:temperature} inside: "
            "look at it every morning.",
            height=height,
            start=season.opener_from,
        )
    if season.opened == "visits":
        return say.tell(
            "Open the sides {height:depth} before the morning sun is on the bed, if "
            "{warm:temperature} or sun and {cool:temperature} are forecast; shut them in the "
            "evening, unless the night stays above {mild:temperature}.",
            height=height,
            warm=visits.opens_above,
            cool=visits.unless_below,
            mild=visits.open_nights_above,
        )
    if season.opened == "days":
        return say.tell(
            "Open the sides {height:depth} every day before the sun is on the bed; shut them in "
            "the evening.",
            height=height,
        )
    if season.opened == "always":
        return say.tell(
            "Leave the sides {height:depth} up from {first} to {last}; else shut.",
            height=height,
            first=_day(season.first, say),
            last=_day(season.last, say),
        )
    return ""


def _dates(season: SeasonReport, first: MonthDay, say: Voice) -> str:
    """Return from when to open how far, as the season worked out has it; the half months that are
    run alike together, from the day the cover goes on."""
    halves = sorted(season.calendar, key=lambda half: (half.last < first, half.first))
    steps: list[tuple[MonthDay, Opening]] = []
    for half in halves:
        if not steps or steps[-1][1] != half.opening:
            steps.append((half.first if steps else max(half.first, first), half.opening))
    told, before = [], ""
    for day, way in steps:
        words = _WAYS[way.way] if way.way != before else message("from {day} {height:depth}")
        told.append(say.tell(words, day=_day(day, say), height=way.height))
        before = way.way
    dates = "; ".join(told)
    if season.invented:
        return say.tell("By the season worked out, on invented weather: {dates}.", dates=dates)
    return say.tell("By the season worked out: {dates}.", dates=dates)


def _day(day: MonthDay, say: Voice) -> str:
    return say.tell("{day} {month}", day=str(day[1]), month=say.word(_MONTHS[day[0] - 1]))
