"""What a gust does to the film: lifts the rails, opens the clips, pulls the battens, tears it."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.cover.fastening import evenly
from hoopwright.cover.membrane import elastic_span
from hoopwright.holding.film_edge import batten_clamp, clip_grip, rail_ballast, rolled_batten
from hoopwright.holding.screws import Service, withdrawal
from hoopwright.loads.wind_cases import end_wall_coefficients
from hoopwright.tables.spread import Spread

#: Turns of film round a batten before it is screwed down (common practice, no source).
BATTEN_TURNS = 1.0
BATTEN_SCREW_GREATEST = 0.4572
STRESS_GRID = np.geomspace(1.0, 2e4, 60)


def crown_suction(wind: FollowedHoop) -> Spread:
    """Return the outward coefficient over the crown with the sides down [-], all positive."""
    closed = [case for case in wind.cases if not is_opened(case)]
    middle = (wind.section.arc > 0.25) & (wind.section.arc < 0.75)
    outward = [(-case.low[middle].mean(), -case.likely[middle].mean()) for case in closed]
    worst = max(max(low, 0.05) for low, _ in outward)
    likely = max(max(likely, 0.05) for _, likely in outward)
    return Spread(min(likely, worst), likely, worst)


def pressures(capacity: Spread, coefficient: Spread) -> Spread:
    """Return the velocity pressures [Pa] at which a suction [Pa] meets its capacity."""
    return capacity.over(coefficient)


def rails_lift(standing: Standing, wind: FollowedHoop) -> Rung | None:
    """Return the gust at which a rail no longer holds its edge down by weight."""
    if "rail" not in standing.cover.edges:
        return None
    hoop, rail = standing.hoop, standing.cover.rail
    slope = abs(float(hoop.curve.angle[0]))
    rolled = standing.film_mass * 0.05 / standing.cover.body.length
    held = rail_ballast(rail.mass_per_length + rolled, hoop.span / 2, min(slope, np.pi / 2))
    at = standing.wind.gust(pressures(Spread(*([held.lifts_at] * 3)), crown_suction(wind)))
    return Rung(
        name="rails-lift",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The roll-up rails lift and the sides flap; flapping wears the film through.",
        harm="nuisance",
        case="sides down, rails held by their weight only",
        do="Tie or hook the rails down to the board at every hoop when it blows.",
        sources=("Equilibrium of rail weight and film pull, p R",),
    )


def _gust_of_pull(standing: Standing, wind: FollowedHoop, bears: Spread) -> Spread:
    """Return the gust [m/s] whose suction pulls the film between hoops as hard as it bears."""
    pull = _pull_of_suction(standing)
    suction = Spread(*(float(np.interp(one, pull, STRESS_GRID)) for one in _ends(bears)))
    return standing.wind.gust(pressures(suction, crown_suction(wind)))


def clips_open(standing: Standing, wind: FollowedHoop) -> Rung | None:
    """Return the gust at which clips on an end hoop let the film go.

    Suction spans the film between hoops; its pull along the bed ends at the end hoop's clips.
    """
    cover = standing.cover
    if cover.clip is None or len(cover.clip_arc) < 2:
        return None
    spacing = cover.clip_arc[1] - cover.clip_arc[0]
    grip = clip_grip(spacing)
    at = _gust_of_pull(standing, wind, grip)
    return Rung(
        name="clips-open",
        hazard="wind",
        at=at,
        kind="speed",
        happens="Clips on the end hoops let go and the sheet creeps along the hoops.",
        harm="repair",
        case="sides down, suction over the crown",
        do="Set the clips closer (cover.clip_spacing) or lace a cord over the film.",
        sources=("Elastic membrane; grip of a clip is an assumption",),
    )


def _ends(value: Spread) -> tuple[float, float, float]:
    return value.low, value.likely, value.high


def is_film(standing: Standing) -> bool:
    """Return whether the cover is a film with a modulus; fabric and mesh go by force alone."""
    material = standing.cover.material
    return material.strength.modulus is not None and material.thickness is not None


def film_stiffness(standing: Standing) -> float:
    """Return the cover's stiffness [N/m]: film E times thickness, else break force over strain."""
    material = standing.cover.material
    strength = material.strength
    if strength.modulus is not None and material.thickness is not None:
        return strength.modulus.value * material.thickness
    return strength.break_force.value / strength.break_strain.value


def _pull_of_suction(standing: Standing) -> np.ndarray:
    """Return the film's pull along the bed [N/m] at each suction of the grid [Pa]."""
    return _pulls_of_suction(standing.film_span, film_stiffness(standing))


@lru_cache(maxsize=64)
def _pulls_of_suction(span: float, stiffness: float) -> np.ndarray:
    return np.asarray(elastic_span(STRESS_GRID, span, stiffness).tension)


def film_strength(standing: Standing) -> tuple[Spread, str]:
    """Return the pull at which the cover gives [N/m] and where the figure comes from.

    Films: first yield, likely yield, break. Fabrics and meshes: break force with its range.
    """
    material = standing.cover.material
    strength = material.strength
    if strength.yield_stress is None or strength.break_stress is None or not material.thickness:
        force = strength.break_force
        return Spread(force.low, force.value, force.high), force.source
    thickness, stress = material.thickness, strength.yield_stress
    return (
        Spread(
            stress.low * thickness,
            stress.value * thickness,
            max(strength.break_stress.value, stress.value) * thickness,
        ),
        stress.source,
    )


def film_tears(standing: Standing, wind: FollowedHoop) -> Rung:
    """Return the gust at which the film stretches for good or tears between hoops."""
    strength, source = film_strength(standing)
    at = _gust_of_pull(standing, wind, strength)
    return Rung(
        name="film-tears",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The {cover} stretches for good between the hoops, then tears.",
        harm="repair",
        case="sides down, suction over the crown",
        do="Set hoops closer, lace a cord over each bay (cover.lacing = true), or take a "
        "stronger cover.",
        sources=(source, "Elastic membrane between hoops (computed)"),
        values={"cover": standing.cover.material.name},
    )


def battens_pull(standing: Standing) -> Rung | None:
    """Return the gust at which an end sheet draws out from under its batten.

    The end wall's pressure, over half its height, pulls on the foot of the sheet.
    """
    screw, cover = standing.batten_screw, standing.cover
    if screw is None:
        return None
    bite = screw.length - cover.batten.thickness
    one = withdrawal(
        standing.bed.species.specific_gravity,
        screw.size.diameter,
        min(screw.thread_length, bite),
        Service(),
    )
    length = cover.battens[0].pieces[0]
    gaps = max(1, len(evenly(length, BATTEN_SCREW_GREATEST, 0.0762)) - 1)
    spacing = length / gaps
    grip = Spread(
        *(
            getattr(rolled_batten(BATTEN_TURNS, batten_clamp(force, spacing)), end)
            for force, end in zip(_ends(one), ("low", "likely", "high"), strict=True)
        )
    )
    windward, lee = end_wall_coefficients(standing.bed.outer_length / standing.bed.outer_width)
    coefficient = Spread(
        min(abs(windward.likely), abs(lee.likely)),
        max(abs(windward.likely), abs(lee.likely)),
        max(abs(windward.high), abs(lee.low)),
    )
    half = standing.hoop.crown_over_board / 2
    at = standing.wind.gust(grip.scaled(1 / half).over(coefficient))
    return Rung(
        name="battens-let-go",
        hazard="wind",
        at=at,
        kind="speed",
        happens="An end sheet draws out from under its batten.",
        harm="repair",
        case="wind along the bed",
        do="Roll the film once more round the batten and add a screw.",
        sources=("Capstan and Coulomb; friction of film on wood is an assumption", "NDS 2018 12.2"),
    )
