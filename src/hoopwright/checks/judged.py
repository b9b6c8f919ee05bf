"""What the ladder means for this plan, as findings: wind, snow, hail, ridge; and which measurement
would tell most about it."""

from hoopwright.checks.finding import Finding, Severity
from hoopwright.checks.hoop_in_wind import GRIP
from hoopwright.checks.ladder import Ladder
from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import CLIP, RAIL_CLIP, TIE
from hoopwright.loads.yearly import Brushed
from hoopwright.odds.quantiles import weak_to_strong

BRUSH = (
    "Brush it off at {brush:depth} of wet snow, and all of it before rain; or take the cover off "
    "for the winter."
)
LET_NONE_LIE = "Let no wet snow lie on it: stay and brush, or take the cover off for the winter."
BRUSHED: dict[Brushed, str] = {
    "daily": "brushed off daily",
    "weekly": "brushed off weekly",
    "never": "never brushed off",
}
#: A depth [m] too small to wait for (a choice).
LEAST_BRUSHED = 0.006


def brush_at(found: Ladder) -> float:
    """Return the depth of wet snow [m] at which to brush it off: half of what is planned for."""
    return found.wet_snow.careful / 2


def wind_finding(found: Ladder, standing: Standing) -> Finding:
    """Return the gust to plan for, against the gust the plan designs for."""
    headline = found.lost if found.lost.told[0] <= found.opens.told[0] * 1.02 else found.opens
    careful, middle, _ = headline.told
    rung = headline.first[0][0]
    gust = standing.site.gust
    values: dict[str, float | str] = dict(rung.values)
    values |= {
        "careful": careful,
        "middle": middle,
        "lost": found.lost.told[0],
        "gust": gust or 0.0,
    }
    says = (
        "Plan for gusts up to {careful:speed}; take the cover off before stronger ones. Nine beds "
        "in ten built like this stand that, half stand {middle:speed}"
    )
    says += (
        "."
        if headline is found.lost
        else " before the cover opens; it is lost above {lost:speed} in the same careful count."
    )
    says += f" Most often first: {rung.happens}"
    if gust is None:
        severity, does = Severity.WATCH, "Give the place's gust (site.gust) to have it judged. "
    elif careful >= gust:
        severity, does = Severity.FINE, ""
    else:
        severity = Severity.WATCH if middle >= gust else Severity.CHANGE
        does = "The plan's gust is {gust:speed}. "
    do, source = does + rung.do if severity else "", "; ".join(rung.sources)
    return Finding("wind", severity, says, do, values, gust, careful, "speed", source)


def snow_finding(found: Ladder, standing: Standing) -> Finding:
    """Return the snow to plan for, and when to brush it off."""
    rung = found.wet_snow
    brush = brush_at(found)
    held = rung.careful_load
    assert held is not None
    wanted = standing.site.ground_snow
    borne = weak_to_strong(found.snow_on_ground)[0]
    values: dict[str, float | str] = dict(rung.values)
    values |= {
        "load": held,
        "careful": rung.careful,
        "middle": rung.middle,
        "brush": brush,
        "snow": wanted or 0.0,
        "ground": borne,
    }
    if wanted is None:
        severity = Severity.WATCH
    else:
        severity = Severity.FINE if borne >= wanted else Severity.CHANGE
    says = (
        "Bears {load:pressure} of snow, about {careful:depth} of it wet: nine beds in ten stand "
        f"that, half stand {{middle:depth}}. First: {rung.happens}"
    )
    do = BRUSH if brush >= LEAST_BRUSHED else LET_NONE_LIE
    if severity is Severity.CHANGE:
        do = (
            "The plan's snow load on the ground is {snow:pressure}; "
            f"{BRUSHED[standing.brushed]}, nine beds in ten bear {{ground:pressure}} there. " + do
        )
    source = "; ".join(rung.sources)
    return Finding("snow", severity, says, do, values, wanted, borne, "pressure", source)


def hail_finding(found: Ladder) -> Finding:
    """Return the stone that goes through the cover."""
    old = found.first("hail")
    new = next(rung for rung in found.hail if rung.name == "hail-through-new")
    assert old is not None
    return Finding(
        "hail",
        Severity.WATCH,
        "Stops hail up to about {stops:tape} when new; stones of {stops:tape} to {high:tape} go "
        "through it, and smaller ones as it ages ({old:tape} at the end of its life).",
        old.do,
        {"stops": new.careful, "high": new.strong, "old": old.careful},
        source="; ".join(new.sources),
    )


def ridge_finding(standing: Standing) -> Finding | None:
    """Return what it means that nothing keeps the hoops upright along the bed."""
    if standing.braced and standing.ridge_strut > 0:
        return None
    without = (
        "The ridge joins the hoops but nothing holds it: they can all lean along the bed together."
        if standing.ridged
        else "No ridge line: only the taut film keeps the hoops from leaning along the bed."
    )
    return Finding(
        "ridge",
        Severity.WATCH,
        without + " Under snow that is what they do first.",
        "Tie the ridge back to the side boards at both ends (hoops.brace = true)."
        if standing.ridge_strut > 0
        else "Run a pipe or batten along the crowns and tie it back to the side boards at both "
        'ends (hoops.ridge = "pipe", hoops.brace = true).',
        source="Loaded hoop out of its plane (computed); what film holds is an assumption",
    )


#: Correlation [-] below which an input is not worth measuring for this answer (a choice).
WORTH_ASKING = 0.12

_STRAPS = (
    "Pull a few legs along the pipe with a luggage scale and note it with `hoopwright pull` "
    "(holding.pull_test)."
)
_SOIL = (
    "Look at the soil by the boards on a dry day: a gap means that nothing holds the box there. "
    "Keep it moist and firmed against the boards."
)
#: What to do about an input that a person can find out: its name in the draws, and how.
HOW: dict[str, str] = {
    CLIP: "Pull a few film clips along the pipe with a luggage scale and note what each bears "
    "(holding.clip_test).",
    TIE: "Pull a few rail ties outward with a luggage scale and note what each bears "
    "(holding.tie_test).",
    RAIL_CLIP: "Pull a few rail clips outward with a luggage scale and note what each bears "
    "(holding.tie_test).",
    "squeeze of a snug strap": _STRAPS,
    "steel strap on plastic pipe": _STRAPS,
    GRIP: _STRAPS,
    "film on wood": "Pull the film's edge from under a batten with a clamp and a luggage scale; a "
    "further turn round the batten makes the figure not matter.",
    "earth pressure on the windward board": _SOIL,
    "soil sticking to the boards": _SOIL,
    "soil on board": _SOIL,
}


@dataclass(frozen=True)
class FindOut:
    """An input to find out first: its name, how, and its correlation with the answer [-]."""

    name: str
    how: str
    correlation: float


def find_out_first(found: Ladder) -> FindOut | None:
    """Return what to measure first for the gust to plan for, or None where nothing would tell."""
    for one in found.doubtful(found.opens.at):
        if one.name in HOW and abs(one.correlation) >= WORTH_ASKING:
            return FindOut(one.name, HOW[one.name], one.correlation)
    return None
