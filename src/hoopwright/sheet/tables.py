"""The sheet's own tables of words, one typed record a row."""

# Annotations stand unpostponed here: the table reader looks at them as objects.
from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Sourced, rows_of, text


@dataclass(frozen=True)
class CautionRow(Sourced):
    """One usual caution; `when` names the traits of a bed that calls for it."""

    key: Annotated[str, text()]
    when: Annotated[str, text()]
    title: Annotated[str, text()]
    short: Annotated[str, text()]
    text: Annotated[str, text()]


@dataclass(frozen=True)
class CareRow(Sourced):
    """One thing to do in a season; `when` names the traits of a bed that wants it."""

    season: Annotated[str, text()]
    when: Annotated[str, text()]
    text: Annotated[str, text()]


def caution_rows() -> tuple[CautionRow, ...]:
    """Return the usual cautions."""
    return rows_of(CautionRow, "caution", "sheet/data")


def care_rows() -> tuple[CareRow, ...]:
    """Return what to do in each season."""
    return rows_of(CareRow, "care", "sheet/data")
