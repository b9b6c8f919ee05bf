"""The gust and the depth of snow at which the film's pull leans the end hoops, or breaks them."""

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from hoopwright.checks.drawn_ends import AmongNodes, DrawnEnds, among_nodes
from hoopwright.checks.end_hoop import Drawn, end_strain, strain_at_rest, strap_force
from hoopwright.checks.end_sheet import LEAN_TOO_FAR, SLACK, lean_too_far, sheet_holds
from hoopwright.checks.film import crept
from hoopwright.checks.hoop_in_snow import depth, key_of
from hoopwright.checks.hoop_in_wind import (
    STANDS_BENT,
    sideways_strength,
    strain_in_a_gust,
    strain_limit,
    strap_words,
)
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Floats, Met
from hoopwright.checks.rung import Brings, Harm, Hazard, Rung
from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.holding.screws import Service
from hoopwright.tables.spread import Spread

#: Lean over the height above the boards at which film is seen to hang slack (assumption).
LEAN_SEEN, SLACK_FROM = Spread(0.07, 0.1, 0.15), "lean at which film hangs slack"
#: Load duration factor of snow [-]: NDS 2018 table 2.3.2, two months (copy read 2026-11).
SNOW_DURATION = 1.15
_SOURCES = (
    "Hoop out of its plane in balance with elastic film (computed)",
    "How far a lean does harm is an assumption",
)


@dataclass(frozen=True)
class _Limit:
    """A limit of the end hoop: what of it passes what, what then happens, and how bad that is.

    ages : it falls with the boards' years
    """

    value: Callable[[Drawn], Floats]
    bears: Floats
    force: bool
    happens: str
    harm: Harm
    ages: bool = False


def end_hoops_lean(standing: Standing, inputs: Inputs, ends: DrawnEnds) -> Rung:
    """Return the gust at which the end hoops are seen to lean and the film goes slack."""
    bears = inputs.draws.of(SLACK_FROM, LEAN_SEEN)
    limit = _Limit(
        lambda drawn: drawn.lean,
        bears * standing.hoop.crown_over_board,
        False,
        "The film's pull along the bed leans the end hoops {seen:length} inward; the sheet goes "
        "slack and flaps.",
        "nuisance",
    )
    met = ends.met(limit.value, limit.bears, inputs, force=False)
    return _rung(standing, "end-hoops-lean", "wind", inputs.gust(met.pressure), met.case, limit)


def end_hoops_pulled_over(standing: Standing, inputs: Inputs, ends: DrawnEnds) -> Rung:
    """Return the gust at which the end hoops are pulled over, break or tear off their straps."""
    limits = _limits(standing, inputs, Service())

    def found(*, stayed: bool) -> list[Met]:
        met = partial(ends.met, inputs=inputs, stayed=stayed)
        return [
            met(one.value, one.bears, force=one.force)
            if one.ages
            else _once(ends, inputs, (number, stayed), partial(met, one.value, one.bears))
            for number, one in enumerate(limits)
        ]

    held = found(stayed=True)
    least = np.stack([one.pressure for one in held])
    free = np.min([one.pressure for one in found(stayed=False)], axis=0)
    holds = sheet_holds(standing, inputs)
    sheet = ends.met(lambda drawn: drawn.sheet, holds, inputs, force=True).pressure
    at = sheet_or_alone(least.min(axis=0), sheet, free)
    worst = _most_often(least)
    return _rung(
        standing,
        "end-hoops-pulled-over",
        "wind",
        inputs.gust(at),
        held[worst].case,
        limits[worst],
    )


def _once(ends: DrawnEnds, inputs: Inputs, key: object, met: Callable[..., Met]) -> Met:
    """Return what these ends and draws of this bed meet at any age of its boards, once."""
    own = (inputs.draws, inputs.standing)
    # Kept beside what it is of, whose identity then stays its own.
    return ends.once((key, *map(id, own)), lambda: (met(force=False), own))[0]


def sheet_or_alone(held: Floats, sheet: Floats, alone: Floats) -> Floats:
    """Return where end hoops go: held by their sheet until it lets go, or better without it.

    held : with the sheet firm; sheet : at which it lets go; alone : without it
    """
    return np.asarray(np.maximum(np.minimum(held, sheet), alone))


def end_hoops_in_snow(
    standing: Standing, inputs: Inputs, ends: DrawnEnds, kinds: Sequence[str]
) -> list[Rung]:
    """Return the depths of each kind of snow at which the sagging film pulls the end hoops over."""
    limits = _limits(standing, inputs, Service(duration=SNOW_DURATION))
    film = inputs.film * crept(standing, inputs)
    stayed, free = (
        among_nodes(ends.snow.ratios, inputs.snow_stiffness, film, slack)
        for slack in (inputs.doubt(SLACK), None)
    )

    def all_limits(at: AmongNodes) -> Floats:
        return np.stack(
            [ends.snow.where(one.value, one.bears, at, force=one.force) for one in limits]
        )

    found, alone = all_limits(stayed), all_limits(free).min(axis=0)
    holds = sheet_holds(standing, inputs)
    sheet = ends.snow.where(lambda drawn: drawn.sheet, holds, stayed, force=True)
    load, limit = sheet_or_alone(found.min(axis=0), sheet, alone), limits[_most_often(found)]
    return [
        _rung(
            standing,
            f"end-hoops-pulled-over-{key_of(kind)}",
            "snow",
            depth(inputs, load, kind),
            f"{kind} snow between hoops",
            limit,
            load,
        )
        for kind in kinds
    ]


def _most_often(found: Floats) -> int:
    """Return the row (rows, draws) that is least most often."""
    first = found.argmin(axis=0)[np.isfinite(found.min(axis=0))]
    return int(np.bincount(first, minlength=len(found)).argmax()) if first.size else 0


def _rung(
    standing: Standing,
    name: str,
    hazard: Hazard,
    at: Floats,
    case: str,
    limit: _Limit,
    load: Floats | None = None,
) -> Rung:
    height = standing.hoop.crown_over_board
    strain = standing.hoop.pipe.strain_under_load(23.0 if hazard == "wind" else 0.0)
    lost: Brings = "" if limit.harm == "nuisance" else "lost"
    return Rung(
        name=name,
        hazard=hazard,
        at=at,
        happens=limit.happens,
        harm=limit.harm,
        case=case,
        do=_do(standing),
        sources=_SOURCES,
        values={
            "seen": LEAN_SEEN.likely * height,
            "far": LEAN_TOO_FAR.likely * height,
            "low": strain.low,
            "high": strain.high,
            **strap_words(standing),
        },
        load=load,
        brings=lost if hazard == "wind" else "",
    )


def _limits(standing: Standing, inputs: Inputs, service: Service) -> list[_Limit]:
    """Return what ends an end hoop: too far over, bent for good or cracked, straps torn off."""
    windy = service.duration > SNOW_DURATION
    strain = strain_in_a_gust(standing, inputs) if windy else strain_limit(inputs, 0.0)
    # A pipe that stands bent bears its own bend.
    strain = np.maximum(strain, STANDS_BENT * strain_at_rest(standing))
    limits = [
        _Limit(
            lambda drawn: drawn.lean,
            lean_too_far(inputs) * standing.hoop.crown_over_board,
            False,
            "The film's pull along the bed draws the end hoops {far:length} inward and the slack "
            "sheet flogs itself loose."
            if windy
            else "The sagging film draws the end hoops {far:length} inward.",
            # No gust flogs it then, and the hoops spring back once the snow is off.
            "repair" if windy else "nuisance",
        ),
        _Limit(
            lambda drawn: end_strain(standing, drawn),
            strain,
            False,
            "The film's pull along the bed bends the end hoops past {low:strain} to {high:strain} "
            "of strain: they kink, crack or stay bent.",
            "loss",
        ),
    ]
    strength = sideways_strength(standing, inputs, service)
    if strength is not None:
        limits.append(
            _Limit(
                lambda drawn: strap_force(standing, drawn),
                strength,
                True,
                "The end hoops, pulled along the bed, shear the screws of their straps ({screw} "
                "in {wood}, wet).",
                "loss",
                ages=True,
            )
        )
    return limits


def _do(standing: Standing) -> str:
    if standing.ridge_strut == 0:
        return (
            'Run a pipe along the crowns (hoops.ridge = "pipe"): it props the ends apart, which '
            "no cord does."
        )
    if standing.hoops_an_end == 1:
        return 'Stand a second hoop beside each end hoop (cover.style = "framed").'
    return "Take stouter pipe or closer hoops: the ridge then bows out later."
