"""Straight lines and their bands against certified values and other libraries."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.stats import linregress
from scipy.stats import t as student

from server.engine.doubt.trend_line import band_at, band_meets, fitted, meets, value_at

NORRIS = Path(__file__).parent / "norris.csv"


def norris() -> tuple[list[float], list[float]]:
    """x and y of the dataset."""
    with NORRIS.open(encoding="utf-8") as table:
        rows = list(csv.DictReader(line for line in table if not line.startswith("#")))
    return [float(row["x"]) for row in rows], [float(row["y"]) for row in rows]


def test_a_line_is_the_one_that_is_certified() -> None:
    # NIST Statistical Reference Datasets, Norris, certified values, recalled from memory.
    line = fitted(*norris())
    assert line.count == 36
    assert line.intercept == pytest.approx(-0.262323073774029, rel=1e-9)
    assert line.slope == pytest.approx(1.00211681802045, rel=1e-9)
    assert line.intercept_sd == pytest.approx(0.232818234301152, rel=1e-9)
    assert line.slope_sd == pytest.approx(0.429796848199937e-3, rel=1e-9)
    assert line.scatter == pytest.approx(0.884796396144373, rel=1e-9)


def test_the_band_equals_statsmodels() -> None:
    statsmodels = pytest.importorskip("statsmodels.api", reason="the test extra brings it")
    x, y = norris()
    model = statsmodels.OLS(np.array(y), statsmodels.add_constant(np.array(x))).fit()
    places = np.array([0.0, 50.0, 500.0, 1200.0])
    frame = model.get_prediction(statsmodels.add_constant(places)).summary_frame(alpha=0.05)
    line = fitted(x, y)
    for place, low, middle, high in zip(places, frame["obs_ci_lower"], frame["mean"], frame["obs_ci_upper"]):
        assert value_at(line, place) == pytest.approx(middle, rel=1e-9)
        assert value_at(line, place) - band_at(line, place, 0.025) == pytest.approx(low, rel=1e-7)
        assert value_at(line, place) + band_at(line, place, 0.025) == pytest.approx(high, rel=1e-7)


READINGS = st.lists(st.tuples(st.floats(0, 100), st.floats(50, 150)), min_size=3, max_size=20)


@given(READINGS, st.floats(0, 200), st.sampled_from([0.05, 0.025, 0.01]))
def test_line_and_band_equal_scipys(readings: list[tuple[float, float]], place: float, tail: float) -> None:
    x, y = [at for at, _ in readings], [other for _, other in readings]
    assume(max(x) - min(x) > 1)
    line, other = fitted(x, y), linregress(x, y)
    assert line.slope == pytest.approx(other.slope, rel=1e-9, abs=1e-9)
    assert line.intercept == pytest.approx(other.intercept, rel=1e-9, abs=1e-6)
    left = np.array(y) - other.intercept - other.slope * np.array(x)
    scatter = np.sqrt(np.sum(left**2) / (len(x) - 2))
    spread = np.sqrt(1 + 1 / len(x) + (place - np.mean(x)) ** 2 / np.sum((np.array(x) - np.mean(x)) ** 2))
    expected = student.isf(tail, len(x) - 2) * scatter * spread
    assert band_at(line, place, tail) == pytest.approx(expected, rel=1e-6, abs=1e-6)


@example([(0.0, 141.0), (2.0, 63.0), (2.0, 63.0)], 20.0, True)
@given(READINGS, st.floats(20, 180), st.booleans())
def test_where_the_band_meets_a_limit_its_edge_is_there(
    readings: list[tuple[float, float]], limit: float, lower: bool
) -> None:
    x, y = [at for at, _ in readings], [other for _, other in readings]
    assume(max(x) - min(x) > 1)
    line, start = fitted(x, y), max(x)
    sign = 1 if lower else -1

    def room(place: float) -> float:
        return sign * (value_at(line, place) - limit) - band_at(line, place, 0.05)

    found = band_meets(line, limit, lower, start, 0.05)
    if found is None:
        # However far one looks, the edge has not come to the limit.
        assert all(room(start + far) > -1e-6 for far in (0, 1, 10, 100, 1000))
    elif found == start:
        assert room(start) <= 1e-6
    else:
        assert room(found) == pytest.approx(0, abs=1e-5 * (1 + found))
        assert all(room(start + (found - start) * part) > -1e-5 for part in (0.0, 0.25, 0.5, 0.75, 0.99))


@given(READINGS, st.floats(20, 180))
def test_the_line_itself_meets_a_limit_where_it_says(readings: list[tuple[float, float]], limit: float) -> None:
    x, y = [at for at, _ in readings], [other for _, other in readings]
    assume(max(x) - min(x) > 1)
    line = fitted(x, y)
    found = meets(line, limit, max(x))
    if found is not None:
        assert value_at(line, found) == pytest.approx(limit, rel=1e-6)
