"""A log knows who it is: the same after a restart, another generation after a restore, nobody else's number."""

import json
from pathlib import Path

import pytest

from server.log import LogFault
from server.log.backups.backup import back_up, restore
from server.log.files import FolderLog
from tests.server.sample_logs import fill, stored

from .processes import running_server, serve_folder

pytestmark = pytest.mark.about_files("where a folder keeps which log it is; `test_stores.py` asks both stores")


def test_health_says_which_log_it_is_and_the_same_after_a_restart(tmp_path: Path) -> None:
    fill(tmp_path / "Moorfield", 3)
    answers = []
    for _ in range(2):
        with serve_folder(tmp_path / "Moorfield") as server:
            answers.append(server.ask("GET", "/api/health"))
    assert answers[0] == answers[1]
    assert (answers[0]["last"], answers[0]["log_name"], answers[0]["demo"]) == (3, "Moorfield", False)
    assert answers[0]["log_id"] != answers[0]["generation"]


def test_each_demonstration_is_a_log_of_its_own(tmp_path: Path) -> None:
    answers = []
    for _ in range(2):
        with running_server("demo") as server:
            answers.append(server.ask("GET", "/api/health"))
    assert [health["demo"] for health in answers] == [True, True]
    assert answers[0]["log_id"] != answers[1]["log_id"]


def test_a_restore_keeps_the_identity_and_begins_a_generation(tmp_path: Path) -> None:
    fill(tmp_path / "log", 3)
    with FolderLog(tmp_path / "log") as log:
        before = log.identity
    back_up(tmp_path / "log", tmp_path / "log.zip")
    restored = []
    for name in ("first", "second"):
        restore(tmp_path / "log.zip", tmp_path / name)
        with FolderLog(tmp_path / name) as log:
            restored.append(log.identity)
    assert {(identity.log_id, identity.key, identity.name) for identity in (before, *restored)} == {
        (before.log_id, before.key, "log")
    }
    assert len({identity.generation for identity in (before, *restored)}) == 3


def test_a_folder_or_a_backup_without_an_identity_gets_one(tmp_path: Path) -> None:
    fill(tmp_path / "log", 3)
    for path in (tmp_path / "log").rglob("identity.json"):
        path.unlink()
    back_up(tmp_path / "log", tmp_path / "log.zip")
    restore(tmp_path / "log.zip", tmp_path / "restored")
    with FolderLog(tmp_path / "log") as log, FolderLog(tmp_path / "restored") as other:
        assert log.identity.log_id != other.identity.log_id
        assert (log.last, other.last) == (3, 3)


@pytest.mark.parametrize("damage", [b"", b"{", b'{"slipbook_log": 1}', None])
def test_a_damaged_identity_is_put_back_from_its_copy(tmp_path: Path, damage: bytes | None) -> None:
    fill(tmp_path / "log", 1)
    with FolderLog(tmp_path / "log") as log:
        before, file = log.identity, log.folder.identity
    if damage is None:
        file.unlink()
    else:
        file.write_bytes(damage)
    with FolderLog(tmp_path / "log") as log:
        assert log.identity == before
    assert json.loads(file.read_text("utf-8"))["log_id"] == before.log_id


def test_a_log_whose_identity_is_damaged_with_its_copy_says_so(tmp_path: Path) -> None:
    fill(tmp_path / "log", 1)
    for path in (tmp_path / "log").rglob("identity.json"):
        path.write_bytes(b"{")
    with pytest.raises(LogFault, match="put the file back"):
        FolderLog(tmp_path / "log")


def test_a_generation_begins_once_when_entries_are_found_missing(tmp_path: Path) -> None:
    fill(tmp_path / "log", 7)
    with FolderLog(tmp_path / "log") as log:
        before = log.identity.generation
        [unit, _] = log.units()
    contents = {path: path.read_bytes() for path in (tmp_path / "log").rglob(f"{unit}.json")}
    for path in contents:
        path.unlink()
    with FolderLog(tmp_path / "log") as log:
        after = log.identity.generation
        assert log.index.gaps()
        log.add([stored(unit="")])
    assert after != before
    with FolderLog(tmp_path / "log") as log:
        assert log.identity.generation == after


def test_a_generation_begins_at_once_when_damage_while_running_loses_entries(tmp_path: Path) -> None:
    fill(tmp_path / "log", 7)
    with FolderLog(tmp_path / "log") as log:
        before = log.identity.generation
        [unit, _] = log.units()
        for path in (tmp_path / "log").rglob(f"{unit}.json"):
            path.write_bytes(path.read_bytes().replace(b"Oil", b"Soil", 1))
        log.of_unit(unit)
        assert any("The log lacks 1 entry" in problem for problem in log.problems)
        assert log.identity.generation != before
