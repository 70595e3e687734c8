"""Where the preload went: shares that add up, and causes that are named when they are known."""

import itertools
import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from server.engine import BadInput, calc
from server.engine.history.loss import CAUSES, State, force_at, log_shares, shapley
from server.engine.unit.as_built import built_of
from server.engine.unit.form import FORM

from ..samples import sample

UNIT = sample("loss", "thinner plates")["unit"]
BUILT = built_of(FORM.read(UNIT, "unit"))
SLOTS = [item["slot"] for item in UNIT["chain"] if item["part"] == "friction"]
STATES = st.builds(State, st.floats(20, 300), st.floats(70.3, 71.3), st.floats(4.3, 4.6))


def shares_of(result: dict[str, Any]) -> dict[str, float]:
    """Shares on the logarithm, by cause."""
    return {row["cause"]: row["share_log"] for row in result["shares"]}


@given(STATES, STATES)
def test_the_shares_add_to_the_whole(before: State, now: State) -> None:
    shares = log_shares(BUILT, before, now)
    assert sum(shares.values()) == pytest.approx(math.log(now.torque / before.torque), abs=1e-12)


@given(STATES, STATES)
def test_the_way_back_has_the_same_shares_with_the_other_sign(before: State, now: State) -> None:
    there, back = log_shares(BUILT, before, now), log_shares(BUILT, now, before)
    for cause in CAUSES:
        assert there[cause] == pytest.approx(-back[cause], abs=1e-12)


@given(st.lists(st.floats(-10, 10), min_size=8, max_size=8))
def test_shares_are_the_mean_over_all_orders_and_do_not_depend_on_any(values: list[float]) -> None:
    # L. S. Shapley 1953: the definition, over the six orders of three causes.
    worth = {
        present: values[place]
        for place, present in enumerate(subset for size in range(4) for subset in itertools.combinations(CAUSES, size))
    }
    expected = dict.fromkeys(CAUSES, 0.0)
    for order in itertools.permutations(CAUSES):
        for place, cause in enumerate(order):
            ahead = tuple(cause for cause in CAUSES if cause in order[:place])
            joined = tuple(cause for cause in CAUSES if cause in order[: place + 1])
            expected[cause] += (worth[joined] - worth[ahead]) / 6
    for names in itertools.permutations(CAUSES):
        shares = shapley(names, lambda present: worth[tuple(cause for cause in CAUSES if cause in present)])
        for cause in CAUSES:
            assert shares[cause] == pytest.approx(expected[cause], abs=1e-12)


def history(thinner: float, lower: float, friction: float) -> dict[str, Any]:
    """A request of a unit of which it is known what it went through.

    thinner: mm from each friction plate; lower: mm from the free height; friction: factor.
    """
    gone = len(SLOTS) * thinner
    before = force_at(BUILT, BUILT.solids, 4.5, "")
    now = force_at(BUILT, BUILT.solids - gone, 4.5 - lower, "")
    return {
        "unit": UNIT,
        "before": {"torque_nm": 100.0, "u_nm": 1.0, "l0_mm": 4.5, "l0_u_mm": 0.005},
        "now": {
            "torque_nm": 100.0 * friction * now / before,
            "u_nm": 1.0,
            "plates": [{"slot": slot, "mm": 2.5 - thinner} for slot in SLOTS],
            "plate_u_mm": 0.002,
            "l0_mm": 4.5 - lower,
            "l0_u_mm": 0.005,
        },
    }


@pytest.mark.parametrize(
    ("thinner", "lower", "friction", "cause", "words"),
    [
        (0.03, 0.0, 1.0, "plates", "0.240 mm gone from the plates"),
        (0.0, 0.25, 1.0, "spring", "0.250 mm lower than before: it has set"),
        (0.0, 0.0, 0.82, "friction", "Friction down 18 %: glazed plates or the wrong oil"),
        (0.005, 0.05, 0.7, "friction", "Friction down 30 %"),
        (0.04, 0.02, 0.97, "plates", "gone from the plates"),
    ],
)
def test_a_known_cause_is_named(thinner: float, lower: float, friction: float, cause: str, words: str) -> None:
    result = calc("loss", history(thinner, lower, friction))
    assert result["certain"]
    assert result["cause"] == cause
    assert words in result["text"]


@settings(max_examples=60)
@given(st.integers(0, 40), st.floats(0, 0.2), st.floats(0.6, 1.0))
def test_the_largest_of_the_certain_causes_is_named(micrometres: int, lower: float, friction: float) -> None:
    request = history(micrometres / 1000, lower, friction)
    assume(request["now"]["torque_nm"] < 85)
    result = calc("loss", request)
    shares = shares_of(result)
    assert shares["friction"] == pytest.approx(math.log(friction), abs=1e-9)
    # A larger share that is within its doubt may be nothing: what is certain goes first.
    certain = [row["cause"] for row in result["shares"] if row["certain"]]
    assume(certain)
    assert result["cause"] == min(certain, key=lambda cause: shares[cause])


def test_what_masks_the_loss_is_said() -> None:
    result = calc("loss", history(0.04, 0.0, 1.15))
    assert result["cause"] == "plates"
    assert "Partly hidden by this: Friction up 15 %" in result["text"]


@settings(max_examples=120, derandomize=True)
@given(st.integers(-20, 40), st.floats(-0.05, 0.2), st.floats(0.6, 1.5), st.sampled_from([0.0, 1.0, 4.0, 12.0]))
def test_a_cause_pulls_the_way_the_torque_went_and_is_certain(
    micrometres: int, lower: float, friction: float, u: float
) -> None:
    request = history(micrometres / 1000, lower, friction)
    for field in ("before", "now"):
        request[field]["u_nm"] = u
    result = calc("loss", request)
    change, cause = result["change_log"], result["cause"]
    assert result["certain"] == (abs(change) > result["expanded_log"])
    for row in result["shares"]:
        assert row["certain"] == (row["low_log"] > 0 or row["high_log"] < 0)
        assert row["low_log"] < row["share_log"] < row["high_log"]
    pulling = [row for row in result["shares"] if row["share_log"] * change > 0 and row["certain"]]
    against = [row for row in result["shares"] if row["share_log"] * change < 0 and row["certain"]]
    if not result["certain"]:
        assert cause is None
        assert "nothing to look for" in result["text"]
        return
    assert result["text"].startswith(f"The torque {'lost' if change < 0 else 'gained'} ")
    if not pulling:
        assert cause is None
        assert "No cause is clear of its doubt" in result["text"]
        return
    first = max(pulling, key=lambda row: abs(row["share_log"]))
    assert cause == first["cause"]
    named_causes = [row["cause"] for row in result["shares"] if row["text"] in result["text"]]
    assert set(named_causes) == {cause, *([against[0]["cause"]] if against else [])}


def test_what_a_share_says_goes_the_way_that_it_pulls() -> None:
    down = {row["cause"]: row["text"] for row in calc("loss", history(0.02, 0.05, 0.8))["shares"]}
    assert "0.160 mm gone from the plates" in down["plates"]
    assert "0.050 mm lower than before: it has set" in down["spring"]
    assert "Friction down 20 %" in down["friction"]
    up = {row["cause"]: row["text"] for row in calc("loss", history(-0.02, -0.05, 1.25))["shares"]}
    assert "0.160 mm thicker than before" in up["plates"]
    assert "0.050 mm higher than before: check that it is the same one" in up["spring"]
    assert "Friction up 25 %" in up["friction"]


def test_within_the_doubt_no_cause_is_named() -> None:
    result = calc("loss", sample("loss", "no change to speak of"))
    assert not result["certain"]
    assert result["cause"] is None


def test_the_doubt_of_a_share_is_that_of_its_inputs() -> None:
    # Friction's share is ln of torque over force: with exact parts its relative doubt is that of the torques.
    request = history(0.0, 0.0, 0.8)
    plates = [{"slot": item["slot"], "mm": item["new_mm"]} for item in UNIT["chain"] if item["part"] != "spring"]
    for field in ("before", "now"):
        request[field].update({"plates": plates, "plate_u_mm": 0, "l0_u_mm": 0, "u_nm": 2.0})
    rows = {row["cause"]: row for row in calc("loss", request)["shares"]}
    assert rows["friction"]["u_log"] == pytest.approx(math.sqrt((2 / 100) ** 2 + (2 / 80) ** 2), rel=1e-5)
    assert rows["plates"]["u_log"] == 0.0


def test_a_loose_stack_has_no_share() -> None:
    with pytest.raises(BadInput, match="short of the cover") as refusal:
        calc("loss", sample("loss", "bad: plates so thin that it is loose"))
    assert refusal.value.field == "now.plates"


def test_a_share_is_told_by_its_size_and_one_that_rounds_to_nothing_is_not() -> None:
    rows = {row["cause"]: row for row in calc("loss", history(0.0, 0.0, 0.82))["shares"]}
    assert rows["friction"]["size_percent"] == -rows["friction"]["percent"] == pytest.approx(18)
    assert [cause for cause in sorted(rows) if rows[cause]["shows"]] == ["friction"]


def test_the_factors_multiply_to_the_change() -> None:
    result = calc("loss", history(0.01, 0.05, 0.9))
    product = math.prod(row["factor"] for row in result["shares"])
    assert product == pytest.approx(1 + result["change_percent"] / 100)
