"""How a quantity is read off a plot: its unit for the reader, and how many digits are honest."""

from hoopwright.frozen import dataclass
from hoopwright.units import UNITS, System


@dataclass(frozen=True)
class Gauge:
    """A reader's unit: SI = number * factor + offset.

    mark   : the unit as it is written, "°F"
    digits : after the decimal point
    """

    mark: str
    factor: float = 1.0
    offset: float = 0.0
    digits: int = 0

    def number(self, value: float) -> float:
        """Return a value [SI] as a number in the reader's unit."""
        return (value - self.offset) / self.factor

    def value(self, number: float) -> float:
        """Return a number in the reader's unit as a value [SI]."""
        return number * self.factor + self.offset

    def bare(self, value: float) -> str:
        """Return a value [SI] as a number without its unit."""
        text = f"{self.number(value):,.{self.digits}f}"
        return text.lstrip("-") if float(text.replace(",", "")) == 0 else text

    def show(self, value: float) -> str:
        """Return a value [SI] with its unit."""
        return f"{self.bare(value)} {self.mark}"


def _gauge(unit: str, mark: str, digits: int = 0) -> Gauge:
    factor, offset = UNITS[unit]
    return Gauge(mark, factor, offset, digits)


def temperature(system: System) -> Gauge:
    """Return the gauge of a temperature [degC]."""
    return _gauge("degF", "°F") if system.name == "us" else _gauge("degC", "°C")


def temperature_difference(system: System) -> Gauge:
    """Return the gauge of a difference of temperatures [K]."""
    return _gauge("degF diff", "°F", 1) if system.name == "us" else _gauge("K", "°C", 1)


def wind_speed(system: System) -> Gauge:
    """Return the gauge of a wind [m/s]."""
    return _gauge("mph", "mph") if system.name == "us" else _gauge("km/h", "km/h")


def rain(system: System) -> Gauge:
    """Return the gauge of a depth of water [mm]."""
    if system.name == "us":
        return Gauge("in", UNITS["in"][0] / UNITS["mm"][0], digits=1)
    return Gauge("mm")


def daily_radiation() -> Gauge:
    """Return the gauge of a day's sun [kWh/m2], the same for every reader."""
    return Gauge("kWh/m²", digits=1)


def share() -> Gauge:
    """Return the gauge of a share [-], read in per cent."""
    return Gauge("%", 0.01)
