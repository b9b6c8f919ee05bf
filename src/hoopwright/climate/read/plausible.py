"""Whether a year of figures can be true: clock, sun, pressure, balance, spikes."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import pressure_at
from hoopwright.climate.read.text import TextFile
from hoopwright.climate.sun import HourlySun
from hoopwright.climate.weather import Series, Station, series


def refuse_far_zone(
    file: TextFile, station: Station, line: int, column: str, furthest: float = 4.0
) -> None:
    """Refuse a clock that differs from the sun's by more than any country's does.

    furthest : [h]; the largest in use is about 3.3 h, western China (common knowledge)
    """
    solar = station.longitude / 15
    if abs(station.utc_offset - solar) > furthest:
        raise file.error(
            f"time zone UTC{station.utc_offset:+g} cannot hold at longitude "
            f"{station.longitude:g} (the sun keeps UTC{solar:+.1f}); is a sign wrong?",
            line=line,
            column=column,
        )


def clock_shift(sun: HourlySun, total: Series, threshold: float = 20.0) -> float:
    """Return by how many hours the file's days lie late against the sun.

    Compares the middle of each day's lit hours, above a threshold [W/m2], with the same of the
    radiation above the air; clouds dim a day but seldom move its ends. Mean over the year.
    """
    days = total.size // 24
    seen = total[: days * 24].reshape(days, 24) > threshold
    due = sun.extraterrestrial_horizontal[: days * 24].reshape(days, 24) > 2.5 * threshold
    usable = seen.any(axis=1) & due.any(axis=1) & ~due.all(axis=1) & ~seen.all(axis=1)
    if usable.sum() < 30:
        return 0.0
    return float((_middle(seen[usable]) - _middle(due[usable])).mean())


def _middle(lit: NDArray[np.bool_]) -> Series:
    first = lit.argmax(axis=1)
    last = 23 - lit[:, ::-1].argmax(axis=1)
    return series((first + last) / 2)


def refuse_wrong_zone(
    file: TextFile, station: Station, sun: HourlySun, total: Series, most: float = 0.75
) -> None:
    """Refuse a year whose days run more than `most` [h] early or late."""
    shift = clock_shift(sun, total)
    if abs(shift) > most:
        side = "late" if shift > 0 else "early"
        raise file.error(
            f"the sun shines {abs(shift):.1f} h too {side} for UTC{station.utc_offset:+g} at "
            f"longitude {station.longitude:g}; check the time zone, the longitude, and that the "
            "hours are standard time counted by their end",
            line=1,
            column="time zone",
        )


def lower_impossible_sun(
    file: TextFile,
    sun: HourlySun,
    total: Series,
    line: Series,
    repairs: list[str],
    most_hours: int = 12,
    most_excess: float = 250.0,
    night: float = 20.0,
) -> NDArray[np.bool_]:
    """Lower, in place, the few hours brighter than what arrives above the air; say which.

    Real typical-year files hold up to five such hours a year. More than `most_hours` [h], one
    that is over by more than `most_excess` [W/m2], or more than `night` [W/m2] with the sun
    down all the hour is refused. Returns which hours were lowered.
    """
    outside = sun.extraterrestrial_horizontal
    dark = (sun.lit_fraction <= 0) & (total > night)
    over = total > 1.05 * outside + night
    wrong = np.flatnonzero(dark | (total > 1.05 * outside + most_excess))
    if wrong.size == 0 and over.sum() > most_hours:
        wrong = np.flatnonzero(over)
    if wrong.size:
        at = int(wrong[0])
        raise file.error(
            f"global radiation {total[at]:.0f} W/m2, while {outside[at]:.0f} arrives above the "
            "air; check the figure, and latitude, time zone and elevation",
            line=_line(line, at),
            column="global radiation",
        )
    if over.any():
        at = int(np.flatnonzero(over)[0])
        repairs.append(
            f"Global radiation: {int(over.sum())} hours (first near line {_line(line, at)}) were "
            "brighter than the sun above the air, and were lowered to it."
        )
        total[over] = outside[over]
    return over


def refuse_open_balance(
    file: TextFile,
    sun: HourlySun,
    total: Series,
    direct: Series,
    diffuse: Series,
    most: float = 0.15,
) -> None:
    """Refuse a year in which global is not diffuse plus direct times the sine of the height.

    most : [-] mean departure over the mean of global, in hours with the sun above 10 deg
    """
    high = sun.elevation > 10
    if not high.any() or total[high].mean() < 1:
        raise file.error("global radiation is nil all year", column="global radiation")
    gap = np.abs(total - diffuse - direct * sun.sine_elevation)[high].mean()
    share = float(gap / total[high].mean())
    if share > most:
        raise file.error(
            f"global radiation departs from direct plus diffuse by {100 * share:.0f} % on "
            "average; are the radiation columns in order?",
            column="global, direct and diffuse radiation",
        )


def refuse_pressure(
    file: TextFile, station: Station, pressure: float, most: float = 4000.0
) -> None:
    """Refuse a mean pressure [Pa] that fits another elevation by more than `most` [Pa]."""
    standard = pressure_at(station.elevation)
    if abs(pressure - standard) > most:
        raise file.error(
            f"mean pressure {pressure / 100:.0f} hPa does not fit an elevation of "
            f"{station.elevation:.0f} m (about {standard / 100:.0f} hPa); station pressure is "
            "wanted, not pressure reduced to sea level",
            line=1,
            column="elevation",
        )


def refuse_spikes(file: TextFile, temperature: Series, line: Series, most: float = 18.0) -> None:
    """Refuse a single hour that stands more than `most` [K] off both its neighbours."""
    left = np.diff(temperature)[:-1]
    right = -np.diff(temperature)[1:]
    with np.errstate(invalid="ignore"):
        spike = (np.minimum(np.abs(left), np.abs(right)) > most) & (left * right > 0)
    if spike.any():
        at = int(np.flatnonzero(spike)[0]) + 1
        raise file.error(
            f"air temperature {temperature[at]:.1f} degC between {temperature[at - 1]:.1f} and "
            f"{temperature[at + 1]:.1f}",
            line=_line(line, at),
            column="air temperature",
        )


def _line(line: Series, hour: int) -> int | None:
    return int(line[hour]) if np.isfinite(line[hour]) else None
