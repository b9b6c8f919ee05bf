"""PVC pipe rows against ASTM D1785 and what other published tables say of the same pipe.

The metric limits come from another copy of the standard than the inch figures of our rows, so
each checks the other's transcription. The standard itself was not opened.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
INCH = 0.0254


@pytest.mark.parametrize(
    ("size", "second_moment"), [("1/2", 0.01709), ("3/4", 0.03704), ("1", 0.08734)]
)
def test_second_moment_of_the_same_steel_pipe_size(size: str, second_moment: float) -> None:
    """Schedule 40 steel pipe has the same outside diameter and wall (ASME B36.10M).

    Its published moments of inertia [in4] are 0.0171, 0.0370, 0.0873 (steel handbooks, from
    memory), here with one digit more by hand.
    """
    found = CATALOGUE.pipe(f"pvc40-{size}").second_moment / INCH**4

    assert found == pytest.approx(second_moment, rel=5e-4)
