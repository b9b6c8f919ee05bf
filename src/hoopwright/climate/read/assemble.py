"""From raw columns to a trusted weather record: plausibility, gaps, and what was mended."""

from __future__ import annotations

import numpy as np

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


@dataclass(frozen=True)
class RawYear:
    """Columns over the whole year, NaN where missing; units as in Weather.

    relative_humidity : [-]; opaque_cover, total_cover : [-] 0 to 1
    line              : line number in the file of each hour, for messages
    """

    air_temperature: Series
    dew_point: Series
    relative_humidity: Series
    pressure: Series
    global_horizontal: Series
    direct_normal: Series
    diffuse_horizontal: Series
    sky_infrared: Series
    opaque_cover: Series
    total_cover: Series
    wind_speed: Series
    wind_direction: Series
    precipitation: Series
    snow_depth: Series
    line: Series


def assemble(
    file: TextFile,
    station: Station,
    order: HourOrder,
    raw: RawYear,
    source: str,
    typical: bool,
    longest_gap: int,
) -> Weather:
    """Return the weather of a year, every gap filled and said, or refuse it.

    longest_gap : [h] of temperature, humidity, wind or radiation that may be filled
    """
    repairs = [*file.repairs, *order.repairs]
    sun = sun_over_hours(order.start, order.count, station)
    refuse_spikes(file, raw.air_temperature, raw.line)
    air_temperature = _drawn(
        file, raw.line, "air temperature", raw.air_temperature, longest_gap, repairs
    )
    dew = _dew_point(file, raw, air_temperature, longest_gap, repairs)
    pressure = _pressure(file, station, raw, longest_gap, repairs)
    total, direct, diffuse = _radiation(file, station, raw, sun, longest_gap, repairs)
    return Weather(
        station=station,
        start=order.start,
        air_temperature=air_temperature,
        dew_point=dew,
        pressure=pressure,
        global_horizontal=total,
        direct_normal=direct,
        diffuse_horizontal=diffuse,
        sky_infrared=raw.sky_infrared,
        sky_cover=_cover(station, raw, sun, total, pressure, longest_gap, repairs),
        wind_speed=_drawn(file, raw.line, "wind speed", raw.wind_speed, longest_gap, repairs),
        wind_direction=fill_direction(raw.wind_direction, repairs),
        precipitation=_precipitation(raw.precipitation, repairs),
        snow_depth=_snow_depth(raw.snow_depth, air_temperature, repairs),
        source=source,
        typical_year=typical,
        repairs=tuple(repairs),
    )


def _drawn(
    file: TextFile, line: Series, name: str, values: Series, longest: int, repairs: list[str]
) -> Series:
    """Fill short gaps straight between their neighbours; refuse the long ones."""
    runs = runs_of_missing(values)
    for first, last in runs:
        if last - first > longest or first == 0 or last == values.size:
            where = (
                "at the edge of the year" if first == 0 or last == values.size else "at a stretch"
            )
            raise file.error(
                f"{name} is missing for {last - first} hours {where}; "
                f"at most {longest} between known hours can be filled",
                line=_line_near(line, first),
                column=name,
            )
    if runs:
        hours = sum(last - first for first, last in runs)
        repairs.append(
            f"{name.capitalize()}: {hours} missing hours in {len(runs)} gaps (first near line "
            f"{_line_near(line, runs[0][0])}) were drawn straight between their neighbours."
        )
    return draw_across(values)


def _line_near(line: Series, hour: int) -> int:
    known = np.flatnonzero(np.isfinite(line[: hour + 1]))
    return int(line[known[-1]]) if known.size else int(np.nanmin(line))


def _dew_point(
    file: TextFile, raw: RawYear, temperature: Series, longest: int, repairs: list[str]
) -> Series:
    dew = np.array(raw.dew_point)
    helped = ~np.isfinite(dew) & np.isfinite(raw.relative_humidity) & (raw.relative_humidity > 0)
    if helped.any():
        dew[helped] = air.dew_point_from_humidity(
            temperature[helped], np.minimum(raw.relative_humidity[helped], 1.0)
        )
        repairs.append(f"Dew point: {int(helped.sum())} missing hours came from relative humidity.")
    dew = _drawn(file, raw.line, "dew point", dew, longest, repairs)
    over = dew - temperature
    far = np.flatnonzero(over > 3.0)
    if far.size:
        raise file.error(
            f"dew point {dew[far[0]]:.1f} is above the air's {temperature[far[0]]:.1f} degC; "
            "are the columns in order?",
            line=_line_near(raw.line, int(far[0])),
            column="dew point",
        )
    if (over > 0.05).any():
        repairs.append(
            f"Dew point: {int((over > 0.05).sum())} hours stood above the air temperature "
            f"(by {over.max():.1f} K at most) and were lowered to it."
        )
    return np.minimum(dew, temperature)


def _pressure(
    file: TextFile, station: Station, raw: RawYear, longest: int, repairs: list[str]
) -> Series:
    standard = air.pressure_at(station.elevation)
    known = np.isfinite(raw.pressure)
    if known.any():
        refuse_pressure(file, station, float(raw.pressure[known].mean()))
    pressure = np.array(raw.pressure)
    long_gaps = [
        (first, last)
        for first, last in runs_of_missing(pressure)
        if last - first > longest or first == 0 or last == pressure.size
    ]
    if long_gaps:
        hours = sum(last - first for first, last in long_gaps)
        for first, last in long_gaps:
            pressure[first:last] = standard
        repairs.append(
            f"Pressure: {hours} missing hours were set to the standard air's {standard / 100:.0f} "
            f"hPa at {station.elevation:.0f} m."
        )
    return _drawn(file, raw.line, "pressure", pressure, longest, repairs)


def _radiation(
    file: TextFile,
    station: Station,
    raw: RawYear,
    sun: HourlySun,
    longest: int,
    repairs: list[str],
) -> tuple[Series, Series, Series]:
    total, direct, diffuse = (
        np.array(raw.global_horizontal),
        np.array(raw.direct_normal),
        np.array(raw.diffuse_horizontal),
    )
    dark = sun.lit_fraction <= 0
    unlit = [dark & ~np.isfinite(values) for values in (total, direct, diffuse)]
    for values, nil in zip((total, direct, diffuse), unlit, strict=True):
        values[nil] = 0.0
    if any(nil.any() for nil in unlit):
        repairs.append(
            f"Radiation: missing figures in {int(np.any(unlit, axis=0).sum())} hours with the sun "
            "down were set to nil."
        )
    made = ~np.isfinite(total) & np.isfinite(direct) & np.isfinite(diffuse)
    if made.any():
        total[made] = diffuse[made] + direct[made] * sun.sine_elevation[made]
        repairs.append(f"Global radiation: {int(made.sum())} hours came from direct and diffuse.")
    total = _radiation_gaps(file, raw, sun, total, longest, repairs)
    refuse_wrong_zone(file, station, sun, total)
    lowered = lower_impossible_sun(file, sun, total, raw.line, repairs)
    direct[lowered] = np.nan
    diffuse[lowered] = np.nan
    lost = ~np.isfinite(diffuse) & np.isfinite(direct)
    if lost.any():
        diffuse[lost] = np.clip(total - direct * sun.sine_elevation, 0, total)[lost]
        repairs.append(f"Diffuse radiation: {int(lost.sum())} hours came from global and direct.")
    split_direct, split_diffuse = daylight.split_global(total, sun)
    both = ~np.isfinite(diffuse)
    if both.any():
        diffuse[both] = split_diffuse[both]
        direct[both] = split_direct[both]
        repairs.append(
            f"Direct and diffuse radiation: {int(both.sum())} hours were split from global "
            "radiation (Erbs et al. 1982)."
        )
    one = ~np.isfinite(direct)
    if one.any():
        direct[one] = daylight.direct_from_global(total, diffuse, sun)[one]
        repairs.append(f"Direct radiation: {int(one.sum())} hours came from global and diffuse.")
    refuse_open_balance(file, sun, total, direct, diffuse)
    return total, direct, diffuse


def _radiation_gaps(
    file: TextFile, raw: RawYear, sun: HourlySun, total: Series, longest: int, repairs: list[str]
) -> Series:
    """Fill gaps of global radiation by drawing the clearness across them."""
    gaps = runs_of_missing(total)
    if not gaps:
        return total
    for first, last in gaps:
        if last - first > longest:
            raise file.error(
                f"global radiation is missing for {last - first} daylight hours at a stretch; "
                f"at most {longest} can be filled",
                line=_line_near(raw.line, first),
                column="global radiation",
            )
    outside = sun.extraterrestrial_horizontal
    clearness = np.where(outside > 10, total / np.maximum(outside, 10), np.nan)
    clearness[np.isnan(total)] = np.nan
    drawn = draw_across(clearness)
    hours = sum(last - first for first, last in gaps)
    repairs.append(
        f"Global radiation: {hours} missing hours in {len(gaps)} gaps were filled by drawing the "
        "clearness straight between the known hours."
    )
    return np.where(np.isfinite(total), total, np.clip(drawn, 0, 1) * outside)


def _cover(
    station: Station,
    raw: RawYear,
    sun: HourlySun,
    total: Series,
    pressure: Series,
    longest: int,
    repairs: list[str],
) -> Series:
    lacking = ~np.isfinite(raw.opaque_cover) & np.isfinite(raw.total_cover)
    cover = np.where(lacking, raw.total_cover, raw.opaque_cover)
    if lacking.any():
        repairs.append(
            f"Sky cover: total stands for opaque cover in {int(lacking.sum())} hours without it."
        )
    gaps = runs_of_missing(cover)
    if not gaps:
        return cover
    short = all(b - a <= longest and a > 0 and b < cover.size for a, b in gaps)
    hours = sum(last - first for first, last in gaps)
    if short:
        repairs.append(f"Sky cover: {hours} missing hours were drawn between their neighbours.")
        return draw_across(cover)
    clear = daylight.clear_sky_global(sun, station.elevation, float(pressure.mean()) / 101325.0)
    modelled = daylight.across_the_night(daylight.opaque_cover_from_clear_sky(total, clear))
    repairs.append(
        f"Sky cover: {hours} missing hours came from how far radiation falls below a clear sky "
        "(after Kasten & Czeplak 1980), nights drawn between evening and morning."
    )
    return np.where(np.isfinite(cover), cover, np.nan_to_num(modelled, nan=0.5))


def _precipitation(rain: Series, repairs: list[str], most: float = 5000.0) -> Series:
    """Take a year of more rain [mm] than nearly any station has as wrong in its unit.

    One published TMY3 file holds tenths of a millimetre under a heading of millimetres.
    """
    total = float(np.nansum(rain))
    if total <= most:
        return rain
    repairs.append(
        f"Precipitation adds up to {total:.0f} mm in the year, so its unit cannot be right; it "
        "was taken as unknown."
    )
    return np.full_like(rain, np.nan)


def _snow_depth(depth: Series, temperature: Series, repairs: list[str]) -> Series:
    """Take a winter of all-zero snow as 'not observed': stitched years often hold that."""
    months = temperature[: 12 * 730].reshape(12, 730).mean(axis=1)
    if months.min() < -3.0 and np.nanmax(np.append(depth, 0.0)) <= 0.0 and np.isfinite(depth).any():
        repairs.append(
            "Snow depth is 0 in every hour although a month averages below -3 degC; it was taken "
            "as not observed."
        )
        return np.full_like(depth, np.nan)
    return depth
