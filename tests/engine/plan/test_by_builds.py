"""A plan by what builds in the log have shown, where the spring is not known or is not believed."""

import math
from typing import Any

import numpy
import pytest

from server.engine import BadInput, calc

from ..checks import changed
from ..samples import sample

PLAN = sample("plan", "classes, measured plates, measured torque")
NOW = calc("plan", PLAN)["now"]["solids_mm"]
OWN = [
    {"thickness_mm": NOW + more, "torque_nm": torque, "u_nm": 1.2}
    for more, torque in ((-0.1, 70), (0, 84), (0.12, 98), (0.2, 104))
]
BY_BUILDS = changed(PLAN, by="builds", experience={"own": OWN}, measured=None)


def test_the_choices_rest_on_the_builds_and_say_so() -> None:
    result = calc("plan", BY_BUILDS)
    assert result["by"] == "builds"
    best = result["choices"][0]
    assert best["text"].endswith("From 4 builds.")
    x, y = zip(*((row["thickness_mm"], row["torque_nm"]) for row in OWN), strict=True)
    rise, level = numpy.polyfit(numpy.array(x) - NOW, y, 1)
    assert best["torque_nm"] == pytest.approx(level + rise * best["added_mm"], rel=1e-9)
    assert (result["mu"], result["torque_per_n"], best["crush_mm"], best["preload_n"]) == (None,) * 4


def test_nothing_is_planned_outside_the_thickness_that_was_built() -> None:
    result = calc("plan", changed(BY_BUILDS, wanted={"torque_nm": 103, "tolerance_nm": 10}))
    assert all(OWN[0]["thickness_mm"] <= row["solids_mm"] <= OWN[3]["thickness_mm"] for row in result["choices"])
    assert result["window_mm"]["high_mm"] == pytest.approx(OWN[3]["thickness_mm"])


@pytest.mark.parametrize(("torque", "way"), [(50, "thinner"), (130, "thicker")])
def test_a_torque_that_no_build_has_shown_is_refused(torque: float, way: str) -> None:
    with pytest.raises(BadInput, match=f"lies outside. Go towards it in one {way} build") as refusal:
        calc("plan", changed(BY_BUILDS, wanted={"torque_nm": torque, "tolerance_nm": 5}))
    assert refusal.value.field == "wanted.torque_nm"


@pytest.mark.parametrize(
    ("own", "words"),
    [
        ([], "Two more builds"),
        (OWN[:1], "One more build"),
        ([OWN[0]] * 3, "equally thick"),
        ([OWN[0], OWN[1] | {"torque_nm": 60}], "no more torque"),
    ],
)
def test_builds_that_show_no_line_are_refused(own: list[dict[str, Any]], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        calc("plan", changed(BY_BUILDS, experience={"own": own}))


def test_builds_are_needed_to_plan_by_them() -> None:
    with pytest.raises(BadInput, match="Give the builds"):
        calc("plan", changed(BY_BUILDS, experience=None))


def test_too_few_builds_leave_a_plan_by_the_spring_as_it_is() -> None:
    with_few = calc("plan", changed(PLAN, experience={"own": OWN[:1]}))
    assert with_few == calc("plan", PLAN)


def disagreeing(result: Any) -> list[str]:
    return [row["text"] for row in result["choices"][0]["warnings"] if row["name"] == "builds_disagree"]


def test_builds_that_contradict_the_spring_are_a_finding() -> None:
    by_spring = calc("plan", PLAN)
    best = by_spring["choices"][0]

    def builds(torque: float) -> dict[str, Any]:
        sizes = (-0.2, -0.1, 0.0, 0.1, 0.2)
        return {"own": [{"thickness_mm": best["solids_mm"] + mm, "torque_nm": torque + 100 * mm} for mm in sizes]}

    agree = calc("plan", changed(PLAN, experience=builds(best["torque_nm"])))
    assert not disagreeing(agree)
    apart = calc("plan", changed(PLAN, experience=builds(best["torque_nm"] - 45)))
    assert "Measure the spring's free height and the depth" in disagreeing(apart)[0]
    assert apart["choices"][0]["torque_nm"] == best["torque_nm"]


def test_where_the_shelf_cannot_the_ways_stay_within_what_was_built() -> None:
    shelf = [{"name": "F 2.60", "part": "friction", "mm": 2.6}]
    request = changed(BY_BUILDS, wanted={"torque_nm": 86, "tolerance_nm": 0.1}, shelf=shelf, buying=False)
    result = calc("plan", request)
    assert not result["possible"]
    for side in ("below", "above"):
        near = result["nearest"][side]
        assert near is None or OWN[0]["thickness_mm"] <= near["solids_mm"] <= OWN[3]["thickness_mm"]
    assert result["ways"]
    assert {row["means"] for row in result["alternatives"]} <= {"change", "apart", "shim"}


def test_the_stated_chance_and_spread_hold_in_a_simulation(rounds: int) -> None:
    """Rebuilds drawn anew: units' lines, builds' scatter, and plates that are off within what the shelf says."""
    rng = numpy.random.default_rng(3)
    held, done, sets = 0, 0, 40 * rounds
    for _ in range(sets):
        scatter = 4.2 * math.sqrt(4 / rng.chisquare(4))
        rise = 130 + 15 * rng.normal()
        own = []
        for more in rng.uniform(-0.1, 0.4, 5):
            torque = 84 + rise * more + scatter * rng.normal()
            own.append({"thickness_mm": NOW + float(more), "torque_nm": max(20.0, float(torque))})
        request = changed(BY_BUILDS, experience={"own": own}, buying=False, alternatives=False)
        try:
            result = calc("plan", request)
        except BadInput:
            continue
        if not result["possible"]:
            continue
        best = result["choices"][0]
        off = sum(rng.uniform(-1, 1) * row["within_mm"] for row in best["stack"] if row["action"] == "fit")
        torque = 84 + rise * (best["added_mm"] + off) + scatter * rng.normal()
        held += best["spread_nm"]["low_nm"] <= torque <= best["spread_nm"]["high_nm"]
        done += 1
    assert done > 0.5 * sets
    assert 93 - 300 * math.sqrt(0.0475 / done) <= 100 * held / done <= 97.5 + 300 * math.sqrt(0.0475 / done)
