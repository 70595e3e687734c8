"""Both hosts of the engine answer alike: MicroPython in the phone's worker what CPython's answers on record say.

`tests/engine/test_answers.py` holds CPython to the record. The worker runs the engine as it is written, from a
checkout, and as the build makes it, from an installed Slipbook.
"""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from server.engine import CALCULATIONS
from tests.installed import ROOT, Installed

from ..engine.samples import differences, recorded, samples
from .conftest import RunningServer


def all_samples() -> list[tuple[str, dict[str, Any]]]:
    """Every sample request with the calculation that it asks for."""
    return [(name, sample) for name in sorted(CALCULATIONS) for sample in samples(name)]


def all_recorded() -> list[dict[str, Any]]:
    """The answers on record to all of them."""
    rows = [row for name in sorted(CALCULATIONS) for row in recorded(name)]
    return [{key: row[key] for key in ("ok", "bad") if key in row} for row in rows]


@pytest.mark.parametrize("form", ["as it is written", "as it is installed"])
@pytest.mark.in_reach
def test_every_sample_is_answered_alike(form: str, tmp_path: Path, request: pytest.FixtureRequest, phone: Page) -> None:
    built: Installed | None = request.getfixturevalue("installed") if form == "as it is installed" else None
    server_of = {"program": built.command} if built else {"tree": ROOT}
    with RunningServer(tmp_path / "log", "demo", **server_of) as server:
        phone.goto(server.address)
        all_requests = all_samples()
        answers = asked_on(phone, all_requests)
    wrong = {
        f"{name}: {sample['about']}": found
        for (name, sample), known, answer in zip(all_requests, all_recorded(), answers, strict=True)
        if (found := differences(known, answer))
    }
    assert wrong == {}


def asked_on(phone: Page, requests: list[tuple[str, dict[str, Any]]]) -> list[dict[str, Any]]:
    """What the phone's engine answers to each of some samples."""
    answers: list[dict[str, Any]] = phone.evaluate(
        """async (asked) => {
            const built = globalThis.slipbook?.part("engine/door.js");
            const { calc } = await (built ?? import("/engine/door.js"));
            const answers = [];
            for (const [name, request] of asked) {
                try { answers.push({ ok: await calc(name, request) }); }
                catch (error) { answers.push({ bad: { field: error.field, reason: error.reason } }); }
            }
            return answers;
        }""",
        [[name, sample["request"]] for name, sample in requests],
    )
    return answers


@pytest.mark.parametrize("kind", ["ok", "bad"])
def test_the_samples_hold_good_requests_and_bad_ones(kind: str) -> None:
    assert sum(kind in row for row in all_recorded()) >= 20
