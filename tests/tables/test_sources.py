"""The share of rows read in a source does not fall, and the command tells it."""

import json

import pytest
from typer.testing import CliRunner

from hoopwright.__main__ import app
from hoopwright.tables.sources import (
    CROPS,
    NOT_TO_BE_READ,
    readable_shares,
    share_of,
    table_names,
    together,
)

LEAST = {
    "crops": 0.84,
    "all": 0.39,
}
"""[-] shares reached; raise them when more is read, never lower them."""


def test_the_share_of_rows_read_does_not_fall() -> None:
    shares = readable_shares()

    assert together("", (one for one in shares if one.name in CROPS)).share >= LEAST["crops"]
    assert together("", shares).share >= LEAST["all"]


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
    assert set(as_json) == {one.name for one in readable_shares()} | {"crops", "all"}


@pytest.mark.parametrize("extra", [["pipe"], ["--own", "mine.csv"]])
def test_the_command_refuses_a_table_beside_sources(extra: list[str]) -> None:
    told = CliRunner().invoke(app, ["catalogue", "--sources", *extra])
    assert told.exit_code != 0
