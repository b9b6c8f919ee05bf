"""A cure makes its finding fine, on every plan that has the finding; the first plan needs none."""

from pathlib import Path

import pytest

from hoopwright.checks.finding import Severity
from hoopwright.design import design_of
from hoopwright.plan import ReadPlan, read_plan
from hoopwright.programme.changes import changed
from hoopwright.programme.cures import cure
from hoopwright.web.beside import read_here
from hoopwright.web.five_questions import CROPS, Begun, begun_plan

ROOT = Path(__file__).parents[2]
PLANS = sorted((ROOT / "tests" / "unchanged" / "plans").glob("*.toml"))


def test_every_cure_makes_its_finding_fine():
    cured = set()
    for path in PLANS:
        read = read_plan(path)
        design = design_of(read)
        for finding in design.findings:
            change = cure(design, finding)
            if change is None:
                continue
            after = design_of(ReadPlan(changed(read.plan, change.sets), read.catalogue))
            same = [one for one in after.findings if one.name == finding.name]
            assert all(one.severity == Severity.FINE for one in same), (path.name, finding.name)
            cured.add(finding.name)
    assert {"side-boards", "ridge", "leg-hold", "end-distance", "batten-over-legs"} <= cured


@pytest.mark.parametrize("crops", list(CROPS))
@pytest.mark.parametrize(
    "asked",
    [
        Begun(),
        Begun(length="16 ft", gust="60 mph", troubles=("wind", "animals")),
        Begun(length="12 ft", width="3 ft", gust="60 mph", troubles=("hail", "heat")),
        Begun(length="3 m", width="1.2 m", gust="100 km/h", metric=True),
    ],
    ids=lambda one: one.length,
)
def test_the_first_plan_asks_for_no_change(asked, crops):
    begun = Begun(**(vars(asked) | {"crops": crops}))
    design = design_of(read_here(begun_plan(begun)))
    asks = [one.name for one in design.findings if one.severity >= Severity.CHANGE]
    assert asks == []


def test_what_the_reader_answered_stands():
    text = begun_plan(Begun(length="16 ft", width="4 ft", gust="90 mph"))
    plan = read_here(text).plan
    assert plan.bed.length == pytest.approx(16 * 0.3048)
    assert plan.site.gust == pytest.approx(90 * 0.44704)
