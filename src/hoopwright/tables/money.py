"""Price rows: one currency in a list that is added up, a date that is one, each price once."""

import datetime
from collections.abc import Sequence
from dataclasses import replace

from hoopwright.tables.people import Price
from hoopwright.tables.reader import RawRow, TableError, parse_heading, records_of

OUR_CURRENCY = "USD"
"""Currency of the list that ships, and the one that rates are stated in."""

NO_DATE = "no stated date"
MOST_FORMS = 60
"""Forms in which one thing may be listed: the search for the cheapest weighs them together."""

_REST_OF_DATE = {4: "-01-01", 7: "-01", 10: ""}


def prices_of_rows(rows: Sequence[RawRow]) -> tuple[Price, ...]:
    """Return the prices of rows in one currency, a later row in place of one of the same form.

    A row may give what one unit of its currency is in dollars, in a column "rate [USD]"; the
    prices are then all given in that currency, ours too. Raises TableError where two currencies
    meet and no rate is stated: they cannot be added up.
    """
    read = records_of([price_row(row) for row in rows], Price)
    places = [row.place for row in rows]
    last = {price.form: (price, place) for price, place in zip(read, places, strict=True)}
    kept = list(last.values())
    currencies = list(dict.fromkeys(price.currency for price, _ in kept))
    if len(currencies) < 2:
        return tuple(price for price, _ in kept)
    rates = {
        currency: 1.0 if currency == OUR_CURRENCY else _rate(currency, kept)
        for currency in currencies
    }
    theirs = [currency for currency in currencies if currency != OUR_CURRENCY][-1]
    return tuple(_changed(price, theirs, rates) for price, _ in kept)


def _rate(currency: str, prices: Sequence[tuple[Price, str]]) -> float:
    """Return the one rate that the rows of a currency state [USD]."""
    stated: float | None = None
    for price, place in prices:
        if price.currency != currency or price.rate is None:
            continue
        if stated is not None and price.rate != stated:
            raise TableError(f"{place}: the list states two rates for {currency}; give one")
        stated = price.rate
    if stated is None:
        place = next(place for price, place in prices if price.currency == currency)
        raise TableError(
            f"{place}: prices in {currency} cannot be added to those in other currencies, as "
            f"ours in {OUR_CURRENCY}; give what one {currency} is worth in a column "
            f"'rate [{OUR_CURRENCY}]', as 1.08"
        )
    return stated


def _changed(price: Price, currency: str, rates: dict[str, float]) -> Price:
    if price.currency == currency:
        return price
    rate = rates[price.currency] / rates[currency]
    return replace(
        price,
        price=max(0.01, round(price.price * rate, 2)),
        currency=currency,
        source=f"{price.source}; {price.price:.2f} {price.currency} at the list's rate",
    )


def refuse_twice(rows: Sequence[RawRow]) -> None:
    """Raise TableError where one list prices a form twice, or a thing in too many forms."""
    seen: dict[object, str] = {}
    forms: dict[str, int] = {}
    read = records_of([price_row(row) for row in rows], Price)
    for row, price in zip(rows, read, strict=True):
        if price.form in seen:
            raise TableError(
                f"{row.place}: '{price.thing}' has a price in this form already "
                f"({seen[price.form]}); keep one"
            )
        seen[price.form] = row.place
        forms[price.thing] = forms.get(price.thing, 0) + 1
        if forms[price.thing] > MOST_FORMS:
            raise TableError(
                f"{row.place}: '{price.thing}' is listed in more than {MOST_FORMS} forms; keep "
                "those that the shop has"
            )


def price_row(row: RawRow) -> RawRow:
    """Return a price row with `price [USD]` told apart into a bare price and its currency.

    Its date is a year, a month or a day, as 2027, 2027-04 or 2027-04-17.
    """
    cells = dict(row.cells)
    for heading in row.cells:
        if heading.startswith("price"):
            cells |= {"price [-]": cells.pop(heading), "currency": _currency(heading, row.place)}
        elif heading.startswith("rate"):
            if _currency(heading, row.place) != OUR_CURRENCY:
                raise TableError(f"{row.place}: head the rate 'rate [{OUR_CURRENCY}]'")
            cells |= {"rate [-]": cells.pop(heading)}
    _check_date(cells.get("date", ""), row.place)
    return RawRow(cells, row.place)


def _currency(heading: str, place: str) -> str:
    _, unit = parse_heading(heading, place)
    if unit is None or not (len(unit) == 3 and unit.isascii() and unit.isupper()):
        raise TableError(
            f"{place}, column '{heading}': head it 'price [USD]' or another three-letter currency"
        )
    return unit


def _check_date(date: str, place: str) -> None:
    if date in ("", NO_DATE):
        return
    try:
        datetime.date.fromisoformat(date + _REST_OF_DATE.get(len(date), "?"))
    except ValueError:
        raise TableError(
            f"{place}, column 'date': '{date[:40]}' is no date; write it like 2027, 2027-04 or "
            "2027-04-17"
        ) from None
