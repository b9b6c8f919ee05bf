"""A plan's text as something sent by a stranger, and what its owner has brought beside it: lists of
their own, a weather file, and more that work rests on. No file on disk is opened for it.
"""

import hashlib
import json
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal

from hoopwright.frozen import dataclass
from hoopwright.plan import Plan, ReadPlan, read_plan_text
from hoopwright.plan.read import PlanError, Problem, laid_catalogue
from hoopwright.store import LoggerFile
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.overlay import OwnFile

Own = tuple[OwnFile, ...]
"""Files of the owner's own, as texts."""

Weather = tuple[str, bytes] | None
"""The name and the bytes of a plan's weather file, where it has one."""

Progress = Callable[[float, str], None]
"""Told the share of work that is done [-], and what is being done."""

RestsOn = Literal["", "households", "readings", "wishes", "others"]

KEYS: Mapping[str, str] = {
    "prices": "Price list",
    "catalogue": "Catalogue rows",
    "season.varieties": "Crops and varieties",
}
"""Keys of a plan that name a file of the owner's own, and what such a file is called."""


@dataclass(frozen=True)
class OtherPlan:
    """A plan held beside one: its name, its text, and what it names; `print` of its weather."""

    name: str
    text: str
    own: Own = ()
    weather: Weather = None
    print: str = ""


@dataclass(frozen=True)
class Beside:
    """What stands beside one plan: files that it names, and what was planned or brought with it.

    households : the class planned from it;  readings : loggers' files
    wishes : what a search for a better design shall hold to;  others : plans held beside it
    """

    own: Own = ()
    weather: Weather = None
    households: str = ""
    readings: tuple[LoggerFile, ...] = ()
    wishes: tuple[tuple[str, str], ...] = ()
    others: tuple[OtherPlan, ...] = ()

    def rest(self, of: RestsOn) -> str:
        """Return what a kind of work rests on besides plan, lists and weather, as one text."""
        if of == "households":
            return self.households
        parts: Any = {
            "": (),
            "readings": [[file.digest, file.about] for file in self.readings],
            "wishes": self.wishes,
            "others": [[o.name, o.text, fingerprint(o.own), o.print] for o in self.others],
        }[of]
        return json.dumps(parts) if parts else ""


def names_in(plan: Plan) -> dict[str, str]:
    """Return the files of the owner's own that a plan names, by key."""
    given = {
        "prices": "" if plan.prices == "example" else plan.prices,
        "catalogue": plan.catalogue or "",
        "season.varieties": plan.season.varieties or "",
    }
    return {key: name for key, name in given.items() if name}


def named_by(plan: Plan, own: Own, *keys: str) -> Own:
    """Return those of the files that a plan names, by these keys or by any."""
    names = names_in(plan)
    wanted = {names[key] for key in (keys or tuple(KEYS)) if key in names}
    return tuple(file for file in own if file.name in wanted)


def read_here(text: str, own: Own = ()) -> ReadPlan:
    """Return a plan's text read as something sent by a stranger.

    own : lists that it may name. Raises PlanError, and nothing else, whatever the text.
    """
    try:
        return read_plan_text(text, beside=own)
    except PlanError:
        raise
    except (ValueError, OverflowError, ArithmeticError) as error:
        # For one: a whole number of more digits than Python will turn into one.
        says = f"cannot be read: {str(error)[:200]}"
        raise PlanError("plan", (Problem("", says),)) from None


def catalogue_for(plan: Plan, own: Own) -> Catalogue:
    """Return the catalogue of a plan that was read: ours, its own rows and prices laid over it."""
    held = tuple(
        (file, table)
        for key, table in (("catalogue", None), ("prices", "price"))
        for file in named_by(plan, own, key)
    )
    return laid_catalogue(held)


@contextmanager
def with_weather(read: ReadPlan, weather: Weather) -> Iterator[ReadPlan]:
    """Hold a plan with its weather file in a folder of its own, under a name of ours."""
    if weather is None:
        yield read
        return
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "weather").write_bytes(weather[1])
        site = read.plan.site.model_copy(update={"weather": "weather"})
        plan = read.plan.model_copy(update={"site": site})
        yield replace(read, plan=plan, folder=Path(folder))


def read_with_weather(text: str, beside: Beside) -> AbstractContextManager[ReadPlan]:
    """Hold a plan's text read with the lists and the weather file beside it."""
    return with_weather(read_here(text, beside.own), beside.weather)


def weather_words(body: bytes) -> str:
    """Return what a weather file holds. Raises WeatherFileError where it cannot be read."""
    from hoopwright.climate.read import is_daily, read_daily, read_weather

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "weather"
        path.write_bytes(body)
        if is_daily(path):
            return f"daily record of {read_daily(path).station.name}"
        return f"a year of hours of {read_weather(path).station.name}"


def fingerprint(own: Own) -> str:
    """Return a fingerprint of files, "" for none."""
    if not own:
        return ""
    held = json.dumps([[file.name, file.text] for file in own])
    return hashlib.sha256(held.encode("utf-8")).hexdigest()


#: Most plans held beside one.
MOST_BESIDE = 3
#: What a search may be asked to hold to, by its field.
WISHES = ("hold", "cost", "days", "height")


def beside_in(looking: Mapping[str, Any]) -> tuple[str, ...]:
    """Return the plans that were last held beside a plan."""
    held = looking.get("beside")
    return tuple(map(str, held))[:MOST_BESIDE] if isinstance(held, list) else ()


def wishes_in(looking: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return what a search was last asked to hold to, by field, as it was written."""
    held = looking.get("wishes")
    held = held if isinstance(held, dict) else {}
    return tuple((key, str(held[key])) for key in WISHES if held.get(key))
