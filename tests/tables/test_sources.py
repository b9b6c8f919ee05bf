"""The share of rows read in a source does not fall, and the command tells it."""

import json

import pytest
from typer.testing import CliRunner

from hoopwright.cli.main import app
from hoopwright.tables.sources import (
    NOT_TO_BE_READ,
    readable_shares,
    share_of,
    sums,
    table_names,
)

LEAST = {
    "crop needs": 0.94,
    "crops": 0.89,
    "all": 0.64,
}
"""[-] shares reached; raise them when more is read, never lower them."""

LEAST_ROWS = {
    "animal": 3,
    "batten": 3,
    "cover": 7,
    "cover_optics": 12,
    "cover_strength": 25,
    "crop": 52,
    "crop_base": 42,
    "crop_bolt": 4,
    "crop_cold": 51,
    "crop_emergence": 22,
    "crop_germination": 34,
    "crop_growth": 47,
    "crop_hardened": 13,
    "crop_heat": 26,
    "crop_listed": 1,
    "crop_soil": 8,
    "crop_stalk": 1,
    "crop_water": 26,
    "crop_yield": 2,
    "heat_coefficients": 45,
    "heat_trials": 2,
    "holding_grip": 3,
    "holding_soil_friction": 4,
    "loads_en_vault": 4,
    "loads_internal_pressure": 4,
    "loads_roughness": 2,
    "loads_shelter": 6,
    "loads_snow_kind": 6,
    "loads_soil_kind": 1,
    "lumber": 17,
    "pipe": 14,
    "pipe_material": 34,
    "reach": 3,
    "screw_size": 4,
    "site_standard": 39,
    "species": 7,
    "stake": 3,
}
"""Rows read of each table, so that one table does not make up for another."""


def test_the_share_of_rows_read_does_not_fall() -> None:
    known = {one.name: one.share for one in sums(readable_shares())}

    assert set(known) == set(LEAST)
    assert [name for name, least in LEAST.items() if known[name] < least] == []


@pytest.mark.parametrize("table", LEAST_ROWS)
def test_no_table_loses_rows_that_were_read(table: str) -> None:
    assert share_of(table).opened >= LEAST_ROWS[table]


def test_only_what_no_source_can_hold_is_left_out() -> None:
    assert set(NOT_TO_BE_READ) <= set(table_names())
    for name in NOT_TO_BE_READ:
        assert share_of(name).opened == 0, name


def test_the_command_tells_the_share_of_each_table() -> None:
    told = CliRunner().invoke(app, ["catalogue", "--sources"])
    assert told.exit_code == 0
    for one in readable_shares():
        assert one.name in told.stdout
    as_json = json.loads(CliRunner().invoke(app, ["catalogue", "--sources", "--json"]).stdout)
    assert as_json["crop_emergence"]["rows"] == share_of("crop_emergence").rows
    assert set(as_json) == {one.name for one in readable_shares()} | set(LEAST)


@pytest.mark.parametrize("extra", [["pipe"], ["--own", "mine.csv"]])
def test_the_command_refuses_a_table_beside_sources(extra: list[str]) -> None:
    told = CliRunner().invoke(app, ["catalogue", "--sources", *extra])
    assert told.exit_code != 0
