"""Every row of the table of bounds is what the code holds, and just over it an input is refused."""

from __future__ import annotations

import os
import queue
import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from unittest.mock import Mock

import pytest

from hoopwright.climate.forecast import http
from hoopwright.climate.forecast.form import ForecastPlace
from hoopwright.climate.forecast.typical import forecast_from_file
from hoopwright.climate.read import read_daily
from hoopwright.climate.read import text as weather_text
from hoopwright.plan import read as plan_reading
from hoopwright.plan import read_plan, read_plan_text
from hoopwright.plan.model import Plan
from hoopwright.programme import class_file, sweep, variants
from hoopwright.readings import text as logger_text
from hoopwright.readings.recognise import read_logger
from hoopwright.store import Store, beside_plan, lists, restore, whole
from hoopwright.tables import overlay, toml_text
from hoopwright.web import build_pages, loggers, own_lists, processes, visitors, work_queue
from hoopwright.web.api import PlanText
from hoopwright.web.app import application
from hoopwright.web.saved import SavedPlans
from hoopwright.web.settings import ServerLimits, ServerSettings

PAGE = Path(__file__).parents[2] / "docs" / "guide" / "bounds.md"
ROWS = re.findall(r"^\| (.+?) \| (.+?) \| (\d+) \|$", PAGE.read_text("utf-8"), re.MULTILINE)
SERVER = ServerLimits()
PLACE = ForecastPlace("bed", 44.1, -109.6, 2042.0)
BED = "[[beds]]\nhousehold = 'H'\n"
LIST = "thing,sold as,length [ft],width [ft],count [-],price [USD],date,example\n"
PRICE = "pvc40-1/2,stick,10,,,4,2026-10,no\n"


def texts(made: Callable[[int], str], read: Callable[[str], object]) -> Callable[..., None]:
    """Return what goes just over a bound with a text."""
    return lambda most, folder: read(made(most + 1)) and None


def files(name: str, made: Callable[[int], str] | None, read: Callable[[Path], object]) -> Any:
    """Return what goes just over a bound with a file; None makes one of so many bytes."""

    def over(most: int, folder: Path) -> None:
        path = folder / name
        if made is None:
            with path.open("wb") as hollow:
                hollow.truncate(most + 1)
        else:
            path.write_text(made(most + 1), encoding="utf-8")
        read(path)

    return over


def rows_of(path: Path) -> object:
    return overlay.overlay_rows(path, ("price",), "price")


def forecast(path: Path) -> object:
    return forecast_from_file(path, PLACE, None)


def backup(most: int, folder: Path) -> None:
    """What unpacks to more is left out of a restore."""
    with Store(folder / "kept") as store:
        plan = store.plans.add("a", "Bed", "[bed]\n")
        store.weathers.put("a", plan.id, "w.csv", "", b"0" * (most + 1))
    (left_out,) = restore(folder / "new", folder / "kept" / "hoopwright.sqlite3").left_out
    raise ValueError(left_out)


def request(*paths: str) -> Callable[..., None]:
    """Return what sends a body just over a bound to each of some paths."""

    def over(most: int, folder: Path) -> None:
        from starlette.testclient import TestClient

        app = application(ServerSettings(folder, hosts=frozenset({"testserver"})))
        for path in paths:
            answer = TestClient(app).post(path, content=b"0" * (most + 1))
            assert answer.status_code == 413, path
        raise ValueError(answer.text)

    return over


def page_work(most: int, folder: Path) -> None:
    """A process that does not answer within the seconds is ended."""
    worker = Mock()
    worker.line.poll.return_value = False
    held = processes.Processes(0, SERVER.seconds)
    held._idle = queue.Queue()
    held._idle.put(worker)
    held._begin = lambda: None  # type: ignore[method-assign]
    try:
        held.ask("order")
    finally:
        worker.line.poll.assert_called_once_with(most)
        worker.end.assert_called_once_with()


def job_work(most: int, folder: Path, kind: str = "season") -> None:
    """A job that has not ended by then fails, and says so."""
    with Store(folder) as store, pytest.MonkeyPatch.context() as patch:
        work = work_queue.WorkQueue(store, SERVER.job_seconds, SERVER.jobs)
        plan = store.plans.add("a", "Bed", "[bed]\n")
        job = store.jobs.add("a", plan.id, kind, "key", "[bed]\n")
        clock = iter((0.0, float(most + 1)))
        patch.setattr(work_queue, "time", SimpleNamespace(monotonic=lambda: next(clock)))
        work._watch(job, None)  # type: ignore[arg-type]
        told = store.jobs.get("a", job.id)
        work.close()
    assert told is not None
    assert told.state == "failed"
    raise ValueError(told.says)


def plans(most: int, folder: Path) -> None:
    with Store(folder) as store:
        for _ in range(most):
            store.plans.add("a", "Bed", "[bed]\n")
        SavedPlans(store, None, "a", SERVER.plans).add("[bed]\n")  # type: ignore[arg-type]


def own(most: int, folder: Path) -> None:
    with Store(folder) as store:
        for number in range(most + 1):
            store.lists.put("a", "prices", "", f"{number}.csv", LIST)


def logs(most: int, folder: Path) -> None:
    with Store(folder) as store:
        plan = store.plans.add("a", "Bed", "[bed]\n").id
        for number in range(most + 1):
            store.readings.put("a", plan, "log.csv", "", str(number).encode())


def jobs(most: int, folder: Path) -> None:
    with Store(folder) as store:
        work = work_queue.WorkQueue(store, SERVER.job_seconds, SERVER.jobs)
        work._threads.submit = lambda *_: None  # type: ignore[method-assign, assignment, return-value]
        plan = store.plans.add("a", "Bed", "[bed]\n")
        try:
            for number in range(most + 1):
                work.start("a", plan.id, "season", str(number), "[bed]\n")
        finally:
            work.close()


def joins(most: int, folder: Path) -> None:
    app = application(ServerSettings(folder, lan=True))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(visitors.time, "monotonic", lambda: 0.0)
        allowed = [app.state.tries.allows("192.0.2.7") for _ in range(most + 1)]
    assert allowed == [True] * most + [False]
    raise ValueError("refused after 10")


def tried(most: int, folder: Path) -> None:
    (folder / "bed.toml").write_text("[bed]\n", encoding="utf-8")
    lengths = ",".join(f"{12 + number}in" for number in range(most + 1))
    variants.variants(folder / "bed.toml", [f"hoops.spacing={lengths}"])


def stock(count: int) -> str:
    return "[[stock]]\nitem = 'pvc40-1/2'\nlength = '2 ft'\n" * count


TOML = "plan, class or list in TOML"
FORECAST = "forecast of a service or in a file"
STOCK_MOST = next(part.max_length for part in Plan.model_fields["stock"].metadata)
TEXT_MOST = next(part.max_length for part in PlanText.model_fields["text"].metadata)
HELD: dict[tuple[str, str], tuple[float, Callable[..., None], str]] = {
    (TOML, "letters"): (toml_text.LARGEST, texts("#".__mul__, read_plan_text), "larger than 1 MB"),
    (TOML, "lines"): (toml_text.MOST_LINES, texts("\n".__mul__, read_plan_text), "40000 lines"),
    (TOML, "keys and brackets within each other"): (
        toml_text.DEEPEST,
        texts(lambda n: ".".join("a" * n) + " = 1", read_plan_text),
        "nested too deep",
    ),
    (TOML, "digits of a number, less than"): (
        toml_text.MOST_DIGITS,
        texts(lambda n: "a = " + "1" * (n - 1), read_plan_text),
        "number too long",
    ),
    ("plan", "entries of one list"): (
        plan_reading.LONGEST_LIST,
        texts(lambda n: "[season]\ncrops = [" + "'kale'," * n + "]", read_plan_text),
        "401 entries; at most 400",
    ),
    ("plan", "rows of what is at hand"): (STOCK_MOST, texts(stock, read_plan_text), "at most 200"),
    ("class", "beds"): (
        class_file.MOST_BEDS,
        files("class.toml", BED.__mul__, class_file.read_class),
        "at most 200",
    ),
    ("class", "letters of its name"): (
        class_file.LONGEST_NAME,
        files("class.toml", lambda n: f"name = '{'a' * n}'\n{BED}", class_file.read_class),
        "longer than 80",
    ),
    ("own list", "bytes"): (overlay.LARGEST, files("own.csv", None, rows_of), "larger than 1 MB"),
    ("own list", "rows"): (
        overlay.MOST_ROWS,
        files("own.csv", lambda n: LIST + PRICE * n, rows_of),
        "more than 2000",
    ),
    ("own list", "letters of a name"): (
        overlay.MOST_LETTERS_OF_NAME,
        files("own.csv", lambda n: LIST + PRICE.replace("pvc40-1/2", "a" * n), rows_of),
        "longer than 80",
    ),
    ("sites of a sweep", "bytes"): (
        toml_text.LARGEST,
        files("sites.csv", None, sweep.read_sites),
        "larger than 1 MB",
    ),
    ("sites of a sweep", "rows"): (
        sweep.MOST_SITES,
        files("sites.csv", lambda n: "name\n" + "a\n" * n, sweep.read_sites),
        "more than 5000",
    ),
    ("weather file", "bytes"): (
        weather_text.LARGEST,
        files("w.csv", None, read_daily),
        "larger than 24 MB",
    ),
    ("weather file", "lines"): (
        weather_text.MOST_LINES,
        files("w.csv", "a\n".__mul__, read_daily),
        "more than 1000000 lines",
    ),
    ("weather file", "letters of a line"): (
        weather_text.LONGEST_LINE,
        files("w.csv", "a".__mul__, read_daily),
        "longer than 20000",
    ),
    ("logger's file", "bytes"): (
        logger_text.LARGEST,
        files("log.csv", None, read_logger),
        "larger than 24 MB",
    ),
    (FORECAST, "bytes"): (http.LARGEST, files("f.json", None, forecast), "larger than 5 MB"),
    ("backup", "bytes of one file in it"): (whole.LARGEST, backup, "not what was saved"),
    ("`compare --try`", "plans"): (
        variants.MOST_VARIANTS,
        tried,
        "more than 60",
    ),
    ("one request to the server", "bytes"): (SERVER.upload, request("/api/plans"), "Too large"),
    ("plan to the server", "letters"): (
        TEXT_MOST,
        texts("#".__mul__, lambda words: PlanText(text=words)),
        "at most 200000",
    ),
    ("own list to the server", "bytes"): (
        own_lists.LARGEST,
        texts("#".__mul__, lambda words: own_lists.brought("prices", "a.csv", words)),
        "at most 128 KB",
    ),
    ("own list to the server", "lines"): (
        own_lists.MOST_LINES,
        texts("a\n".__mul__, lambda words: own_lists.brought("prices", "a.csv", words)),
        "at most 2000 lines",
    ),
    ("weather file, loggers' files or backup to the server", "bytes"): (
        SERVER.weather,
        request("/plans/a/weather", "/plans/a/evidence", "/keep/backup"),
        "Too large",
    ),
    ("logger's file to the server", "rows"): (
        loggers.MOST_ROWS,
        texts("a\n".__mul__, lambda words: loggers.read_as("a", words.encode(), "", None, None)),
        "more than 110000",
    ),
    ("loggers' files", "of one plan"): (beside_plan.MOST_FILES, logs, "12 loggers' files are kept"),
    ("work that a page waits for", "seconds"): (SERVER.seconds, page_work, "longer than 20 s"),
    ("a job", "seconds"): (SERVER.job_seconds, job_work, "Ended after 900 s"),
    ("a search on the page Choose", "seconds"): (
        SERVER.job_seconds * work_queue.KINDS["choose"].patience,
        partial(job_work, kind="choose"),
        "Ended after 3600 s",
    ),
    ("saved plans", "of one visitor"): (SERVER.plans, plans, "200 plans are saved"),
    ("own lists", "of one visitor"): (lists.MOST_LISTS, own, "40 lists are kept"),
    ("ticks of a Build page", "told at once"): (
        build_pages.MOST_TOLD,
        texts("x".__mul__, build_pages.held_to_bounds),
        "more than 400",
    ),
    ("jobs waiting", "of one visitor"): (SERVER.jobs, jobs, "3 jobs are waiting"),
    ("tries of a join code", "a minute from one address"): (SERVER.joins, joins, "after 10"),
}


def test_the_table_is_what_is_held() -> None:
    assert {(what, of): float(most) for what, of, most in ROWS} == {
        row: float(most) for row, (most, _, _) in HELD.items()
    }


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]}, {row[1]}")
def test_just_over_each_row_is_refused_in_words(row: tuple[str, str, str], tmp_path: Path) -> None:
    _, over, says = HELD[row[0], row[1]]
    with pytest.raises((ValueError, OSError, RuntimeError), match=says):
        over(int(row[2]), tmp_path)


READERS: dict[str, Callable[[Path], object]] = {
    "bed.toml": read_plan,
    "class.toml": class_file.read_class,
    "own.csv": rows_of,
    "own.toml": rows_of,
    "sites.csv": sweep.read_sites,
    "weather.csv": read_daily,
    "logger.csv": read_logger,
    "forecast.json": forecast,
    "copy.sqlite3": lambda path: restore(path.parent / "kept", path),
}


@pytest.mark.skipif(os.name != "posix", reason="pipes and devices with names")
@pytest.mark.parametrize("name", READERS)
@pytest.mark.parametrize("made", [os.mkfifo, lambda path: path.symlink_to("/dev/zero"), os.mkdir])
def test_what_is_no_file_is_refused_and_not_waited_for(
    name: str, made: Callable[[Path], object], tmp_path: Path
) -> None:
    """`make fuzz` catches a wait by the wall's clock; here it would hang."""
    made(tmp_path / name)
    with pytest.raises((ValueError, OSError), match=r"no (such )?file"):
        READERS[name](tmp_path / name)
