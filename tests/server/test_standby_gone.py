"""A synchronous standby is gone: nothing is acknowledged that only the primary has, and nobody waits for ever."""

import time

import pytest

from server.log import ALREADY_THERE, STORED, LogFault
from server.log.faults import Unfinished
from server.log.postgres import Database, DatabaseLog
from server.log.postgres import database as databases
from tests.postgres import new_server, standby_of

from .database_made import Prepared
from .sample_logs import read_all, stored


def test_a_wait_for_a_standby_that_is_gone_ends_and_acknowledges_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    with new_server() as primary:
        prepared = Prepared.on(primary, "waiting")
        log = prepared.log("Mill Lane")
        first, second = stored(), stored()
        with standby_of(primary) as standby:
            assert [answer.answer for answer in log.add([first])] == [STORED]
            standby.stop()
            monkeypatch.setattr(databases, "COMMIT_S", 1.0)
            monkeypatch.setattr(databases, "POOL_S", 3.0)
            before = time.monotonic()
            with pytest.raises(Unfinished, match="send again"):
                log.add([second])
            # Neither is what was there before handed out by a primary that may be one no more.
            with pytest.raises(LogFault, match="waits for a standby"):
                Database(prepared.url)
            assert time.monotonic() - before < 50
            standby.start()
            monkeypatch.setattr(databases, "COMMIT_S", 20.0)
            # Sent again it is there once, whether it was stored before or not.
            [answer] = send_again(prepared, second)
            assert answer in (STORED, ALREADY_THERE)
            assert [row["id"] for row in read_all(prepared.log("Mill Lane"))] == [first["id"], second["id"]]
        prepared.close()


def send_again(prepared: Prepared, entry: dict[str, object]) -> list[str]:
    """What is answered once the way is open again."""
    ends = time.monotonic() + 60
    while True:
        try:
            log = DatabaseLog(prepared.database, prepared.workshop("Mill Lane"))
            return [answer.answer for answer in log.add([entry])]
        except LogFault:
            assert time.monotonic() < ends
