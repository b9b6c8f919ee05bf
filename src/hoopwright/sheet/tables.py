"""The sheet's own tables of words, one typed record a row."""

# Annotations stand unpostponed here: the table reader looks at them as objects.
from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Keyed, Sourced, rows_of, text, texts


@dataclass(frozen=True)
class CautionRow(Keyed):
    """One usual caution; `when` names the traits of a bed that calls for it."""

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


@dataclass(frozen=True)
class StepRow:
    """One step of the building, in the order of the trade; `short_title` is the card's."""

    chapter: Annotated[str, text()]
    key: Annotated[str, text()]
    when: Annotated[str, text()]
    title: Annotated[str, text()]
    short_title: Annotated[str, text(optional=True)]
    drawing: Annotated[str, text(optional=True)]
    cautions: Annotated[tuple[str, ...], texts()]


@dataclass(frozen=True)
class StepWordsRow:
    """What a step says where: a sentence of the sheet, or a part of its words on the card.

    step : keys of the steps that say so, parted by "|"; numbers of the bed stand in braces
    """

    step: Annotated[str, text()]
    when: Annotated[str, text()]
    where: Annotated[str, text(choices=("sheet", "card"))]
    text: Annotated[str, text()]


def caution_rows() -> tuple[CautionRow, ...]:
    """Return the usual cautions."""
    return rows_of(CautionRow, "caution", "sheet/data")


def care_rows() -> tuple[CareRow, ...]:
    """Return what to do in each season."""
    return rows_of(CareRow, "care", "sheet/data")


def step_rows() -> tuple[StepRow, ...]:
    """Return the steps of the building (common practice, no source)."""
    return rows_of(StepRow, "step", "sheet/data")


def step_words_rows() -> tuple[StepWordsRow, ...]:
    """Return the words of the steps (common practice, no source)."""
    return rows_of(StepWordsRow, "step_words", "sheet/data")
