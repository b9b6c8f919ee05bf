"""The wind cases of one hoop: net pressure along the arc, across and along the bed.

Coefficients are of the velocity pressure at the crown, external (with the gust effect) less
internal, whose doubt is kept apart; positive pushes the film inward. The wind comes from the
left: arc 0 is the windward foot and 1 the lee foot. Swap the ends of the hoop for the other
direction.
"""

from collections.abc import Mapping

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.loads import wind_asce, wind_eurocode
from hoopwright.loads.arc_section import ArcSection, Floats
from hoopwright.tables.reader import Figure, ranges_of
from hoopwright.tables.spread import Spread

WINDWARD_WALL = 0.8
"""External coefficient of a windward wall [-]: ASCE 7-16 Figure 27.3-1 (read in a test case)."""
LEE_WALL = -0.5
"""External coefficient of a lee wall [-]: as above, length over width to 1."""
SIDE_WALL = -0.7
"""External coefficient of a side wall [-]: as above."""
OTHER_ROOF = -0.18
"""The second coefficient [-] of a roof with the wind along its ridge: as above."""


@dataclass(frozen=True)
class Basis:
    """Which standard gives the likely coefficients; the other one widens the range.

    gust_effect : [-] on external pressure; eurocode : vault of EN 1991-1-4 as likely
    """

    gust_effect: float
    eurocode: bool


ASCE = Basis(gust_effect=0.85, eurocode=False)
"""G = 0.85 for a rigid structure: ASCE 7-16 26.11.1, from memory. Use ASCE's pressure."""
EUROCODE = Basis(gust_effect=1.0, eurocode=True)
"""cs cd = 1 below 15 m: EN 1991-1-4 6.2, from memory. Use EN's peak velocity pressure."""


def internal_pressures() -> Mapping[str, Figure]:
    """Return the internal pressures [-] by state of the cover, positive pushing outward."""
    return ranges_of("loads_internal_pressure", "-", -1, 1)


@dataclass(frozen=True)
class Zone:
    """A stretch of arc with its external coefficient [-], the gust effect in it.

    low, high : [-] the least and the greatest that the standards give there, to be told
    """

    name: str
    start: float
    end: float
    likely: float
    low: float
    high: float


@dataclass(frozen=True)
class WindCase:
    """One wind case.

    name : as the reader sees it; wind : 'across' or 'along'
    external : [-] coefficient at each arc point, positive inward
    film : [-] 1 where there is film for the inside to push on, 0 on a bare stretch
    state : of the cover, which sets the pressure inside; zones : the external part
    clamped : the rise over span lies outside the standards' range and the end value was used
    """

    name: str
    wind: str
    external: Floats
    film: Floats
    state: str
    zones: tuple[Zone, ...]
    clamped: bool
    notes: tuple[str, ...]
    sources: tuple[str, ...]

    @property
    def internal(self) -> Figure:
        """Return the pressure inside, with its doubt."""
        return internal_pressures()[self.state]

    @property
    def likely(self) -> Floats:
        """Return the net coefficient [-] at each point with the likely pressure inside."""
        return self.net(self.internal.likely)

    def by_zone(self, arc: Floats) -> Floats:
        """Return the external coefficient [-] of the zone at shares of the arc, walls left out."""
        return _by_zone(arc, self.zones)

    def net(self, internal: float) -> Floats:
        """Return the net coefficient [-] at each point with this pressure inside."""
        return np.asarray((self.external - internal) * self.film)


def _by_zone(arc: Floats, zones: tuple[Zone, ...]) -> Floats:
    inside = [(arc >= zone.start) & (arc <= zone.end) for zone in zones]
    return np.asarray(np.select(inside, [zone.likely for zone in zones]))


def _across(
    name: str,
    section: ArcSection,
    state: str,
    basis: Basis,
    open_windward: float = 0.0,
    open_lee: float = 0.0,
) -> WindCase:
    gust = basis.gust_effect
    ground = wind_asce.arch_from_ground(section.rise_ratio)
    walls = wind_asce.arch_on_walls(section.rise_ratio)
    vault = wind_eurocode.vault_coefficients(section.rise_ratio, section.wall_ratio)
    arches = [
        [gust * one if one is not None else None for one in asce] + list(vault_values)
        for asce, vault_values in (
            (
                (ground.windward, walls.windward, walls.windward_other),
                (vault.windward, vault.windward_other),
            ),
            ((ground.centre,), (vault.centre,)),
            ((ground.leeward,), (vault.leeward,)),
        )
    ]
    likely = (
        (vault.windward, vault.centre, vault.leeward)
        if basis.eurocode
        else (gust * ground.windward, gust * ground.centre, gust * ground.leeward)
    )
    stretches = (
        ("windward quarter", 0.0, 0.25),
        ("centre half", 0.25, 0.75),
        ("lee quarter", 0.75, 1.0),
    )
    zones = tuple(
        Zone(label, start, end, best, min(given), max(given))
        for (label, start, end), best, given in zip(
            stretches,
            likely,
            [[one for one in values if one is not None] for values in arches],
            strict=True,
        )
    )
    film = (section.arc >= open_windward) & (section.arc <= 1 - open_lee)
    notes = ["legs of 60 degrees and steeper are taken as walls where that is worse"]
    clamped = ground.clamped or vault.clamped
    if clamped:
        notes.insert(
            0,
            f"rise over span {section.rise_ratio:.2f} lies outside the standards, "
            "which stop at 0.6 (ASCE) and 0.5 (EN): their end values are used",
        )
    return WindCase(
        name,
        "across",
        _with_walls(section, _by_zone(section.arc, zones), gust),
        film.astype(float),
        state,
        zones,
        clamped,
        tuple(notes),
        (ground.source, vault.source, internal_pressures()[state].source),
    )


def _with_walls(section: ArcSection, external: Floats, gust: float) -> Floats:
    """Return the coefficients with the steep windward leg pushed as a wall, if that is more."""
    more = np.maximum(gust * WINDWARD_WALL - external, 0.0)
    return np.asarray(external + more * section.wall)


def across_closed(section: ArcSection, tight: bool = False, basis: Basis = ASCE) -> WindCase:
    """Return the case of wind across the bed on a closed cover.

    tight : skirts buried or battened all round, so enclosed; else loose skirts, whose range runs
    to partially enclosed

    Likely takes the internal pressure outward, which is the worse for uplift. The lee quarter's
    coefficient is a lee wall's already.
    Source: ASCE 7-16 Figure 27.3-3, 26.13, with EN 1991-1-4 Figure 7.11 in the range. Quarters
    are by arc length. How sure: coefficients from memory, +-0.1; beyond rise over span 0.6
    nobody has published for so small and steep a tunnel.
    """
    state = "tight and closed" if tight else "closed with loose skirts"
    return _across("wind across, closed", section, state, basis)


def across_windward_side_up(
    section: ArcSection, open_share: float, basis: Basis = ASCE
) -> WindCase:
    """Return the case of wind across into a rolled-up side.

    open_share : [-] share of the arc, from the windward foot, that is rolled up and bare

    The worst state: the cover fills like a sail. Source: as across_closed; the bare stretch takes
    no load, the rest keeps its closed external coefficients (an assumption).
    """
    name = "wind across, windward side up"
    return _across(name, section, "open towards the wind", basis, open_windward=open_share)


def across_lee_side_up(section: ArcSection, open_share: float, basis: Basis = ASCE) -> WindCase:
    """Return the case of wind across with the lee side rolled up; source and range as above."""
    name = "wind across, lee side up"
    return _across(name, section, "open away from the wind", basis, open_lee=open_share)


def across_both_sides_up(section: ArcSection, open_share: float, basis: Basis = ASCE) -> WindCase:
    """Return the case of wind across with both sides rolled up; source and range as above."""
    name = "wind across, both sides up"
    return _across(name, section, "open on both sides", basis, open_share, open_share)


def _along(
    name: str, section: ArcSection, state: str, distance: float, height: float, length: float
) -> WindCase:
    gust = ASCE.gust_effect
    steps = wind_asce.along_roof_coefficients(height / length)
    roof = gust * next(value for reach, value in steps if distance <= reach * height)
    side, other = gust * SIDE_WALL, gust * OTHER_ROOF
    flank = (min(roof, side), min(roof, side), max(roof, other))
    zones = (
        Zone("near side", 0.0, 0.25, *flank),
        Zone("roof", 0.25, 0.75, roof, min(roof, other), max(roof, other)),
        Zone("far side", 0.75, 1.0, *flank),
    )
    return WindCase(
        name,
        "along",
        _by_zone(section.arc, zones),
        np.ones_like(section.arc),
        state,
        zones,
        False,
        ("sides as side walls where that is worse",),
        (
            "ASCE 7-16 Figure 27.3-1, wind parallel to ridge; first set read in a test case",
            internal_pressures()[state].source,
        ),
    )


def along_closed(
    section: ArcSection, distance: float, height: float, length: float, tight: bool = False
) -> WindCase:
    """Return the case of wind along the bed on a closed cover.

    distance : [m] of the hoop from the windward end; height : [m] mean height of the cover above
    the ground; length : [m] of the bed

    Source: ASCE 7-16 Figure 27.3-1 (which serves arched roofs for this wind), 26.13, also on a
    Eurocode basis: EN 1991-1-4 has no vault coefficients for this wind.
    """
    state = "tight and closed" if tight else "closed with loose skirts"
    return _along("wind along, closed", section, state, distance, height, length)


def along_end_open(
    section: ArcSection,
    distance: float,
    height: float,
    length: float,
    open_towards_wind: bool = True,
) -> WindCase:
    """Return the case of wind along the bed with one end open; as along_closed.

    open_towards_wind : the open end faces the wind (the cover fills) or turns away from it
    """
    state = "open towards the wind" if open_towards_wind else "open away from the wind"
    name = "wind along, windward end open" if open_towards_wind else "wind along, lee end open"
    return _along(name, section, state, distance, height, length)


def end_wall_coefficients(length_over_width: float) -> tuple[Spread, Spread]:
    """Return the net coefficients [-] on the windward and the lee end wall, closed cover.

    length_over_width : [-] of the bed, along the wind over across it. Positive pushes inward.
    Source: ASCE 7-16 Figure 27.3-1 and 26.13; internal pressure as for loose skirts.
    """
    internal = internal_pressures()["closed with loose skirts"]

    def net(external: float) -> Spread:
        pressed = ASCE.gust_effect * external
        return Spread(pressed - internal.high, pressed - internal.likely, pressed - internal.low)

    return net(WINDWARD_WALL), net(wind_asce.leeward_wall_coefficient(length_over_width))


def every_case(
    section: ArcSection,
    open_share: float,
    height: float,
    length: float,
    tight: bool = False,
    basis: Basis = ASCE,
) -> tuple[WindCase, ...]:
    """Return every wind case of a hoop by the windward end, where suction is largest.

    open_share : [-] share of the arc rolled up at a side, 0 where the sides do not open
    height, length : [m] as along_closed
    """
    opened = (
        (
            across_windward_side_up(section, open_share, basis),
            across_lee_side_up(section, open_share, basis),
            across_both_sides_up(section, open_share, basis),
        )
        if open_share > 0
        else ()
    )
    return (
        across_closed(section, tight, basis),
        *opened,
        along_closed(section, 0.0, height, length, tight),
        along_end_open(section, 0.0, height, length, True),
        along_end_open(section, 0.0, height, length, False),
    )
