"""The engine against published values; each source is named beside its check."""

import csv
import math
import statistics
from pathlib import Path

import pytest

from server.engine.doubt.budget import Part, combine, effective_dof
from server.engine.doubt.student_t import normal_quantile, t_quantile
from server.engine.request.units import GRAVITY, factor
from server.engine.torque_check.wrench import PERMITTED_PERCENT, wrench_factor
from server.engine.unit.friction import pack_torque, uniform_pressure_radius, uniform_wear_radius
from server.engine.unit.spring import FIELDS, cone_height, disc_of, load
from server.engine.unit.stack import sliding_faces

HERE = Path(__file__).parent


def spring_rows() -> list[dict[str, str]]:
    """The rows of the table of disc springs."""
    with (HERE / "disc_springs.csv").open(encoding="utf-8") as table:
        return list(csv.DictReader(line for line in table if not line.startswith("#")))


def ratio(row: dict[str, str]) -> float:
    """Computed load over tabled load at three quarters of the cone height."""
    sizes = {name.lower(): row[name] for name in ("De_mm", "Di_mm", "t_mm", "l0_mm")}
    disc = disc_of(FIELDS.read(sizes, "spring"))
    return load(disc, 0.75 * cone_height(disc)) / float(row["load_N"])


@pytest.mark.parametrize("row", spring_rows(), ids=lambda row: f"{row['series']}-{row['De_mm']}")
def test_each_tabled_spring_carries_its_load_within_two_percent(row: dict[str, str]) -> None:
    # DIN EN 16983, dimension tables, from memory.
    assert ratio(row) == pytest.approx(1, abs=0.02)


def test_the_median_of_all_tabled_springs_is_within_four_thousandths() -> None:
    # DIN EN 16983, dimension tables, from memory.
    ratios = [ratio(row) for row in spring_rows()]
    assert len(ratios) == 37
    assert statistics.median(ratios) == pytest.approx(1, abs=0.004)


def test_clutch_with_uniform_wear() -> None:
    # V. B. Bhandari, Design of Machine Elements, example 11.1: d 100, D 200 mm, mu 0.2, 1 MPa at the inner edge.
    force = math.pi * 1.0 * 100 / 2 * (200 - 100)
    assert force == pytest.approx(15707.96, abs=0.005)
    assert 1000 * pack_torque(1, 0.2, uniform_wear_radius(50, 100), force) == pytest.approx(235619.4, abs=0.06)


def test_clutch_with_uniform_pressure() -> None:
    # The same, example 11.2.
    force = math.pi / 4 * 1.0 * (200**2 - 100**2)
    assert force == pytest.approx(23561.94, abs=0.005)
    assert 1000 * pack_torque(1, 0.2, uniform_pressure_radius(50, 100), force) == pytest.approx(366519.1, abs=0.06)


def test_multi_disk_pack_with_uniform_wear() -> None:
    # The same, example 11.8: 5 steel and 4 bronze plates, d 75, D 150 mm, mu 0.1, 0.3 MPa. Steel at both ends.
    faces = sliding_faces(["separator", "friction"] * 4 + ["separator"])
    assert faces == 8
    force = math.pi * 0.3 * 75 / 2 * (150 - 75)
    assert force == pytest.approx(2650.72, abs=0.005)
    assert 1000 * pack_torque(faces, 0.1, uniform_wear_radius(37.5, 75), force) == pytest.approx(119282.3, abs=0.06)


@pytest.mark.parametrize(
    ("wanted", "adapter", "angle", "reading", "within"),
    [
        (135, 1.5, 0, 117.39, 0.005),  # FAA AC 43.13-1B, figure 7-2, as an aircraft maintenance manual repeats it
        (135, 1.5, 180, 158.82, 0.005),  # the same, adapter turned back
        (300, 4, 0, 214, 0.5),  # US Army TM 1-1500-204-23-9, chapter 8
    ],
)
def test_wrench_with_an_adapter(wanted: float, adapter: float, angle: float, reading: float, within: float) -> None:
    # All with a wrench of 10 inch, torques in lbf·in; the ratio has no unit.
    factor_of = wrench_factor({"wrench_mm": 254.0, "adapter_mm": 25.4 * adapter, "angle_deg": float(angle)})
    assert wanted / factor_of == pytest.approx(reading, abs=within)


def test_effective_degrees_of_freedom() -> None:
    # JCGM 100:2008 (GUM), G.4.1, from memory: 0.25, 0.57 and 0.82 % with 9, 4 and 14 degrees of freedom.
    parts = [Part("a", "", 0.25, 9), Part("b", "", 0.57, 4), Part("c", "", 0.82, 14)]
    assert combine(parts).u == pytest.approx(1.03, abs=0.005)
    assert effective_dof(parts) == pytest.approx(19.0, abs=0.05)
    assert t_quantile(0.025, 19) == pytest.approx(2.09, abs=0.005)


def test_probability_of_conformity_at_one_limit() -> None:
    # JCGM 106:2012, the Zener diode, from memory: -5.47 V, u 0.05 V, limit -5.40 V: conforms with 0.92.
    assert normal_quantile(1 - 0.92) == pytest.approx((-5.40 + 5.47) / 0.05, abs=0.03)


def test_guard_factor_for_a_risk_of_five_percent() -> None:
    # JCGM 106:2012, table 1, from memory (ISO 14253-1 rounds it up to 1.65).
    assert t_quantile(0.05, float("inf")) == pytest.approx(1.64, abs=0.005)
    doubt = combine([Part("tool", "", 2.0, float("inf"))])
    assert doubt.guard == pytest.approx(1.64 * 2.0, abs=0.01)


@pytest.mark.parametrize(
    ("unit", "size"),
    # NIST SP 811, appendix B, from memory: exact, from the pound, the inch and standard gravity.
    [("lbf_ft", 1.3558179483314004), ("lbf_in", 0.1129848290276167), ("kgf_m", 9.80665)],
)
def test_torque_units_are_exact(unit: str, size: float) -> None:
    assert factor(unit, "nm") == size


def test_torque_units_follow_from_pound_inch_and_gravity_in_whole_numbers() -> None:
    # 0.45359237 kg, 0.3048 m and 9.80665 m/s2 as integers, divided once.
    assert factor("lbf_ft", "nm") == 45359237 * 980665 * 3048 / 10**17
    assert factor("lbf_in", "nm") == 45359237 * 980665 * 254 / 10**17
    assert factor("lbf", "n") == 45359237 * 980665 / 10**13
    assert GRAVITY == 9.80665
    assert factor("inch", "mm") == 25.4
    assert factor("thou", "mm") == 0.0254


def test_permitted_deviations_of_hand_torque_tools() -> None:
    # ISO 6789-1:2017, from memory: 6 % for a bending or torsion bar, 4 % for dial and electronic ones above 10 N·m.
    assert PERMITTED_PERCENT["beam"] == 6.0
    assert PERMITTED_PERCENT["dial"] == PERMITTED_PERCENT["electronic"] == 4.0
