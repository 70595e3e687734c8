"""What a user may rely on: an entry that was acknowledged is there, once, whatever happens to the disk."""

import errno
import os
import stat
import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import TinyDB

from server.log import ALREADY_THERE, REFUSED, STORED, FolderInUse, LogFault, durable
from server.log.backups.backup import back_up, restore
from server.log.files import FolderLog
from server.log.files.unit_file import UnitFile
from server.log.layout import decode_file

from .sample_logs import OTHER_UNIT, UNIT_ID, failing_with, fill, read_all, stored, unit_file

pytestmark = pytest.mark.about_files("how a log is kept in a folder; `test_stores.py` asks both stores")

THIRD_UNIT = "0192a4b0-0000-7000-8000-000000000003"


def test_entries_come_back_as_they_were_sent_in_the_order_in_which_they_came(folder: Path) -> None:
    sent = [stored("torque_check"), stored("unit", OTHER_UNIT), stored("kit"), stored("plate_check")]
    with FolderLog(folder) as log:
        answers = log.add(sent)
        entries = read_all(log)
    assert [answer.answer for answer in answers] == [STORED] * 4
    assert sorted(entry["seq"] for entry in entries) == [1, 2, 3, 4]
    by_id = {entry["id"]: entry for entry in entries}
    assert all({**entry, "seq": by_id[entry["id"]]["seq"]} == by_id[entry["id"]] for entry in sent)
    with FolderLog(folder) as again:
        assert read_all(again) == entries


def test_sending_twice_stores_once_and_another_content_under_the_same_id_is_refused(folder: Path) -> None:
    entry = stored()
    with FolderLog(folder) as log:
        assert [answer.answer for answer in log.add([entry, entry])] == [STORED, ALREADY_THERE]
        assert log.add([{**entry, "received": "later", "agrees": False}])[0].answer == ALREADY_THERE
        assert log.add([{**entry, "who": "Somebody else"}])[0].answer == REFUSED
        assert [entry["who"] for entry in read_all(log)] == ["Mara"]


@pytest.mark.parametrize("count", [1, 20])
def test_entries_of_a_unit_wait_for_the_disk_no_oftener_than_they_must(
    folder: Path, monkeypatch: pytest.MonkeyPatch, count: int
) -> None:
    """Once for what a file holds and once for its name (POSIX has no fewer), however many entries there are."""
    waited: list[int] = []
    with FolderLog(folder) as log:
        log.add([stored() for _ in range(3)])
        to_disk = os.fsync

        def wait(handle: int) -> None:
            waited.append(handle)
            to_disk(handle)

        monkeypatch.setattr(os, "fsync", wait)
        log.add([stored() for _ in range(count)])
    assert len(waited) == 2


def test_a_batch_waits_once_for_the_names_of_all_its_units(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    waited: list[bool] = []
    batch = [stored(unit=unit) for unit in (UNIT_ID, OTHER_UNIT, THIRD_UNIT) for _ in range(3)]
    with FolderLog(folder) as log:
        to_disk = os.fsync

        def wait(handle: int) -> None:
            waited.append(stat.S_ISDIR(os.fstat(handle).st_mode))
            to_disk(handle)

        monkeypatch.setattr(os, "fsync", wait)
        log.add(batch)
    assert waited == [False] * 3 + [True]


def test_where_one_unit_cannot_be_written_those_before_it_are_kept_and_known(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    batch = [stored(unit=unit) for unit in (UNIT_ID, OTHER_UNIT, THIRD_UNIT)]
    with FolderLog(folder) as log:
        add = UnitFile.add

        def fail_at_the_second(file: UnitFile, entries: list[dict[str, Any]]) -> Any:
            if entries[0]["unit"] == OTHER_UNIT:
                raise LogFault("the disk is full")
            return add(file, entries)

        with monkeypatch.context() as patch:
            patch.setattr(UnitFile, "add", fail_at_the_second)
            with pytest.raises(LogFault, match="full"):
                log.add(batch)
        assert [entry["id"] for entry in read_all(log)] == [batch[0]["id"]]
        assert [answer.answer for answer in log.add(batch)] == [ALREADY_THERE, STORED, STORED]
    with FolderLog(folder) as again:
        assert [entry["id"] for entry in read_all(again)] == [entry["id"] for entry in batch]


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_any_order_and_any_repeats_give_the_same_set(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    all_of_them = [stored(unit=unit) for unit in (UNIT_ID, UNIT_ID, OTHER_UNIT, "", UNIT_ID, OTHER_UNIT)]
    places = st.lists(st.integers(0, len(all_of_them) - 1), max_size=5)
    batches = data.draw(st.lists(places, max_size=6))
    once = data.draw(st.permutations(range(len(all_of_them))))
    with FolderLog(tmp_path_factory.mktemp("any") / "data") as log:
        for batch in [*batches, once]:
            log.add([all_of_them[place] for place in batch])
        entries = read_all(log)
    assert [entry["seq"] for entry in entries] == list(range(1, len(all_of_them) + 1))
    assert {entry["id"] for entry in entries} == {entry["id"] for entry in all_of_them}


def test_many_threads_store_every_entry_once(folder: Path) -> None:
    batches = [[stored(unit=(UNIT_ID, OTHER_UNIT)[place % 2]) for place in range(10)] for _ in range(8)]
    with FolderLog(folder) as log:

        def send(own_batch: list[dict[str, Any]], shared: list[dict[str, Any]]) -> None:
            for entry in own_batch:
                log.add([entry, *shared])

        threads = [threading.Thread(target=send, args=(batch, batches[0][:3])) for batch in batches]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        entries = read_all(log)
    assert sorted(entry["id"] for entry in entries) == sorted(entry["id"] for batch in batches for entry in batch)
    assert [entry["seq"] for entry in entries] == list(range(1, 81))


def test_a_unit_file_is_readable_json_that_plain_tinydb_opens(folder: Path) -> None:
    sent = fill(folder)
    table = TinyDB(unit_file(folder), access_mode="r").table("entries")
    assert [document["entry"]["id"] for document in table] == [
        entry["id"] for entry in sent if entry["unit"] == UNIT_ID
    ]


@pytest.mark.parametrize("most_open", [10**3, 10**9])
def test_a_file_reads_well_after_every_entry_however_long_it_stayed_open(
    folder: Path, monkeypatch: pytest.MonkeyPatch, most_open: int
) -> None:
    monkeypatch.setattr("server.log.files.log.OPEN_BYTES", most_open)
    units = (UNIT_ID, OTHER_UNIT)
    with FolderLog(folder) as log:
        for place in range(130):
            unit, count = units[place % 2], place // 2
            log.add([stored(unit=unit, body={"text": f"{place} " + "Drains dark. " * 150})])
            for part, expected in (("units", count + 1), ("earlier", count), ("newest", 1)):
                path = folder / part / f"{unit}.json"
                assert expected == 0 or len(decode_file(path.read_bytes(), unit)) == expected
        assert len(log.files) == (2 if most_open == 10**9 else 1)
        assert [entry["body"]["text"].split()[0] for entry in read_all(log)] == [str(place) for place in range(130)]
        assert unit_file(folder).stat().st_size > 2 * durable.BLOCK
    with FolderLog(folder) as log:
        assert log.problems == []
        assert log.last == 130


def test_a_second_slipbook_is_kept_off_the_folder(folder: Path) -> None:
    with FolderLog(folder), pytest.raises(FolderInUse, match="in use by another Slipbook"):
        FolderLog(folder)
    FolderLog(folder).close()


def test_a_name_that_somebody_else_gave_a_generation_keeps_its_content(folder: Path, tmp_path: Path) -> None:
    """Backups by hard links rely on files being replaced, not written over."""
    names = {}
    with FolderLog(folder) as log:
        for place in range(6):
            log.add([stored()])
            names[place] = tmp_path / f"link {place}"
            os.link(unit_file(folder), names[place])
            assert names[place].read_bytes() == unit_file(folder).read_bytes()
        sizes = [names[place].stat().st_size for place in range(6)]
    assert sizes == sorted(set(sizes))


@pytest.mark.parametrize(
    ("number", "sentence"), [(errno.ENOSPC, "the disk is full"), (errno.EROFS, "read-only"), (errno.EIO, "Check the")]
)
@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_disk_that_takes_no_more_says_so_and_loses_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int, sentence: str, call: str
) -> None:
    sent = fill(folder)
    refused_entries = [stored(), stored(unit=OTHER_UNIT)]
    with FolderLog(folder) as log:
        with monkeypatch.context() as patch:
            patch.setattr(os, call, failing_with(number))
            with pytest.raises(LogFault, match=sentence) as refused:
                log.add(refused_entries)
        assert refused.value.full == (number == errno.ENOSPC)
        assert read_all(log) == sent
        assert [answer.answer for answer in log.add(refused_entries)] == [STORED, STORED]
    with FolderLog(folder) as again:
        assert [entry["id"] for entry in read_all(again)] == [entry["id"] for entry in sent + refused_entries]
        assert again.problems == []


def test_once_a_folder_does_not_settle_nothing_is_promised_until_a_restart(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = fill(folder)
    refused_entries = stored()
    with FolderLog(folder) as log:
        with monkeypatch.context() as patch:
            patch.setattr(durable, "sync_folder", failing_with(errno.EIO))
            with pytest.raises(LogFault, match="restart"):
                log.add([refused_entries])
        with pytest.raises(LogFault, match="restart"):
            log.add([refused_entries])
    with FolderLog(folder) as again:
        assert again.add([refused_entries])[0].answer in (STORED, ALREADY_THERE)
        assert [entry["id"] for entry in read_all(again)] == [*(entry["id"] for entry in sent), refused_entries["id"]]


def test_a_really_full_disk_is_told_and_nothing_is_lost(tmp_path: Path) -> None:
    """The kernel's own limit on file size stands in for a full disk: the write itself fails half-way."""
    resource = pytest.importorskip("resource")
    import signal

    folder = tmp_path / "data"
    sent = fill(folder)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    usual = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        with FolderLog(folder) as log:
            resource.setrlimit(resource.RLIMIT_FSIZE, (unit_file(folder).stat().st_size + 100, before[1]))
            with pytest.raises(LogFault, match="Cannot write the log"):
                log.add([stored()])
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
            assert read_all(log) == sent
            assert log.add([stored()])[0].answer == STORED
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, usual)
    assert not list(folder.rglob("*" + durable.UNFINISHED))


def test_what_a_kill_left_half_written_is_never_read(folder: Path) -> None:
    sent = fill(folder)
    leftover = unit_file(folder).with_name(unit_file(folder).name + durable.UNFINISHED)
    leftover.write_bytes(unit_file(folder).read_bytes()[:50])
    with FolderLog(folder) as log:
        assert read_all(log) == sent
        assert log.problems == []
    assert not leftover.exists()


def test_a_backup_made_while_entries_arrive_is_a_log_without_gaps(folder: Path, tmp_path: Path) -> None:
    stop = threading.Event()
    with FolderLog(folder) as log:

        def write() -> None:
            while not stop.is_set():
                log.add([stored(unit=unit) for unit in (UNIT_ID, OTHER_UNIT, "", UNIT_ID)])

        writer = threading.Thread(target=write)
        writer.start()
        try:
            lasts: list[int] = []
            while len(lasts) < 8 or (lasts[0] == lasts[-1] and writer.is_alive()):
                contents = back_up(folder, tmp_path / f"{len(lasts)}.zip")
                assert contents.faults == []
                lasts.append(contents.last)
        finally:
            stop.set()
            writer.join()
    assert lasts == sorted(lasts)
    assert lasts[0] < lasts[-1], "nothing arrived meanwhile, so nothing was tried"
    for place, last in enumerate(lasts):
        restored = restore(tmp_path / f"{place}.zip", tmp_path / f"back {place}")
        assert restored.faults == []
        assert (restored.entries, restored.last) == (last, last)


def test_over_an_older_text_only_what_differs_is_written(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    path, block = folder / "file", durable.BLOCK
    for old, new in (
        (b"", b"a" * 10),
        (b"a" * 10, b"a" * 10 + b"b"),
        (b"a" * (3 * block), b"a" * (2 * block) + b"b" * block),
        (b"a" * (3 * block) + b"tail", b"a" * (3 * block) + b"more and tail"),
        (b"a" * (2 * block + 7), b"a" * 5),
        (b"a" * 5, b""),
    ):
        path.write_bytes(old)
        durable.write_over(path, new)
        assert path.read_bytes() == new
