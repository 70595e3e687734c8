"""Every sample request is answered as it is on record: a change of an answer is made on purpose, with `--record`."""

import copy
from typing import Any

import pytest

from server.engine import CALCULATIONS

from .samples import ANSWERS, FOLDER, answered, differences, recorded, samples


def test_every_sample_is_on_record() -> None:
    assert {file.stem for file in ANSWERS.glob("*.json")} == {file.stem for file in FOLDER.glob("*.json")}
    for name in CALCULATIONS:
        abouts = [row["about"] for row in samples(name)]
        assert [row["about"] for row in recorded(name)] == abouts
        assert len(set(abouts)) == len(abouts), f"two samples of {name} are about the same"


@pytest.mark.parametrize("name", sorted(CALCULATIONS))
def test_every_sample_is_answered_as_recorded(name: str) -> None:
    changed = {}
    for row, record in zip(samples(name), recorded(name), strict=True):
        known = {key: value for key, value in record.items() if key != "about"}
        if found := differences(known, answered(name, row["request"])):
            changed[row["about"]] = found
    assert changed == {}, "python -m tests.engine.samples --record, if that is as it should be"


@pytest.mark.parametrize(
    "change",
    [
        {"torque_nm": 100.0 * (1 + 2e-12)},
        {"reason": "Within limits"},
        {"sides": [1.0]},
        {"sides": [1.0, 3.0]},
        {"fits": 1},
        {"more": None},
    ],
)
def test_a_change_of_an_answer_is_seen(change: dict[str, Any]) -> None:
    known = {"torque_nm": 100.0, "reason": "Within limits.", "sides": [1.0, 2.0], "fits": True}
    assert differences(known, copy.deepcopy(known)) == []
    assert differences(known, {**known, **change}) != []
    assert differences({**known, **change}, known) != []
