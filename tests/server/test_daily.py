"""Backups are made by themselves, one a day, and a log can be made again from every one that is kept."""

import json
import os
import time
import zipfile
from datetime import date, timedelta
from pathlib import Path

import pytest

from server.app import close_app, create_app
from server.cli import main
from server.log import LogFault
from server.log.backups.backup import restore
from server.log.backups.daily import DailyBackups
from server.log.files import FolderLog

from .processes import running_server
from .sample_logs import UNIT_ID, fill, new_id, read_all, stored

pytestmark = pytest.mark.about_files("a backup a day is made of a folder")

FIRST = date(2025, 10, 20)


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


def days_of(backups: DailyBackups) -> list[date]:
    return [date.fromisoformat(path.stem[-10:]) for path in backups.files()]


def test_a_log_can_be_made_again_from_every_backup_that_is_kept(folder: Path, stick: Path, tmp_path: Path) -> None:
    days = [FIRST + timedelta(number) for number in range(400)]
    written: dict[date, list[str]] = {}
    # Each month's last days, and the last two weeks: other days are thinned out alike.
    chosen = [day for day in days if (day + timedelta(2)).day <= 2 or day in days[-14:]]
    with FolderLog(folder) as log:
        backups = DailyBackups(log, stick)
        for day in chosen:
            log.add([stored()])
            written[day] = [entry["id"] for entry in read_all(log)]
            backups.make_due(day)
            assert backups.problem == ""
            log.add([stored(id=new_id())])
        kept_days = days_of(backups)
        assert kept_days[-7:] == days[-7:]
        assert len({(day.year, day.month) for day in kept_days}) == 12
        assert len(kept_days) == 18, "the last seven, and the last of each of eleven months before"
        log_id = log.identity.log_id
    for number, file in enumerate(backups.files()):
        again = tmp_path / f"again{number}"
        restore(file, again)
        with FolderLog(again) as log:
            assert [entry["id"] for entry in read_all(log)] == written[kept_days[number]]
            assert log.identity.log_id == log_id
            log.add([stored(id=new_id())])


def test_a_backup_that_cannot_be_restored_is_not_called_good(
    folder: Path, stick: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        backups = DailyBackups(log, stick)
        backups.make_due(FIRST)
        made_at = backups.last_made_at
        assert made_at
        closing = zipfile.ZipFile.close

        def cut(archive: zipfile.ZipFile) -> None:
            path = Path(str(archive.filename))
            writing = archive.mode == "w" and archive.fp is not None
            closing(archive)
            if writing:
                path.write_bytes(path.read_bytes()[:-30])

        with monkeypatch.context() as patch:
            patch.setattr(zipfile.ZipFile, "close", cut)
            backups.make_due(FIRST + timedelta(1))
            assert "could not be restored: check the stick or the disk" in backups.problem
        assert (backups.last_made_at, days_of(backups)) == (made_at, [FIRST])
        backups.make_due(FIRST + timedelta(1))
        assert (backups.problem, len(days_of(backups))) == ("", 2)


def test_a_backup_that_went_bad_on_the_stick_is_found_at_the_next_start(folder: Path, stick: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        DailyBackups(log, stick).make_due(FIRST)
        [file] = DailyBackups(log, stick).files()
        file.write_bytes(file.read_bytes()[:-30])
        again = DailyBackups(log, stick)
        again.make_due(FIRST)
        assert (again.problem, days_of(again)) == ("", [FIRST])
        assert [path.name for path in stick.glob("*.damaged")] == [file.name + ".damaged"]


def test_the_age_of_the_last_good_backup_is_that_of_the_file(folder: Path, stick: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        DailyBackups(log, stick).make_due(FIRST)
        [file] = stick.glob("*.zip")
        os.utime(file, (time.time() - 3.5 * 86400,) * 2)
        again = DailyBackups(log, stick)
        assert again.as_answer() == {"made": None, "days": None, "problem": ""}
        again.find_last_good()
        assert again.as_answer()["days"] == 3


def test_a_stick_that_is_not_there_is_told_and_not_made(folder: Path, tmp_path: Path) -> None:
    with FolderLog(folder) as log:
        log.add([stored()])
        backups = DailyBackups(log, tmp_path / "none")
        backups.make_due(FIRST)
        assert "is not there: plug it in, or name another" in backups.problem
        assert not (tmp_path / "none").exists()
        (tmp_path / "none").mkdir()
        backups.make_due(FIRST)
        assert (backups.problem, len(backups.files())) == ("", 1)
        for inside in (folder, folder / "units"):
            with pytest.raises(LogFault, match="would be lost with it"):
                DailyBackups(log, inside)


def test_two_logs_share_a_stick_and_other_files_stay(folder: Path, stick: Path, tmp_path: Path) -> None:
    (stick / "slipbook-mine-2020-01-01.zip").write_text("mine")
    fill(tmp_path / "other")
    with FolderLog(folder) as log, FolderLog(tmp_path / "other") as other:
        log.add([stored()])
        for number in range(10):
            for each_log in (log, other):
                DailyBackups(each_log, stick).make_due(FIRST + timedelta(number))
        assert [len(DailyBackups(each_log, stick).files()) for each_log in (log, other)] == [7, 7]
    assert (stick / "slipbook-mine-2020-01-01.zip").read_text() == "mine"


def test_serve_makes_a_backup_and_says_how_old_it_is(folder: Path, stick: Path) -> None:
    fill(folder)
    with running_server("serve", "--folder", str(folder), "--backups", str(stick)) as server:
        deadline = time.monotonic() + 60
        while not (backup := server.ask("GET", "/api/health")["backup"])["made"] and time.monotonic() < deadline:
            time.sleep(0.2)
        assert (backup["days"], backup["problem"]) == (0, "")
    [file] = stick.glob("*.zip")
    with zipfile.ZipFile(file) as archive:
        assert json.loads(archive.read("slipbook.json"))["entries"] == 6


def test_backups_into_the_data_folder_are_refused_at_the_start(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["serve", "--folder", str(folder), "--port", "0", "--backups", str(folder / "units")]) == 2
    assert "would be lost with it: name a folder elsewhere" in capsys.readouterr().err
    FolderLog(folder).close()


def test_who_named_no_folder_is_told_of_no_backup(folder: Path) -> None:
    app = create_app(folder)
    health = app.test_client().get("/api/health").json
    close_app(app)
    assert health is not None
    assert health["backup"] is None
    assert UNIT_ID not in str(health)
