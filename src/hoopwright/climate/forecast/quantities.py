"""Units as forecast services write them, turned into SI, and values that cannot be refused."""

from __future__ import annotations

from hoopwright.climate.forecast.form import ForecastError
from hoopwright.frozen import dataclass

KNOT = 1852.0 / 3600.0
_UNITS: dict[str, dict[str, tuple[float, float]]] = {
    "temperature": {
        "degC": (1.0, 0.0),
        "°C": (1.0, 0.0),
        "degF": (5 / 9, -160 / 9),
        "°F": (5 / 9, -160 / 9),
        "K": (1.0, -273.15),
    },
    "share": {"percent": (0.01, 0.0), "%": (0.01, 0.0)},
    "angle": {"degree_(angle)": (1.0, 0.0), "°": (1.0, 0.0)},
    "speed": {
        "km_h-1": (1 / 3.6, 0.0),
        "km/h": (1 / 3.6, 0.0),
        "m_s-1": (1.0, 0.0),
        "m/s": (1.0, 0.0),
        "kt": (KNOT, 0.0),
        "kn": (KNOT, 0.0),
        "mp/h": (0.44704, 0.0),
        "mi_h-1": (0.44704, 0.0),
    },
    "rain": {"mm": (1.0, 0.0), "inch": (25.4, 0.0), "m": (1000.0, 0.0)},
    "snow": {"mm": (0.001, 0.0), "cm": (0.01, 0.0), "m": (1.0, 0.0), "inch": (0.0254, 0.0)},
    "pressure": {"Pa": (1.0, 0.0), "hPa": (100.0, 0.0)},
    "radiation": {"W/m²": (1.0, 0.0), "W/m2": (1.0, 0.0), "W_m-2": (1.0, 0.0)},
    "length": {"m": (1.0, 0.0), "ft": (0.3048, 0.0)},
}
"""Quantity -> unit as written, without its namespace -> (factor, offset) to SI (temperatures to
degC, rain to mm). Names of the WMO Codes Registry and of Open-Meteo's documentation."""


@dataclass(frozen=True)
class Wanted:
    """A layer: its name in the service, what it is, and the SI range that can be [low, high]."""

    name: str
    quantity: str
    low: float
    high: float


def to_si(value: float, unit: object, wanted: Wanted, service: str) -> float:
    """Return a value in SI; unknown units and impossible values are refused. NaN stays."""
    factor, offset = _factor(unit, wanted, service)
    found = value * factor + offset
    if found == found and not wanted.low <= found <= wanted.high:
        raise ForecastError(
            f"{service}: {wanted.name} of {value:g} {unit} cannot be; the unit or the file is wrong"
        )
    return found


def _factor(unit: object, wanted: Wanted, service: str) -> tuple[float, float]:
    known = _UNITS[wanted.quantity]
    bare = unit.rpartition(":")[2] if isinstance(unit, str) else ""
    if bare not in known:
        raise ForecastError(
            f"{service}: {wanted.name} comes in {str(unit)[:40]!r}, which is none of "
            f"{', '.join(known)}; the service has changed"
        )
    return known[bare]
