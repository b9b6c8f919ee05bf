"""Plans made from a plan: some keys laid over its file, its comments and everything else kept."""

import itertools
import math
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit import TOMLDocument

from hoopwright.frozen import dataclass
from hoopwright.plan.fields import nearest
from hoopwright.plan.model import Plan
from hoopwright.plan.read import ReadPlan, read_plan_text, text_of

MOST_VARIANTS = 60


class VariantError(ValueError):
    """A wish to vary that cannot be read; the message says how it is written."""


@dataclass(frozen=True)
class Variant:
    """One plan to weigh: what sets it apart, its text, and the plan read from it."""

    name: str
    text: str
    read: ReadPlan


def variants(file: Path, vary: Sequence[str]) -> tuple[Variant, ...]:
    """Return a plan with every combination of the values asked for.

    vary : "spacing=2ft,3ft" or "hoops.spacing=2 ft,3 ft"; a value may be given without a space
    """
    text = text_of(file)
    read_plan_text(text, file=str(file), folder=file.parent)
    axes = [_axis(one) for one in vary]
    count = math.prod(len(values) for _, values in axes)
    if count > MOST_VARIANTS:
        raise VariantError(f"{count} plans are more than {MOST_VARIANTS}; vary less, or use advise")
    found = []
    for values in itertools.product(*(values for _, values in axes)):
        sets = dict(zip((key for key, _ in axes), values, strict=True))
        name = ", ".join(f"{key.split('.')[-1]} {value}" for key, value in sets.items())
        varied = with_keys(text, sets)
        read = read_plan_text(varied, file=name, folder=file.parent)
        found.append(Variant(name, varied, read))
    return tuple(found)


def _axis(asked: str) -> tuple[str, tuple[str, ...]]:
    key, sign, values = asked.partition("=")
    if not sign or not values.strip():
        raise VariantError(f'"{asked}" cannot be read; write it like spacing=2ft,3ft')
    return known_key(key.strip()), tuple(value.strip() for value in values.split(","))


def known_key(key: str) -> str:
    """Return the whole dotted name of a key given whole or by its last part."""
    every = [
        f"{section}.{name}"
        for section, field in Plan.model_fields.items()
        if hasattr(field.annotation, "model_fields")
        for name in field.annotation.model_fields  # type: ignore[union-attr]
    ]
    if key in every:
        return key
    found = [one for one in every if one.split(".")[1] == key]
    if len(found) == 1:
        return found[0]
    if found:
        raise VariantError(f'"{key}" may be {" or ".join(found)}; write which')
    raise VariantError(f'"{key}" is no key of a plan{nearest(key, every)}')


def with_keys(text: str, sets: Mapping[str, Any]) -> str:
    """Return a plan's text with some keys set as a person would write them; None takes one out."""
    document: TOMLDocument = tomlkit.parse(text)
    for key, value in sets.items():
        section, name = key.split(".")
        if section not in document:
            document[section] = tomlkit.table()
        table: Any = document[section]
        if value is None:
            if name in table:
                table.remove(name)
        else:
            table[name] = _as_written(value)
    # Height and stock length say the same in two ways; what was asked for last counts.
    hoops: Any = document.get("hoops", {})
    if "hoops.height" in sets and sets["hoops.height"] is not None and "stock_length" in hoops:
        hoops.remove("stock_length")
    elif "hoops.stock_length" in sets and "height" in hoops and "hoops.height" not in sets:
        hoops.remove("height")
    return tomlkit.dumps(document)


def _as_written(value: Any) -> Any:
    """Return a value from a command line as TOML: yes and no, whole numbers, else text."""
    if not isinstance(value, str):
        return value
    if value.lower() in ("yes", "true", "no", "false"):
        return value.lower() in ("yes", "true")
    return int(value) if value.isdigit() else value
