"""What a person's own list may hold: one currency, real dates, each price once, plain names."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from hoopwright.design import design_of
from hoopwright.plan.read import PlanError, read_plan_text
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.overlay import LARGEST, MOST_ROWS, OwnFile
from hoopwright.tables.reader import TableError
from hoopwright.tables.words import csv_text, for_spreadsheet
from hoopwright.units import US, show

HEAD = "thing,sold as,length [ft],price [{}],date\n"


def laid(text: str, name: str = "price.csv") -> Catalogue:
    """Return the catalogue with a list held as text laid over it."""
    return Catalogue().with_overlay(OwnFile(name, text))


def test_prices_in_two_currencies_are_not_added_up() -> None:
    """One row in euros over the dollar list gave '217.0 EUR' or '$217.00' by the first line."""
    with pytest.raises(TableError, match=r"line 2: prices in EUR .* column 'rate \[USD\]'"):
        laid(HEAD.format("EUR") + "pvc40-1/2,stick,10,4.25,2026-10\n")


def test_prices_are_converted_by_the_rate_that_the_list_states() -> None:
    """By hand: a euro at 1.25 dollars makes our 6.75 dollars 5.40 euros; 4.25 stays."""
    text = "thing,sold as,length [ft],price [EUR],rate [USD]\npvc40-1/2,stick,10,4.25,1.25\n"
    catalogue = laid(text)
    assert {price.currency for price in catalogue.prices} == {"EUR"}
    assert catalogue.currency == "EUR"
    prices = {round(p.length or 0, 3): p for p in catalogue.prices_of("pvc40-1/2")}
    assert prices[3.048].price == 4.25
    assert prices[6.096].price == 5.40
    assert "6.75 USD" in prices[6.096].source


def test_an_order_says_the_currency_of_its_list(tmp_path: Path) -> None:
    text = "thing,sold as,length [ft],price [CHF],rate [USD]\npvc40-1/2,stick,10,4.25,1.25\n"
    (tmp_path / "price.csv").write_text(text, encoding="utf-8")
    plan = 'units = "us"\nprices = "price.csv"\n[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'
    order = design_of(read_plan_text(plan, folder=tmp_path)).order
    assert order.currency == "CHF"
    plain = design_of(read_plan_text(plan.replace('prices = "price.csv"\n', ""))).order
    pipe = next(line for line in order.lines if line.thing == "pvc40-1/2")
    assert (pipe.buy, pipe.price) == (6, 4.25)
    # By hand: all at 1.25 dollars, but six pipes at 4.25 and not at 3.50 / 1.25 = 2.80.
    assert order.total == pytest.approx(plain.total / 1.25 + 6 * 1.45, rel=0.003)
    assert show(3.5, "money", US.priced_in("CHF")) == "CHF 3.50"


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ("pvc40-1/2,stick,10,4.25,1.2\npvc40-1/2,stick,20,8,1.3\n", "two rates for EUR"),
        ("pvc40-1/2,stick,10,4.25,0\n", "plausible range"),
    ],
)
def test_a_rate_is_one_and_plausible(rows: str, says: str) -> None:
    with pytest.raises(TableError, match=says):
        laid("thing,sold as,length [ft],price [EUR],rate [USD]\n" + rows)


@pytest.mark.parametrize("date", ["yesterday", "2026-13", "20261001", "2026-1", "02026"])
def test_a_price_date_is_a_date(date: str) -> None:
    with pytest.raises(TableError, match="is no date; write it like"):
        laid(HEAD.format("USD") + f"pvc40-1/2,stick,10,4.25,{date}\n")


@pytest.mark.parametrize("date", ["2026", "2026-10", "2026-10-31", ""])
def test_a_year_a_month_or_a_day_is_a_date(date: str) -> None:
    laid(HEAD.format("USD") + f"pvc40-1/2,stick,10,4.25,{date}\n")


def test_a_form_is_priced_once() -> None:
    """10 ft and 120 in are one length; which of two prices rules would be a guess."""
    rows = "pvc40-1/2,stick,10,4.25,2026\npvc40-1/2,stick,10.0001,4.5,2026\n"
    with pytest.raises(TableError, match=r"line 3: 'pvc40-1/2' has a price .*line 2"):
        laid(HEAD.format("USD") + rows)


def test_a_wall_thicker_than_the_radius_is_refused() -> None:
    with pytest.raises(TableError, match="thicker than half the outside diameter"):
        laid('[[pipe]]\nkey = "a"\nlike = "pvc40-1/2"\n"wall [in]" = 0.5\n', "rows.toml")


def test_a_bore_that_does_not_go_with_its_wall_is_refused() -> None:
    with pytest.raises(TableError, match="does not go with a wall"):
        laid('[[pipe]]\nkey = "a"\nlike = "pvc40-3/4"\n"inside diameter [mm]" = 10\n', "rows.toml")


def test_a_row_that_changes_the_wall_leaves_no_mass_stale() -> None:
    """A wall made half weighs half, near enough; what the row gives itself stays."""
    thin = '[[pipe]]\nkey = "thin"\nlike = "pvc40-1"\n"wall [in]" = 0.0665\n'
    ours, own = Catalogue().pipe("pvc40-1"), laid(thin, "rows.toml").pipe("thin")
    assert 0.45 * ours.mass_per_length < own.mass_per_length < 0.55 * ours.mass_per_length
    assert own.inside_diameter == pytest.approx((1.315 - 2 * 0.0665) * 0.0254)
    given = laid(thin + '"mass per length [kg/m]" = 0.3\n', "rows.toml").pipe("thin")
    assert given.mass_per_length == 0.3
    renamed = laid('[[pipe]]\nkey = "x"\nlike = "pvc40-1"\nname = "x"\n', "rows.toml").pipe("x")
    assert renamed.mass_per_length == ours.mass_per_length


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("a\\u001b[31m", r"cannot be printed \(U\+001B\)"),
        ("a\\u202e", r"cannot be printed \(U\+202E\)"),
        ("a\\nb", r"cannot be printed \(U\+000A\)"),
        ("a" * 50_000, "longer than 80 letters"),
    ],
)
def test_a_row_s_name_is_held_to_the_plan_s_rule_for_names(name: str, says: str) -> None:
    with pytest.raises(TableError, match=says):
        laid(f'[[tool]]\nkey = "saw-own"\nlike = "saw"\nname = "{name}"\n', "rows.toml")
    with pytest.raises(TableError):
        laid("key,name,like\nsaw-own,a\x1b[31m,saw\n", "tool.csv")


def test_a_cell_that_a_spreadsheet_would_run_is_quoted() -> None:
    """A formula as name or household stays words; numbers stay numbers."""
    assert for_spreadsheet("=HYPERLINK(1)") == "'=HYPERLINK(1)"
    assert for_spreadsheet(" @SUM(A1)") == "' @SUM(A1)"
    assert for_spreadsheet("-3/4 in") == "'-3/4 in"
    assert (for_spreadsheet("-3.5"), for_spreadsheet(-3.5)) == ("-3.5", -3.5)
    assert csv_text([["=1+1", "a,b", 3]]) == '\'=1+1,"a,b",3\n'


def test_a_list_is_bounded(tmp_path: Path) -> None:
    """Just over each bound: rows, forms of a thing, bytes, and what is no file at all."""
    row = "pvc40-1/2,stick,{},4.25,2026\n"
    many = HEAD.format("USD") + "".join(row.format(1 + n / 1000) for n in range(MOST_ROWS + 1))
    with pytest.raises(TableError, match=f"more than {MOST_ROWS}"):
        laid(many)
    forms = HEAD.format("USD") + "".join(row.format(2 + n) for n in range(61))
    with pytest.raises(TableError, match="more than 60 forms"):
        laid(forms)
    large = tmp_path / "price.csv"
    large.write_text(HEAD.format("USD") + " " * LARGEST, encoding="utf-8")
    with pytest.raises(TableError, match="is larger than"):
        Catalogue().with_overlay(large)
    if hasattr(os, "mkfifo"):
        pipe = tmp_path / "rows.toml"
        os.mkfifo(pipe)
        with pytest.raises(TableError, match="is no file"):
            Catalogue().with_overlay(pipe)


def test_the_stock_at_hand_is_bounded() -> None:
    """17,000 rows took the search with them; 200 lengths of one pipe are cut in the usual time."""
    plan = 'units = "us"\n[bed]\nlength = "8 ft"\nwidth = "4 ft"\n'
    row = '[[stock]]\nitem = "pvc40-1/2"\nlength = "{} in"\n'
    with pytest.raises(PlanError, match="has 201 rows; at most 200"):
        read_plan_text(plan + "".join(row.format(24 + n) for n in range(201)))
    read = read_plan_text(plan + "".join(row.format(24 + n) for n in range(200)))
    order = design_of(read).order
    assert next(line for line in order.lines if line.thing == "pvc40-1/2").buy == 0
