"""The ladder and its changes in words a gardener reads."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.answers.voice import sentence
from hoopwright.checks.at_gust import Asked, AtGust
from hoopwright.checks.ladder import BRUSH, LEAST_BRUSHED, LET_NONE_LIE, brush_at
from hoopwright.checks.rung import Hazard, Rung
from hoopwright.checks.standing import Standing
from hoopwright.design import Design
from hoopwright.programme.changes import WorkedChange
from hoopwright.site import StandardName
from hoopwright.tables.spread import Spread
from hoopwright.units import System, fill, show

#: Beyond these nothing is claimed: the gust followed, snow deeper than a bed is high, thick ice,
#: big stones.
_FAR: dict[Hazard, float] = {"wind": 67.0, "snow": 1.5, "ice": 0.1, "hail": 0.1}


@dataclass(frozen=True)
class RungWords:
    """One rung: at what, what happens, how bad, in which case, and the sources."""

    at: str
    happens: str
    harm: str
    case: str
    do: str
    sources: tuple[str, ...]


@dataclass(frozen=True)
class LadderPart:
    """One hazard: its title, the sentence that sums it up, and its rungs in order."""

    title: str
    summary: str
    rows: tuple[RungWords, ...]


@dataclass(frozen=True)
class ChangeWords:
    """A change and what it gains and costs."""

    what: str
    gain: str


def range_words(at: Spread, kind: str, hazard: Hazard, system: System) -> str:
    """Return a range as text, "12 to 54 mph, likely 30": far ends as "over 150 mph"."""
    far = _FAR[hazard]
    if at.low >= far:
        return f"over {show(far, kind, system)}"
    likely = show(min(at.likely, far), kind, system)
    if at.likely >= far:
        return f"over {show(far, kind, system)} (at worst {show(at.low, kind, system)})"
    low, high = show(at.low, kind, system), show(min(at.high, far), kind, system)
    if low == likely == high:
        return f"about {likely}"
    number, unit = _parted(low)
    same = _parted(high)[1] == unit
    start = number if same else low
    over = "over " if at.high >= far else ""
    return f"{likely} ({start} to {over}{high})"


def _parted(text: str) -> tuple[str, str]:
    number, _, unit = text.rpartition(" ")
    return number, unit


def rung_words(rung: Rung, system: System) -> RungWords:
    """Return a rung as words."""
    return RungWords(
        range_words(rung.at, rung.kind, rung.hazard, system),
        sentence(fill(rung.happens, rung.values, system)),
        rung.harm,
        rung.case,
        rung.do,
        rung.sources,
    )


def ladder_words(design: Design) -> tuple[LadderPart, ...]:
    """Return the ladder in three parts."""
    found, system = design.ladder, design.system
    parts = (("Wind", found.wind), ("Snow and ice", found.snow), ("Hail", found.hail))
    summaries = (_wind(design), _snow(design), _hail(design))
    return tuple(
        LadderPart(title, summary, tuple(rung_words(rung, system) for rung in rungs))
        for (title, rungs), summary in zip(parts, summaries, strict=True)
    )


def _wind(design: Design) -> str:
    rung = design.ladder.first("wind")
    assert rung is not None
    system = design.system
    at = range_words(rung.at, "speed", "wind", system)
    words = f"First to give way: {at}. {sentence(fill(rung.happens, rung.values, system))}"
    return f"{words} {_basis(design.standing, system)}"


_CODES: dict[StandardName, str] = {"ASCE 7": "ASCE 7-16", "EN 1991": "EN 1991-1-4"}


def _basis(standing: Standing, system: System) -> str:
    site = standing.site
    words = (
        f"Gusts are 3-second gusts 10 m up in open country, by {_CODES[site.standard.name]} "
        f"({site.standard.because}; site.standard chooses) in {site.exposure} ground"
    )
    if site.barrier is not None:
        share = standing.wind.shelter.likely
        shelter = show(share, "share", system)
        words += (
            f"; behind a {site.barrier} the bed is given {shelter} of that speed"
            if share < 1
            else f"; the {site.barrier} is too low or too far to shelter this cover"
        )
    if site.count_height:
        words += "; reduced near the ground, outside the code"
    ratio = standing.hoop.curve.rise / standing.hoop.span
    if ratio > 0.6:
        words += f"; rise over span is {ratio:.1f}, and the codes stop at 0.6, so their end is used"
    return words + "."


def _snow(design: Design) -> str:
    system = design.system
    brush = brush_at(design.ladder)
    words = BRUSH if brush >= LEAST_BRUSHED else LET_NONE_LIE
    ice = design.ladder.first("ice")
    if ice is not None and ice.at.likely < _FAR["ice"]:
        words += " Clear ice all over it is too much at about {ice:tape}."
        return fill(words, {"brush": brush, "ice": ice.at.likely}, system)
    return fill(words, {"brush": brush}, system)


def _hail(design: Design) -> str:
    new = design.ladder.hail[-1]
    stone = show(new.at.low, "tape", design.system)
    return f"When new it very likely stops stones up to {stone}. Give or take half the energy."


def gust_words(found: AtGust, system: System) -> tuple[tuple[str, str], ...]:
    """Return what a gust asks as pairs: what, and how much against what holds."""
    return tuple((one.what, _asked(one, system)) for one in found.asked)


def _asked(one: Asked, system: System) -> str:
    if math.isnan(one.worst):
        return "the hoop lies over before this gust"
    likely, worst = show(one.likely, one.kind, system), show(one.worst, one.kind, system)
    words = likely if likely == worst else f"{likely}, at worst {worst}"
    if one.gone:
        words += " where it still stands; in the worst case it lies over before"
    if one.holds is None:
        return words
    low, high = show(one.holds.low, one.kind, system), show(one.holds.high, one.kind, system)
    return f"{words}; it holds {low} to {high}"


def change_words(design: Design, worked: Sequence[WorkedChange]) -> tuple[ChangeWords, ...]:
    """Return the changes as words, in the order given."""
    system = design.system.priced_in(design.order.currency)
    return tuple(_change(one, system) for one in worked)


def _change(one: WorkedChange, system: System) -> ChangeWords:
    gains = []
    if one.wind_gain > 0.02 * one.wind_before.at.likely:
        gains.append(f"first to give way at {_at(one.wind, system)} of wind")
    if one.snow_gain > 0.02 * one.snow_before.at.likely:
        gains.append(f"at {_at(one.snow, system)} of wet snow")
    money = show(abs(one.cost), "money", system)
    cost = "costs nothing" if abs(one.cost) < 0.005 else ("adds " if one.cost > 0 else "saves ")
    price = cost if abs(one.cost) < 0.005 else cost + money
    return ChangeWords(one.change.what, f"{', '.join(gains)}; {price}.")


def _at(rung: Rung, system: System) -> str:
    if not math.isfinite(rung.at.likely) or rung.at.likely >= _FAR[rung.hazard]:
        return "over " + show(_FAR[rung.hazard], rung.kind, system)
    return show(rung.at.likely, rung.kind, system)
