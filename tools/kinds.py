"""What kind of thing an expression gives, as far as annotations tell. Used by `reach`.

An answer of None is "not known", and the reader then takes every member of that name for used: a
guess here may only ever be missing, never wrong.
"""

from __future__ import annotations

import ast
from collections.abc import Sequence
from dataclasses import dataclass

from program import FUNCTIONS, Definition, Module, Program

HOLDERS = frozenset(
    [
        "list",
        "tuple",
        "set",
        "frozenset",
        "Sequence",
        "Iterable",
        "Iterator",
        "Collection",
        "Generator",
        "deque",
        "MutableSequence",
        "Set",
        "AbstractSet",
    ]
)
KEYED = frozenset(["dict", "Mapping", "MutableMapping", "defaultdict", "OrderedDict"])
PLAIN = frozenset(
    [
        "int",
        "float",
        "str",
        "bool",
        "bytes",
        "complex",
        "None",
        "NDArray",
        "ndarray",
        "date",
        "datetime",
        "timedelta",
        "Path",
    ]
)
SAME_ITEMS = frozenset(["list", "tuple", "set", "frozenset", "sorted", "reversed", "iter"])
ONE_ITEM = frozenset(["min", "max", "next"])


@dataclass(frozen=True)
class Kind:
    """Instances of these classes of ours (none: somebody else's), what they hold and return."""

    classes: frozenset[Definition] = frozenset()
    item: Kind | None = None
    parts: tuple[Kind | None, ...] = ()
    returns: Kind | None = None
    made: Definition | None = None  # the class itself
    module: Module | None = None
    keyed: bool = False


OTHERS = Kind()


def either(kinds: Sequence[Kind | None]) -> Kind | None:
    """Return the kind of what is one of these, None where any is not known."""
    known = [kind for kind in kinds if kind is not None]
    if len(known) < len(kinds) or not known:
        return None
    if len(set(known)) == 1:
        return known[0]
    solid = [kind for kind in known if kind != OTHERS]
    if len(set(solid)) == 1:
        return solid[0]
    if all(kind.classes and not kind.item and not kind.made for kind in solid):
        return Kind(frozenset().union(*(kind.classes for kind in solid)))
    return None


class Kinds:
    """The kinds of expressions in a program."""

    def __init__(self, program: Program) -> None:
        """Read kinds from a program's annotations."""
        self.program = program
        self._busy: set[Definition] = set()

    def annotated(self, module: Module, node: ast.expr | None) -> Kind | None:
        """Return the kind that an annotation names."""
        if node is None:
            return None
        if isinstance(node, ast.Constant):
            if node.value is None:
                return OTHERS
            if isinstance(node.value, str):
                return self.annotated(module, ast.parse(node.value, mode="eval").body)
            return None
        if isinstance(node, ast.BinOp):
            return either([self.annotated(module, side) for side in (node.left, node.right)])
        if isinstance(node, ast.Subscript):
            return self._subscripted(module, node)
        if isinstance(node, ast.Attribute):
            found = self._dotted(module, node)
            return self._named(found) if found else None
        if isinstance(node, ast.Name):
            found = self.program.meaning(module, node.id)
            if isinstance(found, Definition):
                return self._named(found)
            return OTHERS if node.id in PLAIN else None
        return None

    def _dotted(self, module: Module, node: ast.Attribute) -> Definition | None:
        if isinstance(node.value, ast.Name):
            home = self.program.meaning(module, node.value.id)
            if isinstance(home, Module):
                found = self.program.meaning(home, node.attr)
                return found if isinstance(found, Definition) else None
        return None

    def _named(self, found: Definition) -> Kind | None:
        if found.kind == "class":
            return Kind(frozenset([found]))
        if found.kind == "constant" and found not in self._busy:
            self._busy.add(found)
            value = getattr(found.node, "value", None)
            kind = self.annotated(found.module, value)
            self._busy.discard(found)
            return kind
        return None

    def _subscripted(self, module: Module, node: ast.Subscript) -> Kind | None:
        name = node.value.id if isinstance(node.value, ast.Name) else ""
        inner = node.slice.elts if isinstance(node.slice, ast.Tuple) else [node.slice]
        if name in ("Annotated", "Final", "ClassVar", "Required", "NotRequired"):
            return self.annotated(module, inner[0])
        if name == "Optional":
            return self.annotated(module, inner[0])
        if name == "Literal":
            return OTHERS
        if name == "type":
            kind = self.annotated(module, inner[0])
            only = list(kind.classes) if kind else []
            return Kind(made=only[0]) if len(only) == 1 else None
        if name == "Callable":
            return Kind(returns=self.annotated(module, inner[-1]))
        if name in KEYED:
            return Kind(item=self.annotated(module, inner[-1]), keyed=True)
        if name in HOLDERS:
            if name == "tuple" and not (len(inner) == 2 and _is_ellipsis(inner[1])):
                parts = tuple(self.annotated(module, part) for part in inner)
                return Kind(parts=parts, item=either(parts))
            return Kind(item=self.annotated(module, inner[0]))
        return self.annotated(module, node.value)

    def member(self, owner: Definition, name: str) -> Kind | None:
        """Return the kind of a field, property or method of a class."""
        for one in self.program.line(owner):
            if name in one.fields:
                return self.annotated(one.module, one.fields[name])
            if name in one.members:
                node = one.members[name].node
                assert isinstance(node, FUNCTIONS)
                given = self.annotated(one.module, node.returns)
                if _is_self(node.returns):
                    given = Kind(frozenset([owner]))
                marks = {ast.unparse(mark) for mark in node.decorator_list}
                return given if marks & {"property", "cached_property"} else Kind(returns=given)
        return None

    def called(self, function: Definition) -> Kind:
        """Return the kind of a function, with the kind it returns."""
        node = function.node
        assert isinstance(node, FUNCTIONS)
        return Kind(returns=self.annotated(function.module, node.returns))

    def value(self, found: Definition | Module | None) -> Kind | None:
        """Return the kind of what a top-level name means."""
        if isinstance(found, Module):
            return Kind(module=found)
        if found is None:
            return None
        if found.kind == "class":
            return Kind(made=found)
        if found.kind == "function":
            return self.called(found)
        if isinstance(found.node, ast.AnnAssign):
            return self.annotated(found.module, found.node.annotation)
        if isinstance(found.node, ast.Assign) and found not in self._busy:
            if not all(isinstance(target, ast.Name) for target in found.node.targets):
                return None
            self._busy.add(found)
            kind = self.of(found.module, {}, found.node.value)
            self._busy.discard(found)
            return kind
        return None

    def of(self, module: Module, local: dict[str, Kind | None], node: ast.expr) -> Kind | None:
        """Return the kind of an expression, given those of the local names."""
        if isinstance(node, ast.Name):
            if node.id in local:
                return local[node.id]
            return self.value(self.program.meaning(module, node.id))
        if isinstance(node, ast.Attribute):
            return self._attribute(self.of(module, local, node.value), node.attr)
        if isinstance(node, ast.Call):
            return self._call(module, local, node)
        if isinstance(node, (ast.Constant, ast.JoinedStr, ast.Compare)):
            return OTHERS
        if isinstance(node, ast.IfExp):
            return either([self.of(module, local, side) for side in (node.body, node.orelse)])
        if isinstance(node, ast.BoolOp):
            return either([self.of(module, local, side) for side in node.values])
        if isinstance(node, ast.NamedExpr):
            return self.of(module, local, node.value)
        if isinstance(node, ast.Subscript):
            return self._taken(self.of(module, local, node.value), node.slice)
        if isinstance(node, ast.Tuple):
            parts = tuple(self.of(module, local, part) for part in node.elts)
            return Kind(parts=parts, item=either(parts))
        if isinstance(node, ast.List):
            return Kind(item=either([self.of(module, local, part) for part in node.elts]))
        return None

    def _attribute(self, base: Kind | None, name: str) -> Kind | None:
        if base is None:
            return None
        if base.module:
            return self.value(self.program.imported(base.module.name, name))
        if base.made:
            return self.member(base.made, name)
        if base.keyed and name in ("get", "pop", "values"):
            return Kind(returns=Kind(item=base.item) if name == "values" else base.item)
        if base.keyed and name == "items":
            return Kind(returns=Kind(item=Kind(parts=(None, base.item))))
        return either([self.member(owner, name) for owner in base.classes])

    def _call(self, module: Module, local: dict[str, Kind | None], node: ast.Call) -> Kind | None:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        first = self.of(module, local, node.args[0]) if node.args else None
        if name == "replace":
            return first
        if name in SAME_ITEMS and first:
            return Kind(item=first.item) if first.item and not first.keyed else None
        if name in ONE_ITEM and len(node.args) == 1 and first:
            return first.item
        if name == "enumerate" and first:
            return Kind(item=Kind(parts=(OTHERS, first.item)))
        if name == "zip":
            held = [self.of(module, local, arg) for arg in node.args]
            return Kind(item=Kind(parts=tuple(one.item if one else None for one in held)))
        found = self.of(module, local, node.func)
        if found is None:
            return None
        return Kind(frozenset([found.made])) if found.made else found.returns

    def _taken(self, base: Kind | None, index: ast.expr) -> Kind | None:
        if base is None:
            return None
        if isinstance(index, ast.Slice):
            return Kind(item=base.item)
        if base.parts and isinstance(index, ast.Constant) and isinstance(index.value, int):
            return base.parts[index.value] if abs(index.value) < len(base.parts) else None
        return base.item


def _is_ellipsis(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is ...


def _is_self(node: ast.expr | None) -> bool:
    return isinstance(node, ast.Name) and node.id == "Self"
