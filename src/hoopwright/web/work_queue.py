"""Long work: each job in a process of its own, watched by a thread, written down as it goes.

A job that a killed server left waiting or running is taken up again when the server starts.
"""

import hashlib
import multiprocessing
import os
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from multiprocessing.connection import Connection
from typing import Any

from hoopwright.answers.season_kept import FIRST_USE
from hoopwright.plan.read import PlanError
from hoopwright.programme.pools import end_with_parent
from hoopwright.store import Job, LoggerFile, Store
from hoopwright.store.table import NoSuchPlan
from hoopwright.tables.overlay import OwnFile
from hoopwright.web.beside import Beside, OtherPlan, RestsOn, beside_in, read_here, wishes_in
from hoopwright.web.pace import Pace
from hoopwright.web.work_kinds import KINDS

_SPAWN = multiprocessing.get_context("spawn")
#: Seconds between looks at whether a job was cancelled, and between notes of its progress.
_LOOK, _NOTE = 0.1, 0.4


class TooMany(ValueError):
    """A visitor has as many jobs waiting as they may."""


def _do(line: Connection, kind: str, text: str, beside: Beside) -> None:
    """Do a job and tell of it down the line."""
    end_with_parent()
    # Pages that a person waits for go first.
    if hasattr(os, "nice"):
        os.nice(5)

    def progress(share: float, says: str) -> None:
        line.send(("progress", share, says))

    try:
        line.send(("done", KINDS[kind].work(text, beside, progress), ""))
    except (BrokenPipeError, EOFError):
        return
    except Exception as error:
        # An error of ours is made of words for a person; of another, its kind says more.
        ours = type(error).__module__.startswith("hoopwright")
        line.send(
            ("failed", 0.0, (f"{error}" if ours else f"{type(error).__name__}: {error}")[:500])
        )


class WorkQueue:
    """The jobs of one server."""

    def __init__(self, store: Store, seconds: float, most: int, at_once: int = 1) -> None:
        """Take the store; a job may take `seconds`, a visitor may have `most` waiting."""
        self._store, self._seconds, self._most = store, seconds, most
        self._threads = ThreadPoolExecutor(at_once, thread_name_prefix="job")
        self._closing = threading.Event()
        for job in store.jobs.open_jobs():
            self._take_up(job)

    def _take_up(self, job: Job) -> None:
        """Run a job that an earlier server left; the program may have changed since."""

        if job.kind not in KINDS:
            self._store.jobs.tell(job.id, "failed", job.share, "This version has no such work.")
            return
        with suppress(PlanError):
            job = self._named(job, self._beside(job))
        self._threads.submit(self._run, job)

    def start(self, owner: str, plan: str, kind: str, key: str, text: str) -> Job:
        """Return a job begun; the one already under way on the same text where there is one.

        Raises TooMany.
        """
        waiting = self._store.jobs.open_jobs(owner)
        for job in waiting:
            if (job.plan, job.kind, job.key) == (plan, kind, key):
                return job
        if len(waiting) >= self._most:
            raise TooMany(f"{len(waiting)} jobs are waiting already; cancel one, or let them end")
        job = self._store.jobs.add(owner, plan, kind, key, text)
        self._threads.submit(self._run, job)
        return job

    def cancel(self, owner: str, plan: str, kind: str) -> None:
        """Cancel the last job of a kind on a plan; nothing happens where it is over."""
        job = self._store.jobs.latest(owner, plan, kind)
        if job is not None:
            self._store.jobs.tell(job.id, "cancelled", job.share, "Cancelled.")

    def _run(self, job: Job) -> None:
        if self._closing.is_set() or not self._store.jobs.tell(job.id, "running", 0.0, "Starting."):
            return
        try:
            beside = self._beside(job)
            job = self._named(job, beside)
        except PlanError as error:
            self._store.jobs.tell(job.id, "failed", job.share, str(error)[:500])
            return
        ours, theirs = _SPAWN.Pipe(duplex=False)
        process = _SPAWN.Process(target=_do, args=(theirs, job.kind, job.text, beside))
        process.start()
        theirs.close()
        try:
            self._watch(job, ours)
        finally:
            process.kill()
            process.join()
            ours.close()

    def _beside(self, job: Job) -> Beside:
        rests_on = KINDS[job.kind].rests_on
        return files_beside(self._store, job.owner, job.plan, job.text, rests_on)

    def _named(self, job: Job, beside: Beside) -> Job:
        """Return a job under the key of what really goes in: files or program may have changed."""

        weather = "" if beside.weather is None else hashlib.sha256(beside.weather[1]).hexdigest()
        plan = read_here(job.text, beside.own).plan
        kind = KINDS[job.kind]
        key = kind.key(plan, beside.own, weather, beside.rest(kind.rests_on))
        if key != job.key:
            self._store.jobs.rename(job.id, key)
        return replace(job, key=key)

    def _watch(self, job: Job, line: Connection) -> None:
        begun, noted, shown = time.monotonic(), 0.0, 0.0
        share, says, staged = 0.0, "Starting.", KINDS[job.kind].staged
        pace = Pace(staged=staged)
        allowed = self._seconds * KINDS[job.kind].patience
        while not self._closing.is_set():
            if time.monotonic() - begun > allowed:
                says = f"Ended after {allowed:.0f} s: it took too long."
                self._store.jobs.tell(job.id, "failed", share, says)
                return
            if line.poll(_LOOK):
                try:
                    what, value, says = line.recv()
                except (EOFError, OSError):
                    self._store.jobs.tell(job.id, "failed", share, "The work ended unexpectedly.")
                    return
                if what == "done":
                    self._keep(job, value, time.monotonic() - begun)
                    self._store.jobs.tell(job.id, "done", 1.0, "Done.")
                    return
                if what == "failed":
                    self._store.jobs.tell(job.id, "failed", share, says)
                    return
                share = float(value)
                # To compile is no part of the pace.
                if says == FIRST_USE:
                    pace = Pace(staged=staged)
                else:
                    pace.heard(time.monotonic(), share)
            # The first step is shown at once: short work would be over before the next note.
            if time.monotonic() - noted > _NOTE or (share > 0.0 and shown == 0.0):
                noted, shown = time.monotonic(), share
                told = f"{says}{pace.words(noted)}"
                if not self._store.jobs.tell(job.id, "running", share, told):
                    return

    def _keep(self, job: Job, value: Any, took: float) -> None:
        """Keep a result, and its short form apart, so that a page need not read all of it; and how
        long it took, for the next one who asks."""
        self._store.results.keep(job.key, job.kind, value)
        self._store.results.keep(f"{job.kind} took", job.kind, round(took))
        if isinstance(value, dict) and "short" in value:
            self._store.results.keep(f"{job.key} short", job.kind, value["short"])

    def close(self) -> None:
        """Stop; what was under way stays on the books and is taken up by the next server."""
        self._closing.set()
        self._threads.shutdown(wait=True, cancel_futures=True)


def files_beside(
    store: Store, owner: str, plan: str, text: str, rests_on: RestsOn = "", bodies: bool = True
) -> Beside:
    """Return what stands beside a plan: its lists and weather, and what else work rests on.

    bodies : whether also what weather and loggers' files hold, and not only what is said of them
    """
    held = _other(store, owner, plan, "", text, bodies)
    beside = Beside(held.own, held.weather)
    match rests_on:
        case "households":
            return replace(beside, households=store.classes.of(plan) or "")
        case "readings":
            return replace(beside, readings=_readings(store, plan, bodies))
        case "wishes":
            return replace(beside, wishes=wishes_in(store.plans.looking(owner, plan)))
        case "others":
            return replace(beside, others=_others(store, owner, plan, bodies))
        case _:
            return beside


def _readings(store: Store, plan: str, bodies: bool) -> tuple[LoggerFile, ...]:
    readings = store.readings.of(plan)
    if not bodies:
        return readings
    held = [(one, store.readings.body(plan, one.digest)) for one in readings]
    return tuple(replace(one, body=body) for one, body in held if body is not None)


def _others(store: Store, owner: str, plan: str, bodies: bool) -> tuple[OtherPlan, ...]:
    others = []
    for name in beside_in(store.plans.looking(owner, plan)):
        with suppress(NoSuchPlan):
            saved = store.plans.get(owner, name)
            others.append(_other(store, owner, name, saved.name, saved.text, bodies))
    return tuple(others)


def _other(store: Store, owner: str, plan: str, name: str, text: str, bodies: bool) -> OtherPlan:
    held = store.weathers.of(plan)
    body = store.weathers.body(plan) if bodies else None
    weather = None if held is None or body is None else (held.name, body)
    own = tuple(OwnFile(name, words) for name, words in store.lists.named_in(owner, text))
    return OtherPlan(name, text, own, weather, "" if held is None else held.digest)
