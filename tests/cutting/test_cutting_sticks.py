"""The stick cutter: kerf, stock at hand, refusals, and small jobs against trying everything."""

import itertools
import random
import subprocess
import sys

import pytest

from hoopwright.cutting.patterns import Family, all_worth, ladder, worthiest
from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import CannotCut, Piece, Stick, metres, steps_down, steps_up

INCH = 0.0254


def feet(number):
    return number * 12 * INCH


def pieces(*lengths):
    return [Piece(f"p{k}", length) for k, length in enumerate(lengths)]


def test_sixteenths_and_millimetres_are_whole_steps():
    for k in range(1, 3000):
        assert steps_up(k / 16 * INCH) == steps_down(k / 16 * INCH) == 127 * k
        assert steps_up(k / 1000) == steps_down(k / 1000) == 80 * k
    assert steps_up(0.1 + 0.000001) > steps_down(0.1 + 0.000001)
    assert metres(80) == pytest.approx(0.001)


def test_kerf_only_between_pieces():
    # Two pieces of 48 in and one saw cut of 1/8 in need 96 1/8 in: 96 in will not do.
    two = pieces(48 * INCH, 48 * INCH)
    exact = cut_sticks(two, [Stick("a", 96.125 * INCH, 1.0)], INCH / 8)
    assert len(exact.sticks) == 1
    assert exact.sticks[0].left == 0.0
    assert exact.sawdust == pytest.approx(INCH / 8)
    assert len(cut_sticks(two, [Stick("a", 96 * INCH, 1.0)], INCH / 8).sticks) == 2
    assert len(cut_sticks(two, [Stick("a", 96 * INCH, 1.0)], 0.0).sticks) == 1


def test_left_is_after_the_last_cut():
    plan = cut_sticks(pieces(1.0, 0.5), [Stick("a", 2.0, 1.0)], 0.003)
    assert plan.sticks[0].left == pytest.approx(0.494)
    assert plan.waste == pytest.approx(0.5)
    # What is left is thinner than the saw: it all turns to dust.
    assert cut_sticks(pieces(1.998), [Stick("a", 2.0, 1.0)], 0.003).sticks[0].left == 0.0


def test_two_three_foot_battens_from_each_eight_foot_strip():
    # Common practice, no source; also the skeleton's own example.
    battens = [Piece(f"batten {k}", feet(3)) for k in range(8)]
    plan = cut_sticks(battens, [Stick("1x2x8", feet(8), 2.0)], INCH / 8)
    assert [len(cut.pieces) for cut in plan.sticks] == [2, 2, 2, 2]
    assert plan.proven
    assert plan.ties_proven


def test_stock_at_hand_comes_first_and_costs_nothing():
    bought = Stick("new", 3.0, 5.0)
    rest = Stick("rest", 1.2, 0.0, 2)
    plan = cut_sticks(pieces(1.1, 1.1, 1.4, 1.4), [bought, rest], 0.003)
    assert plan.cost == 5.0
    assert sum(cut.stick == rest for cut in plan.sticks) == 2


def test_equal_cost_then_fewest_bought_then_least_length():
    plan = cut_sticks(pieces(1.0, 1.0), [Stick("s", 1.0, 2.0), Stick("l", 2.0, 4.0)], 0.0)
    assert [cut.stick.name for cut in plan.sticks] == ["l"]
    plan = cut_sticks(pieces(1.0), [Stick("l", 2.0, 0.0, 1), Stick("s", 1.5, 0.0, 1)], 0.0)
    assert [cut.stick.name for cut in plan.sticks] == ["s"]


def test_one_long_offcut_rather_than_two_short():
    plan = cut_sticks(pieces(0.9, 0.6, 0.5, 0.4), [Stick("a", 1.6, 1.0)], 0.0)
    assert len(plan.sticks) == 2
    longest = max(stick.left for stick in plan.sticks)
    assert longest == pytest.approx(0.8 - 0.0, abs=0.11)
    assert longest >= 0.7


def test_names_do_not_depend_on_the_order_given():
    some = pieces(0.7, 0.7, 0.4, 0.9, 0.4, 0.7)
    stick = [Stick("a", 2.0, 3.0), Stick("b", 1.2, 1.9)]
    plan = cut_sticks(some, stick, 0.002)
    for seed in range(5):
        random.Random(seed).shuffle(some)
        assert cut_sticks(some, stick, 0.002) == plan


def test_nothing_to_cut():
    plan = cut_sticks([], [Stick("a", 2.0, 3.0)], 0.002)
    assert plan.sticks == ()
    assert plan.proven
    assert plan.gap == 0.0


@pytest.mark.parametrize(
    ("wanted", "sticks", "kerf", "words"),
    [
        (pieces(2.5), [Stick("a", 2.0, 1.0)], 0.0, ("'p0'", "2.5 m", "2 m")),
        (pieces(1.0), [], 0.0, ("'p0'", "longest stick")),
        (pieces(1.5, 1.5, 1.5), [Stick("a", 2.0, 1.0, 1)], 0.0, ("2 more of 'a'",)),
        (pieces(-1.0), [Stick("a", 2.0, 1.0)], 0.0, ("'p0'", "no length")),
        (pieces(1.0), [Stick("a", 2.0, 1.0)], -0.1, ("kerf",)),
        (pieces(1.0), [Stick("a", float("nan"), 1.0)], 0.0, ("'a'", "length")),
    ],
)
def test_refusals_name_the_thing_and_the_way_out(wanted, sticks, kerf, words):
    with pytest.raises(CannotCut) as refused:
        cut_sticks(wanted, sticks, kerf)
    for word in words:
        assert word in str(refused.value)


def least_rank(lengths, sticks, kerf):
    """Cost, sticks bought, stock length: by trying all ways to share pieces out over sticks."""
    best = None
    states = {(): None}
    for length in sorted(lengths, reverse=True):
        fresh = {}
        for state in states:
            for k, (s, used) in enumerate(state):
                if used + length + kerf <= sticks[s][0] + kerf + 1e-9:
                    new = [*state[:k], (s, round(used + length + kerf, 6)), *state[k + 1 :]]
                    fresh[tuple(sorted(new))] = None
            for s, (size, _, most) in enumerate(sticks):
                number = sum(1 for t, _ in state if t == s)
                if length <= size + 1e-9 and (most is None or number < most):
                    fresh[tuple(sorted([*state, (s, round(length + kerf, 6))]))] = None
        states = fresh
    for state in states:
        rank = (
            round(sum(sticks[s][1] for s, _ in state), 2),
            sum(1 for s, _ in state if not (sticks[s][1] == 0 and sticks[s][2] is not None)),
            round(sum(sticks[s][0] for s, _ in state), 6),
        )
        best = rank if best is None else min(best, rank)
    return best


@pytest.mark.parametrize("seed", range(40))
def test_small_jobs_against_trying_everything(seed):
    draw = random.Random(seed)
    sticks = [
        (draw.randrange(8, 25) / 10, draw.randrange(100, 500) / 100, None),
        (draw.randrange(15, 31) / 10, draw.randrange(100, 500) / 100, draw.choice([None, 1, 2])),
        (draw.randrange(5, 25) / 10, 0.0, draw.randrange(1, 3)),
    ]
    top = max(size for size, _, most in sticks if most is None)
    lengths = [draw.randrange(2, int(top * 10) + 1) / 10 for _ in range(6)]
    kerf = draw.choice([0.0, 0.1])
    plan = cut_sticks(
        pieces(*lengths),
        [Stick(f"s{k}", size, price, most) for k, (size, price, most) in enumerate(sticks)],
        kerf,
    )
    assert plan.proven
    assert plan.ties_proven
    rank = (
        plan.cost,
        sum(1 for cut in plan.sticks if not cut.stick.at_hand),
        round(plan.stock_length, 6),
    )
    assert rank == least_rank(lengths, sticks, kerf)


def test_an_ordinary_bed_is_proven():
    bed = (
        [Piece(f"hoop {k}", feet(10)) for k in range(7)]
        + [Piece(f"sleeve {k}", 18 * INCH) for k in range(10)]
        + [Piece(f"rail {k}", feet(6) + 3 * INCH) for k in range(4)]
    )
    sticks = [Stick("10 ft", feet(10), 3.5), Stick("20 ft", feet(20), 6.6)]
    plan = cut_sticks(bed, sticks, INCH / 8)
    assert plan.proven


def test_the_easiest_jobs_load_no_solver():
    code = (
        "import sys;"
        "from hoopwright.cutting.sheets import cut_sheets;"
        "from hoopwright.cutting.sticks import cut_sticks;"
        "from hoopwright.cutting.stock import Piece, Roll, Sheet, Stick;"
        "sticks = [Stick('s', 2.4, 2.0), Stick('l', 3.0, 2.75), Stick('own', 1.0, 0.0, 1)];"
        "plan = cut_sticks([Piece('b', 0.9)] * 7, sticks, 0.003);"
        "assert plan.proven and plan.ties_proven and plan.cost == 5.5, plan;"
        "rolls = [Roll('narrow', 2.0, 4.0, 20.0), Roll('wide', 3.0, 4.0, 25.0)];"
        "film = cut_sheets([Sheet('a', 2.4, 3.0)], rolls);"
        "assert film.proven and film.length_proven and film.cost == 25.0;"
        "assert 'highspy' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_patterns_are_all_and_best():
    family = Family((0, 1, 2), (3, 5, 7), (2, 1, 2))
    demand, worth, room = (2, 1, 2), (4, 7, 9), 15
    steps = ladder(family, worth, room)
    every = [
        counts
        for counts in itertools.product(*(range(n + 1) for n in demand))
        if sum(n * size for n, size in zip(counts, family.sizes, strict=True)) <= room
    ]

    def value(counts):
        return sum(n * w for n, w in zip(counts, worth, strict=True))

    best = max(map(value, every))
    assert steps.worth(3, room) == best
    assert value(worthiest(steps, 3, room, 3)) == best
    full = {
        counts
        for counts in every
        if not any(
            counts[i] < demand[i]
            and sum(n * s for n, s in zip(counts, family.sizes, strict=True)) + family.sizes[i]
            <= room
            for i in range(3)
        )
    }
    for least in (0, 10, best):
        listed = {tuple(map(int, row)) for row in all_worth(steps, 3, room, least, demand, 99)}
        assert listed == {counts for counts in full if value(counts) >= least}
    assert all_worth(steps, 3, room, 0, demand, 1) is None
