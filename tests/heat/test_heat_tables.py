"""The tables of the climate under cover: complete, sourced, and drawn from with a seed."""

from __future__ import annotations

from dataclasses import fields

import pytest
from bench.plain_covers import cover_optics

from hoopwright.heat.coefficients import Coefficients, likely, read_rows, sampled, table
from hoopwright.heat.covers import fabric_leak, sampled_optics
from hoopwright.heat.enclosure import CoverOptics
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


def test_a_cover_that_gives_more_than_it_gets_is_refused() -> None:
    with pytest.raises(ValueError, match="add to more than 1"):
        CoverOptics("wrong", 0.9, 0.8, 0.8, 0.3, 0.3, 0.6)
