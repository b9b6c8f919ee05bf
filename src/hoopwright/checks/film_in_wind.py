"""What a gust does to the film: lifts the rails, opens the clips, tears it."""

from collections.abc import Callable

import numpy as np

from hoopwright.checks.drawn_ends import DrawnEnds, suction
from hoopwright.checks.end_sheet import CLOSED, end_clips_grip
from hoopwright.checks.film import drawn_strength, film_strength, pressure_of_pull
from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.holding.film_edge import Floats, rail_ballast, rail_between_ties

CORD_LEFT = "hold of a lacing cord once slack"
END_STRIP = "suction in the strip at the ends over the crown's"
RAIL_AGED = "rail in sun and frost over new in bending"
TURNING = "hold of a rail's ties on its turning"
AT_HOLES = "strength of film left at clips, screws and hot pipe"
CROWN = np.array([0.5])
LOOSE = "open towards the wind"


def crown_suction(wind: FollowedHoop, inputs: Inputs, *, opened: bool) -> Floats:
    """Return the net suction over the crown [-] over the velocity pressure, sides down or loose."""
    return suction(inputs, _outside_crown(wind), LOOSE if opened else CLOSED)


def end_strip_suction(wind: FollowedHoop, inputs: Inputs, *, opened: bool) -> Floats:
    """Return the same in the strip at the ends, where film and clips are pulled the hardest."""
    outside = _outside_crown(wind) * inputs.doubt(END_STRIP)
    return suction(inputs, outside, LOOSE if opened else CLOSED)


def _outside_crown(wind: FollowedHoop) -> float:
    closed = [case for case in wind.cases if not is_opened(case)]
    return max(-float(case.by_zone(CROWN)[0]) for case in closed)


def edges_loose(standing: Standing, wind: FollowedHoop, inputs: Inputs) -> Floats:
    """Return the velocity pressure [Pa] at which the long edges no longer hold the film.

    Infinite where they are battened or buried. A rail holds by its weight, and at each hoop by
    what ties or clips it there; suction carried round the arch pulls with pressure times radius.
    """
    if "rail" not in standing.cover.edges:
        return np.full(inputs.draws.count, np.inf)
    tied = standing.hold_down.rail_grip(inputs.draws) / standing.bay
    return rail_lifted(standing, wind, inputs, tied)


def rail_lifted(
    standing: Standing, wind: FollowedHoop, inputs: Inputs, held: Floats | float
) -> Floats:
    """Return the pressure [Pa] at which film lifts its rail so hard [N/m], weight apart."""
    hoop, rail = standing.hoop, standing.cover.rail
    slope = min(float(hoop.curve.angle[0]), np.pi / 2)
    rolled = standing.film_mass * 0.05 / standing.cover.body.length
    ballast = rail_ballast(rail.mass_per_length + rolled, slope)
    bears = (ballast + held / np.sin(slope)) / (hoop.span / 2)
    return np.asarray(bears / crown_suction(wind, inputs, opened=False))


def rail_bows(standing: Standing, wind: FollowedHoop, inputs: Inputs) -> tuple[Floats, Floats]:
    """Return the pressures [Pa] at which the rail bows off the board between ties, and breaks.

    Off the board is past the skirt that hangs below its top. Infinite without ties or without a
    rail whose bending is known; one that hangs by its weight lifts whole.
    """
    skirt, never = standing.cover.skirt, np.full(inputs.draws.count, np.inf)
    tied = "rail" in standing.cover.edges and standing.hold_down.rail != "weight"
    lifts = rail_bends(standing, inputs, skirt) if tied else None
    if lifts is None:
        return never, never
    bows, breaks = (rail_lifted(standing, wind, inputs, one) for one in lifts)
    return (bows if skirt > 0 else never), breaks


def rail_bends(
    standing: Standing, inputs: Inputs, rise: Floats | float
) -> tuple[Floats, Floats] | None:
    """Return the lifts [N/m] at which a tied rail bows so far [m] between two ties, and breaks.

    None where its bending is not known.
    """
    rail = standing.cover.rail
    if rail.bending_stiffness is None or rail.bending_strength is None:
        return None
    left = inputs.doubt(RAIL_AGED)
    return rail_between_ties(
        standing.bay,
        rail.bending_stiffness * left,
        rail.bending_strength * left,
        inputs.doubt(TURNING),
        rise,
    )


def rail_bows_rung(standing: Standing, inputs: Inputs, pressure: Floats) -> Rung | None:
    """Return the rung of the rail between its ties; None where nothing is known of it."""
    if not np.isfinite(pressure).any():
        return None
    return Rung(
        name="rail-bows",
        hazard="wind",
        at=inputs.gust(pressure),
        happens="Between two ties the rail bows up past the skirt of {skirt:length}, or breaks, "
        "and the wind gets in below it.",
        harm="nuisance",
        case="sides down, suction over the crown",
        do="Tie the rail once more between the hoops, or take a stouter one (cover.rail).",
        sources=("Beam between ties under the film's pull, p R; its age and ends are assumptions",),
        values={"skirt": standing.cover.skirt},
        brings="opens",
    )


def edges_rung(standing: Standing, inputs: Inputs, pressure: Floats) -> Rung | None:
    """Return the rung of the rolled edges, as `edges_loose` has its pressure."""
    if "rail" not in standing.cover.edges:
        return None
    way = standing.hold_down.rail
    what = {
        "weight": "The roll-up rails, held by nothing but their weight, lift and the sides flap; "
        "flapping wears the film through.",
        "tied": "The ties of the roll-up rails give at the hoops and the sides flap.",
        "clipped": "The clips of the roll-up rails let go at the hoops and the sides flap.",
    }[way]
    return Rung(
        name="rails-lift" if way == "weight" else "rail-ties-give",
        hazard="wind",
        at=inputs.gust(pressure),
        happens=what,
        harm="nuisance",
        case="sides down, suction over the crown",
        do='Tie or hook the rails to the board at every hoop (holding.rail = "tied").'
        if way == "weight"
        else "Pull your own ties with a luggage scale and note it (holding.tie_test).",
        sources=("Equilibrium of rail weight, ties and film pull, p R",),
        brings="opens",
    )


def clips_open(
    standing: Standing, wind: FollowedHoop, inputs: Inputs, ends: DrawnEnds
) -> Callable[[bool], Floats]:
    """Return the pressure [Pa] at which the clips of the end hoops let the sheet go, for a state.

    Suction spans the film between hoops; its pull along the bed ends at the clips of the end
    hoops, which give way to it and slacken it. Both hoops of a framed pair hold it.
    """
    grip = end_clips_grip(standing, inputs)
    assert grip is not None
    met = ends.met(lambda drawn: drawn.pull, grip, inputs, force=True).pressure
    at_crown = met * crown_suction(wind, inputs, opened=False)
    return lambda opened: at_crown / end_strip_suction(wind, inputs, opened=opened)


def inner_clips_open(standing: Standing, wind: FollowedHoop, inputs: Inputs) -> Floats | None:
    """Return the pressure [Pa] at which film whose edges are loose comes off the inner hoops.

    All the lift of a bay hangs on the few clips of its hoop then, and on both ends of the cord
    laced over it, as far as it has not gone slack. None where it has no clips.
    """
    clips = standing.inner_clips
    if clips is None:
        return None
    area = standing.bay * standing.hoop.span
    held = clips * inputs.clip
    if standing.laced:
        held = held + 2 * inputs.doubt(CORD_LEFT) * inputs.force("anchor of a lacing cord")
    return np.asarray(held / (area * crown_suction(wind, inputs, opened=True)))


def clips_rung(inputs: Inputs, pressure: Floats) -> Rung:
    """Return the rung of the end hoops' clips."""
    return Rung(
        name="clips-open",
        hazard="wind",
        at=inputs.gust(pressure),
        happens="The clips on the end hoops let go, one after the other, and the sheet flies "
        "loose.",
        harm="loss",
        case="suction over the crown",
        do="Set the clips closer (cover.clip_spacing), or pull your own clips with a luggage scale "
        "and note it (holding.clip_test).",
        sources=("Elastic membrane between hoops that give; grip of a clip is an assumption",),
        brings="lost",
    )


def inner_clips_rung(inputs: Inputs, pressure: Floats) -> Rung:
    """Return the rung of the inner hoops' clips, once the edges are loose."""
    return Rung(
        name="inner-clips-open",
        hazard="wind",
        at=inputs.gust(pressure),
        happens="With its edges loose the sheet tears off the clips of the inner hoops and is "
        "lost.",
        harm="loss",
        case="edges loose, the cover filled",
        do="Tie the rails at every hoop, lace a cord over each bay (cover.lacing = true).",
        sources=(
            "Equilibrium of a bay of film and the clips of its hoop; their grip is an assumption",
        ),
        brings="lost",
    )


def film_tears(standing: Standing, wind: FollowedHoop, inputs: Inputs, *, opened: bool) -> Floats:
    """Return the pressure [Pa] at which the film tears in an end bay, from its weakest places."""
    pull = drawn_strength(standing, inputs) * inputs.doubt(AT_HOLES)
    on_film = pressure_of_pull(standing, standing.bay, pull, inputs.film)
    return np.asarray(on_film / end_strip_suction(wind, inputs, opened=opened))


def film_tears_rung(standing: Standing, inputs: Inputs, pressure: Floats) -> Rung:
    """Return the rung of the film between hoops."""
    return Rung(
        name="film-tears",
        hazard="wind",
        at=inputs.gust(pressure),
        happens="The {cover} tears between the hoops, from a clip, a screw or where it lies on hot "
        "pipe.",
        harm="loss",
        case="suction over the crown",
        do="Set hoops closer, take a stronger cover, tape its folds and the pipe under it.",
        sources=(film_strength(standing)[1], "Elastic membrane between hoops (computed)"),
        values={"cover": standing.cover.material.name},
        brings="lost",
    )
