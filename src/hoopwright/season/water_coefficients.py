"""The crop coefficients and soil stores of FAO Irrigation and Drainage Paper 56.

Water in mm, as the paper has it; wind at 2 m [m/s]; least humidity of the day [-] 0 to 1.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.season.crop_records import CropRange, banded
from hoopwright.tables.reader import Named, numbers, records_of, shipped

Series = NDArray[np.float64]


def stage_curve(
    coefficients: tuple[float, ...], lengths: tuple[float, ...], days: ArrayLike
) -> Series:
    """Return a coefficient [-] on each day after planting; FAO-56 figure 34 and eq. 66.

    coefficients : [-] start, mid-season, end; lengths : [d] of the four stages
    Flat at the start, straight up, flat, straight down; held at the end value afterwards.
    """
    start, middle, end = coefficients
    edges = np.cumsum(lengths)
    return np.interp(
        np.asarray(days, dtype=np.float64),
        [0.0, edges[0], edges[1], edges[2], edges[3]],
        [start, start, middle, middle, end],
    )


def climate_shift(wind: ArrayLike, least_humidity: ArrayLike, height: ArrayLike) -> Series:
    """Return what to add to a coefficient [-] in wind or dry air; FAO-56 eqs. 62, 65 and 70.

    Valid for wind 1 to 6 m/s, humidity 0.20 to 0.80, height 0.1 to 10 m; drawn into that range.
    """
    speed = np.clip(wind, 1.0, 6.0)
    humidity = 100 * np.clip(least_humidity, 0.2, 0.8)
    tall = np.clip(height, 0.1, 10.0)
    return np.asarray((0.04 * (speed - 2) - 0.004 * (humidity - 45)) * (tall / 3) ** 0.3)


def greatest_coefficient(
    basal: ArrayLike, wind: ArrayLike, least_humidity: ArrayLike, height: ArrayLike
) -> Series:
    """Return Kc max [-], all that a wet bed can lose; FAO-56 eq. 72."""
    floor = np.asarray(basal, dtype=np.float64) + 0.05
    return np.maximum(1.2 + climate_shift(wind, least_humidity, height), floor)


def canopy_cover(
    basal: ArrayLike, greatest: ArrayLike, height: ArrayLike, bare: float = 0.15
) -> Series:
    """Return the share of soil in the crop's shade [-]; FAO-56 eq. 76. bare : [-] Kc min."""
    base = np.asarray(basal, dtype=np.float64)
    share = np.clip((base - bare) / np.maximum(np.asarray(greatest) - bare, 0.01), 0.0, 1.0)
    return np.asarray(np.minimum(share ** (1 + 0.5 * np.asarray(height)), 0.99))


def evaporating_share(shade: ArrayLike, wetted: float, drip: bool = False) -> Series:
    """Return few [-], soil both bare and wet; FAO-56 eq. 75.

    wetted : [-] fw, share of the soil that watering wets (table 20: rain and sprinkler 1, drip
    0.3 to 0.4). Under drip the wet spots lie in the shade: FAO-56 takes (1 - 2/3 fc) fw.
    """
    covered = np.asarray(shade, dtype=np.float64)
    wet = (1 - 2 * covered / 3) * wetted if drip else wetted
    return np.clip(np.minimum(1 - covered, wet), 0.01, 1.0)


@dataclass(frozen=True)
class WaterStore:
    """Water that soil can hold.

    field_capacity, wilting_point : [-] by volume
    readily_evaporable            : [mm] lost from the skin before it dries
    skin                          : [m] depth that dries by evaporation, 0.10 to 0.15
    The rest are of FAO-56: 9 mm as of a loam (table 19), the skin by its chapter 7, from memory.
    """

    field_capacity: float
    wilting_point: float
    readily_evaporable: float = 9.0
    skin: float = 0.10

    def __post_init__(self) -> None:
        if not 0 <= self.wilting_point < self.field_capacity <= 1:
            raise ValueError("soil holds more at field capacity than at wilting, between 0 and 1")

    @property
    def evaporable(self) -> float:
        """Return TEW [mm]; FAO-56 eq. 73."""
        return 1000 * (self.field_capacity - 0.5 * self.wilting_point) * self.skin

    def available(self, root_depth: float) -> float:
        """Return TAW [mm] over the root depth [m]; FAO-56 eq. 82."""
        return 1000 * (self.field_capacity - self.wilting_point) * root_depth


def evaporation_reduction(depletion: ArrayLike, store: WaterStore) -> Series:
    """Return Kr [-] at a depletion [mm] of the skin; FAO-56 eq. 74."""
    total, easy = store.evaporable, min(store.readily_evaporable, 0.99 * store.evaporable)
    return np.clip((total - np.asarray(depletion, dtype=np.float64)) / (total - easy), 0.0, 1.0)


def depletion_share(tabled: float, crop_use: ArrayLike) -> Series:
    """Return p [-] at a crop use [mm/d] other than 5; FAO-56 table 22, footnote 2."""
    use = np.asarray(crop_use, dtype=np.float64)
    return np.clip(tabled + 0.04 * (5 - use), 0.1, 0.8)


def stress(depletion: ArrayLike, available: float, share: ArrayLike) -> Series:
    """Return Ks [-], 1 with easy water and 0 at wilting; FAO-56 eq. 84.

    depletion, available : [mm] of the root zone; share : [-] p
    """
    left = available - np.asarray(depletion, dtype=np.float64)
    return np.clip(left / ((1 - np.asarray(share)) * available), 0.0, 1.0)


@dataclass(frozen=True)
class SoilTexture(Named):
    """One texture: water by volume [-] and what the skin gives readily [m]."""

    field_capacity: Annotated[CropRange, numbers("-", 0.03, 0.6)]
    wilting_point: Annotated[CropRange, numbers("-", 0.01, 0.4)]
    readily_evaporable: Annotated[CropRange, numbers("m", 0.001, 0.02)]

    def store(self) -> WaterStore:
        """Return the middle of the table's ranges as a store of water [mm]."""
        return WaterStore(
            self.field_capacity.middle,
            self.wilting_point.middle,
            1000 * self.readily_evaporable.middle,
        )


@lru_cache(maxsize=1)
def soil_kinds() -> Mapping[str, SoilTexture]:
    """Return the textures of FAO-56 table 19 by key."""
    read = banded(("field_capacity", "wilting_point", "readily_evaporable"))
    return {kind.key: kind for kind in records_of(shipped("crop_soil"), SoilTexture, read)}
