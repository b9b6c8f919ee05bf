"""Fit two inputs of row cover fabric to a part of the trials, and tell what the others make of it.

    HOOPWRIGHT_SHARED=../shared python -m bench.fabric

Fitted inside the ranges of their rows as they stood before. Of thin cloth: the air through a square
metre (a factor on `heat_fabric_leak`, half to twice) and the light it passes, from the likely down
to the low end. Of heavy cloth: the air, and its long waves, emitted and transmitted, from the
likely down to the low end (`cover_optics`). Each trial weighs by half its spread, each input by its
range: what no trial asks for stays where its source had it. Fabric lies on plants of 15 cm with few
leaves, over mulched ground that gives off no water, as in the trials; five typical years.

Kept aside: leaves of lettuce under 20 g/m2 at 4 h of winter mornings, 0.75 K (a supplier's page,
2017, read); one night of 22 F at the ground, 4.3, 5.4 and 3.7 F warmer under 0.75, 1.0 and 1.25 oz
(North Carolina State's trial as a grower's paper tells it, read); noons under spunbond tunnels 5 to
10 F cooler than under film (a textbook's chapter, read in excerpt). A fit that makes them worse is
not taken: so thin cloth stays as it was, and heavy cloth has the fitted long waves.
"""

from __future__ import annotations

import os
from dataclasses import replace
from functools import cache
from math import log
from pathlib import Path

import numpy as np

from bench.plain_covers import cover_optics, half_ellipse
from hoopwright.climate.read import read_weather
from hoopwright.climate.weather import Weather
from hoopwright.heat.compare import nightly_minimum
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Canopy, CoverOptics, Enclosure, Soil
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, place_of, simulate
from hoopwright.heat.schedule import Schedule

#: Before the fit. Leak [m/h], [m/h per m/s]; likely and low of what is moved besides.
LIGHT = ("solar_normal", "solar_diffuse")
WAVES = ("longwave_dry", "longwave_wet", "emissivity_dry", "emissivity_wet")
BEFORE = {
    "fabric-0.55": ((3.7, 1.8), LIGHT, (0.87, 0.80), (0.73, 0.70)),
    "fabric-1.0": ((2.2, 1.1), (), (), ()),
    "fabric-1.5": ((1.5, 0.7), WAVES, (0.25, 0.14, 0.65, 0.80), (0.18, 0.08, 0.60, 0.70)),
    "fabric-2.0": ((1.1, 0.5), WAVES, (0.18, 0.10, 0.72, 0.84), (0.15, 0.06, 0.65, 0.75)),
}
THIN, HEAVY = ("fabric-0.55", "fabric-1.0"), ("fabric-1.5", "fabric-2.0")
LEAKS, SHARES = np.geomspace(0.5, 2.0, 13), np.linspace(0.0, 1.0, 5)
#: What, under which cloths on the mean, middle and half spread [K] of the trials that were fitted.
FITTED = (
    ("night", THIN[:1], 1.0, 0.83),  # Oregon State 1983 and 1984: 3.3 and 0.3 F over mulch
    ("night", THIN, 1.67, 0.56),  # Penn State Extension: 2 to 4 F under 0.5 to 1.25 oz
    ("soil", THIN[:1], 2.0, 1.0),  # Wells & Loy 1985, Hemphill & Crabtree 1988: memory
    ("night", HEAVY[:1], 2.0, 1.0),  # FAO 2005 and trade, heavy cloth: 1 to 3 K
    ("night", HEAVY[1:], 2.0, 1.0),
)
SPRING, APRIL_MAY = slice(59, 151), slice(24 * 90, 24 * 151)
LAID = BedInRun(
    Enclosure(length=3.658, width=0.914, curve=half_ellipse(0.914, 0.15), axis_azimuth=90.0),
    canopy=Canopy(leaf_area=0.3),
    soil=Soil(surface_moisture=0.0),
)


def moved(key: str, leak: float, share: float) -> CoverOptics:
    """A fabric with its leak times a factor, the other input a share of the way to its low end."""
    (still, wind), names, likely, low = BEFORE[key]
    values = {name: a + share * (b - a) for name, a, b in zip(names, likely, low, strict=True)}
    return replace(cover_optics(key), leak_still=still * leak, leak_wind=wind * leak, **values)


@cache
def places() -> tuple[tuple[Weather, Place, UnderCover], ...]:
    """The shared typical years, each with the bed's place in it and the open bed."""
    folder = Path(os.environ.get("HOOPWRIGHT_SHARED", "../shared")) / "weather"
    found = []
    for file in sorted(folder.glob("*.epw")):
        weather = read_weather(file)
        at, off = place_of(weather, LAID), Schedule.open_bed()
        bare = simulate(weather, LAID, cover_optics("fabric-0.55"), off, at, compiled_march())
        found.append((weather, at, bare))
    return tuple(found)


def gains(optics: CoverOptics) -> dict[str, list[float]]:
    """[K] over the open bed at each place: spring nights, soil at 10 cm, air at noon, leaves of
    winter mornings, and air of nights with -8 to -3 degC at the ground."""
    rows = []
    for weather, at, bare in places():
        under = simulate(weather, LAID, optics, Schedule.closed(), at, compiled_march())
        inside, outside = (nightly_minimum(one.air, weather) for one in (under, bare))
        freezes = (outside > -8.0) & (outside < -3.0)
        leaf = (under.leaf - bare.leaf).reshape(-1, 24)[[*range(31), *range(334, 365)]]
        noon = (under.air - bare.air)[APRIL_MAY].reshape(-1, 24)[:, 11:14]
        rows.append(
            (
                (inside - outside)[SPRING].mean(),
                (under.soil_at(0.1) - bare.soil_at(0.1))[APRIL_MAY].mean(),
                noon.mean(),
                leaf[:, 3].mean(),
                (inside - outside)[freezes].mean(),
            )
        )
    names = ("night", "soil", "noon", "winter leaf at 4 h", "freezing night")
    return {name: list(column) for name, column in zip(names, zip(*rows, strict=True), strict=True)}


def cooler(optics: CoverOptics) -> list[float]:
    """[K] by which a fabric's tunnel, half-round, is cooler at sunny noons than a film's."""
    tunnel = replace(LAID.enclosure, width=1.0, curve=half_ellipse(1.0, 0.5))
    rows = []
    for weather, _, _ in places():
        bed = BedInRun(tunnel)
        at, sunny = place_of(weather, bed), weather.global_horizontal > 700
        film, cloth = (
            simulate(weather, bed, one, Schedule.closed(), at, compiled_march()).air[sunny].mean()
            for one in (cover_optics("film-6mil-uv4"), optics)
        )
        rows.append(film - cloth)
    return rows


def cost(cloths: tuple[str, ...], leak: float, share: float) -> float:
    """Squared misses of the fitted trials, and of the inputs from where their sources had them."""
    found = {key: gains(moved(key, leak, share)) for key in cloths}
    missed = sum(
        ((np.mean([found[key][what] for key in under]) - middle) / half) ** 2
        for what, under, middle, half in FITTED
        if under[0] in cloths
    )
    return float(missed) + (log(leak) / log(2.0)) ** 2 + share**2


def main() -> None:
    for cloths, shares in ((THIN, SHARES[:-1]), (HEAVY, SHARES)):
        # Thin cloth passes hardly less light than the next heavier, 0.76.
        costs = {(w, s): cost(cloths, w, s) for w in LEAKS for s in shares}
        best = min(costs, key=lambda at: costs[at])
        print(f"leak x {best[0]:.2f}, {best[1]:.2f} of the way down: {costs[best]:.2f},")
        print(f"    where it was {cost(cloths, 1.0, 0.0):.2f}")
        for key in cloths:
            for label, at in (("before", (1.0, 0.0)), ("fitted", best)):
                told = gains(moved(key, *at)) | {"cooler than film": cooler(moved(key, *at))}
                words = "; ".join(
                    f"{name} {min(values):.2f}..{max(values):.2f}" for name, values in told.items()
                )
                print(f"{key} {label}: {words}")


if __name__ == "__main__":
    main()
