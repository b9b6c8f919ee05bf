"""The program as its source says it: modules, definitions, and what a name means where it stands.

Used by `reach`. Nothing is imported or run: every answer comes from the syntax tree.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@dataclass(eq=False)
class Definition:
    """One function, class, method or constant of a module."""

    module: Module
    name: str
    node: ast.stmt
    kind: str  # "function", "class" or "constant"
    owner: Definition | None = None

    @property
    def shown(self) -> str:
        """Return its name within the module."""
        return f"{self.owner.name}.{self.name}" if self.owner else self.name

    @property
    def full(self) -> str:
        """Return its dotted name."""
        return f"{self.module.name}.{self.shown}"

    @property
    def lines(self) -> int:
        """Return how many lines it takes, decorators with it."""
        return (self.node.end_lineno or self.node.lineno) - self.first + 1

    @property
    def first(self) -> int:
        """Return its first line, that of its decorators with it."""
        marks = getattr(self.node, "decorator_list", [])
        return min([self.node.lineno, *(mark.lineno for mark in marks)])

    @cached_property
    def members(self) -> dict[str, Definition]:
        """Return a class's methods by name; a setter stands with its getter."""
        return {
            part.name: Definition(self.module, part.name, part, "function", self)
            for part in reversed(getattr(self.node, "body", []))
            if isinstance(part, FUNCTIONS)
        }

    @cached_property
    def fields(self) -> dict[str, ast.expr]:
        """Return the annotation of each field of a class."""
        return {
            part.target.id: part.annotation
            for part in getattr(self.node, "body", [])
            if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)
        }


@dataclass(eq=False)
class Module:
    """One file of source: its definitions, its imports, and the statements run on import."""

    name: str
    path: Path
    package: bool
    tree: ast.Module
    definitions: dict[str, Definition] = field(default_factory=dict)
    imports: dict[str, tuple[str, str | None]] = field(default_factory=dict)
    run: list[ast.stmt] = field(default_factory=list)

    def absolute(self, node: ast.ImportFrom) -> str:
        """Return the full name of the module that an import names."""
        if not node.level:
            return node.module or ""
        parts = self.name.split(".")
        parts = parts[: len(parts) - node.level + self.package]
        return ".".join([*parts, *([node.module] if node.module else [])])


def imported(module: Module, node: ast.stmt) -> Iterator[tuple[str, tuple[str, str | None]]]:
    """Yield what an import statement binds: a local name, and the module (and name in it)."""
    if isinstance(node, ast.Import):
        for alias in node.names:
            whole = alias.name if alias.asname else alias.name.split(".")[0]
            yield alias.asname or whole, (whole, None)
    elif isinstance(node, ast.ImportFrom):
        for alias in node.names:
            yield alias.asname or alias.name, (module.absolute(node), alias.name)


class Program:
    """Every module under a source folder."""

    def __init__(self, source: Path) -> None:
        """Parse the modules under a folder, which the dotted names start from."""
        self.modules: dict[str, Module] = {}
        for path in sorted(source.rglob("*.py")):
            self.add(source, path)

    def add(self, source: Path, path: Path) -> Module:
        """Parse one module, named by its path below a folder."""
        parts = list(path.relative_to(source).with_suffix("").parts)
        package = parts[-1] == "__init__"
        name = ".".join(parts[:-1] if package else parts)
        module = Module(name, path, package, ast.parse(path.read_text(encoding="utf-8")))
        self._collect(module, module.tree.body)
        self.modules[name] = module
        return module

    def _collect(self, module: Module, body: list[ast.stmt]) -> None:
        for node in body:
            if isinstance(node, (*FUNCTIONS, ast.ClassDef)):
                kind = "class" if isinstance(node, ast.ClassDef) else "function"
                module.definitions[node.name] = Definition(module, node.name, node, kind)
            elif isinstance(node, (ast.Import, ast.ImportFrom)):
                module.imports.update(imported(module, node))
                module.run.append(node)
            elif isinstance(node, (ast.If, ast.Try)):
                if isinstance(node, ast.If):
                    module.run.append(ast.copy_location(ast.Expr(node.test), node))
                for inner in ("body", "orelse", "finalbody"):
                    self._collect(module, getattr(node, inner, []))
                for handler in getattr(node, "handlers", []):
                    self._collect(module, handler.body)
            elif names := list(_constants(node)):
                for name in names:
                    module.definitions[name] = Definition(module, name, node, "constant")
            else:
                module.run.append(node)

    @cached_property
    def definitions(self) -> list[Definition]:
        """Return every definition, methods after their class."""
        every = []
        for module in self.modules.values():
            for one in module.definitions.values():
                every += [one, *one.members.values()] if one.kind == "class" else [one]
        return every

    def meaning(self, module: Module, name: str) -> Definition | Module | None:
        """Return what a name means at the top of a module: its own, or what it imports."""
        if name in module.definitions:
            return module.definitions[name]
        if name in module.imports:
            return self.imported(*module.imports[name])
        return None

    def imported(self, home: str, name: str | None) -> Definition | Module | None:
        """Return what `from home import name` binds, through as many modules as it takes."""
        if name is None:
            return self.modules.get(home)
        if home in self.modules and (found := self.meaning(self.modules[home], name)):
            return found
        return self.modules.get(f"{home}.{name}")

    def bases(self, owner: Definition) -> tuple[list[Definition], list[str]]:
        """Return the classes a class is made from: ours, and the names of others'."""
        ours, others = [], []
        for base in getattr(owner.node, "bases", []):
            plain = base.value if isinstance(base, ast.Subscript) else base
            found = self.meaning(owner.module, plain.id) if isinstance(plain, ast.Name) else None
            if isinstance(found, Definition) and found.kind == "class":
                ours.append(found)
            else:
                others.append(ast.unparse(plain))
        return ours, others

    @cached_property
    def heirs(self) -> dict[Definition, set[Definition]]:
        """Return the classes made from each class, straight or through others."""
        found: dict[Definition, set[Definition]] = {}
        for one in self.definitions:
            if one.kind == "class":
                for above in self.line(one)[1:]:
                    found.setdefault(above, set()).add(one)
        return found

    def line(self, owner: Definition) -> list[Definition]:
        """Return a class and every one of ours it is made from, nearest first."""
        found = [owner]
        for base in self.bases(owner)[0]:
            found += [one for one in self.line(base) if one not in found]
        return found


def _constants(node: ast.stmt) -> Iterator[str]:
    """Yield the names that a statement at the top of a module gives a value."""
    if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
        yield node.target.id
    elif type(node).__name__ == "TypeAlias":
        yield node.name.id  # type: ignore[attr-defined]
    elif isinstance(node, ast.Assign):
        for target in node.targets:
            parts = target.elts if isinstance(target, ast.Tuple) else [target]
            if all(isinstance(part, ast.Name) for part in parts):
                yield from (part.id for part in parts if isinstance(part, ast.Name))
