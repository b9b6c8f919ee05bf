"""What the ladder looks at: the finished cover on its bed at its place, and the wind there."""

from collections.abc import Mapping
from functools import cached_property

import numpy as np

from hoopwright.bed import Bed, Legs
from hoopwright.cover.assembly import CLIPS_ON_INNER_HOOP, Cover
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import HoldDown
from hoopwright.hoop.shape import Hoop
from hoopwright.hoop.stations import HoopStation, widest_bay
from hoopwright.loads.near_ground import Floats, gust_share, roughness, velocity_pressure
from hoopwright.loads.wind_asce import elevation_factor
from hoopwright.loads.wind_cases import ASCE, EUROCODE, Basis
from hoopwright.loads.yearly import Brushed
from hoopwright.odds.draws import Draws
from hoopwright.site.place import Site
from hoopwright.tables.fittings import Screw, Strap
from hoopwright.tables.reader import Figure, ranges_of

#: Density of air at sea level, 15 degC [kg/m3]: ISO 2533.
AIR_DENSITY = 1.225
PEAK = "peak factor of the gust at the bed"
PROFILE = "gust near the ground over the profile"
AMONG_HOUSES = "gust among houses and gardens"
GROUND = "roughness of the ground upwind"


def doubts() -> Mapping[str, Figure]:
    """Return the inputs that belong to no other table [-], by name, each by its 5, 50 and 95 %."""
    return ranges_of("odds_share", "-", 0, 5)


@dataclass(frozen=True)
class WindAtBed:
    """How wind arrives at a cover.

    height : [m] of the crown above the ground
    """

    site: Site
    height: float

    @property
    def basis(self) -> Basis:
        """Return the standard whose coefficients are the likely ones."""
        return EUROCODE if self.site.standard.name == "EN 1991" else ASCE

    @cached_property
    def density(self) -> float:
        """Return the density of the air here [kg/m3]."""
        return AIR_DENSITY * float(elevation_factor(self.site.elevation or 0.0))

    @cached_property
    def likely_share(self) -> float:
        """Return the likely gust at the crown over the gust 10 m up in the open [-]."""
        ground = roughness().get(self.site.exposure)
        if ground is None:
            return doubts()[AMONG_HOUSES].likely
        return float(gust_share(self.height, ground.likely, doubts()[PEAK].likely))

    def share(self, draws: Draws) -> Floats:
        """Return the gust at the crown over the gust 10 m up in the open [-], drawn.

        Shelter is left out: a barrier shelters from one side, and wind comes along the bed too.
        """
        known = doubts()
        ground = roughness().get(self.site.exposure)
        if ground is None:
            return draws.of(AMONG_HOUSES, known[AMONG_HOUSES])
        rough = draws.of(GROUND, ground)
        peak = draws.of(PEAK, known[PEAK])
        return gust_share(self.height, rough, peak) * draws.of(PROFILE, known[PROFILE])

    def speed(self, pressure: Floats) -> Floats:
        """Return the wind speed at the crown [m/s] that makes a velocity pressure [Pa]."""
        return np.asarray(np.sqrt(2.0 * np.maximum(pressure, 0.0) / self.density))

    def pressure(self, gust: float) -> float:
        """Return the likely velocity pressure [Pa] at the bed of a gust in the open [m/s]."""
        return float(velocity_pressure(self.likely_share * gust, self.density))


WET_WOOD_MOISTURE = 30.0


@dataclass(frozen=True)
class Standing:
    """One covered bed, complete.

    legs     : inside or outside the boards
    ridged   : True where a ridge line keeps the hoops upright along the bed
    ridge_strut : [N m2] bending stiffness of a ridge that can push as well as pull; 0 for none
        and for a cord
    laced    : True where cords over the film hold it down in each bay
    guyed    : True where cords run from each hoop's shoulders to pegs beside the bed
    braced   : True where the ridge is tied back to the boards at both ends
    brushed  : how often snow is brushed off
    """

    site: Site
    bed: Bed
    legs: Legs
    hoop: Hoop
    hoops: tuple[HoopStation, ...]
    cover: Cover
    strap: Strap | None
    strap_screw: Screw | None
    batten_screw: Screw | None
    board_screw: Screw | None
    hold_down: HoldDown
    ridged: bool
    ridge_strut: float
    laced: bool
    guyed: bool
    braced: bool
    brushed: Brushed = "never"

    @cached_property
    def wind(self) -> WindAtBed:
        """Return how wind arrives at the crown."""
        return WindAtBed(self.site, self.hoop.crown)

    @cached_property
    def bay(self) -> float:
        """Return the film that one inner hoop carries along the bed [m]."""
        return widest_bay(self.hoops)

    @cached_property
    def bays(self) -> int:
        """Return how many bays of film lie between its two ends."""
        return max(1, sum(1 for station in self.hoops if station.role != "panel") - 1)

    @cached_property
    def hoops_an_end(self) -> int:
        """Return how many hoops stand together at each end of the film."""
        return 2 if any(station.role == "panel" for station in self.hoops) else 1

    @property
    def inner_clips(self) -> int | None:
        """Return the film clips on an inner hoop; None for a cover without clips."""
        return None if self.cover.clip is None else CLIPS_ON_INNER_HOOP

    @property
    def end_clips(self) -> int | None:
        """Return the film clips on each hoop of an end; None for a cover without clips."""
        return None if self.cover.clip is None else len(self.cover.clip_arc)

    @property
    def frame_mass(self) -> float:
        """Return the mass of boards, hoops and film [kg]."""
        bed = self.bed
        density = bed.species.density(WET_WOOD_MOISTURE)
        boards = sum(piece.length for piece in bed.pieces()) * bed.wall * bed.board.width * density
        pipes = len(self.hoops) * self.hoop.cut_length * self.hoop.pipe.mass_per_length
        return boards + pipes + self.film_mass

    @property
    def film_mass(self) -> float:
        """Return the mass of the body sheet [kg]."""
        body = self.cover.body
        return body.width * body.length * self.cover.material.mass_per_area
