"""The commands for many workshops: what they say, what they move, and what nothing is lost by."""

import hashlib
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from server.cli import main
from server.log import Log, LogFault
from server.log.files import FolderLog
from server.log.intake import receive
from server.log.photos import JPEG
from server.log.receipts import make_receipt
from tests.postgres import Postgres

from .database_made import OWNER, SERVER, Prepared
from .sample_logs import OTHER_UNIT, entry, fill, read_all, stored

ROOT = Path(__file__).resolve().parent.parent.parent
PHOTO = JPEG + bytes(range(256)) * 40
SHA = hashlib.sha256(PHOTO).hexdigest()


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that is refused says, in one sentence or two."""
    capsys.readouterr()
    assert main(list(arguments)) == 2
    captured = capsys.readouterr()
    assert len(captured.err.strip().splitlines()) == 1
    return captured.err.strip()


def printed_by(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    """What a command that is done prints."""
    capsys.readouterr()
    code = main(list(arguments))
    captured = capsys.readouterr()
    assert (code, captured.err) == (0, ""), captured
    return captured.out


def texts_of(log: Log) -> dict[int, bytes]:
    """Each entry of a log, byte for byte, by its number."""
    return {line.seq: line.text for lines in log.contents().lines.values() for line in lines}


def test_moving_a_log_into_a_database_and_back_changes_nothing_of_it(
    tmp_path: Path, prepared: Prepared, capsys: pytest.CaptureFixture[str]
) -> None:
    fill(tmp_path / "data", 7)
    with FolderLog(tmp_path / "data") as log:
        receive(log, [entry("torque_check"), entry("unit", OTHER_UNIT), entry("kit")])
        odd = stored(body={"text": "Dog \u0000 é 🛞", "figures": [1e2, -0.0]}, shown={"verdict": None})
        log.add([odd])
        log.photos.put_whole(SHA, PHOTO)
    with FolderLog(tmp_path / "data") as log:
        before, identity, entries = texts_of(log), log.identity, read_all(log)
    place = ("--database", prepared.owner_url, "--workshop", "Mill Lane")
    printed = printed_by(capsys, "move", "--folder", str(tmp_path / "data"), *place)
    assert "The workshop Mill Lane has 11 entries and 1 photos" in printed
    assert "no longer served" in printed
    log_there = prepared.log("Mill Lane")
    assert texts_of(log_there) == before
    assert read_all(log_there) == entries
    assert log_there.identity._replace(name="") == identity._replace(name="")
    receipts = [make_receipt(identity, row) for row in entries]
    assert [make_receipt(log_there.identity, row) for row in read_all(log_there)] == receipts
    assert log_there.photos.read(SHA) == PHOTO
    # The folder is a copy that nobody serves by mistake; the same again is no harm.
    assert "was moved to the workshop Mill Lane" in refused(capsys, "serve", "--folder", str(tmp_path / "data"))
    log_there.add([stored()])
    printed_by(capsys, "move", "--to-folder", str(tmp_path / "back"), *place)
    with FolderLog(tmp_path / "back") as log:
        assert {seq: text for seq, text in texts_of(log).items() if seq in before} == before
        assert (log.last, log.photos.read(SHA)) == (12, PHOTO)
        assert log.identity == identity._replace(name="Mill Lane")
    # Nothing is added to what was moved away.
    with pytest.raises(Exception, match="was moved to the folder back"):
        prepared.log("Mill Lane").add([stored()])


def test_a_move_that_broke_off_goes_on_where_it_was(
    tmp_path: Path, prepared: Prepared, capsys: pytest.CaptureFixture[str]
) -> None:
    fill(tmp_path / "data", 6)
    with FolderLog(tmp_path / "data") as log:
        identity, entries = log.identity, read_all(log)
    half = prepared.log("Mill Lane")
    half.adopt(identity)
    half.add(entries[:2])
    place = ("--database", prepared.owner_url, "--workshop", "Mill Lane")
    printed_by(capsys, "move", "--folder", str(tmp_path / "data"), *place)
    assert read_all(prepared.log("Mill Lane")) == entries
    # Another log does not go into it.
    fill(tmp_path / "other", 1)
    assert "already" in refused(capsys, "move", "--folder", str(tmp_path / "other"), *place)
    with FolderLog(tmp_path / "other") as log:
        assert log.last == 1


def test_workshops_are_made_listed_and_removed_after_a_backup(
    tmp_path: Path, prepared: Prepared, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    at = ("--database", prepared.owner_url)
    code = re.search(r"by (\S+-\S{4}-\S{4}) within", printed_by(capsys, "workshop", "add", "Mill Lane", *at))
    assert code is not None
    again = printed_by(capsys, "workshop", "code", "Mill Lane", *at)
    assert code[1] not in again
    printed_by(capsys, "workshop", "add", "Harbour", *at)
    assert "already" in refused(capsys, "workshop", "add", "Harbour", *at)
    assert "Fill this in." in refused(capsys, "workshop", "add", " ", *at)
    log = prepared.log("Harbour")
    log.add([stored(), stored(unit=OTHER_UNIT)])
    log.photos.put_whole(SHA, PHOTO)
    listed = printed_by(capsys, "workshop", "list", *at)
    assert listed.startswith("Harbour: 2 entries of 2 units, made ")
    assert "Mill Lane: 0 entries of 0 units" in listed
    file = tmp_path / "harbour.zip"
    typed = iter(["Mill Lane", "Harbour", "no", "Harbour", "yes"])

    def type_next(question: str) -> str:
        if "yes" in question:
            # What comes after the backup is not taken in, and stays on the phone.
            with pytest.raises(LogFault, match="was moved to the backup"):
                log.add([stored()])
        return next(typed)

    monkeypatch.setattr("builtins.input", type_next)
    remove = ("workshop", "remove", "Harbour", "--backup", str(file), *at)
    for remains in (False, True):
        assert main(list(remove)) == 2
        assert file.exists() == remains
        assert log.last == 2
    file.unlink()
    assert [answer.answer for answer in log.add([stored()])] == ["stored"]
    assert main(list(remove)) == 0
    assert "Workshops: 1." in printed_by(capsys, "workshop", "list", *at)
    printed_by(capsys, "restore", str(file), *at, "--workshop", "Harbour again")
    back = prepared.log("Harbour again")
    assert (back.last, back.photos.read(SHA), back.identity.log_id) == (3, PHOTO, log.identity.log_id)
    assert back.identity.generation != log.identity.generation
    # What the first had is gone from every table.
    with prepared.owner.nowhere() as connection:
        count = "select (select count(*) from entry) + (select count(*) from photo)"
        assert connection.execute(count.encode()).fetchone() == (4,)


def test_commands_do_for_a_workshop_what_they_do_for_a_folder(
    tmp_path: Path, prepared: Prepared, capsys: pytest.CaptureFixture[str]
) -> None:
    fill(tmp_path / "data", 6)
    with FolderLog(tmp_path / "data") as log:
        receive(log, [entry("unit"), entry("torque_check"), entry("kit")])
    folder = ("--folder", str(tmp_path / "data"))
    in_database = ("--database", prepared.owner_url, "--workshop", "Mill Lane")
    printed_by(capsys, "backup", str(tmp_path / "log.zip"), *folder)
    printed_by(capsys, "move", *folder, *in_database)
    for command in (["check"], ["export", "--format", "csv"]):
        assert printed_by(capsys, *command, *in_database) == printed_by(capsys, *command, *folder)
    exported = [json.loads(printed_by(capsys, "export", *place))["units"] for place in (in_database, folder)]
    assert exported[0] == exported[1]
    for name, place in (("calendar.ics", in_database), ("other.ics", folder)):
        printed_by(capsys, "calendar", "--to", str(tmp_path / name), *place)
    printed_by(capsys, "backup", str(tmp_path / "there.zip"), *in_database)
    preview = printed_by(capsys, "bring-back", str(tmp_path / "log.zip"), *in_database)
    assert "No entry would come" in preview
    outbox = tmp_path / "outbox.json"
    outbox.write_text(json.dumps({"slipbook_outbox": 1, "entries": [entry("note"), entry("note")]}))
    assert "Entries stored: 2," in printed_by(capsys, "take-in", str(outbox), *in_database)
    assert "there already: 2" in printed_by(capsys, "take-in", str(outbox), *in_database)
    assert "11 entries" in printed_by(capsys, "check", *in_database)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["check"], "Name the log: a folder with --folder, or a database"),
        (["check", "--folder", "x", "--database", "postgresql:///x"], "Name the log"),
        (["check", "--database", "postgresql:///x"], "Name the log"),
        (["serve"], "Name what to serve"),
        (["serve", "--folder", "x", "--workers", "2"], "served by one process"),
        (["serve", "--folder", "x", "--database", "postgresql:///x"], "Name one thing to serve"),
        (["serve", "--database", "postgresql:///x", "--lan"], "--behind-proxy"),
        (["serve", "--database", "postgresql:///x", "--backups", "x"], "`slipbook backup`"),
        (["serve", "--database", "postgresql:///x", "--address", "0.0.0.0"], "only this machine"),
        (["serve", "--database", "postgresql:///x?nonsense=1", "--port", "0"], "not the address of a database"),
        (["move", "--database", "postgresql:///x", "--workshop", "A"], "Name one folder"),
        (["workshop", "list", "--database", "postgresql:///x?host=/nowhere"], "cannot be reached"),
        (["workshop", "list", "--database", "one two"], "not the address of a database"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence(
    arguments: list[str],
    words: str,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    if "serve" in arguments and "nonsense" in str(arguments):
        # By processes of their own, whose sentence comes through.
        monkeypatch.chdir(ROOT)
    assert words in refused(capsys, *arguments)


def test_a_database_that_is_not_as_it_should_be_is_refused_in_a_sentence(
    postgres: Postgres, pg: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    listing = ("workshop", "list", "--database")
    assert "run `slipbook prepare`" in refused(capsys, *listing, pg)
    prepare = ("prepare", "--database", pg, "--server-role")
    assert "no role nobody_here" in refused(capsys, *prepare, "nobody_here")
    assert "cannot own the tables and serve" in refused(capsys, *prepare, "postgres")
    with postgres.connect() as connection:
        for role in (OWNER, SERVER):
            if connection.execute("select from pg_roles where rolname = %s", [role]).fetchone() is None:
                connection.execute(f"create role {role} login".encode())
    assert "0001.log" in printed_by(capsys, *prepare, SERVER)
    assert "none, since all were made before" in printed_by(capsys, *prepare, SERVER)
    assert "Workshops: 0." in printed_by(capsys, *listing, pg)
    as_server = pg.replace("//postgres@", f"//{SERVER}@")
    assert "only serves" in refused(capsys, *listing, as_server)
    monkeypatch.chdir(ROOT)
    assert "may not: make a role" in refused(capsys, "serve", "--port", "0", "--database", pg)
    # A role that nobody let in, and tables of another version.
    assert "refuses Slipbook's role" in refused(capsys, *listing, pg.replace("//postgres@", f"//{OWNER}@"))
    with monkeypatch.context() as patched:
        patched.setattr("server.log.postgres.schema.shipped", lambda: ["0001.log", "0002.door", "9999.later"])
        assert "run `slipbook prepare`, after a backup" in refused(capsys, *listing, pg)
        patched.setattr("server.log.postgres.schema.shipped", lambda: ["0001.log"])
        assert "update Slipbook" in refused(capsys, *listing, pg)
        patched.setattr("server.log.postgres.database.OLDEST", 99)
        assert "which is too old" in refused(capsys, *listing, pg)


WITHOUT = "import sys; sys.modules['psycopg'] = None; from server.cli import main; sys.exit(main(sys.argv[1:]))"


def without_library(*arguments: str) -> tuple[int, str]:
    """What a command says where the library is not installed, with its exit code."""
    ended = subprocess.run([sys.executable, "-c", WITHOUT, *arguments], capture_output=True, text=True, cwd=ROOT)
    return ended.returncode, ended.stderr.strip()


def test_without_the_library_a_database_is_refused_in_a_sentence_and_a_folder_needs_none(tmp_path: Path) -> None:
    for arguments in (["workshop", "list"], ["serve"], ["prepare", "--server-role", "x"], ["check", "--workshop", "A"]):
        code, printed = without_library(*arguments, "--database", "postgresql:///x")
        assert code == 2
        assert printed.endswith("run `pip install 'slipbook[postgres]'`, then this again.")
    fill(tmp_path / "data", 1)
    assert without_library("check", "--folder", str(tmp_path / "data")) == (0, "")
