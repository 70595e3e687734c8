"""What a unit's file may hold: its own entries, each whole and each once."""

import json
from pathlib import Path
from typing import Any

import pytest

from server.log.export import as_json
from server.log.faults import Damage
from server.log.files import FolderLog
from server.log.files.survey import survey
from server.log.layout import (
    HEAD,
    decode_file,
    decode_line,
    encode_entry,
    encode_file,
    encode_line,
    encode_with_spaces,
    salvage,
)

from .sample_logs import OTHER_UNIT, UNIT_ID, stored

pytestmark = pytest.mark.about_files("how a unit's file is laid out")


def line(seq: int, unit: str = UNIT_ID, **changes: Any) -> bytes:
    """A whole line of an entry of a unit."""
    entry = stored(unit=unit)
    return encode_line(seq, encode_entry({"seq": seq, "id": entry["id"], "unit": unit, **entry, **changes}))


def laid_out(data: bytes) -> bytes:
    """The same file as another program would write it."""
    return json.dumps(json.loads(data), indent=2, ensure_ascii=False).encode()


@pytest.mark.parametrize("reformatted", [lambda data: data, laid_out])
@pytest.mark.parametrize("unit", [OTHER_UNIT, ""])
def test_an_entry_of_another_unit_is_no_part_of_a_units_file(unit: str, reformatted: Any) -> None:
    own_lines = [line(1), line(2)]
    assert [line.seq for line in decode_file(reformatted(encode_file(own_lines)), UNIT_ID)] == [1, 2]
    mixed = reformatted(encode_file([own_lines[0], line(3, unit), own_lines[1]]))
    with pytest.raises(Damage, match="entries of another unit"):
        decode_file(mixed, UNIT_ID)
    assert [
        row.seq for row in salvage(encode_file([own_lines[0], line(3, unit), own_lines[1]])) if row.unit == UNIT_ID
    ] == [
        1,
        2,
    ]


@pytest.mark.parametrize("reformatted", [lambda data: data, laid_out])
def test_an_entry_stands_once_in_a_file(reformatted: Any) -> None:
    written = line(1)
    name = json.loads(b"{" + written + b"}")["1"]["entry"]["id"]
    with pytest.raises(Damage, match="holds an entry twice"):
        decode_file(reformatted(encode_file([written, line(2, id=name)])), UNIT_ID)
    with pytest.raises(Damage, match="holds an entry twice"):
        decode_file(encode_file([written, line(1)]), UNIT_ID)


def test_a_file_of_another_unit_in_a_units_place_is_set_aside_and_both_units_are_served(folder: Path) -> None:
    with FolderLog(folder) as log:
        for unit in (UNIT_ID, OTHER_UNIT, UNIT_ID, OTHER_UNIT):
            log.add([stored(unit=unit)])
        before = {unit: log.of_unit(unit) for unit in (UNIT_ID, OTHER_UNIT)}
    own_lines, other = (folder / "units" / f"{unit}.json" for unit in (UNIT_ID, OTHER_UNIT))
    own_lines.write_bytes(other.read_bytes())
    [fault] = survey(folder).faults
    assert f"units/{UNIT_ID}.json holds entries of another unit" in fault
    with FolderLog(folder) as log:
        assert {unit: log.of_unit(unit) for unit in (UNIT_ID, OTHER_UNIT)} == before
        [problem] = log.problems
        assert "holds entries of another unit. 2 of its entries were brought back" in problem
    assert other.read_bytes() == (folder / "damaged" / f"{UNIT_ID}.1.json").read_bytes()


def test_a_line_is_read_only_as_it_was_written() -> None:
    whole = line(7)
    line_read = decode_line(whole)
    assert line_read is not None
    assert (line_read.seq, line_read.unit, line_read.start) == (7, UNIT_ID, 0)
    assert line_read.entry["seq"] == 7
    assert line_read.text == encode_entry(line_read.entry)
    assert decode_line(HEAD + whole, len(HEAD)) is not None
    altered = [
        whole.replace(b'"7": ', b'"8": ', 1),
        whole.replace(b'"seq": 7', b'"seq": 8', 1),
        whole.replace(b"Mara", b"Mora", 1),
        whole[:-1],
        whole[:-1] + b"]",
        whole[1:],
        b"",
    ]
    assert [decode_line(data) for data in altered] == [None] * len(altered)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "is cut short or is not JSON"),
        ("[]", "does not hold entries"),
        ('{"entries": []}', "does not hold entries"),
        ('{"entries": {}, "more": {}}', "does not hold entries"),
        ('{"entries": {"1": 5}}', "holds something other than an entry at '1'"),
        ('{"entries": {"1": {"crc32": "00000000"}}}', "holds something other than an entry at '1'"),
        ('{"entries": {"1": {"crc32": "00000000", "entry": {}}}}', "holds an entry that was altered, number 1"),
        ("[" * 100_000, "is cut short or is not JSON"),
    ],
)
def test_what_is_no_file_of_entries_says_what_is_wrong(text: str, reason: str) -> None:
    with pytest.raises(Damage) as damage:
        decode_file(text.encode(), UNIT_ID)
    assert damage.value.reason == reason


def test_a_laid_out_file_has_the_places_that_its_entries_get_when_it_is_written_anew() -> None:
    own_lines = encode_file([line(1), line(2), line(4)])
    places = [line.start for line in decode_file(own_lines, UNIT_ID)]
    assert [line.start for line in decode_file(laid_out(own_lines), UNIT_ID)] == places
    assert [own_lines[start : start + 5] for start in places] == [b'"1": ', b'"2": ', b'"4": ']
    assert decode_file(encode_file([]), UNIT_ID) == []


@pytest.mark.parametrize("encode", [encode_entry, encode_with_spaces])
@pytest.mark.parametrize("again", [lambda data: data, laid_out])
def test_a_file_of_an_older_version_is_read_as_one_of_today(folder: Path, encode: Any, again: Any) -> None:
    with FolderLog(folder) as log:
        log.add([stored("unit"), stored("note", body={"text": "20 °C, 1e-7"}), stored()])
        before = log.of_unit(UNIT_ID)
    file = folder / "units" / f"{UNIT_ID}.json"
    lines = [encode_line(line.seq, encode(line.entry)) for line in decode_file(file.read_bytes(), UNIT_ID)]
    file.write_bytes(again(encode_file(lines)))
    [unit] = as_json(survey(folder))["units"]
    assert (unit["name"], unit["entries"]) == (before[0]["body"]["name"], before)
    with FolderLog(folder) as log:
        assert (log.of_unit(UNIT_ID), log.problems) == (before, [])
        log.add([stored()])
        assert log.of_unit(UNIT_ID)[:3] == before
    assert survey(folder).faults == []
