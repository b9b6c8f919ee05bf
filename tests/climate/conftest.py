"""Fixtures of the climate tests: one made-up year, its texts, and the folder of real files."""

import os
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import epw_text


@pytest.fixture(scope="session")
def year():
    return epw_text.made_up_year()


@pytest.fixture(scope="session")
def epw(year):
    return epw_text.epw_lines(year)


@pytest.fixture(scope="session")
def tmy3(year):
    return epw_text.tmy3_lines(year)


@pytest.fixture(scope="session")
def shared_weather():
    root = Path(__file__).parents[2]
    folder = Path(os.environ.get("HOOPWRIGHT_SHARED", root.parent / "shared")) / "weather"
    files = sorted(folder.glob("*.epw"))
    if not files:
        pytest.skip(f"no real weather files in {folder} (set HOOPWRIGHT_SHARED)")
    return files
