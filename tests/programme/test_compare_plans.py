"""Comparing plans: figures as each plan alone has them, differences first."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from hoopwright import design_of, read_plan
from hoopwright.answers.choosing_words import (
    against_words,
    bars,
    place_words,
    same_words,
    table_rows,
)
from hoopwright.answers.facts import voice_of
from hoopwright.programme.advise import Advice, Option
from hoopwright.programme.compare import ComparedFigure, compare, figures, leaves_by_night
from hoopwright.programme.variants import (
    VariantError,
    known_key,
    variants,
    with_keys,
)
from hoopwright.programme.weighing import YearUnderCover

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"


def test_figures_are_those_of_each_plan_alone() -> None:
    """Shared hoops and cuts change no number: cost, first rungs and height stand as in check."""
    found = variants(DEMO, ["spacing=2 ft,3 ft", "pin=no,yes"])
    compared = compare([(one.name, one.read) for one in found], [None] * len(found))
    assert len(compared) == 4
    for one, variant in zip(compared, found, strict=True):
        alone = design_of(variant.read)
        assert one.worth.cost == pytest.approx(alone.order.total, abs=0.005)
        assert one.worth.wind == pytest.approx(alone.ladder.opens.told[0], rel=1e-9)
        assert one.worth.height == alone.hoop.crown_over_board
        assert one.worth.growth is None


def test_differences_come_first_and_the_rest_is_said_once() -> None:
    """Lines that differ are in the table, the rest in one sentence; the best is marked."""
    found = variants(DEMO, ["spacing=2ft,3ft"])
    compared = compare([(one.name, one.read) for one in found], [None, None])
    lines = figures(compared)
    assert [line.differs for line in lines] == sorted(
        (line.differs for line in lines), reverse=True
    )
    say = voice_of(compared[0].design)
    rows = table_rows(lines, say)
    assert all(any("*" in cell for cell in row) for row in rows)
    assert "height over the boards" in same_words(lines, say)
    chart = bars(lines, ["a", "b"], say)
    assert any("#" in line for line in chart)


def test_best_and_spread_of_a_figure() -> None:
    """More or less may be better; unknown values stand apart; the same is no difference."""
    cost = ComparedFigure("Cost", "money", False, (10.0, 12.0, math.nan))
    assert cost.best == (0,)
    assert cost.spread == pytest.approx(2 / 12)
    assert ComparedFigure("x", "count", True, (3.0, 3.0)).best == ()
    assert ComparedFigure("x", "money", False, (3.0, math.inf)).best == (0,)


@pytest.mark.parametrize(
    ("first", "second", "apart"),
    [
        ((1.0, 1.9), (2.0, 4.0), True),
        ((1.0, 2.0), (2.0, 4.0), False),
        ((1.0, 2.2), (2.1, 4.0), False),
        ((1.0, 5.0), (2.0, 3.0), False),
    ],
)
def test_plans_whose_ranges_meet_are_not_told_apart(first, second, apart) -> None:
    for ranges, values in (((first, second), (1.5, 2.5)), ((second, first), (2.5, 1.5))):
        line = ComparedFigure("x", "temperature difference", True, values, ranges)
        assert line.apart(0, 1) == line.apart(1, 0) == apart
        assert line.against_first(1) == (0 if not apart else 1 if values[1] > values[0] else -1)
        assert bool(line.best) == apart


def test_half_a_hundredth_is_no_difference() -> None:
    """0.4 of 100.4 and 0.6 of 100.6: 0.40 and 0.60 %."""
    for more, sense in ((100.4, 0), (100.6, 1)):
        line = ComparedFigure("x", "money", True, (100.0, more))
        assert (line.differs, line.against_first(1)) == (sense == 1, sense)


def test_fabric_against_film_is_not_ranked_inside_the_doubt() -> None:
    """Heavy fabric was measured at 1 to 5 K by night, so that film's 2 K lie within it."""
    found = variants(DEMO, ["cover.material=film-6mil-uv4,fabric-1.5,film-6mil"])
    compared = [
        replace(one, worth=replace(one.worth, growth=YearUnderCover(degrees, 10, 0, 0, 0.0)))
        for one, degrees in zip(
            compare([(one.name, one.read) for one in found], [None] * 3),
            (2.0, 1.2, 1.8),
            strict=True,
        )
    ]
    worths = [one.worth for one in compared]
    warmth = leaves_by_night(worths)
    assert warmth in figures(compared)
    assert warmth.best == ()
    assert [warmth.against_first(n) for n in (1, 2)] == [0, -1]
    assert leaves_by_night([worths[0], worths[2]]).best == (0,)
    # Nor does a search call one the warmest, or warmer than the plan.
    options = tuple(Option((), worth) for worth in worths)
    both = Advice((), options, 3, {}, worths[1])
    films = Advice((), options[::2], 2, {}, worths[2])
    say = voice_of(compared[0].design)
    assert "warmest" not in " ".join(place_words(one, both) for one in options)
    assert ["warmest" in place_words(one, films) for one in films.whole] == [True, False]
    assert "not known to be warmer or colder" in against_words(worths[0], both.now, say)
    assert "warmer" in against_words(worths[0], films.now, say)
    assert "not known" not in against_words(worths[0], films.now, say)


def test_keys_go_into_a_plan_with_its_comments_kept() -> None:
    """Everything but the key stays as it was written; height and stock length do not stand both."""
    text = DEMO.read_text(encoding="utf-8")
    after = with_keys(text, {"hoops.height": "36 in", "holding.pin": "yes", "hoops.pipe": None})
    assert "# What is on the shelf already." in after
    assert 'height = "36 in"' in after
    assert "stock_length" not in after
    assert "pin = true" in after
    assert "pipe =" not in after.split("[hoops]")[1].split("[cover]")[0]


def test_lengths_written_read_back_the_same() -> None:
    """What advise saves is the plan it weighed."""
    from hoopwright.units import METRIC, US, read

    for length in (0.4572, 0.6096, 0.95, 1.0 / 3.0, 0.0254 * 37.0625):
        for system in (US, METRIC):
            assert read(system.written_length(length), "length") == pytest.approx(length, abs=1e-8)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ("spacing", "write it like"),
        ("spacng=2ft", "did you mean"),
        ("legs=straps,sleeve", "write which"),
        ("clip_spacing=" + ",".join(f"{n}in" for n in range(3, 64)), "vary less"),
    ],
)
def test_what_cannot_be_varied_is_said(asked: str, says: str) -> None:
    """One message that says what to do."""
    with pytest.raises(VariantError, match=says):
        variants(DEMO, [asked])


def test_short_names_of_keys() -> None:
    """A key's last part is enough where it is the only one."""
    assert known_key("spacing") == "hoops.spacing"
    assert known_key("hoops.pipe") == "hoops.pipe"


def test_the_demo_reads() -> None:
    """The plan these tests vary is a plan."""
    assert read_plan(DEMO).plan.hoops.spacing == pytest.approx(3 * 0.3048)
