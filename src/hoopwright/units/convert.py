"""Conversion factors to SI, one row a unit.

Source of every factor: NIST Special Publication 811 (2008), appendix B (exact definitions of
the inch, pound, and standard gravity; the rest follow from them).
"""

INCH = 0.0254
FOOT = 12 * INCH
YARD = 3 * FOOT
POUND = 0.45359237
STANDARD_GRAVITY = 9.80665
POUND_FORCE = POUND * STANDARD_GRAVITY
PSI = POUND_FORCE / INCH**2

#: unit: (factor, offset), so that SI = value * factor + offset
UNITS: dict[str, tuple[float, float]] = {
    "-": (1.0, 0.0),
    "%": (0.01, 0.0),
    "count": (1.0, 0.0),
    "USD": (1.0, 0.0),
    # length
    "m": (1.0, 0.0),
    "cm": (0.01, 0.0),
    "mm": (0.001, 0.0),
    "um": (1e-6, 0.0),
    "km": (1000.0, 0.0),
    "in": (INCH, 0.0),
    "ft": (FOOT, 0.0),
    "yd": (YARD, 0.0),
    "mi": (5280 * FOOT, 0.0),
    "mil": (INCH / 1000, 0.0),
    # area, volume, second moment of area
    "m2": (1.0, 0.0),
    "mm2": (1e-6, 0.0),
    "in2": (INCH**2, 0.0),
    "ft2": (FOOT**2, 0.0),
    "m3": (1.0, 0.0),
    "L": (0.001, 0.0),
    "gal": (231 * INCH**3, 0.0),
    "ft3": (FOOT**3, 0.0),
    "mm4": (1e-12, 0.0),
    "in4": (INCH**4, 0.0),
    # mass and mass shared over length, area, volume
    "kg": (1.0, 0.0),
    "g": (0.001, 0.0),
    "lb": (POUND, 0.0),
    "oz": (POUND / 16, 0.0),
    "kg/m": (1.0, 0.0),
    "g/m": (0.001, 0.0),
    "lb/ft": (POUND / FOOT, 0.0),
    "kg/m2": (1.0, 0.0),
    "g/m2": (0.001, 0.0),
    "oz/yd2": (POUND / 16 / YARD**2, 0.0),
    "kg/m3": (1.0, 0.0),
    "g/cm3": (1000.0, 0.0),
    "pcf": (POUND / FOOT**3, 0.0),
    # force and what is made of it
    "N": (1.0, 0.0),
    "kN": (1000.0, 0.0),
    "lbf": (POUND_FORCE, 0.0),
    "kgf": (STANDARD_GRAVITY, 0.0),
    "N m": (1.0, 0.0),
    "N m2": (1.0, 0.0),
    "lbf in": (POUND_FORCE * INCH, 0.0),
    "N/m": (1.0, 0.0),
    "kN/m": (1000.0, 0.0),
    "lbf/in": (POUND_FORCE / INCH, 0.0),
    "lbf/ft": (POUND_FORCE / FOOT, 0.0),
    "Pa": (1.0, 0.0),
    "hPa": (100.0, 0.0),
    "kPa": (1000.0, 0.0),
    "MPa": (1e6, 0.0),
    "GPa": (1e9, 0.0),
    "psf": (POUND_FORCE / FOOT**2, 0.0),
    "psi": (PSI, 0.0),
    "ksi": (1000 * PSI, 0.0),
    "J": (1.0, 0.0),
    "ft lbf": (POUND_FORCE * FOOT, 0.0),
    # speed, time, angle
    "m/s": (1.0, 0.0),
    "km/h": (1 / 3.6, 0.0),
    "mph": (5280 * FOOT / 3600, 0.0),
    "kn": (1852 / 3600, 0.0),
    "s": (1.0, 0.0),
    "min": (60.0, 0.0),
    "h": (3600.0, 0.0),
    "d": (86400.0, 0.0),
    "month": (365.25 * 86400.0 / 12, 0.0),
    "yr": (365.25 * 86400.0, 0.0),
    "deg": (1.0, 0.0),
    # temperature: degC is the inner unit
    "degC": (1.0, 0.0),
    "degF": (5 / 9, -32 * 5 / 9),
    "K": (1.0, 0.0),  # a difference
    "degF diff": (5 / 9, 0.0),
    "1/K": (1.0, 0.0),
    "1/degF": (9 / 5, 0.0),
    # heat and light
    "W/m2": (1.0, 0.0),
    "W/m2K": (1.0, 0.0),
    "W/mK": (1.0, 0.0),
    "J/kgK": (1.0, 0.0),
    "J/m3K": (1.0, 0.0),
    "MJ/m3K": (1e6, 0.0),
    "s/m": (1.0, 0.0),
    "mm water": (1.0, 0.0),
}
UNITS["F"] = UNITS["degF"]
UNITS["C"] = UNITS["degC"]
UNITS["1/F"] = UNITS["1/degF"]
UNITS["lb/ft3"] = UNITS["pcf"]


def to_si(value: float, unit: str) -> float:
    """Return a value in the inner unit of its kind (SI; temperatures in degC).

    unit : one of UNITS. Raises KeyError for any other.
    """
    factor, offset = UNITS[unit]
    return value * factor + offset
