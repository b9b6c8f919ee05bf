"""Snow on the ground from a day's temperature and precipitation: a degree-day count."""

import numpy as np

from hoopwright.climate.weather import Series


def snow_depths(
    temperature: Series,
    precipitation: Series,
    start: float = 0.0,
    all_snow_below: float = -1.0,
    all_rain_above: float = 3.0,
    melt: float = 3.0,
    density: float = 220.0,
) -> Series:
    """Return the depth of snow [m] at the end of each day.

    temperature     : [degC] daily mean; precipitation : [mm] in the day, NaN counts as nil
    start           : [mm] of water in the snow the evening before
    all_snow_below,
    all_rain_above  : [degC] with a straight line between (an assumption; U.S. Army Corps of
                      Engineers 1956, Snow Hydrology, shows such a line, from memory)
    melt            : [mm/K d]; published degree-day factors run 1.6 to 6, open sites 2 to 4
                      (Rango & Martinec 1995, Water Resources Bulletin 31, from memory)
    density         : [kg/m3] of settled snow, 100 fresh to 400 in spring (common figures)
    Rough: +-50 % on depth, a week on the last day of snow.
    """
    falling = np.clip((all_rain_above - temperature) / (all_rain_above - all_snow_below), 0, 1)
    gain = (falling * np.nan_to_num(precipitation)).tolist()
    loss = (melt * np.maximum(temperature, 0)).tolist()
    water = start
    row = []
    for more, less in zip(gain, loss, strict=True):
        water = max(water + more - less, 0.0)
        row.append(water)
    return np.array(row) / density
