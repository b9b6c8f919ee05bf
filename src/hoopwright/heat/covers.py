"""The catalogue's covers as the climate sees them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hoopwright.heat.coefficients import read_rows
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.tables.covers import CoverMaterial

SHARP_EDGE = 0.65  # [-] discharge of coarse mesh, taken as of an open hole (assumption)


def fabric_leak(family: str) -> tuple[float, float]:
    """Air changes [1/h] and [1/h per m/s] through a fabric.

    Raises KeyError, naming the families that have a row, for a family without one.
    """
    rows = {row["family"]: row for row in read_rows("heat_fabric_leak.csv")}
    if family not in rows:
        raise KeyError(
            f'no air change is known through a fabric of the optics family "{family}"; '
            f"take one of {', '.join(rows)}"
        )
    row = rows[family]
    return float(row["still [1/h]"]), float(row["wind [1/h per m/s]"])


def optics_of(material: CoverMaterial, age_factor: float = 1.0) -> CoverOptics:
    """The likely optics of a cover of the catalogue; sources stand in its own rows.

    A fabric breathes through its weave by `fabric_leak`, a mesh through its open share.
    """
    o = material.optics
    leaks = fabric_leak(material.optics_family) if material.kind == "fabric" else (0.0, 0.0)
    still, windy = leaks
    discharge = o.screen_discharge
    return CoverOptics(
        name=material.name,
        solar_normal=o.solar_normal.likely,
        solar_diffuse=o.solar_diffuse.likely,
        longwave_dry=o.longwave_dry.likely,
        longwave_wet=o.longwave_wet.likely,
        emissivity_dry=o.emissivity_dry.likely,
        emissivity_wet=o.emissivity_wet.likely,
        solar_wet=o.solar_wet.likely,
        solar_absorptance=max(0.0, 1.0 - o.solar_normal.likely - o.solar_reflectance.likely),
        leak_still=still,
        leak_wind=windy,
        open_share=o.porosity.likely if material.kind == "mesh" else 0.0,
        open_discharge=discharge.likely if discharge else SHARP_EDGE,
        is_fabric=material.kind == "fabric",
        age_factor=age_factor,
        source=o.solar_normal.source,
    )


def sampled_optics(material: CoverMaterial, count: int, seed: int) -> list[CoverOptics]:
    """`count` draws of a cover's optics from the ranges of its rows, triangular, seeded."""
    generator = np.random.default_rng(seed)
    o = material.optics
    base = optics_of(material)

    def draw(name: str) -> list[float]:
        figure = getattr(o, name)
        if figure.low is None or figure.high is None or figure.low == figure.high:
            return [float(figure.likely)] * count
        drawn = generator.triangular(figure.low, figure.likely, figure.high, size=count)
        return [float(value) for value in drawn]

    names = (
        "solar_normal",
        "solar_diffuse",
        "solar_wet",
        "longwave_dry",
        "longwave_wet",
        "emissivity_dry",
        "emissivity_wet",
    )
    columns = [draw(name) for name in names]
    drawn = []
    for values in zip(*columns, strict=True):
        normal, diffuse, wet_light, dry, wet, dry_emits, wet_emits = values
        drawn.append(
            replace(
                base,
                solar_normal=normal,
                solar_diffuse=min(diffuse, normal),
                solar_wet=wet_light,
                longwave_dry=dry,
                longwave_wet=min(wet, dry),
                emissivity_dry=min(dry_emits, 1.0 - dry),
                emissivity_wet=min(wet_emits, 1.0 - min(wet, dry)),
            )
        )
    return drawn
