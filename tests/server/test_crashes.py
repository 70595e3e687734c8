"""A crash at every single call that a write makes to the disk, one after the other in the same folder."""

import os
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.log import STORED
from server.log.files import FolderLog
from server.log.files.survey import survey

from .sample_logs import OTHER_UNIT, UNIT_ID, stored

pytestmark = pytest.mark.about_files("breaks off calls that write a folder")

CALLS = ("open", "write", "ftruncate", "fsync", "link", "replace", "unlink")


class Crash(BaseException):
    """The machine stops here: nothing that handles errors gets a say."""


class Machine:
    """Lets a number of calls to the disk happen, then crashes at every further one."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.calls_left = 10**9
        for name in CALLS:
            patch.setattr(os, name, self.limited_call(getattr(os, name)))

    def limited_call(self, call: Callable[..., Any]) -> Callable[..., Any]:
        def limited(*arguments: Any, **named: Any) -> Any:
            if self.calls_left <= 0:
                raise Crash
            self.calls_left -= 1
            return call(*arguments, **named)

        return limited


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 24), st.sampled_from([UNIT_ID, OTHER_UNIT, ""])), max_size=12))
def test_a_crash_anywhere_in_a_write_loses_nothing_that_was_acknowledged(
    tmp_path_factory: pytest.TempPathFactory, crashes: list[tuple[int, str]]
) -> None:
    folder = tmp_path_factory.mktemp("crash") / "data"
    acknowledged: list[str] = []
    sent: set[str] = set()
    with pytest.MonkeyPatch.context() as patch:
        machine = Machine(patch)
        for calls, unit in [*crashes, (10**9, UNIT_ID)]:
            log = FolderLog(folder)
            assert log.problems == []
            for entry in [stored(), stored(unit=OTHER_UNIT)]:
                sent.add(entry["id"])
                assert log.add([entry])[0].answer == STORED
                acknowledged.append(entry["id"])
            unacknowledged = [stored(unit=unit), stored()]
            sent.update(entry["id"] for entry in unacknowledged)
            machine.calls_left = calls
            try:
                log.add(unacknowledged)
                acknowledged += [entry["id"] for entry in unacknowledged]
            except Crash:
                pass
            finally:
                machine.calls_left = 10**9
            log.hold.release()
            assert survey(folder).faults == []
    with FolderLog(folder) as log:
        ids = [entry["id"] for entry in log.after(0, 10**6)[0]]
    assert len(ids) == len(set(ids))
    assert set(acknowledged) <= set(ids) <= sent
