"""What every store does: the same tests over a folder of files and over a database."""

import hashlib
import itertools
import json
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from server.engine.records.customer import BLANK
from server.log import ALREADY_THERE, REFUSED, STORED, FolderInUse, Log, LogFault
from server.log.backups.backup import back_up_log
from server.log.backups.bring_back import OpenedBackup
from server.log.files import FolderLog
from server.log.identity import Identity
from server.log.intake import receive
from server.log.photos import JPEG, MOST_BYTES, WrongPhoto
from server.log.receipts import is_own, with_receipt
from server.log.store import PAGE_BYTES

from .sample_logs import OTHER_UNIT, UNIT_ID, read_all, stored
from .stores import shared
from .test_erasing import CUSTOMER, LINKED, NOTE, TYPED, erasure

PHOTO = JPEG + bytes(range(256)) * 40
SHA = hashlib.sha256(PHOTO).hexdigest()
Opener = Callable[[str], Log]


# How a log of each store is opened: by a folder that is the test's own, and a name in it.
STORES: dict[str, Callable[[Path, str], Log]] = {
    "files": lambda folder, name: FolderLog(folder / name),
    "postgres": lambda folder, name: shared().log(f"{folder} {name}"),
}


def opener(store: str, folder: Path) -> Opener:
    """Opens logs of one store by their names."""
    return lambda name: STORES[store](folder, name)


@pytest.fixture(params=STORES)
def open_named(request: pytest.FixtureRequest, tmp_path: Path) -> Opener:
    return opener(request.param, tmp_path)


@pytest.fixture
def log(open_named: Opener) -> Iterator[Log]:
    with open_named("log") as log:
        yield log


def answers_to(log: Log, entries: list[dict[str, Any]]) -> list[tuple[str, int]]:
    return [(answer.answer, answer.entry["seq"]) for answer in log.add(entries)]


def test_an_empty_log_has_nothing(log: Log) -> None:
    assert (log.last, log.units(), log.states(), log.of_unit(""), log.of_unit(UNIT_ID)) == (0, [], {}, [], [])
    assert log.after(0, 10) == ([], False)
    assert (log.id_of(1), log.find(stored()["id"]), log.known([stored()["id"]])) == ("", None, set())
    assert (log.problems, log.returned.recent(), log.returned.total, log.photos.names()) == ([], [], 0, [])
    assert (log.contents().entries, log.contents().last, log.contents().faults) == (0, 0, [])
    assert (log.digests(), log.ids_of("")) == ({"": hashlib.sha256(b"").hexdigest()}, [])
    assert log.add([]) == []


def test_entries_are_there_when_the_log_is_opened_again(open_named: Opener) -> None:
    entries = [stored(unit=unit) for unit in (UNIT_ID, OTHER_UNIT, "", UNIT_ID)]
    with open_named("log") as log:
        for number, made in enumerate(entries, 1):
            assert answers_to(log, [made]) == [(STORED, number)]
        identity = log.identity
    with open_named("log") as log:
        assert [{**made, "seq": seq} for seq, made in enumerate(entries, 1)] == read_all(log)
        assert log.identity == identity
        assert (log.last, log.units(), log.of_unit("")[0]["seq"]) == (4, [UNIT_ID, OTHER_UNIT], 3)
        assert [row["seq"] for row in log.of_unit(UNIT_ID)] == [1, 4]
        assert log.find(entries[1]["id"]) == {**entries[1], "seq": 2}
        assert log.known([entries[2]["id"], stored()["id"]]) == {entries[2]["id"]}
        assert log.id_of(4) == entries[3]["id"]


def test_what_is_sent_again_is_there_already_and_another_of_its_id_is_refused(log: Log) -> None:
    first, second = stored(), stored()
    assert answers_to(log, [first, second, first]) == [(STORED, 1), (STORED, 2), (ALREADY_THERE, 1)]
    assert answers_to(log, [second, first]) == [(ALREADY_THERE, 2), (ALREADY_THERE, 1)]
    other = {**first, "body": {"text": "Something else."}}
    assert answers_to(log, [other, stored()]) == [(REFUSED, 1), (STORED, 3)]
    assert log.add([other])[0].entry == {**first, "seq": 1}
    # Of two with one id in one batch the first is stored.
    third = stored()
    assert answers_to(log, [third, {**third, "who": "Ilan"}]) == [(STORED, 4), (REFUSED, 4)]


@pytest.mark.parametrize(
    "text", ["\u0000 and \u001f", "é 🛞 \u2028 \\u0000", '"kind": "erasure"', "%s %% {} \\ ' \t\n", "x" * 100_000]
)
def test_a_text_comes_back_as_it_was_written(open_named: Opener, text: str) -> None:
    made = stored(body={"text": text, "figures": [1e2, -0.0, 1e-7, 2**53, 1.10]}, shown={"verdict": None})
    with open_named("log") as log:
        log.add([made])
    with open_named("log") as log:
        [back] = read_all(log)
    # As text, since -0.0 is equal to 0, and the order of fields is part of what was written.
    assert json.dumps(back["body"]) == json.dumps(made["body"])
    assert list(back["body"]) == ["text", "figures"]


def test_pages_hold_every_entry_once_and_no_more_than_they_may(log: Log) -> None:
    log.add([stored() for _ in range(23)])
    assert [row["seq"] for row in read_all(log)] == list(range(1, 24))
    page, has_more = log.after(20, 3)
    assert ([row["seq"] for row in page], has_more) == ([21, 22, 23], False)
    page, has_more = log.after(20, 2)
    assert ([row["seq"] for row in page], has_more) == ([21, 22], True)
    assert log.after(23, 5) == ([], False)
    # By their length in bytes two of these are too much for a page, and one is handed out alone.
    large = [stored(body={"text": "é" * (PAGE_BYTES // 3)}, shown={"verdict": None}) for _ in range(2)]
    log.add(large)
    page, has_more = log.after(23, 5)
    assert ([row["seq"] for row in page], has_more) == ([24], True)
    page, has_more = log.after(24, 5)
    assert ([row["seq"] for row in page], has_more) == ([25], False)


def test_a_state_is_another_one_after_each_entry_of_its_unit_alone(log: Log) -> None:
    log.add([stored(), stored(unit=OTHER_UNIT)])
    before = log.states()
    log.add([stored()])
    after = log.states()
    assert before.keys() == after.keys() == {UNIT_ID, OTHER_UNIT}
    assert before[UNIT_ID] != after[UNIT_ID]
    assert before[OTHER_UNIT] == after[OTHER_UNIT]


def test_what_comes_back_keeps_its_number_unless_another_has_it(open_named: Opener) -> None:
    with open_named("log") as log:
        log.add([stored()])
        states = log.states()
        back = {**stored(), "seq": 5}
        assert answers_to(log, [back, {**stored(), "seq": 1}, {**stored(), "seq": 5}, stored()]) == [
            (STORED, 5),
            (STORED, 6),
            (STORED, 7),
            (STORED, 8),
        ]
        assert answers_to(log, [{**stored(), "seq": 3}]) == [(STORED, 3)]
        assert log.states() != states
        assert (log.last, [row["seq"] for row in read_all(log)]) == (8, [1, 3, 5, 6, 7, 8])
        log.note_returned("Mara's phone", entries=2)
    with open_named("log") as log:
        [problem] = log.problems
        assert problem.startswith("The log lacks 2 entries (number 2, 4):")
        assert log.identity.gaps == [[2, 2], [4, 4]]
        assert log.contents().faults == [problem]


def test_a_new_gap_begins_a_generation_and_a_filled_one_does_not(open_named: Opener) -> None:
    with open_named("log") as log:
        first = log.identity.generation
        log.add([{**stored(), "seq": 3}])
        log.note_returned("Mara's phone", entries=1)
    with open_named("log") as log:
        second = log.identity.generation
        assert first != second
        log.add([{**stored(), "seq": 2}])
        log.note_returned("Mara's phone", entries=1)
    with open_named("log") as log:
        assert (log.identity.generation, log.identity.gaps, len(log.problems)) == (second, [[1, 1]], 1)


def test_what_came_back_is_noted_by_device(open_named: Opener) -> None:
    with open_named("log") as log:
        log.note_returned("Mara's phone", entries=3)
        log.note_returned("Ilan's phone", photos=1)
        log.note_returned("Mara's phone", entries=2, photos=4)
        generation = log.identity.generation
    with open_named("log") as log:
        assert log.returned.total == 5
        rows = {row["source"]: (row["entries"], row["photos"], row["generation"]) for row in log.returned.recent()}
        assert rows == {"Mara's phone": (5, 4, generation), "Ilan's phone": (0, 1, generation)}


def test_digests_are_those_that_phones_make(log: Log) -> None:
    log.add([stored(unit=unit) for unit in (UNIT_ID, "", UNIT_ID)])
    for unit in (UNIT_ID, ""):
        ids = sorted((row["id"], row["seq"]) for row in log.of_unit(unit))
        assert sorted(log.ids_of(unit)) == ids
        text = "".join(f"{entry_id} {seq}\n" for entry_id, seq in ids)
        assert log.digests()[unit] == hashlib.sha256(text.encode()).hexdigest()
    assert list(log.digests()) == ["", UNIT_ID]


def test_whatever_comes_under_a_known_id_is_only_compared(log: Log) -> None:
    log.add([stored(), stored("kit")])
    first, kit = read_all(log)
    odd = [{"id": first["id"]}, {"id": kit["id"], "kind": ["erasure"], "unit": 7, "seq": "x", "body": float("nan")}]
    assert answers_to(log, [*odd, stored()]) == [(REFUSED, 1), (REFUSED, 2), (STORED, 3)]
    # As phones keep what belongs to the shop: without a unit, and with nothing that the log added.
    bare = {name: value for name, value in kit.items() if name not in ("unit", "seq", "received", "judged", "agrees")}
    assert answers_to(log, [bare]) == [(ALREADY_THERE, 2)]


def test_an_empty_log_becomes_another_and_one_with_entries_does_not(open_named: Opener) -> None:
    identity = Identity.new("Owl Bridge").restored(7)
    with open_named("log") as log:
        log.adopt(identity)
        assert log.identity._replace(name="") == identity._replace(name="")
        # Numbers that were skipped are given to no new entry.
        [(_, seq)] = answers_to(log, [stored()])
        assert seq == identity.floor + 1
        assert log.problems == []
        page, has_more = log.after(0, 10)
        assert ([row["seq"] for row in page], has_more) == ([seq], False)
        with pytest.raises(LogFault, match="entries of its own"):
            log.adopt(Identity.new("Mill Lane"))
    with open_named("log") as log:
        assert (log.identity.log_id, log.identity.key) == (identity.log_id, identity.key)


def test_an_erasure_takes_out_what_it_names_now_and_later(open_named: Opener) -> None:
    with open_named("log") as log:
        for sent in (CUSTOMER, LINKED, TYPED, NOTE):
            receive(log, [sent])
        phone = [with_receipt(log.identity, row) for row in read_all(log)]
        before = log.erased
        [answer] = receive(log, [erasure()])
        assert (answer["answer"], answer["seq"], log.erased != before) == (STORED, 5, True)
        customer, linked, typed, note, erased = read_all(log)
        assert set(customer["body"].values()) == {BLANK}
        assert linked["body"]["owner"] == typed["body"]["owner"] == typed["shown"]["checked"]["owner"] == BLANK
        assert note["body"]["text"] == f"Rung {BLANK} at six: paid."
        assert {mark["unit"] for mark in erased["marks"]} == {UNIT_ID, OTHER_UNIT}
    with open_named("log") as log:
        after = read_all(log)
        assert log.find(NOTE["id"]) == note
        # An old phone brings nothing back, neither as the log's own nor as an entry of its own.
        assert {answer["answer"] for answer in receive(log, phone)} == {ALREADY_THERE}
        late = [{**stored("unit", OTHER_UNIT), "body": TYPED["body"], "shown": TYPED["shown"]}]
        assert log.add(late)[0].entry["body"]["owner"] == BLANK
        assert read_all(log)[:5] == after
        assert all(is_own(log.identity, with_receipt(log.identity, row)) for row in after)


def test_an_erasure_in_one_batch_with_what_it_erases_does_the_same(log: Log) -> None:
    answers = receive(log, [CUSTOMER, LINKED, TYPED, NOTE, erasure()])
    # In which order a batch is numbered is the store's own.
    bodies = {row["id"]: row["body"] for row in read_all(log)}
    assert {bodies[CUSTOMER["id"]]["name"], *(bodies[row["id"]]["owner"] for row in (LINKED, TYPED))} == {BLANK}
    assert {mark["unit"] for mark in answers[-1]["marks"]} == {UNIT_ID, OTHER_UNIT}
    late = [{**stored("unit", OTHER_UNIT), "body": TYPED["body"], "shown": TYPED["shown"]}]
    assert log.add(late)[0].entry["body"]["owner"] == BLANK


def test_the_clock_begins_with_when_the_newest_entry_came(open_named: Opener) -> None:
    later = datetime.now(UTC) + timedelta(days=4000)
    for name, received, is_sound in (("now", datetime.now(UTC), True), ("later", later, False)):
        with open_named(name) as log:
            log.add([{**stored(), "received": received.isoformat(timespec="milliseconds")}])
        with open_named(name) as log:
            log.clock.wall = lambda: later - timedelta(days=1)
            assert log.clock.look().is_sound == is_sound


def test_photos_come_in_pieces_and_stay(open_named: Opener) -> None:
    with open_named("log") as log:
        photos = log.photos
        assert photos.add(SHA, 0, PHOTO[:4000], len(PHOTO)) == (4000, False)
        assert photos.add(SHA, 0, PHOTO[:4000], len(PHOTO)) == (4000, False)
        assert photos.add(SHA, 5000, PHOTO[5000:], len(PHOTO)) == (4000, False)
        assert (photos.progress(SHA), photos.read(SHA), photos.names()) == ((4000, False), None, [])
    with open_named("log") as log:
        photos = log.photos
        assert photos.add(SHA, 4000, PHOTO[4000:], len(PHOTO)) == (len(PHOTO), True)
        photos.put_whole(SHA, b"of no use")
        assert photos.add(SHA, 0, b"of no use", MOST_BYTES + 1) == (len(PHOTO), True)
        assert (photos.progress(SHA), photos.read(SHA), photos.names()) == ((len(PHOTO), True), PHOTO, [SHA])
        assert photos.find_faults() == []
        other = hashlib.sha256(b"other").hexdigest()
        with pytest.raises(WrongPhoto, match="again from the start"):
            photos.add(other, 0, PHOTO, len(PHOTO))
        assert photos.progress(other) == (0, False)
        for at, piece, total, words in ((0, b"GIF", 3, "not a JPEG"), (0, PHOTO, MOST_BYTES + 1, "at most")):
            with pytest.raises(WrongPhoto, match=words):
                photos.add(other, at, piece, total)


def test_several_that_add_at_once_leave_no_gap_and_readers_skip_nothing(open_named: Opener) -> None:
    first = open_named("log")
    try:
        # Each has the log for itself, as in processes of their own.
        logs = [open_named("log") for _ in range(4)]
    except FolderInUse:
        logs = [first] * 4
    read: list[int] = []
    is_done = threading.Event()

    def add(log: Log) -> None:
        for _ in range(12):
            log.add([stored(), stored(unit=OTHER_UNIT)])

    def follow() -> None:
        has_more = True
        while has_more or not is_done.is_set():
            page, has_more = first.after(read[-1] if read else 0, 7)
            read.extend(row["seq"] for row in page)
        while page := first.after(read[-1], 7)[0]:
            read.extend(row["seq"] for row in page)

    threads = [threading.Thread(target=add, args=[log]) for log in logs]
    reader = threading.Thread(target=follow)
    for thread in (*threads, reader):
        thread.start()
    for thread in threads:
        thread.join()
    is_done.set()
    reader.join()
    assert read == list(range(1, 97))
    first.close()


@pytest.mark.parametrize(
    ("source_store", "target_store"), [*itertools.permutations(STORES, 2), ("postgres", "postgres")]
)
def test_a_backup_of_one_store_comes_back_in_the_other_as_it_was(
    source_store: str, target_store: str, tmp_path: Path
) -> None:
    with opener(source_store, tmp_path)("here") as log:
        receive(log, [CUSTOMER, LINKED, TYPED, NOTE])
        receive(log, [erasure()])
        log.add(
            [stored(body={"text": "Dog \u0000 é", "figures": [1e2, -0.0]}, shown={"verdict": None}), stored(unit="")]
        )
        log.photos.put_whole(SHA, PHOTO)
        contents, identity = back_up_log(log, tmp_path / "log.zip"), log.identity
    assert (contents.entries, contents.faults) == (7, [])
    with opener(target_store, tmp_path)("there") as log:
        opened = OpenedBackup(log, tmp_path / "log.zip", tmp_path / "scratch")
        if (source_store, target_store) == ("postgres", "postgres"):
            with pytest.raises(LogFault, match="in the database already"):
                opened.go_on(60, "the backup")
            return
        assert opened.go_on(60, "the backup").finished
        back = log.contents()
        # Byte for byte, and with receipts that hold.
        assert {unit: [line.text for line in lines] for unit, lines in back.lines.items()} == {
            unit: [line.text for line in lines] for unit, lines in contents.lines.items()
        }
        assert (log.identity.log_id, log.identity.key) == (identity.log_id, identity.key)
        assert log.photos.read(SHA) == PHOTO
