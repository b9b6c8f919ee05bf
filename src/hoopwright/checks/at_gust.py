"""What one given gust asks of a covered bed, against what each part holds."""

from collections.abc import Callable

import numpy as np

from hoopwright.checks.bed_in_wind import BedInWind
from hoopwright.checks.end_hoop import Drawn, ridge_bears, strap_force
from hoopwright.checks.end_hoop_rungs import LEAN_SEEN, SLACK_FROM
from hoopwright.checks.end_sheet import end_clips_grip
from hoopwright.checks.film_in_wind import (
    crown_suction,
    edges_loose,
    end_strip_suction,
    film_tears,
    inner_clips_open,
)
from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.checks.hoop_in_wind import (
    counted_strain,
    leg_capacity,
    lift,
    sideways_strength,
    strain_in_a_gust,
)
from hoopwright.checks.ladder import Ladder
from hoopwright.checks.read_off import Floats, Reader
from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.holding.screws import Service
from hoopwright.odds.quantiles import quantiles


class GustTooStrong(ValueError):
    """A gust beyond those that the hoop is followed to."""


@dataclass(frozen=True)
class Asked:
    """One thing a gust asks of the drawn beds.

    kind : of the values, as units.show names it; middle, most : what half of the beds ask at
    most, and nine in ten; holds : what the part holds at 10 and 90 %, None where no figure speaks
    gone : [-] share of the beds whose hoop lies over before this gust
    rung : name of the rung that comes about where it is more than what holds, or ""
    """

    what: str
    kind: str
    middle: float
    most: float
    holds: tuple[float, float] | None
    gone: float
    rung: str = ""


@dataclass(frozen=True)
class AtGust:
    """A gust [m/s], its likely velocity pressure at the bed [Pa], and what it asks."""

    gust: float
    pressure: float
    asked: tuple[Asked, ...]


def at_gust(standing: Standing, found: Ladder, gust: float) -> AtGust:
    """Return what a gust [m/s] in the open does to the hoop and the bed.

    Raises GustTooStrong past STRONGEST_GUST, where nothing is followed.
    """
    if not 0 < gust <= STRONGEST_GUST:
        raise GustTooStrong(
            f"gust {gust:.3g} m/s: give one above 0 and up to {STRONGEST_GUST:.0f} m/s (150 mph)"
        )
    inputs = found.inputs
    reader = Reader(found.followed, inputs)
    speed = gust * standing.wind.share(inputs.draws)
    pressure = np.asarray(0.5 * standing.wind.density * speed**2)
    asked = (
        *_of_hoop(standing, reader, pressure),
        *_of_cover(standing, found, pressure),
        *_of_end(standing, found, pressure),
        *_of_bed(BedInWind(standing, found.followed, inputs), pressure),
    )
    return AtGust(gust, standing.wind.pressure(gust), asked)


def _asked(
    what: str, kind: str, values: Floats, holds: Floats | None = None, rung: str = ""
) -> Asked:
    stands = values[np.isfinite(values)]
    gone = 1.0 - stands.size / values.size
    ends = quantiles(stands, (0.5, 0.9)) if stands.size else (np.nan, np.nan)
    held = None if holds is None else quantiles(holds, (0.1, 0.9))
    return Asked(
        what,
        kind,
        float(ends[0]),
        float(ends[1]),
        None if held is None else (float(held[0]), float(held[1])),
        gone,
        rung,
    )


def _of_hoop(standing: Standing, reader: Reader, pressure: Floats) -> list[Asked]:
    response, inputs = reader.hoop.response, reader.inputs
    legs = leg_capacity(standing, inputs)[0]

    def asked(
        what: str, kind: str, values: Floats, holds: Floats | None = None, rung: str = ""
    ) -> Asked:
        found = reader.demand(values, pressure, opened=False, force=kind == "force")
        return _asked(what, kind, found, holds, rung)

    rows = [asked("Pull along a leg, sides down", "force", lift(response), legs, "legs-slip")]
    if "rail" in standing.cover.edges:
        opened = reader.demand(lift(response), pressure, opened=True, force=True)
        rows.append(
            _asked("Pull along a leg, a side up", "force", opened, legs, "legs-slip-opened")
        )
    push = np.fmax(np.abs(response.left.push), np.abs(response.right.push))
    return [
        *rows,
        asked("Push on the board at a foot", "force", push),
        asked("Crown sideways", "depth", np.abs(response.crown_sway)),
        asked("Crown down", "depth", np.maximum(response.crown_drop, 0.0)),
        asked(
            "Strain that counts",
            "strain",
            counted_strain(reader, standing.hoop.pipe.bend_left.likely),
            strain_in_a_gust(standing, inputs),
            "pipe-kinks",
        ),
    ]


def _of_cover(standing: Standing, found: Ladder, pressure: Floats) -> list[Asked]:
    """Return what the film's pull asks of its edge, its clips and itself.

    All but the clips on the end hoops go with the pressure: what is asked is to what holds as the
    pressure is to the one at which it gives way.
    """
    hoop, inputs = found.followed, found.inputs
    closed, loose = (crown_suction(hoop, inputs, opened=one) for one in (False, True))
    strip = end_strip_suction(hoop, inputs, opened=False)
    bay, span = standing.bay, standing.hoop.span

    def asked(what: str, kind: str, limit: Floats, size: Floats, rung: str) -> Asked:
        return _asked(what, kind, pressure * size, limit * size, rung)

    rows = []
    if "rail" in standing.cover.edges:
        size = closed * bay * span / 2
        rung = "rails-lift" if standing.hold_down.rail == "weight" else "rail-ties-give"
        limit = edges_loose(standing, hoop, inputs)
        rows.append(asked("Pull of the film's edge at a hoop", "force", limit, size, rung))
    inner = inner_clips_open(standing, hoop, inputs)
    if inner is not None and rows:
        size = loose * bay * span
        what = "Lift on an inner hoop's clips, edges loose"
        rows.append(asked(what, "force", inner, size, "inner-clips-open"))
    grip = end_clips_grip(standing, inputs)
    if grip is not None:
        apart = float(standing.cover.clip_spacing or 0.0)
        pulled = found.ends.demand(
            lambda drawn: drawn.pull, pressure * strip / closed, inputs, force=True
        )
        what = "Pull on a clip of an end hoop"
        share = apart / standing.hoops_an_end
        rows.append(_asked(what, "force", pulled * share, grip * share, "clips-open"))
    limit = film_tears(standing, hoop, inputs, opened=False)
    return [*rows, asked("Suction on the film", "pressure", limit, strip, "film-tears")]


def _of_end(standing: Standing, found: Ladder, pressure: Floats) -> list[Asked]:
    """Return the lean of the end hoops along the bed and what it asks of their straps."""
    inputs = found.inputs
    ends = found.ends

    def asked(
        what: str,
        kind: str,
        value: Callable[[Drawn], Floats],
        holds: Floats | None,
        rung: str = "",
    ) -> Asked:
        found = ends.demand(value, pressure, inputs, force=kind == "force")
        return _asked(what, kind, found, holds, rung)

    strength = sideways_strength(standing, inputs, Service())
    seen = inputs.draws.of(SLACK_FROM, LEAN_SEEN) * standing.hoop.crown_over_board
    lean = "End hoops lean along the bed"
    rows = [asked(lean, "depth", lambda drawn: drawn.lean, seen, "end-hoops-lean")]
    if standing.ridge_strut > 0:
        holds = ridge_bears(standing) * inputs.stiffness
        rows.append(asked("Push in the ridge", "force", lambda drawn: drawn.strut, holds))
    if strength is not None:
        rows.append(
            asked(
                "Along the board on an end strap",
                "force",
                lambda drawn: strap_force(standing, drawn),
                strength,
            )
        )
    return rows


def _of_bed(bed: BedInWind, pressure: Floats) -> list[Asked]:
    return [
        _asked(
            "Lift on the whole bed",
            "force",
            bed.most("lift") * pressure,
            bed.holds_down,
            "bed-lifts",
        ),
        _asked("Sideways on the whole bed", "force", bed.most("drag") * pressure),
        _asked(
            "Tipping moment on the whole bed",
            "moment",
            bed.turns * pressure / bed.tips(opened=False).pressure,
            bed.turns,
            "bed-tips",
        ),
    ]
