"""The skyline of a plan as rows of cells, in degrees: shown, read back, put in row by row."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from typing import Any

from pydantic_core import PydanticCustomError

from hoopwright.frozen import dataclass
from hoopwright.plan.fields import Quantity
from hoopwright.plan.place import Skyline
from hoopwright.plan.rows import rows_of, with_row, without_row
from hoopwright.units import read
from hoopwright.web.choices import parts_of

KEY = "site.skyline"
#: Empty rows under those there are; rows that one plan may have here.
SPARE, MOST = 3, 72
_BARE = re.compile(r"\s*[+-]?(\d+\.?\d*|\.\d+)\s*")


def _quantity(name: str) -> Quantity:
    information = Skyline.model_fields[name]
    parts = parts_of(information.annotation, information.metadata)
    return next(part for part in parts if isinstance(part, Quantity))


PARTS: Mapping[str, Quantity] = {name: _quantity(name) for name in Skyline.model_fields}
"""Column -> what it accepts."""


@dataclass(frozen=True)
class SkylineRow:
    """A row on the page.

    number   : of the row in the plan, None for a spare one
    cells    : by column; problems : why a cell is not accepted
    """

    number: int | None
    cells: Mapping[str, str]
    problems: Mapping[str, str] = field(default_factory=dict)

    @property
    def empty(self) -> bool:
        """Return whether nothing is entered."""
        return not any(self.cells.values())


def rows_shown(text: str) -> tuple[SkylineRow, ...]:
    """Return a plan's rows, and spare ones below."""
    rows = [
        SkylineRow(number, {name: _cell(row.get(name, "")) for name in PARTS})
        for number, row in enumerate(rows_of(text, KEY))
    ]
    spare = [SkylineRow(None, dict.fromkeys(PARTS, ""))] * min(SPARE, MOST - len(rows))
    return (*rows, *spare)


def _cell(value: Any) -> str:
    """Return a value of the plan in degrees; what cannot be read, as it stands."""
    try:
        return f"{round(read(value, 'angle'), 2):g}"
    except ValueError:
        return str(value)


def skyline_given(form: Mapping[str, list[str]]) -> tuple[SkylineRow, ...]:
    """Return the rows of a form, without the one whose button to remove it was pressed."""
    gone = (form.get("remove") or [""])[-1]
    found = []
    for place in range(MOST + SPARE):
        key = str(place)
        if not any(f"{name}.{key}" in form for name in PARTS):
            break
        number = (form.get(f"row.{key}") or [""])[-1]
        cells = {name: (form.get(f"{name}.{key}") or [""])[-1].strip() for name in PARTS}
        if key == gone:
            cells = dict.fromkeys(PARTS, "")
        known = int(number) if number.isascii() and number.isdecimal() and len(number) < 5 else None
        found.append(SkylineRow(known, cells))
    return tuple(found)


def skyline_set(text: str, rows: Sequence[SkylineRow]) -> tuple[str, tuple[SkylineRow, ...]]:
    """Return the text with the rows as given, and the rows with why any is refused.

    An emptied row is taken away. Cells left as shown keep what the plan says.
    """
    held = rows_of(text, KEY)
    judged = tuple(_judged(row) for row in rows)
    if any(row.problems for row in judged):
        return text, judged
    for row in judged:
        if row.number is not None and row.number < len(held) and not row.empty:
            text = with_row(text, KEY, _written(row, held[row.number]), row.number)
    emptied = {row.number for row in judged if row.number is not None and row.empty}
    for number in sorted(emptied, reverse=True):
        text = without_row(text, KEY, number)
    for row in judged:
        if row.number is None and not row.empty:
            text = with_row(text, KEY, _written(row, {}))
    return text, judged


def _judged(row: SkylineRow) -> SkylineRow:
    if row.empty:
        return row
    problems = {}
    for name, quantity in PARTS.items():
        try:
            quantity.read(_with_unit(row.cells[name]))
        except PydanticCustomError:
            problems[name] = f"Accepted: {quantity.low} to {quantity.high}."
    return replace(row, problems=problems)


def _written(row: SkylineRow, held: Mapping[str, Any]) -> dict[str, Any]:
    """Return a row as the plan writes it; other keys of it stay."""
    return dict(held) | {
        name: held[name] if name in held and _cell(held[name]) == cell else _with_unit(cell)
        for name, cell in row.cells.items()
    }


def _with_unit(cell: str) -> str:
    return f"{cell.strip()} deg" if _BARE.fullmatch(cell) else cell.strip()
