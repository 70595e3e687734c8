"""Where the torque went between two checks, and when it will meet a limit, beside plain formulas.

Sources: L. S. Shapley, A value for n-person games (1953), which for plates and spring is the mean of both orders;
DIN EN 16984 as in `random_units`; NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 and 4.5.1, for the line and
the band of its next reading; scipy for Student's t.
"""

import copy
import datetime
import math
import random
from typing import Any

import pytest
import scipy.stats

from server.engine import BadInput, calc
from tests.engine.history.entries import entry

from .random_logs import corrected, random_log, torque_body, without_truth
from .random_units import crush_of, most_crush, preload_at, random_unit, torque_per_newton


def force_of(unit: dict[str, Any], plates: dict[str, float], height: float) -> float | None:
    """Preload with these plates, to a micrometre, and discs of this height; None for a stack that is loose or flat."""
    changed = copy.deepcopy(unit)
    for item in changed["chain"]:
        if item["slot"] in plates:
            item["new_mm"] = round(plates[item["slot"]], 3)
    changed["spring"]["l0_mm"] = height
    crush = crush_of(changed)
    # The engine refuses less than some micrometres, at which a builder has no preload to speak of.
    return preload_at(changed, crush) if 0.01 < crush < most_crush(changed) else None


def shares(unit: dict[str, Any], before: tuple[Any, ...], now: tuple[Any, ...]) -> dict[str, float] | None:
    """Shares of ln(torque now / torque before); each side is its torque, its plates and its discs' height."""
    forces = {
        (plates is now, spring is now): force_of(unit, plates[1], spring[2])
        for plates in (before, now)
        for spring in (before, now)
    }
    logs = {key: math.log(force) for key, force in forces.items() if force}
    if len(logs) < 4:
        return None
    plates = (logs[True, False] - logs[False, False] + logs[True, True] - logs[False, True]) / 2
    spring = (logs[False, True] - logs[False, False] + logs[True, True] - logs[True, False]) / 2
    return {"plates": plates, "spring": spring, "friction": math.log(now[0] / before[0]) - plates - spring}


@pytest.mark.parametrize("seed", range(60))
def test_a_loss_is_shared_out_as_by_both_orders(seed: int) -> None:
    chance = random.Random(seed)
    unit = random_unit(chance)
    solid = [item for item in unit["chain"] if item["part"] != "spring"]
    sides = []
    for wear in (0.3, 1.3):
        some = chance.sample(solid, chance.randrange(0, len(solid) + 1))
        plates = {item["slot"]: round(item["new_mm"] - chance.uniform(0, 0.03) * wear, 3) for item in some}
        cone = unit["spring"]["l0_mm"] - unit["spring"]["t_mm"]
        height = round(unit["spring"]["l0_mm"] - chance.choice([0, 0.05]) * cone, 3)
        sides.append((round(chance.uniform(20, 200), 1), plates, height))
    expected = shares(unit, *sides)
    change = {
        name: {
            "torque_nm": torque,
            "plates": [{"slot": slot, "mm": mm} for slot, mm in plates.items()],
            "l0_mm": height,
        }
        for name, (torque, plates, height) in zip(("before", "now"), sides)
    }
    if expected is None:
        with pytest.raises(BadInput):
            calc("loss", {"unit": unit, **change})
        return
    result = calc("loss", {"unit": unit, **change})
    assert {row["cause"]: row["share_log"] for row in result["shares"]} == pytest.approx(expected, abs=1e-9)
    for name, (torque, plates, height) in zip(("before", "now"), sides):
        force = force_of(unit, plates, height)
        assert result[name]["preload_n"] == pytest.approx(force, rel=1e-9)
        assert result[name]["mu"] == pytest.approx(torque / (force or 0.0) / torque_per_newton(unit, 1.0), rel=1e-9)


def live(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What stands, in order of the true times; a correction has that of the entry it corrects."""
    by_id = {row["id"]: row for row in entries}
    replaced = {row["replaces"] for row in entries if row.get("replaces")}

    def done(row: dict[str, Any]) -> datetime.datetime:
        return done(by_id[row["replaces"]]) if row.get("replaces") else row["done"]

    return sorted([row for row in entries if row["id"] not in replaced], key=done)


def parts_then(unit: dict[str, Any], rows: list[dict[str, Any]], check: dict[str, Any]) -> tuple[Any, ...]:
    """Torque of a check, plates and height of the discs: measured up to the next check or rebuild."""
    place = rows.index(check)
    ends = [spot for spot in range(place + 1, len(rows)) if rows[spot]["kind"] in ("torque_check", "rebuild")]
    plates: dict[str, float] = {}
    height = unit["spring"]["l0_mm"]
    for row in rows[: ends[0] if ends else len(rows)]:
        body = row["body"]
        if row["kind"] == "rebuild":
            plates |= {part["slot"]: part["mm"] for part in body["fitted"]}
            if body.get("other_spring", bool(body.get("spring"))):
                height = unit["spring"]["l0_mm"]
        elif row["kind"] == "plate_check":
            plates |= {part["slot"]: sum(part["points_mm"]) / 3 for part in body["plates"]}
        elif row["kind"] == "spring_check":
            height = sum(sum(disc["points_mm"]) / 3 for disc in body["springs"]) / len(body["springs"])
    return check["shown"]["value_nm"], plates, height


@pytest.mark.parametrize("seed", range(60))
def test_what_changed_is_found_in_the_log(seed: int) -> None:
    chance = random.Random(seed)
    unit, entries = random_log(chance)
    rows = live(entries := corrected(chance, unit, entries))
    shuffled = without_truth(entries)
    chance.shuffle(shuffled)
    result = calc("change", {"entries": shuffled})
    checks = [row for row in rows if row["kind"] == "torque_check"]
    assert [row["id"] for row in result["checks"]] == [row["id"] for row in checks]
    if len(checks) < 2:
        assert result["loss"] is None
        return
    rebuilds = [spot for spot, row in enumerate(rows) if row["kind"] == "rebuild"]
    since = [row for row in rows[rebuilds[-1] if rebuilds else 0 :] if row["kind"] == "torque_check"] or checks
    assert (result["before"], result["now"]) == (since[0]["id"], checks[-1]["id"])
    if since[0] is checks[-1]:
        return
    expected = shares(unit, parts_then(unit, rows, since[0]), parts_then(unit, rows, checks[-1]))
    if expected is None:
        assert result["loss"] is None
        assert result["fault"]
    else:
        got = {row["cause"]: row["share_log"] for row in result["loss"]["shares"]}
        assert got == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("seed", range(60))
def test_the_outlook_is_the_line_through_the_checks_since_the_rebuild(seed: int) -> None:
    chance = random.Random(seed)
    unit, entries = random_log(chance)
    body = {"fitted": [], "note": "x"}
    done = entries[-1]["done"] + datetime.timedelta(hours=1)
    entries.append(entry(20, "rebuild", body, done.isoformat(), seq=20) | {"done": done})
    start, slope = chance.uniform(80, 160), chance.choice([-3, -2, 1.5])
    points = [(spot + chance.randrange(0, 12), chance.gauss(0, 1.5)) for spot in range(chance.randrange(3, 9))]
    points = sorted([*points, (20, chance.gauss(0, 1.5))])
    for number, (use, off) in enumerate(points, 21):
        done += datetime.timedelta(hours=20)
        check = torque_body(chance, unit) | {"circumstances": {"outings": use}}
        value = start + slope * use + off
        check["steady_nm"] = {way: [value + chance.uniform(-1, 1) for _ in range(3)] for way in check["steady_nm"]}
        entries.append(entry(number, "torque_check", check, done.isoformat(), seq=number) | {"done": done})
    # Checks fresh from the rebuild as well: the line is through all of them.
    result = calc("outlook", {"entries": without_truth(entries), "with_first": True})
    uses = [float(use) for use, _ in points]
    values = [row["shown"]["value_nm"] for row in entries[-len(points) :]]
    assert [(row["use"], row["value_nm"]) for row in result["checks"]] == sorted(zip(uses, values))
    line = scipy.stats.linregress(uses, values)
    assert result["life"]["slope"] == pytest.approx(line.slope, rel=1e-9)
    assert result["life"]["slope_sd"] == pytest.approx(line.stderr, rel=1e-9)
    mean, dof = sum(uses) / len(uses), len(uses) - 2
    spread = sum((use - mean) ** 2 for use in uses)
    scatter = line.stderr * math.sqrt(spread)

    def end(use: float, share: float) -> float:
        wide = scatter * math.sqrt(1 + 1 / len(uses) + (use - mean) ** 2 / spread)
        return float(line.intercept + line.slope * use + scipy.stats.t.ppf(share, dof) * wide)

    for row in result["life"]["curve"]:
        assert row["high"] == pytest.approx(end(row["use"], 0.975), rel=1e-6)
        # A torque is not below nothing.
        assert row["low"] == pytest.approx(max(0.0, end(row["use"], 0.025)), rel=1e-6, abs=1e-6)
    for row in result["life"]["meets"]:
        share = 0.05 if row["limit"] == "low_nm" else 0.95
        inside = (end(uses[-1], share) - row["at"]) * (0.5 - share) > 0
        if inside and row["earliest_use"] is not None:
            assert end(row["earliest_use"], share) == pytest.approx(row["at"], abs=1e-4)
        elif not inside:
            assert row["earliest_use"] == uses[-1]
