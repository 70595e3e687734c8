"""What the log says where a folder, a file or a disk will not do: one sentence each, and nothing is left locked."""

import errno
import os
from pathlib import Path
from typing import Any

import pytest

from server.log import LogFault, durable
from server.log.faults import Damage, fault_of
from server.log.files import FolderLog, FolderPhotos
from server.log.files.folder import Folder
from server.log.files.recovery import gather_lines, load
from server.log.files.survey import survey
from server.log.files.unit_file import FileContent, UnitStorage
from server.log.layout import TABLE, encode_entry, encode_line
from server.log.photos import JPEG, MOST_BYTES, WrongPhoto

from .sample_logs import OTHER_UNIT, UNIT_ID, failing_with, stored

pytestmark = pytest.mark.about_files("files that cannot be written")


@pytest.mark.parametrize(
    ("number", "sentence", "full"),
    [
        (errno.ENOSPC, "Cannot read it: the disk is full. Make room, then send again.", True),
        (errno.EDQUOT, "Cannot read it: the disk is full. Make room, then send again.", True),
        (errno.EROFS, "Cannot read it: the folder is read-only. Make it writable, then send again.", False),
        (errno.EACCES, "Cannot read it: the folder is read-only. Make it writable, then send again.", False),
        (errno.EPERM, "Cannot read it: the folder is read-only. Make it writable, then send again.", False),
        (errno.ENOENT, "Cannot read it: its folder is not there. Put it back, or name another.", False),
        (errno.EEXIST, "Cannot read it: there is a file where a folder should be. Name another folder.", False),
        (errno.ENOTDIR, "Cannot read it: there is a file where a folder should be. Name another folder.", False),
        (errno.EIO, f"Cannot read it: {os.strerror(errno.EIO)}. Check the disk, then send again.", False),
    ],
)
def test_every_failure_of_the_system_has_its_sentence(number: int, sentence: str, full: bool) -> None:
    fault = fault_of(OSError(number, os.strerror(number)), "read it")
    assert (fault.reason, fault.full, str(fault)) == (sentence, full, sentence)


def test_a_failure_without_words_of_its_own_is_told_all_the_same() -> None:
    assert fault_of(OSError("odd"), "read it").reason == "Cannot read it: odd. Check the disk, then send again."


def test_a_file_where_the_folder_should_be_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(LogFault, match=r"Cannot use .*file.*: there is a file where a folder should be"):
        FolderLog(tmp_path / "file" / "data")


@pytest.mark.parametrize(("number", "words"), [(errno.EACCES, "read-only"), (errno.EIO, "Check the disk")])
def test_a_folder_that_cannot_be_opened_is_told_and_left_free(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    FolderLog(folder).close()
    for method in ("make", "known_units"):
        with monkeypatch.context() as patch:
            patch.setattr(Folder, method, failing_with(number))
            with pytest.raises(LogFault, match=rf"Cannot use .*{words}"):
                FolderLog(folder)
        FolderLog(folder).close()


def test_a_file_that_cannot_be_read_stops_the_start_and_leaves_the_folder_free(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", failing_with(errno.EIO))
        with pytest.raises(LogFault, match=r"Cannot read shop\.json: .*Check the disk"):
            FolderLog(folder)
    FolderLog(folder).close()


def test_after_closing_nothing_is_taken_in(folder: Path) -> None:
    log = FolderLog(folder)
    log.close()
    with pytest.raises(LogFault, match="send again when it runs"):
        log.add([stored()])


def test_units_and_their_last_numbers(folder: Path) -> None:
    with FolderLog(folder) as log:
        assert (log.last, log.units(), log.states()) == (0, [], {})
        log.add([stored(), stored(unit=OTHER_UNIT), stored("kit"), stored()])
        assert log.units() == [UNIT_ID, OTHER_UNIT]
        assert log.last == 4
        assert set(log.states()) == {UNIT_ID, OTHER_UNIT, ""}
        assert [entry["kind"] for entry in log.of_unit("")] == ["kit"]
        assert log.find("01930000-0000-7000-8000-0000000000ff") is None
        page, has_more = log.after(1, 2)
        assert ([entry["seq"] for entry in page], has_more) == ([2, 3], True)
        page, has_more = log.after(2, 2)
        assert ([entry["seq"] for entry in page], has_more) == ([3, 4], False)


def test_all_copies_gone_while_running_is_told_and_never_an_empty_unit(folder: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        for part in ("units", "earlier", "newest"):
            (folder / part / f"{UNIT_ID}.json").unlink(missing_ok=True)
        with pytest.raises(LogFault, match="is gone, with all its copies"):
            log.of_unit(UNIT_ID)


def test_a_second_copy_that_fails_leaves_the_entry_durable_and_no_wrong_copy(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_over = durable.write_over

    def failing_write(path: Path, *arguments: Any, **options: Any) -> durable.Mark:
        if path.parent.name == "newest":
            raise OSError(errno.ENOSPC, "no room")
        return write_over(path, *arguments, **options)

    with FolderLog(folder) as log:
        log.add([stored()])
        with monkeypatch.context() as patch:
            patch.setattr(durable, "write_over", failing_write)
            log.add([stored()])
        assert not (folder / "newest" / f"{UNIT_ID}.json").exists()
        log.add([stored()])
        assert (folder / "newest" / f"{UNIT_ID}.json").exists()
        assert len(log.of_unit(UNIT_ID)) == 3


def test_a_disk_without_hard_links_gets_copies(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "link", failing_with(errno.EPERM))
    with FolderLog(folder) as log:
        for _ in range(3):
            log.add([stored()])
        before = log.of_unit(UNIT_ID)
    (folder / "units" / f"{UNIT_ID}.json").write_bytes(b"{")
    with FolderLog(folder) as log:
        assert log.of_unit(UNIT_ID) == before


def test_a_storage_never_writes_an_entry_anew(folder: Path) -> None:
    place = Folder(folder)
    place.make()
    storage = UnitStorage(place, UNIT_ID, FileContent([1, 2], b"", 0))
    with pytest.raises(ValueError, match="only ever added"):
        storage.write({TABLE: {"3": stored(), "2": stored()}})
    assert not place.file(UNIT_ID).exists()


def test_a_survey_of_what_is_no_data_folder_says_so(tmp_path: Path) -> None:
    with pytest.raises(LogFault, match="is not a data folder of Slipbook"):
        survey(tmp_path)


def test_a_survey_tells_of_gaps_and_of_numbers_that_are_used_twice(folder: Path, tmp_path: Path) -> None:
    with FolderLog(folder) as log:
        for unit in (UNIT_ID, OTHER_UNIT, UNIT_ID):
            log.add([stored(unit=unit)])
    assert (survey(folder).last, survey(folder).entries, survey(folder).faults) == (3, 3, [])
    with FolderLog(tmp_path / "there") as log:
        log.add([stored("kit")])
    (folder / "shop.json").write_bytes((tmp_path / "there" / "shop.json").read_bytes())
    assert ["same numbers" in fault for fault in survey(folder).faults] == [True]
    (folder / "shop.json").unlink()
    for part in ("units", "earlier", "newest"):
        (folder / part / f"{OTHER_UNIT}.json").unlink(missing_ok=True)
    [fault] = survey(folder).faults
    assert fault.startswith("The log lacks 1 entry (number 2): open Slipbook on each phone")


def test_what_is_lost_beyond_all_copies_is_counted(folder: Path) -> None:
    with FolderLog(folder) as log:
        for _ in range(3):
            log.add([stored()])
    place = Folder(folder)
    path = place.file(UNIT_ID)
    lines = path.read_bytes().split(b"\n")
    # The first entry is altered in both generations, and no other copy has it.
    for copy in (path, place.copies(UNIT_ID)[0]):
        copy.write_bytes(copy.read_bytes().replace(lines[1], lines[1].replace(b"Mara", b"Mora")))
    whole, lost = gather_lines(place, UNIT_ID)
    assert ([line.seq for line in whole], lost) == ([2, 3], {1})
    [fault] = survey(folder).faults[:1]
    assert "2 of its entries can be brought back and 1 cannot: start Slipbook" in fault
    with FolderLog(folder) as log:
        assert "2 of its entries were brought back from copies; 1 could not be." in log.problems[0]
        assert f"The damaged file is kept as damaged/{UNIT_ID}.1.json." in log.problems[0]
        assert any("lacks 1 entry (number 1)" in problem for problem in log.problems)


def test_a_unit_that_never_was_has_no_entries_and_one_that_is_gone_is_damaged(folder: Path) -> None:
    place = Folder(folder)
    place.make()
    assert load(place, UNIT_ID) == ([], b"")
    entry = stored()
    line = encode_line(1, encode_entry({"seq": 1, "id": entry["id"], "unit": UNIT_ID, **entry}))
    place.copies(UNIT_ID)[1].write_bytes(b'{"entries": {\n' + line + b"\n}}\n")
    with pytest.raises(Damage, match="is gone"):
        load(place, UNIT_ID)


@pytest.mark.parametrize(
    ("at", "piece", "total"),
    [(0, JPEG, MOST_BYTES + 1), (0, JPEG + b"more", 5), (0, b"GIF", 10)],
)
def test_what_can_be_no_photo_is_not_begun(tmp_path: Path, at: int, piece: bytes, total: int) -> None:
    photos = FolderPhotos(tmp_path)
    with pytest.raises(WrongPhoto, match=r"shrink it|not a JPEG"):
        photos.add("0" * 64, at, piece, total)
    assert photos.progress("0" * 64) == (0, False)
    assert photos.files() == []


def test_a_photo_that_cannot_be_kept_or_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    photos = FolderPhotos(tmp_path)
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", failing_with(errno.ENOSPC))
        with pytest.raises(LogFault, match="Cannot store the photo: the disk is full"):
            photos.add("0" * 64, 0, JPEG, 10)
    assert photos.read("0" * 64) is None
    photos.file("0" * 64).write_bytes(JPEG)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", failing_with(errno.EIO))
        with pytest.raises(LogFault, match="Cannot read the photo"):
            photos.read("0" * 64)
        with pytest.raises(LogFault, match="cannot be read"):
            photos.find_faults()


def test_a_damaged_file_that_cannot_be_set_aside_stays_in_its_place(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
    path = folder / "units" / f"{UNIT_ID}.json"
    path.write_bytes(path.read_bytes()[:-20])
    damaged = path.read_bytes()
    with monkeypatch.context() as patch:
        patch.setattr(durable, "add_second_name", failing_with(errno.ENOSPC))
        with pytest.raises(LogFault) as fault:
            FolderLog(folder)
    assert fault.value.reason == (
        f"Cannot set the damaged units/{UNIT_ID}.json aside: the disk is full. Make room, then send again."
    )
    assert fault.value.full
    assert path.read_bytes() == damaged
    with FolderLog(folder) as log:
        assert len(log.of_unit(UNIT_ID)) == 1
        assert f"units/{UNIT_ID}.json" in log.problems[0]


@pytest.mark.parametrize("text", [b"", b"x", None])
def test_a_spare_generation_that_somebody_changed_is_not_relied_on(folder: Path, text: bytes | None) -> None:
    spare = Folder(folder).generations(UNIT_ID).spare
    with FolderLog(folder) as log:
        for _ in range(8):
            log.add([stored()])
            if spare.exists():
                # As long as it was, too.
                spare.write_bytes(b"x" * spare.stat().st_size if text is None else text)
        entries = log.of_unit(UNIT_ID)
    assert len(entries) == 8
    with FolderLog(folder) as log:
        assert (log.of_unit(UNIT_ID), log.problems) == (entries, [])


def test_a_spare_generation_as_it_was_left_is_not_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    count_common_bytes, spare = durable.count_common_bytes, Folder(folder).generations(UNIT_ID).spare
    read: list[int] = []

    def count(handle: int, data: bytes) -> int:
        read.append(os.fstat(handle).st_ino)
        return count_common_bytes(handle, data)

    def was_read(log: FolderLog) -> bool:
        inode = spare.stat().st_ino
        read.clear()
        log.add([stored()])
        return inode in read

    monkeypatch.setattr(durable, "count_common_bytes", count)
    with FolderLog(folder) as log:
        for _ in range(3):
            log.add([stored()])
        assert [was_read(log) for _ in range(3)] == [False] * 3
    with FolderLog(folder) as log:
        # What was there before the file that a log opens is unknown to it.
        assert [was_read(log) for _ in range(4)] == [True, True, False, False]
        assert len(log.of_unit(UNIT_ID)) == 10
    assert len(load(Folder(folder), UNIT_ID)[0]) == 10
