"""Random plans over the whole schema: each has a design or one clear refusal, nothing absurd.

HOOPWRIGHT_RANDOM_PLANS is how many are drawn; `tests/plan/random_plans.py` says how.
"""

import math
import os
import re

import pytest
from random_plans import random_plan

from hoopwright.answers.claimed import FARTHEST
from hoopwright.answers.data import design_data, order_data
from hoopwright.answers.facts import facts
from hoopwright.answers.findings import finding_words
from hoopwright.answers.ladder_words import ladder_words
from hoopwright.design import design_of
from hoopwright.plan import PlanError, read_plan_text

NUMBER = int(os.environ.get("HOOPWRIGHT_RANDOM_PLANS", "24"))
#: A minus before a number that is no degree of cold, or no number at all.
ABSURD = re.compile(r"(?:^|[ (])[-\u2212]\d(?![^,.;]{0,12}°)|\b(?:nan|inf)\b")
#: What may well be below nothing: across the bed, below the board, a push instead of a pull.
SIGNED = {"x_m", "y_m", "curve_m", "crown_over_board_m", "bulge_m", "demand", "capacity"}
SIGNED |= {"thrust_n", "foot_moment_nm", "crown_moment_nm"}

LOW_BED = """
[bed]
width = "1.79908 m"
courses = 4
[holding]
legs = "sleeve"
"""


@pytest.mark.parametrize("width", ["1.79908 m", "1.8 m"])
def test_a_pipe_too_short_to_clear_the_boards_is_refused(width):
    with pytest.raises(PlanError, match=r"hoops.stock_length: leaves the hoop's crown less than"):
        design_of(read_plan_text(LOW_BED.replace("1.79908 m", width)))


def test_straps_past_the_board_end_are_said_so():
    text = '[hoops]\nfirst_offset = "0 in"\nlast_offset = "0 in"\n'
    found = {one.name: one for one in design_of(read_plan_text(text)).findings}
    assert found["end-distance"].says.startswith("The outermost strap would reach past")


def absurdities(design):
    """Return what no person would believe: below nothing, past what is claimed, no number."""
    said = [fact.says for fact in facts(design)]
    said += [one.says for one in finding_words(design.findings, design.system)]
    said += [str(part) for part in ladder_words(design)]
    found = [words for words in said if ABSURD.search(words)]
    for data in (design_data(design), order_data(design.order)):
        found += [
            f"{name} = {value}"
            for name, value in numbers_in(data)
            if not math.isfinite(value) or (value < 0 and name not in SIGNED)
        ]
    for rung in design_data(design)["first_to_give_way"]:
        most = FARTHEST[rung["hazard"]]
        if not rung["careful"] <= rung["middle"] <= rung["strong"] <= most:
            found.append(f"{rung['name']}: {rung}")
    return found


def numbers_in(data, name=""):
    """Yield every number in plain data with the name that it stands under."""
    if isinstance(data, dict | list):
        for key, part in data.items() if isinstance(data, dict) else ((name, one) for one in data):
            yield from numbers_in(part, key)
    elif isinstance(data, int | float):
        yield name, data


def assert_each_names_its_key(error):
    assert all(problem.key and problem.says for problem in error.problems)


@pytest.mark.parametrize("seed", range(NUMBER))
def test_a_random_plan_is_designed_or_refused(seed):
    text = random_plan(seed)
    try:
        design = design_of(read_plan_text(text))
    except PlanError as error:
        assert_each_names_its_key(error)
        return
    assert absurdities(design) == []
