"""The table of bounds says what the code holds to; a file just over a bound is refused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hoopwright.climate.forecast import http
from hoopwright.programme import class_file, variants
from hoopwright.readings import text as logger_text
from hoopwright.readings.recognise import read_logger
from hoopwright.tables import overlay, toml_text
from hoopwright.web.settings import ServerLimits

PAGE = Path(__file__).parents[2] / "docs" / "guide" / "bounds.md"
SERVER = ServerLimits()
TOML = "plan, class or list in TOML"
HELD = {
    (TOML, "letters"): toml_text.LARGEST,
    (TOML, "lines"): toml_text.MOST_LINES,
    (TOML, "keys and brackets within each other"): toml_text.DEEPEST,
    (TOML, "digits of a number, less than"): toml_text.MOST_DIGITS,
    ("class", "beds"): class_file.MOST_BEDS,
    ("class", "letters of its name"): class_file.LONGEST_NAME,
    ("own list", "bytes"): overlay.LARGEST,
    ("own list", "rows"): overlay.MOST_ROWS,
    ("logger's file", "bytes"): logger_text.LARGEST,
    ("forecast of a service", "bytes"): http.LARGEST,
    ("`compare --try`", "plans"): variants.MOST_VARIANTS,
    ("one request to the server", "bytes"): SERVER.upload,
    ("weather file to the server", "bytes"): SERVER.weather,
    ("work that a page waits for", "seconds"): SERVER.seconds,
    ("a job", "seconds"): SERVER.job_seconds,
    ("saved plans", "of one visitor"): SERVER.plans,
    ("jobs waiting", "of one visitor"): SERVER.jobs,
    ("tries of a join code", "a minute from one address"): SERVER.joins,
}


def test_the_table_is_what_is_held() -> None:
    rows = re.findall(r"^\| (.+?) \| (.+?) \| (\d+) \|$", PAGE.read_text("utf-8"), re.MULTILINE)
    assert {(what, of): float(most) for what, of, most in rows} == HELD


BED = "[[beds]]\nhousehold = 'H'\n"
LIST = "thing,sold as,length [ft],width [ft],count [-],price [USD],date,example\n"


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("class.toml", BED * (class_file.MOST_BEDS + 1), "200"),
        ("class.toml", f"name = '{'a' * (class_file.LONGEST_NAME + 1)}'\n{BED}", "longer than 80"),
        ("class.toml", "#" * (toml_text.LARGEST + 1), "larger than 1 MB"),
        ("own.csv", LIST + "x" * overlay.LARGEST, "larger than"),
        ("own.csv", LIST + "pvc40-1/2,stick,10,,,4,2026-10,no\n" * 2001, "more than 2000"),
        ("logger.csv", None, "larger than 50 MB"),
    ],
)
def test_just_over_is_refused_in_words(
    tmp_path: Path, name: str, text: str | None, says: str
) -> None:
    path = tmp_path / name
    if text is None:
        with open(path, "wb") as hollow:
            hollow.truncate(logger_text.LARGEST + 1)
    else:
        path.write_text(text, encoding="utf-8")
    read = {
        "class.toml": class_file.read_class,
        "own.csv": lambda file: overlay.overlay_rows(file, ("price",), "price"),
        "logger.csv": read_logger,
    }[name]
    with pytest.raises(ValueError, match=says):
        read(path)
