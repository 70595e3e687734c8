"""The server's second verdict agrees with the one that was shown, or does not, at any depth."""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from server.engine import BadInput, calc, calc_stored
from server.log.intake import receive
from server.log.judging import NOTHING, RELATIVE, agrees, judge
from tests.engine.checks import UNIT, changed

from .sample_logs import BODIES, entry
from .stores import open_log

KINDS = sorted(BODIES)


def leaves(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The way to every single value of a result."""
    if isinstance(value, dict):
        return [leaf for key in value for leaf in leaves(value[key], (*path, key))]
    if isinstance(value, list):
        return [leaf for place, item in enumerate(value) for leaf in leaves(item, (*path, place))]
    return [path]


def other_value(value: Any) -> Any:
    """A value of another meaning."""
    if value is None:
        return "something"
    if isinstance(value, bool):
        return not value
    return value * (1 + 3 * RELATIVE) + 2 * NOTHING if isinstance(value, int | float) else value + " "


def changed_at(result: Any, path: tuple[Any, ...], value: Any) -> Any:
    """A copy of a result with another value at one place."""
    changed = copy.deepcopy(result)
    place = changed
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    return changed


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_shown_by_the_same_engine_agrees_and_a_change_anywhere_does_not(kind: str) -> None:
    sent = entry(kind)
    judged, agreed = judge(sent)
    assert agreed
    assert json.loads(json.dumps(judged)) == sent["shown"]
    for path in leaves(sent["shown"]):
        value: Any = sent["shown"]
        for step in path:
            value = value[step]
        assert not agrees(judged, changed_at(sent["shown"], path, other_value(value))), path


@pytest.mark.parametrize(
    ("ours", "shown", "alike"),
    [
        (1.0, 1.0 + RELATIVE / 2, True),
        (1.0, 1.0 + 2 * RELATIVE, False),
        (-1e6, -1e6 * (1 + RELATIVE / 2), True),
        (0.0, NOTHING / 2, True),
        (0.0, 2 * NOTHING, False),
        (1, 1.0, True),
        (1.0, 1, True),
        (1, True, False),
        (True, 1, False),
        (0.0, False, False),
        (0.0, None, False),
        ("1", 1, False),
        ("go", "go", True),
        (None, None, True),
        ({}, [], False),
        ([1], [1, 2], False),
        ([1, 2], [1], False),
        ([1, 2], [2, 1], False),
        ([1, 2], [1.0, 2.0], True),
        ({"a": 1}, {"a": 1, "b": None}, False),
        ({"a": 1, "b": None}, {"a": 1}, False),
        ({"a": 1}, {"b": 1}, False),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}, True),
        ({"a": {"b": [1, {"c": "x"}]}}, {"a": {"b": [1, {"c": "y"}]}}, False),
    ],
)
def test_words_are_equal_and_figures_are_equal_to_a_billionth(ours: Any, shown: Any, alike: bool) -> None:
    assert agrees(ours, shown) is alike


def test_a_verdict_that_differs_comes_back_with_the_servers_own() -> None:
    shown = {**entry("torque_check")["shown"], "verdict": "rework"}
    judged, agrees = judge(entry("torque_check", shown=shown))
    assert not agrees
    assert judged["verdict"] == "go"
    assert judged == calc("breakaway", BODIES["torque_check"])


def test_a_body_that_the_engine_cannot_use_is_refused_at_its_field() -> None:
    with pytest.raises(BadInput) as refusal:
        judge({**entry("note"), "body": {"text": ""}})
    assert refusal.value.field == "text"


def test_what_an_older_engine_accepted_is_not_refused_for_a_later_rule_and_stays_as_it_is(tmp_path: Path) -> None:
    flat_body = changed(UNIT, cavity_mm=60.4)
    older = entry("unit", body=flat_body, shown=calc_stored("unit", flat_body, "1.10"), engine="1.10")
    newer = entry("unit", body=flat_body, shown=calc_stored("unit", flat_body, "1.10"))
    with open_log(tmp_path) as log:
        answers = receive(log, [older, newer])
        assert [row["answer"] for row in answers] == ["stored", "refused"]
        assert answers[1]["errors"][0]["field"] == "body.spring.l0_mm"
        stored_entry = log.find(older["id"])
    assert stored_entry is not None
    assert json.dumps(stored_entry["body"]) == json.dumps(flat_body)
