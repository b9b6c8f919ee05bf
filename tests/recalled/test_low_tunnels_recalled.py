"""Measured low tunnels against the whole model, uncalibrated, on typical years.

Sources beside each test. None of these sites is in the weather files at hand, so bands and signs
are checked, not single values. Figures for spring: March to May; air at crop height.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from bench.plain_covers import cover_optics, half_ellipse, perforated
from heat_rig import FILM, bed, box, real

from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import CoverOptics
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


@pytest.mark.xfail(strict=True, reason="a finding: 4.7 to 6.9 K, over the band")
@pytest.mark.parametrize("place", PLACES)
def test_soil_gain_under_spunbond_in_spring(place: str) -> None:
    """The same sources: +1..+3 K, the cloth on the plants. With a soil whose surface is dry it is
    about 1 K less. The season prints the soil under fabric as a range that takes the trials in."""
    hours = slice(24 * 90, 24 * 151)
    bare = open_bed(place).soil_at(0.1)[hours].mean()
    laid = bed(enclosure=box(curve=half_ellipse(0.914, 0.15)))
    cloth = year(place, cover_optics("fabric-0.55"), Schedule.closed(), laid)
    assert 1.0 <= cloth.soil_at(0.1)[hours].mean() - bare <= 3.0
