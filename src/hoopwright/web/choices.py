"""The plan's choices as fields of a page: every key of the plan model, in the words of the trade.

Which keys stand open and what they are called is said here; all the rest follows from the model
(words, ranges, help, catalogue), so a key that the plan gains later shows by itself.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hoopwright.frozen import dataclass
from hoopwright.plan.fields import Item, Quantity
from hoopwright.plan.model import Plan
from hoopwright.plan.read import data_of
from hoopwright.plan.starter import METRIC_DEFAULTS
from hoopwright.season.crops import crops
from hoopwright.store import OwnList
from hoopwright.tables.catalogue import Catalogue, our_catalogue
from hoopwright.tables.overlay import Source
from hoopwright.units import System, show

FieldKind = Literal["words", "pick", "many", "tick", "list"]
Value = str | bool | tuple[str, ...]


@dataclass(frozen=True)
class FieldWord:
    """One of the words a choice accepts, and how it is called."""

    value: str
    label: str


#: Keys that name a file of the reader's own, and what stands for none.
_FILES = {
    "prices": FieldWord("example", "the invented example list"),
    "catalogue": FieldWord("", "none"),
    "season.varieties": FieldWord("", "none"),
}
#: A weather file is brought on the season's page; here stand the words that name none.
_WEATHERS = (
    FieldWord("demo", "invented demo valley"),
    FieldWord("normals", "the plan's monthly normals"),
)
_FILE_HELP = "Ours, or a file of your own, brought on the page Own lists."
_WEATHER_HELP = "A weather file brought on the season's page comes before either."
#: Picked from the table of crops, the owner's own varieties among them.
CROPS = "season.crops"
#: Rows have pages of their own.
_ROWS = ("stock",)

#: Section -> its title, and the keys that stand open; the others are folded away.
_OPEN: dict[str, tuple[str, tuple[str, ...]]] = {
    "bed": ("Bed", ("length", "width", "board", "legs", "box")),
    "hoops": ("Hoops", ("pipe", "height", "spacing", "straps_per_leg", "ridge")),
    "cover": ("Cover", ("material", "style", "roll_up", "mesh_band")),
    "holding": ("Holding down", ("pin", "stakes", "tied_to_soil")),
    "site": ("Place", ("name", "exposure", "standard", "gust", "ground_snow", "barrier")),
    "wishes": ("Wishes", ("animals", "workers", "brushed")),
    "season": ("Season", ("cover_from", "cover_until", "sides", "crops")),
    "": ("Plan", ("name", "units")),
}

#: Key -> what it is called, where that is not its name in plain words.
_LABELS = {
    "name": "Title",
    "paper": "Paper of the sheet",
    "bed.board": "Boards",
    "bed.species": "Wood",
    "bed.measured": "Sizes are measured",
    "bed.courses": "Boards one above the other",
    "bed.legs": "Hoop legs",
    "bed.reach_from": "Reached from",
    "hoops.stock_length": "Pipe in each hoop",
    "hoops.height": "Height over the boards",
    "hoops.spacing": "Widest gap between hoops",
    "hoops.embed": "Leg below the board top",
    "hoops.straps_per_leg": "Straps on each leg",
    "hoops.first_offset": "First hoop from the end",
    "hoops.last_offset": "Last hoop from the end",
    "hoops.pair_gap": "Between paired hoops",
    "hoops.ridge": "Ridge line",
    "hoops.brace": "Ridge tied back at the ends",
    "hoops.coldest_bend": "Coldest day to bend",
    "hoops.guys": "Cords to pegs beside the bed",
    "cover.end_overlap": "Cover beyond each end",
    "cover.clip_spacing": "Between clips on an end hoop",
    "cover.mesh": "Mesh of that band",
    "cover.material": "Film, fabric or mesh",
    "cover.style": "Ends",
    "cover.roll_up": "Sides that roll up",
    "cover.fixed_edge": "Other sides held by",
    "cover.turn": "End film round its hoop",
    "cover.rail": "Roll-up rail",
    "cover.lacing": "Cord laced over each bay",
    "cover.mesh_band": "Mesh band behind the sides",
    "holding.legs": "Legs held by",
    "holding.pin": "A screw through each leg",
    "holding.tied_to_soil": "Boards tied under the soil",
    "holding.pull_test": "Your pulls at the legs",
    "holding.pull_test_aged": "Those straps were a season old",
    "holding.rail": "Rail held down by",
    "holding.clip_test": "Your pulls at the clips",
    "holding.tie_test": "Your pulls at the rail’s ties",
    "holding.stake": "Kind of stake",
    "holding.stake_depth": "Stakes into the ground",
    "holding.strap_screw": "Screw of the straps",
    "holding.batten_screw": "Screw of the battens",
    "holding.clip": "Film clip",
    "site.name": "Place",
    "site.exposure": "Upwind stands",
    "site.standard": "Wind and snow by",
    "site.gust": "Gust to design for",
    "site.ground_snow": "Snow load on the ground",
    "site.barrier": "Sheltered by",
    "site.cold_pool": "Colder than the station",
    "site.gust_years": "Years between such gusts",
    "site.snow_years": "Years between such snows",
    "site.barrier_height": "Height of that shelter",
    "site.barrier_distance": "Bed’s distance from it",
    "season.cover_from": "Cover goes on",
    "season.cover_until": "Cover comes off after",
    "season.sides": "Sides are opened",
    "season.open_height": "Sides rolled up by",
    "season.morning": "Morning visit",
    "season.evening": "Evening visit",
    "season.opener_from": "Opener starts at",
    "season.inner_fabric": "Fabric on the plants",
    "season.jugs": "Jugs of water inside",
    "season.beside": "Other covers to compare",
    "season.risk": "Risk put up with",
    "season.years": "Years generated",
    "season.seed": "Seed of those years",
    "measured.leak": "Leak, as measured",
    "measured.light": "Light, as measured",
    "measured.moisture": "Soil water, as measured",
    "prices": "Price list",
    "catalogue": "Own catalogue rows",
    "season.varieties": "Own varieties",
    "wishes.animals": "Keep out",
    "wishes.workers": "Worked by",
    "wishes.brushed": "Snow brushed off",
}


@dataclass(frozen=True)
class PlanField:
    """One key of a plan as a field.

    kind    : words (text), pick (one of), many (any of), tick (yes or no), list (text, commas)
    default : what holds where the plan does not say; `whole` where it must be a whole number
    table   : of the catalogue, where the words are its keys
    """

    key: str
    label: str
    help: str
    kind: FieldKind
    options: tuple[FieldWord, ...]
    default: Value
    whole: bool
    folded: bool
    table: str = ""

    @property
    def id(self) -> str:
        """Return an id that is safe in a page."""
        return "choice-" + (self.key.replace(".", "-").replace("_", "-"))


@dataclass(frozen=True)
class FieldGroup:
    """A section of the plan: its title and its choices."""

    key: str
    title: str
    choices: tuple[PlanField, ...]

    @property
    def open(self) -> tuple[PlanField, ...]:
        """Return the choices that stand open."""
        return tuple(choice for choice in self.choices if not choice.folded)

    @property
    def folded(self) -> tuple[PlanField, ...]:
        """Return the choices that are folded away."""
        return tuple(choice for choice in self.choices if choice.folded)


@lru_cache(maxsize=2)
def groups(metric: bool = False) -> tuple[FieldGroup, ...]:
    """Return every group of choices in the reading order of the work."""
    sections = {"": Plan} | {
        name: field.annotation
        for name, field in Plan.model_fields.items()
        if isinstance(field.annotation, type) and issubclass(field.annotation, BaseModel)
    }
    order = [name for name in _OPEN if name] + [name for name in sections if name not in _OPEN]
    return tuple(_group(name, sections[name], metric) for name in (*order, ""))


@lru_cache(maxsize=2)
def choices(metric: bool = False) -> Mapping[str, PlanField]:
    """Return every choice by its key."""
    return {choice.key: choice for group in groups(metric) for choice in group.choices}


def called(key: str) -> str:
    """Return what a key is called on the pages; the key itself where it is no choice."""
    choice = choices().get(key)
    return choice.label if choice else key


def _group(name: str, section: type[BaseModel], metric: bool) -> FieldGroup:
    title, first = _OPEN.get(name, (name.replace("_", " ").capitalize(), ()))
    fields = {
        key: field
        for key, field in section.model_fields.items()
        if not _is_section(field) and _key(name, key) not in _ROWS
    }
    keys = [key for key in first if key in fields] + [key for key in fields if key not in first]
    made = [_choice(_key(name, key), fields[key], bool(first) and key not in first) for key in keys]
    if metric:
        made = [replace(one, default=METRIC_DEFAULTS.get(one.key, one.default)) for one in made]
    return FieldGroup(name or "plan", title, tuple(made))


def _key(section: str, name: str) -> str:
    return f"{section}.{name}" if section else name


def _is_section(field: FieldInfo) -> bool:
    kinds = (field.annotation, *get_args(field.annotation))
    return any(isinstance(kind, type) and issubclass(kind, BaseModel) for kind in kinds)


def _choice(key: str, field: FieldInfo, folded: bool) -> PlanField:
    name = key.rpartition(".")[2]
    label = _LABELS.get(key, name.replace("_", " ").capitalize())
    if key in _FILES or key == "site.weather":
        words = (_FILES[key],) if key in _FILES else _WEATHERS
        help_ = _FILE_HELP if key in _FILES else _WEATHER_HELP
        return PlanField(key, label, help_, "pick", words, words[0].value, False, folded)
    if key == CROPS:
        return PlanField(key, label, _help(field), "many", _of_the_crops(), (), False, folded)
    kind, options, whole = _shape(field)
    parts = parts_of(field.annotation, field.metadata)
    table = next((part.table for part in parts if isinstance(part, Item)), "")
    default = _shown(field.default, kind)
    return PlanField(key, label, _help(field), kind, options, default, whole, folded, table)


def _shape(field: FieldInfo) -> tuple[FieldKind, tuple[FieldWord, ...], bool]:
    """Return the kind of field, the words it accepts, and whether they are whole numbers."""
    parts = tuple(parts_of(field.annotation, field.metadata))
    listed = isinstance(field.default, tuple)
    for part in parts:
        if isinstance(part, Item):
            optional = field.default is None
            return ("many" if listed else "pick"), _of_the_catalogue(part.table, optional), False
        if get_origin(part) is Literal:
            words = get_args(part)
            none = () if listed or field.default is not None else (FieldWord("", "as usual"),)
            options = none + tuple(FieldWord(str(word), str(word)) for word in words)
            whole = all(isinstance(word, int) for word in words)
            return ("many" if listed else "pick"), options, whole
    if bool in parts:
        return "tick", (), False
    return ("list" if listed else "words"), (), int in parts


def parts_of(annotation: Any, metadata: Any = ()) -> Iterator[Any]:
    """Yield an annotation, all it is made of, and what is noted beside each."""
    yield annotation
    yield from metadata
    if get_origin(annotation) is not Literal:
        for part in get_args(annotation):
            if part is not Ellipsis:
                yield from parts_of(part)


def _of_the_catalogue(
    table: str, optional: bool, catalogue: Catalogue | None = None
) -> tuple[FieldWord, ...]:
    records = (catalogue or our_catalogue()).everything_in(table)
    none = (FieldWord("", "what fits"),) if optional else ()
    return none + tuple(
        FieldWord(record.key, getattr(record, "name", record.key)) for record in records
    )


def _of_the_crops(varieties: tuple[Source, ...] = ()) -> tuple[FieldWord, ...]:
    found = crops(*varieties).items()
    return tuple(sorted((FieldWord(key, one.name) for key, one in found), key=lambda w: w.label))


def with_own(
    shown: tuple[FieldGroup, ...],
    catalogue: Catalogue,
    lists: Iterable[OwnList],
    named: Mapping[str, str],
    varieties: tuple[Source, ...] = (),
) -> tuple[FieldGroup, ...]:
    """Return groups that offer an owner's lists, and the rows that a list adds to ours.

    named : the lists that the plan names, by key; varieties : those of them that hold crops
    """
    held = [(one.kind, one.name) for one in lists]
    held += [(key, name) for key, name in named.items() if (key, name) not in held]
    if not held and not catalogue.overlays:
        return shown

    def offered(choice: PlanField) -> PlanField:
        if choice.key in _FILES:
            names = tuple(FieldWord(name, name) for kind, name in held if kind == choice.key)
            return replace(choice, options=(_FILES[choice.key], *names))
        if choice.key == CROPS and varieties:
            return replace(choice, options=_of_the_crops(varieties))
        if not choice.table or not catalogue.overlays:
            return choice
        none = tuple(option for option in choice.options if not option.value)
        rows = _of_the_catalogue(choice.table, False, catalogue)
        return replace(choice, options=(*none, *rows))

    return tuple(
        replace(group, choices=tuple(offered(choice) for choice in group.choices))
        for group in shown
    )


def _help(field: FieldInfo) -> str:
    ranges = [
        f" {part.low} to {part.high}."
        for part in parts_of(field.annotation, field.metadata)
        if isinstance(part, Quantity)
    ]
    return (field.description or "") + "".join(ranges)


def _shown(value: Any, kind: FieldKind) -> Value:
    if kind == "tick":
        return bool(value)
    if kind == "many":
        return tuple(str(word) for word in value)
    if kind == "list":
        return ", ".join(str(word) for word in value)
    return "" if value is None else str(value)


def as_written(value: object, system: System) -> Value:
    """Return a value of a plan in SI as a person would write it; every number here is a length."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return value
    if isinstance(value, float):
        return show(value, "length", system)
    return str(value)


def sets_as_written(sets: Mapping[str, Any], system: System) -> dict[str, Value]:
    """Return keys of a plan with values in SI, each as a person would write it."""
    return {key: as_written(value, system) for key, value in sets.items()}


def values_in(text: str) -> dict[str, Value]:
    """Return the value shown for every choice: as the plan writes it, or the default."""
    data = data_of(text, "plan")
    return {
        key: _value_in(choice, data)
        for key, choice in choices(data.get("units") == "metric").items()
    }


def _value_in(choice: PlanField, data: Mapping[str, Any]) -> Value:
    section, _, name = choice.key.rpartition(".")
    held = data.get(section, {}) if section else data
    return _shown(held[name], choice.kind) if name in held else choice.default
