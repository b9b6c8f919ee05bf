"""What each cover does to the bed's year, in words: warmer than what, and how sure that is."""

from collections.abc import Sequence
from itertools import combinations

from hoopwright.design.season_climates import READ_DEPTH, CoverClimate
from hoopwright.design.season_report import SeasonReport
from hoopwright.frozen import dataclass
from hoopwright.heat.compare import DEGREE_BASE, HOT, NightGain
from hoopwright.units import System, show

ACCURACY = (
    "Without calibration expect a night's minimum within about 1 °C (2 °F) on average and the "
    "worst nights within 2 °C (4 °F); a closed noon within 4 °C (7 °F), an opened one within "
    "2.5 °C (4.5 °F)."
)


NIGHT_DOUBT = 2.0
"""[K] of a night's mean within which the model does not know a sign: what `ACCURACY` says of the
worst nights, since the station's air is not the bed's."""


@dataclass(frozen=True)
class SeasonRow:
    """One line of a table: its label and its cells."""

    label: str
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Grid:
    """A table in words: heads (the first over the labels) and rows."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[SeasonRow, ...]
    note: str = ""


def warmth(report: SeasonReport, system: System) -> Grid:
    """Return what each cover does, one column a cover."""
    covers = report.covers
    bare = covers[0]
    rows = [
        *_nights(covers, system),
        *(
            SeasonRow(
                f"Frost-free days, leaves above {show(kills, 'temperature', system)}",
                tuple(f"{c.spans[kills]:.0f}" for c in covers),
            )
            for kills in bare.spans
        ),
        SeasonRow(
            f"Hours a year above {show(HOT, 'temperature', system)}",
            tuple(f"{c.hot:.0f}" for c in covers),
        ),
        SeasonRow(
            f"Degree days above {show(DEGREE_BASE, 'temperature', system)}",
            tuple(show(c.degree_days, "degree days", system) for c in covers),
        ),
        SeasonRow(
            "Light on the plants, half year of long days", tuple(_lit(c, bare) for c in covers)
        ),
        SeasonRow("Wet-leaf hours a year", tuple(f"{c.wet_leaf:.0f}" for c in covers)),
        SeasonRow(
            "Water from soil and leaves",
            tuple(show(c.water / 1000, "water", system) for c in covers),
        ),
        *(
            SeasonRow(
                f"Soil at {show(READ_DEPTH, 'depth', system)}, {name}",
                tuple(_soil(c, bare, month, system) for c in covers),
            )
            for name, month in (("March", 2), ("May", 4), ("July", 6), ("October", 9))
        ),
    ]
    return Grid(
        "Warmer than what",
        ("", *(c.name for c in covers)),
        tuple(rows),
        report.marked(
            "Mean of the nights, and the span of eight in ten. "
            f"{_by_trials(covers)}{_ranked(covers)}{ACCURACY}"
        ),
    )


def _nights(covers: Sequence[CoverClimate], system: System) -> list[SeasonRow]:
    """Return the rows of what is gained by night, each cell empty where nothing is."""

    def apart(value: float) -> str:
        return f"{'+' if value >= 0 else ''}{show(value, 'temperature difference', system)}"

    def over(gain: NightGain) -> str:
        return (
            f"{apart(gain.mean)} ({apart(gain.tenth)} to {apart(gain.ninetieth)}); "
            f"colder in on {gain.colder} nights"
        )

    def station(mean: float) -> str:
        unsure = " (within the model's doubt: warmer or colder is not known)"
        return f"{apart(mean)}{unsure if abs(mean) < NIGHT_DOUBT else ''}"

    gains = [one.gains for one in covers]
    bands = [one.gain_band for one in covers]
    cells = {
        "Night leaves against open leaves": (over(g.leaf) if g else "" for g in gains),
        "Their mean, coefficients drawn": (
            f"{apart(band.low)} to {apart(band.high)}" if band else "" for band in bands
        ),
        "Night air against the open bed": (over(g.bed_air) if g else "" for g in gains),
        "Night air against the station": (station(g.station_air.mean) if g else "" for g in gains),
    }
    return [SeasonRow(label, tuple(row)) for label, row in cells.items()]


def _lit(one: CoverClimate, bare: CoverClimate) -> str:
    """Return the share of the light that a cover leaves, and what lettuce makes of it."""
    if one is bare:
        return "all of it"
    light = [100 * a / b for a, b in zip(one.light, bare.light, strict=True)]
    grown = [100 * a / b for a, b in zip(one.lettuce, bare.lettuce, strict=True)]
    said = f"{light[0]:.0f} %, in the dark half of the year {light[1]:.0f} %"
    if min(grown) >= 99.5:
        return f"{said}: enough for lettuce"
    return f"{said}; lettuce grows {grown[0]:.0f} and {grown[1]:.0f} % as fast by it"


def _soil(one: CoverClimate, bare: CoverClimate, month: int, system: System) -> str:
    """Return the soil of a month, under light fabric with what trials measured taken in."""
    ends = [float(one.soil[month])]
    ends += [float(bare.soil[month]) + over for over in one.trials.get("soil", ())]
    told = dict.fromkeys(show(end, "temperature", system) for end in (min(ends), max(ends)))
    return " to ".join(told)


def _by_trials(covers: Sequence[CoverClimate]) -> str:
    """Say what the ranges under fabric take in."""
    if not any(one.trials for one in covers):
        return ""
    return (
        "Under fabric the range of the leaves' mean, and under light fabric that of the soil, take "
        "in what trials measured, most of them under cloth that lay on the plants. "
    )


def _ranked(covers: Sequence[CoverClimate]) -> str:
    """Say where the covers' gains by night cannot be told apart, so that nobody ranks them."""
    bands = [one.gain_band for one in covers if one.gain_band is not None]
    alike = any(a.low <= b.high and b.low <= a.high for a, b in combinations(bands, 2))
    if not alike:
        return ""
    return "Covers whose ranges for leaves overlap cannot be ranked: which is warmer is not known. "
