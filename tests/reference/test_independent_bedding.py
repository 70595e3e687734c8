"""What bedding in takes, found once more: in made-up logs by plain bookkeeping, and pooled with another library.

Sources: JCGM 100:2008, G.4.1 (Welch and Satterthwaite; degrees of freedom cut to whole ones) and table G.2; Student's t
of SciPy; scatter beyond the readings' doubt by the method of moments (DerSimonian and Laird 1986, equal weights; from
memory). What the log holds is drawn here; nothing of it is worked out by the engine but each check's torque.
"""

import datetime
import math
import random
from collections.abc import Iterator
from typing import Any

import numpy
import pytest
from scipy import stats

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import check_near, entry

from .test_independent_plan import DRAWS, Drawn, random_request

LOGS = 60
POOLS = 400


def pooled(rows: list[dict[str, float]]) -> tuple[float, float, float] | None:
    """Mean, half of its 95 % interval and scatter of the next; nothing where the mean is not above 0 for sure."""
    losses, doubts = numpy.array([row["loss_nm"] for row in rows]), numpy.array([row["u_nm"] for row in rows])
    many = len(rows)
    if many == 0:
        return None
    within = float(numpy.mean(doubts**2))
    between = max(0.0, float(numpy.var(losses, ddof=1)) - within) if many > 1 else 0.0
    error = math.sqrt(within / many + between / many)
    freedom = math.inf
    if between > 0:
        # G.2b: u^4 over the sum of each u^4 by its degrees of freedom; the readings' own are taken for endless.
        freedom = error**4 / ((between / many) ** 2 / (many - 1))
        # G.4.1 cuts it to whole ones, which matters where they are few.
        freedom = math.floor(freedom) if freedom < 120 else freedom
    sided = stats.norm if math.isinf(freedom) else stats.t(freedom)
    mean = float(losses.mean())
    if mean <= sided.ppf(0.95) * error:
        return None
    ahead = (mean / 2) ** 2 if many == 1 else between
    return mean, float(sided.ppf(0.975)) * error, math.sqrt(error**2 + ahead)


def a_pool(chance: random.Random, near: float) -> tuple[dict[str, Any], list[dict[str, float]]]:
    """What a plan is told of bedding in, and the rebuilds of it that count."""

    def rows() -> list[dict[str, float]]:
        level, spread = chance.uniform(-2, 8), chance.choice([0.0, 0.3, 2.0])
        return [
            {
                "first_nm": round(near * chance.choice([0.6, 0.76, 0.9, 1.0, 1.2, 1.3]), 3),
                "loss_nm": round(chance.gauss(level, spread), 3),
                "u_nm": round(chance.uniform(0.1, 2.5), 3),
            }
            for _ in range(chance.randrange(0, 6))
        ]

    def count(given: list[dict[str, float]]) -> list[dict[str, float]]:
        return [row for row in given if 0.75 * near <= row["first_nm"] <= 1.25 * near]

    own, kind = rows(), chance.choice(["", "a"])
    others: list[dict[str, Any]] = [
        {"name": f"Unit {number}", "alike": chance.choice("ab"), "losses": rows()}
        for number in range(chance.randrange(3))
    ]
    counting = count(own)
    if len(counting) < 2 and kind:
        for other in others:
            if other["alike"] == kind:
                counting = counting + count(other["losses"])
    return {"losses": own, "alike": kind, "others": others}, counting


def pools(seed: int) -> Iterator[None]:
    """A plan's figures beside those of the library, as often as it is asked."""
    chance = random.Random(seed)
    request = random_request(random.Random(3))
    request["shelf"] = request["shelf"][:1]
    order = request["unit"]["order"]
    while True:
        pool, counting = a_pool(chance, order["torque_nm"])
        result = calc("plan", request | {"bedding": pool})["bedding"]
        expected = pooled(counting)
        assert (result is None) == (expected is None), (pool, expected)
        if expected is not None:
            assert result["loss_nm"] == pytest.approx(expected[0], rel=1e-9)
            assert result["expanded_nm"] == pytest.approx(expected[1], rel=1e-6)
            assert result["above_nm"] == pytest.approx(min(expected[0], order["tolerance_nm"]), rel=1e-9)
            assert result["rebuilds"] == len(counting)
        yield


def test_losses_are_pooled_as_the_library_pools_them() -> None:
    compared = pools(1)
    for _ in range(POOLS):
        next(compared)


def a_season(chance: random.Random) -> tuple[list[dict[str, Any]], list[dict[str, float]]]:
    """A unit's log, and what bedding in took by what was drawn."""
    day = datetime.datetime(2020, 1, 1, 9, tzinfo=datetime.UTC)
    entries = [entry(1, "unit", UNIT, day.isoformat(), seq=1)]
    expected: list[dict[str, float]] = []

    def add(kind: str, body: dict[str, Any]) -> dict[str, Any]:
        nonlocal day
        day += datetime.timedelta(days=chance.randrange(1, 9), minutes=chance.randrange(600))
        entries.append(entry(len(entries) + 1, kind, body, day.isoformat(), seq=len(entries) + 1))
        return entries[-1]

    for _ in range(chance.randrange(1, 8)):
        fits = chance.random() < 0.8
        fitted = [{"slot": "A2", "mm": 2.51}] if fits else []
        add("rebuild", {"fitted": fitted, "note": "Set up."})
        if chance.random() < 0.3:
            add("note", {"text": "Looked at it."})
        fresh: dict[str, Any] | None = None
        drops, opened = [], False
        outings, level = 0, chance.randrange(85, 110)
        for _ in range(chance.randrange(0, 6)):
            outings += chance.choice([0, 0, 1, 1, 2])
            level -= chance.randrange(0, 3)
            oil, warm = chance.choice(["75W-140", "75W-140", "80W-90"]), chance.choice(["cold", "cold", "warm"])
            outings_noted = chance.random() < 0.9
            around: dict[str, Any] = {"oil": oil, "temperature": warm} | ({"outings": outings} if outings_noted else {})
            body = check_near(level, **around)
            if chance.random() < 0.1:
                body["stated_for"] = "case_held"
            row = add("torque_check", body) | {"told": outings_noted, "outings": outings, "as": body.get("stated_for")}
            row["around"] = (oil, warm)
            if opened or not outings_noted:
                pass
            elif outings == 0 and fresh is None and row["as"] is None:
                fresh = row
            elif outings == 0 or outings > 3:
                pass
            elif fresh is not None and (row["around"], row["as"]) == (fresh["around"], fresh["as"]):
                drops.append(fresh["shown"]["value_nm"] - row["shown"]["value_nm"])
            if chance.random() < 0.1:
                add("strip", {"done": ["held", "screws"], "signed": "Ilse"})
                opened = True
        if fits and fresh is not None and drops:
            expected.append({"first_nm": fresh["shown"]["value_nm"], "loss_nm": sum(drops) / len(drops)})
    chance.shuffle(entries)
    return entries, expected[-5:]


@pytest.mark.parametrize("seed", range(LOGS))
def test_a_log_shows_what_was_drawn_into_it(seed: int) -> None:
    entries, expected = a_season(random.Random(seed))
    result = calc("standing", {"entries": entries})["built"]["bedding"]
    assert [{"first_nm": row["first_nm"], "loss_nm": row["loss_nm"]} for row in result] == [
        {name: pytest.approx(value, abs=1e-9) for name, value in row.items()} for row in expected
    ]


@pytest.mark.parametrize("seed", range(30))
def test_the_chance_once_bedded_in_is_that_of_draws(seed: int) -> None:
    request = random_request(random.Random(seed))
    order = request["unit"]["order"]
    wanted, off = order["torque_nm"], order["tolerance_nm"]
    rows = [
        {"first_nm": wanted, "loss_nm": round(share * off, 3), "u_nm": round(0.05 * off, 3)}
        for share in (0.1, 0.25, 0.4, 0.55, 0.7)
    ]
    result = calc("plan", request | {"bedding": {"losses": rows}})
    shown = pooled(rows)
    assert shown is not None
    drawn = Drawn(request, seed)
    lost = numpy.random.default_rng(seed + 1000).normal(shown[0], shown[2], DRAWS)
    for choice in result.get("choices", []):
        parts = [row for row in choice["stack"] if row["part"] != "spring"]
        mm, fitted = numpy.array([row["mm"] for row in parts]), numpy.array([row["action"] == "fit" for row in parts])
        torque = drawn.torques(mm, fitted)
        assert choice["torque_nm"] <= wanted + off + 1e-6
        bedded = torque - (lost if fitted.any() else 0.0)
        share = float((drawn.there & (abs(bedded - wanted) <= off)).mean())
        assert choice["chance"] == pytest.approx(share, abs=0.03)
        above = float((drawn.there & (torque > wanted + off)).mean()) if fitted.any() else 0.0
        assert choice["above_chance"] == pytest.approx(above, abs=0.03)


def test_the_same_torque_stated_otherwise_is_another_figure() -> None:
    """Stated for the case held it is twice as much: what was lost before the definition changed says nothing."""
    entries, expected = a_season(random.Random(next(seed for seed in range(99) if a_season(random.Random(seed))[1])))
    assert expected
    body = changed(UNIT, stated_for="case_held")
    later = entry(len(entries) + 1, "unit", body, "2027-01-01T09:00:00+00:00", seq=len(entries) + 1)
    result = calc("standing", {"entries": [*entries, later]})["built"]["bedding"]
    assert all(row["first_nm"] not in [pooled_check["first_nm"] for pooled_check in expected] for row in result)
