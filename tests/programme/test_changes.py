"""Changes are whole new designs: what they claim is what building them gives."""

import pytest

from hoopwright.answers.ladder_words import change_words
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text
from hoopwright.plan.read import ReadPlan
from hoopwright.programme.changes import Change, WorkedChange, changed, changes, worked_changes

PLAN = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@pytest.fixture(scope="module")
def worked():
    read = read_plan_text(PLAN)
    told = []
    found = worked_changes(read, design_of(read), lambda done, whole: told.append((done, whole)))
    whole = told[-1][1]
    assert told == [(done, whole) for done in range(1, whole + 1)]
    return read, design_of(read), found


def test_changes_help_and_stand_in_order_of_value(worked):
    _, _, found = worked
    assert len(found) >= 4
    assert all(change.helps for change in found)
    values = [
        (not (one.loses_wind or one.loses_snow), one.relative_gain / max(one.cost, 1.0))
        for one in found
    ]
    assert values == sorted(values, reverse=True)


def test_each_change_is_a_design_that_can_be_built(worked):
    read, before, found = worked
    for change in found:
        after = design_of(ReadPlan(changed(read.plan, change.change.sets), read.catalogue))
        assert after.order.total - before.order.total == pytest.approx(change.cost)
        assert after.ladder.opens.told[0] == pytest.approx(change.wind)


@pytest.mark.parametrize(("units", "by"), [("us", "6 in"), ("metric", "152 mm")])
def test_hoops_are_lowered_by_what_it_says_in_the_plans_units(units, by):
    read = read_plan_text(f'units = "{units}"\n{PLAN}')
    design = design_of(read)
    found = [change for change in changes(read, design) if change.what == f"Hoops {by} lower"]
    assert len(found) == 1
    height = design.hoop.crown_over_board - found[0].sets["hoops.height"]
    assert height == pytest.approx(0.1524)


def test_hoops_that_are_low_already_are_not_raised_under_the_name_of_lower():
    read = read_plan_text(PLAN + '[hoops]\npipe = "wire-9"\nheight = "11 in"\n')
    assert not [one for one in changes(read, design_of(read)) if "hoops.height" in one.sets]


def test_what_a_plan_has_already_is_not_advised():
    read = read_plan_text(PLAN + "[holding]\npin = true\ntied_to_soil = true\n")
    names = [change.change.what for change in worked_changes(read, design_of(read))]
    assert not any("under the soil" in name or "screw through" in name for name in names)


def test_what_a_change_loses_is_said_beside_what_it_gains():
    """A pipe that bears more snow and less wind: 41 to 37 mph, 5 to 7 in, for 19.75."""
    mph, inch = 0.44704, 0.0254
    change = Change("1 in pipe", {"hoops.pipe": "pvc40-1"})
    design = design_of(read_plan_text(PLAN))
    for wind, says in ((37, "plan for 7 in of wet snow, but only for gusts up to 37"), (41, "")):
        one = WorkedChange(change, wind * mph, 7 * inch, 41 * mph, 5 * inch, 19.75)
        (words,) = change_words(design, [one])
        assert words.gain.startswith(says or "plan for 7 in of wet snow; adds")
        assert one.loses_wind == bool(says)
