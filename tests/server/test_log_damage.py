"""A log whose files are damaged, lost, reformatted or copied says so, and loses nothing that a copy still has."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.log import STORED
from server.log.files import FolderLog
from server.log.files.survey import survey

from .sample_logs import OTHER_UNIT, UNIT_ID, fill, read_all, stored, unit_file

pytestmark = pytest.mark.about_files("damages files")


def truncate(data: bytes) -> bytes:
    return data[: len(data) * 2 // 3]


def flip_in_text(data: bytes) -> bytes:
    place = data.rindex(b"Oil changed")
    return data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :]


def flip_a_figure(data: bytes) -> bytes:
    return data.replace(b'"version":1', b'"version":3', 1)


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
    sent = fill(folder, 12)
    path = unit_file(folder)
    spoilt = damage(path.read_bytes())
    path.write_bytes(spoilt)
    assert any(f"units/{UNIT_ID}.json" in fault for fault in survey(folder).faults)
    with FolderLog(folder) as log:
        assert read_all(log) == sent
        assert len(log.problems) == 1
        assert "brought back" in log.problems[0]
        assert log.add([stored()])[0].entry["seq"] == 13
    assert [path.read_bytes() for path in (folder / "damaged").glob("*.json")] == [spoilt]
    with FolderLog(folder) as again:
        assert len(again.problems) == 1, "told until somebody has looked"
        assert len(read_all(again)) == 13


def test_a_file_that_is_gone_is_brought_back(folder: Path) -> None:
    sent = fill(folder)
    unit_file(folder).unlink()
    with FolderLog(folder) as log:
        assert read_all(log) == sent
        assert "is gone" in log.problems[0]


def test_damage_while_running_is_found_on_reading_and_mended(folder: Path) -> None:
    with FolderLog(folder) as log:
        for _ in range(3):
            log.add([stored()])
        before = read_all(log)
        unit_file(folder).write_bytes(flip_in_text(unit_file(folder).read_bytes()))
        assert read_all(log) == before
        assert len(log.problems) == 1
        assert log.of_unit(UNIT_ID) == before


@pytest.mark.parametrize("damage", [None, truncate, flip_in_text])
def test_damage_while_running_is_found_on_writing_and_mended(
    folder: Path, monkeypatch: pytest.MonkeyPatch, damage: Callable[[bytes], bytes] | None
) -> None:
    monkeypatch.setattr("server.log.files.log.OPEN_FILES", 1)
    with FolderLog(folder) as log:
        for _ in range(3):
            log.add([stored()])
            log.add([stored(unit=OTHER_UNIT)])
        before = read_all(log)
        if damage:
            unit_file(folder).write_bytes(damage(unit_file(folder).read_bytes()))
        else:
            unit_file(folder).unlink()
        assert log.add([stored()])[0].answer == STORED
        assert read_all(log)[:-1] == before
        assert len(log.problems) == 1
    with FolderLog(folder) as again:
        assert read_all(again)[:-1] == before


def test_damage_beyond_all_copies_is_told_and_the_rest_served(folder: Path) -> None:
    sent = fill(folder)
    for copy in (folder / part / unit_file(folder).name for part in ("units", "earlier", "newest")):
        copy.write_bytes(b'{"entries": {\n"1": {"crc32"')
    with FolderLog(folder) as log:
        assert read_all(log) == [entry for entry in sent if entry["unit"] != UNIT_ID]
        assert "0 of its entries were brought back" in log.problems[0]
        assert any("lacks 2 entries" in problem for problem in log.problems)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_no_single_flipped_bit_goes_unnoticed_or_loses_an_entry(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("flip") / "data"
    sent = fill(folder, 7)
    path = unit_file(folder)
    content = bytearray(path.read_bytes())
    bit = data.draw(st.integers(0, len(content) * 8 - 1))
    content[bit // 8] ^= 1 << bit % 8
    path.write_bytes(content)
    with FolderLog(folder) as log:
        assert read_all(log) == sent
        # A flip between the entries may leave the same JSON, and then nothing is wrong.
        assert log.problems or json.loads(content)


def test_a_file_laid_out_anew_by_another_program_is_still_whole(folder: Path) -> None:
    sent = fill(folder)
    path = unit_file(folder)
    path.write_text(json.dumps(json.loads(path.read_text("utf-8")), indent=4))
    assert survey(folder).faults == []
    with FolderLog(folder) as log:
        assert read_all(log) == sent
        assert log.problems == []
        log.add([stored()])
        assert len(read_all(log)) == 7


def test_a_file_copied_in_from_another_folder_gets_numbers_of_this_log(tmp_path: Path) -> None:
    own_folder, other_folder = tmp_path / "here", tmp_path / "there"
    with FolderLog(own_folder) as log:
        log.add([stored(unit=OTHER_UNIT), stored(unit=OTHER_UNIT)])
    sent = fill(other_folder)
    (own_folder / "units" / unit_file(other_folder).name).write_bytes(unit_file(other_folder).read_bytes())
    with FolderLog(own_folder) as log:
        entries = read_all(log)
        assert {entry["id"] for entry in sent if entry["unit"] == UNIT_ID} < {entry["id"] for entry in entries}
        assert len({entry["seq"] for entry in entries}) == len(entries) == 4


def test_an_entry_lost_beyond_all_copies_can_be_sent_again(folder: Path) -> None:
    sent = stored()
    with FolderLog(folder) as log:
        log.add([sent])
        for part in ("units", "earlier", "newest"):
            (folder / part / unit_file(folder).name).write_bytes(b"{")
        assert log.find(sent["id"]) is None
        assert log.add([sent])[0].answer == STORED
        assert [entry["id"] for entry in read_all(log)] == [sent["id"]]
