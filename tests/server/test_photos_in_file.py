"""A unit's photos travel in its file, by command as well as by phone, and only what is whole is taken in."""

import base64
import hashlib
import json
from pathlib import Path
from typing import Any

import pytest

from server.cli import main
from server.log.photos import JPEG

from .sample_logs import UNIT_ID, stored
from .stores import open_log, photos_kept, place_of

PHOTO = JPEG + bytes(range(256)) * 40
NAME = hashlib.sha256(PHOTO).hexdigest()
LOST = hashlib.sha256(b"lost").hexdigest()


def photo(sha256: str) -> dict[str, Any]:
    """An entry that shows a photo."""
    body = {"sha256": sha256, "bytes": len(PHOTO), "wide": 640, "tall": 480, "text": "Plate B4"}
    return {**stored(), "kind": "photo", "body": body}


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """A workshop with a unit and one whole photo of it; a second never came."""
    folder = tmp_path / "here"
    with open_log(folder) as log:
        log.add([stored("unit"), photo(NAME), photo(LOST)])
        log.photos.add(NAME, 0, PHOTO, len(PHOTO))
    return folder


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """Another workshop, with an empty book."""
    folder = tmp_path / "there"
    open_log(folder).close()
    return folder


def save_unit(source: Path, file: Path) -> dict[str, Any]:
    """The unit's file, as the command writes it."""
    assert main(["export", *place_of(source), "--unit", UNIT_ID, "--to", str(file)]) == 0
    content: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return content


def test_a_units_photo_goes_with_it_into_another_book(
    source: Path, target: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "unit.json"
    content = save_unit(source, file)
    assert content["photos"] == [{"sha256": NAME, "jpeg": base64.b64encode(PHOTO).decode()}]
    assert "1 photo is missing or damaged, and is not in the file" in capsys.readouterr().err
    # What a phone had begun to send is gone on with.
    with open_log(target) as log:
        log.photos.add(NAME, 0, PHOTO[:5000], len(PHOTO))
    assert main(["take-in", str(file), *place_of(target)]) == 0
    assert "1 photo was new." in capsys.readouterr().out
    assert photos_kept(target) == {NAME: PHOTO}
    assert main(["take-in", str(file), *place_of(target)]) == 0
    assert "photo" not in capsys.readouterr().out


@pytest.mark.parametrize("wrong", [base64.b64encode(JPEG + b"another").decode(), "no base64!", "", None, 7], ids=repr)
def test_a_photo_that_is_not_whole_is_told_and_stays_out(
    source: Path, target: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], wrong: object
) -> None:
    file = tmp_path / "unit.json"
    content = save_unit(source, file)
    content["photos"][0]["jpeg"] = wrong
    file.write_text(json.dumps(content), "utf-8")
    assert main(["take-in", str(file), *place_of(target)]) == 1
    assert "1 photo in the file is damaged: save the unit again on the device it is from." in capsys.readouterr().out
    assert photos_kept(target) == {}
    with open_log(target) as log:
        assert len(log.after(0, 10)[0]) == 3


@pytest.mark.parametrize("wrong", [7, [7], [{}], [{"sha256": "../../x", "jpeg": ""}], [{"sha256": ["a"]}]], ids=repr)
def test_what_no_entry_shows_is_left_alone(source: Path, target: Path, tmp_path: Path, wrong: object) -> None:
    file = tmp_path / "unit.json"
    file.write_text(json.dumps({**save_unit(source, file), "photos": wrong}), "utf-8")
    assert main(["take-in", str(file), *place_of(target)]) == 0
    assert photos_kept(target) == {}


def test_a_whole_log_is_exported_without_photos_and_says_so(source: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", *place_of(source)]) == 0
    printed = capsys.readouterr()
    assert "photos" not in json.loads(printed.out)
    assert "they come with the export of one unit (--unit) and with `slipbook backup`" in printed.err
