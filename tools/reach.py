"""Name the definitions in `src` that no door reaches: `make reach`.

Doors are the command line, the web application with its templates, the public names of the package
and the page writer of the documentation. Tests and benchmarks do not count: a benchmark times what
users run, and a test guards it. From the doors every name and attribute is followed. Where
annotations tell what an object is, an attribute reaches that class's member (and its heirs'); where
they do not, it reaches every member of that name, so what is named here is surely out of reach,
while a member that shares its name with one in use may be missed.
"""

from __future__ import annotations

import argparse
import ast
import gc
import re
import sys
from pathlib import Path

from bindings import Bindings, within
from kinds import Kind, Kinds, either
from program import FUNCTIONS, Definition, Module, Program, imported

ROOT = Path(__file__).parents[1]
DOORS = ("hoopwright", "hoopwright.__main__", "hoopwright.cli.main", "hoopwright.web.app")
WRITERS = ("docs/generate.py",)

# Definitions that stay although nothing reaches them, each with its reason.
EXCEPTIONS: dict[str, str] = {
    "hoopwright.programme.engines.threads": "`sweep --engine` fetches an engine by its name",
    "hoopwright.programme.engines.processes": "`sweep --engine` fetches an engine by its name",
}

# Decorators that only wrap; any other one hands the function to somebody who calls it.
WRAPPERS = re.compile(
    r"(dataclass|property|cached_property|cache|lru_cache|staticmethod|classmethod|contextmanager"
    r"|asynccontextmanager|overload|abstractmethod|override|final|total_ordering|wraps|njit|jit"
    r"|runtime_checkable|unique|\w+\.setter|(functools|dataclasses|numba|contextlib)\.\w+)\b"
)
WORD = re.compile(r"[A-Za-z_]\w*")


class Reach:
    """What can be reached, and what has yet to be read."""

    def __init__(self, program: Program) -> None:
        """Start with nothing reached."""
        self.program = program
        self.kinds = Kinds(program)
        self.reached: set[Definition] = set()
        self.run: set[Module] = set()
        self.names: set[str] = set()
        self.waiting: list[Definition] = []
        self.by_name: dict[str, list[Definition]] = {}
        for one in program.definitions:
            if one.owner:
                self.by_name.setdefault(one.name, []).append(one)

    def module(self, module: Module | None) -> None:
        """Run a module: its packages first, then its statements."""
        if module is None or module in self.run:
            return
        self.run.add(module)
        self.module(self.program.modules.get(module.name.rpartition(".")[0]))
        for node in module.run:
            self.read(module, {}, [node])
        for one in module.definitions.values():
            if _handed_over(one) or _special(one.name):
                self.reach(one)

    def reach(self, one: Definition | Module | None) -> None:
        """Reach a definition, and so the module (and the class) it stands in."""
        if isinstance(one, Module):
            self.module(one)
        elif one is not None and one not in self.reached:
            self.reached.add(one)
            self.waiting.append(one)
            self.reach(one.owner)
            self.module(one.module)

    def settle(self) -> None:
        """Read what was reached until nothing new comes."""
        while self.waiting:
            one = self.waiting.pop()
            if isinstance(one.node, ast.ClassDef):
                self._class(one, one.node)
            elif isinstance(one.node, FUNCTIONS):
                self.read(one.module, self._parameters(one, one.node), [one.node])
            else:
                # Names given their values together are one list, such as the rows of an array.
                for twin in one.module.definitions.values():
                    if twin.node is one.node:
                        self.reach(twin)
                self.read(one.module, {}, [one.node])

    def _class(self, one: Definition, node: ast.ClassDef) -> None:
        rest = [part for part in node.body if not isinstance(part, FUNCTIONS)]
        expressions = [*node.bases, *node.decorator_list, *(key.value for key in node.keywords)]
        self.read(one.module, {}, [*map(ast.Expr, expressions), *rest])
        foreign = set(self.program.bases(one)[1]) - {"Protocol", "NamedTuple", "Enum", "BaseModel"}
        for name, member in one.members.items():
            # A class made from somebody else's may be called by them under any name.
            if _special(name) or foreign or name in self.names or _handed_over(member):
                self.reach(member)

    def _parameters(self, one: Definition, node: ast.AST) -> dict[str, Kind | None]:
        assert isinstance(node, FUNCTIONS)
        every = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        local = {arg.arg: self.kinds.annotated(one.module, arg.annotation) for arg in every}
        if node.args.vararg:
            kind = self.kinds.annotated(one.module, node.args.vararg.annotation)
            local[node.args.vararg.arg] = Kind(item=kind)
        if node.args.kwarg:
            local[node.args.kwarg.arg] = None
        marks = {ast.unparse(mark) for mark in node.decorator_list}
        if one.owner and every and "staticmethod" not in marks:
            own = Kind(made=one.owner) if "classmethod" in marks else Kind(frozenset([one.owner]))
            local[every[0].arg] = own
        return local

    def read(self, module: Module, outer: dict[str, Kind | None], body: list[ast.stmt]) -> None:
        """Follow every name and attribute in some statements."""
        local, nodes = dict(outer), list(within(body))
        for node in nodes:
            self._import(module, local, node)
        for _ in range(2):  # twice: a name may be read above the line that binds it
            before = dict(local)
            for name, kinds in Bindings(self.kinds, module, local).of(body, nodes).items():
                if name not in outer or any(kind is None for kind in kinds):
                    local[name] = either(kinds)
            if local == before:
                break
        for node in nodes:
            if isinstance(node, ast.Name) and node.id not in local:
                self.reach(self.program.meaning(module, node.id))
            elif isinstance(node, ast.Attribute):
                self.attribute(self.kinds.of(module, local, node.value), node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                self._words(module, node.value)
            elif isinstance(node, (ast.MatchClass)):
                for name in node.kwd_attrs:
                    self.named(name)

    def _import(self, module: Module, local: dict[str, Kind | None], node: ast.AST) -> None:
        if not isinstance(node, (ast.Import, ast.ImportFrom)):
            return
        for name, (home, part) in imported(module, node):
            self.module(self.program.modules.get(home))
            found = self.program.imported(home, part)
            if isinstance(found, Module):
                self.module(found)
            if module.imports.get(name) != (home, part):
                local[name] = self.kinds.value(found)
                self.reach(found)

    def attribute(self, base: Kind | None, name: str) -> None:
        """Follow an attribute of an object of some kind."""
        if base is None:
            self.named(name)
        elif base.module:
            self.reach(self.program.imported(base.module.name, name))
        else:
            for owner in [*base.classes, *([base.made] if base.made else [])]:
                self._member(owner, name)

    def _member(self, owner: Definition, name: str) -> None:
        line = self.program.line(owner)
        known = [one for one in line if name in one.members or name in one.fields]
        foreign = any(self.program.bases(one)[1] for one in line)
        if (not known and not foreign) or "Protocol" in self.program.bases(owner)[1]:
            self.named(name)
        for one in [*known[:1], *self.program.heirs.get(owner, ())]:
            self.reach(one.members.get(name))

    def named(self, name: str) -> None:
        """Reach every member of a name, in the classes reached now or later."""
        if name not in self.names:
            self.names.add(name)
            for one in self.by_name.get(name, ()):
                if one.owner in self.reached:
                    self.reach(one)

    def _words(self, module: Module, words: str) -> None:
        """Take a word that stands alone for a name, as in getattr; follow a dotted one."""
        if WORD.fullmatch(words):
            self.named(words)
        elif words.startswith("hoopwright.") and " " not in words:
            home, _, name = words.partition(":")
            self.module(self.program.modules.get(home))
            if name:
                self.reach(self.program.imported(home, name))


def _special(name: str) -> bool:
    """Return whether Python itself calls a name."""
    return name.startswith("__") and name.endswith("__")


def _handed_over(one: Definition) -> bool:
    """Return whether a decorator hands a definition to somebody else who calls it."""
    marks = getattr(one.node, "decorator_list", [])
    return any(not WRAPPERS.match(ast.unparse(mark)) for mark in marks)


def reach(root: Path) -> tuple[Program, Reach]:
    """Follow the doors of the program below a folder."""
    program = Program(root / "src")
    writers = [program.add(root, root / path) for path in WRITERS if (root / path).exists()]
    found = Reach(program)
    for name in DOORS:
        found.module(program.modules.get(name))
    for name in _public(program.modules["hoopwright"]):
        home = _homes(program.modules["hoopwright"]).get(name, "hoopwright")
        found.reach(program.imported(home, name))
    for home, name in (("hoopwright.cli.main", "main"), ("hoopwright.web.app", "app")):
        found.reach(program.imported(home, name))
    for module in writers:
        found.module(module)
        for one in module.definitions.values():
            found.reach(one)
    for full in EXCEPTIONS:
        one = next((one for one in program.definitions if one.full == full), None)
        if one is None:
            raise SystemExit(f"tools/reach.py: the exception {full} names nothing; take it out")
        found.reach(one)
    for page in sorted((root / "src").rglob("*.jinja")):
        for name in re.findall(r"\.\s*([A-Za-z_]\w*)", page.read_text(encoding="utf-8")):
            found.named(name)
    found.settle()
    for module in writers:
        del program.modules[module.name]
    program.__dict__.pop("definitions", None)
    return program, found


def _public(module: Module) -> list[str]:
    """Return the names in a module's `__all__`."""
    one = module.definitions.get("__all__")
    return list(ast.literal_eval(one.node.value)) if one else []  # type: ignore[attr-defined]


def _homes(module: Module) -> dict[str, str]:
    """Return the modules that the public names are fetched from."""
    one = module.definitions.get("_HOMES")
    return dict(ast.literal_eval(one.node.value)) if one else {}  # type: ignore[attr-defined]


def unreachable(root: Path) -> list[Definition]:
    """Return the definitions of `src` that no door reaches, a class without its members."""
    program, found = reach(root)
    return [
        one
        for module in program.modules.values()
        for top in module.definitions.values()
        for one in ([top, *top.members.values()] if top.kind == "class" else [top])
        if one not in found.reached
        and not _special(one.name)
        and not (one.owner and one.owner not in found.reached)
    ]


def main() -> int:
    """Print what is out of reach; with --hold, fail where anything is."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--hold", action="store_true", help="end with 1 where anything is named")
    asked = parser.parse_args()
    gc.disable()  # the program's trees are wanted to the end
    dead = unreachable(ROOT)
    for one in dead:
        place = f"{one.module.path.relative_to(ROOT)}:{one.node.lineno}"
        print(f"{place}: {one.shown} ({one.kind}, {one.lines} lines)")
    total = sum(one.lines for one in dead)
    print(f"{len(dead)} definitions out of reach of every door, {total} lines")
    return 1 if asked.hold and dead else 0


if __name__ == "__main__":
    sys.exit(main())
