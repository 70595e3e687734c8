"""A power cut at every call to the disk: what was never synced may be gone, in whatever way the disk likes.

`Disk` lets every call through and notes what a sync made sure of: a file's content by fsync of the file, a folder's
names by fsync of the folder. After a cut a folder has either the names that were synced or those of the moment, and a
file whose content was not synced is torn.
"""

import errno
import hashlib
import os
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from server.log import LogFault, durable
from server.log.backups.backup import back_up, restore
from server.log.files import FolderLog, FolderPhotos
from server.log.files.survey import survey
from server.log.photos import JPEG

from .sample_logs import OTHER_UNIT, UNIT_ID, stored

pytestmark = pytest.mark.about_files("what a disk keeps of a folder when the power goes")

CALLS = ("write", "ftruncate", "fsync", "link", "replace", "unlink", "mkdir", "rename")


class PowerCut(BaseException):
    """The power is gone: nothing that handles errors gets a say."""


class Disk:
    """The folder `root` as a power cut would leave it.

    Parameters
    ----------
    root : Path
        A folder that is there; what it holds now counts as synced.
    """

    def __init__(self, root: Path, patch: pytest.MonkeyPatch) -> None:
        self.root = root
        # Inode -> content as last synced, and folder's inode -> its names with their inodes as last synced.
        self.contents: dict[int, bytes] = {}
        self.names: dict[int, dict[str, int]] = {}
        # Kept open, so that no inode's number is used for another file.
        self.open_handles: list[int] = []
        self.calls_left = 10**9
        for path in self.paths():
            handle = os.open(path, os.O_RDONLY)
            self.note(handle)
            os.close(handle)
        for name in CALLS:
            patch.setattr(os, name, self.limited_call(name, getattr(os, name)))

    def paths(self) -> list[Path]:
        """The folder and all that is in it now."""
        return [self.root, *self.root.rglob("*")]

    def limited_call(self, name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        """A call that fails for good once the power is gone."""

        def limited(*arguments: Any, **named: Any) -> Any:
            if self.calls_left <= 0:
                raise PowerCut
            self.calls_left -= 1
            answer = call(*arguments, **named)
            if name == "fsync":
                self.note(arguments[0])
            return answer

        return limited

    def note(self, handle: int) -> None:
        """Remember what is synced now."""
        status = os.fstat(handle)
        self.open_handles.append(os.dup(handle))
        if stat.S_ISDIR(status.st_mode):
            self.names[status.st_ino] = {entry.name: entry.inode() for entry in os.scandir(handle)}
        else:
            # By its name, since the handle may be for writing only; a file outside the disk has none here.
            for path in self.paths():
                if path.stat().st_ino == status.st_ino:
                    self.contents[status.st_ino] = path.read_bytes()
                    break

    def survivors(self, to: Path, has_reached_disk: Callable[[str], bool]) -> Path:
        """What is left after a cut, in the new folder `to`.

        `has_reached_disk` says of a folder, by its name, whether its names had reached the disk without being synced.
        """
        paths = {path.stat().st_ino: path for path in self.paths()}
        self._rebuild(self.root.stat().st_ino, self.root.name, to, paths, has_reached_disk)
        return to

    def _rebuild(
        self, folder: int, name: str, to: Path, paths: dict[int, Path], has_reached_disk: Callable[[str], bool]
    ) -> None:
        to.mkdir()
        names = self.names.get(folder, {})
        if has_reached_disk(name) and folder in paths:
            names = {path.name: path.stat().st_ino for path in paths[folder].iterdir()}
        for child, inode in names.items():
            path = paths.get(inode)
            if inode in self.names or (path is not None and path.is_dir()):
                self._rebuild(inode, child, to / child, paths, has_reached_disk)
                continue
            synced = self.contents.get(inode, b"")
            now = path.read_bytes() if path is not None else synced
            (to / child).write_bytes(synced if now == synced else now[: len(now) // 2])

    def close(self) -> None:
        """Let go of the files."""
        for handle in self.open_handles:
            os.close(handle)


@pytest.fixture
def disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Disk]:
    """A disk with nothing on it but an empty folder."""
    (tmp_path / "disk").mkdir()
    disk = Disk(tmp_path / "disk", monkeypatch)
    yield disk
    disk.calls_left = 10**9
    disk.close()


# Which folders' names ran ahead of their sync.
AHEAD: list[Callable[[str], bool]] = [
    lambda name: False,
    lambda name: True,
    lambda name: name == "units",
    lambda name: name != "units",
]
ROUNDS = [[(UNIT_ID, 1)], [(UNIT_ID, 2), (OTHER_UNIT, 1)], [(UNIT_ID, 1), ("", 1)]]


def test_after_a_power_cut_at_any_call_everything_acknowledged_is_there(disk: Disk, tmp_path: Path) -> None:
    acknowledged: list[str] = []
    sent: list[str] = []
    cuts = 0
    for place, groups in enumerate(ROUNDS):
        fresh = [stored(unit=unit) for unit, count in groups for _ in range(count)]
        sent += [entry["id"] for entry in fresh]
        is_done = False
        calls = 0
        while not is_done:
            # The same entries again after each kill, one call further, until they are acknowledged.
            log = FolderLog(disk.root / "data")
            disk.calls_left = calls
            try:
                log.add(fresh)
                is_done = True
                acknowledged += [entry["id"] for entry in fresh]
            except PowerCut:
                pass
            finally:
                disk.calls_left = 10**9
                log.hold.release()
            for number, has_reached_disk in enumerate(AHEAD):
                check_survivors(
                    disk.survivors(tmp_path / f"{place} {calls} {number}", has_reached_disk), acknowledged, sent
                )
            calls += 1
        cuts += calls
    assert cuts > 15, "a write has more calls than that in which it can be cut"


def check_survivors(survivors: Path, acknowledged: list[str], sent: list[str]) -> None:
    """What is left of a disk has every acknowledged entry, none twice, and needs no mending."""
    contents = survey(survivors / "data")
    assert contents.faults == []
    ids = [line.id for lines in contents.lines.values() for line in lines]
    assert len(ids) == len(set(ids))
    assert set(acknowledged) <= set(ids) <= set(sent)


@pytest.mark.parametrize("has_reached_disk", AHEAD)
def test_a_photo_that_was_acknowledged_survives_a_power_cut(
    disk: Disk, tmp_path: Path, has_reached_disk: Callable[[str], bool]
) -> None:
    FolderLog(disk.root / "data").close()
    photos = FolderPhotos(disk.root / "data")
    for number in range(2):
        photo = JPEG + bytes([number]) * 500
        name = hashlib.sha256(photo).hexdigest()
        assert not photos.add(name, 0, photo[:300], len(photo)).whole
        survivors = FolderPhotos(disk.survivors(tmp_path / f"begun {number}", has_reached_disk) / "data")
        assert survivors.read(name) is None
        assert photos.add(name, 300, photo[300:], len(photo)).whole
        survivors = FolderPhotos(disk.survivors(tmp_path / f"whole {number}", has_reached_disk) / "data")
        assert survivors.read(name) == photo
    assert survivors.find_faults() == []
    assert len(survivors.files()) == 2


@pytest.mark.parametrize("has_reached_disk", AHEAD)
def test_a_backup_and_what_was_restored_survive_a_power_cut(
    disk: Disk, tmp_path: Path, has_reached_disk: Callable[[str], bool]
) -> None:
    photo = JPEG + bytes(500)
    name = hashlib.sha256(photo).hexdigest()
    with FolderLog(disk.root / "data") as log:
        log.add([stored(), stored(unit=OTHER_UNIT)])
    FolderPhotos(disk.root / "data").add(name, 0, photo, len(photo))
    back_up(disk.root / "data", disk.root / "all.zip")
    survivors = disk.survivors(tmp_path / "backed up", has_reached_disk)
    assert restore(survivors / "all.zip", tmp_path / "elsewhere").entries == 2
    restore(disk.root / "all.zip", disk.root / "again")
    survivors = disk.survivors(tmp_path / "restored", has_reached_disk)
    assert survey(survivors / "again").entries == 2
    assert survey(survivors / "again").faults == []
    assert FolderPhotos(survivors / "again").read(name) == photo


def test_the_disk_of_these_tests_loses_what_is_not_synced(disk: Disk, tmp_path: Path) -> None:
    kept, torn, renamed = disk.root / "kept", disk.root / "torn", disk.root / "renamed"
    durable.write_over(kept, b"0123456789")
    durable.sync_folder(disk.root)
    kept.rename(renamed)
    torn.write_bytes(b"0123456789")
    without = disk.survivors(tmp_path / "without", lambda name: False)
    assert {path.name: path.read_bytes() for path in without.iterdir()} == {"kept": b"0123456789"}
    has_reached_disk = disk.survivors(tmp_path / "has_reached_disk", lambda name: True)
    assert {path.name: path.read_bytes() for path in has_reached_disk.iterdir()} == {
        "renamed": b"0123456789",
        "torn": b"01234",
    }


def free_descriptor() -> int:
    """The lowest descriptor that is free: the system gives that one to whoever opens next."""
    handle = os.open(os.devnull, os.O_RDONLY)
    os.close(handle)
    return handle


def test_no_write_leaves_a_descriptor_open(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        before = free_descriptor()
        for number in range(4):
            log.add([stored()])
            log.find(stored()["id"])
            # A second name makes the next write take another file.
            os.link(folder / "units" / f"{UNIT_ID}.json", tmp_path / f"link {number}")
            assert free_descriptor() == before
        for name in ("fsync", "write", "replace"):
            with monkeypatch.context() as patch:
                patch.setattr(os, name, refuse)
                with pytest.raises(LogFault):
                    log.add([stored()])
            assert free_descriptor() == before, name


def refuse(*_: Any) -> None:
    """A call to the disk that fails."""
    raise OSError(errno.EIO, "Input/output error")
