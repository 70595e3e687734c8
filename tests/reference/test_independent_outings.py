"""Outings since the rebuild and what is due: seasons at random, beside the bookkeeping of somebody with a diary.

Source: first principles. An outing counts from the day on which it was run. A check that says more than was logged says
that some were not logged, and the fewest that explain it are taken; one that says less contradicts what was logged.
What is due goes by what was run since it was done.
"""

import datetime
import itertools
import random
from typing import Any

import pytest

from server.engine import calc
from tests.engine.history.entries import check_near, entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
KINDS = ["outing"] * 8 + ["torque_check"] * 4 + ["rebuild"] + ["service"] * 2 + ["note"]


class Season:
    """What was done to a unit and run with it, as a diary has it: hours after the start, in order of writing."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.intervals: dict[str, Any] = {
            name: chance.randrange(2, 9)
            for name in ("oil_every_outings", "oil_every_hours", "check_every_outings")
            if chance.random() < 0.6
        }
        if chance.random() < 0.6:
            self.intervals["oil_every_days"] = chance.randrange(7, 90)
        unit: dict[str, Any] = {"name": "Bramble", "service": {"low_nm": 60, **self.intervals}}
        self.entries = [entry(1, "unit", unit, START.isoformat(), seq=1)]
        self.pages: list[dict[str, Any]] = []
        hour = 0.0
        for number in range(101, chance.randrange(102, 116)):
            hour += chance.choice([0.5, 1.0, 2.0, 6.0, 20.0, 30.0, 80.0])
            self.write(number, chance.choice(KINDS), hour)
        self.today = START + datetime.timedelta(hours=hour + chance.uniform(0, 400))

    def write(self, number: int, kind: str, hour: float) -> None:
        """One more page of the diary, and the entry that says the same."""
        chance = self.chance
        done = START + datetime.timedelta(hours=hour)
        page: dict[str, Any] = {"number": number, "kind": kind, "hour": hour, "day": done.date(), "late": False}
        body: dict[str, Any] = {"text": "Washed."}
        if kind == "outing":
            body = {"where": "Old airfield"}
            if chance.random() < 0.7:
                page["minutes"] = body["minutes"] = chance.choice([10, 15, 20, 45])
            if chance.random() < 0.5:
                page["day"] -= datetime.timedelta(days=chance.choice([0, 0, 1, 1, 2]))
                page["late"] = page["day"] != done.date()
                body["day"] = page["day"].isoformat()
        elif kind == "torque_check":
            body = check_near(80.0)
            if chance.random() < 0.6:
                page["typed"] = chance.choice([0, 1, 1, 2, 3, 4, 6])
                body["circumstances"] = {"outings": page["typed"]}
        elif kind == "rebuild":
            body = {"fitted": [], "note": "Set up."}
        elif kind == "service":
            page["oil"] = chance.random() < 0.7
            body = {"oil_changed": True, "oil": "75W-140"} if page["oil"] else {"washed": True}
        self.entries.append(entry(number, kind, body, done.isoformat(), seq=number))
        self.pages.append(page)

    def time(self, page: dict[str, Any]) -> float:
        """When what a page says was done, hours: what was written on a later day was the last of its own day."""
        if not page["late"]:
            return float(page["hour"])
        midnight = datetime.datetime.combine(page["day"], datetime.time(), datetime.UTC) + datetime.timedelta(days=1)
        return (midnight - START).total_seconds() / 3600.0 - 1e-3

    def diary(self) -> list[list[dict[str, Any]]]:
        """The pages in order of what was done, one list for each life of the unit, which a rebuild begins."""
        lives: list[list[dict[str, Any]]] = [[]]
        for page in sorted(self.pages, key=lambda page: (self.time(page), page["number"])):
            if page["kind"] == "rebuild":
                lives.append([])
            lives[-1].append(page)
        return lives


Ledger = tuple[int, dict[int, int | None], int, set[int], list[tuple[int, int, float]]]


def counted(life: list[dict[str, Any]]) -> Ledger:
    """Outings of a life, those of each check by number, how many nobody logged, checks that are contradicted, and what
    was run at which page, in minutes.

    Pages are tried in every order that the diary leaves open: an outing written after a check of the same day may have
    been run before it. The order with the fewest outings, at each check too, is taken; of such, the one that changes
    least.
    """
    best: tuple[Any, Ledger] | None = None
    free = [
        (place, [earlier for earlier, other in enumerate(life[:place]) if is_same_day_check(other, page)])
        for place, page in enumerate(life)
        if page["kind"] == "outing"
    ]
    for before in itertools.product(*[[None, *checks] for _, checks in free]):
        moved = {place: check for (place, _), check in zip(free, before, strict=True) if check is not None}
        ledger = in_this_order(life, moved)
        key = (ledger[0], sum(count or 0 for count in ledger[1].values()), len(moved), sum(moved.values()), list(moved))
        if best is None or key < best[0]:
            best = (key, ledger)
    assert best is not None
    return best[1]


def is_same_day_check(other: dict[str, Any], outing: dict[str, Any]) -> bool:
    """Whether a page is a check with a figure, of the day on which an outing was run."""
    return other["kind"] == "torque_check" and "typed" in other and other["day"] == outing["day"]


def in_this_order(life: list[dict[str, Any]], moved: dict[int, int]) -> Ledger:
    """The same where some outings, by place, were run just before a check, by place."""
    total = unlogged = 0
    checks: dict[int, int | None] = {}
    contradicted = set()
    run: list[tuple[int, int, float]] = []
    for place, page in enumerate(life):
        here = [early for early, check in moved.items() if check == place]
        here += [place] if page["kind"] == "outing" and place not in moved else []
        run += [(page["number"], 1, life[outing].get("minutes", 0)) for outing in here]
        total += len(here)
        if page["kind"] == "torque_check":
            typed, logged = page.get("typed"), total - unlogged
            if typed is not None and typed < total and logged:
                contradicted.add(page["number"])
            if typed is not None and typed > total:
                run.append((page["number"], typed - total, 0))
                unlogged += typed - total
                total = typed
            checks[page["number"]] = total if logged else typed
    return total, checks, unlogged, contradicted, run


def since_oil(season: Season) -> dict[str, float]:
    """Outings, hours and days since the oil was changed last, or the unit rebuilt or taken in."""
    lives = season.diary()
    pages = [page for life in lives for page in life]
    places = [place for place, page in enumerate(pages) if page["kind"] == "rebuild" or page.get("oil")]
    later = {page["number"] for page in pages[max([-1, *places]) + 1 :]}
    since = pages[places[-1]]["hour"] if places else 0.0
    run = [row for life in lives for row in counted(life)[4] if row[0] in later]
    return {
        "outings": sum(count for _, count, _ in run),
        "hours": sum(minutes for _, _, minutes in run) / 60.0,
        "days": (season.today.date() - (START + datetime.timedelta(hours=since)).date()).days,
    }


@pytest.mark.parametrize("seed", range(40))
def test_outings_are_counted_as_a_diary_counts_them(seed: int) -> None:
    season = Season(random.Random(seed))
    found = calc("standing", {"entries": season.entries, "today": season.today.date().isoformat()})
    lives = season.diary()
    life = lives[-1]
    total, _, unlogged, contradicted, _ = counted(life)
    outings = [page for page in life if page["kind"] == "outing"]
    used = found["used"]
    typed = [page["typed"] for page in life if "typed" in page]
    assert used["outings"] == (total if outings or typed else None)
    assert (used["logged"], used["unlogged"]) == (len(outings), unlogged)
    assert used["hours"] == pytest.approx(sum(page.get("minutes", 0) for page in outings) / 60.0)
    assert used["every_hour"] == (unlogged == 0 and all("minutes" in page for page in outings))
    assert {row["id"] for row in used["contradictions"]} == {f"id-{number}" for number in contradicted}
    checks = {f"id-{number}": count for each in lives for number, count in counted(each)[1].items()}
    assert {row["id"]: row["outings"] for row in found["trend"]} == checks


@pytest.mark.parametrize("seed", range(40))
def test_what_is_due_goes_by_what_was_run_since(seed: int) -> None:
    season = Season(random.Random(seed))
    found = calc("standing", {"entries": season.entries, "today": season.today.date().isoformat()})
    rows = {row["name"]: row for row in found["upkeep"]}
    every = {name.rpartition("_")[2]: value for name, value in season.intervals.items() if name.startswith("oil")}
    assert ("oil" in rows) == bool(every)
    if not every:
        return
    used = since_oil(season)
    measures = {row["measure"]: row for row in rows["oil"]["measures"]}
    assert set(measures) == set(every)
    for name, row in measures.items():
        assert row["used"] == pytest.approx(used[name])
        assert row["left"] == pytest.approx(every[name] - used[name])
    late = {name: row["used"] > row["every"] if name == "days" else row["left"] <= 0 for name, row in measures.items()}
    assert rows["oil"]["due"] == any(late.values())
    assert rows["oil"]["due"] == ("oil" in {row["name"] for row in found["due"]})
    share = {name: row["used"] / row["every"] for name, row in measures.items()}
    assert share[rows["oil"]["first"]] == pytest.approx(max(share.values()))
