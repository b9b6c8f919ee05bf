"""Hours that a loose edge flogs at this place, and how long its sheet lasts at that. Rough."""

import numpy as np

from hoopwright.checks.film import Floats
from hoopwright.checks.film_in_wind import edges_loose, rail_bends, rail_lifted
from hoopwright.checks.finding import Finding, Severity
from hoopwright.checks.ladder import Ladder
from hoopwright.loads.wind_hours import WindHours, hours_over
from hoopwright.loads.yearly import yearly_gust
from hoopwright.odds.quantiles import quantiles
from hoopwright.tables.constants import HOUR, YEAR
from hoopwright.tables.reader import ranges_of
from hoopwright.tables.spread import Spread

LASTS = "hours of flogging that wear a sheet out"
MEAN_WIND = "mean wind over the gust met once in fifty years"
BOWS = "bow of a rail that lets its film flog over its spacing"
#: Below so many hours a year [h] no more is said of it than that it is fine (assumption).
FEW = 50.0


def flogs_from(found: Ladder) -> Floats | None:
    """Return the wind 10 m up in the open [m/s] from which the edge of each drawn cover flogs.

    As a gust that brings the pressure; a steady wind brings a little less, the safe side.
    A rail that hangs by its weight flogs once it lifts, a tied one once it bows between its ties.
    None where battens or soil hold the edge all along, or nothing is known of the rail.
    """
    inputs, wind = found.inputs, found.followed
    standing = inputs.standing
    if "rail" not in standing.cover.edges:
        return None
    loose = edges_loose(standing, wind, inputs)
    if standing.hold_down.rail == "weight":
        return inputs.gust(loose)
    lifts = rail_bends(standing, inputs, inputs.doubt(BOWS) * standing.bay)
    if lifts is None:
        return None
    return inputs.gust(np.minimum(rail_lifted(standing, wind, inputs, lifts[0]), loose))


def hours_flogged(found: Ladder, hours: WindHours | None) -> Floats | None:
    """Return the hours a year that each drawn cover flogs, by the file's wind or the plan's gust.

    Those whose mean wind is above where it flogs: in gustier ones it does for a part of the time,
    in windier ones it rests in the lulls. None where neither is given or nothing flogs.
    """
    site, gust = found.inputs.standing.site, flogs_from(found)
    if gust is None:
        return None
    if hours is not None:
        return hours.over(gust)
    if site.gust is None:
        return None
    once = yearly_gust(site.gust, site.gust_years).once_in_fifty
    return hours_over(gust, found.inputs.doubt(MEAN_WIND) * once)


def lasts(flogged: Floats, wears_out: Floats, sun: Floats) -> Floats:
    """Return how many years a sheet lasts whose edge flogs some hours a year and that ages in sun.

    flogged : [h/yr]; wears_out : [h] of flogging alone; sun : [yr] alone

    The shares used up in a year add up (Palmgren 1924, Miner 1945, from memory), which neither sun
    nor flogging has been shown to keep to: a wear count, and rough.
    """
    return np.asarray(1 / (flogged / wears_out + 1 / sun))


def _long(years: float) -> str:
    """Return a life in the unit that tells it."""
    if years < 0.25:
        return f"{max(1, round(52 * years))} weeks"
    return f"{round(12 * years)} months" if years < 2 else f"{years:.0f} years"


def flogging(found: Ladder, hours: WindHours | None) -> Finding | None:
    """Return how long the sheet lasts with its edge as it is held; None where that is not known."""
    # With the hours kept beside it no other can come to have their identity.
    key, said = ("flogging", id(hours)), lambda: (_flogging(found, hours), hours)
    return found.inputs.once(key, said)[0]


def _flogging(found: Ladder, hours: WindHours | None) -> Finding | None:
    flogged = hours_flogged(found, hours)
    if flogged is None:
        return None
    inputs, material = found.inputs, found.inputs.standing.cover.material
    life = ranges_of("cover_flogging", "s", 3600, 1e8)[LASTS]
    sun = Spread(
        material.service_life_low / YEAR,
        material.service_life / YEAR,
        material.service_life_high / YEAR,
    )
    years = lasts(
        flogged,
        inputs.draws.of(LASTS, life) / HOUR,
        inputs.draws.of("life of the cover in the sun", sun),
    )
    low, half, high = (_long(float(one)) for one in quantiles(years, (0.1, 0.5, 0.9)))
    often, most = (float(round(one)) for one in quantiles(flogged, (0.5, 0.9)))
    values: dict[str, float | str] = {
        "cover": material.name,
        "hours": max(most, FEW) * HOUR,
        "often": often * HOUR,
        "low": low,
        "half": half,
        "high": high,
    }
    by = "the weather file's hours" if hours is not None else "the plan's gust"
    few = most < FEW
    return Finding(
        "flogging",
        Severity.FINE if few else Severity.WATCH,
        "Held as it is, the edge hardly flogs here: on nine beds in ten built like this fewer than "
        "{hours:hours} a year, by " + by + "."
        if few
        else "The edge of the {cover} flogs up to {hours:hours} a year on nine beds in ten here, "
        "{often:hours} on half, by " + by + ". With that and the sun a sheet left on lasts {low} "
        "on nine in ten, {half} on half, {high} on one: rough, reckoned from how flags wear.",
        ""
        if few
        else 'Tie or hook the rails at every hoop, and once between (holding.rail = "tied"); '
        "take the cover off in windy months that do not need it.",
        values,
        most * HOUR,
        life.low,
        "hours",
        life.source,
    )
