"""Only one Slipbook writes to a data folder, whatever happens to the files in it."""

import os
import shutil
import signal
import subprocess
import sys
import time
from contextlib import nullcontext
from pathlib import Path

import pytest
from filelock import FileLock

from server.cli import main
from server.log import STORED, FolderInUse, LogFault
from server.log.backups.backup import back_up, restore
from server.log.files import FolderLog

from .processes import ROOT, serve_folder
from .sample_logs import entry, fill, read_all, stored

pytestmark = pytest.mark.about_files("a folder is one program's at a time")

LOCK = "in-use.lock"


@pytest.mark.skipif(sys.platform == "win32", reason="Windows does not delete a locked file")
def test_a_second_slipbook_does_not_start_after_the_lock_was_deleted(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with serve_folder(folder) as server:
        (folder / LOCK).unlink()
        assert main(["serve", "--folder", str(folder), "--port", "0"]) == 2
        assert "is in use by another Slipbook" in capsys.readouterr().err
        sent = [entry("note") for _ in range(3)]
        assert [answer["answer"] for answer in server.ask("POST", "/api/log", {"entries": sent})["answers"]] == [
            STORED
        ] * 3
        assert any("in-use.lock was deleted" in problem for problem in server.ask("GET", "/api/health")["problems"])
        assert (folder / LOCK).exists(), "an older version finds it locked again"
    with FolderLog(folder) as log:
        assert [entry["id"] for entry in read_all(log)] == [entry["id"] for entry in sent]


def test_nothing_is_acknowledged_once_another_has_the_folder(folder: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        (folder / LOCK).unlink()
        # As a version that knows of the file alone.
        other = FileLock(folder / LOCK)
        other.acquire(timeout=0)
        with pytest.raises(LogFault, match=r"another Slipbook uses .* now: stop both, then start one"):
            log.add([stored()])
        other.release()
        with pytest.raises(LogFault, match="stop both"):
            log.add([stored()])
        assert len(read_all(log)) == 1


def test_nothing_is_acknowledged_into_a_folder_that_was_moved_away(folder: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        folder.rename(folder.with_name("moved"))
        with pytest.raises(LogFault, match="was moved or deleted while Slipbook ran: put it back, then restart"):
            log.add([stored()])
        shutil.copytree(folder.with_name("moved"), folder)
        with pytest.raises(LogFault, match="was moved or deleted"):
            log.add([stored()])
    with FolderLog(folder.with_name("moved")) as log:
        assert len(read_all(log)) == 1


def test_a_folder_that_cannot_be_locked_is_still_held_by_its_file(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # As some network drives answer.
    monkeypatch.setattr("server.log.files.holding.lock_folder", lambda _: None)
    with FolderLog(folder) as log:
        with pytest.raises(FolderInUse):
            FolderLog(folder)
        (folder / LOCK).unlink()
        assert log.add([stored()])[0].answer == STORED
        with pytest.raises(FolderInUse):
            FolderLog(folder)
    FolderLog(folder).close()


def test_a_killed_restore_leaves_nothing_for_good(tmp_path: Path) -> None:
    fill(tmp_path / "data", 30)
    back_up(tmp_path / "data", tmp_path / "all.zip")
    slow = "import sys, time; from server.log.backups import backup; backup.survey = lambda _: time.sleep(60); "
    slow += "from pathlib import Path; backup.restore(Path(sys.argv[1]), Path(sys.argv[2]))"
    order = [sys.executable, "-c", slow, str(tmp_path / "all.zip"), str(tmp_path / "again")]
    killed = subprocess.Popen(order, cwd=ROOT)
    deadline = time.monotonic() + 60
    while not list(tmp_path.glob("again.restoring-*/units/*")) and time.monotonic() < deadline:
        time.sleep(0.05)
    [leftover] = tmp_path.glob("again.restoring-*")
    try:
        # While that one runs, its folder is let be.
        restore(tmp_path / "all.zip", tmp_path / "again")
        assert leftover.exists()
    finally:
        killed.send_signal(signal.SIGKILL if os.name != "nt" else signal.SIGTERM)
        killed.wait()
    shutil.rmtree(tmp_path / "again")
    restore(tmp_path / "all.zip", tmp_path / "again")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["again", "all.zip", "data"]
    assert not (tmp_path / "again" / LOCK).exists()
    with FolderLog(tmp_path / "again") as log:
        assert len(read_all(log)) == 30


@pytest.mark.parametrize("is_held", [True, False])
def test_what_is_left_of_an_earlier_restore_and_cannot_be_cleared_keeps_none_from_coming_back(
    tmp_path: Path, is_held: bool
) -> None:
    fill(tmp_path / "data")
    back_up(tmp_path / "data", tmp_path / "all.zip")
    leftover = tmp_path / "again.restoring-0a1b2c3d"
    if is_held:
        FolderLog(leftover).close()
    else:
        # Nothing can be locked there: the disk refuses, and nobody holds it.
        (leftover / LOCK).mkdir(parents=True)
    with FileLock(leftover / LOCK) if is_held else nullcontext():
        restore(tmp_path / "all.zip", tmp_path / "again")
    assert leftover.exists()
    with FolderLog(tmp_path / "again") as log:
        assert len(read_all(log)) == 6
