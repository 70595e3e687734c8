"""Closing the cover: forces that follow from the unit's own spring."""

import re
from typing import Any

import pytest

from server.engine import calc
from server.engine.request.units import GRAVITY
from server.engine.unit.friction import apparent_friction, friction_warning, pack_torque

from ..checks import changed
from ..samples import sample

CLOSING = sample("closing", "in line")


def names(about: str) -> set[str]:
    """Names of the warnings of a sample."""
    return {warning["name"] for warning in calc("closing", sample("closing", about))["warnings"]}


def test_the_vice_holds_the_preload() -> None:
    result = calc("closing", CLOSING)
    unit = calc("unit", CLOSING["unit"])
    assert result["flush_n"] == pytest.approx(unit["preload_n"])
    assert result["flush_kgf"] == pytest.approx(unit["preload_n"] / GRAVITY)
    assert result["per_screw_n"] == pytest.approx(unit["preload_n"] / 8)


def test_the_energy_is_the_work_of_the_vice() -> None:
    result, steps = calc("closing", CLOSING), 40
    each = result["crush_mm"] / steps
    forces = [calc("closing", {**CLOSING, "crush_mm": each * (place + 0.5)})["flush_n"] for place in range(steps)]
    work = sum(forces) * each / 1000
    assert result["energy_j"] == pytest.approx(work, rel=0.001)


def test_the_gap_at_first_thread_lets_the_spring_out_by_as_much() -> None:
    request = changed(CLOSING, unit__cover__start_mm=0.5)
    result = calc("closing", request)
    assert result["start_n"] == pytest.approx(
        calc("closing", {**request, "crush_mm": result["crush_mm"] - 0.5})["flush_n"]
    )
    assert "pushes_at_start" in [warning["name"] for warning in result["warnings"]]


def test_a_gap_that_nobody_gave_is_said_as_assumed_with_the_force_that_rests_on_it() -> None:
    blank = changed(CLOSING, unit__cover__start_mm=None)
    result = calc("closing", blank)
    assert (result["start_mm"], result["start_assumed"]) == (2.0, True)
    given = calc("closing", changed(CLOSING, unit__cover__start_mm=2))
    assert (given["start_mm"], given["start_assumed"]) == (2.0, False)
    assert result["start_most_n"] == given["start_most_n"]
    # 20 mm let every spring free; the force of a small gap is said in the concern as well.
    deep = changed(blank, unit__cavity_mm=62.0)
    pushing = calc("closing", deep)
    assert pushing["start_most_n"] > 0
    warning = next(row["text"] for row in pushing["warnings"] if row["name"] == "pushes_at_start")
    for text in (result["start_text"], pushing["start_text"], warning):
        assert "2.000 mm" in text
        assert "assumed" in text
    assert f"{pushing['start_most_n']:.0f} N" in pushing["start_text"]
    assert "assumed" not in given["start_text"]
    assert calc("unit", blank["unit"])["checked"]["cover"]["start_mm"] is None


def test_friction_of_nested_discs_is_in_what_the_vice_must_hold() -> None:
    rubbing = sample("closing", "friction of two nested discs")
    without = changed(rubbing, unit__spring__surface_friction=None, unit__spring__edge_friction=None)
    result, plain = calc("closing", rubbing), calc("closing", without)
    # DIN EN 16984: n P / (1 - w_M (n - 1) - w_R) down, with + on the way up.
    assert result["flush_n"] == plain["flush_n"]
    assert result["closing_n"] == pytest.approx(plain["flush_n"] / (1 - 0.015 - 0.03))
    assert result["opening_n"] == pytest.approx(plain["flush_n"] / (1 + 0.015 + 0.03))
    assert result["vice_most_n"] == pytest.approx(plain["vice_most_n"] / (1 - 0.015 - 0.03))
    assert result["energy_most_j"] == plain["energy_most_j"], "friction gives nothing back"
    assert (plain["closing_n"], plain["opening_n"], plain["friction_text"]) == (None, None, "")
    assert f"{result['closing_n']:.0f} N" in result["friction_text"]


def test_the_screws_keep_what_the_spring_leaves() -> None:
    # 25 N·m, M8, nut factor 0.2: 15 625 N a screw.
    result = calc("closing", CLOSING)
    assert result["screw_n"] == pytest.approx(15625)
    assert result["clamp_left_n"] == pytest.approx(8 * 15625 - result["flush_n"])
    oiled = calc("closing", {**CLOSING, "nut_factor": 0.15})
    assert oiled["screw_n"] == pytest.approx(15625 * 0.2 / 0.15)


RAMPS = {"pin_radius_mm": 30, "drive_deg": 45, "coast_deg": 60, "mu": 0.1}


def test_the_clamp_left_counts_the_ramps_at_the_greatest_torque_at_the_case() -> None:
    unit = CLOSING["unit"] | {"ramps": RAMPS}
    known = calc("closing", CLOSING | {"unit": unit | {"cover": unit["cover"] | {"case_nm": 2500}}})
    # 45 degrees with the least friction, 0.07: cot(45 + 4.0) of 2500 N·m over two pin radii.
    assert known["push_most_n"] == pytest.approx(2500 / 0.06 * (1 - 0.07) / (1 + 0.07), rel=1e-9)
    assert known["left_n"] == pytest.approx(8 * 15625 - known["push_most_n"])
    assert known["left_low_n"] == pytest.approx(8 * 15625 / 1.25 - known["push_most_n"])
    assert "At 2500.0 N·m into the case spring and ramps push the cover with up to 36 kN" in known["clamp_text"]
    assert "about 89 kN, from 64 kN to 130 kN, since a nut factor is known to a quarter" in known["clamp_text"]
    # The rings turned over push with the other flank: it is the same.
    over = RAMPS | {"drive_deg": 60, "coast_deg": 45}
    turned = calc("closing", CLOSING | {"unit": unit | {"ramps": over, "cover": unit["cover"] | {"case_nm": 2500}}})
    assert turned["push_most_n"] == known["push_most_n"]


@pytest.mark.parametrize(
    ("ramps", "case", "lacks"), [(RAMPS, None, "the greatest torque at the case"), (None, 2500, "the ramps")]
)
def test_without_torque_or_ramps_the_clamp_is_that_above_the_spring_alone(
    ramps: dict[str, Any] | None, case: float | None, lacks: str
) -> None:
    unit = CLOSING["unit"] | {"ramps": ramps, "cover": CLOSING["unit"]["cover"] | {"case_nm": case}}
    result = calc("closing", CLOSING | {"unit": unit})
    assert result["left_n"] is None
    assert "more than the spring alone needs" in result["clamp_text"]
    assert f"once the definition gives {lacks}" in result["clamp_text"]
    assert re.search(r"about \d0 kN|about 1\d0 kN", result["clamp_text"])


def test_a_cover_that_the_ramps_push_harder_than_its_screws_clamp_is_named() -> None:
    unit = CLOSING["unit"] | {"ramps": RAMPS}

    def warnings_of(case: float) -> set[str]:
        request = CLOSING | {"unit": unit | {"cover": unit["cover"] | {"case_nm": case}}}
        return {row["name"] for row in calc("closing", request)["warnings"]}

    assert "no_clamp_on_drive" in warnings_of(9000)
    assert warnings_of(7500) & {"no_clamp_on_drive", "little_clamp_on_drive"} == {"little_clamp_on_drive"}
    assert not warnings_of(2500) & {"no_clamp_on_drive", "little_clamp_on_drive"}


def test_dangers_are_named() -> None:
    assert "little_clamp" in names("weak screws")
    weaker = changed(sample("closing", "weak screws"), unit__cover__torque_nm=1)
    assert "no_clamp" in [warning["name"] for warning in calc("closing", weaker)["warnings"]]
    assert "loose" in names("loose stack")
    assert "solid" in names("flat spring")
    assert not calc("closing", sample("closing", "flat spring"))["closes"]


def test_two_springs_share_the_crush() -> None:
    two = sample("closing", "two springs")
    result, unit = calc("closing", two), calc("unit", two["unit"])
    assert result["flush_n"] == pytest.approx(unit["preload_n"])
    one_spring = calc("spring", {"spring": two["unit"]["spring"], "deflection_mm": unit["deflection_mm"]})["at"]
    assert result["energy_j"] == pytest.approx(2 * one_spring["energy_j"])


def test_the_caution_names_the_force_and_comes_first() -> None:
    result = calc("closing", CLOSING)
    assert f"{result['flush_n']:.0f} N" in result["cautions"][0]
    assert "vice" in result["cautions"][0]


@pytest.mark.parametrize("mu", [0.05, 0.1, 0.2])
def test_apparent_friction_is_the_inverse_of_the_torque(mu: float) -> None:
    torque = pack_torque(8, mu, 44.0, 5000.0)
    assert apparent_friction(torque, 8, 44.0, 5000.0) == pytest.approx(mu)
    assert friction_warning(mu) is None


@pytest.mark.parametrize(("mu", "side"), [(0.03, "too low"), (0.3, "too high")])
def test_friction_that_cannot_be_is_questioned(mu: float, side: str) -> None:
    assert side in (friction_warning(mu) or "")


def test_the_vice_is_told_the_most_that_a_new_spring_may_push() -> None:
    # 100 x 51 x 3.5 may be 10 % stronger where it is tested, and 0.3 mm higher: DIN EN 16983.
    at_test = calc("closing", {**CLOSING, "crush_mm": 0.75 * 2.8})
    assert at_test["vice_most_n"] == pytest.approx(1.1 * at_test["flush_n"], rel=1e-9)
    result = calc("closing", CLOSING)
    assert result["vice_most_n"] > 1.1 * result["flush_n"]
    assert result["vice_most_kgf"] == pytest.approx(result["vice_most_n"] / GRAVITY)
    assert result["energy_most_j"] > 1.1 * result["energy_j"]
    assert f"up to {result['vice_most_n']:.0f} N" in result["cautions"][0]


def test_a_cover_that_should_just_be_free_may_still_be_pushed() -> None:
    # The table's spring is loose where the screws catch; one that is 0.3 mm higher is not.
    loose = changed(CLOSING, unit__cover__start_mm=calc("closing", CLOSING)["crush_mm"] + 0.1)
    result = calc("closing", loose)
    assert result["start_n"] == 0.0
    assert result["start_most_n"] > 0.0
    assert "pushes_at_start" in [warning["name"] for warning in result["warnings"]]


def test_the_vice_holds_the_peak_on_the_way() -> None:
    peaked = changed(CLOSING, unit__spring={"de_mm": 100, "di_mm": 51, "t_mm": 2, "l0_mm": 6.3})
    near, far = (calc("closing", {**peaked, "crush_mm": crush}) for crush in (2.2, 3.8))
    assert far["flush_n"] < near["flush_n"]
    assert far["vice_most_n"] >= 1.1 * near["flush_n"]
    assert far["vice_most_n"] == pytest.approx(near["vice_most_n"], rel=0.02)
    assert far["energy_most_j"] > near["energy_most_j"]


def test_a_stack_that_just_touches_is_not_less_than_nothing_short() -> None:
    texts = [warning["text"] for warning in calc("closing", {**CLOSING, "crush_mm": 0})["warnings"]]
    assert "The stack is 0.000 mm short of the cover: there is no preload at all." in texts


def test_the_vice_is_told_how_far_to_open_and_what_it_would_throw() -> None:
    result = calc("closing", CLOSING)
    # 3.5 mm thick: up to 0.30 mm taller than its table, DIN EN 16983:2017.
    assert result["free_after_mm"] == pytest.approx(result["crush_mm"] + 0.30)
    assert result["free_after_mm"] + 1.0 <= result["open_to_mm"] < result["free_after_mm"] + 1.5
    assert result["rated_n"] == pytest.approx(2 * result["vice_most_n"])
    # Potential energy of 1 kg under standard gravity.
    assert result["lift_m"] == pytest.approx(result["energy_most_j"] / 9.80665)


def test_a_units_own_figures_stand_at_their_steps() -> None:
    steps = calc("steps", {})
    result = calc("closing", {**CLOSING, "write_forces_in": "kgf", "write_in": "lbf_ft"})
    for procedure in ("strip", "close"):
        names = [step["name"] for step in steps[procedure]]
        assert [row["step"] for row in result["at_steps"][procedure] if row["step"] not in names] == []
    sentences = {
        (procedure, row["step"]): row["text"]
        for procedure in result["at_steps"]
        for row in result["at_steps"][procedure]
    }
    assert f"{result['rated_n'] / 9.80665:.1f} kgf" in result["at_steps"]["strip"][0]["text"]
    assert f"{result['open_to_mm']:.1f} mm" in sentences["strip", "relieved"]
    assert f"{25 / 1.3558179483:.1f} lbf·ft" in sentences["close", "screws"]
    assert f"{25 / 1.3558179483:.1f} lbf·ft" in sentences["close", "opened"]


def test_which_way_the_spring_faces_is_said_where_it_is_put_in() -> None:
    known = changed(CLOSING)
    for item in known["unit"]["chain"]:
        if item["part"] == "spring":
            item["cone_to"] = "cover"
            slot = item["slot"]
    sentences = [row["text"] for row in calc("closing", known)["at_steps"]["close"] if row["step"] == "cone"]
    assert sentences == [f"{slot}: the point of its cone faces the cover."]
    assert "cone" not in [row["step"] for row in calc("closing", CLOSING)["at_steps"]["close"]]
