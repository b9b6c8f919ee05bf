"""The ways a formula can be spoilt: every change to one place of a module that moves a number.

A sign, an operator, a factor dropped or doubled, a bound turned round, a function or an end of a
range taken for its twin. Words, guards that only refuse (`strict` among them), annotations and
functions that return text are left alone, since nothing there moves a number.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

#: A constant up to this is a tolerance: doubled it moves no number that anyone sees.
TOLERANCE = 1e-6
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)
OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.MatMult: ast.Add,
}
TURNED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.Gt,
    ast.Gt: ast.Lt,
    ast.LtE: ast.GtE,
    ast.GtE: ast.LtE,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
}
TWINS = {
    "min": "max",
    "sin": "cos",
    "tan": "sin",
    "minimum": "maximum",
    "floor": "ceil",
    "low": "high",
    "argmin": "argmax",
    "any": "all",
    "sum": "max",
    "width": "length",
    "cumsum": "asarray",
}
TWINS |= {twin: name for name, twin in TWINS.items() if twin not in {*TWINS, "asarray"}}


@dataclass(frozen=True)
class Mutant:
    """One change: where, what, and the name of the function it is in (None: a constant's)."""

    path: Path
    line: int
    node: int
    way: int
    function: str | None
    words: str

    def tree(self) -> ast.Module:
        """Return the module with the change made."""
        tree = ast.parse(self.path.read_text(encoding="utf-8"))
        node = list(ast.walk(tree))[self.node]
        _ways(node)[self.way][1]()
        return ast.fix_missing_locations(tree)


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Yield every change to a module, in the order of its lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    number = {id(node): index for index, node in enumerate(ast.walk(tree))}
    for node, function in _places(tree):
        for way, (words, _) in enumerate(_ways(node)):
            line = getattr(node, "lineno", 0)
            yield Mutant(path, line, number[id(node)], way, function, words)


def _places(tree: ast.Module) -> Iterator[tuple[ast.AST, str | None]]:
    """Yield the nodes that may be changed, each with the function that it stands in."""
    for part in tree.body:
        if isinstance(part, FUNCTIONS):
            yield from _function(part, part.name)
        elif isinstance(part, ast.ClassDef):
            for inner in part.body:
                if isinstance(inner, FUNCTIONS):
                    yield from _function(inner, f"{part.name}.{inner.name}")
        elif isinstance(part, (ast.Assign, ast.AnnAssign)) and part.value is not None:
            yield from ((node, None) for node in _numeric(part.value))


def _function(
    node: ast.FunctionDef | ast.AsyncFunctionDef, name: str
) -> Iterator[tuple[ast.AST, str]]:
    if isinstance(node.returns, ast.Name) and node.returns.id == "str":
        return
    if node.name in ("__repr__", "__str__", "__post_init__"):
        return
    for default in [*node.args.defaults, *filter(None, node.args.kw_defaults)]:
        yield from ((inner, name) for inner in _numeric(default))
    for statement in node.body:
        yield from ((inner, name) for inner in _numeric(statement))


def _numeric(node: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes within one, words and refusals left out."""
    if isinstance(node, (ast.Raise, ast.Assert, ast.JoinedStr, ast.Import, ast.ImportFrom)):
        return
    if isinstance(node, ast.If) and all(isinstance(part, ast.Raise) for part in node.body):
        for part in node.orelse:
            yield from _numeric(part)
        return
    yield node
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list"):
            continue
        if isinstance(node, ast.keyword) and node.arg == "strict":  # refuses, and no more
            continue
        for inner in value if isinstance(value, list) else [value]:
            if isinstance(inner, ast.AST):
                yield from _numeric(inner)


def _ways(node: ast.AST) -> list[tuple[str, Callable[[], None]]]:
    """Return the changes to one node: in words, and the act."""
    match node:
        case ast.BinOp(op=operator) if type(operator) in OPERATORS:
            other = OPERATORS[type(operator)]
            ways = [_set(node, "op", other(), f"{_sign(other())} in place of {_sign(operator)}")]
            if isinstance(operator, (ast.Add, ast.Sub, ast.Mult, ast.Div)):
                ways.append((f"without {_sign(operator)} {ast.unparse(node.right)}", _drop(node)))
            return ways
        case ast.Compare(ops=[single]) if type(single) in TURNED:
            return [_set(node, "ops", [TURNED[type(single)]()], f"{_sign(single)} turned round")]
        case ast.BoolOp(op=both):
            other_way = ast.Or() if isinstance(both, ast.And) else ast.And()
            return [_set(node, "op", other_way, "and, or exchanged")]
        case ast.IfExp() if not (_is_words(node.body) and _is_words(node.orelse)):
            return [("the other branch", lambda: _swap(node))]
        case ast.Attribute(attr=name) if name in TWINS:
            return [_set(node, "attr", TWINS[name], f".{name} taken for .{TWINS[name]}")]
        case ast.Name(id=name) if name in ("min", "max", "any", "all"):
            return [_set(node, "id", TWINS[name], f"{name} taken for {TWINS[name]}")]
    return _single(node)


def _single(node: ast.AST) -> list[tuple[str, Callable[[], None]]]:
    """Return the changes to a constant, a sign or a function of one thing."""
    match node:
        case ast.UnaryOp(op=ast.USub()) if not isinstance(node.operand, ast.Constant):
            return [_set(node, "op", ast.UAdd(), "minus dropped")]
        case ast.UnaryOp(op=ast.Not()):
            return [("not dropped", lambda: _become(node, _truth(node.operand)))]
        case ast.Constant(value=bool() as value):
            return [_set(node, "value", not value, f"{value} turned")]
        case ast.Constant(value=int() as value):
            return [_set(node, "value", value + 1, f"{value} + 1")]
        case ast.Constant(value=float() as value) if not 0 < value <= TOLERANCE:
            return [_set(node, "value", 2 * value if value else 1.0, f"{value} doubled")]
        case ast.Call(func=ast.Name(id="abs") | ast.Attribute(attr="sqrt" | "abs"), args=[inner]):
            return [("function dropped", lambda: _become(node, inner))]
    return []


def _is_words(node: ast.expr) -> bool:
    return isinstance(node, ast.JoinedStr) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def _set(node: ast.AST, name: str, value: object, words: str) -> tuple[str, Callable[[], None]]:
    return words, lambda: setattr(node, name, value)


def _sign(operator: ast.AST) -> str:
    return type(operator).__name__


def _become(node: ast.AST, other: ast.AST) -> None:
    """Turn a node into another one, in its place."""
    place = {name: getattr(node, name) for name in ("lineno", "col_offset")}
    node.__class__ = other.__class__  # type: ignore[assignment]
    node.__dict__.clear()
    node.__dict__.update(other.__dict__ | place)


def _truth(node: ast.expr) -> ast.expr:
    """Return a node's truth, so that a dropped `not` still gives a yes or a no."""
    return ast.Call(ast.Name("bool", ast.Load()), [node], [])


def _drop(node: ast.BinOp) -> Callable[[], None]:
    return lambda: _become(node, node.left)


def _swap(node: ast.IfExp) -> None:
    node.body, node.orelse = node.orelse, node.body
