"""Who may come in is known in the same way over a folder and over a database."""

import threading
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Protocol
from uuid import uuid4

import pytest

from server.lan import BENCH, TRACKSIDE, PairingClosed, PairingLocked, Register, Registers, WrongCode
from server.lan.files import FolderRegisters
from server.lan.files.register import FolderGuesses
from server.lan.pacing import FREE_GUESSES, GUESSES_WITHIN_S
from server.lan.pairing import CODE_ALPHABET, CODE_LENGTH, CODE_VALID_S, MOST_IN_ALL, MOST_WRONG, normalize_code
from server.lan.postgres import DatabaseRegisters, open_code
from server.lan.postgres.devices import DatabaseDevices
from server.lan.register import MOST_BYTES_A_DAY, MOST_FEEDS, SEEN_EVERY, hash_token, utc_now
from server.log import LogFault
from server.log.postgres import Database

from .database_made import all_rows_of, make_database

PHONE, OTHER = "192.168.7.31", "192.168.7.32"
DAY_S = 24 * 3600.0


class RegisterCase(Protocol):
    """A register, and what a test does to it from outside."""

    @property
    def registers(self) -> Registers: ...

    @property
    def register(self) -> Register: ...

    def reopened(self) -> Register:
        """The register as another process, or one that starts anew, finds it."""

    def pass_time(self, seconds: float) -> None:
        """Let time go by, for codes, guesses and amounts."""


class FolderCase:
    def __init__(self, folder: Path) -> None:
        folder.mkdir()
        self.folder = folder
        self.passed_s = 0.0
        self.registers = FolderRegisters(folder)
        self.register = self.registers.register_of(None)
        guesses = self.registers.guesses = FolderGuesses(lambda: self.passed_s)
        self.register.pairing.clock = guesses.clock

    def reopened(self) -> Register:
        return FolderRegisters(self.folder).register_of(None)

    def pass_time(self, seconds: float) -> None:
        self.passed_s += seconds
        day = self.register.amounts.day
        self.register.amounts.day = day and day - timedelta(seconds=seconds)


class DatabaseCase:
    def __init__(self, address: str, database: Database, workshop: int) -> None:
        self.address = address
        self.database = database
        self.workshop = workshop
        self.registers = DatabaseRegisters(database)
        self.register = self.registers.register_of(workshop)

    def reopened(self) -> Register:
        return DatabaseRegisters(self.database).register_of(self.workshop)

    def pass_time(self, seconds: float) -> None:
        with all_rows_of(self.address) as owner:
            owner.execute("update pairing set ends = ends - make_interval(secs => %s)", [seconds])
            owner.execute("update guess set since = since - make_interval(secs => %s)", [seconds])
            owner.execute("update amount set day = (day - make_interval(secs => %s))::date", [seconds])


def wrong_code(code: str) -> str:
    """A code that differs in its last letter alone."""
    return code[:-1] + CODE_ALPHABET[CODE_ALPHABET.index(code[-1]) - 1]


@pytest.fixture
def database(pg: str) -> Iterator[tuple[Database, int, int]]:
    """A database, and two workshops in it."""
    database, (first, second) = make_database(pg, "Northgate", "Hillside")
    yield database, first, second
    database.close()


@pytest.fixture(params=["folder", "database"])
def case(request: pytest.FixtureRequest, tmp_path: Path) -> RegisterCase:
    if request.param == "folder":
        return FolderCase(tmp_path / "lan")
    database, workshop, _ = request.getfixturevalue("database")
    return DatabaseCase(request.getfixturevalue("pg"), database, workshop)


def test_a_device_is_known_by_its_token_until_it_is_shut_out(case: RegisterCase) -> None:
    devices = case.register.devices
    assert devices.all() == []
    jo, token = devices.add("Jo's phone", TRACKSIDE)
    mara, _ = devices.add("Mara's tablet", BENCH)
    assert (jo.name, jo.role, jo.revoked) == ("Jo's phone", TRACKSIDE, "")
    found = case.registers.find_device(token)
    assert found is not None
    assert found[1] == jo
    assert case.registers.register_of(found[0]).devices.all() == devices.all()
    assert case.registers.find_device(token[:-1]) is None
    assert case.registers.find_device("") is None
    renamed = devices.rename(jo.id, "Jo's new phone")
    assert renamed is not None
    assert renamed.name == "Jo's new phone"
    assert case.reopened().devices.all() == devices.all()
    gone = devices.revoke(jo.id)
    assert gone is not None
    assert gone.revoked
    assert devices.revoke(jo.id) == gone, "once"
    assert [device.id for device in devices.all()] == [mara.id, jo.id], "those that were shut out come last"
    found = case.registers.find_device(token)
    assert found is not None
    assert found[1] == gone, "so that it can be told why"
    assert devices.rename(str(uuid4()), "Nobody") is None
    assert devices.revoke(str(uuid4())) is None
    assert case.reopened().devices.all() == devices.all()


def test_of_a_token_its_hash_alone_is_kept(case: RegisterCase) -> None:
    device, token = case.register.devices.add("Jo's phone", TRACKSIDE)
    assert device.token_sha256 == hash_token(token)
    assert len(token) >= 43, "256 bits in base64"
    assert token not in repr(case.register.devices.all())
    assert case.registers.find_device(device.token_sha256) is None


def test_when_a_device_was_here_is_noted_to_the_hour(case: RegisterCase) -> None:
    devices = case.register.devices
    now = utc_now()
    later = [now]
    if isinstance(devices, DatabaseDevices):
        devices = DatabaseDevices(devices.database, devices.workshop, lambda: later[0])
    else:
        devices.now = lambda: later[0]  # type: ignore[attr-defined]
    device, _ = devices.add("Jo's phone", TRACKSIDE)
    later[0] = now + SEEN_EVERY - timedelta(seconds=2)
    devices.note_seen(device)
    assert devices.all()[0].seen == device.seen
    later[0] = now + SEEN_EVERY + timedelta(seconds=2)
    devices.note_seen(device)
    assert devices.all()[0].seen > device.seen


def test_a_code_lets_one_device_in(case: RegisterCase) -> None:
    pairing = case.register.pairing
    with pytest.raises(PairingClosed):
        pairing.use("2222-2222", PHONE)
    code = pairing.open(TRACKSIDE)
    assert case.registers.register_of(case.registers.find_workshop(code.lower())) == case.register
    assert len(normalize_code(code)) >= CODE_LENGTH
    assert pairing.use(f" {code.lower()} ", PHONE) == TRACKSIDE
    with pytest.raises(PairingClosed):
        pairing.use(code, PHONE)


def test_a_new_code_takes_the_place_of_the_last(case: RegisterCase) -> None:
    pairing = case.register.pairing
    first = pairing.open(TRACKSIDE)
    second = pairing.open(BENCH)
    with pytest.raises(WrongCode):
        pairing.use(first, PHONE)
    assert pairing.use(second, PHONE) == BENCH


def test_a_code_is_good_for_ten_minutes(case: RegisterCase) -> None:
    code = case.register.pairing.open(TRACKSIDE)
    case.pass_time(CODE_VALID_S + 1)
    with pytest.raises(PairingClosed):
        case.register.pairing.use(code, PHONE)


def test_wrong_tries_lock_their_own_address_until_there_is_a_new_code(case: RegisterCase) -> None:
    pairing = case.register.pairing
    code = pairing.open(TRACKSIDE)
    tries_left = []
    for _ in range(MOST_WRONG - 1):
        with pytest.raises(WrongCode) as wrong:
            pairing.use(wrong_code(code), PHONE)
        tries_left.append(wrong.value.tries_left)
    assert tries_left == list(range(MOST_WRONG - 1, 0, -1))
    for typed in (wrong_code(code), code, code):
        with pytest.raises(PairingLocked) as locked:
            pairing.use(typed, PHONE)
        assert CODE_VALID_S - 60 < locked.value.wait_s <= CODE_VALID_S + 1
    with pytest.raises(WrongCode):
        pairing.use(wrong_code(code), OTHER)
    assert pairing.use(pairing.open(BENCH), PHONE) == BENCH


def test_so_many_wrong_tries_from_everywhere_close_a_code(case: RegisterCase) -> None:
    pairing = case.register.pairing
    code = pairing.open(TRACKSIDE)
    ended: list[type[Exception]] = []
    for number in range(MOST_IN_ALL):
        with pytest.raises((WrongCode, PairingClosed)) as refused:
            pairing.use(wrong_code(code), f"10.0.{number // 200}.{number % 200}")
        ended.append(refused.type)
    assert ended == [WrongCode] * (MOST_IN_ALL - 1) + [PairingClosed]
    with pytest.raises(PairingClosed):
        pairing.use(code, PHONE)


def test_of_many_who_type_the_code_at_once_one_comes_in(case: RegisterCase) -> None:
    code = case.register.pairing.open(TRACKSIDE)
    outcomes = at_once(8, lambda number: case.register.pairing.use(code, f"10.0.0.{number}"))
    assert sorted(map(str, outcomes)) == sorted([TRACKSIDE, *["PairingClosed"] * 7])


def test_wrong_tries_at_once_are_all_counted(case: RegisterCase) -> None:
    pairing = case.register.pairing
    code = pairing.open(TRACKSIDE)
    outcomes = at_once(8, lambda _: pairing.use(wrong_code(code), PHONE))
    assert sorted(map(str, outcomes)) == ["PairingLocked"] * (8 - MOST_WRONG + 1) + ["WrongCode"] * (MOST_WRONG - 1)


def at_once(count: int, action: Callable[[int], str]) -> list[str]:
    """What came of doing something several times at once: what was returned, or the name of what was raised."""
    outcomes: list[str] = []
    barrier = threading.Barrier(count)

    def run(number: int) -> None:
        barrier.wait()
        try:
            outcomes.append(action(number))
        except Exception as failure:
            outcomes.append(type(failure).__name__)

    threads = [threading.Thread(target=run, args=[number]) for number in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


def test_a_device_may_send_so_much_a_day(case: RegisterCase) -> None:
    amounts, jo, mara = case.register.amounts, str(uuid4()), str(uuid4())
    most = MOST_BYTES_A_DAY["log"]
    assert not amounts.count(jo, "log", most + 1)
    assert amounts.count(jo, "log", most - 10)
    assert not amounts.count(jo, "log", 11)
    assert amounts.count(jo, "log", 10), "what was refused is not counted"
    assert not amounts.count(jo, "log", 1)
    assert amounts.count(mara, "log", most)
    assert amounts.count(jo, "photos", most)
    assert amounts.count(jo, "calc", 10**12), "for which there is no limit"
    case.pass_time(DAY_S)
    assert amounts.count(jo, "log", most)
    assert not amounts.count(jo, "log", 1)


def test_a_calendar_reads_until_its_address_is_withdrawn(case: RegisterCase) -> None:
    feeds = case.register.feeds
    feed, secret = feeds.add("Jo's calendar")
    assert feeds.all() == [feed]
    assert (feed.name, feed.seen, feed.withdrawn, feed.token_sha256) == ("Jo's calendar", "", "", hash_token(secret))
    found = case.registers.find_feed(secret)
    assert found is not None
    assert found[1] == feed
    assert case.registers.register_of(found[0]).feeds.all() == [feed]
    feeds.note_read(feed)
    (read,) = case.reopened().feeds.all()
    assert read.seen
    withdrawn = feeds.withdraw(feed.id)
    assert withdrawn is not None
    assert withdrawn.withdrawn
    assert feeds.withdraw(feed.id) is None
    assert feeds.withdraw(str(uuid4())) is None
    assert feeds.all() == []
    assert case.registers.find_feed(secret) is None


def test_so_many_calendars_and_no_more(case: RegisterCase) -> None:
    feeds = case.register.feeds
    feeds_made = [feeds.add(f"Calendar {number}")[0] for number in range(MOST_FEEDS)]
    with pytest.raises(LogFault, match="withdraw those that are no longer used"):
        feeds.add("One too many")
    feeds.withdraw(feeds_made[0].id)
    feeds.add("In its place")
    assert len(feeds.all()) == MOST_FEEDS


def test_guesses_are_counted_for_a_while(case: RegisterCase) -> None:
    guesses = case.registers.guesses
    assert [guesses.count() for _ in range(FREE_GUESSES + 1)] == list(range(1, FREE_GUESSES + 2))
    case.pass_time(GUESSES_WITHIN_S + 1)
    assert guesses.count() == 1


# What only a database can get wrong.


def test_two_workshops_share_nothing(database: tuple[Database, int, int], pg: str) -> None:
    shared_database, first, second = database
    registers = DatabaseRegisters(shared_database)
    ours, theirs = registers.register_of(first), registers.register_of(second)
    device, token = ours.devices.add("Jo's phone", TRACKSIDE)
    feed, secret = ours.feeds.add("Jo's calendar")
    code = ours.pairing.open(BENCH)
    assert (registers.find_device(token) or (0,))[0] == first
    assert (registers.find_feed(secret) or (0,))[0] == first
    assert registers.find_workshop(code) == first
    assert (theirs.devices.all(), theirs.feeds.all()) == ([], [])
    assert theirs.devices.rename(device.id, "Theirs") is None
    assert theirs.devices.revoke(device.id) is None
    assert theirs.feeds.withdraw(feed.id) is None
    theirs.devices.note_seen(device)
    theirs.feeds.note_read(feed)
    with pytest.raises(PairingClosed):
        theirs.pairing.use(code, PHONE)
    theirs.pairing.open(TRACKSIDE)
    with pytest.raises(WrongCode):
        theirs.pairing.use(code, PHONE)
    assert ours.devices.all() == [device]
    assert ours.feeds.all() == [feed]
    assert ours.pairing.use(code, PHONE) == BENCH


TABLES = ("device", "feed", "pairing", "wrong_code", "amount")


@pytest.mark.parametrize("table", TABLES)
def test_a_transaction_bound_to_another_workshop_sees_and_changes_no_row(
    database: tuple[Database, int, int], pg: str, table: str
) -> None:
    shared_database, first, second = database
    ours = DatabaseRegisters(shared_database).register_of(first)
    device, _ = ours.devices.add("Jo's phone", TRACKSIDE)
    ours.feeds.add("Jo's calendar")
    code = ours.pairing.open(BENCH)
    with pytest.raises(WrongCode):
        ours.pairing.use(wrong_code(code), PHONE)
    ours.amounts.count(device.id, "log", 5)
    counted = f"select count(*) from {table} where workshop = %s"
    with shared_database.workshop(first) as connection:
        assert connection.execute(counted, [first]).fetchone() == (1,)
    # The application's own check is left out: these statements ask for the wrong workshop.
    with shared_database.workshop(second) as connection:
        assert connection.execute(counted, [first]).fetchone() == (0,)
        assert connection.execute(f"update {table} set workshop = %s", [second]).rowcount == 0
        assert connection.execute(f"delete from {table} where workshop = %s", [first]).rowcount == 0
    with shared_database.nowhere() as connection:
        assert connection.execute(f"select count(*) from {table}").fetchone() == (0,)
        assert connection.execute(f"delete from {table}").rowcount == 0
    with all_rows_of(pg) as owner:
        row = owner.execute(f"select * from {table} where workshop = %s", [first]).fetchone()
        assert row is not None
        owner.execute(f"delete from {table} where workshop = %s", [first])
    values = ", ".join(["%s"] * len(row))
    with pytest.raises(LogFault), shared_database.workshop(second) as connection:
        connection.execute(f"insert into {table} values ({values})", row)


def test_wrong_guesses_are_counted_and_not_to_be_read(database: tuple[Database, int, int]) -> None:
    shared_database, first, _ = database
    DatabaseRegisters(shared_database).guesses.count()
    for bound in (shared_database.nowhere, lambda: shared_database.workshop(first)):
        with pytest.raises(LogFault), bound() as connection:
            connection.execute("select * from guess")


def test_a_workshop_that_goes_takes_its_devices_along(database: tuple[Database, int, int], pg: str) -> None:
    shared_database, first, second = database
    registers = DatabaseRegisters(shared_database)
    _, token = registers.register_of(first).devices.add("Jo's phone", TRACKSIDE)
    _, others = registers.register_of(second).devices.add("Mara's phone", TRACKSIDE)
    code = registers.register_of(first).pairing.open(BENCH)
    with all_rows_of(pg) as owner:
        owner.execute("delete from workshop where id = %s", [first])
    assert registers.find_device(token) is None
    with pytest.raises(PairingClosed):
        registers.register_of(first).pairing.use(code, PHONE)
    assert registers.find_device(others) is not None


def test_the_first_code_of_a_workshop_is_made_by_its_owner(database: tuple[Database, int, int], pg: str) -> None:
    shared_database, first, _ = database
    with all_rows_of(pg) as owner:
        code = open_code(owner, first, BENCH)
    registers = DatabaseRegisters(shared_database)
    assert registers.register_of(registers.find_workshop(code)).pairing.use(code, PHONE) == BENCH


@pytest.mark.parametrize("code", ["", "ABCD-2345", "ZZZZZZZZ-ABCD-2345", "9-9999-9999"])
def test_a_code_of_no_workshop_lets_nobody_in(database: tuple[Database, int, int], code: str) -> None:
    registers = DatabaseRegisters(database[0])
    with pytest.raises(PairingClosed):
        registers.register_of(registers.find_workshop(code)).pairing.use(code, PHONE)


def test_all_addresses_of_a_network_of_ipv6_share_their_tries(database: tuple[Database, int, int]) -> None:
    pairing = DatabaseRegisters(database[0]).register_of(database[1]).pairing
    code = pairing.open(BENCH)
    for number in range(MOST_WRONG - 1):
        with pytest.raises(WrongCode):
            pairing.use(wrong_code(code), f"2001:db8:1:2::{number + 1:x}")
    with pytest.raises(PairingLocked):
        pairing.use(wrong_code(code), "2001:db8:1:2:ffff::1")
    with pytest.raises(PairingLocked):
        pairing.use(code, "2001:db8:1:2::1")
    assert pairing.use(code, "2001:db8:1:3::1") == BENCH
