"""Planning a rebuild, as the builder meets it."""

import copy
import random
from typing import Any

import pytest

from server.engine import BadInput, calc
from server.engine.plan import search
from server.engine.plan.orders import ordered, runs_of
from server.engine.unit.stack import sliding_faces

from ..checks import UNIT, changed
from ..samples import sample
from . import brute

PLAN = sample("plan", "classes, measured plates, measured torque")


def fitted_pieces(result: dict[str, Any]) -> list[dict[str, Any]]:
    """The rows of a plan that change."""
    return [row for row in result["stack"] if row["action"] == "fit"]


def small_case(chance: random.Random) -> dict[str, Any]:
    """A unit with worn plates and a small shelf."""
    request: dict[str, Any] = {"unit": copy.deepcopy(UNIT), "shelf": []}
    # Two friction plates a side, each between two separators of which only the outer two may change.
    for item in request["unit"]["chain"]:
        if item["part"] in ("friction", "separator"):
            item["new_mm"] = round(item["new_mm"] - 0.001 * chance.randint(0, 60), 3)
            item["minimum_mm"] = None
    for name in range(chance.randint(1, 3)):
        part = chance.choice(["friction", "friction", "separator"])
        mm = (2.5 if part == "friction" else 2.0) + 0.001 * chance.choice([-30, -10, 0, 20, 40, 50, 100, 137])
        piece = {"name": f"piece {name}", "part": part, "mm": round(mm, 3), "count": chance.randint(1, 2)}
        request["shelf"].append(piece)
    keep = [item["slot"] for item in request["unit"]["chain"] if item["part"] == "separator"]
    request["fitted"] = [{"slot": slot, "keep": True} for slot in keep[1:-1]]
    now = calc("unit", request["unit"])["breakaway_nm"]
    request["wanted"] = {
        "torque_nm": now * chance.uniform(0.95, 1.25),
        "tolerance_nm": now * chance.uniform(0.005, 0.05),
    }
    return request


def going_through_all(request: dict[str, Any]) -> tuple[int, tuple[int, int, float] | None]:
    """The same by calculating the whole unit for every arrangement."""
    unit, wanted = request["unit"], request["wanted"]
    kept = {plate["slot"] for plate in request["fitted"]}
    parts = [dict(item, part="kept") if item["slot"] in kept else item for item in unit["chain"]]
    names = {item["slot"]: item["part"] for item in unit["chain"]}
    count = 0
    costs: list[tuple[int, int, float]] = []
    for changes, stack in brute.all_stacks(parts, request["shelf"]):
        count += 1
        stack = [dict(item, part=names[item["slot"]]) for item in stack]
        torque = calc("unit", dict(unit, chain=stack))["breakaway_nm"]
        off = abs(torque - wanted["torque_nm"])
        if off <= wanted["tolerance_nm"]:
            sides = [
                sum(item["new_mm"] for item in stack if item["slot"].startswith(side) and item["part"] != "spring")
                for side in "AB"
            ]
            costs.append((changes, round(1000 * abs(sides[0] - sides[1])), off))
    return count, min(costs) if costs else None


def test_plans_of_whole_units_equal_going_through_all() -> None:
    chance = random.Random(7)
    possible = 0
    for _ in range(60):
        request = small_case(chance)
        result = calc("plan", request)
        count, found = going_through_all(request)
        assert result["proof"]["arrangements"] == str(count)
        assert result["possible"] == (found is not None)
        if found is not None:
            possible += 1
            assert (result["changes"], round(1000 * abs(result["apart_mm"]))) == found[:2]
            assert abs(result["off_nm"]) == pytest.approx(found[2], abs=1e-6)
    assert 15 < possible < 60


def test_the_plan_gives_what_it_says_when_the_unit_is_built_so() -> None:
    result = calc("plan", PLAN)
    thickness = {row["slot"]: row["mm"] for row in result["stack"]}
    unit = copy.deepcopy(PLAN["unit"])
    for item in unit["chain"]:
        if item["part"] != "spring":
            item["new_mm"], item["minimum_mm"] = thickness[item["slot"]], None
    unit["friction"]["mu"] = result["mu"]
    built = calc("unit", unit)
    assert built["breakaway_nm"] == pytest.approx(result["torque_nm"], rel=1e-9)
    assert built["crush_mm"] == pytest.approx(result["crush_mm"], abs=1e-9)
    assert abs(result["off_nm"]) <= PLAN["unit"]["order"]["tolerance_nm"]
    assert result["wanted_nm"]["low_nm"] <= result["torque_nm"] <= result["wanted_nm"]["high_nm"]
    assert result["added_mm"] == pytest.approx(sum(row["mm"] - row["was_mm"] for row in result["stack"]), abs=1e-9)


def test_the_measured_torque_sets_the_friction() -> None:
    result = calc("plan", PLAN)
    assert result["now"]["torque_nm"] == pytest.approx(PLAN["measured"]["torque_nm"], rel=1e-12)


def test_a_torque_that_was_read_the_other_way_is_questioned() -> None:
    request = changed(PLAN, measured={"torque_nm": 250}, wanted={"torque_nm": 250, "tolerance_nm": 20})
    assert "friction" in [warning["name"] for warning in calc("plan", request)["warnings"]]


def test_what_has_to_stay_stays_and_what_has_to_go_goes() -> None:
    request = copy.deepcopy(PLAN)
    for plate in request["fitted"]:
        plate["keep" if plate["slot"].startswith("A") else "replace"] = True
    stack = {row["slot"]: row["action"] for row in calc("plan", request)["stack"]}
    for plate in request["fitted"]:
        assert stack[plate["slot"]] == ("keep" if plate["slot"].startswith("A") else "fit")


def test_a_plate_below_its_limit_goes_and_a_piece_below_it_stays_on_the_shelf() -> None:
    request = copy.deepcopy(PLAN)
    request["fitted"][0]["mm"] = 2.29
    # One has a limit of its own, the other that of the class that it was once a new one of.
    request["shelf"][2]["minimum_mm"] = 2.35
    request["shelf"].append({"name": "old", "part": "friction", "mm": 2.2, "count": 8, "minimum_mm": 2.25})
    request["shelf"].append({"name": "older", "part": "friction", "mm": 2.34, "count": 8, "new_mm": 2.5})
    result = calc("plan", request)
    assert request["fitted"][0]["slot"] in [row["slot"] for row in fitted_pieces(result)]
    unfit = next(warning["text"] for warning in result["warnings"] if warning["name"] == "unfit")
    assert unfit.endswith("below its limit: old, older.")


def test_a_plate_is_judged_by_its_lowest_point_and_counts_with_its_mean() -> None:
    request = copy.deepcopy(PLAN)
    request["fitted"][0].update({"mm": 2.31, "lowest_mm": 2.3, "keep": True})
    stack = {row["slot"]: row for row in calc("plan", request)["stack"]}
    assert stack[request["fitted"][0]["slot"]]["mm"] == 2.31
    request["fitted"][0]["lowest_mm"] = 2.29
    with pytest.raises(BadInput, match="below its limit"):
        calc("plan", request)


def test_a_thin_piece_of_a_kind_of_its_own_is_planned_with_though_thicker_ones_have_higher_limits() -> None:
    request = copy.deepcopy(PLAN)
    # Separators of two thicknesses, as packs have them: the outer ones are 2.5 mm with a limit of 2.4 mm.
    for item in request["unit"]["chain"]:
        if item["slot"] in ("A1", "A9", "B1", "B9"):
            item["new_mm"], item["minimum_mm"] = 2.5, 2.4
    request["fitted"] = [{"slot": "A3", "mm": 1.45, "replace": True}]
    request["unit"]["cavity_mm"] += 4.0
    request["shelf"] = [{"name": "S 1.55", "part": "separator", "mm": 1.55, "count": 2}]
    del request["measured"]
    now = calc("unit", request["unit"])["breakaway_nm"]
    request["wanted"] = {"torque_nm": now, "tolerance_nm": 0.2 * now}
    result = calc("plan", request)
    assert result["possible"]
    assert [row["piece"] for row in fitted_pieces(result)] == ["S 1.55"]


def test_nothing_is_changed_where_nothing_has_to_be() -> None:
    assert calc("plan", sample("plan", "nothing to change"))["changes"] == 0


def test_a_set_up_raised_from_65_to_90_foot_pounds_by_thicker_plates_alone() -> None:
    # Ordinary work: common practice, no source.
    request = changed(
        PLAN,
        measured={"torque_nm": {"typed": "65", "unit": "lbf_ft"}},
        wanted={"torque_nm": {"typed": "90", "unit": "lbf_ft"}, "tolerance_nm": {"typed": "4", "unit": "lbf_ft"}},
    )
    result = calc("plan", request)
    assert result["possible"]
    assert all(row["mm"] > row["was_mm"] for row in fitted_pieces(result))


def test_the_spread_follows_from_the_pieces() -> None:
    request = changed(PLAN, measured={"torque_nm": 62})
    result = calc("plan", request)
    spring, crush = request["unit"]["spring"], result["crush_mm"]
    above, below = (
        calc("spring", {"spring": spring, "deflection_mm": crush + step})["at"]["load_n"] for step in (0.001, -0.001)
    )
    slope = result["torque_per_n"] * (above - below) / 0.002
    # Each new piece lies within 0.02 mm, evenly; 1.96 standard deviations of their sum.
    expected = 1.96 * slope * 0.02 * (result["changes"] / 3) ** 0.5
    assert result["spread_nm"]["plates_nm"] == pytest.approx(expected, rel=1e-3)
    for piece in request["shelf"]:
        piece["within_mm"] = 0
    assert calc("plan", request)["spread_nm"]["low_nm"] == pytest.approx(result["torque_nm"], rel=1e-12)


def test_a_rebuild_never_comes_out_below_nothing() -> None:
    spread = calc("plan", changed(PLAN, measured={"torque_nm": 62, "expanded_nm": 500}))["spread_nm"]
    assert spread["low_nm"] == 0.0
    assert spread["high_nm"] > 500


def test_without_a_measured_torque_the_springs_tolerance_counts() -> None:
    result = calc("plan", sample("plan", "measured pieces, no torque measured"))
    spread = result["spread_nm"]
    # DIN EN 16983 for 2.7 mm: +15 and -7.5 %.
    assert spread["spring_above_nm"] == pytest.approx(0.15 * result["torque_nm"])
    assert spread["spring_below_nm"] == pytest.approx(0.075 * result["torque_nm"])
    assert "assumed_friction" in [warning["name"] for warning in result["warnings"]]


def test_what_cannot_be_had_says_what_is_missing_and_that_does_it() -> None:
    request = sample("plan", "cannot be had: too thin")
    result = calc("plan", request)
    assert not result["possible"]
    nearest, window = result["nearest"]["below"], result["window_mm"]
    lack = window["low_mm"] - nearest["solids_mm"]
    assert lack > 0
    # A piece thicker by just what is said to be missing makes it possible.
    single = request["shelf"][0]
    request["shelf"].append(dict(single, name="thicker", mm=single["mm"] + lack + 0.001))
    assert calc("plan", request)["possible"]


def test_the_means_that_are_offered_say_what_they_change() -> None:
    result = calc("plan", sample("plan", "shim, spring and order"))
    affects = {other["means"]: other["affects"] for other in result["alternatives"]}
    assert affects == {
        "shim": "preload torque only",
        "spring": "preload torque only",
        "order": "preload torque and lock together",
    }


def test_other_means_are_looked_into_only_where_they_are_asked_for_or_needed() -> None:
    whole, alone = calc("plan", PLAN), calc("plan", {**PLAN, "alternatives": False})
    assert whole["possible"]
    assert alone.pop("alternatives") is None
    assert whole.pop("alternatives")
    assert alone == whole
    impossible = sample("plan", "shim, spring and order")
    ways = calc("plan", {**impossible, "alternatives": False})
    assert not ways["possible"]
    assert ways == calc("plan", impossible)


def test_an_order_that_is_offered_has_the_faces_that_it_says() -> None:
    result = calc("plan", PLAN)
    fewer = next(other for other in result["alternatives"] if other["about"] == "two sliding faces fewer in each pack")
    assert fewer["possible"]
    parts = [row["part"] for row in fewer["stack"]]
    rings = [place for place, part in enumerate(parts) if part == "ring"]
    faces = sliding_faces(parts[: rings[0]]) + sliding_faces(parts[rings[1] + 1 :])
    kinds = [item["part"] for item in PLAN["unit"]["chain"] if item["part"] != "spring"]
    before = kinds.index("ring")
    assert faces == sliding_faces(kinds[:before]) + sliding_faces(kinds[before + 2 :]) - 4
    assert sorted(row["slot"] for row in fewer["stack"]) == sorted(row["slot"] for row in result["stack"])


@pytest.mark.parametrize("runs", [1, 2, 3, 4])
def test_an_order_keeps_the_plates_and_has_its_groups(runs: int) -> None:
    parts = ["separator", "friction"] * 4 + ["separator"]
    order = ordered(parts, runs)
    assert order is not None
    assert (sorted(order), runs_of(order), sliding_faces(order)) == (sorted(parts), runs, 2 * runs)


def test_an_order_that_cannot_be_is_not_offered() -> None:
    assert ordered(["separator", "friction", "friction", "separator"], 3) is None
    assert ordered(["friction", "friction", "friction"], 2) is None


def test_past_the_peak_nothing_is_planned() -> None:
    # The load peaks near 1.8 mm. Thinner than fitted, the same torque lies below the peak.
    unit = changed(UNIT, spring={"de_mm": 125, "di_mm": 64, "t_mm": 2, "l0_mm": 5.6}, cavity_mm=61.1)
    fitted = calc("unit", unit)
    top = calc("spring", {"spring": unit["spring"]})["peak_mm"]
    assert top < fitted["crush_mm"] < fitted["crush_mm"] / fitted["travel"]
    request: dict[str, Any] = {"unit": unit, "shelf": []}
    request["wanted"] = {"torque_nm": fitted["breakaway_nm"], "tolerance_nm": 1}
    result = calc("plan", request)
    assert not result["possible"]
    assert "less in the stack" in result["ways"][0]
    request["shelf"] = [{"name": f"{row}", "part": "friction", "mm": 2.3 + 0.01 * row, "count": 4} for row in range(20)]
    result = calc("plan", request)
    assert result["possible"]
    assert result["crush_mm"] < top


@pytest.mark.parametrize(
    "about",
    [
        "bad: no such slot",
        "bad: keep and replace",
        "bad: a worn plate is to stay",
        "bad: measured torque of a loose stack",
        "bad: a spring that cannot be",
    ],
)
def test_a_contradiction_is_refused_at_its_field(about: str) -> None:
    with pytest.raises(BadInput) as refusal:
        calc("plan", sample("plan", about))
    assert refusal.value.field.startswith(("fitted", "springs"))


def test_a_plan_from_more_than_can_be_searched_says_what_it_did_not_prove(monkeypatch: pytest.MonkeyPatch) -> None:
    best = calc("plan", PLAN)
    assert best["proven"]
    assert "none is better balanced" in best["proof"]["text"]
    for name, value in (("PATIENCE", 0), ("MOST_STATES", 1), ("LAST_PATIENCE", 0), ("FEW_STATES", 2)):
        monkeypatch.setattr(search, name, value)
    found = calc("plan", PLAN)
    assert found["possible"]
    assert found["changes"] == best["changes"]
    assert not found["proven"]
    assert "leave rows off the shelf" in found["proof"]["text"]
    assert abs(found["apart_mm"]) >= abs(best["apart_mm"])
