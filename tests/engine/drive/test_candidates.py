"""Ways to build a unit, side by side, beside what the ramps screen says of each."""

import copy
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..samples import sample

BUILT = sample("candidates", "other pairs")["built"]


def rows(*tries: dict[str, Any], **changes: Any) -> dict[str, Any]:
    result = calc("candidates", {"built": BUILT, "tries": list(tries), **changes})
    return {row["name"]: row for row in result["candidates"]}


def by_ramps(**ramps: Any) -> Any:
    """What the ramps screen answers with other ramps."""
    return calc("ramps", {"built": BUILT, "ramps": BUILT["unit"]["ramps"] | ramps, "points": 3})["fittings"]


@pytest.mark.parametrize(
    ("name", "ramps", "fitted"),
    [
        ("as it is built", {}, 0),
        ("rings turned over", {}, 1),
        ("30/60 pair", {"drive_deg": 30, "coast_deg": 60}, 0),
        ("80/80 pair", {"drive_deg": 80, "coast_deg": 90, "pin_radius_mm": 36}, 0),
        ("ramps 35/55°", {"drive_deg": 35, "coast_deg": 55}, 0),
        ("ramps 55/35°, rings turned over", {"drive_deg": 35, "coast_deg": 55}, 1),
    ],
)
def test_a_candidate_is_what_the_ramps_screen_says(name: str, ramps: dict[str, Any], fitted: int) -> None:
    angles = {"drive_deg": 35, "coast_deg": 55}
    found = rows(angles, angles | {"fitted": "turned_over"})[name]
    expected = by_ramps(**ramps)[fitted]
    for way in ("drive", "coast"):
        for figure in ("locking_value", "locking_low", "locking_high", "bias_ratio", "takes_over_nm", "holds_to_nm"):
            assert found[way][figure] == pytest.approx(expected[way][figure]), figure


def test_faces_raise_preload_and_lock_alike_and_preload_changes_nothing_about_the_ramps() -> None:
    found = rows({"name": "more faces", "faces": 12}, {"name": "less preload", "torque_nm": 92})
    now, faces, less = found["as it is built"], found["more faces"], found["less preload"]
    # The unit has eight faces and 184 N·m.
    for figure in ("breakaway_nm", "preload_lock_nm", "preload_lock_low_nm", "preload_lock_high_nm"):
        assert faces[figure] == pytest.approx(1.5 * now[figure])
        assert less[figure] == pytest.approx(0.5 * now[figure])
    assert faces["drive"]["locking_value"] == pytest.approx(1.5 * now["drive"]["locking_value"])
    assert less["drive"]["locking_value"] == pytest.approx(now["drive"]["locking_value"])
    assert less["drive"]["takes_over_nm"] == pytest.approx(0.5 * now["drive"]["takes_over_nm"])
    # As a unit with that many faces from the start.
    other = copy.deepcopy(BUILT)
    other["measured"] = None
    plain = calc("candidates", {"built": other})["candidates"][0]
    more = copy.deepcopy(other)
    more["unit"]["friction"]["mu"] = 1.5 * other["unit"]["friction"].get("mu", 0.1)
    assert calc("candidates", {"built": more})["candidates"][0]["drive"]["locking_value"] == pytest.approx(
        1.5 * plain["drive"]["locking_value"]
    )


def test_the_trade_has_names_for_them_and_shallow_or_solid_ramps_have_cautions() -> None:
    found = rows(
        {"name": "one", "drive_deg": 45, "coast_deg": 90},
        {"name": "two", "drive_deg": 45, "coast_deg": 45},
        {"name": "none", "drive_deg": 90, "coast_deg": 90},
        {"name": "shallow", "drive_deg": 15, "faces": 24},
    )
    names = {name: found[name]["trade"] for name in ("as it is built", "rings turned over", "one", "two", "none")}
    assert names == {
        "as it is built": "one_and_a_half_way",
        "rings turned over": "more_on_coast",
        "one": "one_way",
        "two": "two_way",
        "none": "preload_alone",
    }
    assert {"shallow", "solid_drive"} <= {row["name"] for row in found["shallow"]["warnings"]}
    assert found["none"]["drive"]["takes_over"] == "never"


def test_the_torque_held_grows_with_the_torque_and_lies_in_its_range() -> None:
    small, large = rows(at_nm=100)["30/60 pair"], rows(at_nm=2000)["30/60 pair"]
    assert small["drive"]["held_nm"] < large["drive"]["held_nm"]
    for row in (small, large):
        assert row["drive"]["held_low_nm"] <= row["drive"]["held_nm"] <= row["drive"]["held_high_nm"]


def test_a_pair_that_the_unit_does_not_have_is_refused_where_it_was_chosen() -> None:
    with pytest.raises(BadInput) as refusal:
        rows({"pair": "30/60 pair"}, {"pair": "50/50"})
    assert refusal.value.field == "tries.1.pair"
