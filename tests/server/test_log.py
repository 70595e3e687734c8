"""What a user may rely on: an entry that was acknowledged is there, once, whatever happens to the disk."""

import errno
import json
import os
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tinydb import TinyDB

from server.log import ALREADY_THERE, REFUSED, STORED, FolderInUse, Log, LogFault, durable
from server.log.backup import back_up, restore
from server.log.layout import decode_file
from server.log.survey import survey

from .made import OTHER_UNIT, UNIT_ID, refuse_with, stored


def everything(log: Log) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    more = True
    while more:
        page, more = log.after(found[-1]["seq"] if found else 0, 7)
        found += page
    return found


def filled(folder: Path, count: int = 6) -> list[dict[str, Any]]:
    """A folder with entries of two units and the shop, written one by one; answers them as stored."""
    with Log(folder) as log:
        for place in range(count):
            log.add([stored(unit=(UNIT_ID, OTHER_UNIT, "")[place % 3])])
        return everything(log)


def unit_file(folder: Path) -> Path:
    return folder / "units" / f"{UNIT_ID}.json"


def test_entries_come_back_as_they_were_sent_in_the_order_in_which_they_came(folder: Path) -> None:
    sent = [stored("torque_check"), stored("unit", OTHER_UNIT), stored("kit"), stored("plate_check")]
    with Log(folder) as log:
        answers = log.add(sent)
        found = everything(log)
    assert [answer.answer for answer in answers] == [STORED] * 4
    assert sorted(one["seq"] for one in found) == [1, 2, 3, 4]
    by_id = {one["id"]: one for one in found}
    assert all({**one, "seq": by_id[one["id"]]["seq"]} == by_id[one["id"]] for one in sent)
    with Log(folder) as again:
        assert everything(again) == found


def test_sending_twice_stores_once_and_another_content_under_the_same_id_is_refused(folder: Path) -> None:
    one = stored()
    with Log(folder) as log:
        assert [answer.answer for answer in log.add([one, one])] == [STORED, ALREADY_THERE]
        assert log.add([{**one, "received": "later", "agrees": False}])[0].answer == ALREADY_THERE
        assert log.add([{**one, "who": "Somebody else"}])[0].answer == REFUSED
        assert [found["who"] for found in everything(log)] == ["Mara"]


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_any_order_and_any_repeats_give_the_same_set(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    all_of_them = [stored(unit=unit) for unit in (UNIT_ID, UNIT_ID, OTHER_UNIT, "", UNIT_ID, OTHER_UNIT)]
    places = st.lists(st.integers(0, len(all_of_them) - 1), max_size=5)
    batches = data.draw(st.lists(places, max_size=6))
    once = data.draw(st.permutations(range(len(all_of_them))))
    with Log(tmp_path_factory.mktemp("any") / "data") as log:
        for batch in [*batches, once]:
            log.add([all_of_them[place] for place in batch])
        found = everything(log)
    assert [one["seq"] for one in found] == list(range(1, len(all_of_them) + 1))
    assert {one["id"] for one in found} == {one["id"] for one in all_of_them}


def test_many_threads_store_every_entry_once(folder: Path) -> None:
    batches = [[stored(unit=(UNIT_ID, OTHER_UNIT)[place % 2]) for place in range(10)] for _ in range(8)]
    with Log(folder) as log:

        def send(mine: list[dict[str, Any]], shared: list[dict[str, Any]]) -> None:
            for one in mine:
                log.add([one, *shared])

        threads = [threading.Thread(target=send, args=(batch, batches[0][:3])) for batch in batches]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        found = everything(log)
    assert sorted(one["id"] for one in found) == sorted(one["id"] for batch in batches for one in batch)
    assert [one["seq"] for one in found] == list(range(1, 81))


def test_a_unit_file_is_readable_json_that_plain_tinydb_opens(folder: Path) -> None:
    sent = filled(folder)
    table = TinyDB(unit_file(folder), access_mode="r").table("entries")
    assert [document["entry"]["id"] for document in table] == [one["id"] for one in sent if one["unit"] == UNIT_ID]


@pytest.mark.parametrize("most_open", [10**3, 10**9])
def test_a_file_reads_well_after_every_entry_however_long_it_stayed_open(
    folder: Path, monkeypatch: pytest.MonkeyPatch, most_open: int
) -> None:
    monkeypatch.setattr("server.log.log.OPEN_BYTES", most_open)
    units = (UNIT_ID, OTHER_UNIT)
    with Log(folder) as log:
        for place in range(130):
            unit, count = units[place % 2], place // 2
            log.add([stored(unit=unit, body={"text": f"{place} " + "Drains dark. " * 150})])
            for part, there in (("units", count + 1), ("earlier", count), ("newest", 1)):
                path = folder / part / f"{unit}.json"
                assert there == 0 or len(decode_file(path.read_bytes(), unit)) == there
        assert len(log.files) == (2 if most_open == 10**9 else 1)
        assert [one["body"]["text"].split()[0] for one in everything(log)] == [str(place) for place in range(130)]
        assert unit_file(folder).stat().st_size > 2 * durable.BLOCK
    with Log(folder) as log:
        assert log.problems == []
        assert log.last == 130


def test_a_second_slipbook_is_kept_off_the_folder(folder: Path) -> None:
    with Log(folder), pytest.raises(FolderInUse, match="in use by another Slipbook"):
        Log(folder)
    Log(folder).close()


def truncate(data: bytes) -> bytes:
    return data[: len(data) * 2 // 3]


def flip_in_text(data: bytes) -> bytes:
    place = data.rindex(b"Oil changed")
    return data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :]


def flip_a_figure(data: bytes) -> bytes:
    return data.replace(b'"version": 1', b'"version": 3', 1)


DAMAGES: list[Callable[[bytes], bytes]] = [
    truncate,
    flip_in_text,
    flip_a_figure,
    lambda data: b"",
    lambda data: b"not JSON at all",
    lambda data: b"[]",
    lambda data: b'{"entries": {"1": 5}}',
    lambda data: data.replace(UNIT_ID.encode(), OTHER_UNIT.encode()),
    lambda data: bytes(len(data)),
]


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_file_is_set_aside_and_every_entry_is_still_served(
    folder: Path, damage: Callable[[bytes], bytes]
) -> None:
    sent = filled(folder, 12)
    path = unit_file(folder)
    spoilt = damage(path.read_bytes())
    path.write_bytes(spoilt)
    assert any(f"units/{UNIT_ID}.json" in fault for fault in survey(folder).faults)
    with Log(folder) as log:
        assert everything(log) == sent
        assert len(log.problems) == 1
        assert "brought back" in log.problems[0]
        assert log.add([stored()])[0].entry["seq"] == 13
    assert [kept.read_bytes() for kept in (folder / "damaged").glob("*.json")] == [spoilt]
    with Log(folder) as again:
        assert len(again.problems) == 1, "told until somebody has looked"
        assert len(everything(again)) == 13


def test_a_file_that_is_gone_is_brought_back(folder: Path) -> None:
    sent = filled(folder)
    unit_file(folder).unlink()
    with Log(folder) as log:
        assert everything(log) == sent
        assert "is gone" in log.problems[0]


def test_damage_while_running_is_found_on_reading_and_mended(folder: Path) -> None:
    with Log(folder) as log:
        for _ in range(3):
            log.add([stored()])
        before = everything(log)
        unit_file(folder).write_bytes(flip_in_text(unit_file(folder).read_bytes()))
        assert everything(log) == before
        assert len(log.problems) == 1
        assert log.of_unit(UNIT_ID) == before


@pytest.mark.parametrize("damage", [None, truncate, flip_in_text])
def test_damage_while_running_is_found_on_writing_and_mended(
    folder: Path, monkeypatch: pytest.MonkeyPatch, damage: Callable[[bytes], bytes] | None
) -> None:
    monkeypatch.setattr("server.log.log.OPEN_FILES", 1)
    with Log(folder) as log:
        for _ in range(3):
            log.add([stored()])
            log.add([stored(unit=OTHER_UNIT)])
        before = everything(log)
        if damage:
            unit_file(folder).write_bytes(damage(unit_file(folder).read_bytes()))
        else:
            unit_file(folder).unlink()
        assert log.add([stored()])[0].answer == STORED
        assert everything(log)[:-1] == before
        assert len(log.problems) == 1
    with Log(folder) as again:
        assert everything(again)[:-1] == before


def test_a_name_that_somebody_else_gave_a_generation_keeps_its_content(folder: Path, tmp_path: Path) -> None:
    """Backups by hard links rely on files being replaced, not written over."""
    names = {}
    with Log(folder) as log:
        for place in range(6):
            log.add([stored()])
            names[place] = tmp_path / f"link {place}"
            os.link(unit_file(folder), names[place])
            assert names[place].read_bytes() == unit_file(folder).read_bytes()
        sizes = [names[place].stat().st_size for place in range(6)]
    assert sizes == sorted(set(sizes))


def test_damage_beyond_all_copies_is_told_and_the_rest_served(folder: Path) -> None:
    sent = filled(folder)
    for copy in (folder / part / unit_file(folder).name for part in ("units", "earlier", "newest")):
        copy.write_bytes(b'{"entries": {\n"1": {"crc32"')
    with Log(folder) as log:
        assert everything(log) == [one for one in sent if one["unit"] != UNIT_ID]
        assert "0 of its entries were brought back" in log.problems[0]
        assert any("lacks 2 entries" in problem for problem in log.problems)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_no_single_flipped_bit_goes_unnoticed_or_loses_an_entry(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("flip") / "data"
    sent = filled(folder, 7)
    path = unit_file(folder)
    content = bytearray(path.read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    path.write_bytes(content)
    with Log(folder) as log:
        assert everything(log) == sent
        # A flip between the entries may leave the same JSON, and then nothing is wrong.
        assert log.problems or json.loads(content)


def test_a_file_laid_out_anew_by_another_program_is_still_whole(folder: Path) -> None:
    sent = filled(folder)
    path = unit_file(folder)
    path.write_text(json.dumps(json.loads(path.read_text("utf-8")), indent=4))
    assert survey(folder).faults == []
    with Log(folder) as log:
        assert everything(log) == sent
        assert log.problems == []
        log.add([stored()])
        assert len(everything(log)) == 7


def test_a_file_copied_in_from_another_folder_gets_numbers_of_this_log(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    with Log(here) as log:
        log.add([stored(unit=OTHER_UNIT), stored(unit=OTHER_UNIT)])
    sent = filled(there)
    (here / "units" / unit_file(there).name).write_bytes(unit_file(there).read_bytes())
    with Log(here) as log:
        found = everything(log)
        assert {one["id"] for one in sent if one["unit"] == UNIT_ID} < {one["id"] for one in found}
        assert len({one["seq"] for one in found}) == len(found) == 4


@pytest.mark.parametrize(
    ("number", "sentence"), [(errno.ENOSPC, "the disk is full"), (errno.EROFS, "read-only"), (errno.EIO, "Check the")]
)
@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_disk_that_takes_no_more_says_so_and_loses_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int, sentence: str, call: str
) -> None:
    sent = filled(folder)
    late = [stored(), stored(unit=OTHER_UNIT)]
    with Log(folder) as log:
        with monkeypatch.context() as patch:
            patch.setattr(os, call, refuse_with(number))
            with pytest.raises(LogFault, match=sentence) as refused:
                log.add(late)
        assert refused.value.full == (number == errno.ENOSPC)
        assert everything(log) == sent
        assert [answer.answer for answer in log.add(late)] == [STORED, STORED]
    with Log(folder) as again:
        assert [one["id"] for one in everything(again)] == [one["id"] for one in sent + late]
        assert again.problems == []


def test_once_a_folder_does_not_settle_nothing_is_promised_until_a_restart(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = filled(folder)
    late = stored()
    with Log(folder) as log:
        with monkeypatch.context() as patch:
            patch.setattr(durable, "sync_folder", refuse_with(errno.EIO))
            with pytest.raises(LogFault, match="restart"):
                log.add([late])
        with pytest.raises(LogFault, match="restart"):
            log.add([late])
    with Log(folder) as again:
        assert again.add([late])[0].answer in (STORED, ALREADY_THERE)
        assert [one["id"] for one in everything(again)] == [*(one["id"] for one in sent), late["id"]]


def test_a_really_full_disk_is_told_and_nothing_is_lost(tmp_path: Path) -> None:
    """The kernel's own limit on file size stands in for a full disk: the write itself fails half-way."""
    resource = pytest.importorskip("resource")
    import signal

    folder = tmp_path / "data"
    sent = filled(folder)
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    usual = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    try:
        with Log(folder) as log:
            resource.setrlimit(resource.RLIMIT_FSIZE, (unit_file(folder).stat().st_size + 100, before[1]))
            with pytest.raises(LogFault, match="Cannot write the log"):
                log.add([stored()])
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
            assert everything(log) == sent
            assert log.add([stored()])[0].answer == STORED
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, usual)
    assert not list(folder.rglob("*" + durable.UNFINISHED))


def test_what_a_kill_left_half_written_is_never_read(folder: Path) -> None:
    sent = filled(folder)
    left = unit_file(folder).with_name(unit_file(folder).name + durable.UNFINISHED)
    left.write_bytes(unit_file(folder).read_bytes()[:50])
    with Log(folder) as log:
        assert everything(log) == sent
        assert log.problems == []
    assert not left.exists()


def test_an_entry_lost_beyond_all_copies_can_be_sent_again(folder: Path) -> None:
    sent = stored()
    with Log(folder) as log:
        log.add([sent])
        for part in ("units", "earlier", "newest"):
            (folder / part / unit_file(folder).name).write_bytes(b"{")
        assert log.find(sent["id"]) is None
        assert log.add([sent])[0].answer == STORED
        assert [one["id"] for one in everything(log)] == [sent["id"]]


def test_a_backup_made_while_entries_arrive_is_a_log_without_gaps(folder: Path, tmp_path: Path) -> None:
    stop = threading.Event()
    with Log(folder) as log:

        def write() -> None:
            while not stop.is_set():
                log.add([stored(unit=unit) for unit in (UNIT_ID, OTHER_UNIT, "", UNIT_ID)])

        writer = threading.Thread(target=write)
        writer.start()
        try:
            lasts: list[int] = []
            while len(lasts) < 8 or (lasts[0] == lasts[-1] and writer.is_alive()):
                found = back_up(folder, tmp_path / f"{len(lasts)}.zip")
                assert found.faults == []
                lasts.append(found.last)
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
