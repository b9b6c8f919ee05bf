"""The bent pipe: its curve, its stations along the bed, its limits."""

from hoopwright.hoop.outline import Outline
from hoopwright.hoop.shape import Hoop, hoop_of, leg_lift, leg_span, narrowest_span
from hoopwright.hoop.stations import HoopStation, bays, stations, widest_bay, working_bay

__all__ = [
    "Hoop",
    "HoopStation",
    "Outline",
    "bays",
    "hoop_of",
    "leg_lift",
    "leg_span",
    "narrowest_span",
    "stations",
    "widest_bay",
    "working_bay",
]
