"""What holds for every test: one thread of linear algebra, and one place for compiled code."""

import gc
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import nullcontext, suppress
from pathlib import Path

import pytest
from _pytest.assertion import rewrite

#: The rooms whose files take longest, begun first so that all workers end together.
LONG_ROOMS = ("web", "sheet", "reference", "programme", "invariant", "practice", "unchanged")
#: Files that go to one worker, by how they begin: they share what takes long to make.
TOGETHER = {
    "tests/sheet/": "books",
    "tests/invariant/test_season_sense.py": "years",
    "tests/practice/test_season_practice.py": "years",
    "tests/web/test_build_page.py": "server",
    "tests/web/test_openapi.py": "server",
    "tests/web/test_scene_browser.py": "server",
    "tests/web/test_speed.py": "server",
}
#: Rooms of commands and pages, which ask again and again for the strength of the same few beds.
SAME_BEDS = ("cli", "drawing", "programme", "sheet", "unchanged")


def pytest_configure(config: pytest.Config) -> None:
    """Set what processes that a test starts get too, and compile what all of them would compile.

    Compiled code is kept under the fingerprint of its sources for all processes of a
    run, also for those that keep their answers in a folder of their own. So is byte code, as Python
    does unless forbidden: each of some hundred processes would else compile the whole program.
    """
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.dont_write_bytecode = False
    from hoopwright.caching import ROOT, folder, program_print
    from hoopwright.cli.door import keep_to_one_thread

    keep_to_one_thread()
    from hoopwright.heat.compiled import compiled_before

    compiled: Path = folder() / "compiled" / program_print(ROOT / "heat")[:16]
    os.environ.setdefault("NUMBA_CACHE_DIR", str(compiled))
    parallel = getattr(config.option, "dist", "no") != "no" and not hasattr(config, "workerinput")
    if parallel and not config.option.collectonly and not compiled_before():
        root = Path(__file__).parents[1]
        script, path = root / "tests" / "rigs" / "compile_march.py", [str(root), *sys.path]
        places = os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, path))}
        compiling = subprocess.Popen([sys.executable, str(script)], env=places)
        config.add_cleanup(compiling.wait)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Return one worker more than cores: one of them mostly waits for a browser or a server."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """Hand files to workers as `--dist loadfile` does, those of `TOGETHER` as one."""
    if config.getoption("dist") != "loadfile":
        return None
    from xdist.scheduler import LoadFileScheduling

    class Groups(LoadFileScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file = super()._split_scope(nodeid)
            groups = (group for begins, group in TOGETHER.items() if file.startswith(begins))
            return next(groups, file)

    return Groups(config, log)


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """Share out among new workers what each would do in step: rewriting the tests' assertions.

    That takes three times as long as all else before the first test. Each begins at another file
    and writes what nobody has written yet; a file that has changed since, pytest writes anew.
    """
    gc.disable()
    worker, state = getattr(session.config, "workerinput", None), rewrite.assertstate_key
    if worker is None or state not in session.config.stash:
        return
    asked = [Path(one.partition("::")[0]) for one in session.config.args]
    files = sorted(f for one in asked for f in ([one] if one.is_file() else one.rglob("test_*.py")))
    first = len(files) * int(worker["workerid"].removeprefix("gw")) // worker["workercount"]
    for file in files[first:] + files[:first]:
        code = rewrite.get_cache_dir(file) / (file.stem + rewrite.PYC_TAIL)
        with suppress(SyntaxError):  # which pytest tells
            if not code.exists() and rewrite.try_makedirs(code.parent):
                print_, made = rewrite._rewrite_test(file, session.config)
                rewrite._write_pyc(session.config.stash[state], made, print_, code)


def pytest_collection_finish() -> None:
    """Look for rubbish seldom, and never in what was imported, which each look goes through."""
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the long rooms first, each in its own order."""
    place = {room: at for at, room in enumerate(LONG_ROOMS)}
    items.sort(key=lambda item: place.get(item.path.parent.name, len(place)))


@pytest.fixture(autouse=True, scope="module")
def designs_once(request: pytest.FixtureRequest) -> Iterator[None]:
    """Work out a ladder and an order once where the rooms' tests ask for the same beds."""
    if request.path.parent.name in SAME_BEDS:
        from remembered import once
    else:
        once = nullcontext
    with once():
        yield
