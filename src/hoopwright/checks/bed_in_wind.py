"""What a gust does to the whole bed, if everything above holds: lifts, tips or slides it."""

from __future__ import annotations

import math

import numpy as np

from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.holding.anchor import Ballast, lift_capacity, stake_side_capacity
from hoopwright.holding.grip import shares
from hoopwright.holding.sleeve import rod_pull_out, soil_frictions
from hoopwright.loads.arc_section import resultant
from hoopwright.loads.soil import side_thrust, soil_kinds
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread, exactly

#: What a stake is driven into, where the plan does not say: the least of the soils tabled.
STAKE_SOIL = "sand"


#: A case's name, its (lift, drag) at the most outward, and the same likely.
Resultant = tuple[str, tuple[float, float], tuple[float, float]]


def ballast(standing: Standing) -> Ballast:
    """Return what keeps the bed down: drained soil where it is tied, and the stakes."""
    hold = standing.hold_down
    soil = soil_kinds()[hold.soil]
    pull, side = exactly(0.0), exactly(0.0)
    if hold.stake is not None and hold.stakes:
        friction = soil_frictions()[STAKE_SOIL]
        pull = rod_pull_out(hold.stake.size, hold.stake_depth, friction).scaled(hold.stakes)
        tangent = Spread(soil.friction_low, soil.friction_likely, soil.friction_high)
        side = stake_side_capacity(
            hold.stake.size, hold.stake_depth, standing.bed.height / 2, tangent
        ).scaled(hold.stakes)
    return Ballast(
        frame_mass=standing.frame_mass,
        soil_mass=standing.soil_mass(soil.drained),
        tied_to_soil=hold.tied_to_soil,
        stake_pull_out=pull,
        stake_side=side,
    )


def soil_drag_on_boards(standing: Standing) -> Spread:
    """Return the soil's hold on the inner faces of the boards as the box rises [N].

    Side thrust times the tangent of two thirds of the friction angle, all round. Low: none, for
    dry soil shrinks from the boards; high: all of it; likely: half (assumptions). Wall friction
    of two thirds of the angle is common practice for retaining walls, no source.
    """
    soil = soil_kinds()[standing.hold_down.soil]
    bed = standing.bed
    thrust = side_thrust(bed.soil_depth, soil).likely
    angle = math.atan(soil.friction_likely)
    whole = thrust * math.tan(2 / 3 * angle) * 2 * (bed.inner_length + bed.inner_width)
    return Spread(0.0, whole / 2, whole)


def held_down(standing: Standing) -> Spread:
    """Return the uplift at which the box leaves the ground [N]."""
    weight = ballast(standing)
    held = lift_capacity(weight)
    return held if weight.tied_to_soil else held.plus(soil_drag_on_boards(standing))


def resultants(standing: Standing, wind: FollowedHoop) -> list[Resultant]:
    """Return lift and drag of the closed cases, per pascal [m2]."""
    hoop, length = standing.hoop, standing.bed.outer_length
    frame = wind.path.frame
    across = np.concatenate([[0.0], frame.x, [hoop.span]])
    up = np.concatenate([[0.0], frame.y, [0.0]])
    found: list[Resultant] = []
    for case in wind.cases:
        if is_opened(case):
            continue
        pairs = []
        for coefficient in (case.low, case.likely):
            one = resultant(coefficient, across, up)
            pairs.append((one.lift * length, abs(one.drag) * length))
        found.append((case.name, pairs[0], pairs[1]))
    return found


def bed_lifts(standing: Standing, wind: FollowedHoop) -> Rung:
    """Return the gust at which the box leaves the ground with its cover."""
    held = held_down(standing)
    found = resultants(standing, wind)
    worst = max(found, key=lambda item: item[2][0])
    outward = max(item[1][0] for item in found)
    per_pascal = Spread(*sorted((max(worst[2][0], 1e-6), max(worst[2][0], 1e-6), outward)))
    at = standing.wind.gust(held.over(per_pascal))
    tied = standing.hold_down.tied_to_soil
    return Rung(
        name="bed-lifts",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The whole bed lifts: it holds down about {low:force} to {high:force}"
        + (", its own soil counted." if tied else "; its soil stays behind, for nothing ties it."),
        harm="hazard",
        case=worst[0],
        do="Stake the corners, or tie the boards' lower edges across under the soil "
        "(holding.tied_to_soil = true).",
        sources=("Equilibrium; soil densities from the table", *_sources(wind, worst[0])),
        values={"low": held.low, "high": held.high},
    )


def _sources(wind: FollowedHoop, name: str) -> tuple[str, ...]:
    return next((case.sources for case in wind.cases if case.name == name), ())


def bed_tips_or_slides(standing: Standing, wind: FollowedHoop) -> Rung:
    """Return the gust at which the bed tips over its lee board or slides, whichever is first.

    Both are linear in the velocity pressure, so the pressure is solved for directly:
    tipping q (drag h + lift b / 2) = W b / 2, sliding q drag = mu (W - q lift) + stakes.
    """
    weight = ballast(standing)
    held = held_down(standing)
    width, height = standing.bed.outer_width, _drag_height(standing)
    friction = shares()["board on soil"].value
    full = (weight.frame_mass + weight.soil_mass) * STANDARD_GRAVITY
    results = []
    for name, outward, likely in resultants(standing, wind):
        if "across" not in name:
            continue
        for end, (lift, drag) in (("low", outward), ("likely", likely), ("high", likely)):
            capacity = getattr(held, end)
            tips = capacity * width / 2 / max(drag * height + lift * width / 2, 1e-9)
            mu, stakes = getattr(friction, end), getattr(weight.stake_side, end)
            slides = (mu * full + stakes) / max(drag + mu * lift, 1e-9)
            results.append((end, tips, slides))
    ends = {
        end: min(min(tips, slides) for which, tips, slides in results if which == end)
        for end in ("low", "likely", "high")
    }
    slides_first = min(s for e, _, s in results if e == "likely") < min(
        t for e, t, _ in results if e == "likely"
    )
    low, likely, high = ends["low"], ends["likely"], ends["high"]
    at = standing.wind.gust(Spread(min(low, likely), likely, max(likely, high)))
    way = "slides" if slides_first else "tips over its lee board"
    return Rung(
        name="bed-slides" if slides_first else "bed-tips",
        hazard="wind",
        at=at,
        kind="speed",
        happens=f"The bed {way}.",
        harm="hazard",
        case="wind across, closed",
        do="Stake the corners, or tie the boards' lower edges across under the soil.",
        sources=("Equilibrium about the lee edge; friction on soil is common practice",),
    )


def _drag_height(standing: Standing) -> float:
    """Return the height of the drag above the ground [m]: half way up the cover."""
    return standing.bed.height + standing.hoop.crown_over_board / 2
