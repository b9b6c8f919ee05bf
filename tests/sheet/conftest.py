"""The beds to write sheets for, each in turn or all by name."""

from __future__ import annotations

import pytest
from plans_to_print import PLANS, design, document

from hoopwright.design import Design
from hoopwright.sheet import Document


@pytest.fixture(params=sorted(PLANS))
def bed(request: pytest.FixtureRequest) -> str:
    """Name each plan in turn."""
    return str(request.param)


@pytest.fixture
def a_design(bed: str) -> Design:
    """Give each design in turn."""
    return design(bed)


@pytest.fixture
def a_sheet(bed: str) -> Document:
    """Give each sheet in turn."""
    return document(bed)


@pytest.fixture
def demo() -> Document:
    """Give the sheet of the shipped demo plan."""
    return document("demo")


@pytest.fixture
def sheets() -> dict[str, Document]:
    """Give every sheet by the name of its plan."""
    return {name: document(name) for name in PLANS}


@pytest.fixture
def designs() -> dict[str, Design]:
    """Give every design by the name of its plan."""
    return {name: design(name) for name in PLANS}
