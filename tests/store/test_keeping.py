"""The store keeps what it is given: revisions, owners, results, jobs, migrations, backups."""

import sqlite3

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.store import Store, StoreError, backup, restore
from hoopwright.store.database import APPLICATION, FILE, MIGRATIONS, statements
from hoopwright.store.lists import MOST_LISTS, NoRoom
from hoopwright.store.plans import MOST_REVISIONS, digest_of, stamp_of
from hoopwright.store.results import key_of
from hoopwright.store.table import NoSuchPlan
from hoopwright.store.whole import damaged

TEXT = '# mine\nname = "Bed"  # the near one\n'


def damage(store):
    with store.reading() as base:
        return damaged(base)


@pytest.fixture
def store(tmp_path):
    with Store(tmp_path / "kept") as opened:
        yield opened


def test_text_comes_back_to_the_letter(store):
    plan = store.plans.add("a", "Bed", TEXT)
    assert store.plans.get("a", plan.id).text == TEXT
    assert damage(store) == []


def test_undo_and_redo_walk_the_revisions(store):
    plan = store.plans.add("a", "0", "0").id
    for number in range(1, 5):
        store.plans.change("a", plan, str(number), str(number), "")
    back = [store.plans.step("a", plan, -1, str).text for _ in range(6)]
    assert back == ["3", "2", "1", "0", "0", "0"]
    assert store.plans.step("a", plan, 1, str).text == "1"
    now = store.plans.change("a", plan, "x", "x", "")
    assert (now.text, now.later, now.earlier) == ("x", False, True)
    assert store.plans.step("a", plan, 1, str).text == "x"
    assert store.plans.text_at("a", plan, stamp_of(2, "1")) == "1"
    assert store.plans.text_at("a", plan, stamp_of(2, "another")) is None


@given(st.lists(st.sampled_from(["change", "undo", "redo"]), max_size=40))
@settings(max_examples=25, deadline=None, derandomize=True)
def test_undo_agrees_with_two_stacks(tmp_path_factory, acts):
    """The oracle is the textbook undo of two stacks."""
    with Store(tmp_path_factory.mktemp("s")) as store:
        plan = store.plans.add("a", "0", "0").id
        past, future, now = [], [], "0"
        for number, act in enumerate(acts, start=1):
            if act == "change":
                past, future, now = [*past, now], [], str(number)
                saved = store.plans.change("a", plan, now, now, "")
            elif act == "undo":
                if past:
                    future, now, past = [now, *future], past[-1], past[:-1]
                saved = store.plans.step("a", plan, -1, str)
            else:
                if future:
                    past, now, future = [*past, now], future[0], future[1:]
                saved = store.plans.step("a", plan, 1, str)
            assert saved.text == now
            assert (saved.earlier, saved.later) == (bool(past), bool(future))


def test_old_revisions_are_forgotten_and_the_present_never(store):
    plan = store.plans.add("a", "0", "0").id
    for number in range(MOST_REVISIONS + 5):
        store.plans.change("a", plan, "n", str(number), "")
    with store.reading() as base:
        kept = base.execute("SELECT count(*) FROM revision").fetchone()[0]
    assert kept == MOST_REVISIONS
    assert store.plans.get("a", plan).text == str(MOST_REVISIONS + 4)


def test_nobody_reaches_anothers_plan(store):
    plan = store.plans.add("a", "Bed", TEXT).id
    job = store.jobs.add("a", plan, "k", "key", TEXT).id
    for act in (
        lambda: store.plans.get("b", plan),
        lambda: store.plans.change("b", plan, "n", "t", ""),
        lambda: store.plans.step("b", plan, -1, str),
        lambda: store.plans.forget("b", plan),
        lambda: store.jobs.add("b", plan, "k", "key", TEXT),
    ):
        with pytest.raises(NoSuchPlan):
            act()
    assert store.plans.text_at("b", plan, stamp_of(1, TEXT)) is None
    assert store.jobs.get("b", job) is None
    assert store.plans.all("b") == ()
    assert store.plans.get("a", plan).text == TEXT


def test_a_job_over_stays_over(store):
    plan = store.plans.add("a", "Bed", TEXT).id
    job = store.jobs.add("a", plan, "k", "key", TEXT).id
    assert store.jobs.tell(job, "running", 0.5, "half")
    assert store.jobs.tell(job, "cancelled", 0.5, "")
    assert not store.jobs.tell(job, "done", 1.0, "")
    assert store.jobs.get("a", job).state == "cancelled"
    assert store.jobs.open_jobs() == ()


def test_results_by_what_went_in(store):
    key = key_of("k", "1", "text")
    assert key != key_of("k", "2", "text")
    assert store.results.get(key) is None
    store.results.keep(key, "k", {"days": [1, 2.5, None]})
    assert store.results.get(key) == {"days": [1, 2.5, None]}


def test_tokens_are_not_kept_in_clear(store):
    token = store.visitors.join()
    assert store.visitors.known(token)
    assert store.visitors.known(token + "x") is None
    with store.reading() as base:
        assert token not in str([tuple(row) for row in base.execute("SELECT * FROM visitor")])


def test_one_server_a_folder(store):
    with pytest.raises(StoreError, match="in use"):
        Store(store.folder)


def test_a_foreign_later_or_broken_file_is_refused_and_left_alone(tmp_path):
    for name, make in {
        "foreign": "PRAGMA application_id = 7",
        "later": f"PRAGMA application_id = {APPLICATION}; PRAGMA user_version = 999",
    }.items():
        folder = tmp_path / name
        folder.mkdir()
        base = sqlite3.connect(folder / FILE)
        base.executescript(make)
        base.close()
        with pytest.raises(StoreError):
            Store(folder)
    folder = tmp_path / "broken"
    folder.mkdir()
    (folder / FILE).write_bytes(b"this is no database" * 100)
    with pytest.raises(StoreError, match="restore a backup"):
        Store(folder)
    assert (folder / FILE).read_bytes().startswith(b"this is no database")


def test_migrations_make_strict_tables(store):
    with store.reading() as base:
        assert base.execute("PRAGMA user_version").fetchone()[0] == len(MIGRATIONS)
        assert base.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
        strict = {row["name"]: row["strict"] for row in base.execute("PRAGMA table_list")}
        ours = ("plan", "revision", "result", "job", "visitor")
        assert all(strict[name] for name in ours)
    assert all(sqlite3.complete_statement(part) for part in statements(MIGRATIONS[0]))


def test_backup_while_open_and_back(tmp_path):
    with Store(tmp_path / "kept") as store:
        plan = store.plans.add("a", "Bed", TEXT).id
        copy = tmp_path / "copy.sqlite3"
        assert backup(store.folder, copy) == ()
        store.plans.change("a", plan, "Bed", TEXT + "# later\n", "")
        with pytest.raises(StoreError, match="in use"):
            restore(store.folder, copy)
        with pytest.raises(StoreError, match="already"):
            backup(store.folder, copy)
    aside = restore(tmp_path / "kept", copy).before
    with Store(tmp_path / "kept") as store:
        assert store.plans.get("a", plan).text == TEXT
        assert damage(store) == []
    restore(tmp_path / "kept", aside)
    with Store(tmp_path / "kept") as store:
        assert store.plans.get("a", plan).text.endswith("# later\n")


def test_a_damaged_backup_changes_nothing(tmp_path):
    with Store(tmp_path / "kept") as store:
        plan = store.plans.add("a", "Bed", TEXT * 500).id
    copy = tmp_path / "copy.sqlite3"
    backup(tmp_path / "kept", copy)
    whole = copy.read_bytes()
    for spoilt in (whole[: len(whole) // 2], b"", whole[:4096] + b"\0" * (len(whole) - 4096)):
        copy.write_bytes(spoilt)
        with pytest.raises(StoreError):
            restore(tmp_path / "kept", copy)
        with Store(tmp_path / "kept") as store:
            assert store.plans.get("a", plan).text == TEXT * 500


def test_a_backup_whose_schema_is_no_text_is_refused_in_words(tmp_path):
    """SQLite's own message quotes the letters, which no decoder takes (`make fuzz`, backup 722)."""
    with Store(tmp_path / "kept"):
        pass
    backup(tmp_path / "kept", tmp_path / "copy")
    held = (
        (tmp_path / "copy")
        .read_bytes()
        .replace(b"CREATE TABLE visitor", b"CREATE TABLE vi\xefitor")
    )
    (tmp_path / "copy").write_bytes(held)
    with pytest.raises(StoreError, match=r"is (no backup of a store|damaged)"):
        restore(tmp_path / "new", tmp_path / "copy")


def test_lists_are_their_owners_and_come_back_from_a_backup(tmp_path):
    text = "thing,price [USD]\nä,1\n"
    with Store(tmp_path / "kept") as store:
        store.lists.put("a", "prices", "one row", "mine.csv", text)
        store.lists.put("a", "prices", "one row", "other.csv", "x")
        store.lists.put("b", "catalogue", "", "mine.csv", "theirs")
        assert store.lists.text("a", "mine.csv") == text
        assert store.lists.named_in("a", 'prices = "mine.csv"') == (("mine.csv", text),)
        assert [one.name for one in store.lists.all("a")] == ["mine.csv", "other.csv"]
        assert store.lists.text("c", "mine.csv") is None
        backup(tmp_path / "kept", tmp_path / "b.sqlite3")
        store.lists.forget("a", "mine.csv")
        assert store.lists.text("a", "mine.csv") is None
        assert store.lists.text("b", "mine.csv") == "theirs"
    restore(tmp_path / "kept", tmp_path / "b.sqlite3")
    with Store(tmp_path / "kept") as store:
        assert store.lists.text("a", "mine.csv") == text


def test_one_owner_has_room_for_so_many_lists(store):
    for number in range(MOST_LISTS):
        store.lists.put("a", "prices", "", f"{number}.csv", "x")
    store.lists.put("a", "prices", "", "0.csv", "y")
    store.lists.put("b", "prices", "", "new.csv", "y")
    with pytest.raises(NoRoom):
        store.lists.put("a", "prices", "", "new.csv", "x")


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_an_older_store_is_brought_up_to_date_and_loses_nothing(tmp_path, version):
    folder = tmp_path / "kept"
    folder.mkdir()
    base = sqlite3.connect(folder / FILE)
    for script in MIGRATIONS[:version]:
        for statement in statements(script):
            base.execute(statement)
    base.execute(f"PRAGMA application_id = {APPLICATION}")
    base.execute(f"PRAGMA user_version = {version}")
    base.execute("INSERT INTO plan VALUES ('p', 'a', 'p', 'Bed', 1, '{}', 0.0, 0.0)")
    base.execute("INSERT INTO revision VALUES ('p', 1, ?, ?, '', 0.0)", (TEXT, digest_of(TEXT)))
    base.commit()
    base.close()
    with Store(folder) as store:
        assert store.plans.get("a", "p").text == TEXT
        store.lists.put("a", "prices", "", "mine.csv", "x")
        assert damage(store) == []


def spoilt(tmp_path, *statements):
    """Return a backup of one plan with two revisions, which a stranger then wrote to."""
    with Store(tmp_path / "kept") as store:
        plan = store.plans.add("a", "Bed", TEXT).id
        store.plans.change("a", plan, "Bed", TEXT + "# later\n", "")
        store.weathers.put("a", plan, "w.epw", "a year", b"hours")
        store.lists.put("a", "prices", "one row", "mine.csv", "x")
        store.results.keep("k", "season", {"plots": "<svg onload=...>"})
    copy = tmp_path / "copy.sqlite3"
    backup(tmp_path / "kept", copy)
    base = sqlite3.connect(copy)
    for statement in statements:
        base.execute(statement)
    base.commit()
    base.close()
    return plan, copy


def test_a_backup_brings_rows_and_nothing_that_runs(tmp_path):
    """A trigger in a backup ran at the next save."""
    plan, copy = spoilt(
        tmp_path,
        "CREATE TRIGGER t AFTER UPDATE ON plan BEGIN DELETE FROM revision; END",
        "CREATE VIEW v AS SELECT * FROM plan",
        "CREATE TABLE stray (a)",
    )
    assert restore(tmp_path / "new", copy).left_out == ()
    with Store(tmp_path / "new") as store:
        store.plans.change("a", plan, "Bed", "third", "")
        assert store.plans.text_at("a", plan, stamp_of(1, TEXT)) == TEXT
        assert store.weathers.body(plan) == b"hours"
        assert store.lists.text("a", "mine.csv") == "x"
        assert store.results.get("k") is None
        with store.reading() as base:
            names = {row["name"] for row in base.execute("SELECT name FROM sqlite_schema")}
        assert not names & {"t", "v", "stray"}


def test_what_is_not_as_it_was_saved_is_left_out_and_said(tmp_path):
    """A wrong digest passed."""
    plan, copy = spoilt(
        tmp_path,
        "UPDATE revision SET text = 'forged' WHERE number = 2",
        "UPDATE weather SET body = x'00'",
        "UPDATE own_list SET digest = 'x'",
        "INSERT INTO revision VALUES ('nobody', 1, '', 'e3b0c442', '', 0.0)",
        "INSERT INTO plan VALUES ('empty', 'a', 'empty', 'Bed', 1, '{}', 0.0, 0.0)",
    )
    left_out = "\n".join(restore(tmp_path / "new", copy).left_out)
    for words in ("revision", "weather", "own_list 'a', 'mine.csv'", "plan 'empty'", "nobody"):
        assert words in left_out
    assert f"plan '{plan}': stands at revision 1, since 2 is not whole" in left_out
    with Store(tmp_path / "new") as store:
        assert store.plans.get("a", plan).text == TEXT
        assert [one.id for one in store.plans.all("a")] == [plan]
        assert damage(store) == []


def test_a_backup_says_what_the_disk_lost(tmp_path):
    with Store(tmp_path / "kept") as store:
        store.plans.add("a", "Bed", TEXT)
        with store.writing() as base:
            base.execute("UPDATE revision SET text = 'other'")
        (wrong,) = backup(store.folder, tmp_path / "copy.sqlite3")
    assert "not what was saved" in wrong
