"""The flow from a plan to everything worked out from it, each thing once."""

from hoopwright.design.flow import Design, design_of

__all__ = ["Design", "design_of"]
