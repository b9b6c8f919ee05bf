"""Sunlight through a curved cover: what reaches the bed and what the cover keeps."""

from functools import lru_cache
from math import asin, cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.sun import HourlySun
from hoopwright.climate.weather import Series, Weather
from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.enclosure import CoverOptics, Enclosure

STRONGEST = 1400.0  # [W/m2] beam, over the solar constant; at sunrise none is believed above it
SNOW_SHOWS = 0.01  # [m] of snow at which the ground is white (an assumption)


def fresnel_share(cosine: Series, index: float) -> Series:
    """Light passed at incidence with this cosine [-] over light passed at normal incidence.

    One non-absorbing sheet, both faces, both polarisations; Duffie & Beckman, Solar Engineering
    of Thermal Processes, eqs. 5.1.1-5.1.8. Fabrics are given the same curve (an assumption).
    """
    grid, curve = _fresnel_curve(index)
    return np.asarray(np.interp(cosine, grid, curve))


@lru_cache(maxsize=64)
def _fresnel_curve(index: float) -> tuple[Series, Series]:
    """The share over a grid of cosines."""

    def sheet(incidence: float) -> float:
        if incidence < 1e-6:
            reflected = ((index - 1.0) / (index + 1.0)) ** 2
            return (1.0 - reflected) / (1.0 + reflected)
        inside = asin(sin(incidence) / index)
        across = (sin(inside - incidence) / sin(inside + incidence)) ** 2
        tangent = (np.tan(inside - incidence) / np.tan(inside + incidence)) ** 2
        return 0.5 * sum((1.0 - r) / (1.0 + r) for r in (across, float(tangent)))

    grid = np.linspace(0.0, 1.0, 201)
    curve = np.array([sheet(float(np.arccos(x))) for x in np.clip(grid, 1e-4, 1.0)])
    curve[0] = 0.0
    return grid, curve / curve[-1]


def seen_sky(tilt: float) -> float:
    """Share of sky seen by an open surface tilted `tilt` [deg]: (1 + cos)/2, isotropic."""
    return 0.5 * (1.0 + cos(radians(tilt)))


@dataclass(frozen=True)
class LightGeometry:
    """The part of the light that depends on sun, place and curve but not on the cover's material.

    direct_share : [-] beam through the curve to the bed over beam on open level ground, for a
                   cover with normal transmittance 1
    beam_on_cover : [-] beam falling on the cover over the beam's own strength, per ground area
    stray        : [-] beam that passes the cover but misses the bed and meets the far side from
                   within, over the beam's own strength, per ground area, same cover
    cover_sees_sky : [-] mean over the cover
    sky_share    : [-] light of an even sky through the curve to the bed over that on open level
                   ground, for a cover with diffuse transmittance 1
    sky_stray    : [-] the same for light that passes the cover but misses the bed
    ground_on_cover : [-] light from the ground outside falling on the cover, per ground area of
                   the bed, over the light that leaves the ground; none of it can meet the bed
                   before it has met the far side
    beam_on_boards : [-] mean over the four upright sides of the bed, over the beam's own strength
    """

    direct_share: Series
    beam_on_cover: Series
    stray: Series
    cover_sees_sky: float
    sky_share: float
    sky_stray: float
    ground_on_cover: float
    beam_on_boards: Series


def light_geometry(enclosure: Enclosure, sun: HourlySun, index: float) -> LightGeometry:
    """Trace each hour's mean beam, and an even sky, across the cross-section to the bed.

    A long-tunnel model: a beam is followed in the cross-section to the strip of cover it passes
    on its way to the bed; what passes the cover but misses the bed meets the far side (`stray`).
    The ends let in no beam of their own (an underestimate of a few per cent on short beds with a
    low sun along the axis).
    """
    lit = sun.elevation > 0.5
    share, on_cover, passed = _traced(enclosure, sun.elevation, sun.azimuth, lit, index)
    up = np.sin(np.radians(np.maximum(sun.elevation, 0.0)))
    sees = sum(seen_sky(facet.tilt) * facet.area for facet in enclosure.facets())
    sky_share, sky_stray = _even_sky(enclosure, index)
    return LightGeometry(
        np.minimum(share, 1.0),
        on_cover,
        np.maximum(0.0, passed - share * up),
        sees / enclosure.cover_area,
        sky_share,
        sky_stray,
        (enclosure.cover_area - sees) / enclosure.ground_area,
        _beam_on_boards(enclosure, sun, lit),
    )


def _traced(
    enclosure: Enclosure, elevation: Series, azimuth: Series, lit: NDArray[np.bool_], index: float
) -> tuple[Series, Series, Series]:
    """Beam on the bed over that on level ground; on the cover and through it, per ground area."""
    up = np.sin(np.radians(np.maximum(elevation, 0.0)))
    level = np.cos(np.radians(elevation))
    right = np.radians(enclosure.axis_azimuth + 90.0)
    slope = level * np.cos(np.radians(azimuth) - right) / np.where(lit, up, 1.0)
    share, on_cover, passed = np.zeros_like(up), np.zeros_like(up), np.zeros_like(up)
    for facet in enclosure.facets():
        tilt, faces = radians(facet.tilt), radians(facet.azimuth)
        cosine = cos(tilt) * up + sin(tilt) * level * np.cos(np.radians(azimuth) - faces)
        cosine = np.where(lit, np.maximum(cosine, 0.0), 0.0)
        on_cover += cosine * facet.area
        if facet.start == facet.end:
            continue
        first = facet.start[0] - facet.start[1] * slope
        last = facet.end[0] - facet.end[1] * slope
        overlap = np.clip(np.maximum(first, last), 0.0, enclosure.width) - np.clip(
            np.minimum(first, last), 0.0, enclosure.width
        )
        angle = fresnel_share(cosine, index)
        share += angle * np.where(cosine > 0.0, overlap, 0.0)
        passed += angle * cosine * facet.area
    area = enclosure.ground_area
    return share / enclosure.width, on_cover / area, passed / area


def _even_sky(enclosure: Enclosure, index: float, step: float = 5.0) -> tuple[float, float]:
    """Sky light to the bed and past it, for a cover with diffuse transmittance 1.

    The beam's own tracing, summed over the sky in patches of `step` [deg] each way, over what a
    level sheet of the same angle dependence passes of the same sky: a hoop meets more of the
    bed's sky square on than a level sheet does. A rim of boards above the soil hides some of it.
    """
    heights = np.arange(step / 2.0, 90.0, step)
    round_about = np.arange(step / 2.0, 360.0, step)
    elevation, azimuth = (grid.ravel() for grid in np.meshgrid(heights, round_about))
    solid = np.cos(np.radians(elevation))
    up = np.sin(np.radians(elevation))
    share, _, passed = _traced(enclosure, elevation, azimuth, up > 0.0, index)
    level_sheet = float((fresnel_share(up, index) * up * solid).sum())
    on_bed = float((share * up * solid).sum()) / level_sheet
    return on_bed, max(0.0, float((passed * solid).sum()) / level_sheet - on_bed)


def _beam_on_boards(enclosure: Enclosure, sun: HourlySun, lit: NDArray[np.bool_]) -> Series:
    """Mean over the upright sides, by their lengths, of the beam's cosine [-]."""
    level = np.where(lit, np.cos(np.radians(sun.elevation)), 0.0)
    along = np.abs(np.cos(np.radians(sun.azimuth - enclosure.axis_azimuth)))
    across = np.abs(np.sin(np.radians(sun.azimuth - enclosure.axis_azimuth)))
    perimeter = 2.0 * (enclosure.length + enclosure.width)
    return np.asarray(level * (enclosure.length * across + enclosure.width * along) / perimeter)


def light_of_ground(global_horizontal: Series, snow_on_ground: Series, c: Coefficients) -> Series:
    """Light [W/m2] that the ground around the bed throws back, with `snow_on_ground` [m]."""
    snowy = snow_on_ground > SNOW_SHOWS
    albedo = np.where(snowy, c.surroundings_snow_albedo, c.surroundings_albedo)
    return np.asarray(albedo * global_horizontal)


def light_on_boards(weather: Weather, geometry: LightGeometry, from_ground: Series) -> Series:
    """Light [W/m2] on the bed's upright sides, mean of the four.

    Beam, half the sky and half the ground: Duffie & Beckman eq. 2.15.1 (isotropic sky) at 90 deg.
    """
    return np.asarray(
        geometry.beam_on_boards * np.minimum(weather.direct_normal, STRONGEST)
        + 0.5 * weather.diffuse_horizontal
        + 0.5 * from_ground
    )


@dataclass(frozen=True)
class Light:
    """[W/m2] per ground area, hour means: on the bed under a dry cover, and kept by the cover."""

    on_bed: Series
    in_cover: Series


def light_under(
    weather: Weather,
    geometry: LightGeometry,
    enclosure: Enclosure,
    optics: CoverOptics,
    c: Coefficients,
    from_ground: Series,
) -> Light:
    """Light on the bed under the cover and light absorbed in the cover.

    from_ground : [W/m2] leaving the ground outside, see `light_of_ground`
    Beam: normal transmittance x angle share. Sky: diffuse transmittance x the curve's share.
    What passes the cover but misses the bed meets the far side, which throws back its reflectance
    (diffuse for sky and ground, midway between normal and diffuse for beam, which meets it at
    middling angles); the bed gets its share of the cover's view, the rest meets film again.
    Light that bed and cover pass to and fro is added by the usual series
    1/(1 - albedo x cover reflectance).
    """
    level_beam = np.maximum(0.0, weather.global_horizontal - weather.diffuse_horizontal)
    beam = np.minimum(weather.direct_normal, STRONGEST)
    back = optics.diffuse_reflectance
    echo = 1.0 / (1.0 - c.soil_albedo * back)
    size = enclosure.cover_area / enclosure.ground_area
    stray_beam = optics.solar_normal * geometry.stray * beam
    stray_scattered = optics.solar_diffuse * (
        geometry.sky_stray * weather.diffuse_horizontal + geometry.ground_on_cover * from_ground
    )
    on_bed = (
        optics.age_factor
        * echo
        * (
            optics.solar_normal * geometry.direct_share * level_beam
            + optics.solar_diffuse * geometry.sky_share * weather.diffuse_horizontal
            + thrown_down(0.5 * (optics.solar_reflectance + back), size) * stray_beam
            + thrown_down(back, size) * stray_scattered
        )
    )
    scattered = (
        size - geometry.ground_on_cover
    ) * weather.diffuse_horizontal + geometry.ground_on_cover * from_ground
    in_cover = optics.solar_absorptance * (
        geometry.beam_on_cover * beam
        + stray_beam
        + scattered
        + stray_scattered
        + c.soil_albedo * on_bed
    )
    return Light(np.asarray(on_bed), np.asarray(in_cover))


def thrown_down(reflects: float, size: float) -> float:
    """Share [-] of light meeting the cover from within that comes to the bed in the end.

    reflects [-] of the cover; size [-] cover over ground area, of whose view the bed is 1/size.
    """
    return reflects / size / (1.0 - reflects * (1.0 - 1.0 / size))
