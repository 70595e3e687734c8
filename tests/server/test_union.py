"""Devices, drops, duplicates, restarts and corrections in any order end in the same set everywhere."""

import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule

from server.app import close_app
from server.engine import calc

from .sample_logs import OTHER_UNIT, UNIT_ID, entry
from .stores import app_over

pytestmark = pytest.mark.both_stores
DEVICES = 3
ADDED = ("seq", "received", "judged", "agrees", "clock_off_s", "receipt")


def as_device_made(stored: dict[str, Any]) -> dict[str, Any]:
    """An entry as its device made it."""
    return {name: value for name, value in stored.items() if name not in ADDED}


class Device:
    """A phone: what it has, what it has not delivered, and how far it has read the log."""

    def __init__(self) -> None:
        self.entries: dict[str, dict[str, Any]] = {}
        self.outbox: list[str] = []
        self.after = 0


class Union(RuleBasedStateMachine):
    """Everything that can happen between phones and the workshop."""

    written = Bundle("written")

    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.app = app_over(self.folder / "log")
        self.devices = [Device() for _ in range(DEVICES)]
        self.written_by_id: dict[str, dict[str, Any]] = {}
        self.acknowledged: set[str] = set()

    def teardown(self) -> None:
        if hasattr(self, "app"):
            self.settle_and_compare()
            close_app(self.app)
            shutil.rmtree(self.folder)

    def keep(self, device: int, written_entry: dict[str, Any]) -> str:
        self.devices[device].entries[written_entry["id"]] = written_entry
        self.devices[device].outbox.append(written_entry["id"])
        self.written_by_id[written_entry["id"]] = written_entry
        return str(written_entry["id"])

    @rule(target=written, device=st.integers(0, DEVICES - 1), unit=st.sampled_from([UNIT_ID, OTHER_UNIT]))
    def write(self, device: int, unit: str) -> str:
        return self.keep(device, entry("note", unit))

    @rule(target=written, device=st.integers(0, DEVICES - 1), wrong=written)
    def correct(self, device: int, wrong: str) -> str:
        return self.keep(device, entry("note", self.written_by_id[wrong]["unit"], replaces=wrong))

    @rule(device=st.integers(0, DEVICES - 1), many=st.integers(1, 5), answered=st.booleans(), twice=st.booleans())
    def deliver(self, device: int, many: int, answered: bool, twice: bool) -> None:
        phone = self.devices[device]
        batch = [phone.entries[name] for name in phone.outbox[:many]]
        for _ in range(2 if twice else 1):
            answer = self.app.test_client().post("/api/log", json={"entries": batch})
            assert answer.status_code == 200
        assert answer.json is not None
        # A connection that was cut before the answer: the phone knows nothing and keeps its outbox.
        if answered:
            for row in answer.json["answers"]:
                assert row["answer"] in ("stored", "already_there")
                phone.outbox.remove(row["id"])
                self.acknowledged.add(row["id"])

    @rule(device=st.integers(0, DEVICES - 1), most=st.integers(1, 4))
    def read(self, device: int, most: int) -> None:
        phone = self.devices[device]
        page = self.app.test_client().get(f"/api/log?after={phone.after}&most={most}").json
        assert page is not None
        for stored in page["entries"]:
            phone.entries[stored["id"]] = as_device_made(stored)
            if stored["id"] in phone.outbox:
                phone.outbox.remove(stored["id"])
        phone.after = page["next"]

    @rule(source=st.integers(0, DEVICES - 1), other=st.integers(0, DEVICES - 1))
    def outbox_by_file(self, source: int, other: int) -> None:
        for name in self.devices[source].outbox:
            if name not in self.devices[other].entries:
                self.devices[other].entries[name] = self.devices[source].entries[name]
                self.devices[other].outbox.append(name)

    @rule()
    def restart(self) -> None:
        close_app(self.app)
        self.app = app_over(self.folder / "log")

    @invariant()
    def nothing_acknowledged_is_lost(self) -> None:
        if hasattr(self, "app"):
            log = self.app.extensions["slipbook_log"]
            assert all(log.find(name) is not None for name in self.acknowledged)

    def settle_and_compare(self) -> None:
        for device in range(DEVICES):
            while self.devices[device].outbox:
                self.deliver(device, 100, True, False)
        for phone in self.devices:
            phone.after = 0
            for _ in range(len(self.written_by_id) // 100 + 1):
                self.read(self.devices.index(phone), 100)
        for phone in self.devices:
            assert phone.entries == self.written_by_id
        for unit in (UNIT_ID, OTHER_UNIT):
            views = {
                repr(
                    calc("standing", {"entries": [entry for entry in phone.entries.values() if entry["unit"] == unit]})[
                        "replaced"
                    ]
                )
                for phone in self.devices
            }
            assert len(views) == 1


TestUnion = Union.TestCase
TestUnion.settings = settings(max_examples=15, stateful_step_count=25, deadline=None)
