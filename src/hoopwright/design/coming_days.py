"""Opening advice for the coming days: the forecast run through the bed, tied to the ladder."""

from datetime import date, time, timedelta
from typing import Any

from hoopwright.climate.forecast.form import Forecast, ForecastPlace
from hoopwright.climate.weather import Weather
from hoopwright.design.flow import Design
from hoopwright.design.growing import allowed_opening, covers_of, heat_bed_of, schedule_of_plan
from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import InnerFabric
from hoopwright.season.crops import crop, crops
from hoopwright.season.opening import Limits, crop_limits
from hoopwright.season.storms import Bearing
from hoopwright.season.tomorrow import Covering, Tomorrow, advise

#: Where the plan names no crops: leaves of half-hardy greens, and air that stops most fruit set.
USUAL_LIMITS = Limits(too_hot=30.0, too_cold=0.0)
HALF_INCH_HAIL = 0.0127


def forecast_place(design: Design) -> ForecastPlace | None:
    """Return where the forecast is for, or None where the plan does not say."""
    site = design.site
    if site.latitude is None or site.longitude is None:
        return None
    return ForecastPlace(
        site.name or design.plan.name, site.latitude, site.longitude, site.elevation
    )


def bearing_of(design: Design) -> Bearing:
    """Return what the bed bears, from its ladder: what nine beds in ten stand, closed and whole."""
    ladder = design.ladder
    new_snow = [rung for rung in ladder.snow if "fresh" in rung.case and rung.harm != "nuisance"]
    hail = next(rung for rung in ladder.hail if rung.name == "hail-through-new")
    return Bearing(
        gust=ladder.opens.told[0],
        snow=new_snow[0].careful if new_snow else None,
        gives_in_wind="the cover",
        gives_in_snow="the hoops",
        hail=hail.careful >= HALF_INCH_HAIL,
    )


def fabric_at_hand(design: Design) -> InnerFabric | None:
    """Return the fabric among the plan's things at hand, the first named, or None."""
    catalogue = design.catalogue
    held = {one.key: one for one in catalogue.everything_in("cover")}
    named = (held[row.item] for row in design.plan.stock if row.item in held)
    found = next((one for one in named if one.kind == "fabric"), None)
    return None if found is None else InnerFabric(optics_of(found))


def first_day(forecast: Forecast, wanted: date) -> date:
    """Return the wanted day, or the first later one that the forecast covers from midnight."""
    begun = forecast.weather.start
    whole = begun.date() + timedelta(days=0 if begun.time() == time.min else 1)
    return max(wanted, whole)


def coming_days(
    design: Design, forecast: Forecast, first: date, past: Weather | None, march: Any
) -> tuple[Tomorrow, ...]:
    """Return advice for the days from `first` on that the forecast covers whole."""
    asked = design.plan.season
    known = crops(*design.varieties)
    limits = crop_limits(crop(key, known) for key in asked.crops) if asked.crops else USUAL_LIMITS
    most = allowed_opening(design)
    heights = tuple(
        sorted({min(height, most) for height in (0.1, 0.2, 0.3, 0.45, 0.6) if most > 0})
    )
    covering = Covering(
        bed=heat_bed_of(design),
        optics=next(iter(covers_of(design).values())),
        heights=heights,
        visits=(asked.morning, asked.evening),
        fabric=fabric_at_hand(design),
        usual=schedule_of_plan(design.plan),
    )
    bearing = bearing_of(design)
    last = forecast.weather.start + timedelta(hours=len(forecast.weather) - 9)
    days = []
    day = first
    while day < last.date():
        days.append(advise(forecast, covering, limits, day, past, bearing, march=march))
        day += timedelta(days=1)
    return tuple(days)
