"""A user's own rows and prices, read from a file of theirs and laid over ours.

Two forms. A TOML file holds any number of rows of any tables:

    [[pipe]]
    key = "my-tube"
    like = "pvc40-3/4"                    # every column not given is taken from this row
    "outside diameter [mm]" = 25

    [[price]]
    thing = "pvc40-3/4"
    sold_as = "stick"
    "length [ft]" = 10
    "price [USD]" = 4.10

A CSV file holds rows of one table, named by the file (`price.csv`, `pipe.csv`) or by a column
`table`. A row with a key of ours replaces our row in this plan only; our files are never touched.

Either form is read from a file on disk or, as `OwnFile`, from a text that is held elsewhere.
"""

import datetime
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from hoopwright.frozen import dataclass
from hoopwright.tables import foreign
from hoopwright.tables.reader import RawRow, TableError, nearest, parse_heading, rows_of_text
from hoopwright.tables.toml_text import toml_of
from hoopwright.tables.words import unprintable

LONG_TABLES = ("pipe_material", "cover_optics", "cover_strength")
KEYLESS_TABLES = (*LONG_TABLES, "roll", "price")

FOLLOW_FROM: Mapping[str, tuple[frozenset[str], frozenset[str]]] = {
    "pipe": (
        frozenset({"outside diameter", "wall", "material"}),
        frozenset({"mass per length", "inside diameter"}),
    )
}
"""Table -> columns that others follow from, and those: a row that gives one of the first takes
none of the second from the row it is like, since they would be stale."""

LARGEST = 1_000_000
"""Bytes that a user's file may have."""

MOST_ROWS = 2000
MOST_LETTERS, MOST_LETTERS_OF_NAME = 2000, 80
NAMES = ("key", "name", "thing", "like")


@dataclass(frozen=True)
class OwnFile:
    """A file of the user's that is held as text and not in a folder: its name, what it says."""

    name: str
    text: str

    @property
    def stem(self) -> str:
        """Return the name without its ending."""
        return self.name.rpartition(".")[0]

    @property
    def suffix(self) -> str:
        """Return the ending, with its point."""
        return "." + self.name.rpartition(".")[2]

    def __str__(self) -> str:
        """Return the name, as messages give it."""
        return self.name


Source = Path | OwnFile
"""Where a user's rows are read from."""


@dataclass(frozen=True)
class OverlayRow:
    """One row of the user's: the table it belongs to, and the row as written."""

    table: str
    row: RawRow


def overlay_rows(path: Source, tables: Sequence[str], table: str | None = None) -> list[OverlayRow]:
    """Return the rows of a user's TOML or CSV file, each with its table.

    tables : names of the tables there are
    table  : the table of a CSV file that neither its name nor a column tells
    """
    if path.suffix == ".toml":
        found = _of_toml(path, tables)
    elif path.suffix == ".csv":
        found = _of_csv(path, tables, table or path.stem)
    else:
        raise TableError(f"{path}: an overlay is a .toml or a .csv file")
    if len(found) > MOST_ROWS:
        raise TableError(f"{path}: {len(found)} rows are more than {MOST_ROWS}; keep those in use")
    return [OverlayRow(item.table, _signed(item.table, item.row, path)) for item in found]


def text_of_own(path: Source) -> str:
    """Return what a file says, which is no more than a list can be."""
    if isinstance(path, OwnFile):
        if len(path.text) > LARGEST:
            raise TableError(f"{path}: is larger than {LARGEST / 1e6:g} MB; keep the rows in use")
        return path.text
    try:
        return foreign.text_held(path, LARGEST)
    except OSError as error:
        raise TableError(f"{path}: cannot be read: {error.strerror}") from error


def _of_csv(path: Source, tables: Sequence[str], usual: str) -> list[OverlayRow]:
    found = []
    for raw in rows_of_text(text_of_own(path), str(path)):
        _refuse_words(raw)
        table = raw.cells.get("table", usual)
        if table not in tables:
            raise TableError(
                f"{raw.place}: no table '{table[:60]}'{nearest(table, tables)}; name the file "
                "after its table, as price.csv, or give a column 'table'"
            )
        # An empty cell in a user's CSV means 'as in the row this one is like'.
        cells = {name: cell for name, cell in raw.cells.items() if name != "table" and cell}
        found.append(OverlayRow(table, RawRow(cells, raw.place)))
    return found


def _of_toml(path: Source, tables: Sequence[str]) -> list[OverlayRow]:
    content = text_of_own(path)
    try:
        data = toml_of(content)
    except ValueError as error:
        raise TableError(f"{path}: cannot be read as TOML ({error})") from error
    found = []
    for table, entries in data.items():
        if table not in tables:
            raise TableError(f"{path}: no table '{table[:60]}'{nearest(table, tables)}")
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            raise TableError(f"{path}: write each row of '{table}' under [[{table}]]")
        head = re.compile(rf"\s*\[\[\s*{re.escape(table)}\s*\]\]")
        lines = [n for n, line in enumerate(content.splitlines(), 1) if head.match(line)]
        for count, entry in enumerate(entries):
            where = f"line {lines[count]}" if count < len(lines) else f"row {count + 1}"
            place = f"{path}: {where}, [[{table}]]"
            row = RawRow(_cells(entry, place), place)
            _refuse_words(row)
            found.append(OverlayRow(table, row))
    return found


def _refuse_words(row: RawRow) -> None:
    """Refuse what no terminal, drawing, page or spreadsheet can hold, in heads and in cells."""
    for heading, cell in row.cells.items():
        for text in (heading, cell):
            bad = unprintable(text)
            if bad:
                raise TableError(
                    f"{row.place}: holds a character that cannot be printed "
                    f"(U+{ord(bad):04X}); take it out"
                )
        most = MOST_LETTERS_OF_NAME if heading in NAMES else MOST_LETTERS
        if len(heading) > MOST_LETTERS_OF_NAME or len(cell) > most:
            raise TableError(
                f"{row.place}, column '{heading[:40]}': is longer than {most} letters; shorten it"
            )


def _cells(entry: Mapping[str, Any], place: str) -> dict[str, str]:
    cells = {}
    for name, value in entry.items():
        heading = name if "[" in name else name.replace("_", " ")
        cells[heading] = _printed(value, f"{place}, key '{name}'")
    return cells


def _printed(value: Any, at: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (str, int, float)):
        return str(value)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, list):
        return ";".join(_printed(part, at) for part in value)
    raise TableError(f"{at}: give text, a number or a list of numbers")


def _signed(table: str, row: RawRow, path: Source) -> RawRow:
    defaults = {"source": f"the user's own row, {path.name}", "sure": "user"}
    if table == "price":
        defaults |= {"example": "no", "date": "no stated date"}
    return RawRow({**defaults, **row.cells}, row.place)


def laid_over(table: str, ours: Iterable[RawRow], overlays: Iterable[OverlayRow]) -> list[RawRow]:
    """Return our rows with the user's rows of that table laid over them."""
    theirs = [item.row for item in overlays if item.table == table]
    if table in KEYLESS_TABLES:
        return [*ours, *theirs]
    by_key = {row.cells.get("key", ""): row for row in ours}
    for row in theirs:
        key = row.cells.get("key", "")
        if not key:
            raise TableError(f"{row.place}: the row has no 'key'")
        like = row.cells.get("like", key)
        if like not in by_key and like != key:
            raise TableError(
                f"{row.place}, key 'like': no '{like}' in table '{table}'{nearest(like, by_key)}"
            )
        by_key[key] = _filled(row, by_key.get(like), *FOLLOW_FROM.get(table, ((), ())))
    return list(by_key.values())


def _filled(
    row: RawRow, base: RawRow | None, leads: Collection[str], follow: Collection[str]
) -> RawRow:
    own = {heading: cell for heading, cell in row.cells.items() if heading != "like"}
    if base is None:
        return RawRow(own, row.place)
    given = {parse_heading(heading, row.place)[0] for heading in own}
    if any(name in given for name in leads):
        given |= set(follow)
    kept = {
        heading: cell
        for heading, cell in base.cells.items()
        if parse_heading(heading, base.place)[0] not in given
    }
    return RawRow({**kept, **own}, row.place)
