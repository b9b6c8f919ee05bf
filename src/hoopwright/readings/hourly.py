"""Readings at odd times made into hours of local standard time, as the model has them."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.readings.text import ReadingsError

Series = NDArray[np.float64]
#: Readings farther apart than this [h] leave the hours between them empty.
LONGEST_GAP = 2.0


@dataclass(frozen=True)
class Hours:
    """Temperatures [degC] at the ends of hours, local standard time; NaN where there is none.

    Value i is at start + (i + 1) h, as climate.weather has it.
    """

    start: datetime
    inside: Series
    outside: Series

    def __len__(self) -> int:
        return len(self.inside)

    @property
    def both(self) -> NDArray[np.bool_]:
        """Return the hours that have both."""
        return np.isfinite(self.inside) & np.isfinite(self.outside)


def to_standard(
    times: Sequence[datetime], logger_offset: float | None, place_offset: float, zone: str | None
) -> list[datetime]:
    """Return a logger's times in the place's local standard time.

    logger_offset : [h] of the logger's clock from UTC, where its file says it
    place_offset  : [h] of the place's standard time from UTC
    zone          : IANA name where the clock kept summer time; None: it kept standard time
    """
    if logger_offset is not None:
        shift = timedelta(hours=place_offset - logger_offset)
        return [when + shift for when in times]
    if zone is None:
        return list(times)
    try:
        room = ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        says = f'no time zone is called "{zone[:60]}"; write it like America/Denver'
        raise ReadingsError(says) from None
    shifted = []
    for when in times:
        saving = when.replace(tzinfo=room).dst() or timedelta()
        shifted.append(when - saving)
    return shifted


def hours_of(series: Sequence[tuple[str, Sequence[datetime], Series]]) -> Hours:
    """Return readings as hours, by straight lines between them.

    series : (role, times in local standard time, readings); of one role, later ones fill the
             holes of earlier ones
    """
    every = [when for _, times, _ in series for when in times]
    start = min(every).replace(minute=0, second=0, microsecond=0)
    last = max(every)
    count = max(1, int((last - start).total_seconds() // 3600) + 1)
    grid = {role: np.full(count, np.nan) for role in ("inside", "outside")}
    for role, times, values in series:
        own = _on_hours(start, count, times, values)
        grid[role] = np.where(np.isfinite(grid[role]), grid[role], own)
    return Hours(start, grid["inside"], grid["outside"])


def _on_hours(start: datetime, count: int, times: Sequence[datetime], values: Series) -> Series:
    good = np.isfinite(values)
    at = np.array([(when - start).total_seconds() / 3600 for when in times])[good]
    known = values[good]
    wanted = np.arange(1, count + 1, dtype=np.float64)
    if len(at) < 2:
        return np.full(count, np.nan)
    found = np.interp(wanted, at, known, left=np.nan, right=np.nan)
    after = np.clip(np.searchsorted(at, wanted), 1, len(at) - 1)
    exact = np.isclose(at[after], wanted) | np.isclose(at[after - 1], wanted)
    found[(at[after] - at[after - 1] > LONGEST_GAP) & ~exact] = np.nan
    return found
