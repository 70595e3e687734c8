"""Both hosts of the engine answer alike: CPython here, and MicroPython in the phone's worker."""

from typing import Any

import pytest
from playwright.sync_api import Page

from server.engine import CALCULATIONS

from ..engine.samples import answered, differences, samples
from .conftest import RunningServer


def all_samples() -> list[tuple[str, dict[str, Any]]]:
    """Every sample request with the calculation that it asks for."""
    return [(name, sample) for name in sorted(CALCULATIONS) for sample in samples(name)]


def test_every_sample_is_answered_alike(demo: RunningServer, phone: Page) -> None:
    phone.goto(demo.address)
    asked = all_samples()
    answers = phone.evaluate(
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
    wrong = {
        f"{name}: {sample['about']}": found
        for (name, sample), answer in zip(asked, answers, strict=True)
        if (found := differences(answered(name, sample["request"]), answer))
    }
    assert wrong == {}


@pytest.mark.parametrize("kind", ["ok", "bad"])
def test_the_samples_hold_good_requests_and_bad_ones(kind: str) -> None:
    assert sum(kind in answered(name, sample["request"]) for name, sample in all_samples()) >= 20
