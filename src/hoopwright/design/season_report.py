"""The season of a design: many years run through the open bed and each cover, and what they say."""

from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import numpy as np

from hoopwright.climate.demo import MARK, is_demo
from hoopwright.climate.weather import Weather
from hoopwright.design.flow import Design
from hoopwright.design.growing import (
    PlaceYears,
    allowed_opening,
    covers_of,
    habit_of,
    heat_bed_of,
    materials_of,
    openings_of,
    schedule_of_plan,
    visits_of,
)
from hoopwright.design.season_climates import OPEN, CoverClimate, Drawn, climates_of
from hoopwright.design.season_options import (
    SOME_YEARS,
    Addition,
    OpeningHeat,
    additions_of,
    heat_of,
    keeps_under,
    opening_options,
)
from hoopwright.design.season_thirst import Thirst, thirst_of
from hoopwright.frozen import dataclass
from hoopwright.heat.covers import sampled_optics
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.heat.forcing import Place
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule
from hoopwright.heat.uncertainty import HourlyBand, hourly_band, pairs
from hoopwright.season.bed_years import YEAR, Digest, YearHours, bed_years, hours_of, joined
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.crop_days import Habits, shelter_drop
from hoopwright.season.crops import Crop, crop, crops
from hoopwright.season.frost_risk import FrostCurve, frost_curve
from hoopwright.season.gains import Gain, days_that_fit
from hoopwright.season.gains import gain as season_gain
from hoopwright.season.opening import HalfMonth, limits_through_year, opening_calendar
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import OFF, Covered, open_bed
from hoopwright.season.succession import Timetable, timetables
from hoopwright.season.windows import Window, windows

DRAWS, SEED = 12, 1

Progress = Callable[[str, float], None]


@dataclass(frozen=True)
class SeasonReport:
    """The whole season of a design.

    covers    : the open bed first, then each cover
    windows   : crop -> cover -> sowing window; gains: crop -> what the plan's own cover adds
    successions : what can follow what under the plan's own cover, the best few
    curves    : cover -> chance of frost by day
    calendar  : the opening calendar of the plan's own cover, 24 half months
    openings  : what each opening does to the heat, from shut to off
    keeps_under : [m] least opening by day that keeps the air under 32 degC but for one hour in a
                hundred, or None where none does
    additions : what fabric on the plants or jugs would add under the plan's own cover
    thirst    : watering of each crop that has a window
    look      : one year hour by hour under each, to draw
    bands     : "air" and "leaf" under the plan's own cover in that year, coefficients drawn
    """

    origin: str
    risk: float
    covers: tuple[CoverClimate, ...]
    crops: Mapping[str, Crop]
    windows: Mapping[str, Mapping[str, Window]]
    gains: Mapping[str, Gain]
    successions: tuple[Timetable, ...]
    curves: Mapping[str, FrostCurve]
    calendar: tuple[HalfMonth, ...]
    allowed_height: float
    openings: tuple[OpeningHeat, ...]
    keeps_under: float | None
    additions: tuple[Addition, ...]
    thirst: tuple[Thirst, ...]
    look: Mapping[str, UnderCover]
    bands: Mapping[str, HourlyBand]

    @property
    def invented(self) -> bool:
        """Return whether it stands on the weather of the demo valley."""
        return is_demo(self.look[OPEN].weather)

    def marked(self, words: str) -> str:
        """Return words on a figure, marked where it stands on invented weather."""
        return f"{MARK}. {words}".strip() if self.invented else words


def season_report(
    design: Design, place: PlaceYears, march: Any, progress: Progress | None = None
) -> SeasonReport:
    """Return the season of a design at a place.

    march    : `heat.compiled.compiled_march()`, or None for the plain kernel (slow for many years)
    progress : told what is being done and how far it is, from 0 to 1
    """
    tell = progress or (lambda what, share: None)
    bed, own_schedule = heat_bed_of(design), schedule_of_plan(design.plan)
    covers = covers_of(design)
    allowed = allowed_opening(design)
    openings = openings_of(design, allowed)
    runs, ways, places = _all_runs(design, bed, covers, openings, place.years, march, tell)
    tell("Crops and their dates", 0.55)
    years = {name: bed_years(name, found) for name, found in runs.items()}
    grown = _crops_of(design)
    risk = design.plan.season.risk
    bare = Digest(years[OPEN])
    how = Habits(shelter_drop=shelter_drop(bare))
    hardens = habit_of(design.plan) in ("weekends", "daily")
    held = [open_bed(OPEN, bare), *(_covered(*found, bare, hardens) for found in ways.items())]
    by_season = windows(list(grown.values()), held, risk, how)
    begins = years[OPEN].begins
    gained = _gains_of(grown, by_season, held[:2], risk, how, begins)
    own = next(iter(covers))
    followed = timetables({key: row[own] for key, row in by_season.items()}, begins=begins)
    found = {
        key: {
            name: in_calendar(replace(one, ripe_by_year=None), begins) for name, one in row.items()
        }
        for key, row in by_season.items()
    }
    tell("Opening and closing", 0.8)
    standing = _standing(grown, found, own, begins)
    options = opening_options(design, bed, covers[own], places, march, allowed)
    hard = np.roll(bare.hardness.mean(axis=0), begins)
    calendar = opening_calendar(
        options, limits_through_year(standing, how.shelter_drop, hard if hardens else None)
    )
    tell("How sure it is", 0.92)
    drawn = _drawn(design, place.years[0], bed, own_schedule, march)
    families = {one.name: one.optics_family for one in materials_of(design)}
    climates = climates_of(runs, own_schedule, drawn, families)
    tell("Done", 1.0)
    return SeasonReport(
        origin=place.origin,
        risk=risk,
        covers=climates,
        crops=grown,
        windows=found,
        gains=gained,
        successions=followed,
        curves={name: frost_curve(one, 0.0) for name, one in years.items()},
        calendar=calendar,
        allowed_height=allowed,
        openings=tuple(heat_of(option) for option in options),
        keeps_under=keeps_under(design, bed, covers[own], places[0], march, allowed),
        additions=additions_of(design, bed, covers[own], own_schedule, places, march),
        thirst=thirst_of(design, runs[own][:2], grown, found, own),
        look={name: found[0] for name, found in runs.items()},
        bands={
            "air": hourly_band(drawn[own], lambda under, bare: under.air),
            "leaf": hourly_band(drawn[own], lambda under, bare: under.leaf),
        },
    )


def _gains_of(
    grown: Mapping[str, Crop],
    found: Mapping[str, Mapping[str, Window]],
    beds: Sequence[Covered],
    risk: float,
    how: Habits,
    begins: int,
) -> dict[str, Gain]:
    """Return what the plan's own cover adds, and for crops that do not make it, which would."""
    bare, own = beds
    gained = {}
    for key, row in found.items():
        outside, inside = row[bare.name], row[own.name]
        fits = fits_open = None
        if inside.earliest is None:
            fits, fits_open = (days_that_fit(grown[key], one, risk, how) for one in (own, bare))
        gained[key] = season_gain(outside, inside, fits, fits_open, begins)
    return gained


def _crops_of(design: Design) -> dict[str, Crop]:
    known = crops(*design.varieties)
    asked = design.plan.season.crops or tuple(known)
    return {key: crop(key, known) for key in asked}


Ways = Mapping[str, Mapping[Opening, list[YearHours]]]


def _all_runs(
    design: Design,
    bed: BedInRun,
    covers: Mapping[str, CoverOptics],
    openings: Sequence[Opening],
    weathers: Sequence[Weather],
    march: Any,
    tell: Progress,
) -> tuple[dict[str, list[UnderCover]], Ways, list[Place]]:
    """Return the runs of every year as the plan works the cover, the open bed first, each cover's
    years by each way to run it, and the bed's place in some of the years; years go side by side on
    two threads."""
    own, asked = next(iter(covers.values())), design.plan.season
    worked, visits = schedule_of_plan(design.plan), visits_of(design.plan)
    bare_bed = replace(bed, fabric=None)
    tried = [way for way in openings if way.way != "off"]
    between = (asked.cover_from, asked.cover_until)

    def one(weather: Weather) -> tuple[Place, list[UnderCover], list[list[YearHours]]]:
        at = place_of(weather, bed)
        cases = [Case(bed, own, Schedule.open_bed(), at)]
        cases += [Case(bed, optics, worked, at) for optics in covers.values()]
        kept = len(cases)
        for optics in covers.values():
            for way in tried:
                under = bed if way.fabric else bare_bed
                cases.append(Case(under, optics, Schedule((way.season(*between),), visits), at))
        runs = simulate_all(weather, cases, march)
        hours = [hours_of(run) for run in runs[kept:]]
        rows = [hours[n : n + len(tried)] for n in range(0, len(hours), len(tried))]
        return at, runs[:kept], rows

    rows = []
    with ThreadPoolExecutor(max_workers=2) as pool:
        for number, row in enumerate(pool.map(one, weathers), start=1):
            rows.append(row)
            tell(f"Year {number} of {len(weathers)}", 0.5 * number / len(weathers))
    runs = {name: [row[1][k] for row in rows] for k, name in enumerate((OPEN, *covers))}
    ways = {
        name: {way: [row[2][k][n] for row in rows] for n, way in enumerate(tried)}
        for k, name in enumerate(covers)
    }
    return runs, ways, [at for at, *_ in rows[:SOME_YEARS]]


def _covered(
    name: str, ways: Mapping[Opening, Sequence[YearHours]], bare: Digest, hardens: bool
) -> Covered:
    """Return a cover with the years of each way to run it, off first.

    hardens : the gardener opens the sides for a week before plants meet a cold night
    """
    as_open = bare if hardens else None
    digests = [Digest(joined(name, years), hardened_as=as_open) for years in ways.values()]
    return Covered(name, (OFF, *ways), (bare, *digests))


def _standing(
    grown: Mapping[str, Crop], found: Mapping[str, Mapping[str, Window]], own: str, begins: int
) -> list[tuple[Crop, int, int]]:
    """Return the crops and the days they may show under the plan's cover.

    From the first start that is up to the last start that is picked: whoever sows again has
    something in the bed all that time, and a cover shut over it for want of one would cook it.
    """
    standing = []
    for key, row in found.items():
        window = row[own]
        if window.earliest is not None and window.latest is not None:
            cleared = window.cleared[(window.latest.day - begins) % YEAR] + begins
            last = np.nanmax([cleared, window.harvest.late, window.latest.day])
            standing.append((grown[key], int(window.up), int(last)))
    return standing


def _drawn(
    design: Design, weather: Weather, bed: BedInRun, schedule: Schedule, march: Any
) -> Drawn:
    """Return one year under each cover and in the open, coefficients and optics drawn."""
    found = {}
    for material in materials_of(design):
        optics = sampled_optics(material, DRAWS, SEED)
        found[material.name] = pairs(weather, bed, optics, schedule, DRAWS, SEED, march)
    return found


def crop_label(crop: Crop) -> str:
    """Return a crop's name and whether it is sown or planted."""
    return f"{crop.name[:1].upper()}{crop.name[1:]} ({'plant' if crop.planted else 'sow'})"
