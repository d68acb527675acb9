"""Which seam explains the water, as sums alone: round trips, intervals, what cannot be told."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import lsq_linear

from hullcheck.answers.leak_fit import CLEARLY, Fit


def table(seed, tests, suspects):
    """Return random positive heads (tests, suspects) [1]."""
    return np.random.default_rng(seed).uniform(0.2, 3.0, (tests, suspects))


def fit_of(matrix, strengths, noise=0.0, per=30.0):
    """Return the fit of what some strengths let in, each test known to 1/per of the greatest."""
    matrix = np.asarray(matrix, dtype=float)
    gains = matrix @ np.asarray(strengths, dtype=float) + noise
    sigma = max(gains.max(), 1.0) / per
    return Fit(matrix=matrix / sigma, measured=gains / sigma)


@given(seed=st.integers(0, 10**6), suspects=st.integers(1, 5))
def test_strengths_come_back(seed, suspects):
    """With as many tests as suspects, and no noise, the strengths that were put in come out."""
    random = np.random.default_rng(seed)
    truth = random.uniform(0.0, 1.0, suspects) * random.integers(0, 2, suspects)
    fit = fit_of(table(seed, suspects + 2, suspects), truth)
    assert fit.strengths == pytest.approx(truth, abs=1e-6)
    assert fit.chi_squared == pytest.approx(0.0, abs=1e-12)
    assert fit.explains


@given(seed=st.integers(0, 10**6))
def test_least_squares_by_another_solver(seed):
    """SciPy's solver for bounded variables, another algorithm, finds the same in noisy tests."""
    random = np.random.default_rng(seed)
    matrix = table(seed, 5, 4)
    fit = Fit(matrix=5.0 * matrix, measured=random.uniform(-2.0, 20.0, 5))
    other = lsq_linear(fit.matrix, fit.measured, bounds=(0.0, np.inf), method="bvls")
    assert fit.chi_squared == pytest.approx(2.0 * other.cost, rel=1e-9, abs=1e-9)
    assert fit.strengths == pytest.approx(other.x, abs=1e-6)


def test_one_test_cannot_tell():
    """After one test any suspect explains it alone and none is needed."""
    fit = fit_of([[1.0, 2.0, 0.5]], [0.0, 1.0, 0.0])
    assert fit.needed() == ()
    assert fit.alone() == (0, 1, 2)
    most = (fit.measured[0] + 1.959964) / fit.matrix[0, 1]  # all of the water, and its 95 %
    assert fit.interval(1) == (0.0, pytest.approx(most, rel=1e-6))


def test_two_alike_are_never_told_apart():
    """Two suspects of proportional heads: neither is needed, both explain, intervals reach 0."""
    matrix = [[1.0, 2.0, 0.1], [3.0, 6.0, 2.0], [0.5, 1.0, 4.0]]
    fit = fit_of(matrix, [1.0, 0.0, 0.0])
    assert fit.needed() == ()
    assert fit.alone() == (0, 1)
    assert fit.fewest() == ((0,), (1,))
    assert fit.interval(0)[0] == fit.interval(1)[0] == 0.0
    with_third = fit_of(matrix, [1.0, 0.0, 1.0])
    assert with_third.needed() == (2,)
    assert with_third.fewest() == ((0, 2), (1, 2))


def test_several_together_can_stand_in():
    """A suspect whose heads lie between two others' explains alone, and is not needed."""
    fit = fit_of([[3.0, 2.0, 1.0], [1.0, 2.0, 3.0]], [0.0, 1.0, 0.0])
    assert fit.alone() == (1,)
    assert fit.needed() == ()
    assert fit.without(1) == pytest.approx(0.0, abs=1e-9)
    assert fit.explanations(2) == ((0, 2),)


def test_at_the_edge_it_is_needed():
    """A suspect whose heads lie beyond all others' cannot be stood in for."""
    fit = fit_of([[3.0, 2.0, 1.0], [1.0, 2.0, 3.0]], [1.0, 0.0, 0.0])
    assert fit.needed() == (0,)
    assert fit.without(0) > CLEARLY
    # Without it the second alone is best: least squares in one unknown, by hand.
    a, b = fit.matrix[:, 1], fit.measured
    assert fit.without(0) == pytest.approx(b @ b - (a @ b) ** 2 / (a @ a), rel=1e-9)


def test_a_dry_test_clears_what_it_wetted():
    """A test without a gain leaves only the suspect that it did not wet."""
    fit = fit_of([[1.0, 2.0, 1.5], [0.0, 1.0, 1.0]], [2.0, 0.0, 0.0])
    assert fit.needed() == (0,)
    assert fit.alone() == (0,)


def test_no_water():
    """Gains within the scale's noise need no leak at all."""
    quiet = Fit(matrix=table(1, 3, 2), measured=np.array([0.5, -0.7, 0.9]))
    assert quiet.explains_nothing
    assert quiet.explains
    loud = Fit(matrix=table(1, 3, 2), measured=np.array([0.5, -0.7, 9.0]))
    assert not loud.explains_nothing


def test_what_nothing_explains():
    """Water in the test that wetted no suspect is explained by none."""
    fit = fit_of([[1.0, 2.0], [0.0, 0.0]], [1.0, 0.0], noise=np.array([0.0, 2.0]))
    assert not fit.explains
    assert Fit(matrix=np.zeros((1, 0)), measured=np.array([20.0])).explains is False


def test_intervals_of_one_suspect():
    """With one suspect the interval is ± 1.96 standard uncertainties of least squares."""
    matrix = np.array([[2.0], [3.0], [6.0]])
    fit = Fit(matrix=matrix, measured=np.array([40.5, 59.0, 120.0]))
    sigma = 1.0 / np.linalg.norm(matrix)
    low, high = fit.interval(0)
    assert high - float(fit.strengths[0]) == pytest.approx(1.959964 * sigma, rel=1e-5)
    assert float(fit.strengths[0]) - low == pytest.approx(1.959964 * sigma, rel=1e-5)


def test_intervals_are_honest():
    """Over 300 noisy logbooks z-scores have a spread of 1, and 95 % intervals hold 95 % of truths.

    Three leaking suspects, five tests, standard noise: the spread of 900 z-scores is within 0.08 of
    1 and the share within 0.025 of 0.95, three and a half standard errors each.
    """
    random = np.random.default_rng(3)
    matrix, truth = 10.0 * table(7, 5, 3), np.array([2.0, 3.0, 2.5])
    spread = np.sqrt(np.diag(np.linalg.inv(matrix.T @ matrix)))
    z, held = [], []
    for _ in range(300):
        fit = Fit(matrix=matrix, measured=matrix @ truth + random.standard_normal(5))
        z += list((fit.strengths - truth) / spread)
        held += [low <= c <= high for c, (low, high) in zip(truth, _all(fit), strict=True)]
    assert np.std(z) == pytest.approx(1.0, abs=0.08)
    assert abs(np.mean(z)) < 0.12
    assert np.mean(held) == pytest.approx(0.95, abs=0.025)


def _all(fit):
    """Return the intervals of all suspects."""
    return [fit.interval(k) for k in range(fit.size)]


def test_the_innocent_are_rarely_needed():
    """Over 400 noisy logbooks with one leak of four, an innocent suspect is needed in under 1 %.

    Three standard deviations to one side would be 0.14 % for each of three.
    """
    random, wrong, right = np.random.default_rng(11), 0, 0
    for seed in range(400):
        matrix, guilty = 10.0 * table(seed, 6, 4), seed % 4
        measured = matrix[:, guilty] * 2.0 + random.standard_normal(6)
        needed = Fit(matrix=matrix, measured=measured).needed()
        wrong += any(k != guilty for k in needed)
        right += guilty in needed
    assert wrong < 4
    assert right > 0.5 * 400


def test_a_poor_fit_has_wide_intervals():
    """Where the best fit leaves n times what chance may, intervals are √n times as wide."""
    matrix = [[1.0], [2.0], [0.0]]
    good, poor = (fit_of(matrix, [1.0], noise=np.array([0, 0, w])) for w in (0.0, 1.0))
    wider = (poor.interval(0)[1] - 1.0) / (good.interval(0)[1] - 1.0)
    assert poor.chi_squared > 10.0 * poor.limit
    assert wider == pytest.approx((poor.chi_squared / poor.limit) ** 0.5, rel=1e-6)
