"""What is kept between runs: to the letter, or not at all; and never past its program."""

import pickle
import random
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, TypeVar

import numpy as np
import pytest
from numpy.typing import NDArray
from typing_extensions import TypeAliasType

from hoopwright import caching
from hoopwright.caching import kept


@dataclass(frozen=True)
class Leaf:
    name: str
    worth: float | None
    kind: Literal["a", "b"]
    series: NDArray[np.float64]


@dataclass(frozen=True)
class Tree:
    leaves: Mapping[str, Leaf]
    pair: tuple[int, float]
    many: tuple[bool, ...]
    at: datetime


TREE = Tree(
    {
        "x": Leaf("x", None, "a", np.array([1.0, np.nan, -np.inf])),
        "y": Leaf("\u00fc", 0.1 + 0.2, "b", np.zeros((2, 3))),
    },
    (3, 4.0),
    (True, False),
    datetime(2026, 1, 2, 3),
)


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("HOOPWRIGHT_CACHE", str(tmp_path))
    return tmp_path


def test_it_comes_back_to_the_last_digit():
    kept.save("tree", TREE)
    back = kept.load("tree", Tree)
    assert back is not None
    assert (back.pair, back.many, back.at) == (TREE.pair, TREE.many, TREE.at)
    for name, leaf in TREE.leaves.items():
        same = back.leaves[name]
        assert (same.name, same.worth, same.kind) == (leaf.name, leaf.worth, leaf.kind)
        assert np.array_equal(same.series, leaf.series, equal_nan=True)
    assert kept.load("nothing", Tree) is None


Item = TypeVar("Item")
Column = TypeAliasType("Column", NDArray[Item], type_params=(Item,))


@dataclass(frozen=True)
class Aliased:
    series: Column[np.float64]


def test_an_array_by_an_alias_comes_back(folder):
    """So NumPy's own name for one is from Python 3.12 on: seasons were never found again."""
    kept.save("aliased", Aliased(np.arange(3.0)))
    back = kept.load("aliased", Aliased)
    assert back is not None
    assert np.array_equal(back.series, np.arange(3.0))


def test_a_damaged_file_counts_as_none(folder):
    """300 files, each with one byte changed or cut short: a pickle was taken 59 times of 300."""
    kept.save("tree", TREE)
    file = folder / "tree.kept"
    whole = file.read_bytes()
    dice = random.Random(14)
    for number in range(300):
        spoilt = bytearray(whole)
        at = dice.randrange(len(whole))
        if number % 3:
            spoilt[at] ^= dice.randrange(1, 256)
        else:
            del spoilt[at:]
        file.write_bytes(spoilt)
        assert kept.load("tree", Tree) is None


def test_another_shape_counts_as_none(folder):
    kept.save("tree", TREE)
    assert kept.load("tree", Leaf) is None


def test_nothing_kept_is_ever_run(folder):
    class Trap:
        def __reduce__(self):
            return (exec, ("raise SystemExit",))

    body = pickle.dumps(Trap())
    (folder / "trap.kept").write_bytes(kept._head(body) + b"\n" + body)
    assert kept.load("trap", Tree) is None


def test_the_print_changes_with_code_and_tables_of_any_room(tmp_path):
    """Results outlived a change of hoop, beam or cover, and a sweep all but a new version."""
    for room, file in (("hoop", "bent.py"), ("tables/data", "pipe.csv")):
        (tmp_path / room).mkdir(parents=True)
        (tmp_path / room / file).write_text("1")
    first = caching.program_print.__wrapped__(tmp_path)
    assert caching.program_print.__wrapped__(tmp_path) == first
    seen = {first}
    for file in ("hoop/bent.py", "tables/data/pipe.csv"):
        (tmp_path / file).write_text("2")
        seen.add(caching.program_print.__wrapped__(tmp_path))
    assert len(seen) == 3
    assert {"beam", "cover", "hoop", "tables"} <= {path.name for path in caching.ROOT.iterdir()}


def test_every_result_is_kept_under_that_print(monkeypatch):
    from hoopwright.plan import read_plan_text
    from hoopwright.programme import sweep
    from hoopwright.web import work_kinds

    plan, site = "", sweep.SweepSite("here", ())

    def keys():
        return {
            kept.key("a"),
            work_kinds.KINDS["season"].key(read_plan_text(plan).plan, (), ""),
            sweep.pieces([("bed", plan, caching.ROOT)], [site])[0].digest,
        }

    before = keys()
    for module in (kept, work_kinds, sweep):
        monkeypatch.setattr(module, "program_print", lambda: "another program")
    assert not before & keys()
