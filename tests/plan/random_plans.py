"""Plans drawn at random over the whole schema: any key, any value in its range."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hoopwright import units
from hoopwright.plan.fields import DayOfYear, Item, Quantity, TimeOfDay
from hoopwright.plan.model import Plan
from hoopwright.plan.starter import written
from hoopwright.tables.catalogue import Catalogue

#: How often a key is given and not left to its default.
GIVEN = 0.35
#: How often a quantity lies anywhere in its range and not near its default.
FAR = 0.3
#: Keys that name files, or whose rows are drawn elsewhere.
LEFT_OUT = {"catalogue", "prices", "normals", "site.weather", "site.skyline", "season.varieties"}
LEFT_OUT |= {"season.crops", "stock"}
SI_NAMES = {"length": "m", "speed": "m/s", "pressure": "Pa", "force": "N", "elevation": "m"}
SI_NAMES |= {"temperature": "C", "temperature difference": "C", "angle": "deg"}
SI_NAMES |= {"latitude": "deg", "longitude": "deg", "share": "%"}


def random_plan(seed: int) -> str:
    """Return the text of one plan."""
    draw = random.Random(seed)
    lines = [f"{key} = {value}" for key, value in _keys(Plan, "", draw)]
    for name, field in Plan.model_fields.items():
        section = field.annotation
        if isinstance(section, type) and issubclass(section, BaseModel) and name not in LEFT_OUT:
            lines.append(f"[{name}]")
            lines += [f"{key} = {value}" for key, value in _keys(section, f"{name}.", draw)]
    return "\n".join(lines) + "\n"


def _keys(model: type[BaseModel], prefix: str, draw: random.Random) -> Iterator[tuple[str, str]]:
    for name, field in model.model_fields.items():
        kinds = (field.annotation, *get_args(field.annotation))
        nested = any(isinstance(kind, type) and issubclass(kind, BaseModel) for kind in kinds)
        if not nested and prefix + name not in LEFT_OUT and draw.random() < GIVEN:
            yield name, written(_value(field, draw))


def _value(field: FieldInfo, draw: random.Random) -> Any:
    if ... in get_args(field.annotation):
        return [_one(_parts(field), field, draw) for _ in range(draw.randint(0, 3))]
    return _one(_parts(field), field, draw)


def _parts(field: FieldInfo) -> list[Any]:
    """Return all that says what a field holds: its metadata and its annotation's parts."""
    parts, seen = [field.annotation], [*field.metadata]
    while parts:
        part = parts.pop()
        seen.append(part)
        parts += get_args(part)
    return seen


def _one(parts: list[Any], field: FieldInfo, draw: random.Random) -> Any:
    for part in parts:
        if isinstance(part, Quantity):
            return _quantity(part, field.default or (field.examples or [None])[0], draw)
        if isinstance(part, Item):
            return draw.choice(Catalogue().everything_in(part.table)).key
        if isinstance(part, DayOfYear):
            return f"{draw.randint(1, 12):02d}-{draw.randint(1, 28):02d}"
        if isinstance(part, TimeOfDay):
            return f"{draw.randint(0, 23)}:{draw.randint(0, 59):02d}"
        if get_origin(part) is Literal:
            return draw.choice(get_args(part))
    limits = {name: getattr(p, name) for p in parts for name in ("ge", "le") if hasattr(p, name)}
    if bool in parts:
        return draw.random() < 0.5
    if int in parts:
        return draw.randint(limits["ge"], min(limits["le"], limits["ge"] + 40))
    if float in parts:
        return round(draw.uniform(limits["ge"], limits["le"]), 3)
    return draw.choice(["Bed 7", "Beet, north side"])


def _quantity(kind: Quantity, default: object, draw: random.Random) -> str:
    low, high = (units.read(end, kind.kind) for end in (kind.low, kind.high))
    near = isinstance(default, str) and draw.random() > FAR
    value = units.read(default, kind.kind) * draw.uniform(0.7, 1.3) if near else 0.0
    if not near or not low <= value <= high:
        value = draw.uniform(low, high)
    shown = value * 100 if kind.kind == "share" else value
    return f"{shown:.5f} {SI_NAMES[kind.kind]}"
