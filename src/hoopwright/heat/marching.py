"""Beds laid out for the march, and the march called: plain or compiled, one lane or a block."""

import threading
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass
from hoopwright.heat import constants as names
from hoopwright.heat import kernel
from hoopwright.heat.lanes import WIDTH, Lanes
from hoopwright.heat.results import Energy, UnderCover, under_cover
from hoopwright.heat.schedule import Settings
from hoopwright.heat.soil import SoilColumn
from hoopwright.heat.vapour import saturation_table

WARM_UP_DAYS = 20


@dataclass(frozen=True)
class Lane:
    """One bed under one cover: its constants, its hours, its ground, and its soil [degC] at first.

    rows : a whole series each
    """

    p: names.Constants
    rows: names.Hour
    hours: Settings
    ground: SoilColumn
    soil: NDArray[np.float64]

    @property
    def alike(self) -> tuple[Any, ...]:
        """What lanes of one block must share."""
        p = self.p
        return p.steps, p.refresh, p.fabric, len(self.soil), self.hours.covered.tobytes()


def march_block(weather: Weather, lanes: list[Lane], march: Any) -> list[UnderCover]:
    """March the lanes of one block, warmed up where the record is a year, and name the outcome.

    Lanes must be `alike`; a block that is not full is filled up with its last lane.
    """
    width = 1 if len(lanes) == 1 else WIDTH
    padded = lanes + [lanes[-1]] * (width - len(lanes))
    table = _table_of_this_thread(len(weather), width)
    for row, columns in zip(table, zip(*(lane.rows for lane in padded), strict=True), strict=True):
        for number, series in enumerate(columns):
            row[number] = series
    table = table.transpose(0, 2, 1)
    p = _constants_of(padded)
    covered = padded[0].hours.covered > 0.5
    openings = np.stack([lane.hours.half_hours for lane in padded], axis=-1)
    grounds = [lane.ground for lane in padded]
    soil = np.stack([lane.soil for lane in padded], axis=-1)
    late = 24 * WARM_UP_DAYS
    if len(weather) >= 8000:
        quick, rows = p._replace(steps=1, refresh=1), table[:, -late:]
        soil, _, _ = call(quick, rows, covered[-late:], openings[-2 * late :], grounds, soil, march)
    _, out, sums = call(p, table, covered, openings, grounds, soil, march)
    if not np.all(np.isfinite(out)):
        raise FloatingPointError(
            "the climate under the cover came out as not-a-number; check the weather record for "
            "values that cannot be"
        )
    return [
        under_cover(
            weather,
            out[:, :, number],
            Energy(*map(float, sums[:, number])),
            lane.ground.thickness,
            lane.p.air_store / lane.p.heat_of_air,
        )
        for number, lane in enumerate(lanes)
    ]


def _constants_of(lanes: list[Lane]) -> names.Constants:
    """The constants of one lane, or of all side by side."""
    p = lanes[0].p
    if len(lanes) == 1:
        return p
    values = zip(*(lane.p for lane in lanes), strict=True)
    side_by_side: Any = (Lanes(np.array(value, dtype=np.float64)) for value in values)
    return names.Constants(*side_by_side)._replace(
        steps=p.steps, refresh=p.refresh, fabric=p.fabric
    )


_kept = threading.local()


def _table_of_this_thread(hours: int, width: int) -> NDArray[np.float64]:
    """Return the thread's forcing table: new memory for each run takes longer than filling it."""
    table: NDArray[np.float64] | None = getattr(_kept, "table", None)
    shape = len(names.Hour._fields), width, hours
    if table is None or table.shape != shape:
        table = _kept.table = np.empty(shape)
    return table


def call(
    p: names.Constants,
    rows: NDArray[np.float64],
    covered: NDArray[np.bool_],
    half_hours: NDArray[np.float64],
    grounds: Sequence[SoilColumn],
    soil: NDArray[np.float64],
    march: Any,
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """March once from `soil` [degC]; the soil after, the table of outcomes, and the sums.

    All arrays have the lanes last; the march gets one lane without that axis, and plain as lists.
    """
    layers, width = soil.shape
    columns = len(names.Outcome._fields) + layers
    after, sums = soil.copy(), np.zeros((names.SUMS, width))
    # The hours of a lane lie side by side: what reads them later goes through them in order.
    table = np.empty((columns, width, len(covered))).transpose(0, 2, 1)
    given: list[Any] = [rows, half_hours]
    for name in ("capacity", "half_resistance", "latent", "side"):
        given.append(np.stack([getattr(ground, name) for ground in grounds], axis=-1))
    kept: list[Any] = [
        after,
        np.zeros((layers, width)),
        np.zeros((4, layers, width)),
        np.zeros((9, 8, width)),
        table,
        sums,
    ]
    if width == 1:
        given = [np.ascontiguousarray(value[..., 0]) for value in given]
        kept = [value[..., 0] for value in kept]
    given.insert(1, covered)
    given.append(saturation_table())
    if march is not None:
        march(p, *given, *kept)
        return after, table, sums
    lists = [value.tolist() for value in kept]
    kernel.march(p, *(value.tolist() for value in given), *lists)
    after[:, 0], table[:, :, 0], sums[:, 0] = lists[0], lists[4], lists[5]
    return after, table, sums
