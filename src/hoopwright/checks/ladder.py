"""The ladder: every rung of wind, snow and hail, from the first that gives way to the last."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.checks.bed_in_wind import bed_lifts, bed_tips_or_slides
from hoopwright.checks.end_hoop_rungs import (
    drawn_ends,
    end_hoops_in_snow,
    end_hoops_lean,
    end_hoops_pulled_over,
)
from hoopwright.checks.film_in_snow import film_tears_under, tearing_load
from hoopwright.checks.film_in_wind import battens_pull, clips_open, film_tears, rails_lift
from hoopwright.checks.finding import Finding, Severity
from hoopwright.checks.followed_hoop import FollowedHoop, follow_hoop
from hoopwright.checks.hail_stones import stone_through
from hoopwright.checks.hoop_in_snow import (
    crown_sinks,
    hoop_lies_over,
    pipe_limit,
)
from hoopwright.checks.hoop_in_wind import (
    hoop_sways,
    legs_slip,
    pipe_kinks,
    straps_draw,
)
from hoopwright.checks.rain_and_ice import ice_rung, rain_on_snow_rung
from hoopwright.checks.rung import Hazard, Rung, first
from hoopwright.checks.standing import Standing
from hoopwright.loads.snow import lying_share, snow_kinds
from hoopwright.tables.constants import STANDARD_GRAVITY

BRUSH = (
    "Brush it off at {brush:depth} of wet snow, and all of it before rain; or take the film off "
    "for the winter."
)
LET_NONE_LIE = "Let no wet snow lie on it: stay and brush, or take the film off for the winter."
#: A depth [m] too small to wait for.
LEAST_BRUSHED = 0.006
SNOWS = ("fresh dry", "settled", "wet")


@dataclass(frozen=True)
class Ladder:
    """All rungs, each hazard from the first to the last, and the followed hoop for drawing.

    snow : with the one rung of ice among them
    """

    wind: tuple[Rung, ...]
    snow: tuple[Rung, ...]
    hail: tuple[Rung, ...]
    followed: FollowedHoop

    @property
    def rungs(self) -> tuple[Rung, ...]:
        """Return all rungs: wind, snow, hail."""
        return (*self.wind, *self.snow, *self.hail)

    def first(self, hazard: Hazard) -> Rung | None:
        """Return the first rung of a hazard, nuisances apart."""
        return first(self.rungs, hazard)


def ladder(standing: Standing, followed: FollowedHoop | None = None) -> Ladder:
    """Return the ladder of a covered bed.

    followed : this hoop as `follow_hoop` gives it, where it is known already; hold-down and
        fastenings do not change it
    """
    followed = followed or follow_hoop(standing)
    ends = drawn_ends(standing, followed)
    wind = [
        legs_slip(standing, followed, opened=False),
        legs_slip(standing, followed, opened=True) if "rail" in standing.cover.edges else None,
        straps_draw(standing, followed),
        pipe_kinks(standing, followed),
        hoop_sways(standing, followed),
        rails_lift(standing, followed),
        clips_open(standing, followed),
        film_tears(standing, followed),
        battens_pull(standing),
        end_hoops_lean(standing, ends),
        end_hoops_pulled_over(standing, ends),
        bed_lifts(standing, followed),
        bed_tips_or_slides(standing, followed),
    ]
    tears = tearing_load(standing)
    snow = [
        rung
        for kind in SNOWS
        for rung in (
            crown_sinks(standing, followed, kind),
            hoop_lies_over(standing, followed, kind),
            pipe_limit(standing, followed, kind),
            film_tears_under(standing, kind, tears),
        )
    ]
    snow += end_hoops_in_snow(standing, ends, SNOWS)
    snow += [rain_on_snow_rung(snow), ice_rung(standing, followed)]
    hail = [stone_through(standing, aged) for aged in (True, False)]
    return Ladder(
        _in_order([rung for rung in wind if rung is not None]),
        _in_order(snow),
        _in_order(hail),
        followed,
    )


def _in_order(rungs: list[Rung]) -> tuple[Rung, ...]:
    return tuple(sorted(rungs, key=lambda rung: rung.at.likely))


def brush_at(found: Ladder) -> float:
    """Return the depth of wet snow [m] at which to brush it off: half the first rung's weak end."""
    wet = [rung for rung in found.snow if "wet" in rung.case and rung.harm != "nuisance"]
    return min(rung.at.low for rung in wet) / 2


def wind_finding(found: Ladder, standing: Standing) -> Finding:
    """Return what the first rung in wind means against the gust the plan designs for."""
    rung = found.first("wind")
    assert rung is not None
    values: dict[str, float | str] = dict(rung.values)
    values |= {
        "from_gust": rung.at.low,
        "at_gust": rung.at.likely,
        "to_gust": rung.at.high,
        "gust": standing.site.gust or 0.0,
    }
    says = (
        "Holds to gusts of about {at_gust:speed} (somewhere between {from_gust:speed} and "
        f"{{to_gust:speed}}). First: {rung.happens}"
    )
    gust = standing.site.gust
    if gust is None:
        severity, does = Severity.WATCH, "Give the place's gust (site.gust) to have it judged. "
    elif rung.at.low >= gust:
        severity, does = Severity.FINE, ""
    else:
        severity = Severity.WATCH if rung.at.likely >= gust else Severity.CHANGE
        does = "The plan's gust is {gust:speed}. "
    return Finding(
        "wind",
        severity,
        says,
        (does + rung.do) if severity else "",
        values,
        gust,
        rung.at.likely,
        "speed",
        "; ".join(rung.sources),
    )


def snow_finding(found: Ladder, standing: Standing) -> Finding:
    """Return what the first rung in wet snow means, and when to brush it off."""
    wet = [rung for rung in found.snow if "wet" in rung.case and rung.harm != "nuisance"]
    rung = wet[0]
    density = snow_kinds()["wet"].density().likely
    values: dict[str, float | str] = dict(rung.values)
    brush = brush_at(found)
    values |= {
        "from_depth": rung.at.low,
        "at_depth": rung.at.likely,
        "to_depth": rung.at.high,
        "brush": brush,
        "snow": standing.site.ground_snow or 0.0,
    }
    wanted = standing.site.ground_snow
    share = lying_share(standing.site.standard.name)
    held = rung.at.likely * density * STANDARD_GRAVITY
    if wanted is None:
        severity = Severity.WATCH
    else:
        severity = Severity.FINE if held >= share * wanted else Severity.CHANGE
    says = (
        "Bears about {at_depth:depth} of wet snow (somewhere between {from_depth:depth} and "
        f"{{to_depth:depth}}). First: {rung.happens}"
    )
    do = BRUSH if brush >= LEAST_BRUSHED else LET_NONE_LIE
    if severity is Severity.CHANGE:
        do = "The plan's snow load on the ground is {snow:pressure}. " + do
    return Finding(
        "snow",
        severity,
        says,
        do,
        values,
        None if wanted is None else share * wanted,
        held,
        "pressure",
        "; ".join(rung.sources),
    )


def hail_finding(found: Ladder) -> Finding:
    """Return the stone that goes through the cover."""
    old, new = found.first("hail"), found.hail[-1]
    assert old is not None
    return Finding(
        "hail",
        Severity.WATCH,
        "Stops hail up to about {stops:tape} when new; stones of {low:tape} to {high:tape} go "
        "through it, and smaller ones as it ages ({old:tape} at the end of its life).",
        old.do,
        {
            "stops": new.at.low,
            "low": new.at.low,
            "high": new.at.high,
            "old": old.at.likely,
        },
        source="; ".join(new.sources),
    )


def ridge_finding(standing: Standing) -> Finding | None:
    """Return what it means that nothing keeps the hoops upright along the bed."""
    if standing.ridged:
        return None
    return Finding(
        "ridge",
        Severity.WATCH,
        "No ridge line: only the taut film keeps the hoops from leaning along the bed, and the "
        "figures for wind and snow count on them standing upright.",
        'Run a pipe, cord or batten along the crowns (hoops.ridge = "pipe"); a pipe or batten also '
        "props the end hoops apart.",
        source="The frame is worked out in its own plane only",
    )
