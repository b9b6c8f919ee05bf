"""The kinds of value a plan holds, each read from text with its accepted range."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from hoopwright import units
from hoopwright.tables.catalogue import Catalogue


@dataclass(frozen=True)
class Quantity:
    """A quantity written as text with a unit, kept in SI.

    kind      : a kind of units.KINDS
    low, high : the accepted range, written as a person would write it
    """

    kind: str
    low: str
    high: str

    def read(self, value: object) -> float:
        """Return the value in SI, or raise with what is accepted."""
        try:
            number = units.read(value, self.kind)
        except units.UnitError as error:
            raise _refuse(f"{error} (accepted: {self.low} to {self.high})") from None
        low, high = units.read(self.low, self.kind), units.read(self.high, self.kind)
        slack = 1e-9 * max(1.0, abs(high))
        if not low - slack <= number <= high + slack:
            raise _refuse(f'"{value}" is out of range; accepted: {self.low} to {self.high}')
        return number

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        kind = units.KINDS[self.kind]
        return {
            "type": "string",
            "examples": list(kind.examples),
            "description": f"A {self.kind} with its unit, {self.low} to {self.high}.",
        }


def written(default: str, description: str) -> Any:
    """Return a field whose default is written as a person would, and read like any other."""
    return Field(default=default, description=description)


@dataclass(frozen=True)
class Item:
    """A key of the catalogue; read against the plan's own catalogue, overlay included.

    table : a table of the catalogue
    name  : what a person calls one of its things
    """

    table: str
    name: str

    def check(self, value: object, info: core_schema.ValidationInfo) -> str:
        """Return the key if the catalogue has it, or raise naming the nearest one."""
        catalogue = info.context["catalogue"] if info.context else Catalogue()
        known = [record.key for record in catalogue.everything_in(self.table)]
        if not isinstance(value, str):
            raise _refuse(f"is not the name of a {self.name}; {_one_of(known)}")
        if value in known:
            return value
        raise _refuse(f'"{value}" is not in the catalogue{nearest(value, known)}; {_one_of(known)}')

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self.check)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        # Examples and not an enumeration: a user's own overlay may add to it.
        keys = sorted(record.key for record in Catalogue().everything_in(self.table))
        return {
            "type": "string",
            "examples": keys,
            "description": f"A {self.name} of the catalogue.",
        }


def _refuse(says: str) -> PydanticCustomError:
    return PydanticCustomError("plan_value", "{says}", {"says": says})


def nearest(word: str, known: Iterable[str]) -> str:
    """Return '; did you mean "x"?' for the known word nearest to this one, or nothing."""
    close = difflib.get_close_matches(word[:80], list(known), n=1, cutoff=0.5)
    return f'; did you mean "{close[0]}"?' if close else ""


def _one_of(words: Iterable[str], most: int = 12) -> str:
    listed = sorted(words)
    more = f" and {len(listed) - most} more" if len(listed) > most else ""
    return "one of " + ", ".join(listed[:most]) + more
