"""What the command line cannot do it says in a sentence, and leaves nothing half done behind."""

import json
import os
import zipfile
from pathlib import Path
from typing import Any

import pytest

from server import cli
from server.cli import main
from server.log.backups import backup
from server.log.files import FolderLog

from .sample_logs import stored

pytestmark = pytest.mark.about_files("what the commands make of folders and of other files")


@pytest.fixture
def zipped(tmp_path: Path) -> Path:
    with FolderLog(tmp_path / "data") as log:
        log.add([stored()])
    assert main(["backup", str(tmp_path / "log.zip"), "--folder", str(tmp_path / "data")]) == 0
    return tmp_path / "log.zip"


def with_one_more(zipped: Path, name: str, data: bytes) -> None:
    with zipfile.ZipFile(zipped, "a", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, data)


@pytest.mark.parametrize(
    "name", ["units/../../out.json", "units/out.json", "photos/../out.jpg", "photos/out.jpg", "out.json"]
)
def test_a_backup_with_anything_else_in_it_restores_nothing(
    zipped: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with_one_more(zipped, name, b'{"entries": {\n\n}}\n')
    assert main(["restore", str(zipped), "--folder", str(zipped.parent / "back")]) == 2
    assert "is not a backup of Slipbook, or it is damaged" in capsys.readouterr().err
    assert sorted(path.name for path in zipped.parent.iterdir()) == ["data", "log.zip"]


def test_a_small_backup_that_holds_something_huge_is_not_unpacked(
    zipped: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(backup, "LARGEST_FILE", 100_000)
    with_one_more(zipped, f"units/{'0' * 8}-0000-0000-0000-{'0' * 12}.json", b" " * 200_000)
    assert main(["restore", str(zipped), "--folder", str(zipped.parent / "back")]) == 2
    assert "is not a backup of Slipbook" in capsys.readouterr().err


def test_a_log_is_not_restored_under_ones_own_feet(
    zipped: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder_inside = zipped.parent / "here"
    folder_inside.mkdir()
    monkeypatch.chdir(folder_inside)
    assert main(["restore", str(zipped), "--folder", "."]) == 2
    assert "You are in" in capsys.readouterr().err
    assert main(["restore", str(zipped), "--folder", "new"]) == 0
    assert (folder_inside / "new" / "units").is_dir()


def test_a_file_in_the_place_of_a_folder_is_told(zipped: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--folder", str(zipped), "--port", "0"]) == 2
    assert "there is a file where a folder should be. Name another folder." in capsys.readouterr().err


@pytest.mark.parametrize("address", ["192.0.2.7", "a..b"])
def test_an_address_that_this_pc_has_not_is_told(
    tmp_path: Path, address: str, capsys: pytest.CaptureFixture[str]
) -> None:
    order = ["serve", "--lan", "--no-announce", "--folder", str(tmp_path / "data"), "--port", "0"]
    assert main([*order, "--welcome-port", "0", "--address", address]) == 2
    assert f"This PC has no address {address}: give one of its own" in capsys.readouterr().err


def test_ctrl_c_while_a_file_is_taken_in_keeps_what_is_stored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    outbox, folder = tmp_path / "outbox.json", tmp_path / "data"
    outbox.write_text(json.dumps({"slipbook_outbox": 1, "entries": [{}] * 250}))
    with FolderLog(folder) as log:
        log.add([stored()])

    def interrupted(*_: Any, **__: Any) -> Any:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "receive", interrupted)
    assert main(["take-in", str(outbox), "--folder", str(folder)]) == 130
    assert "Nothing that was stored is lost" in capsys.readouterr().err
    with FolderLog(folder) as log:
        assert log.last == 1, "and the folder is free again"


def test_ctrl_c_during_a_backup_leaves_no_piece_of_one(zipped: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: Any) -> Any:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    assert main(["backup", str(zipped.parent / "two.zip"), "--folder", str(zipped.parent / "data")]) == 130
    assert sorted(path.name for path in zipped.parent.iterdir()) == ["data", "log.zip"]


def test_a_demonstration_in_a_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "file"
    file.write_text("mine")
    assert main(["demo", "--folder", str(file)]) == 2
    assert "name a new or empty folder for the demonstration" in capsys.readouterr().err
    assert file.read_text() == "mine"


def test_who_finds_the_folder_in_use_makes_no_authority_in_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with FolderLog(tmp_path / "log"):
        assert main(["serve", "--lan", "--folder", str(tmp_path / "log"), "--port", "0", "--welcome-port", "0"]) == 2
        assert "in use by another Slipbook" in capsys.readouterr().err
        assert not (tmp_path / "log" / "lan").exists()
    # What keeps the authority from being made lets the folder go again.
    (tmp_path / "log" / "lan").write_text("mine")
    assert main(["serve", "--lan", "--folder", str(tmp_path / "log"), "--port", "0", "--welcome-port", "0"]) == 2
    FolderLog(tmp_path / "log").close()
