"""Ordinary mishaps with requests, files and the command line end in a sentence, and lose nothing."""

import errno
import hashlib
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server import cli
from server.cli import main
from server.log import LogFault
from server.log.backups.backup import back_up, back_up_log, restore
from server.log.files import FolderLog, FolderPhotos
from server.log.photos import JPEG, MOST_BYTES

from .processes import ROOT
from .sample_logs import UNIT_ID, entry, failing_with, fill, new_id, stored, unit_file
from .stores import open_log, place_of


@pytest.mark.parametrize("sent", ["", None])
def test_an_outbox_without_the_time_of_sending_is_taken(client: FlaskClient, sent: str | None) -> None:
    answer = client.post("/api/log", json={"entries": [entry("note")], "sent": sent})
    assert [row["answer"] for row in answer.json["answers"]] == ["stored"]  # type: ignore[index]
    assert client.post("/api/log", json={"entries": [], "sent": sent}).json == {"answers": []}


@pytest.mark.parametrize("name", ["unit", "replaces"])
def test_an_entry_without_an_optional_field_can_be_sent_again(client: FlaskClient, name: str) -> None:
    bare = entry("note", unit="")
    forms: list[dict[str, Any]] = [{}, {name: ""}, {name: None}]
    del bare["unit"]
    answers = []
    for form in [*forms, *forms]:
        answer = client.post("/api/log", json={"entries": [{**bare, **form}]})
        answers.append(answer.json["answers"][0]["answer"])  # type: ignore[index]
    assert answers == ["stored"] + ["already_there"] * 5
    other = {**bare, "body": {"text": "Another."}}
    assert client.post("/api/log", json={"entries": [other]}).json["answers"][0]["answer"] == "refused"  # type: ignore[index]


PHOTO = JPEG + bytes(range(256)) * 10
NAME = hashlib.sha256(PHOTO).hexdigest()


@pytest.mark.about_files("what a photo lacks is in a file that somebody made longer")
@pytest.mark.parametrize("extra", [1, 5000, MOST_BYTES])
def test_a_photo_comes_home_over_a_part_that_is_longer_than_it(client: FlaskClient, folder: Path, extra: int) -> None:
    photos = FolderPhotos(folder)
    photos.folder.mkdir()
    photos.part(NAME).write_bytes(PHOTO + bytes(extra))
    # As a phone does: it goes on from what it is told.
    at = client.get(f"/api/photos/{NAME}/progress").json["size"]  # type: ignore[index]
    for _ in range(4):
        answer = client.put(f"/api/photos/{NAME}?at={at}&total={len(PHOTO)}", data=PHOTO[at : at + 1000])
        assert answer.status_code == 200, answer.text
        at = answer.json["size"]  # type: ignore[index]
    assert client.get(f"/api/photos/{NAME}").data == PHOTO
    assert not photos.part(NAME).exists()


@pytest.mark.about_files("a unit's file cannot be read")
@pytest.mark.parametrize("number", [errno.EACCES, errno.EPERM])
def test_a_file_that_may_not_be_read_is_told_as_such(
    folder: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    fill(folder)
    # As the system answers to a user without the right; the tests may run as one who has every right.
    monkeypatch.setattr(Path, "read_bytes", failing_with(number))
    with pytest.raises(LogFault, match=r"Cannot read shop\.json: you have no right to read this file"):
        FolderLog(folder)


@pytest.fixture
def accented(tmp_path: Path) -> Path:
    with open_log(tmp_path / "data") as log:
        log.add([stored(body={"text": "Öl gewechselt, 2,1 N·m, ≤ 5"})])
    return tmp_path / "data"


def names_beside(folder: Path) -> list[str]:
    """Names of what is beside a data folder, which is there over a folder alone."""
    return sorted(path.name for path in folder.parent.iterdir() if path != folder)


@pytest.mark.parametrize("format", ["json", "csv"])
def test_an_export_to_a_stream_that_is_not_utf_8_is_whole(accented: Path, format: str) -> None:
    order = [sys.executable, "-m", "server.cli", "export", *place_of(accented), "--format", format]
    finished = subprocess.run(order, cwd=ROOT, env={**os.environ, "PYTHONIOENCODING": "ascii"}, capture_output=True)
    assert (finished.returncode, finished.stderr) == (0, b"")
    assert "Öl gewechselt, 2,1 N·m, ≤ 5" in finished.stdout.decode()


def test_a_name_that_the_console_lacks_ends_in_a_sentence(accented: Path) -> None:
    order = [sys.executable, "-m", "server.cli", "export", *place_of(accented), "--unit", "Ölig"]
    finished = subprocess.run(order, cwd=ROOT, env={**os.environ, "PYTHONIOENCODING": "ascii"}, capture_output=True)
    assert finished.returncode == 2
    assert b"Traceback" not in finished.stderr


def test_an_export_replaces_a_file_only_if_told_so(accented: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = accented.parent / "out.json"
    order = ["export", *place_of(accented), "--to", str(file)]
    file.write_text("mine")
    assert main(order) == 2
    assert "exists already: name another file, or add --force" in capsys.readouterr().err
    assert file.read_text() == "mine"
    assert main([*order, "--force"]) == 0
    assert "Öl" in file.read_text("utf-8")
    file.unlink()
    assert main(order) == 0
    assert names_beside(accented) == ["out.json"]


@pytest.mark.about_files("names files in the data folder")
@pytest.mark.parametrize("name", [f"units/{UNIT_ID}.json", "shop.json", "units/new.json"])
def test_an_export_never_goes_into_the_data_folder(
    accented: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    before = unit_file(accented).read_bytes()
    assert main(["export", "--folder", str(accented), "--to", str(accented / name), "--force"]) == 2
    assert "is in the data folder itself: name a file outside of it" in capsys.readouterr().err
    assert unit_file(accented).read_bytes() == before


def test_an_export_that_fails_leaves_the_file_as_it_was(accented: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = accented.parent / "out.json"
    file.write_text("mine")

    def full(*_: Any) -> Any:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main(["export", *place_of(accented), "--to", str(file), "--force"]) == 2
    assert [path.read_text() for path in accented.parent.glob("out*")] == ["mine"]


def test_a_backup_never_replaces_a_file_that_was_made_meanwhile(
    accented: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = accented.parent / "all.zip"
    for link in (os.link, None):
        closing = zipfile.ZipFile.close

        def close(archive: zipfile.ZipFile, closing: Any = closing) -> None:
            file.write_text("mine")
            closing(archive)

        with monkeypatch.context() as patch:
            patch.setattr(zipfile.ZipFile, "close", close)
            if link is None:
                patch.setattr(os, "link", lambda *_: (_ for _ in ()).throw(OSError(95, "no links here")))
            told = pytest.raises(LogFault, match="exists already: name another file")
            with open_log(accented) as log, told:
                back_up_log(log, file)
        assert file.read_text() == "mine"
        file.unlink()
    assert names_beside(accented) == []


@pytest.mark.about_files("a photo is put into the data folder")
def test_a_large_photo_that_was_put_there_by_hand_is_in_the_backup_and_comes_back(accented: Path) -> None:
    large = JPEG + bytes(MOST_BYTES + 1000)
    photos = FolderPhotos(accented)
    photos.folder.mkdir()
    name = hashlib.sha256(large).hexdigest()
    photos.file(name).write_bytes(large)
    assert back_up(accented, accented.parent / "all.zip").faults == []
    restore(accented.parent / "all.zip", accented.parent / "again")
    assert FolderPhotos(accented.parent / "again").read(name) == large


def test_a_file_of_any_size_is_not_read_into_memory(
    accented: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file = accented.parent / "outbox.json"
    file.write_text(json.dumps({"slipbook_outbox": 1, "entries": [entry("note", id=new_id())]}))
    order = ["take-in", str(file), *place_of(accented)]
    assert main(order) == 0
    with open(file, "r+b") as large:
        large.truncate(10**11)
    assert main(order) == 2
    assert "has more than 200 MB: save one unit at a time" in capsys.readouterr().err
    assert main(["take-in", str(accented.parent), *place_of(accented)]) == 2
    assert "is not a file" in capsys.readouterr().err
    monkeypatch.setattr(cli, "LARGEST_TAKEN_IN", 10)
    assert main(["take-in", "/dev/zero" if os.name != "nt" else "NUL", *place_of(accented)]) == 2
