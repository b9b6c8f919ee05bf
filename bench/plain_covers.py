"""Plain outlines and covers for benchmarks and tests, that no plan asks for."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin

from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.tables.catalogue import Catalogue


def half_ellipse(
    width: float, rise: float, rim: float = 0.0, strips: int = 10
) -> tuple[tuple[float, float], ...]:
    """[m] points of a half ellipse from rim to rim: a plain stand-in for the bent hoop's curve."""
    return tuple(
        (
            width / 2.0 * (1.0 - cos(radians(180.0 * i / strips))),
            rim + rise * sin(radians(180.0 * i / strips)),
        )
        for i in range(strips + 1)
    )


def cover_optics(key: str, age_factor: float = 1.0) -> CoverOptics:
    """Optics of a cover by its key in the shipped catalogue."""
    return optics_of(Catalogue().cover(key), age_factor)


def perforated(optics: CoverOptics, share: float) -> CoverOptics:
    """The same cover with holes over `share` [-] of its area."""
    return replace(optics, name=f"{optics.name}, perforated", open_share=share)
