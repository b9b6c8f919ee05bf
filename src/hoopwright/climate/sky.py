"""Long-wave radiation of the sky: measured where the file has it, modelled where it has not.

On a clear night the choice of model is the largest single uncertainty of the whole climate
under a cover: the published models differ by up to 10 K of sky temperature at one dew point.
`sky_band` gives their spread, so that it can be carried on.
"""

import numpy as np

from hoopwright.climate.weather import Series, Weather, series
from hoopwright.tables.constants import KELVIN, STEFAN_BOLTZMANN


def martin_berdahl_clear_emissivity(
    dew_point: Series, pressure: Series | float, hour: Series | float
) -> Series:
    """Return the emissivity of a clear sky [-], with its daily swing and its altitude term.

    dew_point : [degC], valid -20 to 30; pressure : [Pa]; hour : [h] of local solar time
    Source: Martin & Berdahl 1984, Solar Energy 33, 321-336 (from memory). The pressure term is
    theirs: air at 760 hPa sends 0.029 less than at sea level.
    """
    dew = series(dew_point) / 100
    swing = 0.013 * np.cos(2 * np.pi * series(hour) / 24)
    thin_air = 0.00012 * (series(pressure) / 100 - 1000)
    return 0.711 + 0.56 * dew + 0.73 * dew**2 + swing + thin_air


def martin_berdahl_emissivity(
    dew_point: Series,
    pressure: Series | float,
    hour: Series | float,
    cover: Series | float,
    cloud_emissivity: float = 1.0,
    cloud_base: float = 2000.0,
    scale_height: float = 8200.0,
) -> Series:
    """Return the emissivity of a part-clouded sky [-].

    cover : [-] 0 to 1 opaque; cloud_base : [m] above ground, 2000 for low and middle cloud;
    high cirrus (base 8000 m) is nearer cloud_emissivity 0.4
    Source: Martin & Berdahl 1984, e = e0 + (1 - e0) n ec exp(-base/8.2 km) (from memory).
    """
    clear = martin_berdahl_clear_emissivity(dew_point, pressure, hour)
    factor = cloud_emissivity * np.exp(-cloud_base / scale_height)
    return series(clear + (1 - clear) * np.clip(cover, 0, 1) * factor)


def clark_allen_emissivity(dew_point: Series, cover: Series | float = 0.0) -> Series:
    """Return sky emissivity [-] by Clark & Allen 1978 with Walton's 1983 cloud factor.

    The default of a widely used building-energy program and the source of the infrared column
    in many weather files. Made near sea level: too warm a sky at altitude.
    cover : [-] 0 to 1 opaque
    """
    tenths = 10 * np.clip(cover, 0, 1)
    cloud = 1 + 0.0224 * tenths - 0.0035 * tenths**2 + 0.00028 * tenths**3
    return (0.787 + 0.764 * np.log((series(dew_point) + 273.0) / 273.0)) * cloud


def sky_radiation(emissivity: Series, temperature: Series) -> Series:
    """Return down-welling long-wave [W/m2] of a sky of this emissivity at air temperature."""
    return emissivity * STEFAN_BOLTZMANN * (series(temperature) + KELVIN) ** 4


def sky_temperature(radiation: Series | float) -> Series:
    """Return the temperature [degC] of a black sky that sends this radiation [W/m2]."""
    return (np.maximum(radiation, 1.0) / STEFAN_BOLTZMANN) ** 0.25 - KELVIN


def solar_hours(weather: Weather) -> Series:
    """Return local mean solar time [h] at the middle of each hour."""
    station = weather.station
    first = weather.start.hour + weather.start.minute / 60 + 0.5
    shift = station.longitude / 15 - station.utc_offset
    return series((first + np.arange(len(weather)) + shift) % 24)


def modelled_sky_radiation(weather: Weather) -> Series:
    """Return the long-wave of the sky [W/m2] by Martin & Berdahl from a weather record."""
    emissivity = martin_berdahl_emissivity(
        weather.dew_point, weather.pressure, solar_hours(weather), weather.sky_cover
    )
    return sky_radiation(emissivity, weather.air_temperature)


def sky_of(weather: Weather, trust_file: bool = True) -> Series:
    """Return the long-wave from above [W/m2]: the file's where it has it, else modelled.

    trust_file : set False where the file's column is no observation; `infrared_is_modelled`
        tells, and `trusted_sky` decides by it
    What the skyline hides is replaced by black hills and fences at the air's temperature (an
    assumption; on a calm clear night they lie a kelvin or three off it).
    """
    sky = modelled_sky_radiation(weather)
    if trust_file:
        sky = np.where(np.isfinite(weather.sky_infrared), weather.sky_infrared, sky)
    if weather.sky_view >= 1.0:
        return sky
    hidden = sky_radiation(series(1.0), weather.air_temperature)
    return series(weather.sky_view * sky + (1.0 - weather.sky_view) * hidden)


def infrared_is_modelled(weather: Weather, closeness: float = 1.5) -> bool:
    """Return whether the file's infrared is Clark & Allen 1978 rather than an observation.

    closeness : [W/m2] root-mean-square within which it counts as the formula. In ten EPW files
        of TMY3 years it was 0.3, the rounding; a pyrgeometer scatters by 10 and more.
    On clear nights at 1400 to 1900 m such a column lies 27 to 31 W/m2 above Martin & Berdahl.
    """
    known = np.isfinite(weather.sky_infrared)
    if known.sum() < 100:
        return False
    formula = sky_radiation(
        clark_allen_emissivity(weather.dew_point, weather.sky_cover), weather.air_temperature
    )
    gap = (weather.sky_infrared - formula)[known]
    return float(np.sqrt((gap**2).mean())) < closeness


def trusted_sky(weather: Weather) -> Series:
    """Return the sky's long-wave [W/m2]: observed where it was observed, else Martin & Berdahl."""
    return sky_of(weather, trust_file=not infrared_is_modelled(weather))
