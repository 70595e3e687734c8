"""The unit as built, by plain bookkeeping of random logs: rebuilds, measurements, corrections, clocks that are off.

Source of the rules: a log that only grows, in which a correction stands where the entry stood that it corrects, and
what comes out of a unit says nothing of what took its place. Forces: DIN EN 16984, as in `random_units`.
"""

import random
from typing import Any

import pytest

from server.engine import calc

from .random_logs import corrected, random_log, without_truth
from .random_units import crush_of, most_crush, preload_at


def kept(unit: dict[str, Any], entries: list[dict[str, Any]]) -> dict[str, Any]:
    """What is in each place, in order of the true times."""
    by_id = {row["id"]: row for row in entries}
    replaced = {row["replaces"] for row in entries if row.get("replaces")}

    def first(row: dict[str, Any]) -> dict[str, Any]:
        return first(by_id[row["replaces"]]) if row.get("replaces") else row

    places: dict[str, Any] = {
        item["slot"]: {"mm": item["new_mm"], "known": "nominal", "lowest_mm": None, "at": None}
        for item in unit["chain"]
        if item["part"] != "spring"
    }
    state: dict[str, Any] = {"places": places, "spring_mm": None, "torque": None}
    live = [row for row in entries if row["id"] not in replaced]
    for row in sorted(live, key=lambda row: first(row)["done"]):
        body = row["body"]
        if row["kind"] == "rebuild":
            state["torque"] = None
            for part in body["fitted"]:
                places[part["slot"]] = {"mm": part["mm"], "known": "fitted", "lowest_mm": None, "at": None}
            if body.get("other_spring", bool(body.get("spring"))):
                state["spring_mm"] = None
        elif row["kind"] == "plate_check":
            for plate in body["plates"]:
                points = plate["points_mm"]
                mean, at = sum(points) / len(points), first(row)["at"]
                places[plate["slot"]] = {"mm": mean, "known": "measured", "lowest_mm": min(points), "at": at}
        elif row["kind"] == "spring_check":
            means = [sum(disc["points_mm"]) / len(disc["points_mm"]) for disc in body["springs"]]
            state["spring_mm"] = sum(means) / len(means)
        elif row["kind"] == "torque_check":
            state["torque"] = row["shown"]["value_nm"]
    return state


@pytest.mark.parametrize("seed", range(80))
def test_a_unit_is_built_as_its_entries_add_up(seed: int) -> None:
    chance = random.Random(seed)
    unit, entries = random_log(chance)
    entries = corrected(chance, unit, entries)
    shuffled = without_truth(entries)
    chance.shuffle(shuffled)
    found, state = calc("standing", {"entries": shuffled})["built"], kept(unit, entries)
    for row in found["places"]:
        place = state["places"][row["slot"]]
        assert row["mm"] == pytest.approx(place.pop("mm"), abs=1e-9)
        assert {name: row[name] for name in place} == place
    assert found["spring_mm"] == pytest.approx(state["spring_mm"], abs=1e-9)
    assert (found["measured"] or {"torque_nm": None})["torque_nm"] == state["torque"]
    for item in unit["chain"]:
        if item["part"] != "spring":
            item["new_mm"] = next(row["mm"] for row in found["places"] if row["slot"] == item["slot"])
    unit["spring"]["l0_mm"] = state["spring_mm"] or unit["spring"]["l0_mm"]
    crush = crush_of(unit)
    assert found["crush_mm"] == pytest.approx(crush, abs=1e-9)
    if 0 < crush < most_crush(unit):
        assert found["preload_n"] == pytest.approx(preload_at(unit, crush), rel=1e-9)
    elif crush < 0:
        assert not found["preload_n"]
