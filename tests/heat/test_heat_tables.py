"""The tables of the climate under cover: complete, sourced, and drawn from with a seed."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from bench.plain_covers import cover_optics
from heat_rig import FILM, steady

from hoopwright.heat.coefficients import Coefficients, likely, read_rows, sampled, table
from hoopwright.heat.covers import fabric_leak, sampled_optics
from hoopwright.heat.enclosure import CoverOptics, Enclosure
from hoopwright.heat.forcing import forcing
from hoopwright.heat.run import BedInRun, place_of
from hoopwright.heat.schedule import Schedule, settings
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.reader import SURENESS


def test_every_coefficient_is_a_row_and_every_row_is_used() -> None:
    assert {field.name for field in fields(Coefficients)} == set(table())


@pytest.mark.parametrize("row", table().values(), ids=lambda row: row.name)
def test_rows_have_ranges_units_and_sources(row) -> None:
    assert row.low <= row.likely <= row.high
    assert row.unit
    assert len(row.source) > 10
    assert row.sure in SURENESS
    if "no source" in row.source:
        assert row.sure == "assumption"


@pytest.mark.parametrize("name", ["heat_leakage.csv", "heat_fabric_leak.csv"])
def test_leaks_are_called_assumptions(name: str) -> None:
    for row in read_rows(name):
        assert row["sure"] == "assumption"
        assert "no source" in row["source"]


def test_draws_stay_in_range_and_repeat() -> None:
    first, again = sampled(40, seed=3), sampled(40, seed=3)
    assert first == again
    assert first != sampled(40, seed=4)
    for row in table().values():
        drawn = [getattr(one, row.name) for one in first]
        assert row.low <= min(drawn)
        assert max(drawn) <= row.high
        assert (min(drawn) < max(drawn)) == (row.low < row.high)


def test_likely_is_the_table() -> None:
    assert likely().discharge == table()["discharge"].likely


def test_covers_come_from_the_catalogue() -> None:
    film = cover_optics("film-6mil-uv4")
    assert film.leak_still == 0.0
    assert cover_optics("fabric-0.55").leak_still == fabric_leak("spunbond-17")[0] > 0
    assert cover_optics("net-insect").open_share > 0.2
    heavy, light = cover_optics("fabric-2.0"), cover_optics("fabric-0.55")
    assert heavy.leak_still < light.leak_still
    assert heavy.solar_normal < light.solar_normal


def test_drawn_covers_add_up() -> None:
    material = Catalogue().cover("film-6mil-thermal")
    for one in sampled_optics(material, 50, seed=1):
        assert one.longwave_dry + one.emissivity_dry <= 1.0 + 1e-12
        assert one.longwave_wet <= one.longwave_dry


def test_air_passes_the_edges_by_volume_and_the_weave_by_area() -> None:
    """A box 4 m long, 0.9 m wide and 0.5 m high: 1.8 m3, 4 x 1.9 + 2 x 0.45 = 8.5 m2 of cover. In a
    wind of u at the crown each square metre lets 3.7 + 1.8 u cubic metres an hour through."""
    curve = ((0.0, 0.0), (0.0, 0.5), (0.9, 0.5), (0.9, 0.0))
    bed = BedInRun(Enclosure(4.0, 0.9, curve, edge="clipped"))
    weather = steady(24, wind=3.0)
    at, hours = place_of(weather, bed), settings(Schedule.closed(), weather)

    def rows(optics: CoverOptics):
        return forcing(at, bed.enclosure, optics, bed.canopy, hours, bed.coefficients)

    film = rows(FILM)
    fabric = rows(replace(FILM, leak_still=3.7, leak_wind=1.8))
    wind = np.asarray(film.wind)
    assert 0.5 < wind.min() <= wind.max() < 3.0
    edge = next(row for row in read_rows("heat_leakage.csv") if row["edge"] == "clipped")
    still, windy = (float(edge[name]) for name in ("still [1/h]", "wind [1/h per m/s]"))
    assert np.asarray(film.leak) == pytest.approx(1.8 * (still + windy * wind) / 3600)
    weave = np.asarray(fabric.leak) - np.asarray(film.leak)
    assert weave == pytest.approx(8.5 * (3.7 + 1.8 * wind) / 3600)


def test_a_fabrics_leak_is_drawn_between_a_half_and_twice() -> None:
    """Still air and wind by the same factor, as often below the row's own as above it."""
    material = Catalogue().cover("fabric-0.55")
    still, wind = fabric_leak("spunbond-17")
    assert (still, wind) == (3.7, 1.8)
    drawn = sampled_optics(material, 400, seed=1)
    factors = np.array([one.leak_still / still for one in drawn])
    assert np.array([one.leak_wind / wind for one in drawn]) == pytest.approx(factors)
    assert 0.5 <= factors.min() < 0.6
    assert 1.7 < factors.max() <= 2.0
    assert np.median(factors) == pytest.approx(1.0, abs=0.05)


def test_a_cover_that_gives_more_than_it_gets_is_refused() -> None:
    with pytest.raises(ValueError, match="add to more than 1"):
        CoverOptics("wrong", 0.9, 0.8, 0.8, 0.3, 0.3, 0.6)
