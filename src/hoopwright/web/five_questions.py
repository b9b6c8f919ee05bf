"""Five questions, and the plan that their answers begin.

Each answer sets keys of the plan that a person would set after reading the checks; nothing is
decided here that the checks do not judge afterwards, and what they would send back is changed
first. What to take for a trouble or a crop's height is common practice, no source.
"""

import math
import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from importlib import resources
from typing import Any

from hoopwright.checks.finding import Finding, Severity
from hoopwright.design import Design, design_of
from hoopwright.frozen import dataclass
from hoopwright.plan.read import PlanError, Problem, data_of
from hoopwright.plan.starter import OFFERED, starter_plan
from hoopwright.programme.cures import AGAINST_WIND, cure
from hoopwright.tables.catalogue import PRICED, Catalogue, our_catalogue
from hoopwright.web.beside import read_here
from hoopwright.web.choices import FieldWord, choices, sets_as_written

TROUBLES = {
    "frost": "Frost and a short season",
    "wind": "Wind",
    "hail": "Hail",
    "animals": "Animals",
    "heat": "Heat",
}

CROPS = {
    "low": "Salads, roots, onions: up to 16 in (40 cm)",
    "middle": "Peppers, bush beans, kale: up to 30 in (75 cm)",
    "tall": "Tomatoes, cucumbers, climbing beans: over 30 in (75 cm)",
}

#: Whose weather, and where its own is brought once the plan is begun.
WEATHERS = {
    "demo": "An invented valley, for a start",
    "file": "A weather file of my own, next",
    "normals": "Monthly means, typed next",
}

#: What a trouble sets; each is a key of the plan.
_AGAINST: dict[str, dict[str, Any]] = {
    "frost": {"cover.style": "framed", "cover.skirt": "6 in"},
    "wind": {
        "holding.pin": True,
        "holding.tied_to_soil": True,
        "holding.stakes": "corners",
        "hoops.ridge": "pipe",
    },
    "hail": {"cover.material": "film-woven", "hoops.spacing": "30 in"},
    "animals": {"wishes.animals": ["rabbit", "deer"], "cover.mesh_band": "24 in"},
    "heat": {"cover.roll_up": "both"},
}

#: Clear height over the boards; the middle takes a whole stick of pipe.
_HEIGHTS = {"low": "24 in", "middle": None, "tall": "48 in"}

#: What the season is worked out for at first; the list can be changed on the workbench.
_GROWN = {
    "low": ["lettuce-leaf", "spinach", "radish", "carrot", "beet", "onion", "scallion", "parsley"],
    "middle": ["pepper", "snap-bean", "kale", "chard", "broccoli", "basil", "lettuce-leaf"],
    "tall": ["tomato", "cucumber", "pea", "summer-squash", "basil", "lettuce-leaf", "spinach"],
}

_DEGREES = r"([+-]?\d{1,3}(?:\.\d{1,8})?)\s*°?\s*"
_COORDINATES = re.compile(rf"{_DEGREES}([NSns])?\s*[,;\s]\s*{_DEGREES}([EWew])?")

_METRIC = {
    "6 in": "150 mm",
    "24 in": "0.6 m",
    "30 in": "0.75 m",
    "48 in": "1.2 m",
    "8 ft": "2.4 m",
    "4 ft": "1.2 m",
}


@dataclass(frozen=True)
class Begun:
    """Answers to the five questions, as given."""

    length: str = OFFERED["bed.length"][0]
    width: str = OFFERED["bed.width"][0]
    place: str = ""
    #: One chosen from the list of places: "38.55, -106.93: Gunnison, Colorado, United States".
    found: str = ""
    coordinates: str = ""
    elevation: str = ""
    weather: str = "demo"
    exposure: str = "open"
    gust: str = ""
    troubles: tuple[str, ...] = ()
    crops: str = "middle"
    at_hand: tuple[Mapping[str, Any], ...] = ()
    metric: bool = False
    name: str = "My bed"


Designed = Callable[[str], Design]
"""From a plan's text to its design."""


@lru_cache(maxsize=8)
def _designed(text: str) -> Design:
    return design_of(read_here(text))


def begun_plan(begun: Begun, designed: Designed = _designed) -> str:
    """Return the text of the plan that the answers begin.

    designed : what works designs out, and keeps them: several are looked at on the way
    Raises PlanError naming the keys of answers that no plan accepts. A wish of ours (not of the
    reader's) that does not go with the rest is left out.
    """
    offered = {
        key: OFFERED[key][begun.metric] for key in ("bed.board", "hoops.pipe", "hoops.spacing")
    }
    text = _begun(begun, offered, designed)
    # Thicker pipe does not bend over every bed: there the plan's own defaults are tried.
    return _begun(begun, {}, designed) if _sent_back(designed(text)) else text


def _begun(begun: Begun, offered: Mapping[str, Any], designed: Designed) -> str:
    given, wishes = _given(begun), {**offered, **_wished(begun)}
    wished = {key: value for key, value in wishes.items() if key in choices()}
    text = _text(begun, given | wished)
    if _refused(text):
        for key in list(wished):
            if key in _refused(_text(begun, given | wished)):
                del wished[key]
        text = _text(begun, given | wished)
        if _refused(text):
            return _text(begun, given)
    return _cured(begun, given, wished, text, designed)


def _sent_back(design: Design) -> list[Finding]:
    """Return what a plan's own checks would send back."""
    return [one for one in design.findings if one.severity >= Severity.CHANGE]


def _cured(
    begun: Begun, given: dict[str, Any], wished: dict[str, Any], text: str, designed: Designed
) -> str:
    """Return the plan with what its own checks would send back changed, as far as it can be."""
    for step in AGAINST_WIND:
        design = designed(text)
        bad = _sent_back(design)
        cures = [cure(design, one) for one in bad]
        sets = {key: value for one in cures if one is not None for key, value in one.sets.items()}
        if any(one.name == "wind" for one in bad):
            sets |= {key: _round(value, begun.metric) for key, value in step.items()}
        if not sets:
            break
        # What the reader answered stands.
        more = sets_as_written({k: v for k, v in sets.items() if k not in given}, design.system)
        tried = _text(begun, given | wished | more)
        if _refused(tried):
            break
        wished, text = wished | more, tried
    return text


def _round(value: Any, metric: bool) -> Any:
    """Return a length [m] as a metric tape has it, no longer than it was; all else as it is."""
    return math.floor(value * 100) / 100 if metric and isinstance(value, float) else value


def _given(begun: Begun) -> dict[str, Any]:
    given: dict[str, Any] = {
        "name": begun.name or "My bed",
        "units": "metric" if begun.metric else "us",
        "bed.length": begun.length,
        "bed.width": begun.width,
        "site.exposure": begun.exposure,
    }
    pipes = {pipe.key for pipe in our_catalogue().everything_in("pipe")}
    at_hand = [row["item"] for row in begun.at_hand if row["item"] in pipes]
    if at_hand:
        given["hoops.pipe"] = at_hand[0]
    where, _, called = begun.found.partition(": ")
    if called or begun.place:
        given["site.name"] = called[:80] or begun.place
    if where := begun.coordinates.strip() or where:
        given["site.latitude"], given["site.longitude"] = coordinates_in(where)
    if begun.elevation.strip():
        given["site.elevation"] = begun.elevation
    if begun.gust:
        given["site.gust"] = begun.gust
    return given


def coordinates_in(words: str) -> tuple[str, str]:
    """Return latitude and longitude as a plan has them, from what a map gives: 44.05, -110.3 or
    44.05 N 110.3 W. Raises PlanError."""
    found = _COORDINATES.fullmatch(words.strip())
    if found is None:
        says = "write them as 44.05, -110.3 or 44.05 N, 110.3 W"
        raise PlanError("plan", (Problem("coordinates", says),))
    north, ns, east, ew = (part or "" for part in found.groups())
    return (
        f"{north.lstrip('+-')} {ns.upper() or ('S' if north.startswith('-') else 'N')}",
        f"{east.lstrip('+-')} {ew.upper() or ('W' if east.startswith('-') else 'E')}",
    )


def _wished(begun: Begun) -> dict[str, Any]:
    wished: dict[str, Any] = {}
    for trouble in begun.troubles:
        wished |= _AGAINST.get(trouble, {})
    if begun.crops in _GROWN:
        wished["season.crops"] = _GROWN[begun.crops]
    height = _HEIGHTS.get(begun.crops)
    if height is not None:
        wished["hoops.height"] = height
    if begun.metric:
        wished = {
            key: _METRIC.get(value, value) if isinstance(value, str) else value
            for key, value in wished.items()
        }
    return wished


def _text(begun: Begun, answers: Mapping[str, Any]) -> str:
    text = starter_plan(answers)
    for row in begun.at_hand:
        lines = [f'{key} = "{value}"' for key, value in row.items() if key != "count"]
        text += "\n[[stock]]\n" + "\n".join([*lines, f"count = {row['count']}"]) + "\n"
    return text


def _refused(text: str) -> list[str]:
    """Return the keys that a plan's text is refused for, none where it can be read."""
    try:
        read_here(text)
    except PlanError as error:
        return [problem.key for problem in error.problems]
    return []


def example_text() -> str:
    """Return the example's text: the plan of an invented place."""
    return (resources.files("hoopwright.web") / "examples" / "high-valley.toml").read_text("utf-8")


def things_at_hand(catalogue: Catalogue | None = None) -> tuple[FieldWord, ...]:
    """Return everything of a catalogue that can be at hand, by name; ours where none is given."""
    held = catalogue or our_catalogue()
    return tuple(
        FieldWord(record.key, record.name)
        for table in PRICED
        for record in held.everything_in(table)
    )


def row_at_hand(item: str, length: str, width: str, count: str) -> dict[str, Any]:
    """Return a row of the stock from a form's words; what cannot be a number is left as it is."""
    row: dict[str, Any] = {"item": item.strip()}
    if length.strip():
        row["length"] = length.strip()
    if width.strip():
        row["width"] = width.strip()
    number = count.strip() or "1"
    row["count"] = int(number) if number.isdecimal() and len(number) < 7 else number
    return row


def rows_in(text: str, catalogue: Catalogue) -> Sequence[str]:
    """Return what is at hand, each row in words."""
    names = {option.value: option.label for option in things_at_hand(catalogue)}
    said = []
    for row in data_of(text, "plan").get("stock", ()):
        size = " x ".join(str(row[part]) for part in ("width", "length") if part in row)
        words = f"{row.get('count', 1)} of {names.get(str(row.get('item')), row.get('item'))}"
        said.append(f"{words}, {size}" if size else words)
    return said
