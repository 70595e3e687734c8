"""Both hosts of the engine answer alike: CPython here, and MicroPython in the phone's worker.

The worker runs the engine as it is written, from a checkout, and as the build makes it, from an installed Slipbook.
"""

import json
import math
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from server.engine import CALCULATIONS, BadInput, calc
from tests.installed import Installed

from .conftest import RunningServer

REQUESTS = Path(__file__).resolve().parents[1] / "engine" / "requests"


def samples() -> list[tuple[str, dict[str, Any]]]:
    """Every sample request with the calculation that it asks for."""
    found = []
    for file in sorted(REQUESTS.glob("*.json")):
        found += [(file.stem, sample) for sample in json.loads(file.read_text(encoding="utf-8"))]
    return found


def here(name: str, request: dict[str, Any]) -> dict[str, Any]:
    """CPython's answer, errors included."""
    try:
        return {"ok": json.loads(json.dumps(calc(name, request), allow_nan=False))}
    except BadInput as refusal:
        return {"bad": {"field": refusal.field, "reason": refusal.reason}}


def differences(one: Any, two: Any, path: str = "") -> list[str]:
    """Where two answers differ by more than 1e-12 relative."""
    if isinstance(one, dict) and isinstance(two, dict):
        missing = [f"{path}: {name} on one side only" for name in one.keys() ^ two.keys()]
        return missing + [
            row for name in one.keys() & two.keys() for row in differences(one[name], two[name], f"{path}.{name}")
        ]
    if isinstance(one, list) and isinstance(two, list):
        if len(one) != len(two):
            return [f"{path}: {len(one)} and {len(two)} long"]
        return [
            row
            for place, pair in enumerate(zip(one, two, strict=True))
            for row in differences(*pair, f"{path}.{place}")
        ]
    if all(isinstance(value, int | float) and not isinstance(value, bool) for value in (one, two)):
        # Figures that are a difference of large ones keep the large ones' rounding.
        return [] if math.isclose(one, two, rel_tol=1e-12, abs_tol=1e-12) else [f"{path}: {one!r} and {two!r}"]
    same = type(one) is type(two) and one == two
    return [] if same else [f"{path}: {one!r} and {two!r}"]


def test_there_are_samples_for_every_calculation() -> None:
    assert {name for name, _ in samples()} == set(CALCULATIONS)


@pytest.mark.parametrize("form", ["as it is written", "as it is installed"])
def test_every_sample_is_answered_alike(form: str, tmp_path: Path, request: pytest.FixtureRequest, phone: Page) -> None:
    built: Installed | None = request.getfixturevalue("installed") if form == "as it is installed" else None
    server = RunningServer(tmp_path / "log", "demo", program=built and built.command)
    server.start()
    try:
        phone.goto(server.address)
        asked = samples()
        answers = asked_on(phone, asked)
    finally:
        server.stop()
    wrong = {
        f"{name}: {sample['about']}": found
        for (name, sample), answer in zip(asked, answers, strict=True)
        if (found := differences(here(name, sample["request"]), answer))
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
    assert sum(kind in here(name, sample["request"]) for name, sample in samples()) >= 20
