"""Intervals and correlated doubts beside libraries that were written by others."""

import math
from typing import Any

import numpy
import pytest
import scipy.integrate
import scipy.optimize
import scipy.stats
import uncertainties
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import calc
from server.engine.doubt.budget import INFINITE, Part, guard_of
from server.engine.doubt.coverage import half_width, share_within
from server.engine.torque_check.shared_doubt import Source, combined


@settings(max_examples=40, deadline=None)
@given(st.floats(0.01, 5), st.floats(0.05, 3), st.floats(0.1, 6))
def test_the_share_within_an_interval_is_that_of_scipys_convolution(half: float, u: float, x: float) -> None:
    normal = scipy.stats.norm(0, u)
    inside, _ = scipy.integrate.quad(
        lambda t: (normal.cdf(x - t) - normal.cdf(-x - t)) / (2 * half), -half, half, epsabs=1e-12, limit=200
    )
    assert share_within(x, half, u) == pytest.approx(inside, abs=1e-9)


@pytest.mark.parametrize("ratio", [0.1, 0.5, 1.0, 2.0, 8.0])
def test_the_interval_of_an_even_and_a_normal_part_is_scipys(ratio: float) -> None:
    even, normal = Part("tool", "", 1.0, INFINITE), Part("repeats", "", ratio, INFINITE)
    half = math.sqrt(3.0)

    def beyond(x: float) -> float:
        return float(scipy.integrate.quad(lambda t: scipy.stats.norm.sf(x - t, 0, ratio) / (2 * half), -half, half)[0])

    expected = scipy.optimize.brentq(lambda x: beyond(x) - 0.025, 0, 5 + 5 * ratio)
    assert half_width([normal], [even]) == pytest.approx(expected, rel=1e-6)


def test_with_few_readings_alone_the_interval_is_students() -> None:
    for dof in (1, 2, 4, 9):
        expected = scipy.stats.t.isf(0.025, dof) * 1.3
        assert half_width([Part("repeats", "", 1.3, dof)], []) == pytest.approx(expected, rel=1e-6)


@given(st.floats(40, 200), st.floats(40, 200), st.floats(0.1, 6), st.floats(0.01, 3), st.floats(0.01, 3))
def test_what_two_checks_share_is_correlated_as_uncertainties_does(
    before: float, now: float, percent: float, first: float, second: float
) -> None:
    # One variable for the wrench in both: JCGM 100:2008, 5.2.
    wrench = uncertainties.ufloat(1, percent / 100)
    earlier = (before + uncertainties.ufloat(0, first)) * wrench
    later = (now + uncertainties.ufloat(0, second)) * wrench
    sources = [
        Source("repeats", first, 0.0, INFINITE, False),
        Source("repeats", 0.0, second, INFINITE, False),
        Source("tool", percent / 100 * before, percent / 100 * now, INFINITE, False),
    ]
    assert combined(sources, -1.0, 1.0)[0] == pytest.approx((later - earlier).std_dev, rel=1e-9)


def test_a_comparison_counts_what_both_checks_share_once() -> None:
    def side(value: float, repeats: float) -> dict[str, Any]:
        parts = [
            {"name": "repeats", "u_nm": repeats},
            {"name": "tool", "u_nm": 0.02 * value, "source": "one wrench"},
        ]
        return {"value_nm": value, "tool": "Wrench", "parts": parts}

    result = calc("compare", {"before": side(100, 0.8), "now": side(92, 0.9)})
    wrench = uncertainties.ufloat(1, 0.02)
    change = uncertainties.ufloat(92, 0.9) * wrench - uncertainties.ufloat(100, 0.8) * wrench
    assert result["expanded_nm"] == pytest.approx(1.959964 * change.std_dev, rel=1e-6)


def test_effective_degrees_of_freedom_hold_what_they_promise_beside_a_certificate() -> None:
    # Two to ten readings beside a normal part of any size: at most one in twenty lies beyond the one-sided 95 %.
    generator = numpy.random.default_rng(20261125)
    for count in (2, 3, 5, 10):
        for ratio in (0.2, 0.5, 1.0, 2.0):
            readings = generator.normal(0.0, 1.0, (4000, count))
            errors = readings.mean(axis=1) + generator.normal(0.0, ratio, 4000)
            means_u = readings.std(axis=1, ddof=1) / math.sqrt(count)
            beyond = [
                error > guard_of([Part("repeats", "", u, count - 1), Part("tool", "", ratio, INFINITE)])
                for error, u in zip(errors, means_u, strict=True)
            ]
            assert numpy.mean(beyond) <= 0.05 + 3 * math.sqrt(0.05 * 0.95 / 4000), (count, ratio)
