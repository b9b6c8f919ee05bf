"""Draws, what they are read as, and what is told of them, against scipy and closed forms."""

from statistics import NormalDist

import numpy as np
import pytest
from scipy import stats

from hoopwright.odds.draws import Draws
from hoopwright.odds.learn import updated
from hoopwright.odds.normal import inverse_normal
from hoopwright.odds.quantiles import quantiles, rank_correlation, weak_to_strong
from hoopwright.tables.spread import Spread, exactly


def test_the_inverse_normal_is_the_standard_librarys():
    chances = np.concatenate([np.geomspace(1e-9, 0.4, 60), 1 - np.geomspace(1e-9, 0.5, 60)])
    expected = [NormalDist().inv_cdf(chance) for chance in chances]
    assert inverse_normal(chances) == pytest.approx(expected, abs=2e-8)


@pytest.mark.parametrize(
    "value", [Spread(30, 80, 200), Spread(-0.55, 0.18, 0.55), Spread(0, 150, 600)]
)
def test_low_likely_and_high_are_read_as_5_50_and_95_per_cent(value):
    found = np.quantile(Draws().of("one", value), (0.05, 0.5, 0.95))
    wanted = [value.low, value.likely, value.high]
    assert found == pytest.approx(wanted, rel=2e-3, abs=2e-3 * value.high)
    assert value.low != 0 or Draws().of("one", value).min() == 0.0


def test_an_even_log_range_is_scipys_log_normal():
    drawn = Draws().of("one", Spread(20, 40, 80))
    sigma = np.log(2) / stats.norm.ppf(0.95)
    levels = (15.0, 30.0, 60.0, 100.0)
    assert [np.mean(drawn <= level) for level in levels] == pytest.approx(
        stats.lognorm(sigma, scale=40).cdf(levels), abs=3e-4
    )


def test_the_same_name_gives_the_same_draws_on_every_machine():
    """The first scores of a name, held: integer arithmetic and sorting, no library's stream."""
    again = Draws().score("grip of a clip")
    assert np.array_equal(again, Draws().score("grip of a clip"))
    assert np.sort(again) == pytest.approx(stats.norm.ppf((np.arange(4096) + 0.5) / 4096), abs=1e-7)
    assert not np.array_equal(again, Draws(seed=2).score("grip of a clip"))
    assert again[:3] == pytest.approx(HELD, abs=1e-6)


HELD = (0.0646077, -0.0192782, 1.4424697)


def test_names_do_not_move_together():
    """Of 4,096 draws chance alone gives correlations of 1 / 64; 40 names keep within 4 of those."""
    scores = np.array([Draws().score(f"name {number}") for number in range(40)])
    off = np.corrcoef(scores) - np.eye(40)
    assert np.abs(off).max() < 4.5 / 64


def test_rank_correlation_is_scipys():
    draws = Draws()
    one, two = draws.of("one", Spread(1, 2, 4)), draws.of("two", Spread(1, 3, 9))
    answer = one**2 + two
    ours = rank_correlation([draws.ranks("one"), draws.ranks("two")], answer)
    theirs = [stats.spearmanr(each, answer).statistic for each in (one, two)]
    assert ours == pytest.approx(theirs, abs=1e-9)


def test_quantiles_of_draws_some_of_which_never_give_way():
    values = np.concatenate([np.arange(800.0), np.full(200, np.inf)])
    careful, middle, strong = weak_to_strong(values)
    assert (careful, middle) == (100.0, 500.0)
    assert strong == np.inf


def test_a_sum_of_normals_is_a_normal():
    """Latin hypercube of three inputs: the sum's 10 and 90 % are met to 1 %."""
    draws = Draws()
    total = sum(draws.score(name) for name in ("a", "b", "c"))
    expected = np.sqrt(3) * stats.norm.ppf((0.1, 0.5, 0.9))
    assert weak_to_strong(total) == pytest.approx(expected, abs=0.04)


def test_conjugate_update_against_the_integral():
    """Prior and likelihood multiplied on a grid of means, then one more value drawn: the same."""
    prior, readings, scatter = Spread(30, 80, 200), (100.0, 130.0), 0.25
    found = updated(prior, readings, scatter)
    mean, sd = np.log(80), np.log(200 / 30) / (2 * stats.norm.ppf(0.95))
    grid = np.linspace(mean - 6 * sd, mean + 6 * sd, 20001)
    weight = stats.norm.pdf(grid, mean, sd)
    for reading in readings:
        weight = weight * stats.norm.pdf(np.log(reading), grid, scatter)
    weight /= weight.sum()
    cdf = [(weight * stats.norm.cdf(np.log(end), grid, scatter)).sum() for end in
           (found.low, found.likely, found.high)]  # fmt: skip
    assert cdf == pytest.approx([0.05, 0.5, 0.95], abs=2e-3)


def test_what_is_known_is_not_drawn():
    draws = Draws()
    assert np.all(draws.of("known", exactly(3.0)) == 3.0)
    assert "known" not in draws.used


def test_draws_that_never_give_way_share_their_rank():
    """A third of the answers infinite, and two more alike: SciPy's ranks with ties."""
    draws = Draws()
    one = draws.of("one", Spread(1, 2, 4))
    answer = np.where(one > 2.5, np.inf, np.round(one, 1))
    (ours,) = rank_correlation([draws.ranks("one")], answer)
    finite = np.where(np.isfinite(answer), answer, 1e9)
    assert ours == pytest.approx(stats.spearmanr(one, finite).statistic, abs=1e-9)


def test_quantiles_are_numpys():
    values = np.random.default_rng(2).exponential(size=51)
    shares = (0.1, 0.5, 0.9, 1.0)
    assert quantiles(values, shares) == pytest.approx(np.quantile(values, shares))


def test_many_readings_leave_the_scatter_from_one_leg_to_the_next():
    """exp(1.645 x 0.25) = 1.509 either way of what was read, however little was known before."""
    found = updated(Spread(10, 80, 640), [100.0] * 4000)
    assert (found.low, found.likely, found.high) == pytest.approx((66.3, 100.0, 150.9), rel=1e-3)
