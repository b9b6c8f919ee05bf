"""TOML just past each bound is refused before the parser sees it; just within, it is read."""

from pathlib import Path

import pytest

from hoopwright.plan import PlanError, read_plan, read_plan_text
from hoopwright.tables.toml_text import DEEPEST, LARGEST, MOST_DIGITS, MOST_LINES, toml_of


def dotted(parts):
    return ".".join("a" * parts) + " = 1"


@pytest.mark.parametrize(
    ("within", "past", "says"),
    [
        (dotted(DEEPEST), dotted(DEEPEST + 1), "nested too deep"),
        (
            "a = " + "[" * DEEPEST + "]" * DEEPEST,
            "a = " + "[" * (DEEPEST + 1) + "]" * (DEEPEST + 1),
            "nested too deep",
        ),
        ("a = " + "1" * (MOST_DIGITS - 1), "a = " + "1" * MOST_DIGITS, "a number too long"),
        ("a = 1" + "\n" * MOST_LINES, "a = 1" + "\n" * (MOST_LINES + 1), "lines"),
        ("#" * LARGEST, "#" * (LARGEST + 1), "larger than 1 MB"),
        ('a = "b.c.d.e.f.g.h.i.j.k.l [[[[[[[[[["', dotted(40_000), "nested too deep"),
        ("a = 1 # b.c.d.e.f.g.h.i.j.k.l", 'a."b".' * 9 + "c = 1", "nested too deep"),
    ],
)
def test_just_within_and_just_past(within, past, says):
    toml_of(within)
    with pytest.raises(ValueError, match=says):
        toml_of(past)


@pytest.mark.parametrize(
    "text",
    ['"\\"' + '\\"' * 300_000, '"""' + '\\"""' * 200_000, "'" * 999_999, "{" * 999_999],
)
def test_strings_that_never_close_are_passed_over_once(text):
    """A scan that tried each start anew would never end on these."""
    with pytest.raises(ValueError):
        toml_of(text)


def test_a_plan_past_the_bounds_is_refused_in_one_line():
    with pytest.raises(PlanError, match=r"^plan: is nested too deep; that is no plan$"):
        read_plan_text(dotted(40_000))


def test_an_empty_plan_file_is_refused(tmp_path):
    (tmp_path / "bed.toml").write_text(" \n")
    with pytest.raises(PlanError, match="is empty"):
        read_plan(tmp_path / "bed.toml")


def test_a_folder_or_a_pipe_is_no_plan(tmp_path):
    with pytest.raises(PlanError, match="is no file"):
        read_plan(tmp_path)


@pytest.mark.parametrize(
    "line",
    ['years = "1_0"', 'years = "3"', "years = true", "jugs = 2.5"],
)
def test_a_number_is_a_number_and_no_text(line):
    with pytest.raises(PlanError, match=line.split()[0]):
        read_plan_text("[season]\n" + line)


def test_a_switch_is_true_or_false():
    with pytest.raises(PlanError, match=r"hoops\.guys"):
        read_plan_text('[hoops]\nguys = "yes"')


def test_nothing_else_parses_toml_past_the_bounds():
    """But for the writer that keeps comments, which is given what `toml_of` has read."""
    sources = Path(__file__).parents[2] / "src" / "hoopwright"
    found = {
        path.relative_to(sources).as_posix()
        for path in sources.rglob("*.py")
        if "tomllib.load" in path.read_text(encoding="utf-8")
    }
    assert found == {"tables/toml_text.py"}
