"""Read one table of published numbers: header with units, a source on every row, SI out.

A table is a CSV file. A header cell is `name [unit]` for a number and plain `name` for text.
Numbers stay as their source prints them; they are converted to SI here, once. A record class
says which columns it wants by the field helpers `number`, `numbers`, `text`, `texts`, `count`,
`counts` and `figure`, each number with the range that is plausible for it, so that a slipped
decimal point is refused and not computed with.
"""

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import Field, fields
from functools import cache
from importlib import resources
from typing import Annotated, Any, TypeVar

from hoopwright import units
from hoopwright.frozen import dataclass
from hoopwright.tables.spread import Spread

Record = TypeVar("Record")
Complete = Callable[[dict[str, Any], str], dict[str, Any]]

SURENESS = ("read", "secondary", "memory", "assumption", "practice", "invented", "user")
"""How sure a row is: its numbers were read in the source named, or in a copy or quotation of it;
they are from memory of a source nobody opened, an assumption, common practice without a source,
an invented example, or the user's own. A row is as sure as the weakest of its numbers; only a
range about a number that was read may be ours, and the row says so."""

OPENED = ("read", "secondary")
"""What `sure` says of a row whose numbers stood in a text that was opened for this project."""

MOST_IN_A_CELL = 60
"""Numbers that one cell may hold."""

ACCEPTED_UNITS: Mapping[str, tuple[str, ...]] = {
    "m": ("in", "ft", "mil", "mm", "cm", "m", "um"),
    "Pa": ("psi", "ksi", "kPa", "MPa", "GPa", "Pa"),
    "kg/m3": ("pcf", "g/cm3", "kg/m3"),
    "kg/m": ("lb/ft", "kg/m", "g/m"),
    "kg/m2": ("oz/yd2", "g/m2", "kg/m2"),
    "kg": ("lb", "oz", "g", "kg"),
    "N": ("lbf", "N", "kN"),
    "N m": ("lbf in", "N m"),
    "N m2": ("N m2",),
    "N/m": ("lbf/in", "lbf/ft", "N/m", "kN/m"),
    "degC": ("F", "degF", "degC"),
    "1/K": ("1/degF", "1/K"),
    "s": ("yr", "d", "h", "s"),
    "-": ("-", "%"),
}
"""SI unit of a column -> the units its header may carry."""


class TableError(ValueError):
    """A table file that cannot be read; the message names the file, the line and the column."""


@dataclass(frozen=True)
class TableColumn:
    """What one field of a record wants of its column.

    kind : number, numbers, text, texts or figure
    si : SI unit; low, high [SI] : what is plausible
    """

    kind: str
    si: str = "-"
    low: float = 0.0
    high: float = 0.0
    optional: bool = False
    choices: tuple[str, ...] = ()
    whole: bool = False


def number(si: str, low: float, high: float, *, optional: bool = False) -> TableColumn:
    """Declare a column holding one number [si], plausible from `low` to `high` (SI)."""
    return TableColumn("number", si, low, high, optional)


def numbers(si: str, low: float, high: float) -> TableColumn:
    """Declare a column holding numbers [si] parted by semicolons; it may be empty."""
    return TableColumn("numbers", si, low, high, optional=True)


def text(*, optional: bool = False, choices: tuple[str, ...] = ()) -> TableColumn:
    """Declare a text column, if wished with the words it may hold."""
    return TableColumn("text", optional=optional, choices=choices)


def texts() -> TableColumn:
    """Declare a column of words parted by semicolons; it may be empty."""
    return TableColumn("texts", optional=True)


def count(low: int, high: int, *, optional: bool = False) -> TableColumn:
    """Declare a column holding one whole number of pieces."""
    return TableColumn("number", "-", low, high, optional, whole=True)


def counts(low: int, high: int) -> TableColumn:
    """Declare a column holding whole numbers parted by semicolons; it may be empty."""
    return TableColumn("numbers", "-", low, high, optional=True, whole=True)


def figure(si: str, low: float, high: float, *, optional: bool = False) -> TableColumn:
    """Declare a figure [si]: one row of a long table, with its range, source and sureness."""
    return TableColumn("figure", si, low, high, optional)


@dataclass(frozen=True)
class Sourced:
    """A row of a published table: where it comes from, and how sure it is."""

    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@dataclass(frozen=True)
class Keyed(Sourced):
    """A row with a key."""

    key: Annotated[str, text()]


@dataclass(frozen=True)
class Named(Keyed):
    """A row of a thing: its key, and what a person calls it."""

    name: Annotated[str, text()]


@dataclass(frozen=True)
class Figure(Spread):
    """One published number as a range [SI], with where it comes from and how sure it is."""

    source: str
    sure: str


@dataclass(frozen=True)
class RawRow:
    """One row as it stands in its file: header cell -> text, and where it stands."""

    cells: Mapping[str, str]
    place: str


def shipped(table: str, folder: str = "tables/data") -> list[RawRow]:
    """Return the rows of the table `table`.csv that ships with the package, as printed."""
    found = resources.files("hoopwright").joinpath(*folder.split("/"), f"{table}.csv")
    return _rows(found.read_text(encoding="utf-8").splitlines(), f"{table}.csv")


def rows_of_text(text: str, file: str) -> list[RawRow]:
    """Return the rows of a CSV text, as printed; `file` is what to call it in messages."""
    try:
        return _rows(io.StringIO(text, newline=""), file)
    except csv.Error as error:
        raise TableError(f"{file}: cannot be read as a table ({error})") from error


def _rows(stream: Iterable[str], file: str) -> list[RawRow]:
    reader = csv.reader(stream)
    try:
        header = [cell.strip() for cell in next(reader)]
    except StopIteration:
        raise TableError(f"{file}: the file is empty; it needs a header line") from None
    names = [parse_heading(cell, f"{file}: line 1")[0] for cell in header]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise TableError(f"{file}: line 1: column '{twice[0]}' stands twice in the header")
    found = []
    for cells in reader:
        if not any(cells) or not "".join(cells).strip():
            continue
        place = f"{file}: line {reader.line_num}"
        if len(cells) != len(header):
            raise TableError(
                f"{place}: {len(cells)} cells under {len(header)} column names; "
                "put a cell that holds a comma in double quotes"
            )
        row = dict(zip(header, map(str.strip, cells), strict=True))
        found.append(RawRow(row, place))
    return found


def parse_heading(cell: str, place: str) -> tuple[str, str | None]:
    """Split a header cell into its name and its unit (None for a text column)."""
    heading = _heading(cell)
    if heading is None:
        raise TableError(f"{place}: header '{cell}' is not of the form 'name' or 'name [unit]'")
    return heading


@cache
def _heading(cell: str) -> tuple[str, str | None] | None:
    name, bracket, rest = cell.partition("[")
    name = name.strip()
    if not name or "]" in name:
        return None
    if not bracket:
        return name, None
    unit, closing, after = rest.partition("]")
    if not closing or after.strip() or not unit.strip() or "[" in unit:
        return None
    return name, unit.strip()


def records_of(
    rows: Iterable[RawRow],
    record: type[Record],
    complete: Complete | None = None,
) -> list[Record]:
    """Return rows as frozen records in SI.

    complete : gets the values read and the place of the row; returns the fields that are
        not columns
    """
    columns = columns_of(record)
    # Rows of one file share their header, which is read once.
    headers: dict[tuple[str, ...], list[Any]] = {}
    found = []
    for row in rows:
        header = tuple(row.cells)
        if header not in headers:
            headers[header] = _places(row, columns)
        values = {
            field: _value(name, column, given and (*given, row.cells[given[0]]), row.place)
            for name, field, column, given in headers[header]
        }
        if complete is not None:
            values.update(complete(values, row.place))
        found.append(record(**values))
    return found


@cache
def rows_of(record: type[Record], table: str, folder: str = "tables/data") -> tuple[Record, ...]:
    """Return the rows of the table that ships as `table`.csv as frozen records in SI."""
    return tuple(records_of(shipped(table, folder), record))


@cache
def table_of(record: type[Record], table: str, by: str = "key") -> Mapping[str, Record]:
    """Return the rows that `rows_of` does, by the text in one of their fields."""
    return {getattr(row, by): row for row in records_of(shipped(table), record)}


@cache
def ranges_of(table: str, si: str, low: float, high: float) -> Mapping[str, Figure]:
    """Return the ranges [si] of a table by the word in its first column.

    The table's columns are that word, low, likely, high, source and sure; low, high : plausible
    """
    rows = shipped(table)
    name = next(iter(rows[0].cells))
    end = Annotated[float, number(si, low, high)]
    kinds = {name: Annotated[str, text()], "low": end, "likely": end, "high": end}
    made = {"__doc__": "A range by its word.", "__annotations__": kinds}
    record: type[Any] = dataclass(frozen=True)(type("RangeRow", (Sourced,), made))
    return {
        getattr(row, name): Figure(row.low, row.likely, row.high, row.source, row.sure)
        for row in records_of(rows, record)
    }


def by_key(
    rows: Sequence[RawRow], record: type[Record], complete: Complete | None = None
) -> dict[str, Record]:
    """Return rows as `records_of` does, by their column `key`; refused where one stands twice."""
    found: dict[str, Record] = {}
    for row, item in zip(rows, records_of(rows, record, complete), strict=True):
        key = row.cells["key"]
        if key in found:
            raise TableError(f"{row.place}: key '{key}' stands twice")
        found[key] = item
    return found


def _places(row: RawRow, columns: Mapping[str, tuple[str, TableColumn]]) -> list[Any]:
    """Return each column's name, field, kind, and the cell and unit that head it in this row."""
    given: dict[str, tuple[str, str | None]] = {}
    for cell in row.cells:
        name, unit = parse_heading(cell, row.place)
        if name not in columns:
            raise TableError(
                f"{row.place}: column '{name}' is not known here{nearest(name, columns)}"
            )
        if name in given:
            raise TableError(f"{row.place}: column '{name}' is given twice")
        given[name] = (cell, unit)
    return [(name, field, column, given.get(name)) for name, (field, column) in columns.items()]


def columns_of(record: type[Any], figures: bool = False) -> dict[str, tuple[str, TableColumn]]:
    """Return the columns a record class reads: name in the header -> field name and column.

    figures : in their place those it reads from a long table
    """
    return {
        name.replace("_", " "): (name, column)
        for name, column in _declared(record).items()
        if (column.kind == "figure") == figures
    }


def _declared(record: type[Any]) -> dict[str, TableColumn]:
    found = {spec.name: _column(spec) for spec in fields_in_order(record)}
    return {name: column for name, column in found.items() if column is not None}


def fields_in_order(record: type[Any]) -> list[Field[Any]]:
    """Return the fields of a record as a row shows them: what it says, its source, its parts."""

    def rank(spec: Field[Any]) -> int:
        if spec.name in ("source", "sure"):
            return 1
        return 2 if issubclass(record, Sourced) and _column(spec) is None else 0

    return sorted(fields(record), key=rank)


def _column(spec: Field[Any]) -> TableColumn | None:
    # The record modules leave annotations unpostponed, so the type is here as an object.
    notes = getattr(spec.type, "__metadata__", ())
    return next((note for note in notes if isinstance(note, TableColumn)), None)


def _value(
    name: str, column: TableColumn, given: tuple[str, str | None, str] | None, place: str
) -> Any:
    kind = column.kind
    if given is None or given[2] == "":
        if column.optional:
            return {"numbers": (), "texts": (), "text": ""}.get(kind)
        what = "is missing" if given is None else "is empty"
        raise TableError(f"{place}: column '{name}' {what}")
    cell, unit, printed = given
    if kind in ("text", "texts"):
        return _worded(column, kind, given, place)
    return _numeric(column, kind, unit, printed, f"{place}, column '{cell}'")


def _numeric(column: TableColumn, kind: str, unit: str | None, printed: str, at: str) -> Any:
    if unit is None:
        raise TableError(f"{at}: a column of numbers carries its unit, as 'wall [in]'")
    if kind == "number":
        return si_value(printed, unit, column, at)
    parts = printed.split(";")
    if len(parts) > MOST_IN_A_CELL:
        raise TableError(f"{at}: {len(parts)} numbers are more than {MOST_IN_A_CELL}")
    return tuple(si_value(part.strip(), unit, column, at) for part in parts)


def _worded(column: TableColumn, kind: str, given: tuple[str, str | None, str], place: str) -> Any:
    cell, unit, printed = given
    if unit is not None:
        raise TableError(
            f"{place}, column '{cell}': this column holds words, so its header carries no unit"
        )
    if kind == "texts":
        return tuple(part.strip() for part in printed.split(";"))
    choices = column.choices
    if choices and printed not in choices:
        raise TableError(f"{place}, column '{cell}': '{printed}' is none of {', '.join(choices)}")
    return printed


def si_value(printed: str, unit: str, column: TableColumn, at: str) -> float:
    """Return one printed number in SI, refused when it is no number or not plausible."""
    accepted = ACCEPTED_UNITS[column.si]
    if unit not in accepted:
        raise TableError(f"{at}: unit [{unit}] is none of {', '.join(accepted)}")
    try:
        bare = float(printed)
    except ValueError:
        raise TableError(f"{at}: '{printed}' is not a decimal number") from None
    value = units.to_si(bare, unit)
    low, high = column.low, column.high
    if not low <= value <= high:
        raise TableError(
            f"{at}: {printed} {unit} is outside the plausible range "
            f"{low:g} to {high:g} {column.si}; is the unit or the decimal point right?"
        )
    if column.whole and value != int(value):
        raise TableError(f"{at}: '{printed}' is not a whole number")
    return int(value) if column.whole else value


def nearest(word: str, known: Iterable[str]) -> str:
    """Return ' (nearest: ...)' for a word that is not among the known ones, or ''."""
    import difflib  # a wrong word only, so not paid for by every start

    close = difflib.get_close_matches(word[:80], list(known), n=3, cutoff=0.4)
    return f" (nearest: {', '.join(close)})" if close else ""
