"""The PC's own clock: whether it may be gone by, and what is said of the devices' clocks."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest
from flask.testing import FlaskClient

from server.app import close_app
from server.log.clock import PcClock
from server.log.intake import Sender, receive

from .lan_visitors import Visitor, lan_app, paired_phone
from .sample_logs import DEVICE, entry, new_id
from .stores import open_log, restarted_log

NOW = datetime(2026, 11, 28, 10, tzinfo=UTC)
OTHER_DEVICE = "6f1c3f0e-5a4b-4c1d-8e2f-3a4b5c6d7e90"


class Times:
    """A wall clock and ticks that a test moves."""

    def __init__(self, now: datetime = NOW) -> None:
        self.now, self.seconds = now, 1000.0

    def clock(self, counts_sleep: bool = True) -> PcClock:
        """A PC's clock that goes by these."""
        return PcClock(lambda: self.now, lambda: self.seconds, counts_sleep)

    def pass_by(self, **length: float) -> None:
        """Let time pass, by both."""
        self.now += timedelta(**length)
        self.seconds += timedelta(**length).total_seconds()


def arrived(at: datetime, **changes: Any) -> dict[str, Any]:
    """An entry that came at a time."""
    return {"received": at.isoformat(timespec="milliseconds"), **changes}


def test_a_clock_that_runs_on_may_be_gone_by() -> None:
    times = Times()
    clock = times.clock()
    clock.start([arrived(NOW)])
    for _ in range(5):
        times.pass_by(hours=30)
        # The network sets it a little.
        times.now += timedelta(seconds=40)
        assert clock.look() == (times.now, True)
    assert clock.problem == ""


@pytest.mark.parametrize(
    ("shows", "entries", "words"),
    [
        (datetime(2000, 1, 1, tzinfo=UTC), [], "shows 2000-01-01 00:00 UTC, but this Slipbook was made on 2026-11-01"),
        (
            datetime(1970, 1, 1, tzinfo=UTC),
            [arrived(NOW)],
            "shows 1970-01-01 00:00 UTC, but an entry came on 2026-11-28",
        ),
        (NOW - timedelta(days=2), [arrived(NOW - timedelta(days=9)), arrived(NOW)], "but an entry came on 2026-11-28"),
    ],
)
def test_a_clock_that_lost_its_power_may_not_be_gone_by_until_it_is_set(
    shows: datetime, entries: list[dict[str, Any]], words: str
) -> None:
    times = Times(shows)
    clock = times.clock()
    clock.start(entries)
    assert clock.look() == (shows, False)
    assert words in clock.problem
    times.pass_by(minutes=5)
    assert not clock.look().is_sound
    times.now = NOW + timedelta(minutes=10)
    assert clock.look().is_sound
    assert clock.problem == ""


@pytest.mark.parametrize(("jump", "words"), [(-30, "set back by 30 days"), (30, "set forward by 30 days")])
def test_a_clock_that_jumped_may_not_be_gone_by_until_it_is_set_right(jump: int, words: str) -> None:
    times = Times()
    clock = times.clock()
    assert clock.look().is_sound
    times.pass_by(hours=3)
    times.now += timedelta(days=jump)
    assert not clock.look().is_sound
    assert words in clock.problem
    times.pass_by(hours=1)
    assert not clock.look().is_sound
    times.now -= timedelta(days=jump)
    assert clock.look().is_sound


def test_a_clock_that_another_agrees_with_may_be_gone_by() -> None:
    times = Times()
    clock = times.clock()
    # It was years ahead while entries came, and is right now.
    clock.start([arrived(NOW + timedelta(days=1500))])
    assert not clock.look().is_sound
    clock.compare(times.now + timedelta(days=1500))
    assert not clock.look().is_sound
    clock.compare(times.now + timedelta(seconds=20))
    assert clock.look().is_sound
    dead = Times(datetime(2000, 1, 1, tzinfo=UTC))
    clock = dead.clock()
    clock.start([])
    clock.compare(dead.now)
    assert not clock.look().is_sound, "two clocks without power agree about nothing"


def test_a_person_can_say_that_the_clock_is_right(monkeypatch: pytest.MonkeyPatch) -> None:
    ahead = [arrived(NOW + timedelta(days=1500))]
    times = Times()
    clock = times.clock()
    clock.start(ahead)
    assert not clock.look().is_sound
    assert "start Slipbook once with --clock-is-right" in clock.problem
    monkeypatch.setattr(PcClock, "is_trusted", True)
    clock = times.clock()
    clock.start(ahead)
    assert clock.look().is_sound
    monkeypatch.setattr(PcClock, "is_trusted", False)
    clock = times.clock()
    clock.start([*ahead, arrived(NOW - timedelta(hours=1))])
    assert clock.look().is_sound, "what came last tells how late it is"


def test_where_ticks_stand_still_in_sleep_a_night_is_no_jump() -> None:
    times = Times()
    clock = times.clock(counts_sleep=False)
    assert clock.look().is_sound
    times.now += timedelta(hours=9)
    assert clock.look().is_sound
    times.now -= timedelta(hours=9)
    assert not clock.look().is_sound


def test_what_came_while_the_clock_was_wrong_does_not_tell_how_late_it_is() -> None:
    clock = Times().clock()
    clock.start([arrived(NOW), arrived(NOW + timedelta(days=90), received_unsure=True)])
    assert clock.look().is_sound


def with_clock(fell_s: float = 0, **changes: Any) -> dict[str, Any]:
    """An entry of a device that knows of its clock."""
    return entry(id=new_id(), knows=[], clock={"fell_s": fell_s}, **changes)


def added(answer: dict[str, Any]) -> dict[str, Any]:
    """What the log said of clocks."""
    names = ("clock_off_s", "clock_checked", "clock_fell_s", "received_unsure")
    return {name: answer[name] for name in names if name in answer}


def test_a_device_is_compared_by_its_own_entries_alone(folder: Path) -> None:
    slow = (datetime.now(UTC) - timedelta(hours=2)).isoformat()
    now = datetime.now(UTC).isoformat()
    with open_log(folder) as log:
        own, brought = with_clock(), with_clock(device=OTHER_DEVICE)
        answers = receive(log, [own, brought], Sender(slow, DEVICE, 0))
        assert added(answers[0]) == {"clock_off_s": pytest.approx(7200, abs=60), "clock_checked": True}
        assert added(answers[1]) == {}
        [answer] = receive(log, [with_clock(30)], Sender(now, DEVICE, 3630))
        assert added(answer) == {"clock_checked": True, "clock_fell_s": 3600}
        assert added(receive(log, [with_clock()])[0]) == {}
        assert added(receive(log, [entry()], Sender(slow, DEVICE))[0]) == {"clock_off_s": pytest.approx(7200, abs=60)}


def test_a_pc_whose_clock_fell_blames_no_device(folder: Path) -> None:
    real = datetime.now(UTC)
    with open_log(folder) as log:
        receive(log, [with_clock()], Sender(real.isoformat(), DEVICE, 0))
        assert log.clock.look().is_sound
        log.clock.wall = lambda: real - timedelta(days=5)
        for late in (with_clock(), entry()):
            [answer] = receive(log, [late], Sender(real.isoformat(), DEVICE, 0))
            assert added(answer) == {"received_unsure": True}
        assert "set back by 5 days" in log.clock.problem
    with restarted_log(folder) as log:
        log.clock.wall = lambda: real - timedelta(days=5)
        assert not log.clock.look().is_sound
        assert "but an entry came on" in log.clock.problem
        [answer] = receive(log, [with_clock()], Sender((real - timedelta(days=5)).isoformat(), DEVICE, 0, vouches=True))
        assert added(answer) == {"clock_checked": True}


def test_how_a_clock_is_is_told_as_a_device_asks(client: FlaskClient) -> None:
    def ask(sent: datetime) -> Any:
        return client.get("/api/health", query_string={"sent": sent.isoformat()}).get_json()

    now = datetime.now(UTC)
    assert client.get("/api/health").get_json()["clock"] is None
    assert ask(now)["clock"] == {"off_s": pytest.approx(0, abs=60), "text": ""}
    slow = ask(now - timedelta(hours=2))
    assert slow["clock"]["off_s"] == pytest.approx(7200, abs=60)
    assert "is 2 hours slow beside the workshop's PC" in slow["clock"]["text"]
    assert slow["pc_clock"] == ""
    assert "is 3 days fast beside" in ask(now + timedelta(days=3))["clock"]["text"]
    assert client.get("/api/health", query_string={"sent": "noon"}).status_code == 422


def test_a_paired_phone_vouches_for_the_pc_and_its_own_browser_does_not(tmp_path: Path) -> None:
    app, door = lan_app(tmp_path / "data")
    phone = paired_phone(app, "trackside")
    clock = app.extensions["slipbook_log"].clock
    now = datetime.now(UTC)
    clock.start([arrived(now + timedelta(days=1500))])
    address_with_time = "/api/health?" + urlencode({"sent": now.isoformat()})
    for address, token in (("127.0.0.1", None), (door.hosts[0], phone.token), (phone.address, None)):
        assert Visitor(app, address, token).ask("GET", address_with_time).json["pc_clock"]
    assert phone.ask("GET", "/api/health?" + urlencode({"sent": (now - timedelta(days=1)).isoformat()})).json[
        "pc_clock"
    ]
    assert phone.ask("GET", address_with_time).json["pc_clock"] == ""
    close_app(app)
    door.close()


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"knows": ["x"]}, "knows.0"),
        ({"knows": [new_id() for _ in range(51)]}, "knows"),
        ({"clock": {}}, "clock.fell_s"),
        ({"clock": {"fell_s": "5"}}, "clock.fell_s"),
        ({"clock": {"fell_s": 1e12}}, "clock.fell_s"),
        ({"clock": {"fell_s": 0, "met": "today"}}, "clock.met"),
    ],
)
def test_what_cannot_be_known_of_a_clock_is_refused_at_its_field(
    folder: Path, change: dict[str, Any], field: str
) -> None:
    with open_log(folder) as log:
        [answer] = receive(log, [entry(**change)])
        assert [error["field"] for error in answer["errors"]] == [field]
