"""What wind does to the whole cover, and the odds at this place, in words a gardener reads."""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from hoopwright.answers.claimed import claimed_words
from hoopwright.answers.voice import Voice, message, plural, sentence
from hoopwright.checks.judged import BRUSHED, find_out_first
from hoopwright.checks.ladder import Headline
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.loads.shelter import covered_angle, sheltered_share
from hoopwright.loads.yearly import Sheltered, YearlyGust, YearlySnow, yearly_gust
from hoopwright.odds.draws import drawn
from hoopwright.units import System, fill, show

#: Winters that the odds are told for.
WINTERS = (1, 4)
#: A headline that comes about on fewer of the beds than this is one that hardly comes about.
HARDLY = 0.05
_PLAN_FOR = message("Plan for gusts up to {gust}; take the cover off before stronger ones.")
#: Boards of ten years are told of where they take more than a twentieth of what new ones stand.
TELLS = 0.95
#: What each headline is called, by what it brings.
HEADLINES = {
    "opens": "The cover opens",
    "lost": "The cover is lost",
    "moves": "The bed moves",
}


@dataclass(frozen=True)
class HeadlineWords:
    """One headline: what comes about, the gust to plan for, half of the beds, what does it.

    why : name by which `why_words` tells what stands behind it
    """

    why: str
    what: str
    careful: str
    half: str
    first: str


@dataclass(frozen=True)
class StrengthWords:
    """The answer on wind.

    answer : to plan by; here : the odds at this place; find_out : what to measure first, or ""
    ageing : what rot at the screws does to it by the year, or ""
    headlines : opened, lost, moved; draws : how many beds were drawn
    """

    answer: str
    here: str
    find_out: str
    ageing: str
    headlines: tuple[HeadlineWords, ...]
    draws: int

    @property
    def told(self) -> str:
        """Return it in one piece."""
        find_out = f"Find out first: {self.find_out}" if self.find_out else ""
        return " ".join(one for one in (self.answer, self.ageing, self.here, find_out) if one)


def gust_words(gust: float, system: System) -> str:
    """Return a gust [m/s]; beyond what is followed nothing is claimed."""
    return claimed_words(gust, "wind", "speed", system)


def chance_words(chance: float) -> str:
    """Return a chance [-] as a person says it."""
    if chance > 0.97:
        return "nearly always"
    if chance < 0.03:
        return "hardly ever"
    tenths = min(9, max(1, round(10 * chance)))
    words = {1: "about one time in ten", 5: "about half the time"}
    return words.get(tenths, f"about {tenths} times in ten")


def through_words(gets_through: Callable[[int], float], spell: str) -> str:
    """Return the chances to get through some years or winters, told apart where they differ."""
    one, four = (chance_words(gets_through(number)) for number in WINTERS)
    if one == four:
        return f"through one {spell} and through four {one}"
    return f"through one {spell} {one}, through four {four}"


def place_gusts(design: Design) -> YearlyGust | None:
    """Return how often gusts come here, by the plan's own gust; None where it has none."""
    site = design.site
    if site.gust is None:
        return None
    return replace(yearly_gust(site.gust, site.gust_years), sheltered=place_shelter(design))


def place_snows(design: Design) -> YearlySnow | None:
    """Return how often snows come here, by the plan's own snow on the ground; None without."""
    site = design.site
    if not site.ground_snow:
        return None
    return YearlySnow(site.ground_snow, site.snow_years, site.standard.name == "EN 1991")


def place_shelter(design: Design) -> Sheltered | None:
    """Return what the plan's barrier takes off strong winds.

    None where the plan does not say where it stands or names no hourly weather file.
    """
    site = design.site
    if site.barrier is None or site.barrier_direction is None or design.wind_hours is None:
        return None
    angle = covered_angle(site.barrier_length, site.barrier_distance, site.barrier_height)
    left = sheltered_share(
        site.barrier,
        site.barrier_height,
        site.barrier_distance,
        design.hoop.crown,
        barrier_length=site.barrier_length,
    )
    behind = drawn(left, design.ladder.inputs.draws.score("wind behind the barrier"))
    return Sheltered(
        design.wind_hours.strong_from(site.barrier_direction, angle), np.clip(behind, left.low, 1.0)
    )


def plan_for_gusts(design: Design, say: Voice) -> str:
    """Return the gust to plan for, in one sentence."""
    careful = design.ladder.opens.told[0]
    return say.tell(_PLAN_FOR, gust=claimed_words(careful, "wind", "speed", design.system, say))


def strength_words(design: Design) -> StrengthWords:
    """Return the answer on wind for a design."""
    found, system = design.ladder, design.system
    half = gust_words(found.opens.told[1], system)
    answer = (
        f"{plan_for_gusts(design, Voice(system))} Nine beds in ten built like this stand that with "
        f"the cover closed, half stand {half}."
    )
    measure = find_out_first(found)
    return StrengthWords(
        answer,
        _here(design),
        "" if measure is None else f"{measure.name}. {measure.how}",
        _ageing(design),
        tuple(_headline(one, design) for one in (found.opens, found.lost, found.moves)),
        found.inputs.draws.count,
    )


def _ageing(design: Design) -> str:
    """Return the careful gust by the age of the boards, where rot at the screws changes it."""
    new, five, ten = design.ladder.lost_by_age
    if ten > TELLS * new:
        return ""
    told = [gust_words(one, design.system) for one in (ten, five, new)]
    return (
        "Boards rot at the screws: nine beds in ten keep their cover up to {} on boards of ten "
        "years, to {} on boards of five (as counted here), to {} on new ones: rough; prod the wood "
        "round the screws each spring.".format(*told)
    )


def _here(design: Design) -> str:
    gusts, site = place_gusts(design), design.site
    if gusts is None or site.gust is None:
        return "Give the place's gust (site.gust, site.gust_years) to have its odds."
    at = design.ladder.opens.at
    through = through_words(lambda years: gusts.gets_through(at, years), "year")
    careful = design.ladder.opens.told[0]
    often = years_words(float(gusts.years(careful)))
    return (
        f"Here, where {show(site.gust, 'given speed', design.system)} comes about once in "
        f"{site.gust_years:g} years, gusts above the one to plan for come {often}. Left on all "
        f"year, the cover stays closed and whole {through}."
        f"{_shelter_words(design, gusts.sheltered)}"
    )


def _shelter_words(design: Design, behind: Sheltered | None) -> str:
    if behind is None:
        return ""
    share = show(behind.covered, "share", design.system)
    return (
        f" Of the strong winds in the weather file {share} come from where the "
        f"{design.site.barrier} stands; these odds count it, the gust to plan for does not."
    )


def snow_here(design: Design) -> str:
    """Return the odds of getting through the winters here, by the plan's own ground snow."""
    snows, brushed = place_snows(design), BRUSHED[design.standing.brushed]
    if snows is None:
        return "Give the place's snow on the ground (site.ground_snow) to have its odds."
    stands = design.ladder.snow_on_ground
    through = through_words(lambda years: snows.gets_through(stands, years), "winter")
    return (
        f"Here, where {show(snows.load, 'pressure', design.system)} lies on the ground about "
        f"once in {snows.years:g} winters, the cover left on and {brushed} gets {through}."
    )


def years_words(years: float) -> str:
    """Return how often something comes, from the years between."""
    if years < 1 / 6:
        return "many times a year"
    if years < 0.75:
        return f"about {round(1 / years)} times a year"
    if years < 1.5:
        return "about once a year"
    if years > 500:
        return "less than once in 500 years"
    if years < 2.5:
        return "about once in two years"
    # As far as they are known.
    step = 10 ** math.floor(math.log10(years)) if years >= 20 else 1
    return f"about once in {round(years / step) * step:.0f} years"


def _headline(one: Headline, design: Design) -> HeadlineWords:
    system = design.system
    careful, half, _ = one.told
    share = sum(part for _, part in one.first)
    rung = one.first[0][0]
    if share < HARDLY:
        why = "the cover is lost before" if one.brings == "moves" else "nothing followed does it"
        return HeadlineWords(
            one.brings, HEADLINES[one.brings], "hardly ever", "", sentence(why) + "."
        )
    first = sentence(fill(rung.happens, rung.values, system))
    of_ten = one.first[0][1] / share
    often = "" if of_ten > 0.95 else f" ({chance_words(of_ten)})"
    if one.brings == "moves" and share < 0.95:
        often = f" (on the {chance_of(share)} that keep their cover till then)"
    return HeadlineWords(
        one.brings,
        HEADLINES[one.brings],
        gust_words(careful, system),
        gust_words(half, system),
        f"Most often first{often}: {first}",
    )


def chance_of(share: float) -> str:
    """Return a share of the beds in words."""
    return f"{plural(max(1, round(10 * share)), 'bed')} in ten"
