"""How much water soils hold, by texture."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.season.crop_records import CropRange, banded
from hoopwright.season.water_coefficients import WaterStore
from hoopwright.tables.reader import Named, numbers, records_of, shipped


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
