"""What is behind a complaint, beside a dense scan of the corner itself; and what its changes do."""

from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import changed
from ..samples import sample

USUAL = sample("complaint", "pushes on power in slow corners, a usual car")
BUILT = USUAL["built"]
CAR = sample("complaint", "contradictions")["car"]


def complaint_answer(*felt: dict[str, Any], **more: Any) -> Any:
    return calc("complaint", {"built": BUILT, "felt": list(felt), **more})


def only(*felt: dict[str, Any], **more: Any) -> Any:
    """The answer to the first complaint."""
    return complaint_answer(*felt, **more)["complaints"][0]


def figures(car: dict[str, Any]) -> dict[str, float]:
    return {row["name"]: row["value"] for row in calc("car", car)["figures"]}


def limit_of(car: dict[str, Any]) -> float:
    """Lateral acceleration from which the axle slides, by the picture."""
    limit: float = calc("corner_map", {"built": BUILT, "car": car, "points": 0})["limit_ms2"]
    return limit


def corner_at(car: dict[str, Any], radius: float, lateral: float, torque: float, **more: Any) -> Any:
    plain = {"axle": car.get("axle", "rear"), "radius_m": radius, "lateral_ms2": lateral, "torque_nm": torque}
    return calc("corner", plain | figures(car) | {"built": BUILT} | more)


SOLID = {"built": None, "preload_nm": 10000, "s_drive": 10, "s_coast": 10}


@pytest.mark.parametrize(("place", "radius", "gear"), [("slow", 15.0, 1), ("fast", 80.0, 2)])
def test_figures_are_those_of_the_corner(place: str, radius: float, gear: int) -> None:
    lateral = 0.8 * limit_of(CAR)
    gears = calc("car", CAR)["gears"][gear]
    at_rest = corner_at(CAR, radius, lateral, 0.0)
    end = min(at_rest["most_nm"], gears["torque_nm"])
    scan = [corner_at(CAR, radius, lateral, end * step / 400)["yaw_side_n"] for step in range(401)]
    rows = complaint_answer(
        {"what": "pushes", "when": "power", "corners": place},
        {"what": "loose", "when": "power", "corners": place},
        {"what": "pushes", "when": "entry", "corners": place},
        {"what": "loose", "when": "lift", "corners": place},
        {"what": "spins", "when": "power", "corners": place},
        car=CAR,
    )["complaints"]
    found = {row["figure"]: row["value"] for answer in rows for row in answer["figures"]}
    assert found["push"] == pytest.approx(max(0.0, -min(scan)), rel=0.01)
    assert found["round"] == pytest.approx(max(0.0, *scan), rel=0.01)
    braking = min(gears["braking_nm"], at_rest["coast_most_nm"])
    steady = -corner_at(CAR, radius, lateral, -braking)["yaw_side_n"]
    assert found["steady"] == pytest.approx(steady, rel=1e-3)
    solid = -corner_at(CAR, radius, lateral, -gears["braking_nm"], **SOLID)["yaw_side_n"]
    assert found["slip"] == pytest.approx(max(0.0, solid - steady), rel=1e-3, abs=0.1)
    assert found["most"] == pytest.approx(at_rest["most_nm"], rel=1e-3)
    assert found["gap"] == pytest.approx(1 - at_rest["most_nm"] / at_rest["solid_nm"], abs=1e-3)


def test_a_tight_turn_is_the_preload_against_the_tyres() -> None:
    answer = only({"what": "hops"}, car=CAR)
    turn = corner_at(CAR, 6.0, 0.0, 0.0)
    [figure] = answer["figures"]
    assert figure["value"] == pytest.approx(turn["lock_nm"] / turn["demand_nm"], rel=1e-6)
    # Plates that slip: other oil, and no other lock.
    assert (answer["match"], [way["lever"] for way in answer["ways"]]) == ("matches", ["oil"])
    on_ice = only({"what": "hops"}, car=CAR | {"grip": 0.05})
    assert on_ice["figures"][0]["low"] > 1
    assert on_ice["ways"][0]["lever"] == "preload"
    assert on_ice["ways"][0]["torque_nm"] < on_ice["figures"][0]["value"] * 100


def test_every_way_is_worked_out_as_it_says() -> None:
    """A way that is built is asked about again: the figure is then what was promised."""
    felt = {"what": "spins", "when": "power", "corners": "slow"}
    pairs = [{"name": "40/40", "drive_deg": 40, "coast_deg": 40}, {"name": "60/60", "drive_deg": 60, "coast_deg": 60}]
    built = {**BUILT, "unit": {**BUILT["unit"], "other_ramps": pairs}}
    answer = calc("complaint", {"built": built, "car": CAR, "felt": [felt]})["complaints"][0]
    assert [way["lever"] for way in answer["ways"]] == ["pair", "preload", "drive_ramp", "faces"]
    target = answer["figures"][0]["target"]
    for way in answer["ways"]:
        assert way["reaches"] == (way["value"] >= target)
        assert answer["figures"][0]["value"] < way["value"]
        if way["lever"] in ("pair", "drive_ramp"):
            ramps = BUILT["unit"]["ramps"] | {"drive_deg": 40, "coast_deg": 40 if way["pair"] else 60}
            again = {**built, "unit": {**built["unit"], "ramps": ramps}}
            row = calc("complaint", {"built": again, "car": CAR, "felt": [felt]})["complaints"][0]["figures"][0]
            assert (row["value"], row["low"], row["high"]) == pytest.approx(
                (way["value"], way["low"], way["high"]), rel=1e-6
            )


def test_a_change_of_preload_is_the_smallest_whole_one() -> None:
    felt = {"what": "pushes", "when": "power", "corners": "slow"}
    answer = only(felt, car=CAR)
    [way] = [row for row in answer["ways"] if row["lever"] == "preload"]
    assert way["reaches"]
    assert way["torque_nm"] == int(way["torque_nm"])
    target = answer["figures"][0]["target"]
    for torque, reaches in ((way["torque_nm"], True), (way["torque_nm"] + 1, False)):
        lock = calc("candidates", {"built": BUILT, "tries": [{"torque_nm": torque}]})["candidates"][-1]
        by_hand = {"preload_nm": lock["preload_lock_nm"], "s_drive": lock["drive"]["locking_value"], "s_coast": 0}
        lateral, scan = 0.8 * limit_of(CAR), []
        for step in range(400):
            scan.append(corner_at(CAR, 15.0, lateral, 2.0 * step, **by_hand, built=None)["yaw_side_n"])
        assert (-min(scan) <= target * 1.001) == reaches


def test_what_a_change_costs_elsewhere_is_told() -> None:
    answer = only(
        {"what": "pushes", "when": "power", "corners": "slow"},
        {"what": "loose", "when": "lift", "corners": "slow"},
        {"what": "spins", "when": "power", "corners": "slow"},
        car=CAR,
    )
    [less] = [row for row in answer["ways"] if row["lever"] == "faces"]
    effects = {row["felt"]: row["effect"] for row in less["others"]}
    assert effects == {
        "rear steps out, on lift-off, slow corners": "worsens",
        "inside wheel spins, on power, slow corners": "worsens",
    }
    assert ("most", "slow", True) in [(row["figure"], row["place"], row["worse"]) for row in less["elsewhere"]]


def test_complaints_that_want_the_opposite_are_told() -> None:
    both = [{"what": "pushes", "when": "power", "corners": "slow"}, {"what": "spins", "when": "power"}]
    [text] = complaint_answer(*both, car=CAR)["conflicts"]
    assert "asks for less lock on drive" in text
    assert "for more" in text
    assert complaint_answer(both[0], {"what": "judders"}, car=CAR)["conflicts"] == []


def test_a_front_axle_that_spins_its_inner_wheel_pushes_for_want_of_lock() -> None:
    front = sample("complaint", "a front driven car")["car"]
    strong = {**front, "engine_nm": 400}
    answer = only({"what": "pushes", "when": "power", "corners": "slow"}, car=strong)
    best = answer["figures"][answer["best"]]
    assert (best["figure"], best["match"]) == ("most", "matches")
    assert answer["text"].startswith("That fits what the differential does: try more lock on drive")
    weak = only({"what": "pushes", "when": "power", "corners": "slow"}, car={**front, "engine_nm": 20})
    assert weak["figures"][weak["best"]]["figure"] == "push"


def test_a_wheel_in_the_air_is_helped_by_preload_alone() -> None:
    request = sample("complaint", "the inner wheel is in the air")
    answer = calc("complaint", request)["complaints"][0]
    assert "in the air" in answer["figures"][0]["text"]
    moved = {way["lever"] for way in answer["ways"]}
    # Faces hold more for the same preload; ramps have nothing to press with.
    assert moved <= {"preload", "faces"}
    assert "preload" in moved


@pytest.mark.parametrize("what", ["judders", "bangs", "whines", "pulls"])
def test_what_nothing_answers_to_is_said(what: str) -> None:
    answer = only({"what": what})
    assert (answer["match"], answer["figures"], answer["ways"]) == ("none", [], [])
    assert "othing here computes" in answer["text"]


def test_a_unit_of_which_too_little_is_known_is_answered_in_words() -> None:
    request = sample("complaint", "ramps not known")
    answer = calc("complaint", request)
    assert "ramps" in answer["lacks"].lower()
    assert [row["match"] for row in answer["complaints"]] == ["unknown", "none"]
    assert answer["complaints"][0]["text"].startswith(answer["lacks"])


def test_usual_figures_leave_wider_bands_than_measured_ones() -> None:
    felt = {"what": "spins", "when": "power", "corners": "slow"}
    usual, measured = (only(felt, **more)["figures"][0] for more in ({}, {"car": CAR}))
    assert usual["high"] - usual["low"] > measured["high"] - measured["low"]
    assert "common practice, no source" in complaint_answer(felt)["rests_on"]


def test_a_heavier_car_whose_engine_nobody_knows_is_braked_with_more_torque() -> None:
    """Engine braking is then a share of the weight, at either end of the mass of a car which has that mass."""
    felt = {"what": "pushes", "when": "entry", "corners": "slow"}
    # With hardly any preload the ramps hold in proportion to the torque, and with it to the mass.
    unit = changed(BUILT["unit"], spring=None, cavity_mm=None, ramps__coast_deg=40)
    built = {"unit": unit, "places": [], "measured": {"torque_nm": 5, "expanded_nm": 0}}
    measured, usual = (
        only(felt, car={"name": "Hare", **mass}, built=built)["figures"][0] for mass in ({"mass_kg": 1050}, {})
    )
    value = measured["value"]
    assert usual["value"] == value
    # Usually 750 to 1400 kg, and within 2 % where it was typed.
    for end, share, off in (("low", 1 - 750 / 1050, 0.02), ("high", 1400 / 1050 - 1, 0.02)):
        more = (usual[end] - value) ** 2 - (measured[end] - value) ** 2
        assert more == pytest.approx(value**2 * (share**2 - off**2), rel=1e-6)


def test_wet_ground_has_its_own_grip() -> None:
    felt = {"what": "spins", "when": "power", "corners": "slow"}
    wet, given = (only(felt, **more) for more in ({"car": CAR, "conditions": "wet"}, {"car": {**CAR, "tyres": "wet"}}))
    assert wet["figures"] == given["figures"]
    assert wet["figures"][0]["value"] < only(felt, car=CAR)["figures"][0]["value"]


def test_one_complaint_twice_is_refused_at_its_place() -> None:
    with pytest.raises(BadInput) as refusal:
        complaint_answer({"what": "loose"}, {"what": "spins"}, {"what": "loose"})
    assert refusal.value.field == "felt.2"


STRONG = {**CAR, "engine_nm": 500}
LIFTED = {"what": "loose", "when": "lift", "corners": "slow"}
PUSHED = {"what": "pushes", "when": "power", "corners": "slow"}


def made_of(torque_nm: float, **changes: Any) -> dict[str, Any]:
    """A unit whose spring nobody measured: a torque and what the ramps press are all that is known."""
    unit = changed(BUILT["unit"], spring=None, cavity_mm=None, order=None, service=None, **changes)
    return {"unit": unit, "places": [], "measured": {"torque_nm": torque_nm, "expanded_nm": 0}}


def way_by(lever: str, answer: dict[str, Any]) -> Any:
    return next((way for way in answer["ways"] if way["lever"] == lever), None)


def value_of(felt: dict[str, Any], torque_nm: float, **changes: Any) -> float:
    value: float = only(felt, car=STRONG, built=made_of(torque_nm, **changes))["figures"][0]["value"]
    return value


def test_a_step_that_does_nothing_does_not_end_the_search() -> None:
    """Where the preload holds more than a coast ramp, a little shallower does nothing, and much shallower a lot."""
    answer = only(LIFTED, car=STRONG, built=made_of(25, ramps__coast_deg=85))
    now, way = answer["figures"][0]["value"], way_by("coast_ramp", answer)
    assert way is not None
    assert way["reaches"]
    assert value_of(LIFTED, 25, ramps__coast_deg=80) == now
    assert value_of(LIFTED, 25, ramps__coast_deg=way["coast_deg"]) == pytest.approx(way["value"])


def test_no_change_goes_further_than_it_does_anything() -> None:
    """Where the preload holds what is left, or the ramps do, more of the same only costs elsewhere."""
    way = way_by("drive_ramp", only(PUSHED, car=STRONG, built=made_of(60)))
    assert (way["drive_deg"], way["reaches"]) == (50, False)
    assert value_of(PUSHED, 60, ramps__drive_deg=80) == pytest.approx(way["value"])
    way = way_by("preload", only(PUSHED, car=STRONG, built=made_of(100)))
    assert not way["reaches"]
    assert value_of(PUSHED, way["torque_nm"] + 1) > way["value"] * 1.001
    assert value_of(PUSHED, 40) == pytest.approx(way["value"])


def test_twice_a_whole_preload_is_a_whole_one() -> None:
    way = way_by("preload", only(LIFTED, car=STRONG, built=made_of(60)))
    assert (way["torque_nm"], way["reaches"]) == (120, False)


def test_faces_that_leave_the_limits_for_running_say_so() -> None:
    """Fewer faces turn at a lower torque as less preload does."""
    built = made_of(100)
    built["unit"]["service"] = {"low_nm": 70, "high_nm": 130}
    way = way_by("faces", only(PUSHED, car=CAR, built=built))
    assert way["breakaway_nm"] < 70
    assert any("outside the limits for running" in text for text in way["warnings"])
