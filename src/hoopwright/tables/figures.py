"""Long tables: a row a figure, each with its own unit, range, source and sureness."""

from collections.abc import Mapping, Sequence
from typing import Annotated, Any

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import (
    Figure,
    RawRow,
    Record,
    Sourced,
    TableError,
    columns_of,
    nearest,
    records_of,
    si_value,
    text,
)


@dataclass(frozen=True)
class _FigureRow(Sourced):
    of: Annotated[str, text()]
    property: Annotated[str, text()]
    likely: Annotated[str, text()]
    low: Annotated[str, text()]
    high: Annotated[str, text()]
    unit: Annotated[str, text()]


def figures_by_owner(rows: Sequence[RawRow], record: type[Record]) -> dict[str, Record]:
    """Return a long table as records: one per word in column `of`, a Figure per property.

    The long table has the columns of, property, likely, low, high, unit, source, sure: a unit
    a row, for its rows are quantities of several kinds. `key` is the only other field.
    """
    wanted = columns_of(record, figures=True)
    owners: dict[str, dict[str, Figure]] = {}
    last_place: dict[str, str] = {}
    for raw, row in zip(rows, records_of(rows, _FigureRow), strict=True):
        at = f"{raw.place}, property '{row.property}' of '{row.of}'"
        if row.property not in wanted:
            raise TableError(f"{at}: not known here{nearest(row.property, wanted)}")
        field, column = wanted[row.property]
        low, likely, high = (
            si_value(printed, row.unit, column, at) for printed in (row.low, row.likely, row.high)
        )
        if not low <= likely <= high:
            raise TableError(f"{at}: the likely value does not lie between its low and high")
        # A later row wins, so that a user's row laid over ours replaces it.
        owners.setdefault(row.of, {})[field] = Figure(low, likely, high, row.source, row.sure)
        last_place[row.of] = raw.place
    return {
        owner: _assembled(owner, found, record, last_place[owner])
        for owner, found in owners.items()
    }


def _assembled(owner: str, found: Mapping[str, Figure], record: type[Record], place: str) -> Record:
    values: dict[str, Any] = {"key": owner, **found}
    for name, (field, column) in columns_of(record, figures=True).items():
        if field in values:
            continue
        if not column.optional:
            raise TableError(f"{place}: '{owner}' has no row for '{name}'")
        values[field] = None
    return record(**values)
