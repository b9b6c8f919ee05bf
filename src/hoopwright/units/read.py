"""Quantities as a person writes them: "12 ft", "11 1/4 in", "3' 6\\"", "0.9 m", "6 mil"."""

import re
from fractions import Fraction

from hoopwright.frozen import dataclass
from hoopwright.units.convert import to_si


class UnitError(ValueError):
    """A quantity that cannot be read; the message says which forms are accepted."""


@dataclass(frozen=True)
class QuantityKind:
    """One kind of quantity: its units by every accepted spelling, and examples to show."""

    name: str
    units: dict[str, str]
    examples: tuple[str, ...]
    compound: bool = False


def _spellings(table: dict[str, str]) -> dict[str, str]:
    return {word: unit for unit, words in table.items() for word in words.split()}


_LENGTH = _spellings(
    {
        "ft": "ft foot feet '",
        "in": 'in inch inches "',
        "mil": "mil mils",
        "m": "m metre metres meter meters",
        "cm": "cm",
        "mm": "mm",
        "um": "um µm μm micron microns",
        "yd": "yd yard yards",
    }
)

KINDS: dict[str, QuantityKind] = {
    kind.name: kind
    for kind in (
        QuantityKind(
            "length", _LENGTH, ("12 ft", "11 1/4 in", "3' 6\"", "0.9 m", "40 mm"), compound=True
        ),
        QuantityKind("thickness", _LENGTH, ("6 mil", "150 um", "0.15 mm")),
        QuantityKind(
            "elevation",
            _spellings({"ft": "ft foot feet", "m": "m metre metres meter meters"}),
            ("6700 ft", "2040 m"),
        ),
        QuantityKind(
            "temperature",
            _spellings({"degF": "F °F degF", "degC": "C °C degC"}),
            ("40 F", "-5 C"),
        ),
        QuantityKind(
            "temperature difference",
            _spellings({"degF diff": "F °F degF", "K": "C °C degC K"}),
            ("3 F", "2 C"),
        ),
        QuantityKind(
            "speed",
            _spellings({"mph": "mph", "m/s": "m/s", "km/h": "km/h kph kmh", "kn": "kn kt knots"}),
            ("90 mph", "40 m/s", "145 km/h"),
        ),
        QuantityKind(
            "pressure",
            _spellings({"psf": "psf", "kPa": "kPa", "Pa": "Pa", "psi": "psi"}),
            ("20 psf", "1 kPa"),
        ),
        QuantityKind(
            "force",
            _spellings({"lbf": "lb lbs lbf pound pounds", "N": "N", "kN": "kN", "kgf": "kg kgf"}),
            ("40 lb", "180 N", "18 kg"),
        ),
        QuantityKind(
            "area weight",
            _spellings({"oz/yd2": "oz/yd2 oz/yd² oz", "g/m2": "g/m2 g/m² gsm"}),
            ("0.9 oz/yd2", "30 g/m2"),
        ),
        QuantityKind(
            "latitude",
            {"N": "deg", "S": "-deg", "deg": "deg", "°": "deg"},
            ("44.2 N", "-36.8 deg"),
        ),
        QuantityKind(
            "longitude",
            {"E": "deg", "W": "-deg", "deg": "deg", "°": "deg"},
            ("108.9 W", "7.5 E"),
        ),
        QuantityKind(
            "angle",
            {"deg": "deg", "°": "deg", "degrees": "deg"},
            ("90 deg", "15 deg"),
        ),
        QuantityKind("share", {"%": "%", "percent": "%"}, ("20 %", "50 %")),
        QuantityKind(
            "volume",
            _spellings({"gal": "gal gallon gallons", "L": "L l litre litres liter liters"}),
            ("1 gal", "4 L"),
        ),
        QuantityKind("time", {"years": "yr", "year": "yr", "yr": "yr"}, ("5 years",)),
    )
}

_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
_MARKS = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "“": '"', "−": "-", "⁄": "/"})
_NUMBER = r"(?:\d+[ -]+\d+/\d+|\d+/\d+|\d*\.\d+|\d+\.?)"
_TERM = re.compile(
    rf"\s*({_NUMBER})\s*([^\d\s.,+-][^\s\d]*(?:(?<=/yd)2|(?<=/m)2)?)\s*,?", re.UNICODE
)


def read(text: object, kind: str) -> float:
    """Return the quantity in SI (temperatures in degC, angles in degrees).

    text : as a person writes it, a number with a unit; lengths may be compound ("3 ft 6 in")
    kind : a name in KINDS

    Raises UnitError with the accepted forms for anything else; a bare number is refused, since
    a bare "12" has meant feet to one reader and inches to the next.
    """
    wanted = KINDS[kind]
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise UnitError(f"is not a {kind}; {_write(wanted)}")
    if not isinstance(text, str):
        raise UnitError(f"{text} has no unit; {_write(wanted)}")
    if len(text) > 60:
        raise UnitError(f"is too long for a {kind}; {_write(wanted)}")
    body, negative = _tidy(text)
    total, position, terms = 0.0, 0, 0
    previous = ""
    while position < len(body):
        term = _TERM.match(body, position)
        if term is None:
            raise UnitError(_complaint(text, body, wanted))
        unit = wanted.units.get(term[2]) or wanted.units.get(term[2].lower())
        if unit is None:
            raise UnitError(
                f'"{text}" has the unit "{term[2]}", which is no {kind}; {_write(wanted)}'
            )
        if terms and (not wanted.compound or (previous, unit) != ("ft", "in")):
            raise UnitError(f'"{text}" is not one {kind}; {_write(wanted)}')
        sign = -1.0 if unit.startswith("-") else 1.0
        total += sign * to_si(
            _number(term[1], text, wanted) * (-1 if negative else 1), unit.lstrip("-")
        )
        previous, position, terms = unit, term.end(), terms + 1
    if not terms:
        raise UnitError(f"is empty; {_write(wanted)}")
    return total


def _tidy(text: str) -> tuple[str, bool]:
    body = text.strip().translate(_MARKS)
    for vulgar, plain in _VULGAR.items():
        body = body.replace(vulgar, f" {plain}")
    body = body.strip()
    negative = body.startswith("-")
    return body.lstrip("-+ ") if negative or body.startswith("+") else body, negative


def _number(text: str, whole: str, wanted: QuantityKind) -> float:
    parts = re.split(r"[ -]+", text)
    try:
        return float(sum(Fraction(part) for part in parts))
    except (ValueError, ZeroDivisionError):
        raise UnitError(f'"{whole}" is no number; {_write(wanted)}') from None


def _complaint(text: str, body: str, wanted: QuantityKind) -> str:
    if re.fullmatch(_NUMBER, body):
        return f'"{text}" has no unit; {_write(wanted)}'
    return f'"{text}" cannot be read as a {wanted.name}; {_write(wanted)}'


def _write(kind: QuantityKind) -> str:
    return "write it like " + ", ".join(f"'{example}'" for example in kind.examples)
