"""Changing a plan by the choices of the page, its comments and its order kept."""

import re
from collections.abc import Mapping
from typing import Any

from hoopwright.plan.rewrite import with_value
from hoopwright.web.choices import PlanField, Value, choices

#: Of these one follows from the other: setting one takes the other away.
_EITHER = {"hoops.height": "hoops.stock_length", "hoops.stock_length": "hoops.height"}


def edited(text: str, changes: Mapping[str, Value]) -> str:
    """Return a plan's text with some choices changed; an empty value takes the key away."""
    for key, value in changes.items():
        text = with_value(text, key, as_data(choices()[key], value))
        other = _EITHER.get(key)
        if other and value and other not in changes:
            text = with_value(text, other, None)
    return text


def in_words(listed: str) -> list[str]:
    """Return the words of a list that commas part."""
    return [part.strip() for part in listed.split(",") if part.strip()]


def as_data(choice: PlanField, value: Value) -> Any:
    """Return a value as a plan holds it, None for nothing."""
    if choice.kind == "tick":
        return bool(value)
    if choice.kind == "many":
        return list(value) if isinstance(value, tuple) else in_words(str(value))
    words = str(value).strip()
    if not words:
        return None
    if choice.kind == "list":
        return in_words(words)
    if choice.whole and re.fullmatch(r"[+-]?\d{1,9}", words):
        return int(words)
    return words
