"""The wind cases of real plans against OpenSees, each with its jumps where they are.

Everything is made anew here from the coefficients of the zones, the 60 degrees at which a leg is a
wall, and the plan's sizes: OpenSees bends a straight pipe, lays the weight on and turns the
pressure with it. The element in which the pressure jumps (60 degrees lie at 0.31 of the arc, inside
a panel of the beam) takes its part by length. Foot forces and the greatest bend within 1 % of the
greatest.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from opensees_here import modelled

from hoopwright import design_of, read_plan
from hoopwright.beam.response import respond, states_at
from hoopwright.checks.followed_hoop import FollowedHoop, follow_hoop
from hoopwright.checks.standing import Standing
from hoopwright.loads.wind_cases import WindCase
from hoopwright.tables.constants import STANDARD_GRAVITY

outside = modelled("hoop_by_opensees")

pytestmark = pytest.mark.reference

ELEMENTS = 96
MIDDLES = (np.arange(ELEMENTS) + 0.5) / ELEMENTS
HERE = Path(__file__).parents[2]
PLANS = {"usual": HERE / "tests" / "usual_bed.toml", "demo": HERE / "demo" / "high-valley.toml"}
CASES = 7
#: Gust effect times the coefficient of a windward wall: ASCE 7-16 26.11.1 and Figure 27.3-1.
WALL = 0.85 * 0.8
GUST = 40.0


@cache
def followed(plan: str) -> tuple[Standing, FollowedHoop]:
    standing = design_of(read_plan(PLANS[plan])).standing
    return standing, follow_hoop(standing)


def pressed(case: WindCase, rest: np.ndarray) -> np.ndarray:
    """Net coefficient of each element, on OpenSees' own unloaded shape."""
    outer = np.zeros(ELEMENTS)
    for zone in case.zones:
        outer[(zone.start < MIDDLES) & (zone.end > MIDDLES)] = zone.likely
    if case.wind == "across":
        step = np.diff(rest, axis=0)
        slope, left = np.abs(np.arctan2(step[:, 1], step[:, 0])), MIDDLES < 0.5
        wall_ends = np.interp(-np.pi / 3.0, -slope[left], MIDDLES[left])
        wall = np.clip((wall_ends - MIDDLES) * ELEMENTS + 0.5, 0.0, 1.0)
        assert 0.27 < wall_ends < 0.48, "the jump lies inside a panel"
        outer += wall * np.maximum(WALL - outer, 0.0)
    bare = np.zeros(ELEMENTS, dtype=bool)
    if case.name.endswith(("windward side up", "both sides up")):
        bare |= MIDDLES < 0.25
    if case.name.endswith(("lee side up", "both sides up")):
        bare |= MIDDLES > 0.75
    return np.where(bare, 0.0, outer - case.internal.likely)


@pytest.mark.parametrize("row", range(CASES))
@pytest.mark.parametrize("plan", PLANS)
def test_feet_and_bend_in_a_gale(plan: str, row: int) -> None:
    standing, hoop = followed(plan)
    assert len(hoop.cases) == CASES
    case, frame = hoop.cases[row], hoop.path.frame
    unit = frame.length**3 / frame.stiffness
    spring = 3.0 * frame.length / standing.hoop.leg.strap_spacing

    theirs = outside.bend_from_straight(standing.hoop.span / frame.length, spring, ELEMENTS, 24)
    weight = standing.hoop.pipe.mass_per_length
    weight += standing.bay * standing.cover.material.mass_per_area
    steady = np.zeros((ELEMENTS + 1, 2))
    steady[:, 1] = -outside.lumped(theirs, np.full(ELEMENTS, weight * STANDARD_GRAVITY * unit))
    outside.load_to(theirs, steady, steps=1)
    pressure = standing.wind.pressure(GUST)
    outside.press_to(theirs, pressed(case, theirs.rest) * standing.bay * pressure * unit)

    # Each case is followed twice; the first row has the likely pressure inside.
    found = respond(states_at(hoop.path, [pressure]))
    left, right = found.left, found.right
    ours = np.array([[left.push, -left.lift], [-right.push, -right.lift]])[:, :, 2 * row, 0]
    ground = theirs.feet() * frame.stiffness / frame.length**2
    assert np.abs(ours - ground).max() < 0.01 * np.abs(ground).max()
    assert np.abs(found.bend[2 * row, 0]).max() * frame.length == pytest.approx(
        np.abs(theirs.moments()).max(), rel=0.01
    )
