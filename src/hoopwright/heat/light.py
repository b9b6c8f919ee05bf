"""Sunlight through a curved cover: what reaches the bed and what the cover keeps."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.sun import HourlySun
from hoopwright.climate.weather import Weather
from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.enclosure import CoverOptics, Enclosure

Series = NDArray[np.float64]


def fresnel_share(cosine: Series, index: float) -> Series:
    """Light passed at incidence with this cosine [-] over light passed at normal incidence.

    One non-absorbing sheet, both faces, both polarisations; Duffie & Beckman, Solar Engineering
    of Thermal Processes, eqs. 5.1.1-5.1.8. Fabrics are given the same curve (an assumption).
    """

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
    return np.asarray(np.interp(cosine, grid, curve / curve[-1]))


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
    """

    direct_share: Series
    beam_on_cover: Series
    stray: Series
    cover_sees_sky: float


def light_geometry(enclosure: Enclosure, sun: HourlySun, index: float) -> LightGeometry:
    """Trace each hour's mean beam across the cross-section to the bed.

    A long-tunnel model: a beam is followed in the cross-section to the strip of cover it passes
    on its way to the bed; what passes the cover but misses the bed meets the far side (`stray`).
    The ends let in no beam of their own (an underestimate of a few per cent on short beds with a
    low sun along the axis).
    """
    up = np.sin(np.radians(np.maximum(sun.elevation, 0.0)))
    level = np.cos(np.radians(sun.elevation))
    lit = sun.elevation > 0.5
    safe_up = np.where(lit, up, 1.0)
    right = np.radians(enclosure.axis_azimuth + 90.0)
    across = level * np.cos(np.radians(sun.azimuth) - right)
    slope = across / safe_up
    share = np.zeros_like(up)
    on_cover = np.zeros_like(up)
    passed = np.zeros_like(up)
    sky = 0.0
    for facet in enclosure.facets():
        tilt, azimuth = radians(facet.tilt), radians(facet.azimuth)
        cosine = cos(tilt) * up + sin(tilt) * level * np.cos(np.radians(sun.azimuth) - azimuth)
        cosine = np.where(lit, np.maximum(cosine, 0.0), 0.0)
        on_cover += cosine * facet.area
        sky += seen_sky(facet.tilt) * facet.area
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
    return LightGeometry(
        np.minimum(share / enclosure.width, 1.0),
        on_cover / enclosure.ground_area,
        np.maximum(0.0, passed / enclosure.ground_area - share / enclosure.width * up),
        sky / sum(facet.area for facet in enclosure.facets()),
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
) -> Light:
    """Light on the bed under the cover and light absorbed in the cover.

    Beam: normal transmittance x angle share. Sky: diffuse transmittance, as the bed sees the
    whole sky through the cover. Stray beam: the far side throws back its reflectance at normal
    incidence, of which the bed gets its share of the cover's view. Light that bed and cover pass
    to and fro is added by the usual series 1/(1 - albedo x cover reflectance).
    """
    level_beam = np.maximum(0.0, weather.global_horizontal - weather.diffuse_horizontal)
    beam = np.minimum(weather.direct_normal, 1400.0)
    back = max(0.0, 1.0 - optics.solar_diffuse - optics.solar_absorptance)
    echo = 1.0 / (1.0 - c.soil_albedo * back)
    size = enclosure.cover_area / enclosure.ground_area
    stray = optics.solar_normal * geometry.stray * beam
    thrown = max(0.0, 1.0 - optics.solar_normal - optics.solar_absorptance) * stray / size
    on_bed = (
        optics.age_factor
        * echo
        * (
            optics.solar_normal * geometry.direct_share * level_beam
            + optics.solar_diffuse * weather.diffuse_horizontal
            + thrown
        )
    )
    sees = geometry.cover_sees_sky
    scattered = size * (
        sees * weather.diffuse_horizontal
        + (1.0 - sees) * c.surroundings_albedo * weather.global_horizontal
    )
    in_cover = optics.solar_absorptance * (
        geometry.beam_on_cover * beam + stray + scattered + c.soil_albedo * on_bed
    )
    return Light(np.asarray(on_bed), np.asarray(in_cover))
