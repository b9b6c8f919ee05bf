"""A crop under a cover that is run one way from the first day to the last."""

from hoopwright.season.bed_years import Digest
from hoopwright.season.crop_days import Habits, crop_days
from hoopwright.season.crops import Crop
from hoopwright.season.losses import Fates, fates_of


def fates(crop: Crop, digest: Digest, habits: Habits | None = None) -> Fates:
    """Return what became of the crop, started on every day of every year."""
    how = habits or Habits()
    days = crop_days(crop, digest, how)
    return fates_of(crop, days, days, how)
