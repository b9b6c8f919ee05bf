"""The only conversions and formats in the repository.

Everything inside is SI (temperatures in degC); text with units is read and written here alone.
"""

from hoopwright.units.convert import UNITS, to_si
from hoopwright.units.read import KINDS, UnitError, read
from hoopwright.units.show import METRIC, MONTH_NAMES, US, System, fill, plain_fractions, show

__all__ = [
    "KINDS",
    "METRIC",
    "MONTH_NAMES",
    "UNITS",
    "US",
    "System",
    "UnitError",
    "fill",
    "plain_fractions",
    "read",
    "show",
    "to_si",
]
