"""What one given gust asks of a covered bed, against what each part holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.response import states_at
from hoopwright.checks.bed_in_wind import held_down, resultants
from hoopwright.checks.end_hoop import Drawn, ridge_bears
from hoopwright.checks.end_hoop_rungs import drawn_ends, strap_force
from hoopwright.checks.followed_hoop import STRONGEST_GUST, FollowedHoop
from hoopwright.checks.hoop_in_wind import added_strain, leg_capacity, lift, strap_strength
from hoopwright.checks.standing import Standing
from hoopwright.holding.screws import Service
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]


class GustTooStrong(ValueError):
    """A gust beyond those that the hoop is followed to."""


@dataclass(frozen=True)
class Asked:
    """One thing a gust asks: likely, and with the most outward coefficients.

    kind : of the values, as units.show names it; holds : what the part holds, None where no
    figure speaks; gone : whether the hoop lies over before this gust in the worst case
    """

    what: str
    kind: str
    likely: float
    worst: float
    holds: Spread | None
    gone: bool


@dataclass(frozen=True)
class AtGust:
    """A gust [m/s], its likely velocity pressure at the bed [Pa], and what it asks."""

    gust: float
    pressure: float
    asked: tuple[Asked, ...]


def at_gust(standing: Standing, followed: FollowedHoop, gust: float) -> AtGust:
    """Return what a gust [m/s] in the open does to the hoop and the bed.

    Raises GustTooStrong past STRONGEST_GUST, where nothing is followed.
    """
    if not 0 < gust <= STRONGEST_GUST:
        raise GustTooStrong(
            f"gust {gust:.3g} m/s: give one above 0 and up to {STRONGEST_GUST:.0f} m/s (150 mph)"
        )
    pressure = standing.wind.pressure(gust)
    there = replace(followed, path=states_at(followed.path, np.array([pressure])))
    asked = (
        *_of_hoop(standing, there),
        *_of_end(standing, followed, pressure),
        *_of_bed(standing, there, pressure),
    )
    return AtGust(gust, pressure, asked)


def _of_hoop(standing: Standing, there: FollowedHoop) -> list[Asked]:
    response = there.response
    legs = leg_capacity(standing)[0]

    def asked(what: str, kind: str, values: Floats, holds: Spread | None, opened: bool) -> Asked:
        likely = values[there.wind_rows(opened, "likely")]
        every = np.append(values[there.wind_rows(opened, "low")], likely)
        gone = bool(np.isnan(every).any())
        ends = [float(np.nanmax(of)) if np.isfinite(of).any() else np.nan for of in (likely, every)]
        return Asked(what, kind, ends[0], ends[1], holds, gone)

    pipe = standing.hoop.pipe
    strain = added_strain(there, standing, pipe.stuff.relaxation.value)
    rows = [asked("Pull along a leg, sides down", "force", lift(response), legs, False)]
    if "rail" in standing.cover.edges:
        rows.append(asked("Pull along a leg, a side up", "force", lift(response), legs, True))
    return [
        *rows,
        asked("Push on the board at a foot", "force", _push(there), None, False),
        asked("Crown sideways", "depth", np.abs(response.crown_sway), None, False),
        asked("Crown down", "depth", np.maximum(response.crown_drop, 0.0), None, False),
        asked(
            "Strain that counts",
            "strain",
            strain,
            standing.hoop.pipe.strain_under_load(23.0),
            False,
        ),
    ]


def _of_end(standing: Standing, followed: FollowedHoop, pressure: float) -> list[Asked]:
    """Return the lean of the end hoops along the bed and what it asks of their straps."""
    ends = drawn_ends(standing, followed)

    def asked(
        what: str, kind: str, value: Callable[[Drawn], Floats], holds: Spread | None
    ) -> Asked:
        likely, worst = (
            max(
                float(np.interp(pressure * one.hardest, one.drawn.pressure, value(one.drawn)))
                for one in cases
            )
            for cases in (ends.likely, ends.outward)
        )
        return Asked(what, kind, likely, max(likely, worst), holds, False)

    strength = strap_strength(standing, Service())
    rows = [asked("End hoops lean along the bed", "depth", lambda drawn: drawn.lean, None)]
    if standing.ridge_strut > 0:
        bears, hot = ridge_bears(standing), standing.hoop.pipe.stuff.modulus_hot.value
        holds = Spread(hot * bears, bears, bears)
        rows.append(asked("Push in the ridge", "force", lambda drawn: drawn.strut, holds))
    if strength is not None:
        rows.append(
            asked(
                "Along the board on an end strap",
                "force",
                lambda drawn: strap_force(standing, drawn),
                strength[1],
            )
        )
    return rows


def _push(there: FollowedHoop) -> Floats:
    return np.fmax(np.abs(there.response.left.push), np.abs(there.response.right.push))


def _of_bed(standing: Standing, there: FollowedHoop, pressure: float) -> list[Asked]:
    found = resultants(standing, there)
    ends = [likely for _, _, likely in found], [outward for _, outward, _ in found]
    lifts = [max(0.0, max(lift for lift, _ in end)) * pressure for end in ends]
    drags = [max(drag for _, drag in end) * pressure for end in ends]
    return [
        Asked("Lift on the whole bed", "force", lifts[0], max(lifts), held_down(standing), False),
        Asked("Sideways on the whole bed", "force", drags[0], max(drags), None, False),
    ]
