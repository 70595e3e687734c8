"""Whatever happened to the files of a data folder, Slipbook starts over them and has each entry once."""

import json
import os
from pathlib import Path

import pytest

from server.log import STORED
from server.log.files import FolderLog
from server.log.files.folder import Folder
from server.log.files.recovery import load
from server.log.files.survey import survey
from server.log.layout import Line, decode_file, encode_entry, encode_file, encode_line, salvage

from .sample_logs import OTHER_UNIT, UNIT_ID, failing_with, fill, new_id, read_all, stored, unit_file

pytestmark = pytest.mark.about_files("what a folder is found like at a start")


def lines_of(path: Path) -> list[Line]:
    return salvage(path.read_bytes())


def under_other_numbers(path: Path, offset: int) -> bytes:
    """The same entries, each under another number, as a renumbering writes them."""
    entries = [{**line.entry, "seq": line.seq + offset} for line in lines_of(path)]
    return encode_file(encode_line(entry["seq"], encode_entry(entry)) for entry in entries)


def ids(folder: Path) -> list[str]:
    """The ids that a log hands out, after it has started over the folder twice."""
    with FolderLog(folder) as log:
        first = [entry["id"] for entry in read_all(log)]
        assert len({entry["seq"] for entry in read_all(log)}) == len(first)
    with FolderLog(folder) as again:
        assert [entry["id"] for entry in read_all(again)] == first
        assert again.add([stored()])[0].entry["seq"] > len(first)
    return sorted(first)


@pytest.mark.parametrize("cut", [30, 1, 400])
def test_it_starts_over_a_cut_file_whose_copies_have_other_numbers(folder: Path, cut: int) -> None:
    sent = fill(folder, 9)
    path = unit_file(folder)
    path.write_bytes(under_other_numbers(path, 100)[:-cut])
    assert ids(folder) == sorted(entry["id"] for entry in sent)


def test_it_starts_over_a_file_with_each_entry_under_two_numbers(folder: Path) -> None:
    sent = fill(folder, 9)
    path = unit_file(folder)
    twice = [*lines_of(path), *decode_file(under_other_numbers(path, 100), UNIT_ID)]
    path.write_bytes(encode_file(line.data for line in twice))
    assert ids(folder) == sorted(entry["id"] for entry in sent)


def test_entries_that_claim_one_number_are_all_kept(folder: Path, tmp_path: Path) -> None:
    sent, others = fill(folder, 9), fill(tmp_path / "there", 9)
    path, other = unit_file(folder), unit_file(tmp_path / "there")
    path.write_bytes(encode_file(line.data for line in [*lines_of(path), *lines_of(other)]))
    expected_ids = [entry["id"] for entry in [*sent, *(entry for entry in others if entry["unit"] == UNIT_ID)]]
    assert ids(folder) == sorted(expected_ids)


def test_a_reformatted_file_with_one_altered_entry_keeps_the_others(folder: Path) -> None:
    sent = fill(folder, 9)
    path = unit_file(folder)
    text = json.dumps(json.loads(path.read_text("utf-8")), indent=4)
    path.write_text(text.replace("Mara", "Mora", 1))
    for copy in Folder(folder).copies(UNIT_ID):
        copy.unlink()
    first = next(entry["id"] for entry in sent if entry["unit"] == UNIT_ID)
    assert ids(folder) == sorted(entry["id"] for entry in sent if entry["id"] != first)


@pytest.mark.parametrize("with_copies", [True, False])
def test_exchanged_files_lose_nothing_and_nothing_is_called_lost(folder: Path, with_copies: bool) -> None:
    sent = fill(folder, 9)
    path, other = unit_file(folder), folder / "units" / f"{OTHER_UNIT}.json"
    exchanged = path.read_bytes(), other.read_bytes()
    other.write_bytes(exchanged[0])
    path.write_bytes(exchanged[1])
    if not with_copies:
        for unit in (UNIT_ID, OTHER_UNIT):
            for copy in Folder(folder).copies(unit):
                copy.unlink()
    assert not any("cannot" in fault for fault in survey(folder).faults)
    with FolderLog(folder) as log:
        assert not any("could not" in problem or "lacks" in problem for problem in log.problems), log.problems
    assert ids(folder) == sorted(entry["id"] for entry in sent)


def test_an_entry_whose_second_copy_cannot_be_written_is_stored_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(folder, 3)
    newest = Folder(folder).copies(UNIT_ID)[1]
    newest.unlink()
    # Nothing can be written in its place, and it cannot be removed.
    newest.mkdir()
    monkeypatch.setattr(Path, "unlink", failing_with(1))
    sent = [stored(), stored()]
    with FolderLog(folder) as log:
        assert [log.add([entry])[0].answer for entry in (*sent, *sent)] == [STORED] * 2 + ["already_there"] * 2
        assert log.last == 5
    monkeypatch.undo()
    with FolderLog(folder) as again:
        assert [entry["seq"] for entry in read_all(again)] == [1, 2, 3, 4, 5]


def test_copies_that_cannot_be_removed_do_not_keep_it_from_starting(folder: Path) -> None:
    sent = fill(folder, 6)
    earlier, newest = Folder(folder).copies(UNIT_ID)
    unit_file(folder).unlink()
    for copy in (earlier, newest):
        copy.unlink()
        copy.mkdir()
        (copy / "kept").write_text("mine")
    assert ids(folder) == sorted(entry["id"] for entry in sent if entry["unit"] != UNIT_ID)


def test_a_file_that_is_damaged_while_it_runs_and_comes_from_elsewhere_clashes_with_nothing(
    folder: Path, tmp_path: Path
) -> None:
    fill(tmp_path / "there", 6)
    strange = unit_file(tmp_path / "there").read_bytes()
    with FolderLog(folder) as log:
        for _ in range(8):
            log.add([stored(unit=OTHER_UNIT)])
        unit_file(folder).write_bytes(strange[:-30])
        log.add([stored()])
        entries = read_all(log)
        assert len({entry["seq"] for entry in entries}) == len({entry["id"] for entry in entries}) == len(entries)
    assert len(ids(folder)) == len(entries)


def test_whatever_is_written_after_damage_can_be_read(folder: Path, tmp_path: Path) -> None:
    """Every mixture of a folder's files with those of another, cut at several places."""
    fill(folder, 9)
    fill(tmp_path / "there", 12)
    own_folder, other_folder = Folder(folder), Folder(tmp_path / "there")
    pieces = [
        path.read_bytes()
        for place in (own_folder, other_folder)
        for path in (place.file(UNIT_ID), *place.copies(UNIT_ID))
    ]
    places = [own_folder.file(UNIT_ID), *own_folder.copies(UNIT_ID)]
    for number in range(len(pieces) ** 2):
        first, second = divmod(number, len(pieces))
        for path, data in zip(places, (pieces[first][: -number or None], pieces[second], pieces[first][:-40])):
            path.write_bytes(data)
        with FolderLog(folder) as log:
            assert load(own_folder, UNIT_ID)[0]
            log.add([stored(id=new_id())])
        assert os.listdir(folder / "units")
