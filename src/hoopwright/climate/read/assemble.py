"""From raw columns to a trusted weather record: plausibility, gaps, and what was mended."""

from collections.abc import Mapping
from dataclasses import field

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate import air, daylight
from hoopwright.climate.read.calendar import HourOrder
from hoopwright.climate.read.gaps import draw_across, fill_direction, runs_of_missing
from hoopwright.climate.read.plausible import (
    lower_impossible_sun,
    refuse_open_balance,
    refuse_pressure,
    refuse_spikes,
    refuse_wrong_zone,
)
from hoopwright.climate.read.text import TextFile
from hoopwright.climate.sun import HourlySun, sun_over_hours
from hoopwright.climate.weather import Series, Station, Weather
from hoopwright.frozen import dataclass

Runs = list[tuple[int, int]]


@dataclass(frozen=True)
class Year:
    """A year as a file has it, and what is mended in it.

    raw  : columns over the whole year, NaN where missing, in the units of Weather; besides its
           relative_humidity, opaque_cover and total_cover [-]
    line : line number in the file of each hour, for messages
    longest_gap : [h] of temperature, humidity, wind or radiation that may be filled
    """

    file: TextFile
    station: Station
    order: HourOrder
    raw: Mapping[str, Series]
    line: Series
    longest_gap: int
    repairs: list[str] = field(default_factory=list)

    def drawn(self, name: str, values: Series) -> Series:
        """Fill short gaps straight between their neighbours; refuse the long ones."""
        runs = runs_of_missing(values)
        for first, last in self.long_gaps(values):
            at_edge = first == 0 or last == values.size
            where = "at the edge of the year" if at_edge else "at a stretch"
            raise self.file.error(
                f"{name} is missing for {last - first} hours {where}; "
                f"at most {self.longest_gap} between known hours can be filled",
                line=self.line_near(first),
                column=name,
            )
        if runs:
            self.repairs.append(
                f"{name.capitalize()}: {_hours(runs)} missing hours in {len(runs)} gaps (first "
                f"near line {self.line_near(runs[0][0])}) were drawn straight between their "
                "neighbours."
            )
        return draw_across(values)

    def long_gaps(self, values: Series) -> Runs:
        """Return the gaps that are too long to be drawn across, or lie at the edge of the year."""
        return [
            (first, last)
            for first, last in runs_of_missing(values)
            if last - first > self.longest_gap or first == 0 or last == values.size
        ]

    def line_near(self, hour: int) -> int:
        """Return the line of an hour, or of the last one before it that has one."""
        known = np.flatnonzero(np.isfinite(self.line[: hour + 1]))
        return int(self.line[known[-1]]) if known.size else int(np.nanmin(self.line))

    def told(self, where: NDArray[np.bool_], says: str) -> bool:
        """Say what became of some hours, and return whether there are any."""
        count = int(where.sum())
        if count:
            self.repairs.append(says.format(count))
        return count > 0


def _hours(runs: Runs) -> int:
    return sum(last - first for first, last in runs)


def assemble(year: Year, source: str, typical: bool) -> Weather:
    """Return the weather of a year, every gap filled and said, or refuse it."""
    raw, station, order = year.raw, year.station, year.order
    year.repairs.extend([*year.file.repairs, *order.repairs])
    sun = sun_over_hours(order.start, order.count, station)
    refuse_spikes(year.file, raw["air_temperature"], year.line)
    temperature = year.drawn("air temperature", raw["air_temperature"])
    dew_point = _dew_point(year, temperature)
    pressure = _pressure(year)
    total, direct, diffuse = _radiation(year, sun)
    return Weather(
        station=station,
        start=order.start,
        air_temperature=temperature,
        dew_point=dew_point,
        pressure=pressure,
        global_horizontal=total,
        direct_normal=direct,
        diffuse_horizontal=diffuse,
        sky_infrared=raw["sky_infrared"],
        sky_cover=_cover(year, sun, total, pressure),
        wind_speed=year.drawn("wind speed", raw["wind_speed"]),
        wind_direction=fill_direction(raw["wind_direction"], year.repairs),
        precipitation=_precipitation(year),
        snow_depth=_snow_depth(year, temperature),
        source=source,
        typical_year=typical,
        repairs=tuple(year.repairs),
    )


def _dew_point(year: Year, temperature: Series) -> Series:
    dew, humidity = np.array(year.raw["dew_point"]), year.raw["relative_humidity"]
    helped = ~np.isfinite(dew) & np.isfinite(humidity) & (humidity > 0)
    if year.told(helped, "Dew point: {} missing hours came from relative humidity."):
        dew[helped] = air.dew_point_from_humidity(
            temperature[helped], np.minimum(humidity[helped], 1.0)
        )
    dew = year.drawn("dew point", dew)
    over = dew - temperature
    far = np.flatnonzero(over > 3.0)
    if far.size:
        raise year.file.error(
            f"dew point {dew[far[0]]:.1f} is above the air's {temperature[far[0]]:.1f} degC; "
            "are the columns in order?",
            line=year.line_near(int(far[0])),
            column="dew point",
        )
    year.told(
        over > 0.05,
        f"Dew point: {{}} hours stood above the air temperature (by {over.max():.1f} K at most) "
        "and were lowered to it.",
    )
    return np.minimum(dew, temperature)


def _pressure(year: Year) -> Series:
    pressure, height = np.array(year.raw["pressure"]), year.station.elevation
    standard = air.pressure_at(height)
    if np.isfinite(pressure).any():
        refuse_pressure(year.file, year.station, float(np.nanmean(pressure)))
    gaps = year.long_gaps(pressure)
    for first, last in gaps:
        pressure[first:last] = standard
    if gaps:
        year.repairs.append(
            f"Pressure: {_hours(gaps)} missing hours were set to the standard air's "
            f"{standard / 100:.0f} hPa at {height:.0f} m."
        )
    return year.drawn("pressure", pressure)


def _radiation(year: Year, sun: HourlySun) -> tuple[Series, Series, Series]:
    total, direct, diffuse = (
        np.array(year.raw[name])
        for name in ("global_horizontal", "direct_normal", "diffuse_horizontal")
    )
    unlit = [~np.isfinite(values) & (sun.lit_fraction <= 0) for values in (total, direct, diffuse)]
    for values, nil in zip((total, direct, diffuse), unlit, strict=True):
        values[nil] = 0.0
    year.told(
        np.any(unlit, axis=0),
        "Radiation: missing figures in {} hours with the sun down were set to nil.",
    )
    made = ~np.isfinite(total) & np.isfinite(direct) & np.isfinite(diffuse)
    if year.told(made, "Global radiation: {} hours came from direct and diffuse."):
        total[made] = diffuse[made] + direct[made] * sun.sine_elevation[made]
    total = _radiation_gaps(year, sun, total)
    refuse_wrong_zone(year.file, year.station, sun, total)
    lowered = lower_impossible_sun(year.file, sun, total, year.line, year.repairs)
    direct[lowered] = np.nan
    diffuse[lowered] = np.nan
    lost = ~np.isfinite(diffuse) & np.isfinite(direct)
    if year.told(lost, "Diffuse radiation: {} hours came from global and direct."):
        diffuse[lost] = np.clip(total - direct * sun.sine_elevation, 0, total)[lost]
    both = ~np.isfinite(diffuse)
    says = "Direct and diffuse radiation: {} hours were split from global radiation (Erbs et al. "
    if year.told(both, f"{says}1982)."):
        split_direct, split_diffuse = daylight.split_global(total, sun)
        diffuse[both], direct[both] = split_diffuse[both], split_direct[both]
    one = ~np.isfinite(direct)
    if year.told(one, "Direct radiation: {} hours came from global and diffuse."):
        direct[one] = daylight.direct_from_global(total, diffuse, sun)[one]
    refuse_open_balance(year.file, sun, total, direct, diffuse)
    return total, direct, diffuse


def _radiation_gaps(year: Year, sun: HourlySun, total: Series) -> Series:
    """Fill gaps of global radiation by drawing the clearness across them."""
    gaps = runs_of_missing(total)
    for first, last in gaps:
        if last - first > year.longest_gap:
            raise year.file.error(
                f"global radiation is missing for {last - first} daylight hours at a stretch; "
                f"at most {year.longest_gap} can be filled",
                line=year.line_near(first),
                column="global radiation",
            )
    if not gaps:
        return total
    outside = sun.extraterrestrial_horizontal
    clearness = np.where(outside > 10, total / np.maximum(outside, 10), np.nan)
    drawn = draw_across(clearness)
    year.repairs.append(
        f"Global radiation: {_hours(gaps)} missing hours in {len(gaps)} gaps were filled by "
        "drawing the clearness straight between the known hours."
    )
    return np.where(np.isfinite(total), total, np.clip(drawn, 0, 1) * outside)


def _cover(year: Year, sun: HourlySun, total: Series, pressure: Series) -> Series:
    opaque, any_cloud = year.raw["opaque_cover"], year.raw["total_cover"]
    lacking = ~np.isfinite(opaque) & np.isfinite(any_cloud)
    year.told(lacking, "Sky cover: total stands for opaque cover in {} hours without it.")
    cover = np.where(lacking, any_cloud, opaque)
    hours = _hours(runs_of_missing(cover))
    if hours == 0:
        return cover
    if not year.long_gaps(cover):
        year.repairs.append(
            f"Sky cover: {hours} missing hours were drawn between their neighbours."
        )
        return draw_across(cover)
    ratio = float(pressure.mean()) / 101325.0
    clear = daylight.clear_sky_global(sun, year.station.elevation, ratio)
    modelled = daylight.across_the_night(daylight.opaque_cover_from_clear_sky(total, clear))
    year.repairs.append(
        f"Sky cover: {hours} missing hours came from how far radiation falls below a clear sky "
        "(after Kasten & Czeplak 1980), nights drawn between evening and morning."
    )
    return np.where(np.isfinite(cover), cover, np.nan_to_num(modelled, nan=0.5))


def _precipitation(year: Year, most: float = 5000.0) -> Series:
    """Take a year of more rain [mm] than nearly any station has as wrong in its unit.

    One published TMY3 file holds tenths of a millimetre under a heading of millimetres.
    """
    rain = year.raw["precipitation"]
    total = float(np.nansum(rain))
    if total <= most:
        return rain
    year.repairs.append(
        f"Precipitation adds up to {total:.0f} mm in the year, so its unit cannot be right; it "
        "was taken as unknown."
    )
    return np.full_like(rain, np.nan)


def _snow_depth(year: Year, temperature: Series) -> Series:
    """Take a winter of all-zero snow as 'not observed': stitched years often hold that."""
    depth = year.raw["snow_depth"]
    months = temperature[: 12 * 730].reshape(12, 730).mean(axis=1)
    if months.min() < -3.0 and np.nanmax(np.append(depth, 0.0)) <= 0.0 and np.isfinite(depth).any():
        year.repairs.append(
            "Snow depth is 0 in every hour although a month averages below -3 degC; it was taken "
            "as not observed."
        )
        return np.full_like(depth, np.nan)
    return depth
