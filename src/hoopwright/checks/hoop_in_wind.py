"""What a gust does to one hoop: slips out, screws draw, pipe kinks, hoop sways over.

Read off the followed hoop: at which velocity pressure a demand passes its capacity in any case.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.response import FootForce, Response
from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.rung import NO_FURTHER, Rung
from hoopwright.checks.standing import Standing
from hoopwright.holding.grip import PinStrength, grip_of_pull_test, strap_grip, through_pin
from hoopwright.holding.screws import Service, lateral, withdrawal
from hoopwright.holding.sleeve import sleeve_uplift
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]

#: Bearing strength of strap steel [Pa]: NDS 2018 table 12P, sheet steel 61 850 psi, from memory.
STRAP_BEARING = 4.264e8
ENOUGH = 1e-9


def pressure_where(wind: FollowedHoop, values: Floats, threshold: float, rows: list[int]) -> float:
    """Return the least pressure [Pa] at which a value passes a threshold in any of these rows."""
    reached, _ = wind.where(values, threshold, rows)
    return float(np.nanmin(np.append(reached, np.inf)))


def governing_case(wind: FollowedHoop, values: Floats, threshold: float, rows: list[int]) -> str:
    """Return the name of the case that reaches a threshold first."""
    reached, short = wind.where(values, threshold, rows)
    if np.all(np.isnan(reached)):
        return ""
    first = int(np.nanargmin(reached))
    return wind.cases[rows[first] // 2].name + (NO_FURTHER if short[first] else "")


def spread_of(wind: FollowedHoop, values: Floats, capacity: Spread, opened: bool) -> Spread:
    """Return the pressures [Pa] at which a value passes a capacity, weak end first.

    Weak: the most outward coefficients against the low capacity; strong: the likely ones against
    the high capacity.
    """
    low = pressure_where(wind, values, capacity.low, wind.wind_rows(opened, "low"))
    likely_rows = wind.wind_rows(opened, "likely")
    likely = pressure_where(wind, values, capacity.likely, likely_rows)
    high = pressure_where(wind, values, capacity.high, likely_rows)
    return Spread(min(low, likely), likely, max(likely, high))


def lift(response: Response) -> Floats:
    """Return the greater pull along a leg [N]."""
    return np.fmax(response.left.lift, response.right.lift)


def leg_capacity(standing: Standing) -> tuple[Spread, tuple[str, ...], str]:
    """Return what holds one leg along itself [N], its sources, and what it is in words."""
    hold = standing.hold_down
    if hold.leg == "sleeve":
        mass = standing.hoop.cut_length / 2 * standing.hoop.pipe.mass_per_length
        pinned = _pin(standing).holds if hold.pin else None
        words = "the pin through leg and rod" if hold.pin else "weight alone"
        return sleeve_uplift(mass, pinned), ("Equilibrium; no friction is counted",), words
    grip, source = _grip(standing)
    if hold.pin is None:
        return grip, (source,), "the grip of the straps"
    return (
        grip.plus(_pin(standing).holds),
        (source, "Bearing and shear of the pin; ranges are assumptions"),
        "the screw through the leg",
    )


def _grip(standing: Standing) -> tuple[Spread, str]:
    leg = standing.hoop.leg
    test = standing.hold_down.pull_test
    if test is not None:
        return grip_of_pull_test(test, leg.straps), "your own pull test"
    forces = side_forces(standing)
    return strap_grip(forces), "Coulomb friction; squeeze an assumption: do the pull test"


def side_forces(standing: Standing) -> list[float]:
    """Return what the bend presses on each strap of a leg when new [N]."""
    hoop = standing.hoop
    thrust, moment = hoop.thrust(), hoop.foot_moment()
    if hoop.leg.straps == 1:
        return [abs(thrust)]
    couple = moment / hoop.leg.strap_spacing
    return [abs(thrust + couple), abs(couple)]


def _pin(standing: Standing) -> PinStrength:
    pin, pipe = standing.hold_down.pin, standing.hoop.pipe
    assert pin is not None
    leg = standing.hoop.leg
    below = leg.top_strap - leg.foot
    return through_pin(
        pin.size.root_diameter, pipe.wall, below / 2, pipe.stuff.strength.value, walls=2
    )


def legs_slip(standing: Standing, wind: FollowedHoop, opened: bool) -> Rung:
    """Return the gust at which a leg leaves its straps or rod."""
    capacity, sources, holder = leg_capacity(standing)
    values = lift(wind.response)
    at = standing.wind.gust(spread_of(wind, values, capacity, opened))
    case = governing_case(wind, values, capacity.likely, wind.wind_rows(opened, "likely"))
    sleeve = standing.hold_down.leg == "sleeve"
    away = "lifts off its rods" if sleeve else "slides out of its straps"
    state = " with a side up" if opened else ""
    return Rung(
        name="legs-slip-opened" if opened else "legs-slip",
        hazard="wind",
        at=at,
        kind="speed",
        happens=f"A hoop {away}{state} and the cover goes with it: {{holder}} holds "
        "about {low:force} to {high:force} a leg.",
        harm="loss",
        case=case,
        do="Put one screw through each leg below the upper strap (holding.pin = true); or test "
        "your own straps and note it (holding.pull_test)."
        if standing.hold_down.pin is None
        else "Take the film off before a storm.",
        sources=(*sources, *_case_sources(wind, case)),
        values={"holder": holder, "low": capacity.low, "high": capacity.high},
    )


def _case_sources(wind: FollowedHoop, name: str) -> tuple[str, ...]:
    return next((case.sources for case in wind.cases if case.name == name), ())


def straps_draw(standing: Standing, wind: FollowedHoop) -> Rung | None:
    """Return the gust at which the strap screws draw out of the board or shear.

    The pull out and the pull along the board combine by Hankinson's formula, as NDS 2018 12.4.1
    has it for wood screws (from memory).
    """
    strength = strap_strength(standing, Service())
    if strength is None:
        return None
    out, side = strength
    pressures = []
    for which, w, z in (
        ("low", out.low, side.low),
        ("likely", out.likely, side.likely),
        ("likely", out.high, side.high),
    ):
        used = np.fmax(*(_share_used(standing, foot, w, z) for foot in _feet(wind.response)))
        pressures.append(pressure_where(wind, used, 1.0, wind.wind_rows(False, which)))
    low, likely, high = pressures
    at = standing.wind.gust(Spread(min(low, likely), likely, max(likely, high)))
    return Rung(
        name="strap-screws-draw",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The strap screws draw out of the board ({screw} in {wood}, wet).",
        harm="loss",
        case="sides down",
        do="Use longer or thicker screws in sound wood; never drywall screws outdoors.",
        sources=("NDS 2018 12.2, 12.3, 12.4 (mean of tests as likely)",),
        values=strap_words(standing),
    )


def strap_words(standing: Standing) -> dict[str, float | str]:
    """Return what the straps are fixed with, for a rung's words."""
    screw = standing.strap_screw
    return {"screw": screw.name if screw else "", "wood": standing.bed.species.name}


def strap_strength(standing: Standing, service: Service) -> tuple[Spread, Spread] | None:
    """Return what the screws of one strap bear [N], out of the board and along its face.

    None where no strap holds the legs.
    """
    strap, screw = standing.strap, standing.strap_screw
    if strap is None or screw is None or standing.hold_down.leg == "sleeve":
        return None
    gravity = standing.bed.species.specific_gravity
    bite = screw.length - strap.thickness
    thread = min(screw.thread_length, bite)
    out = withdrawal(gravity, screw.size.diameter, thread, service).scaled(strap.holes)
    side = lateral(
        screw.size.root_diameter,
        screw.size.bending_yield,
        bite,
        gravity,
        strap.thickness,
        STRAP_BEARING,
        service,
    ).scaled(strap.holes)
    return out, side


def _feet(response: Response) -> tuple[FootForce, FootForce]:
    return response.left, response.right


def _share_used(standing: Standing, foot: FootForce, out: float, side: float) -> Floats:
    """Return the share of its strength that the worse strap of a foot uses [-].

    Legs outside: the hoop's outward force pulls the upper strap off the board. Legs inside it
    bears on the board, and the lower strap takes the pull.
    """
    leg = standing.hoop.leg
    along = np.maximum(foot.lift, 0.0) / leg.straps
    sign = 1.0 if standing.legs == "outside" else -1.0
    pulls = [sign * foot.push]
    if leg.straps == 2:
        pulls = [sign * foot.upper_strap, -sign * foot.lower_strap]
    shares: list[Floats] = []
    for pull in pulls:
        away = np.maximum(pull, 0.0)
        size = np.hypot(away, along)
        with np.errstate(invalid="ignore", divide="ignore"):
            cosine2 = np.where(size > ENOUGH, (along / size) ** 2, 0.0)
        allowed = out * side / (out * cosine2 + side * (1 - cosine2))
        shares.append(size / allowed)
    return np.asarray(np.fmax.reduce(shares))


def added_strain(followed: FollowedHoop, standing: Standing, remains: float) -> Floats:
    """Return the fibre strain that counts against a limit [-], rows and points as the response.

    remains : [-] share of the bend's own strain still acting. The held bend relaxes, so what is
    left of it and what the load adds are counted, at the place where the pipe is bent the most.
    A formed pipe holds no bend: there only what the load adds.
    """
    curve = standing.hoop.curve
    response = followed.response
    half = standing.hoop.pipe.outside_diameter / 2
    if not standing.hoop.pipe.springs:
        return np.asarray(response.greatest_curvature * half)
    at_rest = np.abs(np.interp(response.greatest_curvature_arc, curve.arc, curve.curvature))
    return np.asarray((response.greatest_curvature - (1 - remains) * at_rest) * half)


def pipe_kinks(standing: Standing, wind: FollowedHoop) -> Rung:
    """Return the gust at which the pipe's fibre strain passes its limit at 23 degC."""
    pipe = standing.hoop.pipe
    limit, left = pipe.strain_under_load(23.0), pipe.stuff.relaxation
    ends = [
        pressure_where(
            wind, added_strain(wind, standing, remains), bears, wind.wind_rows(False, which)
        )
        for remains, bears, which in (
            (left.high, limit.low, "low"),
            (left.value, limit.likely, "likely"),
            (left.low, limit.high, "likely"),
        )
    ]
    at = standing.wind.gust(Spread(min(ends[:2]), ends[1], max(ends[1:])))
    likely = added_strain(wind, standing, left.value)
    return Rung(
        name="pipe-kinks",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The pipe bends past {low:strain} to {high:strain} and "
        f"{'kinks or cracks' if pipe.springs else 'yields and folds'}.",
        harm="loss",
        case=governing_case(wind, likely, limit.likely, wind.wind_rows(False, "likely")),
        do="Take stouter pipe or closer hoops.",
        sources=(pipe.stuff.strain_limit.source, "Relaxation: " + left.source),
        values={"low": limit.low, "high": limit.high},
    )


def _first_to_give_way(wind: FollowedHoop, which: str) -> tuple[float, bool]:
    """Return the least pressure [Pa] at which the closed hoop gives way, and if it is a bound."""
    gives, short = wind.gives_way(wind.wind_rows(False, which))
    if np.all(np.isnan(gives)):
        return np.inf, False
    first = int(np.nanargmin(gives))
    return float(gives[first]), bool(short[first])


def hoop_sways(standing: Standing, wind: FollowedHoop) -> Rung:
    """Return the gust at which the hoop loses its stiffness and lies over.

    The load at which a hoop gives way goes with its stiffness, so the weak end is the pipe hot in
    the sun.
    """
    hot = standing.hoop.pipe.stuff.modulus_hot.value
    low, low_short = _first_to_give_way(wind, "low")
    likely, likely_short = _first_to_give_way(wind, "likely")
    low *= hot
    at = standing.wind.gust(Spread(min(low, likely), likely, likely))
    return Rung(
        name="hoop-lies-over",
        hazard="wind",
        at=at,
        kind="speed",
        happens="The hoop loses its stiffness and is pressed over sideways.",
        harm="loss",
        case="sides down" + (NO_FURTHER if low_short or likely_short else ""),
        do="Hold each leg with two straps, take stouter pipe or closer hoops, or guy the ends.",
        sources=("Loaded elastica followed to its least stiffness (computed)",),
    )
