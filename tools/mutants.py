"""Spoil the formulas one at a time and see whether a test notices: `make mutants`.

Every change of `mutations` to the rooms named is made in turn, in a copy of the running process,
and the tests that run its line are run until the first fails. The whole test suite need not be run
for each: a first pass notes which test, with its fixtures, runs which line. `tests/unchanged` is
left out unless asked for, since a frozen number says that something moved and not what is right.

What no door reaches (`reach`) is left out. A change that no test runs counts as not caught. One
that sends a test into a long loop counts as caught. A change that moves no number (a bound that is
never met) counts as not caught as well, so the share printed is the least it can be. With --sample
only so many changes of each room, drawn by --seed, are tried; the figure then says so.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import resource
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache, cached_property
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import pytest
from mutations import FUNCTIONS, Mutant, mutants_of
from reach import unreachable

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "hoopwright"
ROOMS = ("checks", "loads", "holding", "cover", "hoop", "season")
# In-process tests of numbers; the doors' tests run commands and browsers, which take too long here.
TESTS = ["published", "recalled", "invariant", *ROOMS, "beam", "climate", "design", "heat"]
PATIENCE = 5.0  # a spoilt test may take so many times as long
LEAST_PATIENCE = 20.0  # [s] of processor time
MOST_TESTS = 60  # the quickest of those that run a line
COMPILED = ("compil", "tables")  # modules whose caches hold nothing that a change can reach


@cache
def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def module_of(path: Path) -> ModuleType:
    """Return the running module of a file."""
    parts = path.relative_to(SOURCE.parent).with_suffix("").parts
    name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
    __import__(name)
    return sys.modules[name]


def plain(thing: Any) -> FunctionType | None:
    """Return the function within a property, a cache or another wrapper."""
    if isinstance(thing, property):
        thing = thing.fget
    elif isinstance(thing, cached_property):
        thing = thing.func
    elif isinstance(thing, (staticmethod, classmethod)):
        thing = thing.__func__
    while hasattr(thing, "__wrapped__"):
        thing = thing.__wrapped__
    return thing if isinstance(thing, FunctionType) else None


def function_of(module: ModuleType, name: str) -> FunctionType | None:
    """Return a running function by its name in a module, `Class.method` for a method."""
    owner, _, last = name.rpartition(".")
    holder = getattr(module, owner) if owner else module
    return plain(vars(holder).get(last))


def codes(code: CodeType) -> Iterator[CodeType]:
    """Yield a code object and those within it."""
    yield code
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield from codes(inner)


def put(module: ModuleType, tree: ast.Module, names: set[str]) -> None:
    """Give running functions the code that a changed tree gives them."""
    compiled = compile(tree, str(module.__file__), "exec")
    for code in codes(compiled):
        if code.co_qualname in names:
            function = function_of(module, code.co_qualname)
            if function is not None:
                function.__code__ = code
    for node, name in _functions(tree):
        function = function_of(module, name) if name in names else None
        if function is not None and function.__defaults__:
            values = [_value(module, default) for default in node.args.defaults]
            function.__defaults__ = tuple(values)
        if function is not None and function.__kwdefaults__:
            for arg, default in zip(node.args.kwonlyargs, node.args.kw_defaults, strict=True):
                if default is not None:
                    function.__kwdefaults__[arg.arg] = _value(module, default)


def _functions(tree: ast.Module) -> Iterator[tuple[Any, str]]:
    for part in tree.body:
        if isinstance(part, FUNCTIONS):
            yield part, part.name
        elif isinstance(part, ast.ClassDef):
            yield from (
                (inner, f"{part.name}.{inner.name}")
                for inner in part.body
                if isinstance(inner, FUNCTIONS)
            )


def _value(module: ModuleType, node: ast.expr) -> Any:
    return eval(compile(ast.Expression(node), "<default>", "eval"), vars(module))


def put_constants(module: ModuleType, tree: ast.Module) -> None:
    """Give a module's constants their changed values, wherever they were imported to."""
    fresh = dict(vars(module))
    for part in tree.body:
        if not isinstance(part, (ast.Assign, ast.AnnAssign)) or part.value is None:
            continue
        targets = part.targets if isinstance(part, ast.Assign) else [part.target]
        names = [node.id for t in targets for node in ast.walk(t) if isinstance(node, ast.Name)]
        before = {name: fresh.get(name) for name in names}
        exec(compile(ast.Module([part], []), "<constant>", "exec"), fresh)
        for name in names:
            if repr(before[name]) == repr(fresh[name]):
                fresh[name] = before[name]
    changed = {
        name: value
        for name, value in fresh.items()
        if name in vars(module) and value is not vars(module)[name]
    }
    for name, value in changed.items():
        old = vars(module)[name]
        for other in list(sys.modules.values()):
            if (other.__name__ or "").startswith("hoopwright") and vars(other).get(name) is old:
                setattr(other, name, value)
            for function in vars(other).values() if other is module else ():
                found = plain(function)
                if found is not None and found.__defaults__:
                    found.__defaults__ = tuple(
                        value if one is old and isinstance(old, float) else one
                        for one in found.__defaults__
                    )


def forget() -> None:
    """Empty every cache that a changed formula may have filled."""
    for name, module in list(sys.modules.items()):
        if name.startswith("hoopwright") and not any(word in name for word in COMPILED):
            for thing in vars(module).values():
                if hasattr(thing, "cache_clear") and "compil" not in str(thing):
                    thing.cache_clear()


class Probes(ast.NodeTransformer):
    """Put a note of its line before every statement of a function."""

    def __init__(self, file: str) -> None:
        """Note the lines of a file."""
        self.file = file

    def generic_visit(self, node: ast.AST) -> ast.AST:
        """Probe the statements of every block within a function."""
        super().generic_visit(node)
        for name in ("body", "orelse", "finalbody"):
            block = getattr(node, name, None)
            if isinstance(block, list) and block and isinstance(block[0], ast.stmt):
                setattr(node, name, [one for part in block for one in self._probed(part)])
        return node

    def _probed(self, part: ast.stmt) -> list[ast.stmt]:
        last = part.end_lineno if not hasattr(part, "body") else part.lineno
        note = ast.parse(f"__ran__(({self.file!r}, {part.lineno}, {last or part.lineno}))").body[0]
        for inner in ast.walk(note):
            if hasattr(inner, "lineno"):
                ast.copy_location(inner, part)
        return [note, part]


class Watch:
    """Notes which test runs which lines, those of its fixtures among them."""

    def __init__(self) -> None:
        """Probe every function of the rooms."""
        self.ran: set[Any] = set()
        self.fixtures: dict[str, set[Any]] = defaultdict(set)
        self.tests: dict[str, tuple[float, set[Any]]] = {}
        for room in ROOMS:
            for path in sorted((SOURCE / room).glob("*.py")):
                module = module_of(path)
                vars(module)["__ran__"] = lambda line: self.ran.add(line)
                tree = ast.parse(path.read_text(encoding="utf-8"))
                file = str(path.relative_to(ROOT))
                names = set()
                for node, name in _functions(tree):
                    Probes(file).visit(node)
                    names.add(name)
                put(module, ast.fix_missing_locations(tree), names)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Iterator[None]:
        """Note the lines that a fixture runs, for every test that asks for it."""
        before, self.ran = self.ran, set()
        try:
            return (yield)
        finally:
            self.fixtures[fixturedef.argname] |= self.ran
            before |= self.ran
            self.ran = before

    def run(self, items: list[Any]) -> None:
        """Run every test, noting."""
        from _pytest.runner import runtestprotocol

        for item, following in zip(items, [*items[1:], None], strict=True):
            forget()
            self.ran = set()
            begun = time.process_time()
            reports = runtestprotocol(item, log=False, nextitem=following)
            if any(report.failed for report in reports):
                print(f"fails without any change, left out: {item.nodeid}", flush=True)
                continue
            for name in item.fixturenames:
                self.ran |= self.fixtures.get(name, set())
            self.tests[item.nodeid] = (time.process_time() - begun, self.ran)

    def lines(self) -> dict[str, Any]:
        """Return each test's seconds, and for each line the tests that run it."""
        by_line: dict[str, list[str]] = defaultdict(list)
        for test, (_, ran) in self.tests.items():
            for file, first, last in ran:
                for line in range(first, last + 1):
                    by_line[f"{file}:{line}"].append(test)
        return {"seconds": {t: s for t, (s, _) in self.tests.items()}, "lines": by_line}


class Trials:
    """The pytest plugin: notes, then tries every change."""

    def __init__(self, asked: argparse.Namespace) -> None:
        """Take what was asked on the command line."""
        self.asked = asked
        self.results: list[tuple[str, Mutant, str]] = []

    def pytest_runtestloop(self, session: Any) -> bool:
        """Run the trials in place of the tests."""
        items = {item.nodeid: item for item in session.items}
        noted = self._noted(session, list(items.values()))
        waiting = [
            (room, mutant, self._tests(noted, mutant))
            for room in self.asked.rooms
            for mutant in self._chosen(room)
        ]
        print(f"{len(waiting)} changes to try", flush=True)
        running: dict[int, tuple[str, Mutant]] = {}
        for room, mutant, tests in waiting:
            if not tests:
                self._keep(room, mutant, "no test runs it")
                continue
            while len(running) >= self.asked.jobs:
                self._wait(running)
            seconds = sum(noted["seconds"][test] for test in tests)
            child = os.fork()
            if child == 0:
                self._try(mutant, [items[test] for test in tests], seconds)
            running[child] = (room, mutant)
        while running:
            self._wait(running)
        return True

    def _noted(self, session: Any, items: list[Any]) -> dict[str, Any]:
        kept = Path(self.asked.notes)
        if not self.asked.keep or not kept.exists():
            child = os.fork()
            if child == 0:
                watch = Watch()
                session.config.pluginmanager.register(watch)
                watch.run(items)
                kept.write_text(json.dumps(watch.lines()), encoding="utf-8")
                os._exit(0)
            os.waitpid(child, 0)
        return json.loads(kept.read_text(encoding="utf-8"))

    def _chosen(self, room: str) -> list[Mutant]:
        files = sorted((SOURCE / room).glob("*.py"))
        dead = {(one.module.path, one.shown) for one in unreachable(ROOT)}
        every = [
            one for path in files for one in mutants_of(path) if (path, one.function) not in dead
        ]
        if self.asked.only:
            every = [one for one in every if self.asked.only in str(one.path)]
        if self.asked.sample and self.asked.sample < len(every):
            every = random.Random(self.asked.seed).sample(every, self.asked.sample)
        return sorted(every, key=lambda one: (str(one.path), one.line))

    def _tests(self, noted: dict[str, Any], mutant: Mutant) -> list[str]:
        """Return the quickest tests that run a change's line, those of files that name its function
        first; for a constant's, its users'."""
        file = str(mutant.path.relative_to(ROOT))
        lines = [f"{file}:{mutant.line}"]
        if mutant.function is None or mutant.line in _heads(mutant.path):
            lines = [key for key in noted["lines"] if key.startswith(f"{file}:")]
        found = {test for line in lines for test in noted["lines"].get(line, ())}
        name = (mutant.function or "").split(".")[-1]

        def order(test: str) -> tuple[bool, float]:
            return name not in _text(ROOT / test.split("::")[0]), noted["seconds"][test]

        return sorted(found, key=order)[: self.asked.most]

    def _try(self, mutant: Mutant, items: list[Any], seconds: float) -> None:
        """In a copy of the process: make the change, run the tests until one fails, and end."""
        from _pytest.runner import runtestprotocol

        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        most = int(PATIENCE * seconds + LEAST_PATIENCE)
        resource.setrlimit(resource.RLIMIT_CPU, (most, most + 5))
        try:
            module, tree = module_of(mutant.path), mutant.tree()
            if mutant.function is None:
                put_constants(module, tree)
            else:
                put(module, tree, _named(tree, mutant.function))
            forget()
            for item, following in zip(items, [*items[1:], None], strict=True):
                reports = runtestprotocol(item, log=False, nextitem=following)
                if any(report.failed for report in reports):
                    os._exit(1)
        except BaseException:
            os._exit(1)
        os._exit(0)

    def _wait(self, running: dict[int, tuple[str, Mutant]]) -> None:
        child, status = os.wait()
        if child in running:
            ended = os.waitstatus_to_exitcode(status)
            self._keep(*running.pop(child), {0: "survived", 1: "caught"}.get(ended, "stopped"))

    def _keep(self, room: str, mutant: Mutant, how: str) -> None:
        self.results.append((room, mutant, how))
        if how not in ("caught", "stopped"):
            where = f"{mutant.path.relative_to(ROOT)}:{mutant.line}"
            print(f"{how}: {where} {mutant.function or ''}: {mutant.words}", flush=True)

    def shares(self) -> Iterator[str]:
        """Yield the share caught, by room and in all."""
        tried = Counter(room for room, _, _ in self.results)
        caught = Counter(room for room, _, how in self.results if how in ("caught", "stopped"))
        for room in [*self.asked.rooms, "all"]:
            whole = tried[room] if room != "all" else tried.total()
            good = caught[room] if room != "all" else caught.total()
            if whole:
                yield f"{room:10} {good:5} of {whole:5} caught  {100 * good / whole:5.1f} %"


def _heads(path: Path) -> set[int]:
    """Return the lines of a module that hold the defaults of its functions."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {
        line for node, _ in _functions(tree) for line in range(node.lineno, node.body[0].lineno)
    }


def _named(tree: ast.Module, name: str) -> set[str]:
    return {name for _, one in _functions(tree) if one == name}


def main() -> int:
    """Read what is asked, and print what was caught."""
    parser = argparse.ArgumentParser(description="Share of spoilt formulas that a test notices.")
    parser.add_argument("rooms", nargs="*", default=list(ROOMS), help="rooms of src")
    parser.add_argument("--sample", type=int, default=0, help="changes a room; 0: every one")
    parser.add_argument("--seed", type=int, default=1, help="draws the sample")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--tests", nargs="*", default=None, help="folders of tests")
    parser.add_argument("--unchanged", action="store_true", help="count tests/unchanged as well")
    parser.add_argument("--only", default="", help="changes to files whose path holds this")
    parser.add_argument("--most", type=int, default=MOST_TESTS, help="tests tried for each change")
    parser.add_argument("--notes", default="/tmp/hoopwright-mutants.json", help="what runs what")
    parser.add_argument("--keep", action="store_true", help="use the notes of an earlier run")
    asked = parser.parse_args()
    sys.path.insert(0, str(ROOT / "src"))
    from hoopwright.cli.door import keep_to_one_thread

    keep_to_one_thread()
    from hypothesis import Phase, settings

    settings.register_profile(
        "mutants", phases=[Phase.explicit, Phase.generate], derandomize=True, database=None
    )
    settings.load_profile("mutants")
    folders = asked.tests or [*TESTS, *(["unchanged"] if asked.unchanged else [])]
    found = [str(ROOT / "tests" / name) for name in folders if (ROOT / "tests" / name).exists()]
    trials = Trials(asked)
    pytest.main(["-q", "-p", "no:cacheprovider", "-s", *found], [trials])
    drawn = f", {asked.sample} of each room drawn by seed {asked.seed}" if asked.sample else ""
    print(f"\nSpoilt formulas that a test notices{drawn}; tests: {' '.join(folders)}")
    print("\n".join(trials.shares()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
