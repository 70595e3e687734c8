"""A backup that is brought back into a log that runs: what it lacks comes, nothing goes, whatever happens meanwhile."""

import json
import threading
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

from server.app import close_app
from server.cli import main
from server.log import Log, LogFault
from server.log.backups import bring_back as bringing
from server.log.backups.backup import back_up_log
from server.log.backups.bring_back import IncomingBackup, OpenedBackup, describe_preview
from server.log.files import FolderLog
from server.log.identity import Identity

from .sample_logs import OTHER_UNIT, UNIT_ID, read_all, stored
from .stores import app_over, entries_kept, open_log, place_of
from .test_backup import PICTURE, SHA, backup_file, changed

__all__ = ["backup_file"]


def lost(folder: Path) -> tuple[Identity, list[dict[str, Any]]]:
    """Which log the folder has that `backup_file` was made of, and its entries; it comes back into either store."""
    with FolderLog(folder) as log:
        return log.identity, read_all(log)


def opened(log: Log, file: Path, tmp_path: Path, name: str = "scratch") -> OpenedBackup:
    (tmp_path / name).mkdir()
    return OpenedBackup(log, file, tmp_path / name)


def finished(backup: OpenedBackup) -> bringing.BringBackProgress:
    for _ in range(100):
        if (done := backup.go_on(0.0, "a backup")).finished:
            return done
    raise AssertionError("it never came to an end")


def test_a_new_pc_with_an_empty_log_becomes_the_log_that_was_lost(
    backup_file: Path, folder: Path, tmp_path: Path
) -> None:
    identity, entries = lost(folder)
    with open_log(tmp_path / "new") as log:
        own = log.identity
        backup = opened(log, backup_file, tmp_path)
        look = backup.look()
        assert (look.new, look.there, look.only_here, look.new_photos, look.adopts, look.refusal) == (
            4,
            0,
            0,
            1,
            True,
            "",
        )
        assert log.identity == own, "looking changes nothing"
        assert finished(backup) == (4, 0, 0, 1, 5, 5)
        assert read_all(log) == entries
        assert (log.identity.log_id, log.identity.key) == (identity.log_id, identity.key)
        # Phones compare what they have, since what was written after the backup is missing here.
        assert log.identity.generation not in (identity.generation, own.generation)
        assert log.returned.total == 4
        [answer] = log.add([stored()])
        assert answer.entry["seq"] > log.identity.skipped[-1][1] - 1 > 4
        assert log.photos.read(SHA) == PICTURE
        assert log.problems == []
        assert log.contents().faults == []


@pytest.mark.about_files("a unit's file is lost")
def test_what_was_written_since_stays_and_what_was_lost_comes(backup_file: Path, folder: Path, tmp_path: Path) -> None:
    (folder / "units" / f"{OTHER_UNIT}.json").unlink()
    (folder / "newest" / f"{OTHER_UNIT}.json").unlink(missing_ok=True)
    (folder / "earlier" / f"{OTHER_UNIT}.json").unlink(missing_ok=True)
    with FolderLog(folder) as log:
        log.add([stored(), stored()])
        before = {entry["id"]: entry for entry in read_all(log)}
        look = (backup := opened(log, backup_file, tmp_path)).look()
        assert (look.new, look.there, look.only_here, look.adopts) == (1, 3, 2, False)
        assert [(row.unit, row.new, row.there, row.only_here) for row in look.units] == [
            (OTHER_UNIT, 1, 0, 0),
            (UNIT_ID, 0, 2, 2),
        ]
        assert "2 entries of Mill came after it or from elsewhere: they stay." in describe_preview(look, "Mill")
        assert finished(backup)[:3] == (1, 3, 0)
        after = {entry["id"]: entry for entry in read_all(log)}
        assert before.items() <= after.items()
        assert len(after) == 6
        # It has its own number again, so that nothing is missing any more.
        assert sorted(entry["seq"] for entry in after.values()) == [1, 2, 3, 4, 5, 6]
        assert log.problems == []
        assert opened(log, backup_file, tmp_path, "again").look().new == 0


def test_another_workshops_backup_is_refused_and_nothing_changes(backup_file: Path, tmp_path: Path) -> None:
    with open_log(tmp_path / "other") as log:
        log.add([stored(unit=OTHER_UNIT)])
        before, identity = read_all(log), log.identity
        backup = opened(log, backup_file, tmp_path)
        assert "This is a backup of another log, “data”, and logs are never mixed." in backup.look().refusal
        with pytest.raises(LogFault, match="slipbook restore FILE --folder NEW"):
            backup.go_on(1.0, "a backup")
        assert (read_all(log), log.identity) == (before, identity)


def test_a_backup_of_an_early_version_is_known_by_what_both_have(
    backup_file: Path, folder: Path, tmp_path: Path
) -> None:
    early = changed(backup_file, lambda files: files.pop("identity.json"))
    with open_log(tmp_path / "same") as log:
        log.add(lost(folder)[1])
        assert opened(log, early, tmp_path).look().refusal == ""
    with open_log(tmp_path / "other") as log:
        log.add([stored(unit=OTHER_UNIT)])
        assert opened(log, early, tmp_path, "second").look().refusal
    with open_log(tmp_path / "new") as log:
        backup = opened(log, early, tmp_path, "third")
        assert not backup.look().adopts
        assert finished(backup)[:3] == (4, 0, 0)


def test_it_may_break_off_anywhere_and_be_done_again(
    backup_file: Path, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bringing, "BATCH", 1)
    _, entries = lost(folder)
    for turn in range(6):
        with open_log(tmp_path / "new") as log:
            # As after a power cut: nothing is known of the last time but what is in the log.
            look = (backup := opened(log, backup_file, tmp_path, f"scratch {turn}")).look()
            assert look.adopts == (turn == 0)
            backup.go_on(0.0, "a backup")
            assert backup.progress.looked_at == 1
            if turn < 5:
                # A step more each time, over what is there already.
                for _ in range(turn):
                    backup.go_on(0.0, "a backup")
    with open_log(tmp_path / "new") as log:
        assert sorted(read_all(log), key=lambda entry: entry["seq"]) == entries
        assert log.problems == []


def test_a_full_disk_is_told_and_the_rest_comes_the_next_time(
    backup_file: Path, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with open_log(tmp_path / "new") as log:
        backup, add = opened(log, backup_file, tmp_path), log.add

        def full(_: Any) -> Any:
            raise LogFault("The disk is full.")

        monkeypatch.setattr(log, "add", full)
        with pytest.raises(LogFault, match="disk is full"):
            backup.go_on(9.0, "a backup")
        monkeypatch.setattr(log, "add", add)
        assert finished(backup)[:3] == (4, 0, 0)


def test_phones_deliver_meanwhile(backup_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bringing, "BATCH", 1)
    with open_log(tmp_path / "new") as log:
        backup = opened(log, backup_file, tmp_path)
        backup.go_on(0.0, "a backup")
        fresh = [stored() for _ in range(40)]
        phone = threading.Thread(target=lambda: [log.add([entry]) for entry in fresh])
        phone.start()
        finished(backup)
        phone.join()
        entries = read_all(log)
        assert {entry["id"] for entry in fresh} < {entry["id"] for entry in entries}
        assert len(entries) == 44
        assert len({entry["seq"] for entry in entries}) == 44
        assert log.contents().faults == []


def test_an_entry_takes_no_others_place(backup_file: Path, folder: Path, tmp_path: Path) -> None:
    identity, [*_, entry] = lost(folder)
    with open_log(tmp_path / "new") as log:
        log.adopt(identity)
        log.add([{**entry, "who": "Somebody else"}])
        assert finished(opened(log, backup_file, tmp_path))[:3] == (3, 0, 1)
        assert log.find(entry["id"])["who"] == "Somebody else"  # type: ignore[index]
        with pytest.raises(LogFault, match="entries of its own"):
            log.adopt(identity)


@pytest.fixture
def client(tmp_path: Path) -> Iterator[FlaskClient]:
    app = app_over(tmp_path / "new")
    yield app.test_client()
    close_app(app)


def send(client: FlaskClient, data: bytes, size: int = 700) -> None:
    at = 0
    while at < len(data):
        answer = client.post(f"/api/backup/pieces?at={at}", data=data[at : at + size])
        assert answer.status_code == 200, answer.text
        at = (answer.json or {})["size"]


def test_a_screen_sends_it_in_pieces_sees_what_it_would_change_and_types_yes(
    client: FlaskClient, backup_file: Path
) -> None:
    assert client.post("/api/backup/look").status_code == 422
    assert client.post("/api/backup/pieces?at=256", data=b"x").status_code == 422
    send(client, b"PK nonsense")
    answer = client.post("/api/backup/look")
    assert answer.status_code == 422
    # No path of the PC, which would tell nobody anything.
    assert (answer.json or {})["detail"] == "This file is not a backup of Slipbook, or it is damaged: use another."
    send(client, backup_file.read_bytes())
    # A piece that arrives twice is not kept twice.
    again = client.post("/api/backup/pieces?at=700", data=backup_file.read_bytes()[700:800])
    assert (again.json or {})["size"] == backup_file.stat().st_size
    look = client.post("/api/backup/look").json or {}
    assert (look["new"], look["may"], look["units"][0]["new"]) == (4, True, 2)
    assert "This log is empty. It becomes data" in " ".join(look["says"])
    accepting = {"accepted": look["accepted"], "yes": "yes"}
    for wrong in ({"yes": "y"}, {"yes": ""}, {"accepted": "0" * 64}):
        assert client.post("/api/backup/bring-back", json={**accepting, **wrong}).status_code == 422
    headers = {"Slipbook-Log": (client.get("/api/health").json or {})["log_id"]}
    answer = client.post("/api/backup/bring-back", json=accepting, headers=headers)
    assert (answer.json or {})["stored"] == 4
    # The log is another now: the page that asked for it goes on, and all others load anew.
    assert client.post("/api/backup/bring-back", json=accepting, headers=headers).status_code == 200
    assert client.get("/api/units", headers=headers).status_code == 409
    assert (client.get("/api/health").json or {})["log"] == 4


def test_the_whole_log_is_taken_home_as_a_file(client: FlaskClient, tmp_path: Path) -> None:
    log: Log = client.application.extensions["slipbook_log"]
    log.add([stored(), stored(unit=OTHER_UNIT)])
    answer = client.get("/api/backup")
    assert answer.content_type == "application/zip"
    assert answer.content_length == len(answer.data)
    assert json.loads(answer.headers["Slipbook-Backup"]) == {"entries": 2, "last": 2, "faults": []}
    assert "slipbook-new-" in answer.headers["Content-Disposition"]
    file = tmp_path / "home.zip"
    file.write_bytes(answer.data)
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
    (tmp_path / "scratch").mkdir()
    assert OpenedBackup(log, file, tmp_path / "scratch").look().there == 2


def test_the_command_shows_it_first_and_does_the_same(
    backup_file: Path, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["bring-back", str(backup_file), *place_of(tmp_path / "new")]
    open_log(tmp_path / "new").close()
    assert main(command) == 0
    printed = capsys.readouterr().out
    assert "4 entries would come; none are here already." in printed
    assert "Nothing was written: add --accept" in printed
    assert entries_kept(tmp_path / "new") == []
    assert main([*command, "--accept"]) == 0
    assert "Entries that came: 4, there already: 0, refused: 0. Photos that came: 1." in capsys.readouterr().out
    assert len(entries_kept(tmp_path / "new")) == 4
    with open_log(tmp_path / "other") as log:
        log.add([stored()])
    assert main(["bring-back", str(backup_file), *place_of(tmp_path / "other"), "--accept"]) == 2
    assert "logs are never mixed" in capsys.readouterr().err


def test_one_backup_is_kept_at_a_time_and_none_when_it_ends(tmp_path: Path, backup_file: Path) -> None:
    with open_log(tmp_path / "new") as log:
        incoming = IncomingBackup(log)
        incoming.add_piece(0, backup_file.read_bytes())
        first = incoming.file.parent
        incoming.look()
        incoming.add_piece(0, b"PK")
        assert not first.exists()
        second = incoming.file.parent
        incoming.forget()
        assert not second.exists()
        with pytest.raises(LogFault, match="choose the file again"):
            incoming.look()


def test_a_backup_made_here_goes_back_and_forth(folder: Path, tmp_path: Path) -> None:
    with open_log(folder) as log:
        log.add([stored() for _ in range(30)])
        back_up_log(log, tmp_path / "one.zip")
        log.add([stored() for _ in range(5)])
        assert finished(opened(log, tmp_path / "one.zip", tmp_path))[:3] == (0, 30, 0)
