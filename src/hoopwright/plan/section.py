"""What all sections of a plan have in common."""

import os
from typing import Annotated

# Else pydantic asks every package installed for plug-ins, which takes as long as reading a plan.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
from pydantic import BaseModel, ConfigDict, Strict

# Numbers stand bare: a text, as "1_0", is none, and neither is true.
Whole = Annotated[int, Strict()]
Number = Annotated[float, Strict()]
Switch = Annotated[bool, Strict()]


class PlanSection(BaseModel):
    """Common to all sections: unknown keys are refused, nothing changes once read.

    Built when first read, the whole plan at once.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True, defer_build=True)
