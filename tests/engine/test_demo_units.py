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


def test_the_three_seasons_end_in_three_verdicts() -> None:
    ends = {}
    for file in FILES:
        for entry in entries(file):
            if entry["kind"] in ("torque_check", "plate_check"):
                ends[file.stem] = calc(KINDS[entry["kind"]].calculation, entry["body"])["verdict"]
    assert sorted(ends.values()) == ["go", "measure_again", "replace"]
