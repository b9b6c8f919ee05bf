"""Hostile inputs to every reader: each from a seed, each to end in an answer or in plain words.

    python tools/fuzz.py --minutes 25
    python tools/fuzz.py --kind plan --seed 17    # one again, with its traceback

A finding is an error that is not written for a person, over 20 s of the processor, a wait for
something that does not come, or over 1 GB.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from types import FrameType

from hoopwright.cli.door import is_for_a_person

ROOT = Path(__file__).parents[1]
SECONDS, WAIT, BYTES = 20, 120, 1_000_000_000
#: Of so many inputs one is no file: a pipe that nobody writes to, or a device without an end.
ODD = 40
HOSTILE = (
    *("", "nan", "-inf", "1e308", "-1e-308", "0", "-1", "9" * 399, "9" * 5000, "1_0", "0x10"),
    *("\x00", "\x1b[31m", "\u202e", "\ud7ff", "é" * 200, "=1+1", "../../x", "a" * 60_000),
    *("[" * 300, "{" * 300, "a." * 4000, '"', "'''", "\n", "\r", "\t", ",", ";", "null", "true"),
    *("-40 ft", "1e9 mi", "0 in", "12 parsecs", "99:99", "2026-02-30", "31 Feb", "NaN,NaN"),
)
Read = Callable[[Path], object]


class Waited(BaseException):
    """An input took too long."""


@dataclass(frozen=True)
class Kind:
    """One kind of input: sound ones to spoil, the name of the file, and what reads it."""

    bases: tuple[bytes, ...]
    name: str
    read: Read


@cache
def kinds() -> dict[str, Kind]:
    """Return every kind of file that a person may bring."""
    demo, usual = ROOT / "demo", ROOT / "tests" / "usual_bed.toml"
    plans = ((demo / "high-valley.toml").read_bytes(), usual.read_bytes())
    examples = resources.files("hoopwright.climate.forecast") / "examples"
    forecasts = tuple(
        (examples / name).read_bytes() for name in ("national_grid.json", "global.json")
    )
    return {
        "plan": Kind(plans, "bed.toml", _plan),
        "class": Kind(((demo / "class.toml").read_bytes(),), "class.toml", _class),
        "list": Kind((PRICES.encode(),), "own.csv", _list),
        "weather": Kind((_daily(), _hourly()), "weather.csv", _weather),
        "logger": Kind(_loggers(), "logger.csv", _logger),
        "forecast": Kind(forecasts, "forecast.json", _forecast),
        "backup": Kind((_backup(),), "copy.sqlite3", _restore),
    }


PRICES = """thing,sold as,length [ft],width [ft],count [-],price [USD],date,example
pvc40-3/4,stick,10,,,4.10,2026-10,no
film-woven,roll,25,10,,61,2026-10,no
batten-1x2,stick,8,,,1.90,2026-10,no
"""


def _daily() -> bytes:
    head = "STATION,DATE,LATITUDE,LONGITUDE,ELEVATION,NAME,TMAX,TMIN,PRCP,SNWD"
    rows = []
    for day in range(420):
        date = f"20{20 + day // 365}-{day // 31 % 12 + 1:02d}-{day % 28 + 1:02d}"
        high, rain = day % 300, day % 7
        rows.append(f"XX001,{date},44.1,-109.6,2042,INVENTED,{high},{high - 120},{rain},0")
    return "\n".join([head, *rows]).encode()


def _hourly() -> bytes:
    head = "LOCATION,Invented,-,-,-,-,44.1,-109.6,-7.0,2042.0"
    rest = ("DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0")
    more = ("HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,-", "COMMENTS 2,-")
    last = "DATA PERIODS,1,1,Data,Sunday,1/1,12/31"
    row = "2020,{m},{d},{h},60,-,5.0,1.0,70,80000,0,0,300,100,50,80,0,0,0,0,180,3.0,5,5,"
    row += "9,9,9,9,9,9,0,9,0,0,0"
    rows = [row.format(m=1, d=n // 24 + 1, h=n % 24 + 1) for n in range(240)]
    return "\n".join([head, *rest, *more, last, *rows]).encode()


def _loggers() -> tuple[bytes, ...]:
    sys.path.insert(0, str(ROOT / "tests" / "readings"))
    from logger_styles import styles

    return tuple(style.data for style in styles().values())


def _plan(path: Path) -> object:
    from hoopwright import design_of, read_plan

    return design_of(read_plan(path)).findings


def _class(path: Path) -> object:
    from hoopwright.programme.class_file import read_class

    return read_class(path)


def _list(path: Path) -> object:
    from hoopwright import design_of, read_plan

    bed = path.with_name("bed.toml")
    words = (ROOT / "demo" / "high-valley.toml").read_text(encoding="utf-8")
    bed.write_text(f'prices = "{path.name}"\n{words}', encoding="utf-8")
    return design_of(read_plan(bed)).order


def _weather(path: Path) -> object:
    from hoopwright.climate.read import is_daily, read_daily, read_weather

    return read_daily(path) if is_daily(path) else read_weather(path)


def _logger(path: Path) -> object:
    from hoopwright.readings.recognise import read_logger

    return read_logger(path)


def _forecast(path: Path) -> object:
    from hoopwright.climate.forecast.form import ForecastPlace
    from hoopwright.climate.forecast.typical import forecast_from_file

    return forecast_from_file(path, ForecastPlace("bed", 44.1, -109.6, 2042.0), None)


def _backup() -> bytes:
    from hoopwright.store import Store, backup

    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        with Store(place / "kept") as store:
            saved = store.plans.add("a", "Bed", "[bed]\n")
            store.plans.change("a", saved.id, "Bed", "[bed]\n# again\n", "")
            store.lists.put("a", "prices", "rows: 3", "own.csv", PRICES)
            store.weathers.put("a", saved.id, "w.csv", "days", _daily())
        backup(place / "kept", place / "copy")
        return (place / "copy").read_bytes()


def _restore(path: Path) -> object:
    from hoopwright.store import Store, restore
    from hoopwright.web.beside import read_here

    restore(path.parent / "kept", path)
    with Store(path.parent / "kept") as store:
        for saved in store.plans.all("a"):
            store.weathers.body(saved.id)
            read_here(saved.text)
        return [store.lists.text("a", held.name) for held in store.lists.all("a")]


def spoilt(data: bytes, chance: random.Random) -> bytes:
    """Return an input spoilt in one to four places."""
    for _ in range(chance.randint(1, 4)):
        data = chance.choice(SPOILS)(data, chance)
    return data[:8_000_000]


def _cell(data: bytes, chance: random.Random) -> bytes:
    """Put something hostile in the place of one word or number."""
    at = chance.randrange(len(data) + 1)
    end = at
    while end < len(data) and end - at < 12 and data[end : end + 1] not in b',;\n"=] ':
        end += 1
    return data[:at] + chance.choice(HOSTILE).encode("utf-8", "surrogatepass") + data[end:]


def _cut(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    return data[:at] + data[at + chance.randint(1, 400) :]


def _again(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    part = data[at : at + chance.randint(1, 400)]
    return data[:at] + part * chance.choice((2, 3, 50, 1000)) + data[at:]


def _lines(data: bytes, chance: random.Random) -> bytes:
    lines = data.split(b"\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def _noise(data: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(data) + 1)
    return data[:at] + chance.randbytes(chance.choice((1, 4, 200))) + data[at:]


def _end(data: bytes, chance: random.Random) -> bytes:
    return data[: chance.randrange(len(data) + 1)]


def _letters(data: bytes, chance: random.Random) -> bytes:
    words = data.decode("utf-8", "replace")
    return words.encode(chance.choice(("utf-16", "utf-32", "cp1252", "utf-8-sig")), "replace")


SPOILS = (_cell, _cell, _cell, _cell, _cut, _again, _lines, _noise, _end, _letters)


def finding(kind: str, seed: int) -> str:
    """Return what went wrong with one input, or nothing."""
    chance = random.Random(f"{kind} {seed}")
    made = kinds()[kind]
    with tempfile.TemporaryDirectory() as folder, _bounded():
        path = Path(folder) / made.name
        if os.name == "posix" and chance.randrange(ODD) == 0:
            os.mkfifo(path) if chance.random() < 0.5 else path.symlink_to("/dev/zero")
        else:
            path.write_bytes(spoilt(chance.choice(made.bases), chance))
        try:
            made.read(path)
        except Waited:
            return f"took over {SECONDS} s, or waited over {WAIT} s"
        except MemoryError:
            return f"took over {BYTES // 10**9} GB"
        except Exception as error:
            return "" if is_for_a_person(error) else traceback.format_exc()
    return ""


@contextmanager
def _bounded() -> Iterator[None]:
    """Hold to a time of the processor and, where the system can, to a size."""

    def late(number: int, frame: FrameType | None) -> None:
        raise Waited

    if not hasattr(signal, "setitimer"):
        yield
        return
    import resource

    held = resource.getrlimit(resource.RLIMIT_AS)
    pages = Path("/proc/self/statm")
    if pages.exists():
        now = int(pages.read_text().split()[0]) * resource.getpagesize()
        resource.setrlimit(resource.RLIMIT_AS, (now + BYTES, held[1]))
    before = signal.signal(signal.SIGPROF, late)
    asleep = signal.signal(signal.SIGALRM, late)
    signal.setitimer(signal.ITIMER_PROF, SECONDS)
    signal.setitimer(signal.ITIMER_REAL, WAIT)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGPROF, before)
        signal.signal(signal.SIGALRM, asleep)
        resource.setrlimit(resource.RLIMIT_AS, held)


def main() -> None:
    """Go round all kinds until the time or the inputs are up; exit 1 on any finding."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=25.0)
    asked.add_argument("--inputs", type=int, default=10_000)
    asked.add_argument("--kind", choices=sorted(kinds()))
    asked.add_argument("--seed", type=int)
    said = asked.parse_args()
    names = [said.kind] if said.kind else sorted(kinds())
    if said.seed is not None:
        print(finding(names[0], said.seed) or "fine")
        return
    end, done, found = time.monotonic() + 60 * said.minutes, Counter[str](), 0
    while done.total() < said.inputs and time.monotonic() < end:
        kind = names[done.total() % len(names)]
        seed = done[kind]
        done[kind] += 1
        if wrong := finding(kind, seed):
            found += 1
            print(f"--kind {kind} --seed {seed}: {wrong.strip().splitlines()[-1]}", flush=True)
    counts = ", ".join(f"{name} {count}" for name, count in sorted(done.items()))
    print(f"{done.total()} inputs ({counts}): {found} findings")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
