"""The ladder and its changes in words a gardener reads."""

import math
from collections.abc import Sequence

from hoopwright.answers.claimed import FARTHEST, claimed_words
from hoopwright.answers.strength_words import snow_here, strength_words
from hoopwright.answers.voice import Voice, message, sentence
from hoopwright.checks.at_gust import Asked, AtGust
from hoopwright.checks.judged import BRUSH, LEAST_BRUSHED, LET_NONE_LIE, brush_at
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.programme.changes import WorkedChange
from hoopwright.site.standard import StandardName
from hoopwright.units import System, fill, show

#: Of its loads the wet snow's depth is what a person sees.
_PLAN_FOR_SNOW = message(
    "Plan for {load:pressure} of snow: about {careful:depth} of it fresh and wet, {old:depth} old "
    "and wet"
)
_CODES: dict[StandardName, str] = {"ASCE 7": "ASCE 7-16", "EN 1991": "EN 1991-1-4"}


@dataclass(frozen=True)
class RungWords:
    """One rung: its name, at what, what happens, how bad, in which case, and the sources."""

    name: str
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


def stands_words(rung: Rung, system: System) -> str:
    """Return what nine beds in ten stand, and half: "39 mph (half 52 mph)"; far ends as "over"."""
    careful, half = (
        claimed_words(value, rung.hazard, rung.kind, system)
        for value in (rung.careful, rung.middle)
    )
    if careful == half:
        return careful
    return f"{careful} (half {half})"


def rung_words(rung: Rung, system: System) -> RungWords:
    """Return a rung as words."""
    return RungWords(
        rung.name,
        stands_words(rung, system),
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
    wind = f"{strength_words(design).told} {wind_basis(design.standing, system)}"
    summaries = (wind, _snow(design), _hail(design))
    return tuple(
        LadderPart(title, summary, tuple(rung_words(rung, system) for rung in rungs))
        for (title, rungs), summary in zip(parts, summaries, strict=True)
    )


def wind_basis(standing: Standing, system: System) -> str:
    """Return which gusts are meant, how much of them meets the bed, and by which standard."""
    site = standing.site
    share = show(standing.wind.likely_share, "share", system)
    words = (
        f"Gusts are 3-second gusts 10 m up in open country; at the crown they are about {share} of "
        f"that here, in {site.exposure} ground. Pressures by {_CODES[site.standard.name]} "
        f"({site.standard.because}; site.standard chooses)"
    )
    if site.barrier is not None:
        words += (
            f"; the {site.barrier} is not counted in the gust to plan for, since wind also comes "
            "along the bed and round its ends"
        )
    ratio = standing.hoop.curve.rise / standing.hoop.span
    if ratio > 0.6:
        words += f"; rise over span is {ratio:.1f}, and the codes stop at 0.6, so their end is used"
    return words + "."


def plan_for_snow(design: Design, say: Voice) -> str:
    """Return the snow to plan for, a sentence without its full stop."""
    wet, old = design.ladder.wet_snow, design.ladder.depth_of("old wet")
    old = min(old, FARTHEST["snow"])
    return say.tell(_PLAN_FOR_SNOW, load=wet.careful_load or 0.0, careful=wet.careful, old=old)


def _snow(design: Design) -> str:
    system = design.system
    wet, brush = design.ladder.wet_snow, brush_at(design.ladder)
    half = show(min(wet.middle, FARTHEST["snow"]), "depth", system)
    return (
        f"{plan_for_snow(design, Voice(system))}; half of the beds stand {half} fresh. "
        f"{snow_here(design)} {when_it_snows(brush, system)}{_ice(design)}"
    )


def when_it_snows(brush: float, system: System) -> str:
    """Return what to do about wet snow. brush : [m] the depth at which to brush it off"""
    return fill(BRUSH if brush >= LEAST_BRUSHED else LET_NONE_LIE, {"brush": brush}, system)


def besides(design: Design) -> tuple[str, ...]:
    """Return what is said of ice and of hail."""
    return tuple(one for one in (_ice(design).strip(), _hail(design)) if one)


def _ice(design: Design) -> str:
    ice = design.ladder.first("ice")
    if ice is None or ice.careful >= FARTHEST["ice"]:
        return ""
    thick = show(ice.careful, "tape", design.system)
    return f" Clear ice all over it is too much from about {thick} on."


def _hail(design: Design) -> str:
    new = next(rung for rung in design.ladder.hail if rung.name == "hail-through-new")
    stone = show(new.careful, "tape", design.system)
    return f"When new it very likely stops stones up to {stone}. Give or take half the energy."


def asked_words(found: AtGust, system: System) -> tuple[tuple[str, str], ...]:
    """Return what a gust asks as pairs: what, and how much against what holds."""
    return tuple((one.what, _asked(one, system)) for one in found.asked)


def _asked(one: Asked, system: System) -> str:
    if math.isnan(one.most):
        return "the hoop lies over before this gust"
    middle, most = show(one.middle, one.kind, system), show(one.most, one.kind, system)
    words = f"up to {most} on nine beds in ten"
    if most != middle:
        words += f", {middle} on half"
    if one.gone > 0.01:
        words += f"; {show(one.gone, 'share', system)} of the hoops lie over before"
    if one.holds is None:
        return words
    low, high = (show(end, one.kind, system) for end in one.holds)
    return f"{words}; it holds {low} to {high}"


def change_words(design: Design, worked: Sequence[WorkedChange]) -> tuple[ChangeWords, ...]:
    """Return the changes as words, in the order given."""
    system = design.system.priced_in(design.order.currency)
    return tuple(_change(one, system) for one in worked)


def _change(one: WorkedChange, system: System) -> ChangeWords:
    gains = []
    if one.wind_gain > 0.02 * one.wind_before:
        gains.append(f"plan for gusts up to {claimed_words(one.wind, 'wind', 'speed', system)}")
    if one.snow_gain > 0.02 * one.snow_before:
        depth = claimed_words(one.snow, "snow", "depth", system)
        gains.append(f"{'' if gains else 'plan '}for {depth} of wet snow")
    if one.loses_wind:
        gust = claimed_words(one.wind, "wind", "speed", system)
        gains.append(f"but only for gusts up to {gust}")
    if one.loses_snow:
        depth = claimed_words(one.snow, "snow", "depth", system)
        gains.append(f"but only for {depth} of wet snow")
    money = show(abs(one.cost), "money", system)
    cost = "costs nothing" if abs(one.cost) < 0.005 else ("adds " if one.cost > 0 else "saves ")
    price = cost if abs(one.cost) < 0.005 else cost + money
    return ChangeWords(one.change.what, f"{', '.join(gains)}; {price}.")
