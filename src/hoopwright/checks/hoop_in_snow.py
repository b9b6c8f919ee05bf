"""What snow does to one hoop: the crown sinks, the pipe reaches its limit, the hoop lies over."""

import numpy as np

from hoopwright.beam.out_of_plane import falls_along
from hoopwright.checks.end_hoop import SPIN_HELD, foot_turn
from hoopwright.checks.end_sheet import SLACK, lean_too_far, sheet_area, sheet_holds, stretch
from hoopwright.checks.film import crept, film_stiffness
from hoopwright.checks.followed_hoop import SNOW_CASES
from hoopwright.checks.hoop_in_wind import strain_limit, strain_met
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Floats, Met, Reader
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.pipes import Pipe

#: What holds a crown along the bed [EI / L^3] where falling along it is worked out.
CROWN_HOLDS = (0.0, 25.0, 60.0, 110.0)
#: Modulus over shear modulus of film, 2 (1 + Poisson's ratio of about 0.45, from memory).
TENSILE_OVER_SHEAR = 2.9
#: A strap's own hold on a pipe's spinning, over EI / L [-]: next to none (assumption).
SPIN_FREE = 0.01
FILM_HOLDS = "share of the film's shear that keeps hoops upright"
CROOKED = "crooked hoops over straight ones along the bed"
#: The crown has sunk enough to pond and to touch plants (an assumption).
CROWN_DROP_SHARE = 0.1
_SOURCES = (
    "Loaded elastica (computed); snow shares ASCE 7-16 chapter 7, from memory",
    "Snow densities from the table, with their range",
)


def depth(inputs: Inputs, load: Floats, kind: str) -> Floats:
    """Return the depth [m] of a kind of snow that weighs as much [Pa], for each draw."""
    return np.asarray(load / STANDARD_GRAVITY / inputs.density(kind))


def key_of(kind: str) -> str:
    """Return a kind of snow as it stands in a rung's name."""
    return kind.replace(" ", "-")


def crown_sinks(standing: Standing, reader: Reader) -> Met:
    """Return the load [Pa] under which the crown has sunk by a tenth of its height."""
    drop = CROWN_DROP_SHARE * standing.hoop.crown_over_board
    limit = np.full(reader.inputs.draws.count, drop)
    hoop = reader.hoop
    return reader.snow(hoop.response.crown_drop, limit, hoop.snow_rows, SNOW_CASES)


def hoop_lies_over(reader: Reader) -> Met:
    """Return the load [Pa] under which the hoop sways aside or snaps through, in its plane."""
    return reader.snow_lies_over(reader.hoop.snow_rows, SNOW_CASES)


def pipe_limit(reader: Reader) -> Met:
    """Return the load [Pa] under which the pipe's fibre strain passes its limit near freezing.

    The bend's own strain has relaxed by the time it snows; what is left of it and the strain
    that the snow adds are held against the limit.
    """
    return _cracks(reader, reader.hoop.snow_rows, SNOW_CASES)


def ice_cracks(reader: Reader) -> Met:
    """Return the same for ice all over the cover."""
    return _cracks(reader, [reader.hoop.ice_row], ("ice",))


def _cracks(reader: Reader, rows: list[int], names: tuple[str, ...]) -> Met:
    return strain_met(
        reader,
        strain_limit(reader.inputs, 0.0),
        lambda values, limit: reader.snow(values, limit, rows, names),
    )


def falls_aside(standing: Standing, reader: Reader) -> Floats:
    """Return the even load [Pa] under which the hoops fall along the bed, infinite if never.

    What keeps a crown in place along the bed is a ridge tied back to the boards, the film's shear
    between hoop and board as far as it is taut, and the sheet of the end that the hoops lean away
    from (both ends' where a ridge can push), once the lean has drawn it taut; film and ridge hand
    its pull on from hoop to hoop. Hoops a little out of upright fall sooner.
    """
    inputs, pipe, curve = reader.inputs, standing.hoop.pipe, standing.hoop.curve
    never = np.full(inputs.draws.count, np.inf)
    if standing.braced and standing.ridge_strut > 0:
        return never
    path, row = reader.hoop.path, reader.hoop.snow_rows[0]
    pinned = standing.hold_down.pin is not None
    unit = pipe.bending_stiffness / curve.length**3
    found = falls_along(
        path,
        [row],
        foot_turn=foot_turn(standing),
        foot_twist=(SPIN_HELD if pinned else SPIN_FREE) * pipe.bending_stiffness / curve.length,
        torsion_share=1 / (1 + pipe.stuff.poisson_ratio.likely),
        crown_hold=np.multiply(CROWN_HOLDS, unit),
    )[0]
    # Once held so well that it stands till it folds in its plane, folding is what it does.
    slowness = np.array([0.0 if np.isnan(one) else 1.0 / max(one, 1e-9) for one in found])
    k = inputs.snow_stiffness
    hold = crown_held(standing, inputs) / (unit * k)
    slow = np.interp(hold, CROWN_HOLDS, slowness, right=slowness[-1])
    with np.errstate(divide="ignore"):
        return np.asarray(k * inputs.doubt(CROOKED) / slow)


def crown_held(standing: Standing, inputs: Inputs) -> Floats:
    """Return what film and end sheets hold each crown in place with along the bed [N/m]."""
    shear = film_stiffness(standing) * inputs.film / TENSILE_OVER_SHEAR
    panels = 2 * shear * standing.bay / standing.hoop.crown_over_board
    return np.asarray(inputs.doubt(FILM_HOLDS) * panels + sheets_hold(standing, inputs))


def sheets_hold(standing: Standing, inputs: Inputs) -> Floats:
    """Return what the end sheets hold each crown with along the bed at most [N/m].

    At the lean that is too far, or where a sheet lets go before. All fibres of a sheet lean
    alike: half the stiffness by the square of the stretch, times the sheet's area, is its energy.
    """
    film = film_stiffness(standing) * inputs.film * crept(standing, inputs)
    lean = lean_too_far(inputs)
    strain = stretch(lean, inputs.doubt(SLACK))
    strain = np.minimum(strain, sheet_holds(standing, inputs) / film)
    sheets = 2 if standing.ridge_strut > 0 else 1
    whole = sheets * film * sheet_area(standing) * strain / np.sqrt(1 + lean**2)
    return np.asarray(whole / standing.hoop.crown_over_board**2 / len(standing.hoops))


def falls_aside_rung(standing: Standing, inputs: Inputs, kind: str, load: Floats) -> Rung:
    """Return the rung of hoops that fall along the bed, one on the other."""
    ridged = standing.ridge_strut > 0
    tie = "Tie the ridge back" if ridged else "Run a ridge pipe and tie it back"
    return Rung(
        name=f"hoops-fall-along-{key_of(kind)}",
        hazard="snow",
        at=depth(inputs, load, kind),
        happens="The hoops lean over along the bed, all the same way, further than the end sheets "
        "hold them, and fold together.",
        harm="loss",
        case=f"{kind} snow, even snow",
        do=f"{tie} to the boards at both ends (hoops.brace = true).",
        sources=(
            "Loaded rod out of its plane (computed); how far film holds it is an assumption",
            *_SOURCES,
        ),
        load=load,
    )


def past_limit(pipe: Pipe) -> str:
    """Return what happens to a pipe in the cold that passes its limit."""
    if pipe.springs:
        return (
            "The pipe, brittle in the cold, passes {low:strain} to {high:strain} of strain and "
            "may crack."
        )
    return "The pipe passes {low:strain} to {high:strain} of strain, yields and folds."


def snow_rungs(
    standing: Standing, inputs: Inputs, kind: str, sinks: Met, folds: Met, cracks: Met
) -> list[Rung]:
    """Return the rungs of one kind of snow on a hoop."""
    pipe = standing.hoop.pipe
    limit = pipe.strain_under_load(0.0)
    drop = CROWN_DROP_SHARE * standing.hoop.crown_over_board
    key = key_of(kind)
    return [
        Rung(
            name=f"crown-sinks-{key}",
            hazard="snow",
            at=depth(inputs, sinks.pressure, kind),
            happens="The crown sinks {drop:length} and the film sags between the hoops.",
            harm="nuisance",
            case=f"{kind} snow, {sinks.case}",
            do="Brush the snow off from inside, upward and outward.",
            sources=_SOURCES,
            values={"drop": drop},
            load=sinks.pressure,
        ),
        Rung(
            name=f"hoop-folds-{key}",
            hazard="snow",
            at=depth(inputs, folds.pressure, kind),
            happens="The hoop sways aside in its plane and folds.",
            harm="loss",
            case=f"{kind} snow, {folds.case}",
            do="Hold each leg with two straps, set hoops closer, take stouter pipe, or take the "
            "cover off for the winter.",
            sources=_SOURCES,
            load=folds.pressure,
        ),
        Rung(
            name=f"pipe-cracks-{key}",
            hazard="snow",
            at=depth(inputs, cracks.pressure, kind),
            happens=past_limit(pipe),
            harm="loss",
            case=f"{kind} snow, {cracks.case}",
            do="Brush snow off early; take stouter pipe or a gentler bend.",
            sources=(pipe.stuff.strain_limit_cold.source, *_SOURCES),
            values={"low": limit.low, "high": limit.high},
            load=cracks.pressure,
        ),
    ]
