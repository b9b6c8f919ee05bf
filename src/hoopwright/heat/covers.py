"""The catalogue's covers as the climate sees them."""

from dataclasses import replace

import numpy as np

from hoopwright.heat.coefficients import read_rows
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.tables.covers import CoverMaterial

SHARP_EDGE = 0.65  # [-] discharge of coarse mesh, taken as of an open hole (assumption)


def fabric_leak(family: str) -> tuple[float, float]:
    """Air [m/h] and [m/h per m/s] through each square metre of a fabric.

    Raises KeyError, naming the families that have a row, for a family without one.
    """
    row = _leak_row(family)
    return float(row["still [m/h]"]), float(row["wind [m/h per m/s]"])


def _leak_row(family: str) -> dict[str, str]:
    rows = {row["family"]: row for row in read_rows("heat_fabric_leak.csv")}
    if family not in rows:
        raise KeyError(
            f'no air change is known through a fabric of the optics family "{family}"; '
            f"take one of {', '.join(rows)}"
        )
    return rows[family]


def measured(family: str) -> dict[str, tuple[float, float]]:
    """[K] over the open bed in spring, low and high, as trials under such a fabric had it.

    By what was measured: "night" (the mean of the nightly minima), "soil"; empty where none is.
    """
    rows = read_rows("heat_trials.csv")
    found = [row for row in rows if family in row["families"].split(";")]
    return {row["what"]: (float(row["low"]), float(row["high"])) for row in found}


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
    """`count` draws of a cover's optics from the ranges of its rows, triangular, seeded.

    A fabric's leak is drawn with them, its factor by its logarithm.
    """
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
    leaks = np.ones(count)
    if base.is_fabric:
        row = _leak_row(material.optics_family)
        low, high = (np.log(float(row[name])) for name in ("low factor", "high factor"))
        leaks = np.exp(generator.triangular(low, 0.0, high, size=count))
    columns = [draw(name) for name in names]
    drawn = []
    for leak, *values in zip(leaks.tolist(), *columns, strict=True):
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
                leak_still=base.leak_still * leak,
                leak_wind=base.leak_wind * leak,
            )
        )
    return drawn
