"""The plans that every view is drawn for, in both unit systems."""

from pathlib import Path

import pytest

from hoopwright.design import design_of
from hoopwright.drawing.views import layouts
from hoopwright.plan.read import read_plan_text

PLANS = sorted((Path(__file__).parent / "plans").glob("*.toml"))
PAPER = (0.180, 0.215)


@pytest.fixture(scope="session", params=[(p, u) for p in PLANS for u in ("us", "metric")], ids=str)
def drawn(request):
    """Return a design and all its views, laid out for a letter or A4 page."""
    path, system = request.param
    design = design_of(read_plan_text(f'units = "{system}"\n' + path.read_text("utf-8")))
    return design, {layout.view.name: layout for layout in layouts(design, *PAPER)}
