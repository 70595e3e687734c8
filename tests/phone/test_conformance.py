"""Both hosts of the engine answer alike: CPython here, and MicroPython in the phone's worker.

The worker runs the engine as it is written, from a checkout, and as the build makes it, from an installed Slipbook.
"""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from server.engine import CALCULATIONS
from tests.installed import Installed

from ..engine.samples import answered, differences, samples
from .conftest import RunningServer


def all_samples() -> list[tuple[str, dict[str, Any]]]:
    """Every sample request with the calculation that it asks for."""
    return [(name, sample) for name in sorted(CALCULATIONS) for sample in samples(name)]


@pytest.mark.parametrize("form", ["as it is written", "as it is installed"])
def test_every_sample_is_answered_alike(form: str, tmp_path: Path, request: pytest.FixtureRequest, phone: Page) -> None:
    built: Installed | None = request.getfixturevalue("installed") if form == "as it is installed" else None
    with RunningServer(tmp_path / "log", "demo", program=built and built.command) as server:
        phone.goto(server.address)
        asked = all_samples()
        answers = asked_on(phone, asked)
    wrong = {
        f"{name}: {sample['about']}": found
        for (name, sample), answer in zip(asked, answers, strict=True)
        if (found := differences(answered(name, sample["request"]), answer))
    }
    assert wrong == {}


def asked_on(phone: Page, asked: list[tuple[str, dict[str, Any]]]) -> list[dict[str, Any]]:
    """What the phone's engine answers to each of some samples."""
    answers: list[dict[str, Any]] = phone.evaluate(
        """async (asked) => {
            const { calc } = await import("/engine/door.js");
            const answers = [];
            for (const [name, request] of asked) {
                try { answers.push({ ok: await calc(name, request) }); }
                catch (error) { answers.push({ bad: { field: error.field, reason: error.reason } }); }
            }
            return answers;
        }""",
        [[name, sample["request"]] for name, sample in asked],
    )
    return answers


@pytest.mark.parametrize("kind", ["ok", "bad"])
def test_the_samples_hold_good_requests_and_bad_ones(kind: str) -> None:
    assert sum(kind in answered(name, sample["request"]) for name, sample in all_samples()) >= 20
