"""What kinds of things the local names of a function are given. Used by `reach`."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator

from kinds import Kind, Kinds, either
from program import FUNCTIONS, Module


def within(body: Iterable[ast.AST]) -> Iterator[ast.AST]:
    """Yield every node in some statements, in the order of the source."""
    waiting = [*body][::-1]
    while waiting:
        yield (node := waiting.pop())
        waiting += [*ast.iter_child_nodes(node)][::-1]


class Bindings:
    """The local names of some statements, each with the kind of everything it is given."""

    def __init__(self, kinds: Kinds, module: Module, local: dict[str, Kind | None]) -> None:
        """Start from the names known so far."""
        self.kinds = kinds
        self.module = module
        self.local = local
        self.found: dict[str, list[Kind | None]] = {}

    def of(self, body: list[ast.stmt], nodes: list[ast.AST]) -> dict[str, list[Kind | None]]:
        """Read every statement that gives a name something; `nodes` are all within them."""
        for node in nodes:
            if isinstance(node, FUNCTIONS):
                if node not in body:
                    self._function(node)
            elif isinstance(node, ast.Lambda):
                for arg in [*node.args.args, *node.args.kwonlyargs]:
                    self._name(arg.arg, None)
            else:
                self._statement(node)
        return self.found

    def _statement(self, node: ast.AST) -> None:
        match node:
            case ast.Assign(targets=targets, value=value):
                for target in targets:
                    self._bind(target, self._kind(value))
            case ast.AnnAssign(target=target, annotation=annotation):
                self._bind(target, self.kinds.annotated(self.module, annotation))
            case (
                ast.For(target=target, iter=over)
                | ast.AsyncFor(target=target, iter=over)
                | ast.comprehension(target=target, iter=over)
            ):
                held = self._kind(over)
                self._bind(target, held.item if held and not held.keyed else None)
            case ast.NamedExpr(target=target, value=value):
                self._bind(target, self._kind(value))
            case ast.withitem(optional_vars=ast.expr() as target) | ast.AugAssign(target=target):
                self._bind(target, None)
            case (
                ast.ExceptHandler(name=str(name))
                | ast.MatchAs(name=str(name))
                | ast.MatchStar(name=str(name))
            ):
                self._name(name, None)

    def _function(self, node: ast.FunctionDef | ast.AsyncFunctionDef) -> None:
        for arg in [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]:
            self._name(arg.arg, self.kinds.annotated(self.module, arg.annotation))
        self._name(node.name, Kind(returns=self.kinds.annotated(self.module, node.returns)))

    def _kind(self, node: ast.expr) -> Kind | None:
        known = {name: either(kinds) for name, kinds in self.found.items()}
        return self.kinds.of(self.module, {**self.local, **known}, node)

    def _name(self, name: str, kind: Kind | None) -> None:
        self.found.setdefault(name, []).append(kind)

    def _bind(self, target: ast.expr, kind: Kind | None) -> None:
        if isinstance(target, ast.Name):
            self._name(target.id, kind)
        elif isinstance(target, ast.Starred):
            self._bind(target.value, None)
        elif isinstance(target, (ast.Tuple, ast.List)):
            straight = kind is not None and len(kind.parts) == len(target.elts)
            for place, part in enumerate(target.elts):
                self._bind(part, kind.parts[place] if kind and straight else kind and kind.item)
