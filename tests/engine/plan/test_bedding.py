"""A plan aims above the order by what the log shows that bedding in takes."""

import random
from typing import Any

import pytest

from server.engine import calc
from tests.reference.test_independent_plan import random_request

REQUEST = random_request(random.Random(3))
ORDER = REQUEST["unit"]["order"]
WANTED, OFF = ORDER["torque_nm"], ORDER["tolerance_nm"]


def losses(*taken: float, u: float = 1.0, first: float = WANTED) -> list[dict[str, Any]]:
    """What bedding in took after as many rebuilds."""
    return [{"first_nm": first, "loss_nm": loss, "u_nm": u} for loss in taken]


def planned(**bedding: Any) -> Any:
    """A plan with what the log shows of bedding in."""
    return calc("plan", REQUEST | {"bedding": {"losses": []} | bedding})


def test_the_plan_says_in_a_sentence_how_far_it_aims_above_and_why() -> None:
    plan = planned(losses=losses(2.9, 3.5))["bedding"]
    assert plan["above_nm"] == pytest.approx(3.2)
    assert plan["text"].startswith(
        "Aimed 3.2 N·m above the order: after the last 2 rebuilds this unit lost 2.9 and 3.5 N·m in its first outings"
    )
    assert "give or take 1.4 N·m" in plan["text"]


def test_a_torque_is_judged_as_it_is_once_bedded_in() -> None:
    plain, aimed = planned(), planned(losses=losses(8.0, 8.4))
    assert plain["bedding"] is None
    assert aimed["choices"][0]["torque_nm"] >= plain["choices"][0]["torque_nm"]
    same = {choice["solids_mm"]: choice for choice in plain["choices"]}
    for choice in aimed["choices"]:
        bedded = choice["changes"] > 0
        assert ("once bedded in" in choice["chance_text"]) is bedded
        # What stays as it is has bedded in long ago.
        if not bedded and choice["solids_mm"] in same:
            assert choice["chance"] == same[choice["solids_mm"]]["chance"]


def test_no_choice_is_expected_beyond_the_orders_upper_edge() -> None:
    for taken in (5.0, 15.0, 25.0, 40.0):
        for choice in planned(losses=losses(taken, taken)).get("choices", []):
            assert choice["torque_nm"] <= WANTED + OFF + 1e-6
    plan = planned(losses=losses(OFF + 5, OFF + 5))["bedding"]
    assert plan["above_nm"] == OFF
    assert "its upper edge" in plan["text"]
    assert "expect 5.0 N·m less than ordered once it has bedded in" in plan["text"]


def test_that_it_may_read_above_the_order_at_first_is_said_with_its_chance() -> None:
    choice = planned(losses=losses(8.0, 8.4))["choices"][0]
    assert choice["above_chance"] > 0.01
    assert any(row["name"] == "above_fresh" for row in choice["warnings"])
    assert planned(losses=losses(8.0, 8.4), aim_above=False)["choices"][0]["above_chance"] == 0


def test_aiming_for_bedding_in_can_be_switched_off() -> None:
    plain, off = planned(), planned(losses=losses(8.0, 8.4), aim_above=False)
    assert off["choices"] == plain["choices"]
    assert off["bedding"]["above_nm"] == 0
    assert off["bedding"]["text"].startswith("Not aimed above the order: after the last 2 rebuilds")


@pytest.mark.parametrize(
    "taken",
    [[], [0.4], [-3.0, -2.8], [6.0, -5.5, 0.5], [1.5]],
)
def test_nothing_is_aimed_where_the_log_does_not_show_it(taken: list[float]) -> None:
    plan = planned(losses=losses(*taken))
    assert plan["bedding"] is None
    assert plan["choices"] == planned()["choices"]


def test_rebuilds_to_another_torque_do_not_count() -> None:
    assert planned(losses=losses(8.0, 8.4, first=0.7 * WANTED))["bedding"] is None
    assert planned(losses=losses(8.0, 8.4, first=0.8 * WANTED))["bedding"]["rebuilds"] == 2


def test_units_built_alike_count_where_a_unit_shows_little() -> None:
    other = {"name": "Sorrel", "alike": "x", "losses": losses(3.0, 3.4)}
    strange = {"name": "Thistle", "alike": "y", "losses": losses(20.0, 21.0)}
    plan = planned(losses=losses(3.6), alike="x", others=[other, strange])["bedding"]
    assert plan["rebuilds"] == 3
    assert plan["above_nm"] == pytest.approx(10 / 3)
    assert "this unit and units built alike (Sorrel) lost 3.0, 3.4 and 3.6 N·m" in plan["text"]
    alone = planned(losses=losses(3.6, 3.8), alike="x", others=[other])["bedding"]
    assert alone["rebuilds"] == 2
    without = planned(alike="x", others=[other])["bedding"]
    assert "units built alike (Sorrel) lost 3.0 and 3.4 N·m in their first outings" in without["text"]


def test_a_plan_without_a_word_of_bedding_is_as_it_was() -> None:
    assert calc("plan", REQUEST)["choices"] == planned()["choices"]
