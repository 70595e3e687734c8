"""Photos arrive in pieces, whole or not at all, and come back as they were."""

import hashlib
import random
import re
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server.cli import main
from server.log.backups.backup import back_up, back_up_log, restore
from server.log.files import FolderLog, FolderPhotos
from server.log.photos import JPEG, WrongPhoto

from .sample_logs import new_id
from .stores import back_up_at, open_log, photos_kept, restarted_log, restore_at

PHOTO = JPEG + random.Random(5).randbytes(700_000)
NAME = hashlib.sha256(PHOTO).hexdigest()
DAMAGED = pytest.mark.about_files("a photo's file is damaged")


def send(
    client: FlaskClient, at: int, size: int, name: str = NAME, photo: bytes = PHOTO
) -> tuple[int, dict[str, object]]:
    """Send a piece; status and answer."""
    answer = client.put(f"/api/photos/{name}?at={at}&total={len(photo)}", data=photo[at : at + size])
    assert answer.json is not None
    return answer.status_code, answer.json


def test_a_photo_comes_home_in_pieces_and_is_served(client: FlaskClient) -> None:
    at = 0
    while at < len(PHOTO):
        assert client.get(f"/api/photos/{NAME}").status_code == 404
        status, now = send(client, at, 262_144)
        assert status == 200
        at = int(str(now["size"]))
    assert client.get(f"/api/photos/{NAME}/progress").json == {"size": len(PHOTO), "whole": True}
    served = client.get(f"/api/photos/{NAME}")
    assert served.data == PHOTO
    assert served.content_type == "image/jpeg"
    assert send(client, 0, 100) == (200, {"size": len(PHOTO), "whole": True})


def test_a_lost_answer_does_not_double_a_piece(client: FlaskClient) -> None:
    send(client, 0, 300_000)
    assert send(client, 0, 300_000) == (200, {"size": 300_000, "whole": False})
    assert send(client, 300_000, 10**6) == (200, {"size": len(PHOTO), "whole": True})


def test_what_is_no_photo_or_another_one_is_refused(client: FlaskClient) -> None:
    page = b"<html>" + bytes(100)
    status, answer = send(client, 0, 200, hashlib.sha256(page).hexdigest(), page)
    assert status == 422
    assert "not a JPEG" in str(answer["detail"])
    other = JPEG + bytes(1000)
    status, answer = send(client, 0, 2000, NAME, other)
    assert status == 422
    assert "again from the start" in str(answer["detail"])
    assert client.get(f"/api/photos/{NAME}/progress").json == {"size": 0, "whole": False}
    assert client.put(f"/api/photos/{NAME}?at=0&total=5000000", data=b"x").status_code == 422
    assert client.put("/api/photos/../../etc?at=0&total=5", data=b"x").status_code == 404
    assert client.get("/api/photos/ABC/progress").status_code == 404


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(cuts=st.lists(st.integers(0, 5000), max_size=12), seed=st.integers(0, 9))
def test_pieces_in_any_order_end_whole_or_not_at_all(tmp_path: Path, cuts: list[int], seed: int) -> None:
    photo = JPEG + random.Random(seed).randbytes(5000)
    name = hashlib.sha256(photo).hexdigest()
    # Nothing of it has come yet.
    with open_log(tmp_path / new_id()) as log:
        for cut in cuts:
            log.photos.add(name, cut, photo[cut : cut + 900], len(photo))
            stored = log.photos.read(name)
            assert stored is None or stored == photo
        while not (now := log.photos.progress(name)).whole:
            log.photos.add(name, now.size, photo[now.size : now.size + 900], len(photo))
        assert log.photos.read(name) == photo


@DAMAGED
def test_a_backup_holds_the_photos_and_check_finds_a_damaged_one(
    app: Flask, client: FlaskClient, tmp_path: Path
) -> None:
    send(client, 0, len(PHOTO))
    back_up_log(app.extensions["slipbook_log"], tmp_path / "whole.zip")
    restore(tmp_path / "whole.zip", tmp_path / "again")
    again = FolderPhotos(tmp_path / "again")
    assert again.read(NAME) == PHOTO
    assert again.find_faults() == []
    again.file(NAME).write_bytes(PHOTO[:-1] + b"!")
    [printed] = again.find_faults()
    assert NAME in printed


def test_a_backup_of_several_photos_brings_every_one_of_them_back(tmp_path: Path) -> None:
    photos = {hashlib.sha256(data).hexdigest(): data for data in (JPEG + bytes([n]) * 400 for n in range(3))}
    with open_log(tmp_path / "log") as log:
        for name, data in photos.items():
            log.photos.add(name, 0, data, len(data))
    back_up_at(tmp_path / "log", tmp_path / "all.zip")
    restore_at(tmp_path / "all.zip", tmp_path / "again")
    assert photos_kept(tmp_path / "again") == photos
    with open_log(tmp_path / "again") as log:
        assert log.photos.find_faults() == []


def test_a_photo_of_just_what_the_refusal_names_is_taken_and_one_byte_more_is_not(tmp_path: Path) -> None:
    with open_log(tmp_path / "log") as log, pytest.raises(WrongPhoto) as refusal:
        log.photos.add(NAME, 0, JPEG, 1_000_000_000)
    [most] = map(int, re.findall(r"at most (\d+) bytes", str(refusal.value)))
    for size in (most, most + 1):
        photo = JPEG + bytes(size - len(JPEG))
        name = hashlib.sha256(photo).hexdigest()
        with open_log(tmp_path / "log") as log:
            if size == most:
                assert log.photos.add(name, 0, photo, size) == (size, True)
                assert log.photos.read(name) == photo
            else:
                with pytest.raises(WrongPhoto, match="shrink it"):
                    log.photos.add(name, 0, photo, size)


@pytest.mark.parametrize("size", [1, 262_144])
def test_a_server_that_starts_again_goes_on_where_it_was(tmp_path: Path, size: int) -> None:
    with open_log(tmp_path / "log") as log:
        log.photos.add(NAME, 0, PHOTO[: size + 3], len(PHOTO))
    with restarted_log(tmp_path / "log") as log:
        assert log.photos.progress(NAME) == (size + 3, False)


@DAMAGED
@pytest.mark.parametrize("name", [f"{NAME}.jpg", "holiday.jpg"])
def test_a_backup_with_a_damaged_photo_says_so_and_can_be_restored(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    FolderLog(tmp_path / "log").close()
    good = JPEG + b"good"
    FolderPhotos(tmp_path / "log").add(hashlib.sha256(good).hexdigest(), 0, good, len(good))
    (tmp_path / "log" / "photos" / name).write_bytes(JPEG + b"other")
    file = tmp_path / "all.zip"
    assert main(["backup", str(file), "--folder", str(tmp_path / "log")]) == 1
    printed = "".join(capsys.readouterr())
    assert f"The photo {name} is damaged and is not in the backup." in printed
    assert "No damage was found" not in printed
    # A folder of the name that a restore works under may be somebody's own.
    (tmp_path / "again.restoring").mkdir()
    assert main(["restore", str(file), "--folder", str(tmp_path / "again")]) == 0
    assert [path.read_bytes() for path in FolderPhotos(tmp_path / "again").files()] == [good]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["again", "again.restoring", "all.zip", "log"]


@DAMAGED
def test_a_backup_tells_which_photos_are_empty_or_too_large_and_takes_the_largest_that_may_be(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("server.log.backups.backup.LARGEST_PHOTO", 1000)
    FolderLog(tmp_path / "log").close()
    (tmp_path / "log" / "photos").mkdir(exist_ok=True)
    whole = JPEG + bytes(1000 - len(JPEG))
    photos = [(hashlib.sha256(data).hexdigest(), data) for data in (b"", whole, whole + b"more")]
    for name, data in photos:
        (tmp_path / "log" / "photos" / f"{name}.jpg").write_bytes(data)
    (empty, _), (largest, _), (too_large, _) = photos
    says = "The photo {}.jpg is empty or too large and is not in the backup."
    assert set(back_up(tmp_path / "log", tmp_path / "all.zip").faults) == {says.format(empty), says.format(too_large)}
    restore(tmp_path / "all.zip", tmp_path / "again")
    assert [path.stem for path in FolderPhotos(tmp_path / "again").files()] == [largest]
