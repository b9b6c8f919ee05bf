"""Reading a plan: the file, its catalogue, and every problem in it at once."""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from hoopwright.bed import Bed, box_of
from hoopwright.frozen import dataclass
from hoopwright.plan.contradictions import contradictions
from hoopwright.plan.fields import nearest
from hoopwright.plan.model import Plan
from hoopwright.tables import foreign
from hoopwright.tables.catalogue import Catalogue, our_catalogue
from hoopwright.tables.overlay import OwnFile, Source
from hoopwright.tables.reader import TableError
from hoopwright.tables.toml_text import LARGEST, toml_of

LONGEST_LIST = 400
MOST_TOLD = 40
"""Problems told at once."""
NO_FOLDER = "files cannot be named in a plan without a folder"
WEATHER_WITHOUT_FILE = ("demo", "normals")


@dataclass(frozen=True)
class Problem:
    """One thing wrong in a plan: the key ("bed.length"), and what to do about it."""

    key: str
    says: str

    def __str__(self) -> str:
        return f"{self.key}: {self.says}" if self.key else self.says


class PlanError(ValueError):
    """A plan that cannot be used; `problems` holds one entry for each thing wrong."""

    def __init__(self, file: str, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(f"{file}: {problem}" for problem in problems))
        self.file = file
        self.problems = problems


@dataclass(frozen=True)
class ReadPlan:
    """A plan as read, with the catalogue it is to be read against and where its files are.

    folder : on disk; beside : held as texts, where there is no folder
    """

    plan: Plan
    catalogue: Catalogue
    folder: Path | None = None
    beside: tuple[OwnFile, ...] = ()

    @cached_property
    def bed(self) -> Bed:
        """Return the board box the plan describes."""
        asked = self.plan.bed
        return box_of(
            asked.length,
            asked.width,
            measured=asked.measured,
            board=self.catalogue.board(asked.board),
            species=self.catalogue.species(asked.species),
            courses=asked.courses,
        )

    @property
    def varieties(self) -> tuple[Source, ...]:
        """Return the file of the user's own crops, where the plan names one."""
        return _varieties(self.plan, Files(self.folder, self.beside))

    @property
    def weather_file(self) -> Path | None:
        """Return the weather file the plan names, or None for the demo valley or normals."""
        name = self.plan.site.weather
        inside = name in WEATHER_WITHOUT_FILE or self.folder is None
        return None if inside else self.folder / name  # type: ignore[operator]


@dataclass(frozen=True)
class Files:
    """Where the files that a plan names are: in a folder on disk, or held beside it as texts.

    beside : None where neither is so; then no file can be named
    """

    folder: Path | None = None
    beside: tuple[OwnFile, ...] | None = None

    def named(self, name: str) -> Source | None:
        """Return the file of a name, or None; one held as text must have the very same name."""
        for file in self.beside or ():
            if file.name == name:
                return file
        return None if self.folder is None else self.folder / name

    def missing(self, name: str) -> str:
        """Return why a name finds nothing."""
        if self.beside is None:
            return NO_FOLDER
        return f'names "{name[:60]}", and no such list is here; bring that file first'


def _varieties(plan: Plan, files: Files) -> tuple[Source, ...]:
    name = plan.season.varieties
    found = None if name is None else files.named(name)
    return () if found is None else (found,)


def read_plan(path: Path | str) -> ReadPlan:
    """Return the plan in a TOML file.

    Files that the plan names (catalogue, prices) are looked for beside it.
    Raises PlanError naming the file, each key and what is accepted.
    """
    return read_plan_text(text_of(path), file=str(path), folder=Path(path).parent)


def text_of(path: Path | str, what: str = "plan") -> str:
    """Return the text of a plan file, or raise PlanError saying why there is none.

    what : what the file is to be, in words
    """
    try:
        text = foreign.text_held(Path(path), LARGEST)
    except OSError as error:
        reason = error.strerror or "cannot be read"
        raise PlanError(str(path), (Problem("", f"{reason}; give the path of a {what}"),)) from None
    if not text.strip():
        says = "is empty; `hoopwright new` writes a plan to start from"
        raise PlanError(str(path), (Problem("", says),))
    return text


def read_plan_text(
    text: str,
    *,
    file: str = "plan",
    folder: Path | None = None,
    beside: tuple[OwnFile, ...] | None = None,
) -> ReadPlan:
    """Return the plan in a TOML text.

    file   : what to call it in messages
    folder : where files named in it are
    beside : such files held as texts, where there is no folder; with neither they are refused
    """
    data = data_of(text, file)
    if isinstance(data.get("beds"), list):
        raise PlanError(file, (Problem("", "is a class of beds; `hoopwright class` reads it"),))
    if long := list(_too_long(data)):
        raise PlanError(file, tuple(long))
    files = Files(folder, beside)
    catalogue, problems = _catalogue(data, files)
    plan, wrong = _validated(data, catalogue)
    problems += wrong
    read = None
    if plan is not None:
        read = ReadPlan(plan, catalogue, folder, beside or ())
        spoilt = {problem.key for problem in problems}
        own = _varieties(plan, files)
        if plan.season.varieties is not None and not own:
            problems.append(Problem("season.varieties", files.missing(plan.season.varieties)))
        clashes = (
            Problem(key, says) for key, says in contradictions(plan, read.bed, catalogue, own)
        )
        problems += [clash for clash in clashes if clash.key not in spoilt]
        problems += _missing_weather(plan, folder)
    if problems or read is None:
        if more := problems[MOST_TOLD:]:
            problems[MOST_TOLD:] = [Problem("", f"and {len(more)} more; mend these first")]
        raise PlanError(file, tuple(problems))
    return read


def data_of(text: str, file: str, what: str = "plan") -> dict[str, Any]:
    """Return what a TOML text holds, or raise PlanError saying why it cannot be read."""
    try:
        return toml_of(text)
    except tomllib.TOMLDecodeError as error:
        raise PlanError(file, (Problem("", f"is not TOML: {error}"),)) from None
    except ValueError as error:
        raise PlanError(file, (Problem("", f"{error}; that is no {what}"),)) from None


def _too_long(data: Mapping[str, Any], within: str = "") -> Iterator[Problem]:
    for key, value in data.items():
        if isinstance(value, dict) and not within:
            yield from _too_long(value, f"{key}.")
        elif isinstance(value, list) and len(value) > LONGEST_LIST:
            says = f"has {len(value)} entries; at most {LONGEST_LIST}"
            yield Problem(f"{within}{key}", says)


def _catalogue(data: Mapping[str, Any], files: Files) -> tuple[Catalogue, list[Problem]]:
    """Return the catalogue with the plan's own rows and prices laid over it."""
    catalogue, problems = our_catalogue(), []
    held: list[tuple[OwnFile, str | None]] = []
    for key in ("catalogue", "prices"):
        name = data.get(key)
        if not isinstance(name, str) or (key == "prices" and name == "example"):
            continue
        source = files.named(name)
        if source is None:
            problems.append(Problem(key, files.missing(name)))
            continue
        table = "price" if key == "prices" else None
        try:
            if isinstance(source, OwnFile):
                held.append((source, table))
                catalogue = laid_catalogue(tuple(held))
            else:
                catalogue = catalogue.with_overlay(source, table)
        except (TableError, OSError, ValueError) as error:
            problems.append(Problem(key, str(error)))
            held = held[:-1]
    return catalogue, problems


@lru_cache(maxsize=16)
def laid_catalogue(held: tuple[tuple[OwnFile, str | None], ...]) -> Catalogue:
    """Return our catalogue with files held as texts laid over it; the last few are kept.

    held : each file with the table of a CSV that does not tell, as `Catalogue.with_overlay` has it
    """
    if not held:
        return our_catalogue()
    file, table = held[-1]
    return laid_catalogue(held[:-1]).with_overlay(file, table)


def _missing_weather(plan: Plan, folder: Path | None) -> list[Problem]:
    name = plan.site.weather
    if name in WEATHER_WITHOUT_FILE:
        return []
    if folder is None:
        return [Problem("site.weather", NO_FOLDER)]
    if not (folder / name).is_file():
        return [Problem("site.weather", f'there is no file "{name}" beside the plan; or "demo"')]
    return []


def _validated(data: dict[str, Any], catalogue: Catalogue) -> tuple[Plan | None, list[Problem]]:
    """Return the plan and its problems.

    Where values are refused, they are left out and the rest is read again with defaults in
    their place, so that contradictions elsewhere are found in the same pass.
    """
    context = {"catalogue": catalogue}
    try:
        return Plan.model_validate(data, context=context), []
    except ValidationError as error:
        refused = error.errors(include_url=False)
    problems = problems_of(refused, Plan, "plan")
    kept = _without(data, [item["loc"] for item in refused])
    try:
        return Plan.model_validate(kept, context=context), problems
    except ValidationError:
        return None, problems


def _without(data: dict[str, Any], places: list[tuple[int | str, ...]]) -> dict[str, Any]:
    """Return a copy without the values at these places; list rows go whole."""
    copy: dict[str, Any] = {
        key: dict(value) if isinstance(value, dict) else value for key, value in data.items()
    }
    for place in places:
        head = str(place[0]) if place else ""
        if len(place) >= 2 and isinstance(copy.get(head), dict):
            copy[head].pop(place[1], None)
        else:
            copy.pop(head, None)
    return copy


def problems_of(refused: list[ErrorDetails], model: type[BaseModel], what: str) -> list[Problem]:
    """Return what a model of a file refuses, each by its key. what : the file, in words."""
    found = []
    for item in refused:
        place = item["loc"]
        key = ".".join(f"[{part + 1}]" if isinstance(part, int) else part for part in place)
        found.append(Problem(key.replace(".[", "["), _says(item, place, model, what)))
    return found


def _says(
    item: ErrorDetails, place: tuple[int | str, ...], model: type[BaseModel], what: str
) -> str:
    given, limits = item["input"], item.get("ctx", {})
    match item["type"]:
        case "extra_forbidden":
            known = _known_keys(model, place[:-1])
            return f"is not a key of a {what}{nearest(str(place[-1]), known)}; {_listed(known)}"
        case "missing":
            return "is needed here"
        case "literal_error":
            accepted = str(limits["expected"])
            words = [word.strip("' ") for word in accepted.replace(" or ", ", ").split(",")]
            return f"{_shown(given)} is not accepted{nearest(str(given), words)}; one of {accepted}"
        case "plan_value":
            return str(limits["says"])
        case "too_long" | "string_too_long" if isinstance(given, str):
            return f"is longer than {limits['max_length']} letters; shorten it"
        case "model_type" | "model_attributes_type" | "dict_type":
            if isinstance(place[-1], int):
                return f"is a row; write each under [[{place[-2]}]]"
            name = str(place[-1])
            return f"is a section; write [{name}] on its own line and its keys below it"
        case "tuple_type" | "list_type":
            return f"{_shown(given)} is not a list; write it in square brackets"
        case "too_long" if isinstance(given, list):
            return f"has {len(given)} rows; at most {limits['max_length']}"
        case _:
            return f"{_shown(given)} is refused: {_lower(item['msg'])}"


def _known_keys(model: Any, place: tuple[int | str, ...]) -> list[str]:
    """Return the keys accepted at a place of a model."""
    for part in place:
        if isinstance(part, int):
            continue
        model = _model_in(model.model_fields[part].annotation)
    return list(model.model_fields)


def _model_in(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next(part for part in annotation.__args__ if isinstance(part, type))


def _listed(words: list[str]) -> str:
    return "keys here: " + ", ".join(words)


def _shown(value: object) -> str:
    text = repr(value) if not isinstance(value, str) else f'"{value}"'
    return text if len(text) <= 60 else text[:57] + "..."


def _lower(message: str) -> str:
    return message[:1].lower() + message[1:]
