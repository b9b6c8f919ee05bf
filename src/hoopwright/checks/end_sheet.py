"""The end sheets: when they let go, and how they stay the hoops that lean away from them.

A sheet battened at its foot is longer the further its hoop leans, whichever way: by half the
square of the lean over the height. Once that has used up its slack it holds the hoop back.
"""

import numpy as np

from hoopwright.checks.film import Floats, drawn_strength, pressure_of_pull
from hoopwright.checks.hoop_in_wind import OUTWARD, sound_wood
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.cover.fastening import BATTEN_SCREW_END, BATTEN_SCREW_GREATEST, evenly
from hoopwright.frozen import dataclass
from hoopwright.holding.film_edge import batten_clamp, rolled_batten
from hoopwright.holding.screws import Service, withdrawal
from hoopwright.loads.wind_cases import end_wall_coefficients, internal_pressures
from hoopwright.tables.spread import Spread

#: Turns of film round a batten before it is screwed down (common practice, no source).
BATTEN_TURNS = 1.0
#: Half turns of an end sheet round its hoop under the clips (geometry of the turn-in).
SHEET_WRAP = np.pi
CLOSED = "closed with loose skirts"
SLACK = "slack of an end sheet over its height"
TOO_FAR = "lean at which film tears loose"
#: Lean over the height above the boards at which the end has come in so far that film, clips and
#: edges are flogged loose and hoops fold on each other; the linear hoop says 7 to 9 % too much
#: there, and nothing beyond a half is claimed (assumption).
LEAN_TOO_FAR = Spread(0.25, 1 / 3, 0.5)


def lean_too_far(inputs: Inputs) -> Floats:
    """Return the lean [-] that is too far, for each draw."""
    return inputs.draws.of(TOO_FAR, LEAN_TOO_FAR)


def sheet_area(standing: Standing) -> float:
    """Return the area of an end between hoop and board top [m2]."""
    hoop, curve = standing.hoop, standing.hoop.curve
    over = curve.y + hoop.hold_height - hoop.leg.board_top
    return float(np.sum(0.5 * (over[1:] + over[:-1]) * np.diff(curve.x)))


def stretch(lean: Floats | float, slack: Floats | float) -> Floats:
    """Return the strain [-] of a sheet whose hoop has leaned.

    lean : [-] over its height; slack : [-] over its height. Source: geometry.
    """
    return np.asarray(np.maximum(np.sqrt(1 + np.square(lean)) - 1 - slack, 0.0))


@dataclass(frozen=True, eq=False)
class Stay:
    """An end sheet that holds its hoops back, for each N/m of its stiffness.

    lean : [m] of the hoops in the mean, rising; held : [m/m] force over lean; strain : [-] of
    the fibre stretched most. What the sheet pulls down on the hoop is left out, and that a gust
    which bellies it uses up slack.
    """

    lean: Floats
    held: Floats
    strain: Floats


def stay_of(shape: Floats, height: Floats, width: Floats, slack: float) -> Stay:
    """Return the stay that upright fibres of film make.

    shape : [-] lean of each fibre's upper end over the mean; height, width : [m] of each fibre
    slack : [-] over the height

    Source: energy of fibres between a firm foot and the hoop, by the length they have when the
    hoop leans; exact for a given shape of the lean.
    """
    lean = np.linspace(0.0, 1.2 * float(height.max()), 49)
    aside = lean[:, None] * shape
    strain = stretch(aside / height, slack)
    held = strain * shape**2 * width / np.hypot(height, aside)
    return Stay(lean, held.sum(axis=1), strain.max(axis=1))


def sheet_holds(standing: Standing, inputs: Inputs) -> Floats:
    """Return the pull at which an end sheet stays no hoop any more [N/m].

    Its batten, its clips or the film itself gives. A wrapped sheet that slips under the clips of
    its hoop is still whole, but slides over the hoop; what the roof's own pull holds is left out.
    """
    clips_grip = end_clips_grip if standing.cover.end_panel is None else _clips_grip
    clips, batten = clips_grip(standing, inputs), _batten_grip(standing, inputs)
    if clips is None:
        return np.zeros(inputs.draws.count)
    ways = [drawn_strength(standing, inputs), clips]
    return np.asarray(np.min(ways if batten is None else [*ways, batten], axis=0))


def end_clips_grip(standing: Standing, inputs: Inputs) -> Floats | None:
    """Return the pull [N/m] at which the clips of all hoops of an end let the sheet go."""
    spacing = standing.cover.clip_spacing
    return None if spacing is None else inputs.clip * standing.hoops_an_end / spacing


def _batten_grip(standing: Standing, inputs: Inputs) -> Floats | None:
    """Return the pull at which film draws out from under an end batten [N/m]."""
    screw, cover = standing.batten_screw, standing.cover
    if screw is None:
        return None
    bite = screw.length - cover.batten.thickness
    one = withdrawal(
        standing.bed.species.specific_gravity,
        screw.size.diameter,
        min(screw.thread_length, bite),
        Service(),
    ).likely
    length = cover.battens[0].pieces[0]
    gaps = max(1, len(evenly(length, BATTEN_SCREW_GREATEST, BATTEN_SCREW_END)) - 1)
    clamp = batten_clamp(one * inputs.doubt(OUTWARD) * sound_wood(inputs), length / gaps)
    return rolled_batten(BATTEN_TURNS, clamp, inputs.friction("film on wood"))


def _clips_grip(standing: Standing, inputs: Inputs) -> Floats | None:
    """Return the pull at which a sheet of its own to each end slips out of its clips [N/m]."""
    spacing = standing.cover.clip_spacing
    if spacing is None or standing.cover.end_panel is None:
        return None
    gain = np.exp(inputs.friction("film on film") * SHEET_WRAP)
    return np.asarray(inputs.clip * gain / spacing)


def _on_sheet(standing: Standing, inputs: Inputs) -> Floats:
    """Return the greater drawn net pressure on an end sheet over the velocity pressure [-]."""
    bed, inside = standing.bed, inputs.inside(CLOSED)
    state = internal_pressures()[CLOSED]
    windward, lee = end_wall_coefficients(bed.outer_length / bed.outer_width)
    found = [
        np.abs((one.likely + state.likely) * inputs.pressure - inside) for one in (windward, lee)
    ]
    return np.maximum(np.maximum(*found), 0.05)


def battens_pull(standing: Standing, inputs: Inputs) -> Rung | None:
    """Return the gust at which an end sheet draws out from under its batten.

    The sheet hangs as a membrane between its hoop and the batten, and pulls on both with its
    tension, though no harder than it is strong.
    """
    grip = _batten_grip(standing, inputs)
    if grip is None:
        return None
    tears = drawn_strength(standing, inputs)
    span = standing.hoop.crown_over_board
    pressure = pressure_of_pull(standing, span, np.minimum(grip, tears), inputs.film)
    return Rung(
        name="battens-let-go",
        hazard="wind",
        at=inputs.gust(pressure / _on_sheet(standing, inputs)),
        happens="An end sheet draws out from under its batten, or tears there.",
        harm="repair",
        case="wind along the bed",
        do="Roll the film once more round the batten and add a screw.",
        sources=(
            "Membrane between hoop and batten; capstan and Coulomb; friction of film on wood is "
            "an assumption",
            "NDS 2018 12.2",
        ),
        brings="opens",
    )


def end_sheet_zips(standing: Standing, inputs: Inputs) -> Rung | None:
    """Return the gust at which an end sheet zips out of its clips; None without end sheets."""
    grip = _clips_grip(standing, inputs)
    if grip is None:
        return None
    span = min(standing.hoop.crown_over_board, standing.hoop.span)
    pressure = pressure_of_pull(standing, span, grip, inputs.film)
    return Rung(
        name="end-sheet-zips",
        hazard="wind",
        at=inputs.gust(pressure / _on_sheet(standing, inputs)),
        happens="An end sheet slips out of its clips, one after the other.",
        harm="repair",
        case="wind along the bed",
        do="Set the clips closer (cover.clip_spacing), turn the sheet's edge right round the hoop.",
        sources=(
            "Membrane across the end; capstan round the hoop; grip of a clip and friction of film "
            "on pipe are assumptions",
        ),
        brings="opens",
    )
