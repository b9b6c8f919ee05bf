"""The coefficients of the climate under cover: one named row each, with range and source."""

import csv
from dataclasses import fields, replace
from functools import cache
from importlib.resources import files

import numpy as np

from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Coefficient:
    """One coefficient as the table prints it: likely value, range, unit, source, how sure."""

    name: str
    likely: float
    low: float
    high: float
    unit: str
    sure: str
    source: str
    note: str


@dataclass(frozen=True)
class Coefficients:
    """One consistent set of coefficients; units and sources stand in heat_coefficients.csv."""

    film_refractive_index: float
    soil_albedo: float
    leaf_albedo: float
    surroundings_albedo: float
    snow_albedo: float
    light_extinction: float
    longwave_extinction: float
    ground_emissivity: float
    condensate_full_film: float
    film_holds: float
    fabric_holds: float
    sky_error: float
    outside_still: float
    outside_wind: float
    outside_exponent: float
    outside_scale: float
    inside_cover: float
    inside_cover_exponent: float
    soil_warm: float
    soil_warm_exponent: float
    soil_cool: float
    soil_cool_exponent: float
    inside_scale: float
    forced_inside: float
    still_inside_speed: float
    leaf_length: float
    leaf_boundary: float
    leaf_forced: float
    wind_shelter: float
    least_wind: float
    discharge: float
    wind_pressure: float
    stack_air_change: float
    lewis_factor: float
    stomatal_least: float
    stomatal_light_top: float
    stomatal_light_bottom: float
    soil_resistance_wet: float
    soil_resistance_slope: float
    soil_resistance_theta: float
    quartz_conductivity: float
    mineral_conductivity: float
    water_conductivity: float
    ice_conductivity: float
    conductivity_scale: float
    solids_heat: float
    water_heat: float
    ice_heat: float
    fusion_heat: float
    freezing_band: float
    board_outside_resistance: float
    board_solar_absorptance: float
    stability_slope: float
    stability_unstable: float
    stability_stable: float
    least_exchange: float
    open_roughness: float
    snow_new_density: float
    snow_conductivity: float
    snow_light_depth: float
    snow_falls_below: float
    snow_slides_above: float
    snow_cleared_hours: float
    opener_lag: float
    opener_band: float
    jug_exchange: float
    surroundings_snow_albedo: float
    stomatal_dryness: float
    stomatal_most: float
    snow_white_depth: float


@cache
def read_rows(name: str) -> list[dict[str, str]]:
    """Rows of a table in hoopwright/tables/data, as printed."""
    text = files("hoopwright.tables").joinpath("data", name).read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


@cache
def table() -> dict[str, Coefficient]:
    """All coefficient rows by name."""
    return {
        row["name"]: Coefficient(
            name=row["name"],
            likely=float(row["likely"]),
            low=float(row["low"]),
            high=float(row["high"]),
            unit=row["unit"],
            sure=row["sure"],
            source=row["source"],
            note=row["note"] or "",
        )
        for row in read_rows("heat_coefficients.csv")
    }


@cache
def likely() -> Coefficients:
    """The likely value of every coefficient."""
    rows = table()
    return Coefficients(*(rows[field.name].likely for field in fields(Coefficients)))


def sampled(count: int, seed: int) -> list[Coefficients]:
    """`count` sets drawn from the table's ranges, every coefficient on its own.

    Triangular between low and high with its peak at the likely value (an assumption: the sources
    give ranges, not distributions). The same seed gives the same sets.
    """
    generator = np.random.default_rng(seed)
    sets = [likely()] * count
    for row in table().values():
        if row.low == row.high:
            continue
        draws = generator.triangular(row.low, row.likely, row.high, size=count)
        sets = [
            replace(one, **{row.name: float(value)}) for one, value in zip(sets, draws, strict=True)
        ]
    return sets
