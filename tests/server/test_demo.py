"""The demonstration in a log: what its seasons say of each other holds there too."""

import json
import struct
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from server import demo
from server.engine import calc

from .stores import open_log, photos_kept

SORREL = json.loads((demo.UNITS / "sorrel.json").read_text("utf-8"))


@pytest.fixture
def sorrel(folder: Path) -> list[dict[str, Any]]:
    """The entries of Sorrel as the log holds them."""
    with open_log(folder) as log:
        demo.load(log)
        return log.of_unit(SORREL["unit"])


def test_a_slip_that_was_corrected_no_longer_counts(sorrel: list[dict[str, Any]]) -> None:
    slips = [row["body"] for row in SORREL["entries"] if row.get("name") == "slip"]
    [slip] = [entry for entry in sorrel if entry["body"] in [{**body, "day": entry["at"][:10]} for body in slips]]
    [correction] = [entry for entry in sorrel if entry.get("replaces")]
    assert correction["replaces"] == slip["id"]
    stands = calc("standing", {"entries": sorrel, "today": date.today().isoformat()})
    assert stands["replaced"] == {slip["id"]: correction["id"]}
    trend = [row["id"] for row in stands["trend"]]
    assert slip["id"] not in trend
    assert correction["id"] in trend


def size_of(jpeg: bytes) -> tuple[int, int]:
    """Width and height from the frame header of a baseline JPEG (ITU-T T.81, B.2.2)."""
    at = jpeg.index(b"\xff\xc0")
    tall, wide = struct.unpack(">HH", jpeg[at + 5 : at + 9])
    return wide, tall


def test_each_photo_of_the_seasons_is_there_and_as_large_as_it_says(folder: Path) -> None:
    with open_log(folder) as log:
        demo.load(log)
        photos = [entry["body"] for unit in log.units() for entry in log.of_unit(unit) if entry["kind"] == "photo"]
    assert len(photos) == len(list((demo.UNITS / demo.PICTURES).glob("*.jpg")))
    kept = photos_kept(folder)
    for body in photos:
        data = kept[body["sha256"]]
        assert (len(data), *size_of(data)) == (body["bytes"], body["wide"], body["tall"])
        assert len(data) < 20_000


def season(*rows: dict[str, Any]) -> dict[str, Any]:
    """A season of notes."""
    note = {"days_ago": 3, "clock": "09:00", "who": "Joss Tarn", "kind": "note", "body": {"text": "Dry."}}
    return {"unit": SORREL["unit"], "entries": [{**note, **row} for row in rows]}


@pytest.mark.parametrize(
    "rows",
    [
        [{"replaces": "slip"}],
        [{"replaces": "slip"}, {"name": "slip"}],
        [{"name": "slip"}, {"name": "slip"}, {"replaces": "slip"}],
    ],
)
def test_a_season_whose_correction_names_no_one_earlier_row_is_refused(
    folder: Path, tmp_path: Path, rows: list[dict[str, Any]]
) -> None:
    (tmp_path / "unit.json").write_text(json.dumps(season(*rows)))
    with open_log(folder) as log, pytest.raises(ValueError, match="slip"):
        demo.load(log, tmp_path)
