"""What cannot be measured comes back as it was, and is refused where nobody could tell."""

from typing import Any

import pytest

from server.engine import BadInput, calc
from tests.engine.checks import UNIT, changed

NO_DEPTH = changed(UNIT, cavity_mm=None)


def worked(way: str, unit: dict[str, Any] | None = None, **given: Any) -> dict[str, Any]:
    return calc("work_out", {"from": way} | ({} if unit is None else {"unit": unit}) | given)


def test_a_depth_from_the_torque_that_it_gives_is_that_depth() -> None:
    torque = calc("unit", UNIT)["breakaway_nm"]
    assert worked("depth_from_torque", NO_DEPTH, torque={"torque_nm": torque})["mm"]["value"] == pytest.approx(62.9)


def test_a_depth_from_the_crush_that_it_gives_is_that_depth() -> None:
    crush = calc("unit", UNIT)["crush_mm"]
    assert worked("depth_from_gap", NO_DEPTH, gap={"gap_mm": crush})["mm"]["value"] == pytest.approx(62.9)


def test_a_depth_from_two_builds_needs_neither_friction_nor_rubbing_ring() -> None:
    first, second = (calc("unit", changed(UNIT, cavity_mm=depth))["breakaway_nm"] for depth in (63.1, 62.9))
    builds = {"torque_nm": first, "second_nm": second, "thicker_mm": 0.2, "expanded_nm": 1, "second_expanded_nm": 1}
    result = worked("depth_from_builds", changed(NO_DEPTH, friction=None), builds=builds)
    assert result["mm"]["value"] == pytest.approx(63.1)
    # Taken the other way round it is the same unit.
    turned = builds | {"torque_nm": second, "second_nm": first, "thicker_mm": -0.2, "solids_mm": 58.2}
    assert worked("depth_from_builds", NO_DEPTH, builds=turned)["mm"]["value"] == pytest.approx(63.1)


def test_a_friction_from_the_torque_that_it_gives_is_that_friction() -> None:
    torque = calc("unit", UNIT)["breakaway_nm"]
    result = worked("friction_from_torque", UNIT, torque={"torque_nm": torque})
    assert result["mu"]["value"] == pytest.approx(0.1)
    assert result["fill"] == {"typed": "0.1000", "unit": ""}


def test_a_height_from_a_load_is_the_height_that_gives_that_load() -> None:
    disc = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5}
    at = calc("spring", {"spring": disc | {"l0_mm": 6.3}, "deflection_mm": 1.0})["at"]
    load = {"load_n": at["load_n"], "height_mm": at["height_mm"]}
    assert worked("height_from_load", spring=disc, load=load)["mm"]["value"] == pytest.approx(6.3)


def test_what_comes_of_it_fits_into_the_definition_with_its_mark() -> None:
    result = worked("depth_from_gap", NO_DEPTH, gap={"gap_mm": 1.3333}, day="2026-05-09")
    filled = changed(NO_DEPTH, cavity_mm=result["fill"], worked_out={"cavity_mm": result["mark"]})
    marked = calc("unit", filled)["worked_out"]
    assert [row["field"] for row in marked] == [result["field"]]
    assert marked[0]["basis"] == "a gap of 1.333 mm, 2026-05-09"


def test_the_doubt_is_shared_out_and_grows_with_what_was_given() -> None:
    close, rough = (worked("depth_from_gap", NO_DEPTH, gap={"gap_mm": 1.4, "within_mm": off}) for off in (0.01, 0.4))
    assert rough["mm"]["u"] > close["mm"]["u"]
    assert rough["doubt"][0]["name"] == "gap"
    assert sum(row["share"] for row in rough["doubt"]) == pytest.approx(1)


STEEP = changed(NO_DEPTH, spring={"de_mm": 100, "di_mm": 51, "t_mm": 2.0, "l0_mm": 5.6})


@pytest.mark.parametrize(
    ("way", "unit", "given", "field", "words"),
    [
        (
            "depth_from_torque",
            STEEP,
            {"torque": {"torque_nm": 71}},
            "torque.torque_nm",
            "Two depths .* neither is taken",
        ),
        ("depth_from_torque", STEEP, {"torque": {"torque_nm": 62}}, "torque.torque_nm", "curve is flat"),
        ("depth_from_torque", STEEP, {"torque": {"torque_nm": 90}}, "torque.torque_nm", "at most: check the torque"),
        ("depth_from_torque", NO_DEPTH, {"torque": {"torque_nm": 9}}, "torque.torque_nm", "only from 15 to 75 %"),
        ("depth_from_gap", NO_DEPTH, {"gap": {"gap_mm": 2.9}}, "gap.gap_mm", "flat at 2.800 mm"),
        ("friction_from_torque", changed(UNIT, cavity_mm=65), {"torque": {"torque_nm": 90}}, "unit.cavity_mm", "short"),
    ],
)
def test_what_cannot_be_told_is_refused_in_one_sentence(
    way: str, unit: dict[str, Any], given: dict[str, Any], field: str, words: str
) -> None:
    with pytest.raises(BadInput, match=words) as caught:
        worked(way, unit, **given)
    assert caught.value.field == field


def test_nothing_is_worked_out_in_a_circle() -> None:
    friction = {"from": "friction_from_torque", "value": 0.1, "u": 0.01}
    depth = {"from": "depth_from_torque", "value_mm": 62.9, "u_mm": 0.1}
    torque = {"torque": {"torque_nm": 120}}
    with pytest.raises(BadInput, match="would only give that depth back"):
        worked("depth_from_torque", changed(NO_DEPTH, worked_out={"mu": friction}), **torque)
    with pytest.raises(BadInput, match="would only give that friction back"):
        worked("friction_from_torque", changed(UNIT, worked_out={"cavity_mm": depth}), **torque)
    # Another friction than the one that was worked out is known from elsewhere.
    known = changed(NO_DEPTH, worked_out={"mu": friction})
    assert worked("depth_from_torque", known, **torque, friction={"mu": 0.11})["mm"]["value"] > 60
