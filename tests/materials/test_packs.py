"""The cheapest packs against every possibility tried one by one."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright.materials.packs import Pack, cheapest_packs

packs_on_sale = st.lists(
    st.tuples(st.integers(1, 30), st.integers(1, 40)), min_size=1, max_size=3, unique=True
)


def brute_force(needed, packs):
    limits = [range(-(-needed // pack.count) + 1) for pack in packs]
    return min(
        sum(number * pack.price for number, pack in zip(numbers, packs, strict=True))
        for numbers in itertools.product(*limits)
        if sum(number * pack.count for number, pack in zip(numbers, packs, strict=True)) >= needed
    )


@given(st.integers(1, 40), packs_on_sale)
def test_never_dearer_than_the_best_of_all(needed, sale):
    packs = [Pack(count, float(price)) for count, price in sale]
    chosen = cheapest_packs(needed, packs)
    assert sum(pack.count * number for pack, number in chosen) >= needed
    cost = sum(pack.price * number for pack, number in chosen)
    assert cost == pytest.approx(brute_force(needed, packs))


def test_nothing_needed_buys_nothing_and_no_packs_is_an_error():
    assert cheapest_packs(0, [Pack(10, 1.0)]) == ()
    with pytest.raises(ValueError, match="no pack"):
        cheapest_packs(3, [])
