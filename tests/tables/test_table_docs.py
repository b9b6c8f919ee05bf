"""The catalogue pages keep up with the tables."""

import csv
import re
from importlib import resources
from pathlib import Path

import pytest

from hoopwright.tables.catalogue import TABLES, Catalogue

DOCS = Path(__file__).parents[2] / "docs"
DATA = resources.files("hoopwright.tables").joinpath("data")


def test_every_table_is_on_the_method_page() -> None:
    page = (DOCS / "method" / "catalogue.md").read_text(encoding="utf-8")

    assert [table for table in TABLES if f"`{table}`" not in page] == []


@pytest.mark.parametrize("table", TABLES)
def test_every_source_is_on_the_sources_page(table: str) -> None:
    page = (DOCS / "sources.md").read_text(encoding="utf-8")
    phrases = re.findall(r"^\| `([^`]+)` \|", page, flags=re.MULTILINE)
    rows = csv.DictReader(DATA.joinpath(f"{table}.csv").read_text("utf-8").splitlines())

    missing = {
        row["source"] for row in rows if not any(phrase in row["source"] for phrase in phrases)
    }
    assert missing == set()


def test_every_phrase_on_the_sources_page_is_used() -> None:
    page = (DOCS / "sources.md").read_text(encoding="utf-8")
    everything = "".join(DATA.joinpath(f"{table}.csv").read_text("utf-8") for table in TABLES)
    phrases = re.findall(r"^\| `([^`]+)` \|", page, flags=re.MULTILINE)

    assert [phrase for phrase in phrases if phrase not in everything] == []


def test_the_pvc_limits_on_the_page_are_the_tables() -> None:
    page = (DOCS / "method" / "catalogue.md").read_text(encoding="utf-8")
    stuff = Catalogue().pipe_materials["pvc"]

    for name, figure in (
        ("watch", stuff.strain_watch),
        ("limit, 23 °C", stuff.strain_limit),
        ("limit, 4 °C", stuff.strain_limit_cold),
        ("keeps a set from", stuff.strain_set),
    ):
        row = f"| {name} | {figure.value:.1%} | {figure.low:.1%} to {figure.high:.1%} |"
        assert row.replace("%", " %").replace(" % to", " to") in page
