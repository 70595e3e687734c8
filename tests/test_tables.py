"""Tables: rows sorted, chosen and put in groups, and what an address keeps of it."""

import json
import random
import subprocess
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(__file__).with_name("table_calls.js")
sys.path.insert(0, str(ROOT / "webui"))

import vendor  # noqa: E402

Ask = Callable[..., list[Any]]


@pytest.fixture(scope="module")
def node() -> Iterator[subprocess.Popen[str]]:
    """The program that calls them, started once."""
    command = [*vendor.find_command("node"), str(PROGRAM)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, encoding="utf-8"
    ) as program:
        yield program
        assert program.stdin
        program.stdin.close()


def returned(node: subprocess.Popen[str], file: str, *calls: tuple[str, list[Any]]) -> list[Any]:
    """What functions of a file return, by name and arguments."""
    assert node.stdin
    assert node.stdout
    node.stdin.write(json.dumps([(file, name, given) for name, given in calls]) + "\n")
    node.stdin.flush()
    line = node.stdout.readline()
    assert line, "the program ended: what it says is above"
    found: list[Any] = json.loads(line)
    return found


@pytest.fixture
def arranged(node: subprocess.Popen[str]) -> Ask:
    """What functions of arrange.js return, by name and arguments."""
    return partial(returned, node, "arrange.js")


def test_rows_are_sorted_both_ways_and_what_is_empty_comes_last(arranged: Ask) -> None:
    rows = [{"id": number, "key": key} for number, key in enumerate([7, None, -2, 7, 0.5, None])]
    up, down, plain, unknown = arranged(
        ("sorted", [rows, {"fields": ["key"]}, {"by": "key", "down": False}]),
        ("sorted", [rows, {"fields": ["key"]}, {"by": "key", "down": True}]),
        ("sorted", [rows, {"fields": ["key"]}, None]),
        ("sorted", [rows, {"fields": ["key"]}, {"by": "constructor", "down": True}]),
    )
    # Rows that are alike stay in their order, whichever way they are sorted.
    assert [row["id"] for row in up] == [2, 4, 0, 3, 1, 5]
    assert [row["id"] for row in down] == [0, 3, 4, 2, 1, 5]
    assert plain == unknown == rows


def test_words_are_sorted_as_people_count_and_spell(arranged: Ask) -> None:
    names = ["Bramble 10", "bramble 2", "Åse", "Zita", "Bramble 2", ""]
    [found] = arranged(("sorted", [[{"key": name} for name in names], {"fields": ["key"]}, {"by": "key"}]))
    assert [row["key"] for row in found] == ["Åse", "bramble 2", "Bramble 2", "Bramble 10", "Zita", ""]


def test_figures_are_sorted_as_a_second_way_has_them(arranged: Ask) -> None:
    chance = random.Random(5)
    keys = [chance.choice([None, chance.randint(-9, 9), chance.uniform(-9, 9)]) for _ in range(500)]
    rows = [{"id": number, "key": key} for number, key in enumerate(keys)]
    [found] = arranged(("sorted", [rows, {"fields": ["key"]}, {"by": "key", "down": True}]))
    assert found == sorted(rows, key=lambda row: (row["key"] is None, -(row["key"] or 0), row["id"]))


def test_a_head_sorts_one_way_then_the_other_and_then_no_more(arranged: Ask) -> None:
    up, down = {"by": "owner", "down": False}, {"by": "owner", "down": True}
    assert arranged(
        ("pressed", [None, "owner"]),
        ("pressed", [up, "owner"]),
        ("pressed", [down, "owner"]),
        ("pressed", [up, "left", True]),
        ("pressed", [down, "owner", True]),
        ("pressed", [up, "owner", True]),
    ) == [up, down, None, {"by": "left", "down": True}, up, None]


def test_groups_are_by_name_or_in_a_given_order_and_the_nameless_come_last(arranged: Ask) -> None:
    rows = [{"id": number, "of": name} for number, name in enumerate(["b", "", "a10", "a9", "b"])]
    by_name, given = arranged(
        ("inGroups", [rows, {"field": "of"}]),
        ("inGroups", [rows, {"field": "of"}, ["b", "a9"]]),
    )
    assert [(group["name"], [row["id"] for row in group["rows"]]) for group in by_name] == [
        ("a9", [3]),
        ("a10", [2]),
        ("b", [0, 4]),
        ("", [1]),
    ]
    assert [group["name"] for group in given] == ["b", "a9", "a10", ""]


def test_a_filter_takes_what_has_its_value_and_a_blank_one_what_has_none(arranged: Ask) -> None:
    rows = [{"id": 1, "owner": "Jo"}, {"id": 2, "owner": ""}, {"id": 3, "owner": "jo"}]
    by = {"filters": ["owner"]}
    jo, none, strange = arranged(
        ("chosenFrom", [rows, {"owner": "Jo"}, by]),
        ("chosenFrom", [rows, {"owner": ""}, by]),
        ("chosenFrom", [rows, {"toString": "x", "q": "Jo"}, by]),
    )
    assert [row["id"] for row in jo] == [1]
    assert [row["id"] for row in none] == [2]
    assert strange == rows


def test_values_to_choose_from_are_counted(arranged: Ask) -> None:
    rows = [{"owner": owner} for owner in ("Jo", "", "Åse", "Jo")]
    [values] = arranged(("valuesOf", [rows, {"field": "owner"}]))
    assert [(row["value"], row["count"]) for row in values] == [("Åse", 1), ("Jo", 2), ("", 1)]


HOSTILE = ['"><script>alert(1)</script>', "a&b=c#d?e", "100 % – Ørn", "+ +", "__proto__", "\u202eback", "-", "="]


def test_an_address_keeps_what_a_table_shows_whatever_it_is_called(arranged: Ask) -> None:
    views: list[dict[str, Any]] = [
        {"sort": {"by": name, "down": down}, "group": name, "filters": {"q": name, "owner": "", "x": name}}
        for name in HOSTILE
        for down in (True, False)
        if not name.startswith("-")
    ]
    views.append({"group": "", "filters": {}})
    queries = arranged(*(("writeView", [view]) for view in views))
    assert queries[-1] == ""
    assert not [query for query in queries if set(query) & set("#<>\"' ")]
    assert arranged(*(("readView", [query]) for query in queries)) == views


def test_whatever_an_address_says_is_read_as_a_choice(arranged: Ask) -> None:
    queries = ["", "&&==", "sort=", "sort=-", "sort=-left&sort=x&q=a&q=b", "%zz=%", "__proto__=x&q=1"]
    blank, amp, no_sort, minus, twice, percent, proto = arranged(*(("readView", [query]) for query in queries))
    assert blank == no_sort == minus == {"group": "", "filters": {}}
    assert amp["filters"] == {"": "="}
    assert twice == {"sort": {"by": "left", "down": True}, "group": "", "filters": {"q": "a"}}
    assert percent["filters"] == {"%zz": "%"}
    assert proto["filters"]["q"] == "1"


def test_a_filter_is_chosen_and_taken_away(arranged: Ask) -> None:
    view = {"group": "owner", "filters": {"q": "bra", "owner": "Jo"}}
    chosen, gone = arranged(("withFilter", [view, "owner", ""]), ("withFilter", [view, "q", None]))
    assert chosen == {"group": "owner", "filters": {"q": "bra", "owner": ""}}
    assert gone == {"group": "owner", "filters": {"owner": "Jo"}}


def test_entries_are_chosen_by_days_that_belong_to_them(node: subprocess.Popen[str]) -> None:
    days = ["2026-03-31T23:59:59+02:00", "2026-03-01T00:00:01-11:00", "2026-02-28T23:00:00Z", "2026-04-01T00:00:00Z"]
    rows = [
        {"id": number, "at": at, "unit": "", "kind": "note", "who": "", "ok": True} for number, at in enumerate(days)
    ]
    rows.append({**rows[0], "id": 4, "ok": False})
    cases: list[tuple[dict[str, str], list[int]]] = [
        ({"from": "2026-03-01", "to": "2026-03-31"}, [0, 1]),
        ({"from": "2026-03-31"}, [0, 3]),
        ({"to": "2026-02-28"}, [2]),
        # What is no day bounds nothing.
        ({"from": "yesterday", "to": ""}, [0, 1, 2, 3]),
        ({"unit": "", "who": ""}, [0, 1, 2, 3]),
        ({"kind": "unit"}, []),
    ]
    calls = [("chosenEntries", [rows, filters, {"field": "ok"}]) for filters, _ in cases]
    found = returned(node, "history.js", *calls)
    assert [[row["id"] for row in chosen] for chosen in found] == [ids for _, ids in cases]
