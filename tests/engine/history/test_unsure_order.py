"""The sentences on what nobody can tell come in one order on every host: by the names of the parts."""

from typing import Any

from server.engine import calc

from ..checks import PLATES, UNIT, changed
from .entries import entry

THICK, NEAR, THIN = [2.46] * 3, [2.3] * 3, [2.2] * 3


def measured(a4: list[float], a2: list[float]) -> dict[str, Any]:
    """A measurement of two plates, the second one first."""
    friction = PLATES["plates"][0]
    return changed(PLATES, plates=[friction | {"slot": "A4", "points_mm": a4}, friction | {"points_mm": a2}])


def test_what_nobody_can_tell_is_told_by_the_names_of_the_plates() -> None:
    unknown: dict[str, Any] = {"knows": ["id-1"], "clock": {"fell_s": 0}}
    entries = [
        entry(1, "unit", UNIT, "2026-03-01T09:00:00Z", seq=1),
        entry(2, "plate_check", measured(NEAR, THIN), "2026-03-02T09:00:00Z", device="a", **unknown),
        entry(3, "plate_check", measured(THICK, THICK), "2026-03-03T09:00:00Z", device="b", **unknown),
    ]
    unsure = calc("standing", {"entries": entries})["unsure"]
    assert len(unsure) == 2
    assert ["(replace)" in unsure[0], "(measure again)" in unsure[1]] == [True, True], unsure
