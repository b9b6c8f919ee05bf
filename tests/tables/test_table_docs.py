"""The catalogue pages keep up with the tables."""

import csv
from pathlib import Path

import pytest

from hoopwright.tables.catalogue import TABLES, Catalogue
from hoopwright.tables.reader import shipped
from hoopwright.tables.sources import table_names

DOCS = Path(__file__).parents[2] / "docs"
LISTED = list(csv.DictReader((DOCS / "sources.csv").read_text("utf-8").splitlines()))


def test_every_table_is_on_the_method_page() -> None:
    page = (DOCS / "method" / "catalogue.md").read_text(encoding="utf-8")

    assert [table for table in TABLES if f"`{table}`" not in page] == []


@pytest.mark.parametrize("table", table_names())
def test_every_row_names_a_source_of_the_list(table: str) -> None:
    missing = {
        row.cells["source"]
        for row in shipped(table)
        if not any(one["phrase"] in row.cells["source"] for one in LISTED)
    }
    assert missing == set()


def test_every_source_of_the_list_is_named_by_a_row() -> None:
    everything = "".join(row.cells["source"] for name in table_names() for row in shipped(name))

    assert [one["phrase"] for one in LISTED if one["phrase"] not in everything] == []


def test_every_source_says_what_it_is_and_where_a_reader_finds_it() -> None:
    assert all(one["title"] and one["found at"] for one in LISTED)
    phrases = [one["phrase"] for one in LISTED]
    assert len(phrases) == len(set(phrases))


def test_the_pvc_limits_on_the_page_are_the_tables() -> None:
    page = (DOCS / "method" / "catalogue.md").read_text(encoding="utf-8")
    stuff = Catalogue().pipe_materials["pvc"]

    for name, figure in (
        ("watch", stuff.strain_watch),
        ("limit, 23 °C", stuff.strain_limit),
        ("limit, 4 °C", stuff.strain_limit_cold),
        ("keeps a set from", stuff.strain_set),
    ):
        row = f"| {name} | {figure.likely:.1%} | {figure.low:.1%} to {figure.high:.1%} |"
        assert row.replace("%", " %").replace(" % to", " to") in page
