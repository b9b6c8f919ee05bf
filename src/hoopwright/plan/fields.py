"""The kinds of value a plan holds, each read from text with its accepted range."""

import calendar
import re
from abc import ABC, abstractmethod
from collections.abc import Iterable
from typing import Annotated, Any

from pydantic import AfterValidator, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from hoopwright import units
from hoopwright.frozen import dataclass
from hoopwright.tables.catalogue import our_catalogue
from hoopwright.tables.words import unprintable

Info = core_schema.ValidationInfo


class WrittenValue(ABC):
    """One kind of value of a plan: how its text is read, and what an editor is told of it."""

    @abstractmethod
    def read(self, value: object, info: Info | None = None) -> Any:
        """Return the value, or raise with what is accepted; info holds the plan's catalogue."""

    @abstractmethod
    def schema(self) -> dict[str, Any]:
        """Return what an editor is told of it (JSON Schema)."""

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return self.schema()


@dataclass(frozen=True)
class Quantity(WrittenValue):
    """A quantity written as text with a unit, kept in SI.

    kind      : a kind of units.KINDS
    low, high : the accepted range, written as a person would write it
    """

    kind: str
    low: str
    high: str

    def read(self, value: object, info: Info | None = None) -> float:
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

    def schema(self) -> dict[str, Any]:
        """Return what an editor is told of it (JSON Schema)."""
        kind = units.KINDS[self.kind]
        return {
            "type": "string",
            "examples": list(kind.examples),
            "description": f"A {self.kind} with its unit, {self.low} to {self.high}.",
        }


MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


@dataclass(frozen=True)
class DayOfYear(WrittenValue):
    """A day of the year written "15 Mar", "March 15" or "03-15"; kept as (month, day)."""

    def read(self, value: object, info: Info | None = None) -> tuple[int, int]:
        """Return month and day, or raise with what is accepted."""
        words = re.findall(r"[A-Za-z]+|\d+", value) if isinstance(value, str) else []
        month, day = _month_and_day(words)
        if not 1 <= month <= 12 or not 1 <= day <= calendar.monthrange(2024, month)[1]:
            raise _refuse(f"\"{value}\" is no day of the year; write it like '15 Mar' or '03-15'")
        return month, day

    def schema(self) -> dict[str, Any]:
        """Return what an editor is told of it (JSON Schema)."""
        return {"type": "string", "examples": ["15 Mar", "03-15"], "description": "A day."}


def _month_and_day(words: list[str]) -> tuple[int, int]:
    if len(words) != 2:
        return 0, 0
    names = [word[:3].lower() for word in words]
    if names[1] in MONTHS and words[0].isdigit():
        return MONTHS.index(names[1]) + 1, int(words[0][:3])
    if names[0] in MONTHS and words[1].isdigit():
        return MONTHS.index(names[0]) + 1, int(words[1][:3])
    if words[0].isdigit() and words[1].isdigit():
        return int(words[0][:3]), int(words[1][:3])
    return 0, 0


@dataclass(frozen=True)
class TimeOfDay(WrittenValue):
    """A time of day written "7:30" or "17:30"; kept in hours after midnight."""

    def read(self, value: object, info: Info | None = None) -> float:
        """Return the hours after midnight, or raise with what is accepted."""
        found = re.fullmatch(r"\s*(\d{1,2}):(\d{2})\s*", value) if isinstance(value, str) else None
        if found is None or int(found[1]) > 23 or int(found[2]) > 59:
            raise _refuse(f"\"{value}\" is no time of day; write it like '7:30' or '17:30'")
        return int(found[1]) + int(found[2]) / 60

    def schema(self) -> dict[str, Any]:
        """Return what an editor is told of it (JSON Schema)."""
        return {"type": "string", "examples": ["7:30", "17:30"], "description": "A time of day."}


def written(default: str, description: str) -> Any:
    """Return a field whose default is written as a person would, and read like any other."""
    return Field(default=default, description=description)


@dataclass(frozen=True)
class Item(WrittenValue):
    """A key of the catalogue; read against the plan's own catalogue, overlay included.

    table : a table of the catalogue
    name  : what a person calls one of its things
    """

    table: str
    name: str

    def read(self, value: object, info: Info | None = None) -> str:
        """Return the key if the catalogue has it, or raise naming the nearest one."""
        catalogue = info.context["catalogue"] if info and info.context else our_catalogue()
        known = [record.key for record in catalogue.everything_in(self.table)]
        if not isinstance(value, str):
            raise _refuse(f"is not the name of a {self.name}; {_one_of(known)}")
        if value in known:
            return value
        raise _refuse(f'"{value}" is not in the catalogue{nearest(value, known)}; {_one_of(known)}')

    def schema(self) -> dict[str, Any]:
        """Return what an editor is told of it (JSON Schema)."""
        # Examples and not an enumeration: a user's own overlay may add to it.
        keys = sorted(record.key for record in our_catalogue().everything_in(self.table))
        return {
            "type": "string",
            "examples": keys,
            "description": f"A {self.name} of the catalogue.",
        }


def _refuse(says: str) -> PydanticCustomError:
    return PydanticCustomError("plan_value", "{says}", {"says": says})


def _one_line(value: str) -> str:
    bad = unprintable(value)
    if bad:
        raise _refuse(f"holds a character that cannot be printed (U+{ord(bad):04X}); take it out")
    return value


OneLine = Annotated[str, AfterValidator(_one_line)]
"""Text on one line, as a name or the name of a file."""


def nearest(word: str, known: Iterable[str]) -> str:
    """Return '; did you mean "x"?' for the known word nearest to this one, or nothing."""
    import difflib  # a wrong word only, so not paid for by every start

    close = difflib.get_close_matches(word[:80], list(known), n=1, cutoff=0.5)
    return f'; did you mean "{close[0]}"?' if close else ""


def _one_of(words: Iterable[str], most: int = 12) -> str:
    listed = sorted(words)
    more = f" and {len(listed) - most} more" if len(listed) > most else ""
    return "one of " + ", ".join(listed[:most]) + more
