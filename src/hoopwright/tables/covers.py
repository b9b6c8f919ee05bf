"""Film, fabric and mesh: what is sold, how strong it is, what light and heat it passes."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.tables.reader import SURENESS, Figure, figure, number, text

KINDS = ("film", "fabric", "mesh")


@dataclass(frozen=True)
class CoverOptics:
    """Radiation and air through a cover family, all [-], each with range and source.

    solar_normal, solar_diffuse : solar transmittance, new and dry
    solar_wet : factor on either when drops hang on it
    solar_reflectance : new and dry
    longwave_dry, longwave_wet : transmittance for heat radiation
    emissivity_dry, emissivity_wet
    porosity : open share of the area
    screen_discharge : discharge coefficient of the weave; none for what is tight
    """

    key: str
    solar_normal: Figure = figure("-", 0, 1)
    solar_diffuse: Figure = figure("-", 0, 1)
    solar_wet: Figure = figure("-", 0.5, 1)
    solar_reflectance: Figure = figure("-", 0, 0.6)
    longwave_dry: Figure = figure("-", 0, 1)
    longwave_wet: Figure = figure("-", 0, 1)
    emissivity_dry: Figure = figure("-", 0, 1)
    emissivity_wet: Figure = figure("-", 0, 1)
    porosity: Figure = figure("-", 0, 1)
    screen_discharge: Figure | None = figure("-", 0.01, 1, optional=True)


@dataclass(frozen=True)
class CoverStrength:
    """What a cover bears; films by stress, fabrics and meshes by force on a strip's width.

    modulus, yield_stress, break_stress [Pa] : films, weaker direction, new
    break_force [N/m] : new, weaker direction
    break_strain [-] : stretch at break, new
    dart_impact [kg] : failure mass of the dart-drop test, films only
    strength_kept [-] : share of strength and stretch left at the end of the service life
    """

    key: str
    break_force: Figure = figure("N/m", 50, 2e5)
    break_strain: Figure = figure("-", 0.005, 15)
    strength_kept: Figure = figure("-", 0.1, 1)
    modulus: Figure | None = figure("Pa", 1e7, 2e9, optional=True)
    yield_stress: Figure | None = figure("Pa", 1e6, 1e8, optional=True)
    break_stress: Figure | None = figure("Pa", 1e6, 3e8, optional=True)
    dart_impact: Figure | None = figure("kg", 0.01, 3, optional=True)


@dataclass(frozen=True)
class RollSize:
    """A width and length [m] in which a cover is sold off the roll or folded."""

    cover: str = text()
    width: float = number("m", 0.2, 15)
    length: float = number("m", 1, 1000)
    source: str = text()
    sure: str = text(choices=SURENESS)


@dataclass(frozen=True)
class CoverMaterial:
    """One film, fabric or mesh as sold.

    thickness [m] : films only; mass_per_area [kg/m²]
    service_life, service_life_low, service_life_high [s] : outdoors in full sun, as the maker
        or extension sheets put it; a season counts as half a year
    opening [m] : side or gap of one mesh opening, meshes only
    """

    key: str = text()
    name: str = text()
    kind: str = text(choices=KINDS)
    optics_family: str = text()
    strength_family: str = text()
    thickness: float | None = number("m", 1e-5, 2e-3, optional=True)
    mass_per_area: float = number("kg/m2", 0.005, 3)
    opening: float | None = number("m", 1e-4, 0.06, optional=True)
    service_life: float = number("s", 5e6, 1e9)
    service_life_low: float = number("s", 1e6, 1e9)
    service_life_high: float = number("s", 5e6, 2e9)
    sunlight_stabilised: str = text(choices=("yes", "no"))
    use: str = text(optional=True)
    source: str = text()
    sure: str = text(choices=SURENESS)
    optics: CoverOptics
    strength: CoverStrength
    rolls: tuple[RollSize, ...]
