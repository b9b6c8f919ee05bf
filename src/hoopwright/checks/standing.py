"""What the ladder looks at: the finished cover on its bed at its place."""

from __future__ import annotations

from functools import cached_property

from hoopwright.bed import Bed, Legs
from hoopwright.checks.wind_pressure import WindAtBed
from hoopwright.cover import Cover
from hoopwright.cover.assembly import CLIPS_ON_INNER_HOOP
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import HoldDown
from hoopwright.hoop import Hoop, HoopStation, widest_bay
from hoopwright.loads.yearly import Brushed
from hoopwright.site import Site
from hoopwright.tables.fittings import Screw, Strap

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

    def soil_mass(self, density: float) -> float:
        """Return the mass of the soil in the bed [kg] at a density [kg/m3]."""
        bed = self.bed
        return bed.inner_length * bed.inner_width * bed.soil_depth * density
