"""The command line, as people run it."""

import contextlib
import csv
import io
import json
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

import pytest

from server import demo
from server.cli import main
from server.log.files import FolderLog
from server.log.files.survey import survey

from .processes import COMMAND, ROOT, PythonProcess, running_server, serve_folder
from .sample_logs import UNIT_ID, entry, read_all, stored
from .stores import back_up_at, open_log, place_of, restore_at

SERVED = pytest.mark.about_files(
    "`slipbook serve` and `slipbook demo` are told a folder; `test_hosting.py` serves a database"
)
LOOKED_INTO = pytest.mark.about_files("a folder is looked into, and a backup is read in one")


class Ran(NamedTuple):
    """How a command ended, and what it wrote to standard error."""

    returncode: int
    stderr: str


def run(*arguments: str) -> Ran:
    """Run a command that ends by itself."""
    command = PythonProcess(*COMMAND, *arguments)
    return Ran(command.process.wait(timeout=60), command.errors())


@pytest.fixture
def season(folder: Path) -> Path:
    with open_log(folder) as log:
        demo.load(log)
    return folder


@SERVED
def test_the_demonstration_starts_with_seasons_that_both_sides_judge_alike() -> None:
    with running_server("demo", warm=False) as server:
        units = server.ask("GET", "/api/units")["units"]
        assert len(units) >= 3
        assert all(unit["name"] and unit["verdict"] for unit in units)
        entries = server.ask("GET", "/api/log?most=500")["entries"]
        assert all(entry["agrees"] for entry in entries)
        assert server.stop(signal.SIGINT) == 0


@SERVED
def test_a_stopped_server_answers_what_is_under_way_and_lets_the_folder_go(folder: Path) -> None:
    with serve_folder(folder) as server:
        server.ask("POST", "/api/log", {"entries": [entry("note")]})
        assert server.stop(signal.SIGTERM) == 0
    with FolderLog(folder) as log:
        assert log.last == 1


@contextlib.contextmanager
def asked_in_vain(program: str, folder: Path, path: str) -> Iterator[subprocess.Popen[str]]:
    """A program that serves a folder and says its address, with a request under way."""
    with subprocess.Popen(
        [sys.executable, "-c", program, str(folder)], cwd=ROOT, stdout=subprocess.PIPE, text=True
    ) as process:
        try:
            assert process.stdout is not None
            port = urlsplit(process.stdout.readline().strip()).port
            with socket.create_connection(("127.0.0.1", port or 0)) as connection:
                connection.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n".encode())
                yield process
        finally:
            process.kill()


INTERRUPTED_WHILE_HANDING_ON = """
import os, signal, sys, time
from pathlib import Path
from server import serving
from server.app import create_app

class Interrupted(serving.Server):
    def process_conn(self, conn):
        lock = self.requests._queue.mutex
        lock.acquire()
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.2)
        lock.release()
        super().process_conn(conn)

serving.Server = Interrupted
serving.serve(create_app(Path(sys.argv[1])), 0, lambda address: print(address, flush=True))
"""


@SERVED
def test_a_signal_while_a_request_is_handed_on_breaks_nothing_off(folder: Path) -> None:
    with asked_in_vain(INTERRUPTED_WHILE_HANDING_ON, folder, "/api/health") as process:
        assert process.wait(timeout=20) == 0


CALCULATES_WITHOUT_END = """
import sys
from pathlib import Path
from server import serving
from server.app import create_app

app = create_app(Path(sys.argv[1]))

@app.route("/long")
def calculate():
    print("begun", flush=True)
    while True:
        pass

serving.PATIENCE = 0.2
serving.serve(app, 0, lambda address: print(address, flush=True))
"""


@SERVED
def test_a_calculation_without_end_does_not_hold_up_a_stop(folder: Path) -> None:
    with asked_in_vain(CALCULATES_WITHOUT_END, folder, "/long") as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "begun\n"
        process.send_signal(signal.SIGTERM)
        assert process.wait(timeout=20) == 0


@SERVED
def test_a_taken_port_is_told_in_a_sentence(folder: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        answer = run("serve", "--folder", str(folder), "--port", str(port))
    assert answer.returncode == 2
    assert answer.stderr.startswith(f"Port {port} is taken")
    assert "Traceback" not in answer.stderr


@SERVED
def test_a_folder_in_use_is_told_in_a_sentence(folder: Path) -> None:
    with FolderLog(folder):
        answer = run("serve", "--folder", str(folder), "--port", "0")
    assert answer.returncode == 2
    assert "in use by another Slipbook" in answer.stderr


@SERVED
def test_what_cannot_be_taken_in_beside_a_running_slipbook_has_another_way_in(folder: Path, tmp_path: Path) -> None:
    file = tmp_path / "outbox.json"
    file.write_text('{"slipbook_outbox": 1, "entries": []}', encoding="utf-8")
    with FolderLog(folder):
        answer = run("take-in", "--folder", str(folder), str(file))
    assert answer.returncode == 2
    assert "import the file on its Outbox screen" in answer.stderr


@SERVED
def test_a_folder_that_cannot_be_made_is_told_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    answer = run("serve", "--folder", str(tmp_path / "file" / "data"), "--port", "0")
    assert answer.returncode == 2
    assert answer.stderr.startswith("Cannot use ")
    assert "Traceback" not in answer.stderr


@SERVED
def test_the_demonstration_never_overwrites_a_folder(season: Path) -> None:
    answer = run("demo", "--folder", str(season), "--port", "0")
    assert answer.returncode == 2
    assert "is not empty" in answer.stderr


@LOOKED_INTO
def test_check_tells_a_whole_folder_from_a_damaged_one(season: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--folder", str(season)]) == 0
    assert "No damage was found." in capsys.readouterr().out
    path = next((season / "units").glob("*.json"))
    path.write_bytes(path.read_bytes()[:-100])
    assert main(["check", "--folder", str(season)]) == 1
    printed = capsys.readouterr().out
    assert f"units/{path.name} is cut short or is not JSON." in printed
    assert "can be brought back" in printed
    FolderLog(season).close()
    assert main(["check", "--folder", str(season)]) == 1
    assert "is kept as damaged/" in capsys.readouterr().out
    for damaged_file in (season / "damaged").iterdir():
        damaged_file.unlink()
    assert main(["check", "--folder", str(season)]) == 0


@LOOKED_INTO
def test_check_says_when_a_folder_is_none_of_ours(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--folder", str(tmp_path)]) == 2
    assert "is not a data folder of Slipbook" in capsys.readouterr().err


def test_a_backup_made_while_running_restores_the_same_log(season: Path, tmp_path: Path) -> None:
    zipped, back = tmp_path / "log.zip", tmp_path / "back"
    with open_log(season) as log:
        before = read_all(log)
        back_up_at(season, zipped)
    assert main(["backup", str(zipped), *place_of(season)]) == 2, "an older backup is not overwritten"
    restore_at(zipped, back)
    with open_log(back) as log:
        assert read_all(log) == before
        assert log.problems == []
    assert main(["restore", str(zipped), *place_of(season)]) == 2, "what has a log is not overwritten"


@pytest.mark.parametrize("part", [0, 0.3, 0.9, 0.999])
def test_a_backup_cut_short_restores_nothing(season: Path, tmp_path: Path, part: float) -> None:
    zipped, back = tmp_path / "log.zip", tmp_path / "back"
    back_up_at(season, zipped)
    data = zipped.read_bytes()
    zipped.write_bytes(data[: int(len(data) * part)])
    assert main(["restore", str(zipped), *place_of(back, is_made=False)]) == 2
    assert main(["check", *place_of(back, is_made=False)]) == 2, "there is no such log"
    assert [path.name for path in tmp_path.iterdir() if path != season] == ["log.zip"]


@LOOKED_INTO
def test_an_altered_backup_restores_all_or_nothing(season: Path, tmp_path: Path) -> None:
    zipped = tmp_path / "log.zip"
    assert main(["backup", str(zipped), "--folder", str(season)]) == 0
    whole = survey(season)
    data = zipped.read_bytes()
    refused = 0
    for place in range(5, len(data), len(data) // 40):
        zipped.write_bytes(data[:place] + bytes([data[place] ^ 4]) + data[place + 1 :])
        back = tmp_path / f"back {place}"
        if main(["restore", str(zipped), "--folder", str(back)]) == 2:
            refused += 1
            assert not back.exists()
        else:
            contents = survey(back)
            assert [contents.lines[unit] for unit in whole.lines] == list(whole.lines.values())
    assert refused > 20


def test_a_saved_outbox_is_taken_in_once(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    outbox = tmp_path / "outbox.json"
    entries = [entry("unit"), entry("torque_check"), {**entry("note"), "who": ""}]
    outbox.write_text(json.dumps({"slipbook_outbox": 1, "entries": entries}))
    assert main(["take-in", str(outbox), *place_of(folder)]) == 1
    printed = capsys.readouterr().out
    assert "Entries stored: 2, there already: 0, refused: 1." in printed
    assert f"Entry 3 ({entries[2]['id']}), who: Fill this in." in printed
    assert main(["take-in", str(outbox), *place_of(folder)]) == 1
    assert "Entries stored: 0, there already: 2," in capsys.readouterr().out
    with open_log(folder) as log:
        assert log.last == 2


@pytest.mark.parametrize("content", ["", "{}", "[]", '{"slipbook_outbox": 1}', '{"slipbook_outbox": 1, "entries": 5}'])
def test_a_file_that_is_no_outbox_is_told_so(
    folder: Path, tmp_path: Path, content: str, capsys: pytest.CaptureFixture[str]
) -> None:
    outbox = tmp_path / "outbox.json"
    outbox.write_text(content)
    assert main(["take-in", str(outbox), *place_of(folder)]) == 2
    assert str(outbox) in capsys.readouterr().err


def test_export_gives_everything_as_json(season: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", *place_of(season)]) == 0
    export = json.loads(capsys.readouterr().out)
    with open_log(season) as log:
        entries = read_all(log)
    exported = [entry for unit in export["units"] for entry in unit["entries"]]
    assert sorted(exported, key=lambda row: int(row["seq"])) == entries


def test_export_of_one_unit_is_a_table_with_a_row_for_each_plate(season: Path, tmp_path: Path) -> None:
    table = tmp_path / "log.csv"
    with open_log(season) as log:
        unit = log.units()[0]
        entries = log.of_unit(unit)
    assert main(["export", *place_of(season), "--unit", unit, "--format", "csv", "--to", str(table)]) == 0
    rows = list(csv.DictReader(io.StringIO(table.read_bytes().decode("utf-8-sig"))))
    assert {row["unit"] for row in rows} == {unit}
    plates = [plate for entry in entries if entry["kind"] == "plate_check" for plate in entry["shown"]["plates"]]
    measured = [float(row["lowest (mm)"]) for row in rows if row["item"] == "plates"]
    assert measured == pytest.approx([plate["lowest_mm"] for plate in plates], abs=1e-9)
    torques = [entry["shown"]["value_nm"] for entry in entries if entry["kind"] == "torque_check"]
    assert [row["value (N·m)"] for row in rows if row["kind"] == "torque_check"] == [
        f"{torque:.1f}" for torque in torques
    ]


def test_export_gives_no_formulas_to_a_spreadsheet(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with open_log(folder) as log:
        log.add([stored("note", UNIT_ID, who="=HYPERLINK(1)")])
    assert main(["export", *place_of(folder), "--format", "csv"]) == 0
    assert "'=HYPERLINK(1)" in capsys.readouterr().out


def test_export_of_an_unknown_unit_names_those_there_are(season: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", *place_of(season), "--unit", "Nobody"]) == 2
    assert "Choose one of: " in capsys.readouterr().err
