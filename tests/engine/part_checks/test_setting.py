"""What to move where a crown wheel is set: figures by hand, what is said, and what old entries get."""

import math
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import changed
from ..samples import sample

TIGHT = sample("refit", "too tight: the crown wheel moves by a usual ratio")
LEARNT = sample("refit", "the second try learns from the first")
HEEL = sample("refit", "backlash good, contact at the heel")
EVEN = 1 / math.sqrt(3)


def advice(request: dict[str, Any], about: str) -> str:
    return " ".join(row["text"] for row in calc("refit", request)["setting"]["advice"] if row["about"] == about)


def test_a_dial_gauge_worked_by_hand() -> None:
    # Gauge within 0.02 mm, one division 0.01 mm read twice: u^2 = 0.02^2/3 + 2 * 0.005^2/3 = 1.500e-4, u = 0.01225,
    # U = 1.96 u = 0.0240. From 0.055 to 0.150 is 0.095; over 0.7 that is 0.136 mm, and it may be
    # (0.095 - 0.0240) / 0.9 = 0.079 to (0.095 + 0.0240) / 0.5 = 0.238 mm.
    found = calc("refit", TIGHT)["setting"]
    assert found["backlash"]["found_within_mm"] == pytest.approx(0.0240, abs=1e-4)
    moves = (found["move_low_mm"], found["move_mm"], found["move_high_mm"])
    assert moves == pytest.approx((0.079, 0.1357, 0.238), abs=5e-4)
    assert (found["behind_change_mm"], found["tooth_change_mm"]) == pytest.approx((-0.1357, 0.1357), abs=1e-4)
    assert "common practice, no source" in advice(TIGHT, "backlash")


def test_backlash_for_each_millimetre_equals_gears_worked_out_by_hand() -> None:
    # 2 tan 22.5 sin(atan 41/11) / cos 35 = 0.977; square to the flank times cos 22.5 cos 35 = 0.739;
    # at 92 of 80 mm 0.850.
    found = calc("refit", sample("refit", "too loose, the gears known, shims in steps"))["setting"]["backlash"]
    assert found["ratio"] == pytest.approx(0.850, abs=1e-3)
    assert (found["ratio_low"], found["ratio_high"]) == pytest.approx((0.765, 0.935), abs=1e-3)


def test_the_second_try_learns_from_the_first() -> None:
    # Backlash from 0.12 to 0.25 while the crown wheel went 0.2 mm: 0.65, where 0.7 is usual.
    found = calc("refit", LEARNT)["setting"]
    assert (found["backlash"]["ratio"], found["backlash"]["ratio_from"]) == (pytest.approx(0.65), "tries")
    assert found["move_mm"] == pytest.approx(-0.1 / 0.65)
    # Torque from 0.5 to 1.033 N·m for 0.2 mm of shims.
    assert found["rises_nm"] == pytest.approx(0.5333 / 2, abs=1e-3)
    assert [row["backlash_mm"] for row in found["tries"]] == pytest.approx([0.12, 0.25])


def test_a_try_at_another_depth_of_the_pinion_teaches_nothing_of_backlash() -> None:
    moved = changed(LEARNT, shims__pinion_mm=1.2)
    assert calc("refit", moved)["setting"]["backlash"]["ratio_from"] == "usual"


def test_tries_that_contradict_or_lie_too_close_are_not_used_and_it_is_said() -> None:
    for about, sentence in (
        ("tries that contradict the gears", "The tries contradict the gears"),
        ("tries that lie too close together", "too close together for this gauge"),
    ):
        request = sample("refit", about)
        assert calc("refit", request)["setting"]["backlash"]["ratio_from"] == "usual"
        assert sentence in advice(request, "backlash")
    beside = sample("refit", "tries beside the geometry")
    assert calc("refit", beside)["setting"]["backlash"]["ratio_from"] == "tries"
    assert "nothing else was changed" in advice(beside, "backlash")


@pytest.mark.parametrize(
    ("drive", "crown", "pinion"), [("heel", -1, 0), ("toe", 1, 0), ("face", 0, 1), ("flank", 0, -1)]
)
def test_each_contact_pattern_moves_its_own_part(drive: str, crown: int, pinion: int) -> None:
    wide = changed(HEEL, contact__drive=drive, backlash__low_mm=0.05, backlash__high_mm=0.3)
    result = calc("refit", wide)
    assert result["verdict"] == "rework"
    found = result["setting"]
    assert found["pinion_change_mm"] == pytest.approx(0.05 * pinion)
    # With the pinion the crown wheel moves alone so far that backlash stays.
    assert found["move_mm"] == pytest.approx(0.05 * crown)
    assert found["with_pinion_mm"] == pytest.approx(0.05 * pinion * 0.25)
    assert "common practice, no source" in advice(wide, "contact")


def test_the_other_kind_of_axle_takes_the_shim_the_other_way() -> None:
    high = changed(HEEL, contact__drive="face", shims={"pinion_mm": 1.2, "thicker": "shallower"})
    found = calc("refit", high)["setting"]
    assert (found["pinion_mm"], found["with_pinion_mm"]) == pytest.approx((1.15, 0.0125))


def test_contact_never_takes_backlash_out_of_its_limits() -> None:
    # Tightest tooth 0.14, limit 0.10, guard 1.645 * sqrt(3 * 0.005^2 / 3) = 0.0082: 0.0318 is left, at most 0.9 a mm.
    found = calc("refit", HEEL)["setting"]
    assert -found["move_mm"] == pytest.approx(0.0318 / 0.9, abs=2e-4)
    stuck = changed(HEEL, backlash__points_mm=[0.109, 0.11, 0.11])
    assert calc("refit", stuck)["setting"]["move_mm"] == 0
    assert "has no room for that" in advice(stuck, "contact")


def test_of_one_try_only_the_direction_is_known_for_the_bearings() -> None:
    one_try = sample("refit", "bearings: only the direction is known")
    found = calc("refit", one_try)["setting"]
    assert (found["rises_nm"], found["behind_change_mm"], found["tooth_change_mm"]) == (None, 0, 0)
    assert "not known from one try" in advice(one_try, "bearings")
    assert advice(one_try, "bearings").startswith("Add shims on both sides alike")
    free = changed(one_try, bearings__readings_nm=[3.0, 3.1])
    assert advice(free, "bearings").startswith("Take out shims")


def test_a_good_refit_moves_nothing() -> None:
    found = calc("refit", sample("refit", "all three"))["setting"]
    assert [found[name] for name in ("move_mm", "behind_change_mm", "tooth_change_mm", "pinion_change_mm")] == [0.0] * 4
    assert not any(row["about"] == "shims" for row in found["advice"])
    assert calc("refit", {"screws": sample("refit", "all three")["screws"]})["setting"] is None


def test_a_wanted_backlash_inside_the_limits_is_gone_for() -> None:
    request = changed(HEEL, contact__drive="good", backlash__wanted_mm=0.18)
    assert calc("refit", request)["setting"]["move_mm"] == pytest.approx(0.03 / 0.7)


def test_an_expired_gauge_and_uneven_teeth_move_nothing_by_themselves() -> None:
    expired = changed(HEEL, contact__drive="good", day="2026-05-09", backlash__gauge__calibration_due="2026-01-01")
    result = calc("refit", expired)
    assert (result["verdict"], result["setting"]["move_mm"]) == ("measure_again", 0)


@pytest.mark.parametrize("drive", ["", None])
def test_a_contact_pattern_that_was_not_chosen_is_asked_for(drive: str | None) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("refit", {**TIGHT, "contact": {"drive": drive}})
    assert refusal.value.field == "contact.drive"


def test_shims_at_hand_are_not_passed_over() -> None:
    coarse = changed(TIGHT, shims={"step_mm": 0.5})
    assert "a thinner shim is needed" in advice(coarse, "backlash")
    few = sample("refit", "more is taken out than there is")
    assert "more than there is" in advice(few, "shims")
