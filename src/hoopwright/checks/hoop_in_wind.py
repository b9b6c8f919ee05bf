"""What a gust does to one hoop: slips out, screws draw, pipe kinks, hoop sways over.

Read off the followed hoop: at which velocity pressure a demand meets its capacity in any case.
"""

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.response import FootForce, Response
from hoopwright.checks.inputs import BOARD_YEARS, Inputs
from hoopwright.checks.read_off import Floats, Met, Reader
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.holding.grip import grip_of_pull_test, strap_grip, through_pin
from hoopwright.holding.screws import Service, lateral, withdrawal
from hoopwright.holding.sleeve import sleeve_uplift
from hoopwright.odds.quantiles import quantiles
from hoopwright.tables.spread import Spread

Reading = Callable[[Floats, Floats], Met]

#: Bearing strength of strap steel [Pa]: NDS 2018 table 12P, sheet steel 61 850 psi (copy read).
STRAP_BEARING = 4.264e8
ENOUGH = 1e-9
#: A held bend breaks no pipe that it did not break at once (Moser and Folkman, 22 years at
#: constant strain, secondary copy); this much more than what is left of it is borne at least.
STANDS_BENT = 1.02
GRIP = "grip of the straps"
OUTWARD = "withdrawal of a screw over the mean of tests"
GUST_DAY = "way from frost to 23 °C at which a gust finds the pipe"
SIDEWAYS = "yield of a screw sideways over the formula"


def lift(response: Response) -> Floats:
    """Return the greater pull along a leg [N]."""
    return np.fmax(response.left.lift, response.right.lift)


def leg_capacity(standing: Standing, inputs: Inputs) -> tuple[Floats, tuple[str, ...], str]:
    """Return what holds one leg along itself [N], its sources, and what it is in words."""
    hold = standing.hold_down
    pinned = 0.0 if hold.pin is None else _pin(standing, inputs)
    if hold.leg == "sleeve":
        mass = standing.hoop.cut_length / 2 * standing.hoop.pipe.mass_per_length
        words = "the pin through leg and rod" if hold.pin else "weight alone"
        holds = sleeve_uplift(mass) + pinned + np.zeros(inputs.draws.count)
        return holds, ("Equilibrium; no friction is counted",), words
    grip, source = _grip(standing, inputs)
    if hold.pin is None:
        return grip, (source,), "the grip of the straps"
    return (
        grip + pinned,
        (source, "Bearing and shear of the pin; ranges are assumptions"),
        "the screw through the leg",
    )


def _grip(standing: Standing, inputs: Inputs) -> tuple[Floats, str]:
    test = standing.hold_down.pull_test
    friction = inputs.friction("steel strap on plastic pipe")
    squeeze = inputs.force("squeeze of a snug strap")
    relaxed = inputs.friction("share left after relaxing")
    if test is None:
        source = "Coulomb friction; squeeze an assumption: do the pull test"
        return strap_grip(side_forces(standing), friction, squeeze, relaxed), source
    left = relaxed if test.aged else np.ones_like(relaxed)
    thought = quantiles(strap_grip(side_forces(standing), friction, squeeze, left), (0.5, 0.95))
    # The default's weak end is next to nothing: its logarithm is taken as even on both sides.
    middle, high = (max(float(one), 1.0) for one in thought)
    prior = Spread(middle**2 / high, middle, high)
    for name in ("steel strap on plastic pipe", "squeeze of a snug strap"):
        inputs.draws.used.pop(name, None)
    tested = inputs.draws.of(GRIP, grip_of_pull_test(test, standing.hoop.leg.straps, prior))
    return tested * (1.0 if test.aged else relaxed), "your own pull test"


def side_forces(standing: Standing) -> list[float]:
    """Return what the bend presses on each strap of a leg when new [N]."""
    hoop = standing.hoop
    thrust, moment = hoop.thrust(), hoop.foot_moment()
    if hoop.leg.straps == 1:
        return [abs(thrust)]
    couple = moment / hoop.leg.strap_spacing
    return [abs(thrust + couple), abs(couple)]


def _pin(standing: Standing, inputs: Inputs) -> Floats:
    pin, pipe = standing.hold_down.pin, standing.hoop.pipe
    assert pin is not None
    leg = standing.hoop.leg
    below = leg.top_strap - leg.foot
    bearing = inputs.doubt("bearing of a pin over the pipe's strength")
    return through_pin(
        pin.size.root_diameter, pipe.wall, below / 2, pipe.stuff.strength.likely, bearing
    ).holds


def legs_slip(standing: Standing, reader: Reader, *, opened: bool) -> Met:
    """Return the velocity pressure [Pa] at which a leg leaves its straps or rod.

    Suction reaches a hoop through its film clips alone, so a hoop whose clips let go first keeps
    its legs. An end hoop has many clips and half a bay of film, a framed pair shares it.
    """
    inputs = reader.inputs
    capacity, _, _ = leg_capacity(standing, inputs)
    hoop, found = reader.hoop, []
    values = hoop.once("lift", lambda: lift(hoop.response))
    # What the clips of a hoop bring down: the pull along both legs together.
    both = hoop.once("both lifts", lambda: hoop.response.left.lift + hoop.response.right.lift)
    ends = 0.5 / standing.hoops_an_end
    at = reader.wind(values, capacity, opened=opened, force=True)
    for share, clips in ((1.0, standing.inner_clips), (ends, standing.end_clips)):
        held = at.pressure / share
        if clips is not None:
            hangs = clips * inputs.clip
            through = inputs.once(
                ("both lifts", opened, share, clips),
                partial(reader.wind, both, hangs, opened=opened, force=True, share=share),
            )
            held = np.where(through.pressure < held, np.inf, held)
        found.append(Met(held, at.case))
    inner, end = found
    first = inner if np.nanmin(inner.pressure) <= np.nanmin(end.pressure) else end
    return Met(np.minimum(inner.pressure, end.pressure), first.case)


def legs_slip_rung(standing: Standing, inputs: Inputs, met: Met, *, opened: bool) -> Rung:
    """Return the rung of the legs. opened : with a side left rolled up, which a person chooses."""
    capacity, sources, holder = leg_capacity(standing, inputs)
    sleeve = standing.hold_down.leg == "sleeve"
    away = "lifts off its rods" if sleeve else "slides out of its straps"
    state = " with a side left up" if opened else ""
    low, high = (float(one) for one in quantiles(capacity, (0.1, 0.9)))
    return Rung(
        name="legs-slip-opened" if opened else "legs-slip",
        hazard="wind",
        at=inputs.gust(met.pressure),
        happens=f"A hoop {away}{state} and the cover goes with it: {{holder}} holds "
        "about {low:force} to {high:force} a leg.",
        harm="loss",
        case=met.case,
        do="Put one screw through each leg below the upper strap (holding.pin = true); or test "
        "your own straps and note it (holding.pull_test)."
        if standing.hold_down.pin is None
        else "Take the cover off before a storm.",
        sources=sources,
        values={"holder": holder, "low": low, "high": high},
        brings="" if opened else "lost",
    )


def straps_draw(standing: Standing, reader: Reader, *, opened: bool) -> Met | None:
    """Return the pressure [Pa] at which a strap's screws draw out; None without straps."""
    strength = strap_strength(standing, Service())
    if strength is None:
        return None
    out, side = strength
    response = reader.hoop.response
    leg = (standing.legs, standing.hoop.leg.straps)
    used = reader.hoop.once(
        ("share used", out, side, leg),
        lambda: np.fmax(
            *(_share_used(standing, foot, out, side) for foot in (response.left, response.right))
        ),
    )
    # Both ways a screw holds are doubted together: pulled mostly out, mostly sideways.
    inputs = reader.inputs
    holds = np.minimum(inputs.doubt(OUTWARD), inputs.doubt(SIDEWAYS)) * sound_wood(inputs)
    return reader.wind(used, holds, opened=opened, force=True)


def sound_wood(inputs: Inputs) -> Floats:
    """Return the share of its hold [-] that a screw has left in a board of the inputs' years.

    The row says what is left after five; each year takes the same share of what is left (an
    assumption: models of decay such as Leicester's start later and then go straight down).
    """
    decay = inputs.standing.bed.species.decay
    left = inputs.doubt(f"wood left at the screws after five years, {decay} resistance")
    return np.asarray(left ** (inputs.years / BOARD_YEARS))


def straps_draw_rung(standing: Standing, inputs: Inputs, met: Met) -> Rung:
    """Return the rung of the strap screws."""
    return Rung(
        name="strap-screws-draw",
        hazard="wind",
        at=inputs.gust(met.pressure),
        happens="The strap screws draw out of the board ({screw} in {wood}, wet).",
        harm="loss",
        case=met.case,
        do="Use longer or thicker screws in sound wood; never drywall screws outdoors.",
        sources=("NDS 2018 12.2, 12.3, 12.4 (mean of tests as likely)",),
        values=strap_words(standing),
        brings="lost",
    )


def strap_words(standing: Standing) -> dict[str, float | str]:
    """Return what the straps are fixed with, for a rung's words."""
    screw = standing.strap_screw
    return {"screw": screw.name if screw else "", "wood": standing.bed.species.name}


def strap_strength(standing: Standing, service: Service) -> tuple[float, float] | None:
    """Return what the screws of one strap bear by the mean of tests [N], outward and sideways.

    None where no strap holds the legs.
    """
    strap, screw = standing.strap, standing.strap_screw
    if strap is None or screw is None or standing.hold_down.leg == "sleeve":
        return None
    gravity = standing.bed.species.specific_gravity
    bite = screw.length - strap.thickness
    thread = min(screw.thread_length, bite)
    out = withdrawal(gravity, screw.size.diameter, thread, service).likely * strap.holes
    side = lateral(
        screw.size.root_diameter,
        screw.size.bending_yield,
        bite,
        gravity,
        strap.thickness,
        STRAP_BEARING,
        service,
    ).likely
    return out, side * strap.holes


def sideways_strength(standing: Standing, inputs: Inputs, service: Service) -> Floats | None:
    """Return what the screws of one strap bear sideways in a board of some years [N]."""
    strength = strap_strength(standing, service)
    return None if strength is None else strength[1] * inputs.doubt(SIDEWAYS) * sound_wood(inputs)


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


def strain_limit(inputs: Inputs, temperature: float) -> Floats:
    """Return the fibre strain that loads may add up to at a temperature [degC], new pipe [-]."""
    pipe = inputs.standing.hoop.pipe
    name = f"strain that {pipe.name} bears at {temperature:.0f} °C"
    return inputs.draws.of(name, pipe.strain_under_load(temperature))


def counted_strain(reader: Reader, left: float) -> Floats:
    """Return the greatest fibre strain that counts in every state [-], rows and points.

    left : [-] share of the bend's own force that still acts. What is left of the bend's strain
    and what the load adds are counted, sign and all, at every place of the arc: k - (1 - left)
    k0. Where the load turns the bend round, the relaxed bend's set is against it.
    """
    response = reader.hoop.response
    half = reader.inputs.standing.hoop.pipe.outside_diameter / 2

    def work_out() -> Floats:
        strain = np.abs(response.bend - (1 - left) * response.bend_at_rest).max(axis=2)
        return np.asarray(strain * half)

    return reader.hoop.once(("strain", left, half), work_out)


def strain_met(reader: Reader, bears: Floats, read: Reading) -> Met:
    """Return where the fibre strain that counts meets its limit.

    bears : [-] the limit of each draw
    read : where values meet a limit, as Reader.wind and Reader.snow tell

    Read at three shares of the bend left, and between them on the inverse of the pressure.
    """
    inputs = reader.inputs
    left = inputs.standing.hoop.pipe.bend_left
    nodes = sorted({left.low, left.likely, left.high})
    found = []
    for share in nodes:
        strain = counted_strain(reader, share)
        # A pipe that stands bent bears its own bend: those that did not are no part of a bed.
        found.append(read(strain, np.maximum(bears, STANDS_BENT * strain[:, :1].max())))
    with np.errstate(divide="ignore"):
        slowness = np.stack([1.0 / np.maximum(one.pressure, 1e-9) for one in found])
        at = 1.0 / along(nodes, slowness, inputs.relaxed)
    return Met(np.asarray(at), found[len(found) // 2].case)


def along(nodes: Sequence[float], values: Floats, at: Floats) -> Floats:
    """Return values (..., nodes, draws) interpolated at each draw's own place between nodes."""
    if len(nodes) == 1:
        return np.asarray(values[..., 0, :])
    place, share = way_between(nodes, at)
    draws = np.arange(at.size)
    before, after = values[..., place, draws], values[..., place + 1, draws]
    return np.asarray((1 - share) * before + share * after)


def way_between(nodes: Sequence[float], at: Floats) -> tuple[NDArray[np.int64], Floats]:
    """Return the node below each draw's place and the share of the way to the next [-]."""
    place = np.clip(np.searchsorted(nodes, at) - 1, 0, len(nodes) - 2)
    low, high = np.asarray(nodes)[place], np.asarray(nodes)[place + 1]
    return place, np.clip((at - low) / (high - low), 0.0, 1.0)


def pipe_kinks(standing: Standing, reader: Reader, *, opened: bool) -> Met:
    """Return the pressure [Pa] at which the pipe's fibre strain passes its limit."""
    return strain_met(
        reader,
        strain_in_a_gust(standing, reader.inputs),
        lambda values, limit: reader.wind(values, limit, opened=opened, force=False),
    )


def strain_in_a_gust(standing: Standing, inputs: Inputs) -> Floats:
    """Return the strain [-] that a pipe bears in a gust, which comes in frost or in the warm."""
    cold, warm = strain_limit(inputs, 0.0), strain_limit(inputs, 23.0)
    part = np.minimum(inputs.doubt(GUST_DAY), 1.0)
    return np.asarray(((1 - part) * cold + part * warm) * worn(standing, inputs))


def worn(standing: Standing, inputs: Inputs) -> Floats | float:
    """Return the share of its strain limit that a plastic pipe keeps in the sun [-]."""
    sprung = standing.hoop.pipe.springs
    return inputs.doubt("pinned or aged pipe over new in strain") if sprung else 1.0


def pipe_kinks_rung(standing: Standing, inputs: Inputs, met: Met) -> Rung:
    """Return the rung of the pipe."""
    pipe = standing.hoop.pipe
    cold, warm = pipe.strain_under_load(0.0), pipe.strain_under_load(23.0)
    return Rung(
        name="pipe-kinks",
        hazard="wind",
        at=inputs.gust(met.pressure),
        happens="The pipe, which new bears {low:strain} in frost to {high:strain} in the warm, "
        "bends past what the sun has left of it and "
        f"{'kinks or cracks' if pipe.springs else 'yields and folds'}.",
        harm="loss",
        case=met.case,
        do="Take stouter pipe or closer hoops.",
        sources=(pipe.stuff.strain_limit.source, "Relaxation: " + pipe.stuff.relaxation.source),
        values={"low": cold.low, "high": warm.high},
        brings="lost",
    )


def hoop_sways_rung(inputs: Inputs, met: Met) -> Rung:
    """Return the rung of the hoop that loses its stiffness and lies over."""
    return Rung(
        name="hoop-lies-over",
        hazard="wind",
        at=inputs.gust(met.pressure),
        happens="The hoop loses its stiffness and is pressed over sideways.",
        harm="loss",
        case=met.case,
        do="Hold each leg with two straps, take stouter pipe or closer hoops, or guy the ends.",
        sources=("Loaded elastica followed to its least stiffness (computed)",),
        brings="lost",
    )
