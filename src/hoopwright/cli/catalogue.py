"""`hoopwright catalogue`: what the tables hold, and where each number comes from."""

from __future__ import annotations

import dataclasses
import difflib
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Misused

if TYPE_CHECKING:
    from hoopwright.tables.catalogue import Catalogue

SHOWN = (
    "pipe", "lumber", "species", "batten", "cover", "strap", "screw", "clip", "stake", "rail",
    "rail_clip", "reach", "tool", "price", "crop",
)  # fmt: skip


def catalogue(
    table: Annotated[str | None, typer.Argument(help=f"Table to list: {', '.join(SHOWN)}.")] = None,
    key: Annotated[str | None, typer.Argument(help="Key of one row, to see all of it.")] = None,
    own: Annotated[
        Path | None, typer.Option(help="File of your own rows to lay over ours.")
    ] = None,
    units: Annotated[Literal["us", "metric"], typer.Option(help="us or metric.")] = "us",
    sources: Annotated[
        bool, typer.Option("--sources", help="Show how much of each table was read in a source.")
    ] = False,
    json: AsJson = False,
) -> None:
    """List the catalogue: its tables, the rows of one, or one row with its source."""
    if sources:
        if table is not None or own is not None:
            raise Misused("--sources tells of all shipped tables: give no table and no --own")
        _tell_sources(json)
        return
    from hoopwright.cli.catalogue_row import row_lines
    from hoopwright.tables.catalogue import Catalogue
    from hoopwright.units import METRIC, US

    held = Catalogue().with_overlay(own) if own and table != "crop" else Catalogue()
    if table is None:
        rows = [(name, str(len(_records(held, name, None)))) for name in SHOWN]
        print(text.as_json(dict(rows)) if json else text.table(("Table", "Rows"), rows, right=(1,)))
        return
    if table not in SHOWN:
        raise Misused(f"no table '{table}'{_nearest(table, SHOWN)}; one of {', '.join(SHOWN)}")
    records = _records(held, table, own)
    if key is None:
        _list(table, records, json)
        return
    found = [record for record in records if _key(record) == key]
    if not found:
        known = [_key(record) for record in records]
        every = f"hoopwright catalogue {table} lists all"
        raise Misused(f"no '{key}' in table {table}{_nearest(key, known)}; {every}")
    for record in found:
        if json:
            print(text.as_json(dataclasses.asdict(record)))
            continue
        for label, says in row_lines(record, US if units == "us" else METRIC):
            print(text.labelled(label, says, 26) if says else f"\n  {label}")


def _tell_sources(json: bool) -> None:
    """Print the share of rows read, table by table, and what no source can hold."""
    from hoopwright.tables.reader import SURENESS
    from hoopwright.tables.sources import NOT_TO_BE_READ, readable_shares, sums

    shares = readable_shares()
    shares += sums(shares)
    if json:
        told = {one.name: {"rows": one.rows, **one.counts} for one in shares}
        print(text.as_json(told))
        return
    words = SURENESS[:5]
    rows = [
        (one.name, *(str(one.counts[word] or "") for word in words), f"{one.share:.0%}")
        for one in shares
    ]
    head = ("Table", *(word.capitalize() for word in words), "Opened")
    print(text.table(head, rows, right=tuple(range(1, len(head)))))
    left = "; ".join(f"{name} ({why})" for name, why in NOT_TO_BE_READ.items())
    for says in (
        "Rows. Opened is read and secondary (a copy or quotation read) together.",
        f"Left out, for no source can hold them: {left}.",
    ):
        print("\n" + text.indented(says))


def _records(held: Catalogue, table: str, own: Path | None) -> tuple[Any, ...]:
    """Return the rows of a table; a crop's lie in several and are put together."""
    if table != "crop":
        return held.everything_in(table)
    from hoopwright.season.crops import crops

    return tuple(crops(*([own] if own else [])).values())


def _list(table: str, records: tuple[Any, ...], json: bool) -> None:
    if json:
        print(text.as_json([dataclasses.asdict(record) for record in records]))
    elif table == "price":
        rows = [
            (price.thing, price.sold_as, _size(price), f"{price.price:.2f} {price.currency}")
            for price in records
        ]
        print(text.table(("Thing", "Sold as", "Size", "Price"), rows, right=(3,)))
        print("\n  Example prices are invented; lay your own over them with `prices` in the plan.")
    else:
        named = [(_key(record), getattr(record, "name", "")) for record in records]
        print(text.table(("Key", "Name"), named))


def _size(price: Any) -> str:
    from hoopwright.units import show

    parts = [show(part, "size") for part in (price.width, price.length) if part]
    return " x ".join(parts) or (f"{price.count:.0f}" if price.count else "")


def _key(record: Any) -> str:
    return str(getattr(record, "key", getattr(record, "thing", "")))


def _nearest(word: str, known: Any) -> str:
    close = difflib.get_close_matches(word, list(known), n=1, cutoff=0.5)
    return f'; did you mean "{close[0]}"?' if close else ""
