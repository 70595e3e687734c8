"""What an entry of each kind means for its unit, whatever its record says."""

from typing import Any

import pytest

from server.engine import KINDS, calc
from tests.engine.samples import samples

LOOKS = {
    "torque_check",
    "plate_check",
    "spring_check",
    "ring_check",
    "inspection",
    "refit",
    "strip",
    "close",
    "rebuild",
}


def entry(kind: str) -> dict[str, Any]:
    """An entry of a kind, from the first good sample of its calculation."""
    calculation = KINDS[kind].calculation
    body = next(row["request"] for row in samples(calculation) if not row["about"].startswith("bad:"))
    shown = calc(calculation, body)
    return {"id": "a", "at": "2026-05-09T10:30:00Z", "unit": "u", "kind": kind, "body": body, "shown": shown}


@pytest.mark.parametrize("kind", [name for name, kind in KINDS.items() if kind.about != "shop"])
def test_whoever_works_on_a_unit_has_looked_at_it(kind: str) -> None:
    written = entry(kind)
    assert calc("standing", {"entries": [written]})["looked_at"] == (written["at"] if kind in LOOKS else None)


def test_every_look_is_a_kind_of_entry() -> None:
    assert set(KINDS) >= LOOKS


def test_about_hands_out_the_records() -> None:
    kinds = calc("about", {})["kinds"]
    assert set(kinds) == set(KINDS)
    assert kinds["ring_check"] == {
        "version": 1,
        "meaning": "ramp rings checked",
        "nouns": "ring checks",
        "calculation": "ring_check",
        "about": "unit",
        "area": "checks, outings and notes",
        "writers": ["trackside", "bench"],
        "is_look": True,
        "tables": [["rings", "Ramp rings"], ["pins", "Cross pins"]],
        "corrected_on": "rings",
        "can_undo": True,
        "is_dated": False,
    }
