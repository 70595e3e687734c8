"""The invented units hang together: the engine finds the figures that their seasons tell of."""

import json
from pathlib import Path
from typing import Any

import pytest

from server.engine import KINDS, calc

FOLDER = Path(__file__).resolve().parents[2] / "demo_units"
FILES = sorted(FOLDER.glob("*.json"))


def entries(file: Path) -> list[dict[str, Any]]:
    """The entries of a file."""
    found: list[dict[str, Any]] = json.loads(file.read_text(encoding="utf-8"))["entries"]
    return found


def test_every_layout_is_there() -> None:
    layouts = {entry["body"]["layout"] for file in FILES for entry in entries(file) if entry["kind"] == "unit"}
    assert layouts == {"in_line", "two_springs", "between_rings"}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_engine_takes_every_entry(file: Path) -> None:
    for entry in entries(file):
        calc(KINDS[entry["kind"]].calculation, entry["body"])


@pytest.mark.parametrize("file", [file for file in FILES if file.stem != "kit"], ids=lambda file: file.stem)
def test_new_parts_give_what_was_ordered_and_the_first_check_says_so(file: Path) -> None:
    [unit] = [entry["body"] for entry in entries(file) if entry["kind"] == "unit"]
    figures = calc("unit", unit)
    assert figures["warnings"] == []
    assert figures["breakaway_nm"] == pytest.approx(unit["order"]["torque_nm"], abs=unit["order"]["tolerance_nm"])
    first = next(entry for entry in entries(file) if entry["kind"] == "torque_check")
    checked = calc("breakaway", first["body"])
    assert checked["verdict"] == "go"
    assert checked["value_nm"] == pytest.approx(figures["breakaway_nm"], rel=0.06)


@pytest.mark.parametrize("file", [file for file in FILES if file.stem != "kit"], ids=lambda file: file.stem)
def test_every_check_could_be_read_on_the_unit_as_it_is_built(file: Path) -> None:
    [unit] = [entry["body"] for entry in entries(file) if entry["kind"] == "unit"]
    log = [
        {"id": "u", "unit": "u", "kind": "unit", "at": "2026-03-01T09:00:00Z", "body": unit}
        | {"shown": calc("unit", unit)}
    ]
    build = calc("standing", {"entries": log})["built"]["for_check"]
    for entry in entries(file):
        if entry["kind"] == "torque_check":
            told = calc("breakaway", entry["body"])
            known = calc("breakaway", {**entry["body"], "build": build})
            assert (known["verdict"], known["value_nm"]) == (told["verdict"], pytest.approx(told["value_nm"]))
            assert "layout" not in {row["name"] for row in told["findings"]}


def test_the_three_seasons_end_in_three_verdicts() -> None:
    ends = {}
    for file in FILES:
        for entry in entries(file):
            if entry["kind"] in ("torque_check", "plate_check"):
                ends[file.stem] = calc(KINDS[entry["kind"]].calculation, entry["body"])["verdict"]
    assert sorted(ends.values()) == ["go", "measure_again", "replace"]
