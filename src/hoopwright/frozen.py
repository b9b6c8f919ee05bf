"""The standard library's `dataclass(frozen=True)`, its methods made when they are first called.

The standard one compiles six methods for each class while its module loads: half a millisecond,
two hundred and forty times for `check`, which makes things of half of the classes and compares
those of a handful. Fields, defaults, inheritance and `replace` stay the standard library's own.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar, cast

Kept = TypeVar("Kept")

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:

    def dataclass(*, frozen: bool, eq: bool = True) -> Callable[[type], type]:
        """Make a class a frozen dataclass."""
        assert frozen
        return _with_values if eq else _frozen


def _frozen(made: type) -> type:
    own = vars(made)
    made = dataclasses.dataclass(init=False, repr=False, eq=False)(made)
    methods: dict[str, Callable[..., Any]] = {"__setattr__": _refuse, "__delattr__": _refuse}
    methods |= {"__init__": _init_of(made), "__repr__": _repr}
    for name, method in methods.items():
        if name not in own:
            setattr(made, name, method)
    return made


def _with_values(made: type) -> type:
    """Make a class frozen whose things are equal when their values are."""
    made = _frozen(made)
    own = vars(made)
    # The class stands last, so that one field alone comes as a tuple too.
    names = [one.name for one in dataclasses.fields(made) if one.compare] + ["__class__"]
    values: Callable[[object], tuple[object, ...]] = attrgetter(*names)

    def equal(self: object, other: object) -> bool:
        alike = other.__class__ is self.__class__
        return values(self) == values(other) if alike else NotImplemented

    def code(self: object) -> int:
        return hash(values(self))

    if "__eq__" not in own:
        made.__eq__ = equal  # type: ignore[assignment, method-assign]
    if own.get("__hash__") is None:
        made.__hash__ = code  # type: ignore[assignment, method-assign]
    return made


def _init_of(made: type) -> Callable[..., None]:
    """Return what makes things of a class the first time, and leaves it the method proper."""

    def first(self: object, *given: object, **named: object) -> None:
        made.__init__ = _written_init(made)  # type: ignore[misc]
        made.__init__(self, *given, **named)  # type: ignore[misc]

    return first


def _written_init(made: type) -> Callable[..., None]:
    """Return the method that sets each field, compiled with its names as the standard one is."""
    known: dict[str, Any] = {"_put": object.__setattr__, "_missing": dataclasses.MISSING}
    takes, sets = ["self"], []
    for one in dataclasses.fields(made):
        name, value = one.name, one.name
        if one.default_factory is not dataclasses.MISSING:
            known[f"_make_{name}"] = one.default_factory
            fresh = f"_make_{name}()"
            value = f"{fresh} if {name} is _missing else {name}" if one.init else fresh
            takes += [f"{name}=_missing"] * one.init
        elif one.default is not dataclasses.MISSING:
            known[f"_default_{name}"] = one.default
            takes += [f"{name}=_default_{name}"]
        else:
            takes += [name]
        sets.append(f"_put(self, {name!r}, {value})")
    if hasattr(made, "__post_init__"):
        sets.append("self.__post_init__()")
    exec(f"def __init__({', '.join(takes)}):\n " + "\n ".join(sets or ["pass"]), known)
    written: Callable[..., None] = known["__init__"]
    written.__qualname__ = f"{made.__qualname__}.__init__"
    return written


def _repr(self: Any) -> str:
    shown = [one.name for one in dataclasses.fields(self) if one.repr]
    values = ", ".join(f"{name}={getattr(self, name)!r}" for name in shown)
    return f"{self.__class__.__qualname__}({values})"


def _refuse(self: object, name: str, value: object = None) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


class Keeping:
    """A frozen thing that keeps what was worked out of it."""

    def once(self, key: object, work_out: Callable[[], Kept]) -> Kept:
        """Return what this thing alone comes to, worked out when it is first asked for."""
        kept = self.kept
        if key not in kept:
            kept[key] = work_out()
        found: Kept = kept[key]
        return found

    @property
    def kept(self) -> dict[object, Any]:
        """Return what `once` has kept."""
        found: dict[object, Any] = vars(self).setdefault("_kept", {})
        return found

    def __getstate__(self) -> dict[str, Any]:
        # Another process works out anew what it wants, and identities mean nothing there.
        given = vars(self)
        return {one.name: given[one.name] for one in dataclasses.fields(cast(Any, self))}
