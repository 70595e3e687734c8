"""The choices of a plan against going through every arrangement, with torques and chances worked out from scratch."""

from typing import Any, NamedTuple

import pytest

from server.engine import calc

from ..samples import samples
from . import brute, random_units

UNITS = 200
# What a chance out of so many draws may be off by, five standard deviations at worst.
NOISE = 0.01


class Case(NamedTuple):
    """A unit's plan, and what going through everything finds."""

    seed: int
    request: dict[str, Any]
    result: dict[str, Any]
    ways: int
    # Number of changes -> chance of the best arrangement with so many.
    best: dict[int, float]


@pytest.fixture(scope="module")
def cases() -> list[Case]:
    """Two hundred units with a plan from scratch beside the engine's."""
    cases_drawn = []
    for seed in range(UNITS):
        request = random_units.small_request(seed)
        cases_drawn.append(Case(seed, request, calc("plan", request), *brute.of_all(request, seed)))
    return cases_drawn


def test_every_arrangement_of_two_hundred_units_is_covered_and_what_can_be_had_is_found(cases: list[Case]) -> None:
    for case in cases:
        assert case.result["proof"]["arrangements"] == str(case.ways), case.seed
        assert case.result["possible"] == bool(case.best), case.seed
    possible = sum(case.result["possible"] for case in cases)
    assert 80 < possible < 190, "units of both kinds, or this says little"
    assert sum(len(case.best) > 1 for case in cases) > 50


def test_the_first_choice_is_as_certain_as_the_best_that_there_is(cases: list[Case]) -> None:
    for case in cases:
        if case.best:
            top = max(case.best.values())
            assert case.result["choices"][0]["chance"] >= top - 0.02, case.seed


def test_every_choice_is_the_best_with_so_many_plates_changed(cases: list[Case]) -> None:
    for case in cases:
        for choice in case.result.get("choices", []):
            assert choice["chance"] == pytest.approx(case.best[choice["changes"]], abs=0.02), case.seed


def test_the_last_choice_changes_the_fewest_plates_that_there_are(cases: list[Case]) -> None:
    for case in cases:
        if case.best:
            assert case.result["choices"][-1]["changes"] == min(case.best), case.seed


def test_no_good_choice_is_left_out_of_the_front(cases: list[Case]) -> None:
    for case in cases:
        for changes, chance in case.best.items():
            as_few = [row["chance"] for row in case.result["choices"] if row["changes"] <= changes]
            # A plate more has to be worth one in a hundred.
            assert max(as_few, default=0.0) >= chance - 0.03, case.seed


def test_what_is_said_to_be_proven_holds_for_every_arrangement(cases: list[Case]) -> None:
    said_of_fewer = 0
    for case in cases:
        for choice in case.result.get("choices", []):
            most = choice["at_most"]
            fewer = [chance for changes, chance in case.best.items() if changes < choice["changes"]]
            if most["fewer"] is None:
                assert not fewer, case.seed
            else:
                said_of_fewer += 1
                assert max(fewer, default=0.0) <= most["fewer"] + NOISE, case.seed
            assert case.best[choice["changes"]] <= most["as_many"] + NOISE, case.seed
            assert max(case.best.values()) <= most["all"] + NOISE, case.seed
    assert said_of_fewer > 20


def test_choices_run_from_the_most_certain_to_the_fewest_plates(cases: list[Case]) -> None:
    several = 0
    for case in cases:
        choices = case.result.get("choices", [])
        several += len(choices) > 1
        assert len(choices) <= 5
        for better, other in zip(choices, choices[1:], strict=False):
            assert better["changes"] > other["changes"]
            assert better["chance"] > other["chance"]
        kinds = [choice["kind"] for choice in choices]
        assert (
            kinds == (["most_certain"] + ["between"] * (len(kinds) - 2) + ["fewest"])[: len(kinds)] or len(kinds) == 1
        )
        for choice in choices:
            assert abs(choice["apart_mm"]) <= 0.1 + 1e-9
            assert_follows_the_rules(case.request, choice["stack"])
    assert several > 15


def assert_follows_the_rules(request: dict[str, Any], stack: list[dict[str, Any]]) -> None:
    """Nothing is used twice, what has to stay or go does, and no place changes by more than it may."""
    fitted = {row["slot"]: row for row in request["fitted"]}
    taken = [row["piece"] for row in stack if row["action"] == "fit"]
    assert all(taken.count(piece["name"]) <= piece["count"] for piece in request["shelf"])
    for row in stack:
        place = fitted[row["slot"]]
        if row["action"] == "keep":
            assert not place.get("replace")
            assert row["mm"] == row["was_mm"] == place["mm"]
        else:
            assert not place.get("keep")
            assert row["mm"] - row["was_mm"] <= max(0.3, place["new_mm"] - row["was_mm"]) + 1e-9
            assert row["was_mm"] - row["mm"] <= 0.3 + 1e-9


def test_bounds_of_the_builders_own_are_kept() -> None:
    used = 0
    for seed in range(60):
        request = random_units.small_request(seed) | {"most_change_mm": 0.08, "most_apart_mm": 0.03}
        result = calc("plan", request)
        count, best = brute.of_all(request, seed)
        assert result["proof"]["arrangements"] == str(count)
        assert result["possible"] == bool(best)
        for choice in result.get("choices", []):
            used += choice["changes"] > 0
            assert abs(choice["apart_mm"]) <= 0.03 + 1e-9
            assert choice["chance"] == pytest.approx(best[choice["changes"]], abs=0.02)
    assert used > 5


@pytest.mark.parametrize("about", ["one plate more", "its places would have to change", "hardly squeezed"])
def test_plans_of_the_demonstrations_units_are_as_certain_as_any(about: str) -> None:
    request = next(row["request"] for row in samples("plan") if about in row["about"])
    result = calc("plan", request | {"alternatives": False})
    request = request | {"wanted": result["wanted_nm"]}
    window = result["window_mm"]
    best = brute.best_of_many(request, 5, round(1000 * window["low_mm"]), round(1000 * window["high_mm"]))
    first, last = result["choices"][0], result["choices"][-1]
    assert first["chance"] >= max(best.values()) - 0.02
    assert last["changes"] >= min(best)
    for choice in result["choices"]:
        assert choice["chance"] <= best[choice["changes"]] + NOISE
        most = choice["at_most"]
        assert best[choice["changes"]] <= most["as_many"] + NOISE
        assert max(best.values()) <= most["all"] + NOISE
