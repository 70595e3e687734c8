"""What a pattern that changed offers to its units: each change with both values, taken or left, and never twice."""

import copy
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import BadInput, calc

from ..checks import UNIT, changed

LIMITS = {"service": {"low_nm": 45}}
SHARED = {name: value for name, value in UNIT.items() if name != "name"}
COVER = {"screws": 8, "screw_mm": 8, "torque_nm": 25}
LINK = {"id": "id-1", "name": "Hillclimb", "seen": "id-2"}


def offer(own: dict[str, Any], seen: dict[str, Any] | None, wanted: dict[str, Any], *taken: str) -> dict[str, Any]:
    """What is offered to a unit, and the unit after some of it was taken."""
    request = {"own": own, "seen": seen, "wanted": wanted, "accepted": list(taken), "link": LINK}
    answer: dict[str, Any] = calc("pattern_offer", request)
    return answer


def rows(answer: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Name, own value and offered value of every change."""
    return [(row["name"], row["now"], row["offered"]) for row in answer["offers"]]


def test_a_change_is_offered_with_both_values_and_taken_only_where_it_is_accepted() -> None:
    wanted = changed(SHARED, order__torque_nm=105, chain__2__new_mm=2.6)
    found = offer(UNIT, SHARED, wanted)
    assert rows(found) == [
        ("order.torque_nm", "100.0 N·m", "105.0 N·m"),
        ("chain.A2.new_mm", "2.500 mm", "2.600 mm"),
    ]
    assert found["text"] == "2 changes to decide on"
    assert found["body"] == UNIT | {"pattern": LINK}
    taken = offer(UNIT, SHARED, wanted, "chain.A2.new_mm")["body"]
    assert taken == changed(UNIT, chain__2__new_mm=2.6) | {"pattern": LINK}


def test_what_was_declined_is_asked_again_only_where_the_pattern_changes_there_again() -> None:
    second = changed(SHARED, order__torque_nm=105)
    kept = offer(UNIT, SHARED, second)["body"]
    assert offer(kept, second, second)["offers"] == []
    third = changed(second, cavity_mm=62.8)
    assert [name for name, _, _ in rows(offer(kept, second, third))] == ["cavity_mm"]
    fourth = changed(third, order__torque_nm=110)
    assert rows(offer(kept, third, fourth)) == [("order.torque_nm", "100.0 N·m", "110.0 N·m")]


def test_a_unit_with_a_value_of_its_own_is_asked_once_and_one_that_has_it_already_never() -> None:
    own = changed(UNIT, order__torque_nm=95)
    assert rows(offer(own, SHARED, SHARED)) == []
    wanted = changed(SHARED, order__torque_nm=105)
    assert rows(offer(own, SHARED, wanted)) == [("order.torque_nm", "95.0 N·m", "105.0 N·m")]
    assert rows(offer(changed(UNIT, order__torque_nm=105), SHARED, wanted)) == []


def test_the_same_figure_in_another_unit_or_left_to_its_usual_value_is_no_change() -> None:
    typed = changed(SHARED, cavity_mm={"typed": "62,90", "unit": "mm"}, limits={"taper_mm": "0.03"}, hub_ratio="1")
    assert rows(offer(UNIT, SHARED, typed)) == []
    inch = changed(SHARED, cavity_mm={"typed": "2.4764", "unit": "inch"})
    [(_, now, offered)] = rows(offer(UNIT, SHARED, inch))
    assert (now, offered) == ("62.900 mm", "62.901 mm")


def test_values_that_a_sentence_would_round_alike_are_shown_as_typed() -> None:
    fine = changed(SHARED, order__torque_nm=100.04)
    assert rows(offer(UNIT, SHARED, fine)) == [("order.torque_nm", "100 N·m", "100.04 N·m")]


def test_a_section_that_the_unit_lacks_is_offered_whole() -> None:
    own = {"name": "Bare", "service": {"low_nm": 45}}
    found = offer(own, {**LIMITS}, {**LIMITS, "cover": COVER}, "cover")
    assert [(name, now) for name, now, _ in rows(found)] == [("cover", "not known")]
    assert "thread diameter: 8.000 mm" in found["offers"][0]["offered"]
    assert found["body"]["cover"] == COVER
    # The pattern had it before, and changed one figure of it since: half a cover would be none.
    found = offer(own, {**LIMITS, "cover": COVER}, {**LIMITS, "cover": COVER | {"torque_nm": 28}})
    assert [name for name, _, _ in rows(found)] == ["cover"]


def test_what_the_pattern_no_longer_knows_is_not_offered() -> None:
    assert rows(offer(UNIT, SHARED, changed(SHARED, order=None, cavity_mm=None))) == []


def test_a_plate_that_the_unit_has_otherwise_makes_it_the_whole_stack() -> None:
    wanted = changed(SHARED, chain__12__new_mm=2.1)
    shorter = UNIT | {"chain": UNIT["chain"][:-2]}
    assert [name for name, _, _ in rows(offer(shorter, SHARED, wanted))] == ["chain"]
    assert offer(shorter, SHARED, wanted, "chain")["body"]["chain"] == wanted["chain"]
    swapped = changed(UNIT, chain__12__part="friction")
    assert [name for name, _, _ in rows(offer(swapped, SHARED, wanted))] == ["chain"]
    fewer = SHARED | {"chain": SHARED["chain"][:-2]}
    assert [name for name, _, _ in rows(offer(UNIT, SHARED, fewer))] == ["chain"]
    # Its own stack stays in its way, where the pattern changed a plate that both have.
    assert [name for name, _, _ in rows(offer(shorter, SHARED, changed(SHARED, chain__2__new_mm=2.6)))] == [
        "chain.A2.new_mm"
    ]


def test_a_stack_that_is_offered_whole_is_not_offered_in_parts_as_well() -> None:
    shorter = UNIT | {"chain": UNIT["chain"][:-2]}
    wanted = changed(SHARED, chain__2__new_mm=2.6, chain__12__new_mm=2.1)
    assert [name for name, _, _ in rows(offer(shorter, SHARED, wanted))] == ["chain"]
    # What was declined stays as it is, whatever else was taken.
    assert offer(shorter, SHARED, wanted, "chain.A2.new_mm")["body"]["chain"] == shorter["chain"]


def test_every_figure_of_the_longest_stack_can_be_taken_by_itself() -> None:
    def chain(new: float) -> list[dict[str, Any]]:
        plates = [
            {"slot": f"A{place}", "part": "friction", "new_mm": new, "minimum_mm": new - 0.2} for place in range(78)
        ]
        return [*plates, {"slot": "R1", "part": "ring", "new_mm": new}, {"slot": "R2", "part": "ring", "new_mm": new}]

    own = {"name": "Long", "chain": chain(2.5)}
    names = [name for name, _, _ in rows(offer(own, {"chain": chain(2.5)}, {"chain": chain(2.6)}))]
    assert len(names) == 158
    assert offer(own, {"chain": chain(2.5)}, {"chain": chain(2.6)}, *names)["body"]["chain"] == chain(2.6)


def test_a_unit_that_joins_a_pattern_is_offered_all_that_differs() -> None:
    own = {"name": "Bare", "service": {"low_nm": 45}, "cover": COVER}
    names = [name for name, _, _ in rows(offer(own, None, SHARED))]
    assert names == ["order", "service.low_nm", "service.high_nm", "layout", "spring", "cavity_mm", "chain", "friction"]


def test_changes_are_said_in_the_readers_units() -> None:
    wanted = changed(SHARED, order__torque_nm=105, cavity_mm=62.8)
    found = calc(
        "pattern_offer",
        {"own": UNIT, "seen": SHARED, "wanted": wanted, "write_in": "lbf_ft", "write_lengths_in": "inch"},
    )
    assert [row["offered"] for row in found["offers"]] == ["77.4 lbf·ft", "2.4724 inch"]


def test_a_pattern_is_checked_like_a_unit_and_holds_nothing_of_one_alone() -> None:
    assert calc("pattern", {"name": "Axle", **SHARED})["breakaway_nm"] == calc("unit", UNIT)["breakaway_nm"]
    for body, field in (
        ({"name": " "}, "name"),
        ({"name": "Axle", "owner": "Ilse"}, "owner"),
        ({"name": "Axle", "service": {"low_nm": 60, "high_nm": 50}}, "service.high_nm"),
        ({"name": "Axle", **SHARED, "cavity_mm": 61.0}, "spring.l0_mm"),
    ):
        with pytest.raises(BadInput) as refused:
            calc("pattern", body)
        assert refused.value.field == field
    # One that an older engine took can still be withdrawn.
    calc("pattern", {"name": "Axle", **SHARED, "cavity_mm": 61.0, "gone": "yes"})


def test_another_like_this_one_has_all_but_name_and_owner() -> None:
    own = UNIT | {"owner": "Ilse", "note": "wide", "pattern": LINK}
    found = calc("another", {"unit": own})
    assert found["for_pattern"] == SHARED | {"note": "wide"}
    assert found["for_unit"] == SHARED | {"note": "wide", "pattern": LINK}
    calc("unit", found["for_unit"] | {"name": "Another"})
    calc("pattern", found["for_pattern"] | {"name": "Axle"})


FIGURES: dict[str, list[Any]] = {
    "order__torque_nm": [100, 105, 110],
    "order__tolerance_nm": [10, 12],
    "service__low_nm": [70, 65, None],
    "service__high_nm": [130, None],
    "cavity_mm": [62.9, 62.8, None],
    "chain__2__new_mm": [2.5, 2.6],
    "chain__4__minimum_mm": [2.3, 2.25, None],
    "friction__mu": [0.1, 0.11, None],
    "cover": [None, COVER, COVER | {"torque_nm": 28}],
    "judged_on": [None, "first_move"],
    "note": [None, "wide", "narrow"],
    "ramps": [None, {"pin_radius_mm": 40, "drive_deg": 45, "coast_deg": 60}],
}
BODIES = st.fixed_dictionaries({name: st.sampled_from(choices) for name, choices in FIGURES.items()}).map(
    lambda chosen: changed(SHARED, **chosen)
)


def known(body: dict[str, Any]) -> dict[str, Any]:
    """A definition in SI, by a path for each of its figures."""
    found: dict[str, Any] = {}

    def walk(value: Any, path: str) -> None:
        if isinstance(value, dict):
            for name, item in value.items():
                walk(item, f"{path}.{name}")
        elif isinstance(value, list):
            for item in value:
                walk(item, f"{path}.{item['slot']}")
        elif value is not None:
            found[path] = value

    walk({name: item for name, item in calc("unit", body)["checked"].items() if name != "pattern"}, "")
    return found


@settings(max_examples=60)
@given(own=BODIES, seen=BODIES, wanted=BODIES, data=st.data())
def test_laws_of_taking_and_declining(
    own: dict[str, Any], seen: dict[str, Any], wanted: dict[str, Any], data: st.DataObject
) -> None:
    own = {"name": "U", **own}
    before = copy.deepcopy((own, seen, wanted))
    found = offer(own, seen, wanted)
    assert before == (own, seen, wanted)
    names = [row["name"] for row in found["offers"]]
    assert len(set(names)) == len(names)
    assert all(row["now"] != row["offered"] and row["label"] for row in found["offers"])
    ours, theirs, old = known(own), known({"name": "U", **wanted}), known({"name": "U", **seen})
    # Whatever the pattern has changed and knows now, and the unit has otherwise, is offered; and nothing else.
    offered = {path for path in theirs if theirs[path] != old.get(path) and theirs[path] != ours.get(path)}
    assert bool(names) == bool(offered)
    covered = {path for path in theirs if any(path == f".{name}" or path.startswith(f".{name}.") for name in names)}
    assert offered <= covered
    # What is declined stays as it is; what is taken is the pattern's; nothing else moves.
    taken = data.draw(st.sets(st.sampled_from(names))) if names else set()
    after = known(offer(own, seen, wanted, *taken)["body"])
    for path in {*ours, *theirs}:
        is_taken = any(path == f".{name}" or path.startswith(f".{name}.") for name in taken)
        assert after.get(path) == (theirs if is_taken else ours).get(path), path
    # Decided on once, nothing of it is asked again.
    assert offer(offer(own, seen, wanted, *taken)["body"], wanted, wanted)["offers"] == []


MARK = {"from": "depth_from_torque", "value_mm": 62.8, "u_mm": 0.12, "basis": "95.0 N·m"}


def test_a_figure_that_was_worked_out_takes_its_mark_along_and_says_so() -> None:
    worked = changed(SHARED, cavity_mm=62.8) | {"worked_out": {"cavity_mm": MARK}}
    [(name, now, offered)] = rows(offer(UNIT, SHARED, worked))
    assert (name, now, offered) == ("cavity_mm", "62.900 mm", "62.800 mm, worked out")
    taken = offer(UNIT, SHARED, worked, "cavity_mm")["body"]
    assert [row["name"] for row in calc("unit", taken)["worked_out"]] == ["cavity_mm"]
    # Measured since, it is a figure like any other; a mark alone is no change.
    assert rows(offer(taken, worked, changed(SHARED, cavity_mm=62.8))) == []
    measured = offer(taken, worked, changed(SHARED, cavity_mm=62.7), "cavity_mm")["body"]
    assert "worked_out" not in measured
    assert rows(offer(taken, worked, changed(SHARED, cavity_mm=62.7))) == [
        ("cavity_mm", "62.800 mm, worked out", "62.700 mm")
    ]


def test_a_section_taken_whole_says_which_of_it_was_worked_out() -> None:
    mark = {"from": "friction_from_torque", "value": 0.1, "u": 0.004}
    wanted = LIMITS | {"friction": UNIT["friction"], "worked_out": {"mu": mark}}
    found = offer({"name": "Bare", **LIMITS}, LIMITS, wanted, "friction")
    assert found["offers"][0]["offered"].endswith(", friction worked out")
    assert [row["name"] for row in calc("unit", found["body"])["worked_out"]] == ["mu"]


def test_what_was_worked_out_on_one_unit_says_so_on_another() -> None:
    own = changed(UNIT, cavity_mm=62.8) | {"worked_out": {"cavity_mm": MARK}}
    copied = calc("another", {"unit": own})["for_unit"]
    assert copied["worked_out"]["cavity_mm"]["basis"] == "on Test unit: 95.0 N·m"
    again = calc("another", {"unit": copied | {"name": "Second"}})["for_pattern"]
    assert again["worked_out"]["cavity_mm"]["basis"] == "on Test unit: 95.0 N·m"


def test_other_pairs_of_ramps_are_offered_as_a_whole() -> None:
    ramps = {"pin_radius_mm": 40, "drive_deg": 45, "coast_deg": 60}
    pairs = [{"name": "steep", "drive_deg": 30, "coast_deg": 45}, {"name": "flat", "drive_deg": 60, "coast_deg": 80}]
    own, wanted = SHARED | {"ramps": ramps}, SHARED | {"ramps": ramps, "other_ramps": pairs}
    found = offer(own | {"name": "U"}, own, wanted, "other_ramps")
    [(name, now, offered)] = rows(found)
    assert (name, now) == ("other_ramps", "not known")
    assert "steep" in offered
    assert "flat" in offered
    assert found["body"]["other_ramps"] == pairs
    # What the pattern no longer has, the unit keeps.
    assert rows(offer(found["body"], wanted, own)) == []
    steeper = [pairs[0] | {"drive_deg": 25}, pairs[1]]
    assert [row[0] for row in rows(offer(found["body"], wanted, wanted | {"other_ramps": steeper}))] == ["other_ramps"]
