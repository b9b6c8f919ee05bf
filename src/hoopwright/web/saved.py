"""Saved plans as the pages handle them: changed key by key, and only to what can be worked out."""

from collections.abc import Mapping
from dataclasses import field

from hoopwright.frozen import dataclass
from hoopwright.plan.read import PlanError, Problem, ReadPlan
from hoopwright.store import Saved, Stale, Store
from hoopwright.tables.overlay import OwnFile
from hoopwright.web.beside import Own, read_here
from hoopwright.web.choices import Value, called, choices, values_in
from hoopwright.web.designs import Designs, Worked
from hoopwright.web.editing import edited, in_words


class Full(ValueError):
    """A visitor has as many plans as they may."""


@dataclass(frozen=True)
class Changed:
    """What came of some changes: the plan as it stands now, and what was refused, by key."""

    saved: Saved
    worked: Worked
    refused: Mapping[str, str] = field(default_factory=dict)


class SavedPlans:
    """One owner's plans."""

    def __init__(self, store: Store, designs: Designs, owner: str, most: int) -> None:
        """Take the store, what works designs out, and how many plans the owner may have."""
        self.store, self.designs, self.owner, self._most = store, designs, owner, most

    def own(self, text: str) -> Own:
        """Return the owner's lists that a plan's text may name."""
        found = self.store.lists.named_in(self.owner, text)
        return tuple(OwnFile(name, held) for name, held in found)

    def design(self, text: str) -> Worked:
        """Return a text's design, with the owner's lists beside it. Raises PlanError."""
        return self.designs.design(text, self.own(text))

    def read(self, text: str) -> ReadPlan:
        """Return a text read, with the owner's lists beside it. Raises PlanError."""
        return read_here(text, self.own(text))

    def add(self, text: str, family: str | None = None) -> Saved:
        """Save a new plan. Raises PlanError where it cannot be used, Full where there are many."""
        if self.store.plans.count(self.owner) >= self._most:
            raise Full(f"{self._most} plans are saved already; delete some first")
        worked = self.design(text)
        return self.store.plans.add(self.owner, worked.plan.name, text, family)

    def get(self, plan: str) -> Saved:
        """Return a plan. Raises NoSuchPlan."""
        return self.store.plans.get(self.owner, plan)

    def open(self, plan: str) -> Changed:
        """Return a plan with its design."""
        saved = self.get(plan)
        return Changed(saved, self.design(saved.text))

    def put(self, saved: Saved, text: str, note: str = "changed outside") -> Changed:
        """Save a whole new text made from a plan as it was read.

        Raises Stale where it has changed since.
        """
        worked = self.design(text)
        if text == saved.text:
            return Changed(saved, worked)
        return Changed(self._next(saved, worked, note), worked)

    def _next(self, saved: Saved, worked: Worked, note: str) -> Saved:
        name, text = worked.plan.name, worked.text
        return self.store.plans.change(self.owner, saved.id, name, text, note, saved.stamp)

    def change(self, plan: str, wanted: Mapping[str, Value], seen: str | None = None) -> Changed:
        """Change some choices. Those that cannot be are refused in words; the others are made.

        seen : the text that the asker had before them, the present one where it is not given.
        What others have changed meanwhile stays: other choices go together with these, and where
        it is the same choice, theirs stands and this one is refused.
        """
        saved = self.get(plan)
        before = values_in(saved.text if seen is None else seen)
        while True:
            clashes = _clashes(before, values_in(saved.text), wanted)
            rest = {key: value for key, value in wanted.items() if key not in clashes}
            text, worked, refused = self._as_far_as_possible(saved.text, rest)
            if text != saved.text:
                note = ", ".join(choices()[key].label for key in rest if key not in refused)
                try:
                    saved = self._next(saved, worked, note)
                except Stale:
                    # Another was quicker; each time round, somebody's change has been saved.
                    saved = self.get(plan)
                    continue
            return Changed(saved, worked, clashes | refused)

    def _as_far_as_possible(
        self, text: str, wanted: Mapping[str, Value]
    ) -> tuple[str, Worked, dict[str, str]]:
        """Return the text with the changes that go together, one by one where not all do."""
        refused: dict[str, str] = {}
        if not wanted:
            return text, self.design(text), refused
        try:
            return self._tried(text, wanted)
        except PlanError as error:
            if len(wanted) == 1:
                refused[next(iter(wanted))] = refusal(error, next(iter(wanted)))
                return text, self.design(text), refused
        for key, value in wanted.items():
            try:
                self.read(edited(text, {key: value}))
                text = self._tried(text, {key: value})[0]
            except PlanError as error:
                refused[key] = refusal(error, key)
        return text, self.design(text), refused

    def _tried(self, text: str, wanted: Mapping[str, Value]) -> tuple[str, Worked, dict[str, str]]:
        changed = edited(text, wanted)
        return changed, self.design(changed), {}

    def step(self, plan: str, by: int) -> Changed:
        """Undo (-1) or redo (1)."""
        self.store.plans.step(self.owner, plan, by, lambda text: self.read(text).plan.name)
        return self.open(plan)

    def variant(self, plan: str) -> Saved:
        """Return a copy of a plan with its weather file, beside it in the same family."""
        saved = self.get(plan)
        number = len(self.store.plans.all(self.owner, saved.family)) + 1
        name = f"{saved.name.split(' (variant')[0][:60]} (variant {number})"
        copy = self.add(edited(saved.text, {"name": name}), saved.family)
        held, body = self.store.weathers.of(plan), self.store.weathers.body(plan)
        if held is not None and body is not None:
            self.store.weathers.put(self.owner, copy.id, held.name, held.about, body)
        return copy


def _clashes(
    before: Mapping[str, Value], now: Mapping[str, Value], wanted: Mapping[str, Value]
) -> dict[str, str]:
    """Return the choices that somebody else has changed to another value, and what to say."""
    return {
        key: f"was changed meanwhile to {_quoted(now[key])}, which stands; "
        f"yours was {_quoted(value)}: set it again if you want it"
        for key, value in wanted.items()
        if not _same(before[key], now[key]) and not _same(value, now[key])
    }


def _quoted(value: Value) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    words = ", ".join(value) if isinstance(value, tuple) else value
    return f'"{words[:80]}"' if words else "nothing"


def refusal(error: PlanError, key: str) -> str:
    """Return why a change was refused, its own problem first."""
    own = [problem for problem in error.problems if problem.key.startswith(key)]
    told = own or list(error.problems)
    return "; ".join(_told(problem, key) for problem in told[:2])


def _told(problem: Problem, key: str) -> str:
    if problem.key == key or not problem.key:
        return problem.says
    return f"{called(problem.key)}: {problem.says}"


def submitted(form: Mapping[str, list[str]], base: str) -> dict[str, Value]:
    """Return the choices that a form changes, against the text that it was filled from.

    A form that says it is `whole` means no by a tick that is missing; any other says nothing.
    """
    before = values_in(base)
    found: dict[str, Value] = {}
    for key, choice in choices().items():
        given = form.get(key, [])
        if not given and (choice.kind not in ("tick", "many") or "whole" not in form):
            continue
        if choice.kind == "tick":
            value: Value = bool(given)
        elif choice.kind == "many":
            value = tuple(word for one in given for word in in_words(one))
        else:
            value = given[-1].strip()
        if not _same(value, before[key]):
            found[key] = value
    return found


def _same(given: Value, before: Value) -> bool:
    """Return whether a form's value says what the plan says; the order of many is no matter."""
    if isinstance(given, tuple) and isinstance(before, tuple):
        return set(given) == set(before)
    return given == (before.strip() if isinstance(before, str) else before)
