"""Sunlight through the air: clear sky, the split into direct and diffuse, and back again."""

import numpy as np

from hoopwright.climate.sun import HourlySun
from hoopwright.climate.weather import Series, series


def relative_air_mass(elevation: Series) -> Series:
    """Return the path through the air against the zenith's [-] at elevation [deg], sea level.

    Valid for 0 to 90 deg; held at the horizon's value (about 38) below.
    Source: Kasten & Young 1989, Applied Optics 28, 4735-4738, eq. 3.
    """
    shown = np.maximum(elevation, 0.0)
    return 1 / (np.sin(np.radians(shown)) + 0.50572 * (shown + 6.07995) ** -1.6364)


def clear_sky_global(
    sun: HourlySun, elevation: float, pressure_ratio: float, linke_turbidity: Series | float = 2.8
) -> Series:
    """Return clear-sky radiation on a level plane [W/m2], hour means.

    elevation       : [m] of the ground, valid to about 3000 m
    pressure_ratio  : [-] station pressure over 101325 Pa
    linke_turbidity : [-] 2 very clean mountain air, 3 clean rural, 4 to 5 humid or dusty. The
        default 2.8 is an assumption for clean rural air; the measured effect is in the docs.
    Source: Ineichen & Perez 2002, Solar Energy 73, 151-157, eqs. 5 to 7 as corrected by
    Perez et al. 2002 (from memory; equal to pvlib's to rounding).
    """
    air_mass = relative_air_mass(sun.elevation) * pressure_ratio
    high = np.exp(-elevation / 8000.0)
    low = np.exp(-elevation / 1250.0)
    scale = 5.09e-5 * elevation + 0.868
    loss = 3.92e-5 * elevation + 0.0387
    passed = np.exp(-loss * air_mass * (high + low * (series(linke_turbidity) - 1)))
    return series(scale * sun.extraterrestrial_horizontal * np.minimum(passed, 1.0))


def erbs_diffuse_fraction(clearness: Series) -> Series:
    """Return the diffuse share of hourly global radiation [-] from the clearness index [-].

    Source: Erbs, Klein & Duffie 1982, Solar Energy 28, 293-302, eq. 1 (four U.S. stations).
    """
    k = np.clip(clearness, 0.0, 1.0)
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.where(k <= 0.22, 1 - 0.09 * k, np.where(k <= 0.8, middle, 0.165))


def direct_from_global(
    global_horizontal: Series, diffuse_horizontal: Series, sun: HourlySun
) -> Series:
    """Return direct normal radiation [W/m2] that closes global = diffuse + direct x sine.

    The sine is the hour mean, so a part-lit hour keeps its energy. Capped at 1.1 times what
    arrives above the air: at the horizon the quotient of two small numbers means nothing.
    """
    beam = np.maximum(series(global_horizontal) - diffuse_horizontal, 0.0)
    sine = np.maximum(sun.sine_elevation, 1e-4)
    quotient = np.where(sun.sine_elevation > 0, beam / sine, 0.0)
    return np.minimum(quotient, 1.1 * sun.extraterrestrial_normal)


def split_global(global_horizontal: Series, sun: HourlySun) -> tuple[Series, Series]:
    """Return (direct normal, diffuse horizontal) [W/m2] from global by Erbs et al. 1982.

    What the cap on the direct part cuts off near the horizon is handed back to the diffuse
    part, so that the hour's energy is kept.
    """
    outside = sun.extraterrestrial_horizontal
    clearness = np.where(outside > 0, global_horizontal / np.maximum(outside, 1e-6), 0.0)
    diffuse = series(global_horizontal) * erbs_diffuse_fraction(clearness)
    direct = direct_from_global(global_horizontal, diffuse, sun)
    return direct, series(global_horizontal) - direct * sun.sine_elevation


def cloud_cover_from_clear_sky(
    global_horizontal: Series, clear: Series, depth: float = 0.75, power: float = 3.4
) -> Series:
    """Return the cloud cover [-] that dims clear-sky radiation to what was seen; NaN at night.

    Source: Kasten & Czeplak 1980, Solar Energy 24, 177-189, G = G0 (1 - 0.75 N^3.4), turned
    round. Hamburg data; a thin layer and a broken one look alike, so +-0.2 is honest.
    """
    bright = series(clear) > 20.0
    ratio = np.where(bright, global_horizontal / np.where(bright, clear, 1.0), 1.0)
    cover = (np.clip(1 - ratio, 0.0, depth) / depth) ** (1 / power)
    return np.where(bright, cover, np.nan)


def opaque_cover_from_clear_sky(
    global_horizontal: Series, clear: Series, depth: float = 0.75, power: float = 1.75
) -> Series:
    """Return the OPAQUE cloud cover [-], which sky long-wave models want; NaN at night.

    The form of Kasten & Czeplak 1980 with the power lowered from 3.4 (their total cover, thin
    cloud counted in full) to 1.75, fitted by eye to the opaque cover of ten TMY3 files with the
    sun above 15 deg; single hours scatter by about 0.25. Not published.
    """
    return cloud_cover_from_clear_sky(global_horizontal, clear, depth, power)


def cloudy_sky_global(
    clear: Series, cover: Series, depth: float = 0.75, power: float = 3.4
) -> Series:
    """Return global radiation [W/m2] under a cloud cover [-]: Kasten & Czeplak 1980."""
    return series(clear) * (1 - depth * np.clip(cover, 0, 1) ** power)


def across_the_night(cover: Series, window: int = 3) -> Series:
    """Return cover with the dark hours (NaN) drawn straight between evening and morning.

    The evening and morning values are the mean of the last and first `window` lit hours, as
    one hour of low sun is a poor witness. An assumption; no publication.
    """
    known = np.flatnonzero(np.isfinite(cover))
    filled = np.array(cover, dtype=float)
    if known.size == 0:
        return filled
    breaks = np.flatnonzero(np.diff(known) > 1)
    for left in breaks:
        evening = cover[known[max(0, left - window + 1) : left + 1]].mean()
        morning = cover[known[left + 1 : left + 1 + window]].mean()
        first, last = known[left], known[left + 1]
        filled[first + 1 : last] = np.linspace(evening, morning, last - first + 1)[1:-1]
    filled[: known[0]] = cover[known[:window]].mean()
    filled[known[-1] + 1 :] = cover[known[-window:]].mean()
    return filled
