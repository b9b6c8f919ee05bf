"""Readings as data for machines: differences in kelvin, times as the store keeps them."""

import math
from dataclasses import asdict
from typing import Any

from hoopwright.readings.evidence import BedReadings
from hoopwright.readings.fit import Fit
from hoopwright.readings.measured import Estimate, Measured, Month


def bed_data(bed: BedReadings, fitted: Fit | None) -> dict[str, Any]:
    """Return what one bed's readings show, the model beside them, and a fit where there is one."""
    modelled = bed.modelled
    return {
        "name": bed.name,
        "measured": _measured(bed.measured),
        "modelled": None if modelled is None else _measured(modelled.nights),
        "typical_year": None if modelled is None else modelled.typical,
        "fit": None if fitted is None else {**asdict(fitted), "helps": fitted.helps},
    }


def _measured(found: Measured) -> dict[str, Any]:
    return {
        "first": found.first.isoformat(),
        "last": found.last.isoformat(),
        "gain_K": _estimate(found.gain),
        "frost_nights_outside": found.frosts_out,
        "frost_nights_inside": found.frosts_in,
        "months": [_month(month) for month in found.months],
    }


def _month(month: Month) -> dict[str, Any]:
    return {
        "month": f"{month.year}-{month.month:02d}",
        "gain_K": _estimate(month.gain),
        "degree_days_a_day_K": _estimate(month.warmth),
        "frost_nights_outside": month.frosts_out,
        "frost_nights_inside": month.frosts_in,
        "hours_above_32_degC": month.hot,
    }


def _estimate(found: Estimate) -> dict[str, float | int | None]:
    """Return a mean with its 95 % interval; null where too few nights tell it."""
    known = {name: getattr(found, name) for name in ("mean", "low", "high")}
    finite = {name: value if math.isfinite(value) else None for name, value in known.items()}
    return {**finite, "count": found.count}
