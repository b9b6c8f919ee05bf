"""What a gardener reads in half a minute: how much it stands, the odds here, what to do."""

from hoopwright.answers.claimed import FARTHEST
from hoopwright.answers.ladder_words import plan_for_snow, when_it_snows
from hoopwright.answers.strength_words import (
    HeadlineWords,
    chance_words,
    place_gusts,
    place_snows,
    plan_for_gusts,
    strength_words,
)
from hoopwright.answers.voice import Voice, sentence
from hoopwright.checks.judged import BRUSHED, brush_at
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.units import fill, show

#: Years that the odds are told for.
YEARS = (1, 4, 10)
RAILS_DOWN = "Roll the sides down and tie the rails to the boards at every hoop."
BEFORE_A_STORM = (
    "Close the ends. An end open towards the wind fills the cover like a sail.",
    "If gusts above the one to plan for are forecast, take the cover off; bare hoops stand.",
)
GUIDANCE = (
    "Guidance for small garden covers that nobody shelters in, worked out with rough figures: take "
    "the careful one. Local codes rule. Ask a licensed engineer where a cover stands by people, a "
    "road or a building, is taller than you are, or shelters anyone."
)


@dataclass(frozen=True)
class Odds:
    """The odds through the years here of one thing: in words, one for each of YEARS."""

    what: str
    through: tuple[str, ...]


@dataclass(frozen=True)
class Glance:
    """The half minute.

    plan_for : the gust and the snow to plan for; headlines : what wind does to the whole, then
    snow and hail, careful first; odds : here, the cover left on all year, none where the plan has
    neither gust nor snow; place : of what place they are; find_out : what to measure first, or ""
    before : what to do before a storm; draws : how many beds were drawn
    """

    plan_for: str
    headlines: tuple[HeadlineWords, ...]
    odds: tuple[Odds, ...]
    place: str
    find_out: str
    before: tuple[str, ...]
    draws: int


def glance(design: Design) -> Glance:
    """Return what is read of a design in half a minute."""
    say, told = Voice(design.system), strength_words(design)
    return Glance(
        f"{plan_for_gusts(design, say)} {plan_for_snow(design, say)}.",
        (*told.headlines, _snow(design), _hail(design)),
        _odds(design),
        _place(design),
        told.find_out,
        (
            *((RAILS_DOWN,) if "rail" in design.cover.edges else ()),
            *BEFORE_A_STORM,
            when_it_snows(brush_at(design.ladder), design.system),
        ),
        told.draws,
    )


def _snow(design: Design) -> HeadlineWords:
    wet, system = design.ladder.wet_snow, design.system
    careful, half = (
        show(min(depth, FARTHEST["snow"]), "depth", system) for depth in (wet.careful, wet.middle)
    )
    happens = sentence(fill(wet.happens, wet.values, system))
    return HeadlineWords(wet.name, "Fresh wet snow is too much", careful, half, f"First: {happens}")


def _hail(design: Design) -> HeadlineWords:
    aged, new = sorted(design.ladder.hail, key=lambda rung: rung.careful)
    careful, half, later = (
        show(stone, "tape", design.system) for stone in (aged.careful, aged.middle, new.careful)
    )
    words = f"Stones so big go through it at the end of its life; new from {later} on."
    return HeadlineWords(aged.name, "Hail goes through", careful, half, words)


def _odds(design: Design) -> tuple[Odds, ...]:
    found, gusts, snows = design.ladder, place_gusts(design), place_snows(design)
    rows = []
    if gusts is not None:
        rows += [
            ("The cover stays closed and whole", gusts.gets_through, found.opens.at),
            ("The cover is not lost", gusts.gets_through, found.lost.at),
        ]
    if snows is not None:
        brushed = BRUSHED[design.standing.brushed]
        rows.append((f"It bears the snow, {brushed}", snows.gets_through, found.snow_on_ground))
    return tuple(
        Odds(what, tuple(sentence(chance_words(chance(at, years))) for years in YEARS))
        for what, chance, at in rows
    )


def _place(design: Design) -> str:
    site, system, snows = design.site, design.system, place_snows(design)
    known = []
    if site.gust is not None:
        gust = show(site.gust, "given speed", system)
        known.append(f"{gust} comes about once in {site.gust_years:g} years")
    if snows is not None:
        snow = show(snows.load, "pressure", system)
        known.append(f"{snow} of snow lies about once in {snows.years:g} winters")
    if not known:
        return (
            "Give the place's gust (site.gust, site.gust_years) and snow (site.ground_snow) to "
            "have its odds."
        )
    asked = "" if site.gust is not None else " Give its gust too (site.gust)."
    return f"Here, where {' and '.join(known)}, the cover left on all year.{asked}"
