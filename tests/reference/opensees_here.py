"""OpenSees for the tests that compare with it, or a clear word why they are skipped."""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

import pytest


def modelled(name: str) -> ModuleType:
    """Return a model of ours in OpenSees; skips the test file where OpenSees does not load."""
    try:
        return import_module(name)
    except (ImportError, RuntimeError) as problem:
        pytest.skip(
            f"OpenSees is not here (openseespy for 64-bit Linux, libblas3, liblapack3): {problem}",
            allow_module_level=True,
        )
