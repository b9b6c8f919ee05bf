"""What an owner has brought beside a plan's text: lists of their own, and a weather file."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

from hoopwright.frozen import dataclass
from hoopwright.plan.model import Plan
from hoopwright.tables.overlay import OwnFile

Own = tuple[OwnFile, ...]
"""Files of the owner's own, as texts."""

Weather = tuple[str, bytes] | None
"""The name and the bytes of a plan's weather file, where it has one."""

KEYS: Mapping[str, str] = {
    "prices": "Price list",
    "catalogue": "Catalogue rows",
    "season.varieties": "Crops and varieties",
}
"""Keys of a plan that name a file of the owner's own, and what such a file is called."""


@dataclass(frozen=True)
class Beside:
    """The files that stand beside one plan, and the class that is planned from it."""

    own: Own = ()
    weather: Weather = None
    households: str = ""


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


def fingerprint(own: Own) -> str:
    """Return a fingerprint of files, "" for none."""
    if not own:
        return ""
    held = json.dumps([[file.name, file.text] for file in own])
    return hashlib.sha256(held.encode("utf-8")).hexdigest()
