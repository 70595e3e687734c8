"""A backup is taken back whole or not at all, and what is wrong with it is told."""

import hashlib
import json
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from server.log import LogFault
from server.log.backups import backup
from server.log.backups.backup import MANIFEST, back_up, restore
from server.log.files import FolderLog, FolderPhotos
from server.log.files.survey import read_units, survey
from server.log.gaps import count_entries, describe_gaps
from server.log.photos import JPEG

from .sample_logs import OTHER_UNIT, UNIT_ID, stored

pytestmark = pytest.mark.about_files("a backup is read and restored in a folder, whatever the log is in")

PICTURE = JPEG + b"a worn plate"
SHA = hashlib.sha256(PICTURE).hexdigest()
Files = dict[str, bytes]


@pytest.fixture
def backup_file(folder: Path, tmp_path: Path) -> Path:
    """A backup of two units, the shop and a photo."""
    with FolderLog(folder) as log:
        log.add([stored(), stored(unit=OTHER_UNIT), stored("kit"), stored()])
    FolderPhotos(folder).add(SHA, 0, PICTURE, len(PICTURE))
    back_up(folder, tmp_path / "good.zip")
    return tmp_path / "good.zip"


def changed(backup_file: Path, change: Callable[[Files], Any]) -> Path:
    """A backup with other files in it."""
    with zipfile.ZipFile(backup_file) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    changed_file = backup_file.with_name("changed.zip")
    with zipfile.ZipFile(changed_file, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return changed_file


def manifest(**changes: Any) -> Callable[[Files], Any]:
    """A change of what a backup says of itself."""
    return lambda files: files.update({MANIFEST: json.dumps({**json.loads(files[MANIFEST]), **changes}).encode()})


def test_a_backup_says_what_it_holds_and_comes_back_alike(backup_file: Path, folder: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(backup_file) as archive:
        manifest_content = json.loads(archive.read(MANIFEST))
        names = set(archive.namelist())
    age = datetime.now(UTC) - datetime.fromisoformat(manifest_content.pop("made"))
    assert 0 <= age.total_seconds() < 600
    assert manifest_content == {"slipbook_backup": 1, "last": 4, "entries": 4}
    files = {f"units/{UNIT_ID}.json", f"units/{OTHER_UNIT}.json", "shop.json", f"photos/{SHA}.jpg"}
    assert names == {MANIFEST, "identity.json", *files}
    # An empty folder that is there already will do.
    (tmp_path / "there").mkdir()
    contents = restore(backup_file, tmp_path / "there")
    assert (contents.entries, contents.last, contents.faults) == (4, 4, [])
    for name in files:
        assert (tmp_path / "there" / name).read_bytes() == (folder / name).read_bytes()
    with FolderLog(folder) as original, FolderLog(tmp_path / "there") as restored:
        assert original.after(0, 9) == restored.after(0, 9)


def test_a_backup_never_takes_another_files_place(backup_file: Path, folder: Path) -> None:
    before = backup_file.read_bytes()
    with pytest.raises(LogFault) as fault:
        back_up(folder, backup_file)
    assert fault.value.reason == f"{backup_file} exists already: name another file for the backup."
    assert backup_file.read_bytes() == before


def test_a_backup_into_a_folder_that_is_not_there_says_so_and_leaves_nothing(folder: Path, tmp_path: Path) -> None:
    FolderLog(folder).close()
    with pytest.raises(LogFault, match=r"Cannot write .*away.*copy\.zip: its folder is not there"):
        back_up(folder, tmp_path / "away" / "copy.zip")
    assert [path.name for path in tmp_path.iterdir()] == ["data"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (manifest(entries=5), "holds 4 entries and should hold 5: use another backup."),
        (manifest(slipbook_backup=2), "This backup comes from a newer Slipbook: update this one, then restore."),
        (manifest(note="x" * 10_000), "is not a backup of Slipbook, or it is damaged: use another."),
        (lambda files: files.pop(MANIFEST), "is not a backup of Slipbook"),
        (lambda files: files.update({MANIFEST: b"{"}), "is not a backup of Slipbook"),
        (lambda files: files.update({MANIFEST: b"[]"}), "is not a backup of Slipbook"),
        (lambda files: files.pop("shop.json"), "holds 3 entries and should hold 4"),
        (lambda files: files.update({"units/notes.json": files["shop.json"]}), "is not a backup of Slipbook"),
        (lambda files: files.update({"../shop.json": files["shop.json"]}), "is not a backup of Slipbook"),
        (lambda files: files.update({f"{UNIT_ID}.json": files["shop.json"]}), "is not a backup of Slipbook"),
        (lambda files: files.update({"shop.json": files[f"units/{UNIT_ID}.json"]}), "is not a backup of Slipbook"),
        (lambda files: files.update({"shop.json": files["shop.json"][:-9]}), "is not a backup of Slipbook"),
        (lambda files: files.update({f"photos/{SHA}.jpg": PICTURE + b"."}), "is not a backup of Slipbook"),
        (lambda files: files.update({f"photos/{SHA}.png": PICTURE}), "is not a backup of Slipbook"),
    ],
)
def test_what_is_not_whole_leaves_nothing_behind(
    backup_file: Path, tmp_path: Path, change: Callable[[Files], Any], words: str
) -> None:
    changed_file = changed(backup_file, change)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(LogFault) as fault:
        restore(changed_file, tmp_path / "there")
    assert words in fault.value.reason
    assert sorted(tmp_path.iterdir()) == before


def test_a_file_that_unpacks_to_more_than_a_log_has_is_refused(
    backup_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with zipfile.ZipFile(backup_file) as archive:
        largest = max(archive.getinfo(f"units/{unit}.json").file_size for unit in (UNIT_ID, OTHER_UNIT))
    monkeypatch.setattr(backup, "LARGEST_FILE", largest - 1)
    with pytest.raises(LogFault, match="is not a backup of Slipbook, or it is damaged"):
        restore(backup_file, tmp_path / "there")
    monkeypatch.setattr(backup, "LARGEST_FILE", largest)
    assert restore(backup_file, tmp_path / "there").entries == 4


def test_where_something_is_nothing_is_restored(backup_file: Path, folder: Path, tmp_path: Path) -> None:
    for place in (folder, backup_file):
        before = sorted(tmp_path.rglob("*"))
        with pytest.raises(LogFault) as fault:
            restore(backup_file, place)
        assert fault.value.reason == f"{place} is not empty: name a new or empty folder to restore to."
        assert sorted(tmp_path.rglob("*")) == before
    missing = tmp_path / "none.zip"
    with pytest.raises(LogFault) as fault:
        restore(missing, tmp_path / "there")
    assert fault.value.reason == f"{missing} is not there: check the name."


@pytest.mark.parametrize(
    ("gaps", "words"),
    [
        ([(2, 2)], "1 entry (number 2)"),
        ([(2, 4)], "3 entries (number 2 to 4)"),
        ([(1, 1), (3, 5), (7, 7), (9, 9), (11, 12)], "8 entries (number 1, 3 to 5, 7, 9, 11 to 12)"),
        ([(n, n) for n in range(1, 12, 2)], "6 entries (number 1, 3, 5, 7, 9 and more)"),
    ],
)
def test_numbers_that_no_entry_has_are_told(gaps: list[tuple[int, int]], words: str) -> None:
    assert describe_gaps(gaps) == (
        f"The log lacks {words}: open Slipbook on each phone, which brings back what it has; "
        "if a file was taken out of units, put it back."
    )
    assert count_entries(0) == "0 entries"


def test_a_survey_reads_on_past_what_is_written_meanwhile(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with FolderLog(folder) as log:
        log.add([stored(), stored(unit=OTHER_UNIT)])

        def read_then_write(*arguments: Any) -> Any:
            units = read_units(*arguments)
            log.add([stored(unit=OTHER_UNIT), stored("kit")])
            return units

        monkeypatch.setattr("server.log.files.survey.read_units", read_then_write)
        contents = survey(folder)
    assert (contents.last, contents.entries, contents.faults) == (2, 2, [])
    assert {unit: [line.seq for line in lines] for unit, lines in contents.lines.items()} == {
        UNIT_ID: [1],
        OTHER_UNIT: [2],
    }
