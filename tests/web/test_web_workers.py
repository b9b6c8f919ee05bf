"""Processes that work: what runs too long is ended, what fails is told, and others take over."""

import pytest

from hoopwright.web import work_kinds
from hoopwright.web.beside import read_here
from hoopwright.web.processes import Processes, TooLong, WorkFailed

PLAN = read_here(work_kinds.example_text()).plan


@pytest.fixture
def workers():
    made = Processes(1, 120.0)
    yield made
    made.close()


def test_too_long_is_ended_and_the_next_task_is_done(workers):
    workers.ask("order", PLAN)
    with pytest.raises(TooLong):
        workers.ask("sheet", work_kinds.example_text(), None, "pdf", None, seconds=0.001)
    assert workers.ask("order", PLAN).total > 0


def test_a_task_that_fails_says_so_and_the_process_goes_on(workers):
    with pytest.raises(WorkFailed, match="PlanError"):
        workers.ask("drawings", "name = 1")
    assert workers.ask("order", PLAN).total > 0


def test_a_process_that_dies_is_replaced(workers):
    next(iter(workers._all)).process.kill()
    with pytest.raises(WorkFailed):
        workers.ask("order", PLAN)
    assert workers.ask("order", PLAN).total > 0
