"""Photos arrive in pieces, whole or not at all, and come back as they were."""

import hashlib
import random
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server.cli import main
from server.log import Log
from server.log.backup import back_up, restore
from server.log.photos import JPEG, Photos

PICTURE = JPEG + random.Random(5).randbytes(700_000)
NAME = hashlib.sha256(PICTURE).hexdigest()


def send(
    client: FlaskClient, at: int, size: int, name: str = NAME, picture: bytes = PICTURE
) -> tuple[int, dict[str, object]]:
    """Send a piece; status and answer."""
    answer = client.put(f"/api/photos/{name}?at={at}&total={len(picture)}", data=picture[at : at + size])
    assert answer.json is not None
    return answer.status_code, answer.json


def test_a_picture_comes_home_in_pieces_and_is_served(client: FlaskClient) -> None:
    at = 0
    while at < len(PICTURE):
        assert client.get(f"/api/photos/{NAME}").status_code == 404
        status, now = send(client, at, 262_144)
        assert status == 200
        at = int(str(now["size"]))
    assert client.get(f"/api/photos/{NAME}/progress").json == {"size": len(PICTURE), "whole": True}
    served = client.get(f"/api/photos/{NAME}")
    assert served.data == PICTURE
    assert served.content_type == "image/jpeg"
    assert send(client, 0, 100) == (200, {"size": len(PICTURE), "whole": True})


def test_a_lost_answer_does_not_double_a_piece(client: FlaskClient) -> None:
    send(client, 0, 300_000)
    assert send(client, 0, 300_000) == (200, {"size": 300_000, "whole": False})
    assert send(client, 300_000, 10**6) == (200, {"size": len(PICTURE), "whole": True})


def test_what_is_no_picture_or_another_one_is_refused(client: FlaskClient) -> None:
    page = b"<html>" + bytes(100)
    status, answer = send(client, 0, 200, hashlib.sha256(page).hexdigest(), page)
    assert status == 422
    assert "no JPEG" in str(answer["detail"])
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
    picture = JPEG + random.Random(seed).randbytes(5000)
    name = hashlib.sha256(picture).hexdigest()
    photos = Photos(tmp_path)
    for cut in cuts:
        photos.add(name, cut, picture[cut : cut + 900], len(picture))
        found = photos.read(name)
        assert found is None or found == picture
    while not (now := photos.progress(name)).whole:
        photos.add(name, now.size, picture[now.size : now.size + 900], len(picture))
    assert photos.read(name) == picture
    photos.file(name).unlink()


def test_a_backup_holds_the_pictures_and_check_finds_a_damaged_one(
    app: Flask, client: FlaskClient, tmp_path: Path
) -> None:
    send(client, 0, len(PICTURE))
    root = app.extensions["slipbook_photos"].folder.parent
    back_up(root, tmp_path / "whole.zip")
    restore(tmp_path / "whole.zip", tmp_path / "again")
    again = Photos(tmp_path / "again")
    assert again.read(NAME) == PICTURE
    assert again.damaged() == []
    again.file(NAME).write_bytes(PICTURE[:-1] + b"!")
    [told] = again.damaged()
    assert NAME in told


def test_a_backup_of_several_pictures_brings_every_one_of_them_back(tmp_path: Path) -> None:
    Log(tmp_path / "log").close()
    pictures = {hashlib.sha256(data).hexdigest(): data for data in (JPEG + bytes([n]) * 400 for n in range(3))}
    for name, data in pictures.items():
        Photos(tmp_path / "log").add(name, 0, data, len(data))
    assert back_up(tmp_path / "log", tmp_path / "all.zip").faults == []
    assert restore(tmp_path / "all.zip", tmp_path / "again").faults == []
    again = Photos(tmp_path / "again")
    assert {path.stem: path.read_bytes() for path in again.whole()} == pictures
    assert again.damaged() == []


@pytest.mark.parametrize("size", [1, 262_144])
def test_a_server_that_starts_again_goes_on_where_it_was(tmp_path: Path, size: int) -> None:
    Photos(tmp_path).add(NAME, 0, PICTURE[: size + 3], len(PICTURE))
    assert Photos(tmp_path).progress(NAME) == (size + 3, False)


@pytest.mark.parametrize("name", [f"{NAME}.jpg", "holiday.jpg"])
def test_a_backup_with_a_damaged_picture_says_so_and_can_be_restored(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    Log(tmp_path / "log").close()
    good = JPEG + b"good"
    Photos(tmp_path / "log").add(hashlib.sha256(good).hexdigest(), 0, good, len(good))
    (tmp_path / "log" / "photos" / name).write_bytes(JPEG + b"other")
    file = tmp_path / "all.zip"
    assert main(["backup", str(file), "--folder", str(tmp_path / "log")]) == 1
    told = "".join(capsys.readouterr())
    assert f"The picture {name} is not what its name says, and is not in the backup." in told
    assert "Everything is whole" not in told
    # A folder of the name that a restore works under may be somebody's own.
    (tmp_path / "again.restoring").mkdir()
    assert main(["restore", str(file), "--folder", str(tmp_path / "again")]) == 0
    assert [path.read_bytes() for path in Photos(tmp_path / "again").whole()] == [good]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["again", "again.restoring", "all.zip", "log"]
