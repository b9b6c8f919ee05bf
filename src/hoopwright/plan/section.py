"""What all sections of a plan have in common."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Strict

# Numbers stand bare: a text, as "1_0", is none, and neither is true.
Whole = Annotated[int, Strict()]
Number = Annotated[float, Strict()]
Switch = Annotated[bool, Strict()]


class PlanSection(BaseModel):
    """Common to all sections: unknown keys are refused, nothing changes once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True)
