"""One row of the catalogue as text: every number with its unit, its range and its source."""

import dataclasses
import typing
from collections.abc import Iterator
from typing import Any

from hoopwright.season.crop_records import CropRange
from hoopwright.tables.reader import Figure, TableColumn, fields_in_order
from hoopwright.units import US, System, to_si

#: SI unit of a column -> the unit shown, in US units and in metric.
SHOWN_IN = {
    "m": ("in", "mm"),
    "m2": ("in2", "mm2"),
    "Pa": ("psi", "MPa"),
    "kg/m3": ("pcf", "kg/m3"),
    "kg/m": ("lb/ft", "kg/m"),
    "kg/m2": ("oz/yd2", "g/m2"),
    "kg": ("lb", "kg"),
    "N": ("lbf", "N"),
    "N/m": ("lbf/in", "N/m"),
    "degC": ("degF", "degC"),
    "1/K": ("1/degF", "1/K"),
    "s": ("yr", "yr"),
}
#: Times of crops are kept in days, and their degree days with them.
OF_CROPS = {"degree_days": "degC d"}
PLAIN = {"degF": "\u00b0F", "degC": "\u00b0C", "degC d": "\u00b0C d", "-": ""}


def row_lines(record: Any, system: System) -> Iterator[tuple[str, str]]:
    """Yield label and text for each field of a row; a part of it has a label of its own."""
    hints = typing.get_type_hints(type(record), include_extras=True)
    for field in fields_in_order(type(record)):
        value, label = getattr(record, field.name), field.name.replace("_", " ")
        if isinstance(value, Figure):
            yield label, _figure(value, _column(hints[field.name]), system)
        elif dataclasses.is_dataclass(value) and not isinstance(value, CropRange):
            yield label, ""
            yield from ((f"  {inner}", says) for inner, says in row_lines(value, system))
        elif isinstance(value, tuple) and value and dataclasses.is_dataclass(value[0]):
            yield label, "; ".join(_brief(one, system) for one in value)
        else:
            unit = _unit(record, field.name, _column(hints[field.name]), system)
            yield label, _with_unit(value, unit)


def _column(hint: Any) -> TableColumn | None:
    found = getattr(hint, "__metadata__", ())
    return next((one for one in found if isinstance(one, TableColumn)), None)


def _unit(record: Any, name: str, column: TableColumn | None, system: System) -> str:
    """Return the unit a field is shown in: "" for words and plain numbers."""
    if column is None or column.kind in ("text", "texts") or column.si == "-":
        return ""
    if type(record).__module__.endswith("crop_records") and column.si == "s":
        return OF_CROPS.get(name, "d")
    return SHOWN_IN.get(column.si, (column.si,) * 2)[system is not US]


def _figure(value: Figure, column: TableColumn | None, system: System) -> str:
    si = "-" if column is None else column.si
    unit = "" if si == "-" else SHOWN_IN.get(si, (si, si))[system is not US]
    says = _with_unit(value.likely, unit)
    if (value.low, value.high) != (value.likely, value.likely):
        says += f" ({_number(value.low, unit)} to {_number(value.high, unit)})"
    return f"{says}; {value.source}; {value.sure}"


def _brief(record: Any, system: System) -> str:
    """Return the numbers of one of many, as the widths and lengths of rolls."""
    hints = typing.get_type_hints(type(record), include_extras=True)
    parts = []
    for field in dataclasses.fields(record):
        column, value = _column(hints[field.name]), getattr(record, field.name)
        if column is not None and column.kind == "number" and value is not None:
            parts.append(_with_unit(value, _unit(record, field.name, column, system)))
    return " x ".join(parts)


def _with_unit(value: Any, unit: str) -> str:
    if value is None:
        return "none"
    if isinstance(value, CropRange):
        text = f"{_number(value.low, unit)} to {_number(value.high, unit)}"
    elif isinstance(value, tuple):
        text = ", ".join(_number(one, unit) for one in value) or "none"
        if not value:
            return text
    elif isinstance(value, bool):
        return "yes" if value else "no"
    else:
        text = _number(value, unit)
    return f"{text} {PLAIN.get(unit, unit)}".strip() or "none"


def _number(value: Any, unit: str) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return str(value)
    if unit not in ("", "d", "degC d"):
        nought, one = to_si(0.0, unit), to_si(1.0, unit)
        value = (value - nought) / (one - nought)
    # Thousands are written out: nobody reads 3.8e+05 psi.
    return f"{float(f'{value:.4g}'):,.0f}" if 1e4 <= abs(value) < 1e9 else f"{value:.4g}"
