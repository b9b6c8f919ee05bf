"""What one given gust asks of a covered bed, against what each part holds."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.response import states_at
from hoopwright.checks.bed_in_wind import held_down, resultants
from hoopwright.checks.followed_hoop import STRONGEST_GUST, FollowedHoop
from hoopwright.checks.hoop_in_wind import added_strain, leg_capacity, lift
from hoopwright.checks.standing import Standing
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
    return AtGust(gust, pressure, (*_of_hoop(standing, there), *_of_bed(standing, there, pressure)))


def _of_hoop(standing: Standing, there: FollowedHoop) -> list[Asked]:
    response = there.response
    stuff = standing.hoop.pipe.stuff
    legs = leg_capacity(standing)[0]

    def asked(what: str, kind: str, values: Floats, holds: Spread | None, opened: bool) -> Asked:
        likely = values[there.wind_rows(opened, "likely")]
        every = np.append(values[there.wind_rows(opened, "low")], likely)
        gone = bool(np.isnan(every).any())
        ends = [float(np.nanmax(of)) if np.isfinite(of).any() else np.nan for of in (likely, every)]
        return Asked(what, kind, ends[0], ends[1], holds, gone)

    strain = added_strain(there, standing, stuff.relaxation.value)
    rows = [asked("Pull along a leg, sides down", "force", lift(response), legs, False)]
    if "rail" in standing.cover.edges:
        rows.append(asked("Pull along a leg, a side up", "force", lift(response), legs, True))
    return [
        *rows,
        asked("Push on the board at a foot", "force", _push(there), None, False),
        asked("Crown sideways", "depth", np.abs(response.crown_sway), None, False),
        asked("Crown down", "depth", np.maximum(response.crown_drop, 0.0), None, False),
        asked("Strain that counts", "strain", strain, stuff.strain_limit_at(23.0), False),
    ]


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
