"""The season in words: warmer than what, when to sow, when to open."""

import math
import re
from collections.abc import Sequence
from itertools import groupby, pairwise

from hoopwright.answers.season_warmth import Grid, SeasonRow, warmth
from hoopwright.answers.voice import listed
from hoopwright.design.season_climates import OPEN
from hoopwright.design.season_options import COLD_NIGHT
from hoopwright.design.season_report import SeasonReport, crop_label
from hoopwright.heat.compare import HOT, VERY_HOT
from hoopwright.season.bed_years import YEAR
from hoopwright.season.gains import date_text
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import Rule
from hoopwright.season.succession import Timetable
from hoopwright.season.windows import Window
from hoopwright.units import MONTH_NAMES, System, show

GENERATED = (
    "Generated years know how often a single night kills better than how long a cold spring lasts: "
    "a GHCN-Daily record of 30 years near you, named as the plan's weather, is the first choice."
)
NO_SIDE = (
    "No side of this cover rolls up: it is shut or off. Lifted by hand for a day it lies between."
)
QUARTER = 90
"""[d] told of a rule where no harvest ends it."""


def grids(report: SeasonReport, system: System) -> tuple[Grid, ...]:
    """Return every table of the season, the dates first."""
    return (
        sowing(report, system),
        *successions(report),
        calendar(report, system),
        warmth(report, system),
        *additions(report, system),
        heat_by_opening(report, system),
        thirst(report, system),
    )


def additions(report: SeasonReport, system: System) -> tuple[Grid, ...]:
    """Return what fabric on the plants or jugs would add, where the plan has them not."""
    if not report.additions:
        return ()

    def apart(value: float) -> str:
        return show(value, "temperature difference", system)

    rows = tuple(
        SeasonRow(
            one.what,
            (
                f"{apart(one.leaf)} warmer (eight nights in ten: {apart(one.tenth)} to "
                f"{apart(one.ninetieth)})",
            ),
        )
        for one in report.additions
    )
    cold = show(COLD_NIGHT, "temperature", system)
    heads = ("Under the cover", f"Leaves on nights under {cold}")
    note = (
        "Kept there day and night, over the cover alone; fabric takes light as well. Film and "
        "fabric together were measured at 1 to 4 °C (2 to 7 °F) over the open in frosts."
    )
    return (Grid("What more would help", heads, rows, report.marked(note)),)


def heat_by_opening(report: SeasonReport, system: System) -> Grid:
    """Return what each way to run the plan's cover does to the heat."""
    hot, very = (show(value, "temperature", system) for value in (HOT, VERY_HOT))
    rows = tuple(
        SeasonRow(
            _way(one.opening, system),
            (f"{one.hot:.0f}", f"{one.very_hot:.0f}", show(one.coldest, "temperature", system)),
        )
        for one in report.openings
    )
    least = report.keeps_under
    kept = f"No opening that is allowed keeps the air under {hot}."
    if not report.allowed_height:
        kept = NO_SIDE
    elif least is not None:
        kept = (
            f"Opened by day to {show(least, 'depth', system)}, the air stays under {hot} but for "
            "one hour in a hundred."
        )
    heads = ("Sides, all year", f"Hours a year above {hot}", f"Above {very}", "Coldest leaf")
    note = f"{kept} Means of some years; coldest leaf from April to October."
    opened = [one.hot for one in report.openings if one.opening.height > 0]
    if any(wider > narrower for narrower, wider in pairwise(opened)):
        note += (
            " A watered bed cools its own air; on the hottest days wider sides let warmer air in."
        )
    return Grid("Heat by opening", heads, rows, report.marked(note))


def thirst(report: SeasonReport, system: System) -> Grid:
    """Return the watering of each crop that has a window."""
    rows = tuple(
        SeasonRow(
            crop_label(report.crops[one.crop]),
            (
                show(one.litres / 1000, "volume", system),
                f"{one.interval:.0f} days" if math.isfinite(one.interval) else "once",
                f"{show(one.by_drip / 1000, 'volume', system)}, "
                f"{(1 - one.by_drip / one.litres) * 100:.0f} % less",
            ),
        )
        for one in report.thirst
    )
    return Grid(
        "Watering",
        ("If the whole bed held it", "Water by can", "About every", "By drip"),
        rows,
        report.marked(
            "From sowing or planting to first harvest, by the FAO-56 balance with the air under "
            "the cover, in the first of the years. A rough figure: soil and roots differ. Drip "
            "wets only the soil by the plants and keeps leaves dry. No rain falls under film."
        ),
    )


def _way(opening: Opening, system: System) -> str:
    return {
        "closed": "shut",
        "days": f"open by day, {show(opening.height, 'depth', system)}",
        "visits": f"open on warm days, {show(opening.height, 'depth', system)}",
        "opener": f"by the opener, {show(opening.height, 'depth', system)}",
        "always": f"open day and night, {show(opening.height, 'depth', system)}",
        "off": "cover off",
    }[opening.way] + (", fabric on the plants" if opening.fabric else "")


def rule_words(rule: Rule, first: float, last: float, system: System) -> str:
    """Return in words how to run the cover from a start to its harvest [d]."""
    if math.isnan(last):
        last = first + QUARTER
    steps = rule.between(int(first), max(int(last), int(first) + 1))
    said = _way(steps[0][1], system)
    for day, way in steps[1:]:
        said += f"; from {date_text(day)} {_way(way, system)}"
    if rule.seedbed is not None and rule.seedbed != steps[0][1]:
        said = f"{_way(rule.seedbed, system)} until it is up, then {said}"
    return said


def window_words(window: Window) -> str:
    """Return the dates between which a crop is started, the careful one first."""
    if not window.stretches:
        return f"none: {window.hindrance}"
    usual = ", and ".join(
        f"{date_text(one.first)} to {date_text(one.last)}" for one in window.stretches
    )
    if window.careful is None:
        return f"never with all care; {usual}"
    if window.careful[0] == window.stretches[0].first:
        return usual
    return f"with all care from {date_text(window.careful[0])}; {usual}"


def unknown_yields(report: SeasonReport) -> str:
    """Say how rough the yields are, and for which crops there is none."""
    none = [one.name for one in report.crops.values() if one.by_light is None]
    said = (
        "Yield by light is rough: what greenhouse trials lost of it for each share of light, the "
        "first start's against one with all the light it can use; the cover takes no ground."
    )
    return f"{said} No trial is known for {listed(none)}." if none else said


def yield_words(outside: Window, inside: Window) -> str:
    """Return the yield of a picking, open and covered, and of the year by its weeks and light."""
    if outside.picking is None or inside.picking is None or inside.earliest is None:
        return ""

    def shares(window: Window) -> str:
        ends = dict.fromkeys(f"{100 * end:.0f}" for end in window.picking or ())
        return f"{' to '.join(ends)} %" if window.earliest is not None else "none"

    said = f"open {shares(outside)}, covered {shares(inside)}"
    if outside.earliest is None or not outside.harvest_weeks:
        return said
    weeks = inside.harvest_weeks / outside.harvest_weeks
    pairs = zip(inside.picking, outside.picking, strict=True)
    times = sorted(weeks * a / b for a, b in pairs)
    told = dict.fromkeys(f"{one:.1f}" for one in times)
    return f"{said}; with its weeks {' to '.join(told)} times the open bed's year"


def stalk_words(window: Window) -> str:
    """Return a caution where long or warm days make many flower before they are eaten."""
    if window.stalks is None:
        return ""
    day, share = window.stalks
    return (
        f"Started about {date_text(day)}, {10 * share:.0f} in 10 flower before the first picking "
        "in long or warm days; slow-bolting kinds bear more."
    )


def harvest_words(window: Window) -> str:
    """Return when the first harvest comes in the middle year, an early and a late one of ten."""
    held = window.harvest
    if window.earliest is None or math.isnan(held.middle):
        return "none"
    if math.isnan(held.early) or math.isnan(held.late):
        return date_text(held.middle)
    return f"{date_text(held.middle)} ({date_text(held.early)} to {date_text(held.late)})"


def sowing(report: SeasonReport, system: System) -> Grid:
    """Return the sowing and planting dates, open and under the plan's own cover."""
    own = report.covers[1].name

    def rule(window: Window) -> str:
        if window.earliest is None:
            return ""
        return rule_words(window.rule, window.earliest.day, window.harvest.middle, system)

    rows = tuple(
        SeasonRow(
            crop_label(report.crops[key]),
            (
                window_words(row[OPEN]),
                window_words(row[own]),
                harvest_words(row[OPEN]),
                harvest_words(row[own]),
                rule(row[own]),
                yield_words(row[OPEN], row[own]),
                f"{report.gains[key].sentence} {stalk_words(row[own])}".strip(),
            ),
        )
        for key, row in report.windows.items()
    )
    return Grid(
        "When to sow and plant",
        (
            "Crop",
            "Open bed",
            "Under cover",
            "First harvest, open",
            "First harvest, covered",
            "The cover, for the first start",
            "A picking's yield by light, of the best",
            "What the cover adds",
        ),
        rows,
        report.marked(
            f"At a risk of {report.risk * 100:.0f} % a year, as far as the years can tell. With "
            "all care: the risk kept to the letter, and every plant counted lost at the warmest "
            "killing temperature that sources name. Harvests in brackets: one year in ten is "
            "before the first date, one after the second. "
            f"From {report.origin}. {unknown_yields(report)}"
        )
        + (f" {GENERATED}" if "generated" in report.origin else ""),
    )


def successions(report: SeasonReport) -> tuple[Grid, ...]:
    """Return what can follow what in the bed under the plan's cover, the best few timetables."""
    found = report.successions
    if not found:
        return ()

    def turn(chain: Timetable, number: int) -> str:
        if number >= len(chain.turns):
            return ""
        one = chain.turns[number]
        start, harvest, cleared = (day % YEAR for day in (one.start, one.harvest, one.cleared))
        name = report.crops[one.crop].name
        return f"{name} {date_text(start)}, picked {date_text(harvest)} to {date_text(cleared)}"

    turns = max(len(chain.turns) for chain in found)
    rows = tuple(
        SeasonRow(
            f"{chain.weeks:.0f} weeks of harvest; all of them {10 * chain.odds:.0f} years in 10",
            tuple(turn(chain, n) for n in range(turns)),
        )
        for chain in found
    )
    note = (
        "The whole bed one crop after another, in the middle year; each picked for three weeks at "
        "most, a week to make the bed ready between. Each start keeps the risk by itself; the "
        "years in 10 are those in which every crop comes through and is ripe in its time."
    )
    heads = ("", "First", *("Then",) * (turns - 1))
    return (Grid("What can follow what", heads, rows, report.marked(note)),)


SHARE = re.compile(r"\d+ %")


def _why(halves: Sequence[HalfMonth]) -> str:
    """Return the reason without what the column beside it says already, shares as a span."""
    spans = []
    for shares in zip(*(SHARE.findall(half.sentence) for half in halves), strict=True):
        least, most = (of(shares, key=lambda share: int(share[:-2])) for of in (min, max))
        spans.append(most if least == most else f"{least[:-2]} to {most}")
    said = SHARE.sub(lambda _: spans.pop(0), halves[0].sentence)
    for prefix in ("Open by day, shut at night; ", "Keep it shut."):
        said = said.removeprefix(prefix)
    said = said.strip()
    return said[:1].upper() + said[1:]


def _how(half: HalfMonth, system: System) -> str:
    if half.opening.way == "off" and half.mesh:
        return "film off, mesh or shade on"
    return _way(half.opening, system)


def calendar(report: SeasonReport, system: System) -> Grid:
    """Return the opening calendar by half month, those alike together with the span of shares."""
    alike = groupby(report.calendar, lambda half: (half.opening, SHARE.sub("", half.sentence)))
    rows = []
    for held in (list(halves) for _, halves in alike):
        (_, day), (month, last) = held[0].first, held[-1].last
        rows.append(
            SeasonRow(
                f"{day} {MONTH_NAMES[held[0].month - 1]} to {last} {MONTH_NAMES[month - 1]}",
                (_how(held[0], system), _why(held)),
            )
        )
    widest = show(report.allowed_height, "length", system)
    ends = f"Never wider than bed and animals allow ({widest})."
    note = (
        "From the crops while any start of them may stand in the bed. "
        f"{ends if report.allowed_height else NO_SIDE}"
    )
    return Grid("Opening through the year", ("", "Sides", "Why"), tuple(rows), report.marked(note))
