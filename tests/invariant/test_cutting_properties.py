"""What must hold of every cut plan, whatever is asked."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.cutting.sticks import cut_sticks
from hoopwright.cutting.stock import Piece, Stick

millimetres = st.integers(100, 1500).map(lambda n: n / 1000)
sixteenths = st.integers(63, 940).map(lambda n: n * 0.0254 / 16)
anything = st.floats(0.1, 1.5)
lengths = st.one_of(
    st.lists(millimetres, min_size=1, max_size=14),
    st.lists(sixteenths, min_size=1, max_size=14),
    st.lists(anything, min_size=1, max_size=14),
)
bought = st.lists(
    st.tuples(st.floats(1.5, 4.0), st.integers(100, 2000)), min_size=1, max_size=3
).map(lambda some: [Stick(f"new {k}", a, p / 100) for k, (a, p) in enumerate(some)])
offcuts = st.lists(st.tuples(st.floats(0.2, 2.0), st.integers(1, 3)), max_size=3).map(
    lambda some: [Stick(f"rest {k}", a, 0.0, n) for k, (a, n) in enumerate(some)]
)
kerfs = st.sampled_from([0.0, 0.002, 0.0254 / 8])


def named(some):
    return [Piece(f"piece {k}", length) for k, length in enumerate(some)]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(lengths, bought, offcuts, kerfs)
def test_plan_can_be_cut(some, new, rest, kerf):
    pieces = named(some)
    plan = cut_sticks(pieces, [*new, *rest], kerf)
    assert Counter(p for cut in plan.sticks for p in cut.pieces) == Counter(pieces)
    used = Counter(cut.stick for cut in plan.sticks)
    assert all(s.available is None or n <= s.available for s, n in used.items())
    for cut in plan.sticks:
        assert cut.pieces
        total = sum(piece.length for piece in cut.pieces) + kerf * (len(cut.pieces) - 1)
        assert total <= cut.stick.length + 1e-8
        assert 0.0 <= cut.left <= cut.stick.length - total + 1e-8
    assert plan.bound <= plan.cost + 1e-9
    assert abs(plan.cost - sum(cut.stick.price for cut in plan.sticks)) < 1e-6
    assert plan.proven == (plan.gap == 0.0)


@settings(max_examples=30, deadline=None, derandomize=True)
@given(lengths, bought, st.tuples(st.floats(0.2, 2.0), st.integers(1, 3)), kerfs)
def test_an_offcut_at_hand_never_raises_the_cost(some, new, offcut, kerf):
    without = cut_sticks(named(some), new, kerf)
    with_it = cut_sticks(named(some), [*new, Stick("rest", offcut[0], 0.0, offcut[1])], kerf)
    assert with_it.bound <= without.cost + 1e-9
    if with_it.proven:
        assert with_it.cost <= without.cost + 1e-9


@settings(max_examples=20, deadline=None, derandomize=True)
@given(lengths, bought, offcuts, kerfs, st.randoms(use_true_random=False))
def test_order_of_pieces_does_not_matter(some, new, rest, kerf, shuffler):
    pieces = named(some)
    plan = cut_sticks(pieces, [*new, *rest], kerf)
    shuffler.shuffle(pieces)
    assert cut_sticks(pieces, [*new, *rest], kerf) == plan


@settings(max_examples=20, deadline=None, derandomize=True)
@given(lengths, lengths, bought, kerfs)
def test_one_order_for_both_costs_no_more_than_two(some, more, new, kerf):
    both = cut_sticks(named([*some, *more]), new, kerf)
    one = cut_sticks(named(some), new, kerf)
    other = cut_sticks(named(more), new, kerf)
    assert both.bound <= one.cost + other.cost + 1e-9
    if both.proven:
        assert both.cost <= one.cost + other.cost + 1e-9
