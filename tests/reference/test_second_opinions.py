"""The engine beside general libraries that were written by others."""

import math
from typing import Any

import numpy
import pint
import pytest
import scipy.integrate
import scipy.stats
import uncertainties
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import umath

from server.engine import calc
from server.engine.doubt.budget import Part, combine
from server.engine.doubt.student_t import normal_quantile, t_quantile, t_upper_tail
from server.engine.request.units import UNITS, factor
from server.engine.unit.friction import uniform_pressure_radius, uniform_wear_radius


# Nearer to the middle of the distribution than this scipy itself loses figures.
@given(st.floats(1e-6, 0.49), st.integers(1, 5000))
def test_t_quantiles_equal_scipys(tail: float, dof: int) -> None:
    assert t_quantile(tail, dof) == pytest.approx(scipy.stats.t.isf(tail, dof), rel=2e-7, abs=1e-9)


@given(st.floats(0.02, 0.06), st.integers(1, 5000))
def test_t_quantiles_of_verdicts_equal_scipys_closely(tail: float, dof: int) -> None:
    assert t_quantile(tail, dof) == pytest.approx(scipy.stats.t.isf(tail, dof), rel=1e-9)


@given(st.floats(0.01, 40), st.integers(1, 400))
def test_t_tails_equal_scipys(t: float, dof: int) -> None:
    assert t_upper_tail(t, dof) == pytest.approx(scipy.stats.t.sf(t, dof), abs=1e-13)


@given(st.floats(1e-9, 0.5))
def test_normal_quantiles_equal_scipys(tail: float) -> None:
    assert normal_quantile(tail) == pytest.approx(scipy.stats.norm.isf(tail), rel=1e-9, abs=1e-12)


PINT = {
    "nm": "newton * meter",
    "lbf_ft": "force_pound * foot",
    "lbf_in": "force_pound * inch",
    "kgf_m": "force_kilogram * meter",
    "mm": "millimeter",
    "inch": "inch",
    "thou": "thou",
    "n": "newton",
    "kgf": "force_kilogram",
    "lbf": "force_pound",
    "kg": "kilogram",
    "lb": "pound",
    "ms2": "meter / second ** 2",
    "g": "standard_gravity",
}


@pytest.mark.parametrize(("si", "unit"), [(si, row[0]) for si, rows in UNITS.items() if len(rows) > 1 for row in rows])
def test_every_unit_equals_pints(si: str, unit: str) -> None:
    registry: Any = pint.UnitRegistry()
    expected = registry.Quantity(1.0, PINT[unit]).to(PINT[si]).magnitude
    assert factor(unit, si) == pytest.approx(expected, rel=1e-15)


def test_a_typed_quantity_reaches_the_verdict_in_si() -> None:
    typed = [{"typed": text, "unit": "lbf_ft"} for text in ("70,5", "71", "70.0")]
    request = {
        "held": "bench_output_held",
        "wrench": {"kind": "beam", "high_nm": {"typed": "150", "unit": "lbf_ft"}, "division_nm": 2},
        "steady_nm": {"forward": typed},
        "limits": {"low_nm": 60},
    }
    registry: Any = pint.UnitRegistry()
    mean = registry.Quantity((70.5 + 71 + 70) / 3, PINT["lbf_ft"]).to("newton * meter").magnitude
    assert calc("breakaway", request)["value_nm"] == pytest.approx(mean, rel=1e-14)


@given(
    st.floats(50, 1000),
    st.floats(10, 300),
    st.floats(0, 60),
    st.floats(20, 100),
    st.floats(0.5, 10),
    st.floats(0.1, 20),
)
def test_the_budget_of_an_adapter_propagates_as_uncertainties_does(
    length: float, arm: float, angle: float, reading: float, doubt: float, doubt_deg: float
) -> None:
    request = {
        "held": "bench_case_held",
        "wrench": {"kind": "dial", "high_nm": 150, "division_nm": 1, "certificate_percent": 3},
        "adapter": {
            "wrench_mm": length,
            "adapter_mm": arm,
            "angle_deg": angle,
            "doubt_mm": doubt,
            "doubt_deg": doubt_deg,
        },
        "steady_nm": {"forward": [reading, reading * 1.01, reading * 0.99]},
        "limits": {"low_nm": 1},
    }
    result = calc("breakaway", request)
    even = 1 / math.sqrt(3)
    wrench = uncertainties.ufloat(length, doubt * even)
    adapter = uncertainties.ufloat(arm, doubt * even)
    repeats = reading * 0.01 / math.sqrt(3)
    read = (
        uncertainties.ufloat(reading, repeats)
        + uncertainties.ufloat(0, reading * 0.015)
        + uncertainties.ufloat(0, 0.5 * even)
    )
    turned = uncertainties.ufloat(math.radians(angle), math.radians(doubt_deg) * even)
    torque = read * (wrench + adapter * umath.cos(turned)) / wrench / 2
    assert result["value_nm"] == pytest.approx(torque.nominal_value, rel=1e-9)
    assert result["u_nm"] == pytest.approx(torque.std_dev, rel=1e-6)


@given(st.floats(10, 100), st.floats(1.05, 3))
def test_friction_radii_equal_an_integration_over_the_ring(inner: float, ratio: float) -> None:
    outer = inner * ratio
    torque, _ = scipy.integrate.quad(lambda r: r * r, inner, outer)
    area, _ = scipy.integrate.quad(lambda r: r, inner, outer)
    assert uniform_pressure_radius(inner, outer) == pytest.approx(torque / area, rel=1e-9)
    # Even wear: pressure falls as 1/r.
    torque, _ = scipy.integrate.quad(lambda r: r, inner, outer)
    assert uniform_wear_radius(inner, outer) == pytest.approx(torque / (outer - inner), rel=1e-9)


def test_expanded_uncertainty_covers_as_often_as_it_says() -> None:
    # Four readings of a normal quantity: the interval of 95 % must cover the truth in 95 % of many trials.
    generator = numpy.random.default_rng(20261125)
    trials = generator.normal(0.0, 1.0, (4000, 4))
    means = trials.mean(axis=1)
    scatters = trials.std(axis=1, ddof=1)
    covered = [
        abs(mean) <= combine([Part("repeats", "", scatter / 2, 3)]).expanded
        for mean, scatter in zip(means, scatters, strict=True)
    ]
    assert numpy.mean(covered) == pytest.approx(0.95, abs=0.012)
