"""What a job can be: its name, what it does, and how long it is."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from hoopwright.plan import Plan
from hoopwright.store.results import key_of
from hoopwright.web.beside import Beside, Own, fingerprint, named_by
from hoopwright.web.running import Progress, Work
from hoopwright.web.season import coming, season


@dataclass(frozen=True)
class Kind:
    """A kind of long work; `about` says what it is and how long it takes.

    daily : True where a result holds only for the day on which it was worked out
    """

    name: str
    about: str
    work: Work
    button: str = "Work it out"
    daily: bool = False

    def key(self, plan: Plan, own: Own, weather: str) -> str:
        """Return under which key its result on a plan is kept; comments and name do not count.

        own : lists it may name; weather : fingerprint of its weather file, "" without one
        """
        day = datetime.date.today().isoformat() if self.daily else ""
        held = plan.model_dump_json(exclude={"name", "paper"})
        lists = fingerprint(named_by(plan, own))
        return key_of(self.name, code_print(), day, held, weather, lists)


@lru_cache(maxsize=1)
def code_print() -> str:
    """Return a fingerprint of the program, so that no result outlives the code that gave it."""
    root = Path(__file__).parents[1]
    files = sorted(path for path in root.rglob("*") if path.suffix in (".py", ".csv"))
    seen = [
        (str(path.relative_to(root)), path.stat().st_size, path.stat().st_mtime_ns)
        for path in files
    ]
    return hashlib.sha256(repr(seen).encode("utf-8")).hexdigest()


def changes(text: str, beside: Beside, progress: Progress) -> Any:
    """Return what each change of the plan would gain and cost, as words and keys."""
    from hoopwright.cli.data import change_data
    from hoopwright.design import design_of
    from hoopwright.programme.changes import worked_changes
    from hoopwright.sheet.ladder_words import change_words
    from hoopwright.web.working import read_here

    def told(done: int, whole: int) -> None:
        progress(done / whole, f"{done} of {whole} changes worked out, each as a whole design.")

    read = read_here(text, beside.own)
    before = design_of(read)
    worked = worked_changes(read, before, told)
    words = change_words(before, worked)
    return [
        {"what": said.what, "gain": said.gain, "sets": change_data(one)["sets"]}
        for said, one in zip(words, worked, strict=True)
    ]


KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind(
            "changes",
            "What would help, each change worked out as a whole design, a few seconds",
            changes,
        ),
        Kind(
            "season",
            "The bed run hour by hour through many years, open and covered, about 10 s",
            season,
        ),
        Kind(
            "today",
            "When to open and close in the coming days, and what the nights will be",
            coming,
            "Ask for the forecast",
            daily=True,
        ),
    )
}
