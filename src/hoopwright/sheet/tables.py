"""The sheet's own tables of words, one typed record a row."""

# Annotations stand unpostponed here: the table reader looks at them as objects.
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Annotated, TypeVar

from hoopwright.tables.reader import SURENESS, records_of, rows_of_csv, text

Record = TypeVar("Record")


@dataclass(frozen=True)
class CautionRow:
    """One usual caution; `when` names the traits of a bed that calls for it."""

    key: Annotated[str, text()]
    when: Annotated[str, text()]
    title: Annotated[str, text()]
    short: Annotated[str, text()]
    text: Annotated[str, text()]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@dataclass(frozen=True)
class CareRow:
    """One thing to do in a season; `when` names the traits of a bed that wants it."""

    season: Annotated[str, text()]
    when: Annotated[str, text()]
    text: Annotated[str, text()]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


def _rows(table: str, record: type[Record]) -> tuple[Record, ...]:
    found = resources.files("hoopwright.sheet").joinpath("data", f"{table}.csv")
    with resources.as_file(found) as path:
        return tuple(records_of(rows_of_csv(Path(path)), record))


@cache
def caution_rows() -> tuple[CautionRow, ...]:
    """Return the usual cautions."""
    return _rows("caution", CautionRow)


@cache
def care_rows() -> tuple[CareRow, ...]:
    """Return what to do in each season."""
    return _rows("care", CareRow)
