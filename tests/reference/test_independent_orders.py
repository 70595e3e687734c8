"""What stands, against every order in which a few things can have been done; with corrections and old entries.

Each order that breaks nothing certain is gone through as a diary: a rebuild begins anew, a check stands until the next.
What may stand in none of these diaries may not stand, and the worst of those that may has to. Which of two is
certainly earlier is the engine's word here; `test_independent_order` works that out anew.
"""

import functools
import itertools
import random
from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest

from server.engine import calc
from server.engine.history.order import placed

from .clock_stories import DAY, START, Story, check_of, text_of, without_truth

KEPT = 40
MOST = 8
REBUILD = "rebuild"
BAD = {None: 0, "go": 0, "measure_again": 1, "rework": 2}


def orders(left: frozenset[str], before: set[tuple[str, str]]) -> Iterator[tuple[str, ...]]:
    """Every order of these in which nothing that is certain is broken."""
    if not left:
        yield ()
    for first in sorted(left):
        if not any((other, first) in before for other in left):
            for rest in orders(left - {first}, before):
                yield (first, *rest)


def at_the_end(diary: tuple[str, ...], says: dict[str, str]) -> str | None:
    """The verdict with which a diary ends; None where the last rebuild was not checked."""
    last = says[diary[-1]] if diary else REBUILD
    return None if last == REBUILD else last


def worst_end(says: dict[str, str], before: set[tuple[str, str]]) -> str | None:
    """The worst that any order ends with; a go has to stand in each of them."""
    ends = {at_the_end(diary, says) for diary in orders(frozenset(says), before)}
    worst = max(ends, key=lambda end: BAD[end])
    return worst if BAD[worst] else None if None in ends else "go"


def known_to(row: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> set[str]:
    """All that an entry was written after, by what it knew."""
    known = set(row["knows"])
    return known.union(*(known_to(by_id[name], by_id) for name in row["knows"]))


def old_entry(chance: random.Random, number: int) -> dict[str, Any]:
    """A check of a Slipbook that noted nothing but the time."""
    body, shown = check_of(chance.choice(["go", "measure_again", "rework"]))
    row: dict[str, Any] = {"id": f"{chance.randrange(10**6):06d}-old", "unit": "u", "kind": "torque_check"}
    row |= {
        "who": "Mara",
        "at": text_of(START + chance.uniform(-2, 2) * DAY),
        "device": "old",
        "body": body,
        "shown": shown,
    }
    if chance.random() < 0.6:
        row |= {"seq": 1000 + number, "received": text_of(START + 9 * DAY)}
    if chance.random() < 0.3:
        row["clock_off_s"] = chance.choice([3600, -7200, 86400])
    return row


def few_entries(chance: random.Random) -> list[dict[str, Any]]:
    """A short story in which checks that somebody knew are corrected, with some entries of an old version."""
    rows: list[dict[str, Any]] = []
    while not 0 < len(rows) <= MOST:
        rows = without_truth(Story(chance, True).tell(chance.randrange(4, 16)))
    by_id = {row["id"]: row for row in rows}
    for row in rows:
        checks = [name for name in sorted(known_to(row, by_id)) if by_id[name]["kind"] == "torque_check"]
        if row["kind"] == "torque_check" and checks and chance.random() < 0.4:
            row["replaces"] = chance.choice(checks)
    rows += [old_entry(chance, number) for number in range(min(MOST - len(rows), chance.choice([0, 1, 3])))]
    chance.shuffle(rows)
    return rows


def what_counts(rows: list[dict[str, Any]], arrived: dict[str, Any]) -> dict[str, str]:
    """The verdict of each thing that was done, as last corrected, by the entry that said it first."""
    by_id = {row["id"]: row for row in rows}
    corrected = {row["replaces"] for row in rows if "replaces" in row}
    says = {}
    for row in sorted((row for row in rows if row["id"] not in corrected), key=lambda row: arrived[row["id"]]):
        first = row
        while "replaces" in first:
            first = by_id[first["replaces"]]
        says[first["id"]] = REBUILD if row["kind"] == "rebuild" else row["shown"]["verdict"]
    return says


def right_time(row: dict[str, Any]) -> float:
    """The time of an old entry, corrected by what its clock was off when it arrived."""
    slow: float = row.get("clock_off_s", 0)
    return datetime.fromisoformat(row["at"]).timestamp() + slow


def compared(seed: int) -> tuple[bool, bool, bool]:
    """Compare one story; whether it had corrections and old entries, and whether its order was in doubt."""
    rows = few_entries(random.Random(f"orders {seed}"))
    found = {row["id"]: row for row in placed(rows)}
    says = what_counts(rows, {name: row["arrived"] for name, row in found.items()})
    pairs = itertools.permutations(says, 2)
    before = {(a, b) for a, b in pairs if found[a]["when"].is_before(found[b]["when"])}
    stands = calc("standing", {"entries": rows})
    verdict = stands["torque"]["verdict"] if stands["torque"] else None
    assert verdict == worst_end(says, before)
    shown = stands["order"][::-1]
    olds = sorted((row for row in rows if "knows" not in row), key=right_time)
    assert [name for name in shown if "knows" not in found[name]] == [row["id"] for row in olds]
    if len(olds) == len(rows):
        assert shown == [row["id"] for row in olds]
        assert not stands["unsure"]
    return any("replaces" in row for row in rows), bool(olds), bool(stands["unsure"])


@functools.cache
def sorts() -> list[tuple[bool, bool, bool]]:
    """Of what sort the stories of these tests are."""
    return [compared(seed) for seed in range(KEPT)]


@pytest.mark.parametrize("seed", range(KEPT))
def test_what_stands_is_the_worst_end_of_all_diaries(seed: int) -> None:
    compared(seed)


def test_stories_of_every_sort_are_among_them() -> None:
    assert all(sum(story[sort] for story in sorts()) >= 5 for sort in range(3))
