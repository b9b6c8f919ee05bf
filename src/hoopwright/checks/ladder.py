"""The ladder: every rung of wind, snow and hail, in the order of what nine beds in ten stand.

States follow it: where a draw's edges come loose, all later wind finds an open cover; where its
cover is lost, the bed has nothing left to carry.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cached_property, partial
from typing import Any

import numpy as np

from hoopwright.checks.bed_in_wind import BedInWind
from hoopwright.checks.drawn_ends import DrawnEnds, drawn_ends
from hoopwright.checks.end_hoop_rungs import (
    end_hoops_in_snow,
    end_hoops_lean,
    end_hoops_pulled_over,
)
from hoopwright.checks.end_sheet import battens_pull, end_sheet_zips
from hoopwright.checks.film_in_snow import film_tears_under, ponds, ponds_rung, tearing_load
from hoopwright.checks.film_in_wind import (
    clips_open,
    clips_rung,
    edges_loose,
    edges_rung,
    film_tears,
    film_tears_rung,
    inner_clips_open,
    inner_clips_rung,
    rail_bows,
    rail_bows_rung,
)
from hoopwright.checks.followed_hoop import FollowedHoop, lately_followed
from hoopwright.checks.hoop_in_snow import (
    crown_sinks,
    depth,
    falls_aside,
    falls_aside_rung,
    hoop_lies_over,
    pipe_limit,
    snow_rungs,
)
from hoopwright.checks.hoop_in_wind import (
    hoop_sways_rung,
    legs_slip,
    legs_slip_rung,
    pipe_kinks,
    pipe_kinks_rung,
    sound_wood,
    straps_draw,
    straps_draw_rung,
)
from hoopwright.checks.hoops_along import leans_along_rung
from hoopwright.checks.inputs import BOARD_YEARS, Inputs
from hoopwright.checks.rain_and_ice import ice_rung, rain_on_snow_rung, stone_through
from hoopwright.checks.read_off import Floats, Met, Reader, least
from hoopwright.checks.rung import Brings, Hazard, Rung, by_care, first
from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.loads.snow import lying_share
from hoopwright.odds.quantiles import rank_correlation, weak_to_strong

WET = "wet"
SNOWS = ("fresh dry", "settled", WET)
#: Ages of the boards [yr] for which the headline is told.
AGES = (0.0, BOARD_YEARS, 10.0)
#: Rungs that the hold of the screws decides, with others.
SCREWED = ("strap-screws-draw", "end-hoops-pulled-over", "hoops-lean-along")


@dataclass(frozen=True, eq=False)
class Headline:
    """One of the three things that wind does to the whole: opens, loses or moves it.

    at : gust of each draw [m/s], infinite where it does not come to that
    first : the rungs that do it, most often first, each with its share of all draws
    """

    brings: Brings
    at: Floats
    first: tuple[tuple[Rung, float], ...]

    @cached_property
    def told(self) -> tuple[float, float, float]:
        """Return the careful, the middle and the strong gust [m/s]."""
        return weak_to_strong(self.at)


@dataclass(frozen=True, eq=False)
class Doubtful:
    """An input that much of the doubt comes from: its name and its rank correlation [-]."""

    name: str
    correlation: float


@dataclass(frozen=True, eq=False)
class Ladder:
    """All rungs, each hazard from the first to the last, and the followed hoop for drawing.

    snow : with the one rung of ice among them
    """

    wind: tuple[Rung, ...]
    snow: tuple[Rung, ...]
    hail: tuple[Rung, ...]
    followed: FollowedHoop
    inputs: Inputs

    def __getstate__(self) -> dict[str, Any]:
        # The end hoops are sooner worked out again than sent, and few ask for them.
        return {name: held for name, held in vars(self).items() if name != "ends"}

    @property
    def rungs(self) -> tuple[Rung, ...]:
        """Return all rungs: wind, snow, hail."""
        return (*self.wind, *self.snow, *self.hail)

    def first(self, hazard: Hazard) -> Rung | None:
        """Return the first rung of a hazard by its careful end, nuisances apart."""
        return first(self.rungs, hazard)

    @cached_property
    def opens(self) -> Headline:
        """Return the gusts at which the cover is open: a nuisance that opens it counts."""
        return self._headline("opens", [r for r in self.wind if r.brings in ("opens", "lost")])

    @cached_property
    def lost(self) -> Headline:
        """Return the gusts at which the cover is lost."""
        return self._headline("lost", [r for r in self.wind if r.brings == "lost"])

    @cached_property
    def moves(self) -> Headline:
        """Return the gusts at which the bed moves; infinite where the cover is lost before."""
        rungs = [r for r in self.wind if r.brings == "moves"]
        return self._headline("moves", rungs, self.lost.at)

    @cached_property
    def lost_by_age(self) -> tuple[float, ...]:
        """Return the careful gust [m/s] at which the cover is lost with boards of each of AGES.

        No rung falls by more than the root of its screws' hold, which tells where none of them
        could come first; then all are alike.
        """
        left = np.sqrt(sound_wood(self.inputs))
        screwed = [rung for rung in self.wind if rung.name in SCREWED]
        if not any((rung.at * left < self.lost.at).any() for rung in screwed):
            return (self.lost.told[0],) * len(AGES)
        rest = [rung for rung in self.wind if rung.brings == "lost" and rung.name not in SCREWED]

        def careful(years: float) -> float:
            if years == self.inputs.years:
                return self.lost.told[0]
            reader = Reader(self.followed, replace(self.inputs, years=years))
            aged = _rungs_of_screws(reader, self.ends, _Edges(reader))
            rungs = [*rest, *(one for one in aged if one is not None)]
            return self._headline("lost", rungs).told[0]

        return tuple(map(careful, AGES))

    @cached_property
    def ends(self) -> DrawnEnds:
        """Return the end hoops under the film's pull, in wind and under snow."""
        return drawn_ends(self.inputs.standing, self.followed)

    @staticmethod
    def _headline(brings: Brings, rungs: list[Rung], until: Floats | None = None) -> Headline:
        stacked = np.stack([rung.at for rung in rungs])
        if until is not None:
            stacked = np.where(stacked < until, stacked, np.inf)
        at, each = least(stacked)
        counts = np.divide(each, at.size)
        order = np.argsort(-counts, kind="stable")
        return Headline(brings, at, tuple((rungs[i], float(counts[i])) for i in order))

    @cached_property
    def _wet(self) -> tuple[Rung, ...]:
        """Return the rungs of wet snow by their careful end, nuisances apart."""
        return by_care(r for r in self.snow if WET in r.case and r.harm != "nuisance")

    @property
    def wet_snow(self) -> Rung:
        """Return the first rung of wet snow by its careful end, nuisances apart."""
        return self._wet[0]

    @cached_property
    def snow_on_ground(self) -> Floats:
        """Return the greatest load of a winter on the ground [Pa] that each drawn bed bears.

        On the cover lies what falls between two brushings of it.
        """
        standing = self.inputs.standing
        left: Floats | float = 1.0
        if standing.brushed != "never":
            left = self.inputs.doubt(f"snow between {standing.brushed} brushings over a winter's")
        return np.asarray(self.cover_in_snow / left)

    @cached_property
    def cover_in_snow(self) -> Floats:
        """Return the load on the ground [Pa] of which each drawn bed bears the standard's share."""
        loads = [rung.load for rung in self._wet if rung.load is not None]
        share = lying_share(self.inputs.standing.site.standard.name)
        return np.asarray(np.min(loads, axis=0) / share)

    def depth_of(self, kind: str) -> float:
        """Return the depth [m] of a kind of snow that weighs what nine beds in ten stand."""
        load = self.wet_snow.load
        assert load is not None
        return weak_to_strong(depth(self.inputs, load, kind))[0]

    def doubtful(self, answer: Floats) -> tuple[Doubtful, ...]:
        """Return the inputs that an answer depends on, the one with most of its doubt first."""
        names = list(self.inputs.draws.used)
        found = rank_correlation([self.inputs.draws.ranks(name) for name in names], answer)
        order = np.argsort(-np.abs(found), kind="stable")
        return tuple(Doubtful(names[i], float(found[i])) for i in order)


def ladder(
    standing: Standing,
    followed: FollowedHoop | None = None,
    inputs: Inputs | None = None,
    *,
    whole: bool = True,
) -> Ladder:
    """Return the ladder of a covered bed.

    followed : this hoop as `follow_hoop` gives it, where it is known already; hold-down and
        fastenings do not change it
    inputs : of a bed that differs in pins, stakes and ties below the soil alone, with what was
        worked out for it that those do not change
    whole : with the rungs by which neither opening nor losing the cover, wet snow or hail go
    """
    followed = followed or lately_followed(standing)
    inputs = Inputs(standing) if inputs is None else inputs.of_pinned(standing)
    reader = Reader(followed, inputs)
    ends = drawn_ends(standing, followed)
    edges = inputs.once("edges", lambda: _Edges(reader))
    wind = _wind(standing, reader, ends, edges, whole)
    hail = inputs.once(
        "hail", lambda: by_care(stone_through(standing, inputs, aged) for aged in (True, False))
    )
    snow = _snow(standing, reader, ends, whole)
    found = Ladder(by_care(wind), by_care(snow), hail, followed, inputs)
    # The ladder keeps its end hoops as if it had worked them out itself.
    vars(found)["ends"] = ends
    return found


def followed_on(loose: Floats, closed: Floats, opened: Floats) -> Floats:
    """Return where each draw gives way whose edges come loose on the way.

    loose : at which the edges do; closed, opened : at which it gives way with edges held and
    without. What holds with its edges held to beyond where they let go then stands as an open
    cover: it goes at once, or when the open cover would.
    """
    return np.asarray(np.where(closed <= loose, closed, np.minimum(closed, np.fmax(loose, opened))))


class _Edges:
    """When the long edges come loose, and what each draw gives way at with that on the way."""

    def __init__(self, reader: Reader) -> None:
        hoop, inputs = reader.hoop, reader.inputs
        standing = inputs.standing
        self.untied = edges_loose(standing, hoop, inputs)
        bows, breaks = rail_bows(standing, hoop, inputs)
        self.bows = np.fmin(bows, breaks)
        # A rail that bows lets the wind in; one that breaks or has lost its ties lets the film go.
        self.loose = np.fmin(self.untied, breaks)
        self.open_from = np.fmin(self.loose, bows)
        self.states = (False, True) if "rail" in standing.cover.edges else (False,)

    def state(self, read: Callable[[bool], Floats]) -> Floats:
        """Return where each draw gives way, its edges let go on the way or not."""
        closed = read(False)
        return followed_on(self.open_from, closed, read(True)) if True in self.states else closed

    def met(self, read: Callable[[bool], Met]) -> Met:
        """Return the same of what says which case it met."""
        found = {opened: read(opened) for opened in self.states}
        case = next((one.case for one in found.values() if one.case), "")
        return Met(self.state(lambda opened: found[opened].pressure), case)


def _rungs_of_screws(
    reader: Reader, ends: DrawnEnds, edges: _Edges
) -> tuple[Rung | None, Rung, Rung]:
    """Return the rungs of SCREWED; None for straps that no screw holds."""
    inputs = reader.inputs
    standing = inputs.standing

    def straps() -> Rung | None:
        found = {one: straps_draw(standing, reader, opened=one) for one in edges.states}
        held = {one: met for one, met in found.items() if met is not None}
        return straps_draw_rung(standing, inputs, edges.met(held.__getitem__)) if held else None

    return (
        inputs.once("straps", straps),
        end_hoops_pulled_over(standing, inputs, ends),
        inputs.once("leans along", lambda: leans_along_rung(standing, inputs)),
    )


def _wind(
    standing: Standing, reader: Reader, ends: DrawnEnds, edges: _Edges, whole: bool
) -> list[Rung]:
    hoop, inputs, once = reader.hoop, reader.inputs, reader.inputs.once
    rolls, met = True in edges.states, edges.met

    def rung_of_clips() -> Rung | None:
        if standing.cover.clip_spacing is None:
            return None
        return clips_rung(inputs, edges.state(clips_open(standing, hoop, inputs, ends)))

    def rung_of_inner_clips() -> Rung | None:
        inner = inner_clips_open(standing, hoop, inputs) if rolls else None
        return None if inner is None else inner_clips_rung(inputs, np.fmax(edges.loose, inner))

    def rung_of_tears() -> Rung:
        tears = edges.state(lambda opened: film_tears(standing, hoop, inputs, opened=opened))
        return film_tears_rung(standing, inputs, tears)

    def rung_of_kinks() -> Rung:
        kinks = met(lambda opened: pipe_kinks(standing, reader, opened=opened))
        return pipe_kinks_rung(standing, inputs, kinks)

    def rung_of_sway() -> Rung:
        return hoop_sways_rung(inputs, met(lambda opened: reader.lies_over(opened=opened)))

    slips = {one: legs_slip(standing, reader, opened=one) for one in edges.states}
    draws, pulled_over, leans = _rungs_of_screws(reader, ends, edges)
    rungs = [
        once("edges loose", lambda: edges_rung(standing, inputs, edges.untied)),
        once("rail bows", lambda: rail_bows_rung(standing, inputs, edges.bows)),
        legs_slip_rung(standing, inputs, met(lambda opened: slips[opened]), opened=False),
        legs_slip_rung(standing, inputs, slips[True], opened=True) if rolls and whole else None,
        draws,
        once("kinks", rung_of_kinks),
        once("sways", rung_of_sway),
        rung_of_clips(),
        once("inner clips", rung_of_inner_clips),
        once("film tears", rung_of_tears),
        once("battens", lambda: battens_pull(standing, inputs)),
        once("end sheet", lambda: end_sheet_zips(standing, inputs)),
        end_hoops_lean(standing, inputs, ends) if whole else None,
        pulled_over,
        leans,
        *(_of_bed(standing, reader, edges) if whole else ()),
    ]
    return [rung for rung in rungs if rung is not None]


def _of_bed(standing: Standing, reader: Reader, edges: _Edges) -> list[Rung]:
    """Return the rungs of the bed, if everything above it holds."""
    bed = BedInWind(standing, reader.hoop, reader.inputs)
    return bed.rungs(
        {
            "lifts": edges.met(lambda opened: bed.lifts(opened=opened)),
            "tips": edges.met(lambda opened: bed.tips(opened=opened)),
            "slides": edges.met(lambda opened: bed.slides(opened=opened)),
        }
    )


def _snow(standing: Standing, reader: Reader, ends: DrawnEnds, whole: bool) -> list[Rung]:
    inputs, once = reader.inputs, reader.inputs.once
    tears = once("tearing load", lambda: tearing_load(standing, inputs))
    sinks = once("sinks", lambda: crown_sinks(standing, reader))
    folds, cracks = once("folds", lambda: (hoop_lies_over(reader), pipe_limit(reader)))
    aside = falls_aside(standing, reader)

    def of_hoop_and_film(kind: str) -> tuple[Rung, ...]:
        under = film_tears_under(standing, inputs, kind, tears)
        return (*snow_rungs(standing, inputs, kind, sinks, folds, cracks), under)

    snow, kinds = [], SNOWS if whole else (WET,)
    for kind in kinds:
        *hoop, under = once(("snow", kind), partial(of_hoop_and_film, kind))
        snow += [*hoop, falls_aside_rung(standing, inputs, kind, aside), under]
    snow += end_hoops_in_snow(standing, inputs, ends, kinds)
    if not whole:
        return snow
    bears = np.minimum(np.minimum(folds.pressure, cracks.pressure), aside)
    pond = ponds_rung(inputs, ponds(standing, inputs, sinks.pressure, bears))
    ice = once("ice", lambda: ice_rung(standing, reader, tears))
    return [*snow, rain_on_snow_rung(inputs, snow), ice, *([] if pond is None else [pond])]
