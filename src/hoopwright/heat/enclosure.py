"""What the climate needs to know of a bed and its cover: geometry, optics, soil, crop, stores."""

from math import atan2, degrees, hypot
from typing import Literal

from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients

Edge = Literal["buried", "clipped", "loose"]


@dataclass(frozen=True)
class Facet:
    """A flat strip of cover.

    start, end : [m] (across, up) of its two long edges in the cross-section
    area       : [m2]
    tilt       : [deg] of the outward normal from the zenith
    azimuth    : [deg] of the outward normal, clockwise from north
    """

    start: tuple[float, float]
    end: tuple[float, float]
    area: float
    tilt: float
    azimuth: float


@dataclass(frozen=True)
class Enclosure:
    """A bed under its cover.

    length, width          : [m] inside the boards
    curve                  : [m] points (across, up) of the cover's cross-section from one rim to
                             the other, `up` above the soil surface; across 0 is one inner board
    axis_azimuth           : [deg] of the long axis, clockwise from north (0 runs north to south)
    soil_above_grade       : [m] depth of bed soil standing above the ground around
    rim_above_soil         : [m] of bare board between the soil surface and the rim
    board_thickness        : [m];  board_conductivity : [W/mK] (softwood 0.115, ASHRAE)
    open_bottom            : True where bed soil lies on the native ground
    sides_that_open        : 0, 1 or 2 long sides can be rolled up
    end_film_area          : [m2] of one end panel of film; None for the whole section above the
                             rim, 0 for tight insulated ends
    end_vent_area          : [m2] free area of both end openings together, when open
    end_vent_height        : [m] height of an end opening
    edge                   : how the cover's edges are held; sets the leak when closed
    screen_discharge       : [-] discharge of a mesh band left in the side opening; 0 for none
    leak_factor            : [-] user's own calibration of the leak (one logged night), 1 if none
    """

    length: float
    width: float
    curve: tuple[tuple[float, float], ...]
    axis_azimuth: float = 0.0
    soil_above_grade: float = 0.28
    rim_above_soil: float = 0.0
    board_thickness: float = 0.038
    board_conductivity: float = 0.115
    open_bottom: bool = True
    sides_that_open: int = 2
    end_film_area: float | None = None
    end_vent_area: float = 0.0
    end_vent_height: float = 0.3
    edge: Edge = "clipped"
    screen_discharge: float = 0.0
    leak_factor: float = 1.0

    @property
    def ground_area(self) -> float:
        """[m2] soil surface."""
        return self.length * self.width

    @property
    def curve_length(self) -> float:
        """[m] of cover from rim to rim."""
        return sum(
            hypot(b[0] - a[0], b[1] - a[1])
            for a, b in zip(self.curve, self.curve[1:], strict=False)
        )

    @property
    def section_area(self) -> float:
        """[m2] of air between soil and cover in the cross-section."""
        points = (*self.curve, (self.curve[-1][0], 0.0), (self.curve[0][0], 0.0))
        twice = sum(
            a[0] * b[1] - b[0] * a[1] for a, b in zip(points, (*points[1:], points[0]), strict=True)
        )
        return abs(twice) / 2.0

    @property
    def film_end_area(self) -> float:
        """[m2] of one end panel of film: by default the section above the rim."""
        if self.end_film_area is not None:
            return self.end_film_area
        return max(0.0, self.section_area - self.width * self.rim_above_soil)

    @property
    def volume(self) -> float:
        """[m3] of air under the cover."""
        return self.section_area * self.length

    @property
    def cover_area(self) -> float:
        """[m2] of film, ends included."""
        return self.curve_length * self.length + 2.0 * self.film_end_area

    @property
    def height(self) -> float:
        """[m] of the crown above the soil."""
        return max(point[1] for point in self.curve)

    def facets(self) -> tuple[Facet, ...]:
        """The cover as flat strips, ends last (as two upright facets)."""
        strips = []
        for a, b in zip(self.curve, self.curve[1:], strict=False):
            across, up = b[0] - a[0], b[1] - a[1]
            # The curve runs left to right, so the outward normal is the tangent turned left.
            tilt, side = degrees(atan2(abs(up), across)), 90.0 if up < 0 else -90.0
            azimuth = (self.axis_azimuth + side) % 360.0
            strips.append(Facet(a, b, hypot(across, up) * self.length, tilt, azimuth))
        nowhere, end = (0.0, 0.0), self.film_end_area
        azimuths = ((self.axis_azimuth + turn) % 360.0 for turn in (0.0, 180.0))
        return (*strips, *(Facet(nowhere, nowhere, end, 90.0, azimuth) for azimuth in azimuths))


@dataclass(frozen=True)
class CoverOptics:
    """How a cover treats light, long-wave radiation, air and water.

    solar_normal, solar_diffuse       : [-] transmittance when new and clean
    longwave_dry, longwave_wet        : [-] long-wave transmittance
    emissivity_dry, emissivity_wet    : [-] of either face; the rest is reflected
    leak_still, leak_wind             : [m/h], [m/h per m/s] air through a square metre of fabric
    open_share, open_discharge        : [-] holes or mesh per cover area and their discharge, as
                                        heat_coefficients has it of openings
    is_fabric                         : True lets rain through and holds more water
    solar_wet                         : [-] factor on light when drops hang on it; film's if unsaid
    age_factor                        : [-] light kept after ageing and dust, on top of the above
    solar_absorptance                 : [-] per pass at normal incidence (an assumption)
    """

    name: str
    solar_normal: float
    solar_diffuse: float
    longwave_dry: float
    longwave_wet: float
    emissivity_dry: float
    emissivity_wet: float
    leak_still: float = 0.0
    leak_wind: float = 0.0
    open_share: float = 0.0
    open_discharge: float = 0.65
    is_fabric: bool = False
    age_factor: float = 1.0
    solar_absorptance: float = 0.02
    solar_wet: float = 0.91
    source: str = ""

    @property
    def solar_reflectance(self) -> float:
        """[-] of light that meets it square on: what neither passes nor stays."""
        return max(0.0, 1.0 - self.solar_normal - self.solar_absorptance)

    @property
    def diffuse_reflectance(self) -> float:
        """[-] of scattered light."""
        return max(0.0, 1.0 - self.solar_diffuse - self.solar_absorptance)

    def __post_init__(self) -> None:
        for passed, emitted, state in (
            (self.longwave_dry, self.emissivity_dry, "dry"),
            (self.longwave_wet, self.emissivity_wet, "wet"),
        ):
            if not 0.0 <= passed + emitted <= 1.0:
                raise ValueError(
                    f"cover {self.name!r}, {state}: long-wave transmittance {passed} and "
                    f"emissivity {emitted} add to more than 1"
                )


@dataclass(frozen=True)
class Soil:
    """Bed soil and the native ground under it.

    porosity, moisture : [m3/m3] (moisture is held constant: a watered bed; an assumption)
    quartz             : [-] share of quartz in the solids
    surface_moisture   : [m3/m3] of the top centimetre, for evaporation
    """

    porosity: float = 0.55
    moisture: float = 0.25
    quartz: float = 0.2
    surface_moisture: float = 0.10
    native_porosity: float = 0.45
    native_moisture: float = 0.25
    native_quartz: float = 0.3


@dataclass(frozen=True)
class Canopy:
    """The crop as one leaf layer: leaf_area [m2/m2], height [m]: a low crop (assumption)."""

    leaf_area: float = 1.0
    height: float = 0.15
    transpires: bool = True


@dataclass(frozen=True)
class WaterJugs:
    """Water set under the cover: volume [m3], surface [m2], light absorbed per surface [-]."""

    volume: float
    surface: float
    absorptance: float = 0.0


@dataclass(frozen=True)
class InnerFabric:
    """A second cover laid on the plants inside.

    optics : of the fabric;  leak : [m/s] air that passes per fabric area and square root kelvin
             (an assumption: no figure found)
    """

    optics: CoverOptics
    leak: float = 0.001


def side_conductance(
    enclosure: Enclosure,
    thickness: list[float],
    in_bed: int,
    soil_conductivity: float,
    c: Coefficients,
) -> list[float]:
    """[W/m2K] per ground area of each layer through the boards.

    In series: soil from the mean of the bed to its face, board, outside film. The soil's part is
    L/(3k) for a slab of half-width L with heat drawn evenly along it (exact for a parabola of
    temperature; Carslaw & Jaeger sec. 3.14 order; an assumption for the bed's short sides too).
    Layers below grade lose nothing sideways.
    """
    perimeter = 2.0 * (enclosure.length + enclosure.width)
    resistance = (
        enclosure.width / 6.0 / soil_conductivity
        + enclosure.board_thickness / enclosure.board_conductivity
        + c.board_outside_resistance
    )
    stands = enclosure.soil_above_grade > 0.0
    return [
        perimeter * deep / enclosure.ground_area / resistance if stands and i < in_bed else 0.0
        for i, deep in enumerate(thickness)
    ]


def rim_conductance(enclosure: Enclosure, c: Coefficients) -> float:
    """[W/m2K] per ground area from the inside air through the bare rim above the soil.

    Inside film 0.12 m2K/W (ASHRAE Fundamentals, still air on a wall, from memory).
    """
    perimeter = 2.0 * (enclosure.length + enclosure.width)
    area = perimeter * enclosure.rim_above_soil
    resistance = (
        0.12 + enclosure.board_thickness / enclosure.board_conductivity + c.board_outside_resistance
    )
    return area / enclosure.ground_area / resistance
