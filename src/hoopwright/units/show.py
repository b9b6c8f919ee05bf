"""How a quantity is shown: in tape fractions or millimetres, never more digits than are known."""

from __future__ import annotations

import math
import string
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from hoopwright.frozen import dataclass
from hoopwright.units.convert import FOOT, INCH, UNITS

_SIXTEENTHS = 16
_DRILL_STEPS = 64

MONTH_NAMES = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


@dataclass(frozen=True)
class System:
    """The units a reader uses: "us" or "metric", and the mark of their money."""

    name: str
    currency: str = "$"

    def priced_in(self, currency: str) -> System:
        """Return the same units with money in a currency, by its three letters."""
        return replace(self, currency="$" if currency == "USD" else f"{currency} ")

    @property
    def tape_step(self) -> float:
        """Return the finest mark worth reading on a tape [m]: 1/16 in or 1 mm."""
        return INCH / _SIXTEENTHS if self.name == "us" else 0.001

    @property
    def size_step(self) -> float:
        """Return the step [m] in which sizes are thought of: 3 in or 50 mm."""
        return 0.0762 if self.name == "us" else 0.05

    @property
    def height_step(self) -> float:
        """Return the step [m] of the heights at which a width is told: 1 ft or 0.3 m."""
        return FOOT if self.name == "us" else 0.3

    def rounded_size(self, value: float) -> float:
        """Return the handy size [m] that is nearest to a length [m]."""
        return round(value / self.size_step) * self.size_step

    def written_length(self, value: float) -> str:
        """Return a length [m] as a plan writes it, so that it reads back as the same."""
        return f"{value / INCH:.9g} in" if self.name == "us" else f"{value * 1000:.9g} mm"

    def on_tape(self, value: float) -> float:
        """Return the mark of a tape [m] that is nearest to a length [m]."""
        return round(value / self.tape_step) * self.tape_step


US = System("us")
METRIC = System("metric")


def plain_fractions(inches: float) -> str:
    """Return inches as a tape shows them: "37 1/2", "3/16", "48"."""
    sixteenths = round(abs(inches) * _SIXTEENTHS)
    whole, part = divmod(sixteenths, _SIXTEENTHS)
    sign = "-" if inches < 0 and sixteenths else ""
    if not part:
        return f"{sign}{whole}"
    shared = math.gcd(part, _SIXTEENTHS)
    fraction = f"{part // shared}/{_SIXTEENTHS // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def _significant(value: float, digits: int = 2) -> str:
    """Return a rough value with so many significant figures and no exponent."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "no limit"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    places = max(0, digits - 1 - math.floor(math.log10(abs(rounded)))) if rounded else 0
    return f"{rounded:,.{places}f}"


def _tape(value: float, system: System) -> str:
    if system.name == "us":
        return f"{plain_fractions(value / INCH)} in"
    return f"{round(value * 1000)} mm"


def _length(value: float, system: System) -> str:
    """Feet and inches from 4 ft up, inches below; millimetres, or metres from 10 m up."""
    if system.name == "us":
        sixteenths = round(abs(value) / INCH * _SIXTEENTHS)
        if sixteenths < 48 * _SIXTEENTHS:
            return _tape(value, system)
        feet, rest = divmod(sixteenths, 12 * _SIXTEENTHS)
        sign = "-" if value < 0 else ""
        inches = f" {plain_fractions(rest / _SIXTEENTHS)} in" if rest else ""
        return f"{sign}{feet} ft{inches}"
    return f"{value:.2f} m" if abs(value) >= 9.9995 else f"{round(value * 1000)} mm"


def _size(value: float, system: System) -> str:
    """A length sold by the whole or half unit: stock, rolls."""
    if system.name == "us":
        feet = value / FOOT
        near = round(feet * 2) / 2
        if abs(feet - near) < 0.02 and feet >= 2:
            return f"{near:g} ft"
        return _tape(value, system)
    return (
        f"{value:.2f}".rstrip("0").rstrip(".") + " m" if value >= 1 else f"{round(value * 1000)} mm"
    )


#: kind: (unit and its mark in US customary, the same in metric, significant figures)
_ROUGH: dict[str, tuple[tuple[str, str], tuple[str, str], int]] = {
    "force": (("lbf", "lb"), ("N", "N"), 2),
    "moment": (("lbf in", "in-lb"), ("N m", "N m"), 2),
    "line load": (("lbf/ft", "lb/ft"), ("N/m", "N/m"), 2),
    "pressure": (("psf", "psf"), ("Pa", "Pa"), 2),
    "stress": (("psi", "psi"), ("MPa", "MPa"), 2),
    "modulus": (("ksi", "ksi"), ("GPa", "GPa"), 2),
    "mass": (("lb", "lb"), ("kg", "kg"), 2),
    "density": (("pcf", "lb/cu ft"), ("kg/m3", "kg/m3"), 2),
    "area": (("ft2", "sq ft"), ("m2", "m2"), 3),
    "volume": (("gal", "gal"), ("L", "L"), 2),
    "thickness": (("mil", "mil"), ("um", "µm"), 2),
    "area weight": (("oz/yd2", "oz/sq yd"), ("g/m2", "g/m2"), 2),
    "energy": (("ft lbf", "ft-lb"), ("J", "J"), 2),
    "share": (("%", " %"), ("%", " %"), 2),
    "irradiance": (("W/m2", "W/m2"), ("W/m2", "W/m2"), 2),
}


def _rough(value: float, kind: str, system: System) -> str:
    us, metric, digits = _ROUGH[kind]
    unit, mark = us if system.name == "us" else metric
    factor, offset = UNITS[unit]
    text = _significant((value - offset) / factor, digits)
    return text if text == "no limit" else f"{text} {mark.strip()}"


def _depth(value: float, system: System) -> str:
    """A depth of snow, as far as it is known.

    No finer than a quarter of an inch below 1 in, then halves, then wholes; in metric half a
    centimetre below 2.5 cm, then wholes, fives from 25 cm and tens from 1 m.
    """
    if not math.isfinite(value):
        return "no limit"
    if system.name != "us":
        step = 0.5 if value < 0.025 else 1.0 if value < 0.25 else 5.0 if value < 1.0 else 10.0
        return f"{round(value * 100 / step) * step:g} cm"
    inches = value / INCH
    step = 0.25 if inches < 0.9 else 0.5 if inches < 9.9 else 1.0
    return f"{plain_fractions(round(inches / step) * step)} in"


def _speed(value: float, system: System) -> str:
    """Two significant figures, but fives from 100 up: 115 mph is a gust of the wind maps."""
    unit, mark = _SPEED[system.name]
    shown = value / UNITS[unit][0]
    if not math.isfinite(shown) or shown < 99.5:
        text = _significant(shown)
        return text if text == "no limit" else f"{text} {mark}"
    return f"{round(shown / 5) * 5} {mark}"


_SPEED = {"us": ("mph", "mph"), "metric": ("km/h", "km/h")}


def _temperature(value: float, system: System) -> str:
    if system.name == "us":
        return f"{round(value * 9 / 5 + 32)} °F"
    return f"{round(value)} °C"


def _temperature_difference(value: float, system: System) -> str:
    if system.name == "us":
        return f"{value * 9 / 5:z.1f} °F"
    return f"{value:z.1f} °C"


def _elevation(value: float, system: System) -> str:
    return f"{value / FOOT:,.0f} ft" if system.name == "us" else f"{value:,.0f} m"


def _degree_days(value: float, system: System) -> str:
    return f"{value * 9 / 5:.0f} °F d" if system.name == "us" else f"{value:.0f} °C d"


def _water(value: float, system: System) -> str:
    """A depth of water that fell or was used."""
    return f"{value / INCH:.0f} in" if system.name == "us" else f"{value * 1000:.0f} mm"


def _drill_bit(diameter: float, system: System) -> str:
    """The bit nearest a hole by its name in the rack: 64ths of an inch, or half millimetres."""
    if system.name == "us":
        return f"{Fraction(round(diameter / INCH * _DRILL_STEPS), _DRILL_STEPS)} in"
    return f"{round(diameter * 2000) / 2:g} mm"


def _clock(hours: float, system: System) -> str:
    """A time of day from hours after midnight: "7:30 pm" or "19:30"."""
    hour, minute = divmod(round(hours * 60), 60)
    if system.name == "us":
        return f"{hour % 12 or 12}:{minute:02d} {'am' if hour % 24 < 12 else 'pm'}"
    return f"{hour}:{minute:02d}"


def _hour(hours: float, system: System) -> str:
    """A time of day in as few words as it takes: "noon", "7 pm", "7:30 pm", or "19:00"."""
    said = _clock(hours, system)
    words = {"12:00 pm": "noon", "12:00 am": "midnight"}
    return words.get(said, said.replace(":00 ", " "))


_FORMATS: dict[str, Callable[[float, System], str]] = {
    "length": _length,
    "tape": _tape,
    "whole length": lambda value, system: (
        f"{value / INCH:.0f} in" if system.name == "us" else _tape(value, system)
    ),
    "size": _size,
    "depth": _depth,
    "speed": _speed,
    "given speed": lambda value, system: (
        f"{value / UNITS[_SPEED[system.name][0]][0]:.0f} {_SPEED[system.name][1]}"
    ),
    "temperature": _temperature,
    "temperature difference": _temperature_difference,
    "elevation": _elevation,
    "degree days": _degree_days,
    "water": _water,
    "drill bit": _drill_bit,
    "clock": _clock,
    "hour": _hour,
    "strain": lambda value, system: f"{_significant(value * 100)} %",
    "money": lambda value, system: f"{'-' if value < 0 else ''}{system.currency}{abs(value):,.2f}",
    "angle": lambda value, system: f"{value:.0f}°",
    "count": lambda value, system: f"{value:,.0f}",
    "hours": lambda value, system: f"{_significant(value / 3600)} h",
    "number": lambda value, system: _significant(value, 3),
}


def show(value: float, kind: str, system: System = US) -> str:
    """Return a quantity as text in the reader's units.

    value : in SI (temperatures in degC, angles in degrees)
    kind  : "length" (feet and inches or mm), "tape" (inches only), "size" (stock sizes), another
            name in _FORMATS, or a name in _ROUGH
    """
    own = _FORMATS.get(kind)
    return own(value, system) if own else _rough(value, kind, system)


class _Filler(string.Formatter):
    """Fills "{name:kind}" with the shown quantity, and "{name}" with plain text."""

    def __init__(self, system: System) -> None:
        self._system = system

    def format_field(self, value: Any, format_spec: str) -> str:
        if not format_spec:
            return str(value)
        return show(float(value), format_spec, self._system)


def fill(template: str, values: Mapping[str, float | str], system: System = US) -> str:
    """Return a sentence with its quantities shown in the reader's units.

    template : text with fields "{name:kind}" (a quantity of show's kinds) or "{name}" (text)
    values   : the fields, quantities in SI
    """
    return _Filler(system).vformat(template, (), values)
