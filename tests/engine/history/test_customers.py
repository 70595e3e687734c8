"""Customers as they stand: joined records, two phones at once, and units that have a typed name and no more."""

import itertools
from typing import Any

import pytest

from server.engine import calc
from server.engine.history.customers import owner_of
from server.engine.request.letters import CAPITALS, folded


def entry(number: int, body: dict[str, Any], knows: list[int]) -> dict[str, Any]:
    """A customer's entry, written knowing others, as the log holds it."""
    heading: dict[str, Any] = {
        "id": f"c{number}",
        "unit": "",
        "kind": "customer",
        "at": f"2026-03-{number:02d}T09:00:00Z",
    }
    heading |= {"who": "Mara", "device": "d", "knows": [f"c{other}" for other in knows], "clock": {"fell_s": 0}}
    return {**heading, "seq": number, "body": body, "shown": {"verdict": None}}


def stand(*entries: dict[str, Any]) -> list[dict[str, Any]]:
    """The customers that stand, the same in whatever order their entries come."""
    found = [calc("kit_standing", {"entries": list(order)})["customers"] for order in itertools.permutations(entries)]
    assert all(rows == found[0] for rows in found)
    customers: list[dict[str, Any]] = found[0]
    return customers


ODE = entry(1, {"name": "Tarn Ode", "phone": "+44 1632 960001"}, [])
SAME = entry(2, {"name": " tarn  ODE", "mail": "tarn@ode.example"}, [])


def test_a_customer_is_known_by_its_first_entry_and_stands_as_its_newest_says() -> None:
    [row] = stand(ODE, entry(2, {"name": "Tarn Ode-Vale", "id": "c1"}, [1]))
    assert (row["id"], row["name"], row["ids"], row["gone"]) == ("c1", "Tarn Ode-Vale", ["c1"], False)
    assert [signed["entry"] for signed in row["history"]] == ["c2", "c1"]
    assert row["overwritten"] == []


def test_two_phones_make_the_same_customer_each_is_told_of_the_other() -> None:
    assert {row["id"]: row["alike"] for row in stand(ODE, SAME)} == {"c1": ["c2"], "c2": ["c1"]}
    other = entry(3, {"name": "Ilse Vale"}, [])
    assert {row["id"]: row["alike"] for row in stand(ODE, other)} == {"c1": [], "c3": []}
    gone = entry(3, {"name": "Tarn Ode", "id": "c1", "gone": "yes"}, [1])
    assert [row["alike"] for row in stand(ODE, SAME, gone)] == [[], []], "one that is none any more is offered no more"


def test_joined_records_are_one_customer_and_keep_all_that_either_said() -> None:
    joined = entry(3, {"name": "Tarn Ode", "phone": "+44 1632 960001", "id": "c1", "takes_in": ["c2"]}, [1, 2])
    [row] = stand(ODE, SAME, joined)
    assert (row["id"], row["ids"], row["alike"]) == ("c1", ["c1", "c2"], [])
    assert row["others"] == [{"id": "c2", "body": SAME["body"]}]
    # Taken apart again, both stand.
    apart = entry(4, {"name": "Tarn Ode", "id": "c1"}, [3])
    assert [customer["id"] for customer in stand(ODE, SAME, joined, apart)] == ["c1", "c2"]


def test_two_phones_that_join_them_either_way_round_make_one_customer_of_them() -> None:
    ode_takes_same = entry(3, {"name": "Tarn Ode", "id": "c1", "takes_in": ["c2"]}, [1, 2])
    other = entry(4, {"name": "tarn ODE", "id": "c2", "takes_in": ["c1"]}, [1, 2])
    [row] = stand(ODE, SAME, ode_takes_same, other)
    assert (row["id"], row["ids"]) == ("c2", ["c1", "c2"]), "the one that was written last stands"
    chain = entry(5, {"name": "Ilse Vale", "takes_in": ["c1"]}, [])
    [row] = stand(ODE, SAME, ode_takes_same, chain)
    assert (row["id"], row["ids"]) == ("c5", ["c1", "c2", "c5"])


def test_a_change_that_another_phone_did_not_know_is_pointed_out() -> None:
    ours = entry(2, {"name": "Tarn Ode", "id": "c1", "mail": "a@ode.example"}, [1])
    theirs = entry(3, {"name": "Tarn Ode", "id": "c1", "mail": "b@ode.example"}, [1])
    [row] = stand(ODE, ours, theirs)
    assert (row["body"]["mail"], row["overwritten"]) == ("b@ode.example", ["c2"])


def test_units_are_a_customers_or_have_a_name_that_was_typed() -> None:
    customers = stand(ODE, entry(3, {"name": "Ilse Vale", "gone": "yes"}, []))
    units = [
        {"unit_id": "u1", "owner": "T. Ode", "customer_id": "c1"},
        {"unit_id": "u2", "owner": "TARN  ODE "},
        {"unit_id": "u3", "owner": "Ilse Vale"},
        {"unit_id": "u4", "owner": " ilse vale", "customer_id": "of another shop"},
        {"unit_id": "u5", "owner": "Ilse Vale"},
        {"unit_id": "u6", "owner": "", "customer_id": ""},
    ]
    found = calc("owners", {"customers": customers, "units": units})
    assert found["customers"] == {"c1": ["u1"], "c3": []}
    vale, ode = found["texts"]
    assert (ode["text"], ode["customer"], [unit["unit_id"] for unit in ode["units"]]) == ("TARN ODE", "c1", ["u2"])
    assert (vale["text"], vale["spellings"], vale["customer"]) == ("Ilse Vale", ["Ilse Vale", "ilse vale"], None)
    assert [unit["unit_id"] for unit in vale["units"]] == ["u3", "u4", "u5"]


@pytest.mark.parametrize(
    ("definition", "owner"),
    [
        ({"owner": "T. Ode", "customer_id": "c1"}, "Tarn Ode"),
        ({"owner": "T. Ode", "customer_id": "c9"}, "T. Ode"),
        ({"owner": "T. Ode"}, "T. Ode"),
        ({"owner": None, "customer_id": None}, ""),
    ],
)
def test_an_owner_is_named_as_the_customer_is_and_else_as_it_was_typed(definition: dict[str, Any], owner: str) -> None:
    assert owner_of(definition, {"c1": "Tarn Ode"}) == owner


def test_letters_are_made_small_as_unicode_says() -> None:
    letters = {code for first, last, step, _ in CAPITALS for code in range(first, last + 1, step)} | set(range(128))
    # Python's own tables are the Unicode Standard's; İ is two letters as a small one, and stays as it is.
    assert {code: folded(f"a{chr(code)}b") for code in letters if chr(code).strip()} == {
        code: f"a{chr(code).lower()}b" for code in letters if chr(code).strip()
    }


def test_an_erased_customer_is_shown_no_more_before_the_workshop_has_erased_it() -> None:
    erasure = entry(3, {"ids": ["c1"]}, [1]) | {"kind": "erasure"}
    rows = {row["id"]: row for row in stand(ODE, SAME, erasure)}
    assert (rows["c1"]["name"], rows["c1"]["erased"], rows["c1"]["alike"]) == ("[erased]", True, [])
    assert rows["c1"]["body"].get("phone") is None
    assert (rows["c2"]["erased"], rows["c2"]["alike"]) == (False, [])
