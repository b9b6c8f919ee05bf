"""The gust and the depth of snow at which the film's pull leans the end hoops, or breaks them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.out_of_plane import gauss_shares
from hoopwright.checks.end_hoop import Drawn, EndHoops, EndSheets
from hoopwright.checks.film_in_snow import crept_stiffness
from hoopwright.checks.film_in_wind import film_stiffness
from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.hoop_in_snow import depth, key_of, stiffness_shares
from hoopwright.checks.hoop_in_wind import strap_strength, strap_words
from hoopwright.checks.rung import Harm, Hazard, Rung
from hoopwright.checks.standing import Standing
from hoopwright.holding.screws import Service
from hoopwright.loads.snow import balanced_on_curve
from hoopwright.loads.wind_cases import end_wall_coefficients
from hoopwright.tables.spread import Spread, least

Floats = NDArray[np.float64]

#: Lean over the height above the boards at which film is seen to hang slack (assumption).
LEAN_SEEN = Spread(0.07, 0.1, 0.15)
#: The same at which the end has come in so far that film, clips and edges are flogged loose; the
#: linear hoop says 7 to 9 % too much there, and nothing beyond a half is claimed (assumption).
LEAN_TOO_FAR = Spread(0.25, 1 / 3, 0.5)
#: Film pulls with this power of its pressure, as a shallow elastic strip does; it says how the
#: pull is spread over the arc.
PULL_POWER = 2 / 3
#: Load duration factor of snow [-]: NDS 2018 table 2.3.2, from memory.
SNOW_DURATION = 1.15
_SOURCES = (
    "Hoop out of its plane in balance with elastic film (computed)",
    "How far a lean does harm is an assumption",
)


@dataclass(frozen=True)
class DrawnCase:
    """An end hoop in one case of wind. hardest : [-] coefficient that the film's pressure is."""

    name: str
    hardest: float
    drawn: Drawn


@dataclass(frozen=True)
class DrawnEnds:
    """The hoops of the windward end under the film's pull.

    outward, likely : in the closed cases of wind, most outward on a hot pipe, and likely
    snow : under even snow, the pressure being the snow on plan; relaxed, likely and new pipe
    """

    outward: tuple[DrawnCase, ...]
    likely: tuple[DrawnCase, ...]
    snow: tuple[Drawn, Drawn, Drawn]


@dataclass(frozen=True)
class _Limit:
    """A limit of the end hoop: what of it passes what, what then happens, and how bad that is."""

    value: Callable[[Drawn], Floats]
    bears: Spread
    happens: str
    harm: Harm


def drawn_ends(standing: Standing, wind: FollowedHoop) -> DrawnEnds:
    """Return the end hoops drawn by the film in the closed cases of wind and under snow.

    The most outward coefficients are those with the most pressure inside, and the end sheets
    take the same. The weak end is also a pipe hot in the sun, with its modulus at 60 degC. Cords
    over the film hold no snow up.
    """
    shares, _ = gauss_shares()
    curve = standing.hoop.curve
    cases = [case for case in wind.cases if not is_opened(case)]
    fields = [
        np.abs(np.interp(shares, wind.section.arc, coefficient))
        for case in cases
        for coefficient in (case.low, case.likely)
    ]
    slope = np.abs(np.interp(shares * curve.length, curve.arc, curve.angle))
    fields.append(balanced_on_curve(slope, 1.0) * np.maximum(np.cos(slope), 0.0))
    hardest = [max(float(field.max()), 0.05) for field in fields]
    shapes = [(field / most) ** PULL_POWER for field, most in zip(fields, hardest, strict=True)]
    ends = EndHoops(standing, np.stack(shapes))
    film, hot = film_stiffness(standing), standing.hoop.pipe.stuff.modulus_hot.value
    found = []
    for row, most in enumerate(hardest[:-1]):
        case, outward = cases[row // 2], row % 2 == 0
        sheets = _sheets(standing, outward, most) if case.wind == "along" else None
        share = hot if outward else 1.0
        drawn = ends.drawn(row, standing.film_span, film, share, sheets)
        found.append(DrawnCase(case.name, most, drawn))
    crept, share_of = crept_stiffness(standing), stiffness_shares(standing)
    last = len(shapes) - 1
    low, likely, high = (
        ends.drawn(last, standing.bay, crept, share)
        for share in (share_of.low, share_of.likely, share_of.high)
    )
    return DrawnEnds(tuple(found[::2]), tuple(found[1::2]), (low, likely, high))


def _sheets(standing: Standing, outward: bool, hardest: float) -> EndSheets:
    """Return what the end sheets put on their hoops: their pressure, evenly round their edge."""
    curve, bed = standing.hoop.curve, standing.bed
    area = float(np.sum(0.5 * (curve.y[1:] + curve.y[:-1]) * np.diff(curve.x)))
    spread = area / (curve.length + curve.span) / hardest
    windward, lee = (
        one.low if outward else one.likely
        for one in end_wall_coefficients(bed.outer_length / bed.outer_width)
    )
    return EndSheets(max(0.0, windward) * spread, max(0.0, -lee) * spread)


def end_hoops_lean(standing: Standing, ends: DrawnEnds) -> Rung:
    """Return the gust at which the end hoops are seen to lean and the film goes slack."""
    limit = _seen(standing)
    at, case = _pressure_where(ends, limit)
    return _rung(standing, "end-hoops-lean", "wind", standing.wind.gust(at), case, limit)


def end_hoops_pulled_over(standing: Standing, ends: DrawnEnds) -> Rung:
    """Return the gust at which the end hoops are pulled over, break or tear off their straps."""
    found = [(*_pressure_where(ends, limit), limit) for limit in _limits(standing, Service(), 23.0)]
    at = least(one for one, _, _ in found)
    _, case, limit = min(found, key=lambda one: one[0].likely)
    return _rung(standing, "end-hoops-pulled-over", "wind", standing.wind.gust(at), case, limit)


def end_hoops_in_snow(standing: Standing, ends: DrawnEnds, kinds: Sequence[str]) -> list[Rung]:
    """Return the depths of each kind of snow at which the sagging film pulls the end hoops over."""
    found = []
    for limit in _limits(standing, Service(duration=SNOW_DURATION), 0.0):
        bears = (limit.bears.low, limit.bears.likely, limit.bears.high)
        met = [one.where(limit.value(one), by) for one, by in zip(ends.snow, bears, strict=True)]
        found.append((Spread(*np.maximum.accumulate(met).tolist()), limit))
    at, limit = least(one for one, _ in found), min(found, key=lambda one: one[0].likely)[1]
    return [
        _rung(
            standing,
            f"end-hoops-pulled-over-{key_of(kind)}",
            "snow",
            depth(at, kind),
            f"{kind} snow between hoops",
            limit,
        )
        for kind in kinds
    ]


def _rung(
    standing: Standing, name: str, hazard: Hazard, at: Spread, case: str, limit: _Limit
) -> Rung:
    height = standing.hoop.crown_over_board
    strain = standing.hoop.pipe.strain_under_load(23.0 if hazard == "wind" else 0.0)
    return Rung(
        name=name,
        hazard=hazard,
        at=at,
        kind="speed" if hazard == "wind" else "depth",
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
    )


def _seen(standing: Standing) -> _Limit:
    return _Limit(
        lambda drawn: drawn.lean,
        LEAN_SEEN.scaled(standing.hoop.crown_over_board),
        "The film's pull along the bed leans the end hoops {seen:length} inward; the sheet goes "
        "slack and flaps.",
        "nuisance",
    )


def _limits(standing: Standing, service: Service, temperature: float) -> list[_Limit]:
    """Return what ends an end hoop: too far over, bent for good or cracked, straps torn off."""
    limits = [
        _Limit(
            lambda drawn: drawn.lean,
            LEAN_TOO_FAR.scaled(standing.hoop.crown_over_board),
            "The film's pull along the bed draws the end hoops {far:length} inward and the slack "
            "sheet flogs itself loose."
            if service.duration > SNOW_DURATION
            else "The sagging film draws the end hoops {far:length} inward.",
            # No gust flogs it then, and the hoops spring back once the snow is off.
            "repair" if service.duration > SNOW_DURATION else "nuisance",
        ),
        _Limit(
            lambda drawn: end_strain(standing, drawn),
            standing.hoop.pipe.strain_under_load(temperature),
            "The film's pull along the bed bends the end hoops past {low:strain} to {high:strain} "
            "of strain: they kink, crack or stay bent.",
            "loss",
        ),
    ]
    strength = strap_strength(standing, service)
    if strength is not None:
        limits.append(
            _Limit(
                lambda drawn: strap_force(standing, drawn),
                strength[1],
                "The end hoops, pulled along the bed, shear the screws of their straps ({screw} "
                "in {wood}, wet).",
                "loss",
            )
        )
    return limits


def end_strain(standing: Standing, drawn: Drawn) -> Floats:
    """Return the greatest fibre strain along the hoop in each state [-].

    What is left of the bend and the bending across the plane stand square to each other; torsion
    comes in by von Mises, a third of its square (a material that keeps its volume, from memory).
    """
    curve, pipe = standing.hoop.curve, standing.hoop.pipe
    shares, _ = gauss_shares()
    left = pipe.stuff.relaxation.value if pipe.springs else 0.0
    bend = left * np.interp(shares * curve.length, curve.arc, curve.curvature)
    square = bend**2 + drawn.bending**2 + drawn.twist**2 / 3
    return np.asarray(np.sqrt(square.max(axis=1)) * pipe.outside_diameter / 2)


def strap_force(standing: Standing, drawn: Drawn) -> Floats:
    """Return the force along the board on the worse strap of an end leg [N].

    Two straps share the tilting moment as a couple, and the upper one has the push too.
    """
    spacing = standing.hoop.leg.strap_spacing
    couple = drawn.foot_moment / spacing if spacing else 0.0
    return np.asarray(drawn.foot_force + couple)


def _pressure_where(ends: DrawnEnds, limit: _Limit) -> tuple[Spread, str]:
    """Return the velocity pressures [Pa] at which a limit is met, and the likely case's name."""

    def where(cases: tuple[DrawnCase, ...], *bears: float) -> list[list[float]]:
        grown = [(one, limit.value(one.drawn)) for one in cases]
        return [
            [one.drawn.where(values, by) / one.hardest for one, values in grown] for by in bears
        ]

    likely, strong = where(ends.likely, limit.bears.likely, limit.bears.high)
    at = min(likely)
    low = min(at, *where(ends.outward, limit.bears.low)[0])
    return Spread(low, at, max(at, min(strong))), ends.likely[likely.index(at)].name


def _do(standing: Standing) -> str:
    if standing.ridge_strut == 0:
        return (
            'Run a pipe along the crowns (hoops.ridge = "pipe"): it props the ends apart, which '
            "no cord does."
        )
    if standing.hoops_an_end == 1:
        return 'Stand a second hoop beside each end hoop (cover.style = "framed").'
    return "Take stouter pipe or closer hoops: the ridge then bows out later."
