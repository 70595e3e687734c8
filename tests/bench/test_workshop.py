"""The invented workshop is one that the log and the engine take for real."""

from pathlib import Path

from server.log.files import FolderLog
from server.log.intake import receive
from server.log.judging import judge

from .figures import Figure, missed, table
from .workshop import Workshop


def test_the_log_reads_it_and_the_engine_judges_every_entry_alike(tmp_path: Path) -> None:
    workshop = Workshop(5)
    workshop.write(tmp_path, 200)
    with FolderLog(tmp_path) as log:
        assert log.problems == []
        entries, more = log.after(0, 200)
        assert (len(entries), more, len(log.units())) == (200, False, 5)
        assert {entry["kind"] for entry in entries} == {"kit", "shelf", "unit", "torque_check", "plate_check", "note"}
        for entry in entries:
            assert judge(entry)[1], entry


def test_its_new_entries_are_taken_in(tmp_path: Path) -> None:
    workshop = Workshop(5)
    workshop.write(tmp_path, 50)
    with FolderLog(tmp_path) as log:
        answers = receive(log, workshop.fresh(40))
        assert {(answer["answer"], answer["agrees"]) for answer in answers} == {("stored", True)}
        assert log.last == 90


def test_the_same_seed_makes_the_same_workshop(tmp_path: Path) -> None:
    for name in ("one", "other"):
        Workshop(3, seed=8).write(tmp_path / name, 60)
    files = [
        {path.name: path.read_bytes() for path in (tmp_path / name / "units").iterdir()} for name in ("one", "other")
    ]
    assert files[0] == files[1]


def test_what_was_not_measured_is_never_kept() -> None:
    good = Figure("one", "1 s", "", "", "<= 2 s", True)
    shown = table([good, missed("other", "<= 1 s", "it broke")])
    assert shown.count("kept") == 1
    assert shown.count("MISSED") == 1
    assert "- other: it broke" in shown
