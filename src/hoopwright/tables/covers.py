"""Film, fabric and mesh: what is sold, how strong it is, what light and heat it passes."""

from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Figure, Named, Sourced, figure, number, text

KINDS = ("film", "fabric", "mesh")


@dataclass(frozen=True)
class OpticsFamily:
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
    solar_normal: Annotated[Figure, figure("-", 0, 1)]
    solar_diffuse: Annotated[Figure, figure("-", 0, 1)]
    solar_wet: Annotated[Figure, figure("-", 0.5, 1)]
    solar_reflectance: Annotated[Figure, figure("-", 0, 0.6)]
    longwave_dry: Annotated[Figure, figure("-", 0, 1)]
    longwave_wet: Annotated[Figure, figure("-", 0, 1)]
    emissivity_dry: Annotated[Figure, figure("-", 0, 1)]
    emissivity_wet: Annotated[Figure, figure("-", 0, 1)]
    porosity: Annotated[Figure, figure("-", 0, 1)]
    screen_discharge: Annotated[Figure | None, figure("-", 0.01, 1, optional=True)]


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
    break_force: Annotated[Figure, figure("N/m", 50, 2e5)]
    break_strain: Annotated[Figure, figure("-", 0.005, 15)]
    strength_kept: Annotated[Figure, figure("-", 0.1, 1)]
    modulus: Annotated[Figure | None, figure("Pa", 1e7, 2e9, optional=True)]
    yield_stress: Annotated[Figure | None, figure("Pa", 1e6, 1e8, optional=True)]
    break_stress: Annotated[Figure | None, figure("Pa", 1e6, 3e8, optional=True)]
    dart_impact: Annotated[Figure | None, figure("kg", 0.01, 3, optional=True)]


@dataclass(frozen=True)
class RollSize(Sourced):
    """A width and length [m] in which a cover is sold off the roll or folded."""

    cover: Annotated[str, text()]
    width: Annotated[float, number("m", 0.2, 15)]
    length: Annotated[float, number("m", 1, 1000)]


@dataclass(frozen=True)
class CoverMaterial(Named):
    """One film, fabric or mesh as sold.

    thickness [m] : films only; mass_per_area [kg/m²]
    service_life, service_life_low, service_life_high [s] : outdoors in full sun, as the maker
        or extension sheets put it; a season counts as half a year
    opening [m] : side or gap of one mesh opening, meshes only
    weighed : yes where `advise` sets it beside the plan's own
    """

    kind: Annotated[str, text(choices=KINDS)]
    optics_family: Annotated[str, text()]
    strength_family: Annotated[str, text()]
    thickness: Annotated[float | None, number("m", 1e-5, 2e-3, optional=True)]
    mass_per_area: Annotated[float, number("kg/m2", 0.005, 3)]
    opening: Annotated[float | None, number("m", 1e-4, 0.06, optional=True)]
    service_life: Annotated[float, number("s", 5e6, 1e9)]
    service_life_low: Annotated[float, number("s", 1e6, 1e9)]
    service_life_high: Annotated[float, number("s", 5e6, 2e9)]
    sunlight_stabilised: Annotated[str, text(choices=("yes", "no"))]
    weighed: Annotated[str, text(optional=True, choices=("yes", "no"))]
    use: Annotated[str, text(optional=True)]
    optics: OpticsFamily
    strength: CoverStrength
    rolls: tuple[RollSize, ...]
