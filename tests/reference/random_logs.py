"""Logs made up at random, and what stands after them by plain bookkeeping: nothing of the engine but what each entry
shows, which the log keeps."""

import copy
import datetime
import random
from typing import Any

from tests.engine.history.entries import entry

from .random_units import random_unit

START = datetime.datetime(2026, 3, 1, 9, tzinfo=datetime.UTC)
SHOWN: dict[str, Any] = {}


def spring_of(unit: dict[str, Any]) -> dict[str, Any]:
    """One disc of a unit's spring, as a check of discs asks for it."""
    return {name: value for name, value in unit["spring"].items() if name not in ("parallel", "series")}


def torque_body(chance: random.Random, unit: dict[str, Any]) -> dict[str, Any]:
    """A torque check."""
    value = chance.uniform(30, 200)
    steady = {way: [round(value + chance.uniform(-2, 2), 1) for _ in range(3)] for way in ("forward", "reverse")}
    body: dict[str, Any] = {
        "held": "bench_output_held",
        "wrench": {"name": "Dial", "kind": "dial", "high_nm": 250, "division_nm": 1},
        "steady_nm": steady,
        "limits": {"low_nm": unit["service"]["low_nm"], "high_nm": unit["service"]["high_nm"]},
    }
    if unit["stated_for"] == "case_held":
        body["stated_for"] = "case_held"
    if chance.random() < 0.7:
        body["circumstances"] = {"outings": chance.randrange(0, 12)}
        if chance.random() < 0.5:
            body["circumstances"]["oil"] = chance.choice(["75W-140", "80W-90"])
    return body


def plates_body(chance: random.Random, items: list[dict[str, Any]]) -> dict[str, Any]:
    """A measurement of some plates, each three times round."""
    rows = []
    for item in chance.sample(items, chance.randrange(1, len(items) + 1)):
        worn = round(item["new_mm"] * chance.uniform(0.94, 1.0), 2)
        limit = item.get("minimum_mm") or round(item["new_mm"] * 0.9, 2)
        points = [round(worn - chance.uniform(0, 0.02), 3) for _ in range(3)]
        rows.append({**item, "minimum_mm": limit, "points_mm": points})
    return {"micrometer": {"division_mm": 0.01}, "plates": rows}


def rebuild_body(chance: random.Random, items: list[dict[str, Any]]) -> dict[str, Any]:
    """A rebuild with some other plates, perhaps another spring."""
    rows = []
    for item in chance.sample(items, chance.randrange(0, min(5, len(items)))):
        row = {"slot": item["slot"], "mm": round(item["new_mm"] + chance.choice([-0.05, 0, 0.05, 0.1]), 2)}
        if chance.random() < 0.4:
            row["minimum_mm"], row["within_mm"] = round(row["mm"] * 0.93, 2), 0.01
        rows.append(row)
    body: dict[str, Any] = {"fitted": rows, "note": "Set up."}
    body |= chance.choice(
        [
            {},
            {},
            {"spring": "Cleaned.", "other_spring": False},
            {"spring": "New.", "other_spring": True},
            {"spring": "New."},
        ]
    )
    return body


def spring_body(chance: random.Random, unit: dict[str, Any], slots: list[str]) -> dict[str, Any]:
    """A measurement of discs."""
    disc = spring_of(unit)
    rows = []
    for slot in slots:
        height = disc["l0_mm"] - chance.uniform(0, 0.1) * (disc["l0_mm"] - disc["t_mm"])
        points = [round(height - chance.uniform(0, 0.01), 3) for _ in range(3)]
        rows.append({"slot": slot, "spring": disc, "points_mm": points})
    return {"gauge": {}, "springs": rows}


def random_log(chance: random.Random) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """A unit and its entries in the order in which things were done, each with its true time under "done"."""
    while True:
        try:
            unit = random_unit(chance, rising=True)
            entries = [entry(1, "unit", unit, START.isoformat(), seq=1)]
            break
        except ValueError:
            continue
    entries[0]["done"] = START
    plates = [item for item in unit["chain"] if item["part"] in ("friction", "separator", "shim")]
    slots = [item["slot"] for item in unit["chain"] if item["part"] == "spring"]
    hour = 0.0
    for number in range(2, chance.randrange(3, 12)):
        hour += chance.uniform(0.2, 40)
        kind = chance.choice(["torque_check"] * 3 + ["plate_check", "plate_check", "rebuild", "spring_check", "note"])
        body: dict[str, Any] = {"text": "Washed."}
        if kind == "torque_check":
            body = torque_body(chance, unit)
        elif kind == "plate_check":
            body = plates_body(chance, plates)
        elif kind == "rebuild":
            body = rebuild_body(chance, plates)
        elif kind == "spring_check":
            body = spring_body(chance, unit, slots)
        done = START + datetime.timedelta(hours=hour)
        # A device's own clock: off by more than a minute the workshop finds it, and says by how much it is slow.
        off = chance.choice([0, 0, 0, chance.randrange(-90000, 90000)])
        zone = datetime.timezone(datetime.timedelta(hours=chance.choice([0, 0, 2, -5])))
        at = (done - datetime.timedelta(seconds=off)).astimezone(zone).isoformat(timespec="milliseconds")
        more: dict[str, Any] = {"seq": number} | ({"clock_off_s": off} if off else {})
        row = entry(number, kind, body, at, **more)
        row["done"] = done
        entries.append(row)
    return unit, entries


def corrected(chance: random.Random, unit: dict[str, Any], entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The same log with some of its entries corrected later on, once or twice."""
    entries = list(entries)
    hour = 600.0
    for _ in range(chance.randrange(0, 4)):
        replaced = {row["replaces"] for row in entries if row.get("replaces")}
        live = [row for row in entries if row["id"] not in replaced and row["kind"] != "unit"]
        if not live:
            break
        wrong = chance.choice(live)
        body = copy.deepcopy(wrong["body"])
        if wrong["kind"] == "torque_check":
            body = torque_body(chance, unit)
        elif wrong["kind"] in ("plate_check", "spring_check"):
            for row in body["plates" if wrong["kind"] == "plate_check" else "springs"]:
                row["points_mm"] = [round(point - 0.01, 3) for point in row["points_mm"]]
        number = len(entries) + 1
        hour += chance.uniform(1, 10)
        done = START + datetime.timedelta(hours=hour)
        row = entry(number, wrong["kind"], body, done.isoformat(), seq=number, replaces=wrong["id"])
        row["done"] = done
        entries.append(row)
    return entries


def without_truth(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries as the log holds them, which does not know when things were truly done."""
    return [{name: value for name, value in row.items() if name != "done"} for row in entries]
