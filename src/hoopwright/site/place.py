"""The place of the bed and the ground around it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Exposure = Literal["town", "open", "shore"]


@dataclass(frozen=True)
class Site:
    """Where the bed stands.

    latitude, longitude : [deg], north and east positive; None where the plan leaves them open
    elevation           : [m] above sea level, or None
    exposure            : "town" (close obstacles), "open" (scattered obstacles) or "shore" (open
                          water or flats upwind): the B, C and D of the wind standard
    """

    name: str
    latitude: float | None
    longitude: float | None
    elevation: float | None
    exposure: Exposure
