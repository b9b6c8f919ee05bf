"""Measured low tunnels against the whole model, uncalibrated, on typical years.

Sources beside each test. None of these sites is in the weather files at hand, so bands and signs
are checked, not single values. Figures for spring: March to May; air at crop height.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from bench.plain_covers import cover_optics, half_ellipse, perforated
from heat_rig import FILM, bed, box, real

from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Canopy, CoverOptics, Soil
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, place_of, simulate
from hoopwright.heat.schedule import Schedule

PLACES = ["Bozeman", "Cheyenne", "Idaho", "Hibbing", "Burlington"]


@cache
def open_bed(place: str) -> UnderCover:
    return year(place, FILM, Schedule.open_bed(), bed())


@cache
def year(place: str, optics: CoverOptics, schedule: Schedule, which: BedInRun) -> UnderCover:
    weather = real(place)
    return simulate(weather, which, optics, schedule, place_of(weather, which), compiled_march())


def test_soil_gains_under_film_in_spring() -> None:
    """Wells & Loy 1985, Hemphill & Crabtree 1988 (from memory): film +2..+5 K at 5-10 cm,
    spunbond +1..+3 K. Their film was slit or perforated: so it is 1.3 % of holes, the second of
    Guttormsen's, that must lie in the band. Film kept closed every day must be warmer than that,
    and spunbond less warm than it."""
    holed = perforated(FILM, 0.013)
    for place in PLACES:
        hours = slice(24 * 90, 24 * 151)
        bare = open_bed(place).soil_at(0.1)[hours].mean()

        def over(
            optics: CoverOptics, place: str = place, hours: slice = hours, bare: float = bare
        ) -> float:
            return (
                float(year(place, optics, Schedule.closed(), bed()).soil_at(0.1)[hours].mean())
                - bare
            )

        film, cloth = over(FILM), over(cover_optics("fabric-0.55"))
        print(f"{place}: film {film:.2f}, holed {over(holed):.2f}, spunbond {cloth:.2f} K")
        assert 2.0 <= over(holed) <= 5.0, (place, over(holed))
        assert over(holed) < film < over(holed) + 3.0, (place, film)
        assert 1.0 <= cloth < film, (place, cloth)


DRY = pytest.mark.xfail(strict=True, reason="a finding: 3.1 K, just over the band")


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(place, marks=[DRY] if place in ("Cheyenne", "Idaho") else [])
        for place in PLACES
    ],
)
def test_soil_gain_under_spunbond_in_spring(place: str) -> None:
    """The same sources: +1..+3 K in New Hampshire and Oregon, the cloth on young plants, over black
    mulch, from which no water rises, with the cloth off as with it on; spunbonded polyester, taken
    to pass as much light as the 25 g/m2 spunbond of `cover_optics`, 0.73.

    Over watered soil under a grown crop, and under the thinnest cloth that is sold now, which
    passes 0.87, it is 4.7 to 6.9 K: there the open bed is cooled by the water that it gives off.
    The season prints the soil under fabric as a range from the trials to that."""
    hours = slice(24 * 90, 24 * 151)
    young = {"canopy": Canopy(leaf_area=0.3), "soil": Soil(surface_moisture=0.0)}
    thin = cover_optics("fabric-0.55")
    trial = replace(thin, solar_normal=0.73, solar_diffuse=0.70)

    def soil(optics: CoverOptics, schedule: Schedule, which: BedInRun) -> float:
        return float(year(place, optics, schedule, which).soil_at(0.1)[hours].mean())

    laid = bed(enclosure=box(curve=half_ellipse(0.914, 0.15)))
    watered = soil(thin, Schedule.closed(), laid) - soil(thin, Schedule.open_bed(), bed())
    assert 4.5 <= watered <= 7.0
    mulched = replace(laid, **young)
    bare = soil(trial, Schedule.open_bed(), bed(**young))
    assert 1.0 <= soil(trial, Schedule.closed(), mulched) - bare <= 3.0
