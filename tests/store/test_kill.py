"""Killed at random moments while saving and while working, nothing is lost or half there.

Fifteen kills, a thousand in `make long`.

How the test knows. The writer tells each save down a pipe only after the store has returned, so
what the parent has read must be in the store after the kill, to the letter. Each text says its
own number and is padded by a rule, so a half-written or mixed one is told from a whole one without
trusting the store; the store's own fingerprints and SQLite's integrity check are read as well.
One more revision than was told may be there: the writer died between saving and telling.
"""

import os
import random
import select
import signal
import time

import pytest
from rounds import turns

from hoopwright.store import Store, backup
from hoopwright.store.whole import damaged

KILLS = turns(15, 1000)


def text(number: int) -> str:
    body = "".join(f"# line {number} {row}\n" for row in range(number % 400))
    return f"# begin {number}\n{body}# end {number}\n"


def named(whole):
    return whole.split("\n", 1)[0].split()[-1]


def writer(folder, plan, tell, number):
    """Save for ever: revisions, undo and redo, job progress, results; tell each revision."""
    store = Store(folder)
    while True:
        number += 1
        store.plans.change("a", plan, str(number), text(number), "")
        os.write(tell, f"{number}\n".encode())
        if number % 5 == 0:
            store.plans.step("a", plan, -1, named)
            store.plans.step("a", plan, 1, named)
        if number % 3 == 0:
            job = store.jobs.add("a", plan, "k", f"key {number}", text(number)).id
            store.jobs.tell(job, "running", 0.5, "half")
            store.results.keep(f"key {number}", "k", {"number": number})
            store.jobs.tell(job, "done", 1.0, "")


def told_before_the_kill(folder, plan, number, wait):
    """Run the writer in a process of its own, kill it, return the last number it told."""
    read, tell = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(read)
            writer(folder, plan, tell, number)
        finally:
            os._exit(1)
    os.close(tell)
    time.sleep(wait)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the writer ended by itself"
    heard = b""
    while select.select([read], [], [], 0)[0] and (part := os.read(read, 65536)):
        heard += part
    os.close(read)
    lines = heard.decode().split()
    return int(lines[-1]) if lines else number


def seconds_to_begin(folder):
    """Return how long this machine takes to open a store and save ten times: kills fall there."""
    with Store(folder) as store:
        plan = store.plans.add("a", "0", text(0)).id
    begun = time.perf_counter()
    with Store(folder) as store:
        for number in range(10):
            store.plans.change("a", plan, str(number), text(number), "")
    return time.perf_counter() - begun


@pytest.mark.slow
def test_kills_lose_nothing(tmp_path):
    draw = random.Random(20260901)
    with Store(tmp_path) as store:
        plan = store.plans.add("a", "0", text(0)).id
        others = {store.plans.add("a", "other", text(n)).id: text(n) for n in range(5)}
    number, saves = 0, 0
    pace = seconds_to_begin(tmp_path / "pace")
    for _ in range(KILLS):
        told = told_before_the_kill(tmp_path, plan, number, draw.uniform(0.5, 12.0) * pace)
        with Store(tmp_path) as store:
            with store.reading() as base:
                assert damaged(base) == []
            kept = store.plans.get("a", plan)
            found = int(kept.name)
            with store.reading() as base:
                numbers = [
                    int(named(row["text"]))
                    for row in base.execute("SELECT text FROM revision WHERE plan = ?", (plan,))
                ]
            # The kill may fall between an undo and its redo: the later revision is still there.
            assert kept.text == text(found)
            assert max(numbers) in (told, told + 1)
            assert found in (max(numbers), max(numbers) - 1)
            for job in store.jobs.open_jobs():
                assert job.text == text(int(job.key.split()[1]))
            for other, whole in others.items():
                assert store.plans.get("a", other).text == whole
        saves += max(numbers) - number
        number = max(numbers)
    print(f"{KILLS} kills, {saves} saves")
    assert saves > KILLS, "the writer was hardly ever writing; the kills proved little"


def test_a_killed_backup_leaves_no_half_file(tmp_path):
    draw = random.Random(7)
    with Store(tmp_path / "kept") as store:
        for number in range(200):
            store.plans.add("a", str(number), text(399))
    for turn in range(10):
        child = os.fork()
        if child == 0:
            try:
                backup(tmp_path / "kept", tmp_path / f"copy-{turn}.sqlite3")
            finally:
                os._exit(0)
        time.sleep(draw.uniform(0.0, 0.02))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    for copy in tmp_path.glob("copy-*.sqlite3"):
        folder = tmp_path / copy.stem
        folder.mkdir()
        (folder / "hoopwright.sqlite3").write_bytes(copy.read_bytes())
        with Store(folder) as store:
            with store.reading() as base:
                assert damaged(base) == []
            assert store.plans.count("a") == 200
