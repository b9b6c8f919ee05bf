"""A commented plan to start from: every key with its help and default, the answers filled in."""

import textwrap
from collections.abc import Mapping
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hoopwright.plan.fields import Item, Quantity
from hoopwright.plan.model import Plan
from hoopwright.tables.catalogue import our_catalogue
from hoopwright.units import KINDS

Answers = Mapping[str, Any]
"""Key ("bed.length") -> value as a person writes it."""

HEAD = """\
# A Hoopwright plan: one bed and what is wanted of it.
# Quantities are written with their units: "10 ft", "11 1/4 in", "3' 6\\"", "0.9 m", "6 mil".
# Keys behind a # show their default, or an example where they have none; take the # away to
# change one.
"""

METRIC_DEFAULTS = {
    "bed.length": "2.4 m",
    "bed.width": "1.2 m",
    "hoops.spacing": "0.9 m",
    "hoops.first_offset": "75 mm",
    "hoops.last_offset": "75 mm",
    "hoops.pair_gap": "100 mm",
    "hoops.coldest_bend": "18 C",
    "cover.skirt": "100 mm",
    "cover.end_overlap": "75 mm",
    "cover.turn": "150 mm",
    "cover.clip_spacing": "300 mm",
    "cover.mesh_band": "0 mm",
    "season.open_height": "300 mm",
    "season.opener_from": "24 C",
    "site.cold_pool": "0 C",
    "site.barrier_height": "1.8 m",
    "site.barrier_distance": "9 m",
    "site.barrier_length": "12 m",
    "holding.stake_depth": "450 mm",
}

#: Shown for keys that have no default.
METRIC_EXAMPLES = {
    "site.elevation": "2050 m",
    "site.gust": "145 km/h",
    "site.ground_snow": "1000 Pa",
    "hoops.stock_length": "3.05 m",
    "hoops.height": "0.9 m",
    "hoops.embed": "250 mm",
}


OFFERED: Mapping[str, tuple[str, str]] = {
    "bed.length": ("10 ft", "3 m"),
    "bed.width": ("4 ft", "1.2 m"),
    "bed.board": ("2x10", "2x10"),
    "bed.box": ("new", "new"),
    "hoops.pipe": ("pvc40-3/4", "pvc40-3/4"),
    "hoops.spacing": ("30 in", "0.75 m"),
    "cover.style": ("framed", "framed"),
    "cover.roll_up": ("both", "both"),
}
"""What a plan is begun with until somebody says otherwise, in US and metric units: of the demo's
family, and not the defaults of a plan that says nothing, which are the trade's usual ones."""


def starter_plan(answers: Answers) -> str:
    """Return the text of a starter plan; keys answered stand uncommented."""
    metric = answers.get("units") == "metric"
    blocks = [HEAD, "\n".join(_keys(Plan, "", answers, metric))]
    for name, field in Plan.model_fields.items():
        section = field.annotation
        # Rows and what has no default are left to the plan keys' page.
        if isinstance(section, type) and issubclass(section, BaseModel):
            about = (section.__doc__ or "").strip().splitlines()[0]
            lines = _keys(section, f"{name}.", answers, metric)
            blocks.append("\n".join([f"# {about}", f"[{name}]", *lines]))
    blocks.append(STOCK)
    return "\n\n".join(block.rstrip() for block in blocks) + "\n"


STOCK = """\
# What is at hand already, one block for each kind of thing.
# [[stock]]
# item = "pvc40-3/4"
# length = "10 ft"
# count = 3
"""


def _keys(model: type[BaseModel], prefix: str, answers: Answers, metric: bool) -> list[str]:
    lines = []
    for name, field in model.model_fields.items():
        key = prefix + name
        if _is_nested(field):
            continue
        help_text = key_help(field)
        lines += textwrap.wrap(help_text, 94, initial_indent="# ", subsequent_indent="# ")
        if key in answers:
            lines.append(f"{name} = {written(answers[key])}")
        else:
            default = METRIC_DEFAULTS.get(key, field.default) if metric else field.default
            if default is None:
                default = (METRIC_EXAMPLES.get(key) if metric else None) or _example(field)
            lines.append(f"# {name} = {written(default)}")
    return lines


def _is_nested(field: FieldInfo) -> bool:
    """Return whether a field holds a section or rows of one."""
    kinds = (field.annotation, *get_args(field.annotation))
    return any(isinstance(kind, type) and issubclass(kind, BaseModel) for kind in kinds)


def key_shown(field: FieldInfo) -> str | None:
    """Return a key's default as text, "none" where it has none, or None for a section."""
    if _is_nested(field):
        return None
    return "none" if field.default is None else f"`{written(field.default)}`"


def key_help(field: FieldInfo) -> str:
    """Return what a key means, its range and the words it accepts."""
    ranges = [
        f" ({part.low} to {part.high})"
        for part in field_metadata(field)
        if isinstance(part, Quantity)
    ]
    words = _choices(field)
    choices = f" ({', '.join(words)})" if words else ""
    return (field.description or "") + "".join(ranges) + choices


def _choices(field: FieldInfo) -> list[str]:
    """Return the words a field accepts, where it accepts only words."""
    kinds = (field.annotation, *get_args(field.annotation))
    return [word for kind in kinds for word in _words(kind)]


def _words(kind: Any) -> list[str]:
    if get_origin(kind) is Literal:
        return [str(word) for word in get_args(kind)]
    return []


def _example(field: FieldInfo) -> Any:
    """Return a value to show for a key that has no default."""
    if field.examples:
        return field.examples[0]
    for part in field_metadata(field):
        if isinstance(part, Quantity):
            return KINDS[part.kind].examples[0]
        if isinstance(part, Item):
            return our_catalogue().everything_in(part.table)[0].key
    words = _choices(field)
    return words[0] if words else "my-rows.toml"


def field_metadata(field: FieldInfo) -> tuple[Any, ...]:
    """Return a field's metadata, also where it stands inside `... | None`."""
    nested = [part for kind in get_args(field.annotation) for part in get_args(kind)[1:]]
    return (*field.metadata, *nested)


def written(value: Any) -> str:
    """Return a value as TOML."""
    if value is None:
        return '""'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return str(value)
    if isinstance(value, list | tuple):
        return "[" + ", ".join(written(part) for part in value) + "]"
    text = str(value).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{text}"'
