"""Random plans over the whole schema: each has a design or one clear refusal, nothing absurd.

HOOPWRIGHT_RANDOM_PLANS is how many are drawn; `tests/plan/random_plans.py` says how.
"""

import os
import re

import pytest
from random_plans import random_plan

from hoopwright.answers.data import design_data
from hoopwright.answers.facts import facts
from hoopwright.answers.findings import finding_words
from hoopwright.answers.ladder_words import ladder_words
from hoopwright.design import design_of
from hoopwright.plan import PlanError, read_plan_text

NUMBER = int(os.environ.get("HOOPWRIGHT_RANDOM_PLANS", "24"))
ABSURD = re.compile(r"(?<![a-z\d]) -\d|\bnan\b|\binf\b")

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
    design_data(design)
    said = [fact.says for fact in facts(design)]
    said += [one.says for one in finding_words(design.findings, design.system)]
    said += [str(part) for part in ladder_words(design)]
    assert [words for words in said if ABSURD.search(words)] == []
