"""EMT, PEX and reinforcing bar rows against other published lists than the rows came from."""

import math

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
INCH = 0.0254
POUND_PER_FOOT = 0.45359237 / 0.3048


@pytest.mark.parametrize(
    ("size", "outside", "inside", "wall", "pounds_per_1000_ft"),
    [
        ("1/2", 0.706, 0.622, 0.042, 295),
        ("3/4", 0.922, 0.824, 0.049, 445),
        ("1", 1.163, 1.049, 0.057, 650),
    ],
)
def test_emt_against_a_wiring_textbook(
    size: str, outside: float, inside: float, wall: float, pounds_per_1000_ft: float
) -> None:
    """A textbook on commercial wiring, table of conduit properties, read in a sample page.

    Weights of two lists differ by up to 3.5 %, as couplings are counted differently.
    """
    pipe = CATALOGUE.pipe(f"emt-{size}")

    assert pipe.outside_diameter == pytest.approx(outside * INCH)
    assert pipe.inside_diameter == pytest.approx(inside * INCH)
    assert pipe.wall == pytest.approx(wall * INCH)
    assert pipe.mass_per_length == pytest.approx(
        pounds_per_1000_ft / 1000 * POUND_PER_FOOT, rel=0.036
    )


@pytest.mark.parametrize(("size", "inside"), [("1/2", 0.485), ("3/4", 0.681), ("1", 0.875)])
def test_pex_wall_is_a_ninth_of_its_diameter(size: str, inside: float) -> None:
    """ASTM F876, SDR 9 but least wall 0.070 in; a maker's chart gives the inside diameters."""
    pipe = CATALOGUE.pipe(f"pex-{size}")

    assert pipe.wall == pytest.approx(max(pipe.outside_diameter / 9, 0.070 * INCH), abs=3e-5)
    assert pipe.bore == pytest.approx(inside * INCH, abs=1e-6)


@pytest.mark.parametrize(
    ("number", "diameter_mm", "area_mm2", "mass"),
    [(3, 9.5, 71, 0.560), (4, 12.7, 129, 0.994), (5, 15.9, 199, 1.552)],
)
def test_reinforcing_bars_against_astm_a615_metric(
    number: int, diameter_mm: float, area_mm2: float, mass: float
) -> None:
    """ASTM A615 nominal sizes, metric columns of a secondary copy, 3 digits."""
    bar = CATALOGUE.stake(f"rebar-{number}")

    assert bar.mass_per_length == pytest.approx(mass, abs=6e-4)
    assert math.pi / 4 * diameter_mm**2 == pytest.approx(area_mm2, rel=0.02)
    assert diameter_mm / 1000 < bar.size < 1.2 * diameter_mm / 1000


def test_battens_rails_and_stakes_repeat_the_sizes_of_what_they_are_made_of() -> None:
    for key in ("1/2", "3/4", "1"):
        for kind in ("pvc40", "emt"):
            pipe, rail = CATALOGUE.pipe(f"{kind}-{key}"), CATALOGUE.rail(f"rail-{kind}-{key}")
            assert rail.outside_diameter == pipe.outside_diameter
            assert rail.mass_per_length == pipe.mass_per_length
    for key in ("1/2", "3/4"):
        assert (
            CATALOGUE.stake(f"stake-emt-{key}").size
            == CATALOGUE.pipe(f"emt-{key}").outside_diameter
        )
    for key in ("1x2", "1x3", "1x4"):
        batten, board = CATALOGUE.batten(f"batten-{key}"), CATALOGUE.board(key)
        assert (batten.thickness, batten.width) == (board.thickness, board.width)
