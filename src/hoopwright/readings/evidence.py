"""What the readings at a bed show: measured, modelled over the same hours, and fitted if asked."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from hoopwright.design import design_of
from hoopwright.frozen import dataclass
from hoopwright.heat.compiled import compiled_march
from hoopwright.plan.read import ReadPlan
from hoopwright.readings.against import Modelled, modelled, setting_of, unfitted, weather_over
from hoopwright.readings.fit import Fit, Tell, fit
from hoopwright.readings.hourly import Hours
from hoopwright.readings.measured import Measured, measured
from hoopwright.readings.text import ReadingsError


@dataclass(frozen=True)
class BedReadings:
    """One bed of a report: its name, what was measured, and the model where it was run."""

    name: str
    measured: Measured
    modelled: Modelled | None


def read_at(read: ReadPlan, hours: Hours, weather: Path | None = None) -> BedReadings:
    """Return what readings at a bed show, and the model over the same hours.

    weather : hourly weather of that very time. Raises ReadingsError where no night has both.
    """
    own = measured(hours)
    if own is None:
        raise ReadingsError(
            "no night has readings inside and outside both; add the other sensor's file"
        )
    over, typical = weather_over(read, hours, weather)
    found = modelled(setting_of(design_of(read), over, None), hours, typical)
    return BedReadings(read.plan.name, own, found)


def fitted_to(
    read: ReadPlan, hours: Hours, weather: Path | None = None, tell: Tell | None = None
) -> Fit:
    """Return the model's numbers fitted to the readings, as if none had been before.

    Raises ReadingsError where there are too few, or SciPy is missing.
    """
    over, _ = weather_over(read, hours, weather)
    bare = setting_of(design_of(unfitted(read)), over, compiled_march())
    return fit(bare, np.where(hours.both, hours.inside, np.nan), tell=tell)
