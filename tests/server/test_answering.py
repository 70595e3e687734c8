"""Answers written by orjson hold what Python's own writer would have written."""

import json
import uuid
from datetime import UTC, date, datetime
from typing import Any

import pytest
from flask import Flask

from server.answering import QuickJson

APP = Flask("answers")
APP.json = QuickJson(APP)

VALUES: list[Any] = [
    {"b": 1, "a": [2.0, -0.0, 1e-5, 1.5e300, 0.1 + 0.2, None, True], "": '20 °C · ± „x“ \U0001f527\x7f\n\\"'},
    # More than 64 bits, names that are no text, and times: left to Python's own writer.
    {"large": 2**70, "small": -(2**64)},
    {1: "one", "two": (2, 3)},
    {"day": date(2026, 11, 30), "time": datetime(2026, 11, 30, 8, 0, tzinfo=UTC), "id": uuid.UUID(int=5)},
]


@pytest.mark.parametrize("value", VALUES)
def test_answer_holds_what_python_writes(value: Any) -> None:
    with APP.app_context():
        answer: Any = APP.json.response(value)
        theirs = APP.json.dumps(value)
    assert answer.mimetype == "application/json"
    pairs = [json.loads(text, object_pairs_hook=list) for text in (answer.get_data(as_text=True), theirs)]
    # As text too, since -0.0 equals 0 and True equals 1.
    assert repr(pairs[0]) == repr(pairs[1])
    assert answer.get_data().endswith(b"\n")
