"""The monthly means of a plan as a table of cells: shown in its units, read back cell by cell.

A cell that was left as shown keeps what the plan says, to the letter.
"""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from pydantic_core import PydanticCustomError

from hoopwright.frozen import dataclass
from hoopwright.plan.fields import Quantity
from hoopwright.plan.place import NormalsSection
from hoopwright.plan.read import data_of
from hoopwright.plan.rewrite import with_value, without_section
from hoopwright.units import read, to_si
from hoopwright.web.choices import parts_of

SECTION = "normals"

#: Kind -> (unit as a plan writes it, its mark on the page): in US customary, in metric.
_UNITS = {
    "temperature": (("F", "°F"), ("C", "°C")),
    "length": (("in", "in"), ("mm", "mm")),
    "speed": (("mph", "mph"), ("km/h", "km/h")),
}
_LABELS = {
    "maximum": "Mean high",
    "minimum": "Mean low",
    "precipitation": "Rain and melted snow",
    "wet_days": "Days with rain",
    "sun_hours": "Sun a day",
    "wind": "Mean wind",
}
_PLAIN = {"wet_days": "days", "sun_hours": "hours"}
_BARE = re.compile(r"\s*[+-]?(\d+\.?\d*|\.\d+)\s*")

Cells = tuple[str, ...]


@dataclass(frozen=True)
class MonthlyMean:
    """One of the means through the year.

    unit   : as a plan writes it, "" for a plain number; mark : the same on the page
    low, high : accepted, in that unit
    needed : False where the whole column may be left empty
    """

    name: str
    label: str
    help: str
    unit: str
    mark: str
    low: float
    high: float
    needed: bool
    quantity: Quantity | None

    @property
    def range(self) -> str:
        """Return what is accepted, in words."""
        return f"{self.low:g} to {self.high:g} {self.mark}".replace("-", "−")

    def shown(self, value: Any) -> str:
        """Return a value of the plan in the column's unit; what cannot be read, as it stands."""
        if self.quantity is None:
            return str(value)
        try:
            si = read(value, self.quantity.kind)
        except ValueError:
            return str(value)
        return f"{round(_from_si(si, self.unit), 2):g}"

    def taken(self, cell: str) -> Any:
        """Return a cell as a plan writes it. Raises ValueError where it is not accepted."""
        if self.quantity is None:
            number = float(cell) if _BARE.fullmatch(cell) and len(cell) < 20 else float("nan")
            if not self.low <= number <= self.high:
                raise ValueError(cell)
            return int(number) if number == int(number) else number
        words = f"{cell.strip()} {self.unit}" if _BARE.fullmatch(cell) else cell.strip()
        try:
            self.quantity.read(words)
        except PydanticCustomError as error:
            raise ValueError(cell) from error
        return words


def _from_si(value: float, unit: str) -> float:
    zero = to_si(0.0, unit)
    return (value - zero) / (to_si(1.0, unit) - zero)


@lru_cache(maxsize=2)
def columns(metric: bool) -> tuple[MonthlyMean, ...]:
    """Return the columns in the order of the plan's keys."""
    return tuple(
        _column(name, field.annotation, field.description or "", field.is_required(), metric)
        for name, field in NormalsSection.model_fields.items()
    )


def _column(name: str, annotation: Any, help_: str, needed: bool, metric: bool) -> MonthlyMean:
    label = _LABELS.get(name, name.replace("_", " ").capitalize())
    for part in parts_of(annotation):
        if isinstance(part, Quantity):
            unit, mark = _UNITS[part.kind][metric]
            low, high = (_from_si(read(end, part.kind), unit) for end in (part.low, part.high))
            return MonthlyMean(
                name, label, help_, unit, mark, round(low), round(high), needed, part
            )
    low, high = _bounds(annotation)
    return MonthlyMean(name, label, help_, "", _PLAIN.get(name, ""), low, high, needed, None)


def _bounds(annotation: Any) -> tuple[float, float]:
    """Return the range of a plain number, as its field has it."""
    found = dict[str, float]()
    for part in parts_of(annotation):
        for bound in getattr(part, "metadata", ()):
            found |= {side: getattr(bound, side) for side in ("ge", "le") if hasattr(bound, side)}
    return float(found["ge"]), float(found["le"])


def cells_in(text: str, metric: bool) -> dict[str, Cells]:
    """Return every column's twelve cells as a plan has them, "" where it says nothing."""
    held = data_of(text, "plan").get(SECTION, {})
    found = {}
    for column in columns(metric):
        values = held.get(column.name, [])
        shown = [column.shown(value) for value in values] if isinstance(values, list) else []
        found[column.name] = tuple((shown + [""] * 12)[:12])
    return found


def filled(
    text: str, given: Mapping[str, Cells], metric: bool
) -> tuple[str, dict[tuple[str, int], str]]:
    """Return the text with the cells as given, and what is refused: (column, month from 0) -> why.

    An emptied column is taken away; where all are empty, the whole section is.
    """
    before, refused = cells_in(text, metric), dict[tuple[str, int], str]()
    held = data_of(text, "plan").get(SECTION, {})
    if not any(cell for cells in given.values() for cell in cells):
        return (
            without_section(text, SECTION) if SECTION in data_of(text, "plan") else text
        ), refused
    for column in columns(metric):
        cells = given[column.name]
        if cells == before[column.name] and not (column.needed and "" in cells):
            continue
        if not any(cells) and not column.needed:
            text = with_value(text, f"{SECTION}.{column.name}", None)
            continue
        kept = held.get(column.name, [])
        values = _values(column, cells, before[column.name], kept, refused)
        if len(values) == 12:
            text = with_value(text, f"{SECTION}.{column.name}", values)
    return text, refused


def _values(
    column: MonthlyMean,
    cells: Cells,
    shown: Cells,
    kept: Sequence[Any],
    refused: dict[tuple[str, int], str],
) -> list[Any]:
    values = []
    for month, cell in enumerate(cells):
        if month < len(kept) and cell == shown[month]:
            values.append(kept[month])
        elif not cell:
            refused[column.name, month] = f"Wanted: {column.range}."
        else:
            try:
                values.append(column.taken(cell))
            except ValueError:
                refused[column.name, month] = f"Accepted: {column.range}."
    return values
