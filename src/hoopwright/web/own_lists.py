"""An owner's own lists: taken in only where every plan that names them can still be read.

They are as files in one folder beside all of the owner's plans. A plan names at most one of each
kind, by the very keys that the command line reads.
"""

import re
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

from hoopwright.frozen import dataclass
from hoopwright.plan.read import PlanError, Problem, data_of, laid_catalogue
from hoopwright.season.crops import TABLES as CROP_TABLES
from hoopwright.season.crops import crops
from hoopwright.store import Saved, Store
from hoopwright.tables.catalogue import TABLES
from hoopwright.tables.overlay import OwnFile, overlay_rows
from hoopwright.tables.reader import TableError
from hoopwright.web.beside import KEYS, Own, names_in, read_here
from hoopwright.web.editing import edited
from hoopwright.web.saved import Changed, SavedPlans

#: Largest list: bytes, and lines.
LARGEST, MOST_LINES = 128 * 1024, 2000
NAME = r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,58}\.(?:toml|csv)"


class ListError(PlanError):
    """A list that cannot be used; `problems` says why."""

    def __init__(self, name: str, *says: str) -> None:
        """Take the list's name and what is wrong, which need not say the name again."""
        words = (one.removeprefix(f"{name}: ")[:600] for one in says)
        super().__init__(name, tuple(Problem("", one) for one in words))

    @property
    def lines(self) -> tuple[str, ...]:
        """Return what is wrong, each with the list's name before it."""
        return tuple(f"{self.file}: {problem.says}" for problem in self.problems)


@dataclass(frozen=True)
class Brought:
    """A list as sent: the key of a plan that it is for, and the file."""

    kind: str
    file: OwnFile


class OwnLists:
    """One owner's lists."""

    def __init__(self, store: Store, plans: SavedPlans) -> None:
        """Take the store and the owner's plans."""
        self._store, self._plans, self._owner = store, plans, plans.owner

    def text(self, name: str) -> str | None:
        """Return a list's text, or None."""
        return self._store.lists.text(self._owner, name)

    def put(self, brought: Brought) -> None:
        """Keep a list in place of the one of that name. Raises ListError."""
        about = about_list(brought)
        for saved in self._naming(brought.file.name):
            self._still_read(saved, brought.file)
        self._keep(brought, about)

    def use(self, plan: str, brought: Brought) -> Changed:
        """Keep a list and let a plan name it, one change that can be undone.

        Raises ListError where the plan cannot be worked out with it, or another one not read.
        """
        about, file = about_list(brought), brought.file
        saved = self._plans.get(plan)
        text = edited(saved.text, {brought.kind: file.name})
        try:
            self._plans.designs.design(text, _with(self._plans.own(text), file))
        except PlanError as error:
            raise ListError(file.name, *(_of(problem) for problem in error.problems)) from None
        for other in self._naming(file.name):
            if other.id != plan:
                self._still_read(other, file)
        self._keep(brought, about)
        return self._plans.put(saved, text, KEYS[brought.kind])

    def forget(self, name: str) -> None:
        """Delete a list that no plan names. Raises ListError."""
        using = [saved.name for saved in self._naming(name)]
        if using:
            plans = ", ".join(using[:4])
            raise ListError(name, f"is used by {plans}; choose another there first")
        self._store.lists.forget(self._owner, name)

    def begin(self, text: str, files: Own) -> Saved:
        """Save a plan together with the lists that it names. Raises PlanError."""
        plan = read_here(text, files + tuple(f for f in self._plans.own(text) if f not in files))
        kinds = {name: key for key, name in names_in(plan.plan).items()}
        for file in files:
            if file.name not in kinds:
                raise ListError(file.name, "is not named in the plan; leave it out")
            if self.text(file.name) not in (None, file.text):
                raise ListError(file.name, "is here already and says something else; rename yours")
        for file in files:
            self.put(Brought(kinds[file.name], file))
        return self._plans.add(text)

    def _keep(self, brought: Brought, about: str) -> None:
        file = brought.file
        self._store.lists.put(self._owner, brought.kind, about, file.name, file.text)

    def _naming(self, name: str) -> Iterator[Saved]:
        """Yield the plans that name a list as they stand."""
        for saved in self._store.plans.all(self._owner):
            if name in saved.text and name in _names(saved.text):
                yield saved

    def _still_read(self, saved: Saved, file: OwnFile) -> None:
        try:
            read_here(saved.text, _with(self._plans.own(saved.text), file))
        except PlanError as error:
            says = f'the plan "{saved.name}" uses it and could not be read: '
            raise ListError(file.name, says + _of(error.problems[0])) from None


def _names(text: str) -> set[object]:
    """Return the files that a saved plan names, also where one of them is gone."""
    try:
        data = data_of(text, "plan")
    except PlanError:
        return set()
    season = data.get("season")
    varieties = season.get("varieties") if isinstance(season, dict) else None
    named = (data.get("prices"), data.get("catalogue"), varieties)
    return {name for name in named if isinstance(name, str)}


def _with(own: Own, file: OwnFile) -> Own:
    return (*(held for held in own if held.name != file.name), file)


def _of(problem: Problem) -> str:
    """Return a problem without the key that only says that it is of the list."""
    return problem.says if problem.key in KEYS else str(problem)


def brought(kind: str, name: str, body: bytes | str) -> Brought:
    """Return a list as sent by a stranger, its name made plain. Raises ListError.

    The path before the name is dropped: it is of the sender's disk.
    """
    bare = re.split(r"[\\/]", name)[-1].strip()
    if kind not in KEYS:
        raise ListError(bare, "say what it is: " + ", ".join(KEYS.values()))
    if not re.fullmatch(NAME, bare):
        raise ListError(
            bare[:60] or "the list",
            "needs a name of letters, digits, points and dashes that ends in .toml or .csv",
        )
    try:
        text = body if isinstance(body, str) else body.decode("utf-8-sig")
        size = len(text.encode("utf-8"))
    except UnicodeError as error:
        says = f"is not UTF-8 text ({error}); save it as UTF-8"
        raise ListError(bare, says) from None
    return Brought(kind, OwnFile(bare, _plain(bare, text, size)))


def _plain(name: str, text: str, size: int) -> str:
    """Return a list's text if it is small enough and plain, or raise."""
    if size > LARGEST:
        raise ListError(name, f"is too large: at most {LARGEST // 1024} KB")
    if not text.strip():
        raise ListError(name, "is empty")
    for number, line in enumerate(text.split("\n"), start=1):
        if number > MOST_LINES:
            raise ListError(name, f"is too long: at most {MOST_LINES} lines")
        if any(letter < " " and letter not in "\t\r" for letter in line):
            raise ListError(name, f"line {number}: holds a letter that no list can")
    return text


@lru_cache(maxsize=32)
def about_list(brought: Brought) -> str:
    """Return what a list holds, in words. Raises ListError where its rows cannot be used at all.

    A price or a roll of something that another list of the plan's brings is judged with the plan.
    """
    file = brought.file
    try:
        if brought.kind == "season.varieties":
            rows = overlay_rows(file, CROP_TABLES)
            crops(file)
        else:
            table = "price" if brought.kind == "prices" else None
            rows = overlay_rows(file, tuple(TABLES), table)
            if brought.kind == "catalogue":
                laid_catalogue(((file, table),))
    except (TableError, KeyError, ValueError, RecursionError) as error:
        raise ListError(file.name, str(error)) from None
    if not rows:
        raise ListError(file.name, "holds no row")
    counts = Counter(row.table for row in rows)
    dates = sorted({row.row.cells["date"] for row in rows if "date" in row.row.cells})
    words = ", ".join(f"{count} of {table.replace('_', ' ')}" for table, count in counts.items())
    return f"rows: {words}" + (f"; prices of {', '.join(dates[-3:])}"[:80] if dates else "")
