"""Read one table of published numbers: header with units, a source on every row, SI out.

A table is a CSV file. A header cell is `name [unit]` for a number and plain `name` for text.
Numbers stay as their source prints them; they are converted to SI here, once. A record class
says which columns it wants by the field helpers `number`, `numbers`, `text`, `texts`, `yes_no`
and `figure`, each number with the range that is plausible for it, so that a slipped decimal
point is refused and not computed with.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import Field, dataclass, field, fields
from importlib import resources
from pathlib import Path
from typing import Any, TypeVar

from hoopwright import units

Record = TypeVar("Record")

SURENESS = ("standard", "handbook", "maker", "memory", "assumption", "practice", "user")
"""How sure a row is: read in the standard or handbook or a maker's sheet (also in a secondary
copy, which the source then says), from memory of a named source, an assumption, common practice
without a source, or the user's own row."""

ACCEPTED_UNITS: Mapping[str, tuple[str, ...]] = {
    "m": ("in", "ft", "mil", "mm", "cm", "m", "um"),
    "Pa": ("psi", "ksi", "kPa", "MPa", "GPa", "Pa"),
    "kg/m3": ("pcf", "g/cm3", "kg/m3"),
    "kg/m": ("lb/ft", "kg/m", "g/m"),
    "kg/m2": ("oz/yd2", "g/m2", "kg/m2"),
    "kg": ("lb", "oz", "g", "kg"),
    "N": ("lbf", "N", "kN"),
    "N/m": ("lbf/in", "lbf/ft", "N/m", "kN/m"),
    "degC": ("F", "degF", "degC"),
    "1/K": ("1/degF", "1/K"),
    "s": ("yr", "d", "h", "s"),
    "-": ("-", "%"),
}
"""SI unit of a column -> the units its header may carry."""


class TableError(ValueError):
    """A table file that cannot be read; the message names the file, the line and the column."""


def number(si: str, low: float, high: float, *, optional: bool = False) -> Any:
    """Declare a column holding one number [si], plausible from `low` to `high` (SI)."""
    return field(
        metadata={"kind": "number", "si": si, "low": low, "high": high, "optional": optional}
    )


def numbers(si: str, low: float, high: float) -> Any:
    """Declare a column holding numbers [si] parted by semicolons; it may be empty."""
    return field(metadata={"kind": "numbers", "si": si, "low": low, "high": high, "optional": True})


def text(*, optional: bool = False, choices: tuple[str, ...] = ()) -> Any:
    """Declare a text column, if wished with the words it may hold."""
    return field(metadata={"kind": "text", "optional": optional, "choices": choices})


def texts() -> Any:
    """Declare a column of words parted by semicolons; it may be empty."""
    return field(metadata={"kind": "texts", "optional": True})


def yes_no() -> Any:
    """Declare a column that holds `yes` or `no`."""
    return field(metadata={"kind": "yes_no", "optional": False})


def figure(si: str, low: float, high: float, *, optional: bool = False) -> Any:
    """Declare a figure [si]: one row of a long table, with its range, source and sureness."""
    return field(
        metadata={"kind": "figure", "si": si, "low": low, "high": high, "optional": optional}
    )


@dataclass(frozen=True)
class Figure:
    """One published number with its range, where it comes from and how sure it is.

    value, low, high : SI, in the unit the owning field's docstring names
    """

    value: float
    low: float
    high: float
    source: str
    sure: str


@dataclass(frozen=True)
class RawRow:
    """One row as it stands in its file: header cell -> text, and where it stands."""

    cells: Mapping[str, str]
    place: str


@dataclass(frozen=True)
class _Heading:
    name: str
    unit: str | None


def shipped(table: str) -> list[RawRow]:
    """Return the rows of the table `table`.csv that ships with the package, as printed."""
    found = resources.files("hoopwright.tables").joinpath("data", f"{table}.csv")
    with found.open(encoding="utf-8", newline="") as stream:
        return _rows(stream, f"{table}.csv")


def rows_of_csv(path: Path) -> list[RawRow]:
    """Return the rows of a CSV file of the user's, as printed."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            return _rows(stream, str(path))
    except (OSError, UnicodeDecodeError) as error:
        raise TableError(f"{path}: cannot be read as a UTF-8 table ({error})") from error


def _rows(stream: Iterable[str], file: str) -> list[RawRow]:
    reader = csv.reader(stream)
    try:
        header = [cell.strip() for cell in next(reader)]
    except StopIteration:
        raise TableError(f"{file}: the file is empty; it needs a header line") from None
    for cell in header:
        parse_heading(cell, f"{file}: line 1")
    twice = sorted({cell for cell in header if header.count(cell) > 1})
    if twice:
        raise TableError(f"{file}: line 1: column '{twice[0]}' stands twice in the header")
    found = []
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        place = f"{file}: line {reader.line_num}"
        if len(cells) != len(header):
            raise TableError(
                f"{place}: {len(cells)} cells under {len(header)} column names; "
                "put a cell that holds a comma in double quotes"
            )
        row = {name: cell.strip() for name, cell in zip(header, cells, strict=True)}
        found.append(RawRow(row, place))
    return found


def parse_heading(cell: str, place: str) -> tuple[str, str | None]:
    """Split a header cell into its name and its unit (None for a text column)."""
    heading = _heading(cell)
    if heading is None:
        raise TableError(f"{place}: header '{cell}' is not of the form 'name' or 'name [unit]'")
    return heading.name, heading.unit


def _heading(cell: str) -> _Heading | None:
    name, bracket, rest = cell.partition("[")
    name = name.strip()
    if not name or "]" in name:
        return None
    if not bracket:
        return _Heading(name, None)
    unit, closing, after = rest.partition("]")
    if not closing or after.strip() or not unit.strip() or "[" in unit:
        return None
    return _Heading(name, unit.strip())


def record_of(
    row: RawRow,
    record: type[Record],
    complete: Callable[[dict[str, Any], str], dict[str, Any]] | None = None,
) -> Record:
    """Return a row as a frozen record in SI.

    complete : gets the values read and the place of the row; returns the fields that are
        not columns
    """
    columns = columns_of(record)
    given: dict[str, tuple[str, str | None, str]] = {}
    for cell, value in row.cells.items():
        name, unit = parse_heading(cell, row.place)
        given[name] = (cell, unit, value)
    unknown = [name for name in given if name not in columns]
    if unknown:
        raise TableError(
            f"{row.place}: column '{unknown[0]}' is not known here{nearest(unknown[0], columns)}"
        )
    values = {
        spec.name: _value(name, spec, given.get(name), row.place) for name, spec in columns.items()
    }
    if complete is not None:
        values.update(complete(values, row.place))
    return record(**values)


def columns_of(record: type[Any]) -> dict[str, Field[Any]]:
    """Return the columns a record class reads: name in the header -> field."""
    return {
        spec.name.replace("_", " "): spec
        for spec in fields(record)
        if spec.metadata.get("kind", "figure") != "figure"
    }


def figures_of(record: type[Any]) -> dict[str, Field[Any]]:
    """Return the figures a record class reads from a long table: property -> field."""
    return {
        spec.name.replace("_", " "): spec
        for spec in fields(record)
        if spec.metadata.get("kind") == "figure"
    }


def _value(
    name: str, spec: Field[Any], given: tuple[str, str | None, str] | None, place: str
) -> Any:
    kind = spec.metadata["kind"]
    if given is None or given[2] == "":
        if spec.metadata["optional"]:
            return {"numbers": (), "texts": (), "text": ""}.get(kind)
        what = "is missing" if given is None else "is empty"
        raise TableError(f"{place}: column '{name}' {what}")
    cell, unit, printed = given
    at = f"{place}, column '{cell}'"
    if kind in ("number", "numbers"):
        return _numeric(spec, kind, unit, printed, at)
    if unit is not None:
        raise TableError(f"{at}: this column holds words, so its header carries no unit")
    return _worded(spec, kind, printed, at)


def _numeric(spec: Field[Any], kind: str, unit: str | None, printed: str, at: str) -> Any:
    if unit is None:
        raise TableError(f"{at}: a column of numbers carries its unit, as 'wall [in]'")
    if kind == "number":
        return si_value(printed, unit, spec.metadata, at)
    return tuple(si_value(part.strip(), unit, spec.metadata, at) for part in printed.split(";"))


def _worded(spec: Field[Any], kind: str, printed: str, at: str) -> Any:
    if kind == "yes_no":
        if printed not in ("yes", "no"):
            raise TableError(f"{at}: '{printed}' is neither 'yes' nor 'no'")
        return printed == "yes"
    if kind == "texts":
        return tuple(part.strip() for part in printed.split(";"))
    choices = spec.metadata["choices"]
    if choices and printed not in choices:
        raise TableError(f"{at}: '{printed}' is none of {', '.join(choices)}")
    return printed


def si_value(printed: str, unit: str, metadata: Mapping[str, Any], at: str) -> float:
    """Return one printed number in SI, refused when it is no number or not plausible."""
    accepted = ACCEPTED_UNITS[metadata["si"]]
    if unit not in accepted:
        raise TableError(f"{at}: unit [{unit}] is none of {', '.join(accepted)}")
    try:
        bare = float(printed)
    except ValueError:
        raise TableError(f"{at}: '{printed}' is not a decimal number") from None
    value = units.to_si(bare, unit)
    low, high = metadata["low"], metadata["high"]
    if not low <= value <= high:
        raise TableError(
            f"{at}: {printed} {unit} is outside the plausible range "
            f"{low:g} to {high:g} {metadata['si']}; is the unit or the decimal point right?"
        )
    return value


@dataclass(frozen=True)
class _FigureRow:
    of: str = text()
    property: str = text()
    value: str = text()
    low: str = text()
    high: str = text()
    unit: str = text()
    source: str = text()
    sure: str = text(choices=SURENESS)


def figures_by_owner(rows: Sequence[RawRow], record: type[Record]) -> dict[str, Record]:
    """Return a long table as records: one per word in column `of`, a Figure per property.

    The long table has the columns of, property, value, low, high, unit, source, sure: a unit
    a row, for its rows are quantities of several kinds. `key` is the only other field.
    """
    wanted = figures_of(record)
    owners: dict[str, dict[str, Figure]] = {}
    last_place: dict[str, str] = {}
    for raw in rows:
        row = record_of(raw, _FigureRow)
        at = f"{raw.place}, property '{row.property}' of '{row.of}'"
        if row.property not in wanted:
            raise TableError(f"{at}: not known here{nearest(row.property, wanted)}")
        spec = wanted[row.property]
        value, low, high = (
            si_value(printed, row.unit, spec.metadata, at)
            for printed in (row.value, row.low, row.high)
        )
        if not low <= value <= high:
            raise TableError(f"{at}: the value does not lie between its low and high")
        # A later row wins, so that a user's row laid over ours replaces it.
        owners.setdefault(row.of, {})[spec.name] = Figure(value, low, high, row.source, row.sure)
        last_place[row.of] = raw.place
    return {
        owner: _assembled(owner, found, record, last_place[owner])
        for owner, found in owners.items()
    }


def _assembled(owner: str, found: Mapping[str, Figure], record: type[Record], place: str) -> Record:
    values: dict[str, Any] = {"key": owner, **found}
    for name, spec in figures_of(record).items():
        if spec.name in values:
            continue
        if not spec.metadata["optional"]:
            raise TableError(f"{place}: '{owner}' has no row for '{name}'")
        values[spec.name] = None
    return record(**values)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return ' (nearest: ...)' for a word that is not among the known ones, or ''."""
    close = difflib.get_close_matches(word, list(known), n=3, cutoff=0.4)
    return f" (nearest: {', '.join(close)})" if close else ""
