"""Hoopwright: design, check, cut, price and build covered raised beds.

from hoopwright import design_of, read_plan
design_of(read_plan("bed.toml")).findings
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hoopwright.design import Design, design_of
    from hoopwright.plan import PlanError, read_plan

__all__ = ["Design", "PlanError", "design_of", "read_plan"]

# The rooms are reached on first use, so that `hoopwright --help` pays for none of them.
_HOMES = {
    "Design": "hoopwright.design",
    "PlanError": "hoopwright.plan",
    "design_of": "hoopwright.design",
    "read_plan": "hoopwright.plan",
}


def __getattr__(name: str) -> Any:
    """Return a public name from the room it lives in."""
    if name not in _HOMES:
        raise AttributeError(f"module 'hoopwright' has no attribute '{name}'")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
