"""A full disk, and a clock set back: nothing is lost, and the order stays that of the saves."""

import sqlite3
import sys

import pytest

from hoopwright import writing
from hoopwright.store import Store, StoreError, backup, database, results, visitors
from hoopwright.store.whole import damaged


@pytest.fixture
def store(tmp_path):
    with Store(tmp_path) as opened:
        yield opened


def test_a_full_disk_is_said_in_words_and_loses_nothing(store):
    """SQLite is held to the pages that it has, which ends as a full disk does (SQLITE_FULL)."""
    plan = store.plans.add("a", "Bed", "[bed]\n").id
    with store.reading() as base:
        pages = base.execute("PRAGMA page_count").fetchone()[0]
        base.execute(f"PRAGMA max_page_count = {pages}")
    large = "#" * 1_000_000
    with pytest.raises(StoreError, match="full"):
        store.plans.change("a", plan, "Bed", large, "")
    with pytest.raises(StoreError, match="full"):
        store.weathers.put("a", plan, "w.csv", "", bytes(range(256)) * 4000)
    found = store.plans.get("a", plan)
    assert (found.text, found.revision, found.later) == ("[bed]\n", 1, False)
    with store.reading() as base:
        assert damaged(base) == []
        base.execute("PRAGMA max_page_count = 1000000")
    assert store.plans.change("a", plan, "Bed", large, "").text == large


@pytest.mark.parametrize("size", [0, 1, 4096])
def test_a_file_that_the_system_cuts_short_is_not_put_in_place(tmp_path, size):
    """The system's own bound on a file's size stands for the disk's end."""
    resource = pytest.importorskip("resource")
    file = tmp_path / "bed.toml"
    file.write_text("before")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        with pytest.raises(OSError) as told:
            writing.write(file, "a" * 100_000)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert told.value.filename == str(file)
    assert file.read_text() == "before"
    assert [path.name for path in tmp_path.iterdir()] == ["bed.toml"]


def test_a_store_that_another_program_holds_is_said_so_and_not_waited_for(tmp_path, monkeypatch):
    """Two seconds and not SQLite's five; it is not told to be moved aside, for it is whole."""
    with Store(tmp_path) as store:
        store.plans.add("a", "Bed", "[bed]\n")
    assert database.PATIENCE <= 2.0
    for room in ("database", "backup"):
        monkeypatch.setattr(sys.modules[f"hoopwright.store.{room}"], "PATIENCE", 0.0)
    holder = sqlite3.connect(tmp_path / database.FILE, isolation_level=None)
    holder.execute("PRAGMA locking_mode = EXCLUSIVE")
    holder.execute("BEGIN EXCLUSIVE")
    try:
        with pytest.raises(StoreError, match="is held by another program; close that"):
            Store(tmp_path)
        with pytest.raises(StoreError, match="is held by another program; close that"):
            backup(tmp_path, tmp_path / "copy")
    finally:
        holder.close()
    with Store(tmp_path) as store:
        assert store.plans.count("a") == 1


@pytest.fixture
def back(monkeypatch):
    """A clock that goes back an hour at each look."""
    now = [2e9]

    def clock():
        now[0] -= 3600.0
        return now[0]

    monkeypatch.setattr("time.time", clock)


def test_with_the_clock_set_back_the_last_is_still_the_last(store, back, monkeypatch):
    first, second = (store.plans.add("a", name, "[bed]\n").id for name in ("1", "2"))
    assert [plan.id for plan in store.plans.all("a")] == [second, first]
    store.plans.change("a", first, "1", "[bed]\n#\n", "")
    assert [plan.id for plan in store.plans.all("a")] == [first, second]
    store.plans.step("a", second, 1, str)
    store.plans.change("a", second, "2", "[bed]\n#\n", "")
    store.plans.step("a", second, -1, lambda text: "2")
    assert [plan.id for plan in store.plans.all("a")] == [second, first]
    jobs = [store.jobs.add("a", first, "season", str(number), "").id for number in range(3)]
    latest = store.jobs.latest("a", first, "season")
    assert latest is not None
    assert latest.id == jobs[-1]
    assert [job.id for job in store.jobs.open_jobs()] == jobs
    monkeypatch.setattr(results, "MOST_RESULTS", 2)
    for key in ("x", "y", "x", "z"):
        store.results.keep(key, "season", {"of": key})
    assert [store.results.get(key) for key in ("x", "y", "z")] == [{"of": "x"}, None, {"of": "z"}]
    monkeypatch.setattr(visitors, "MOST_IDLE", 2)
    tokens = [store.visitors.join() for _ in range(3)]
    assert [store.visitors.known(token) is not None for token in tokens] == [False, True, True]
