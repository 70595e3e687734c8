"""Limits that were changed after a measurement: the verdict then and today's limit, of which the worse stands."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import BREAKAWAY, PLATES, UNIT, changed
from .entries import entry

FLOAT = {"name": "Gear float", "part": "bevel_gears", "measure": "end_float", "high_mm": 0.3, "places": 1}
TOOL = {"division_mm": 0.01, "deviation_mm": 0.005}


def defined(number: int, day: int, limit: float = 2.3, most: float = 0.3) -> dict[str, Any]:
    chain = [item | ({"minimum_mm": limit} if item["slot"] == "A2" else {}) for item in UNIT["chain"]]
    body = {**UNIT, "chain": chain, "features": [FLOAT | {"high_mm": most}]}
    return entry(number, "unit", body, at(day), seq=number)


def at(day: int) -> str:
    return f"2026-06-{day:02d}T09:00:00+02:00"


# A2 is 2.410 mm at its lowest, and the float 0.200 mm.
CHAIN = [item for item in UNIT["chain"] if item["slot"] == "A2"]
SEEN = [
    entry(2, "torque_check", BREAKAWAY, at(2), seq=2),
    entry(3, "strip", {"done": ["held", "screws", "relieved"], "guide": 1, "signed": "Ilse"}, at(3), seq=3),
    entry(4, "plate_check", {"micrometer": {}, "plates": [CHAIN[0] | {"points_mm": [2.41] * 3}]}, at(4), seq=4),
    entry(5, "inspection", {"features": [FLOAT | {"points_mm": [0.2], "tool": TOOL}]}, at(5), seq=5),
]


def of_plate(*changes: dict[str, Any], **asked: Any) -> list[tuple[str | None, str]]:
    """Verdict and reason of A2, as the unit's page and the strip's page have it."""
    entries = [defined(1, 1), *SEEN, *changes]
    stands = calc("standing", {"entries": entries})["by_slot"]["A2"]
    found = calc("strip_found", {"entries": entries, **asked})
    row = next(row for row in found["parts"] if row["name"] == "A2")
    return [(stands["verdict"], stands["reason"]), (row["state"], row["text"])]


def test_a_limit_that_was_raised_judges_what_was_measured_before() -> None:
    before = "The lowest point, 2.410 mm, is above its limit of 2.300 mm."
    assert of_plate() == [("go", before)] * 2
    raised = f"{before} Today's limit: at least 2.450 mm, so replace."
    assert of_plate(defined(6, 6, limit=2.45)) == [("replace", raised)] * 2
    # Within the guard band of the micrometer nobody can say.
    near = f"{before} Today's limit: at least 2.412 mm, so measure again."
    assert of_plate(defined(6, 6, limit=2.412)) == [("measure_again", near)] * 2


def test_a_limit_that_was_raised_a_little_stands_beside_a_verdict_that_stays() -> None:
    for verdict, reason in of_plate(defined(6, 6, limit=2.35)):
        assert verdict == "go"
        assert reason.endswith("above its limit of 2.300 mm. Today's limit: at least 2.350 mm.")


def test_a_limit_that_was_lowered_frees_nothing_until_it_is_measured_again() -> None:
    high = [defined(6, 6, limit=2.45), entry(7, "plate_check", measured(2.45), at(7), seq=7)]
    for verdict, reason in of_plate(*high, defined(8, 8, limit=2.3)):
        assert verdict == "replace"
        assert reason.endswith("Today's limit: at least 2.300 mm. Measure it again, to be judged by that.")
    again = entry(9, "plate_check", measured(2.3), at(9), seq=9)
    assert [verdict for verdict, _ in of_plate(*high, defined(8, 8, limit=2.3), again)] == ["go", "go"]


def measured(limit: float) -> dict[str, Any]:
    return {"micrometer": {}, "plates": [CHAIN[0] | {"minimum_mm": limit, "points_mm": [2.41] * 3}]}


def test_the_whole_unit_and_its_plan_go_by_it() -> None:
    entries = [defined(1, 1), *SEEN, defined(6, 6, limit=2.45)]
    stands = calc("standing", {"entries": entries})
    assert stands["verdict"] == "replace"
    assert next(place for place in stands["built"]["places"] if place["slot"] == "A2")["replace"]
    assert calc("strip_found", {"entries": entries})["order"] == [
        {"what": "friction plate, 2.500 mm when new", "count": 1, "names": ["A2"]}
    ]
    # What the log shows of the measurement stays.
    assert entries[3]["shown"]["verdict"] == "go"


def test_the_limit_of_another_kind_of_plate_says_nothing_of_this_one() -> None:
    thin = {"slot": "A2", "part": "friction", "new_mm": 1.5, "minimum_mm": 1.4, "points_mm": [1.48] * 3}
    check = entry(6, "plate_check", {"micrometer": {}, "plates": [thin]}, at(6), seq=6)
    assert [verdict for verdict, _ in of_plate(check, defined(7, 7, limit=2.45))] == ["go", "go"]


@pytest.mark.parametrize(
    ("most", "verdict", "end"),
    [
        (0.3, "go", "(at most 0.300 mm)."),
        (0.25, "go", "Today's limit: at most 0.250 mm."),
        # A float that is too large is set again.
        (0.15, "rework", "Today's limit: at most 0.150 mm, so rework."),
    ],
)
def test_another_part_goes_by_todays_limits_too(most: float, verdict: str, end: str) -> None:
    entries = [defined(1, 1), *SEEN, defined(6, 6, most=most)]
    [feature] = calc("standing", {"entries": entries})["features"]
    row = next(row for row in calc("strip_found", {"entries": entries})["parts"] if row["name"] == "Gear float")
    assert (feature["verdict"], row["state"]) == (verdict, verdict)
    assert feature["reason"].endswith(end)
    assert row["text"].endswith(end)


def test_one_sentence_has_one_unit() -> None:
    check = entry(6, "plate_check", measured(2.3) | {"write_in": "inch"}, at(6), seq=6)
    for _, reason in of_plate(check, defined(7, 7, limit=2.45), write_lengths_in="mm"):
        assert reason.endswith("limit of 0.0906 inch. Today's limit: at least 0.0965 inch, so replace.")


def refit(number: int, day: int, **checks: Any) -> dict[str, Any]:
    return entry(number, "refit", checks, at(day), seq=number)


LOOSE = {"readings_nm": [60, 62], "low_nm": 80, "high_nm": 100, "tool": {"division_nm": 1}}
TIGHT = LOOSE | {"readings_nm": [90, 91]}
BACKLASH = {"points_mm": [0.15] * 3, "low_mm": 0.1, "high_mm": 0.2, "gauge": {}}


def test_loose_screws_stay_loose_until_somebody_looks_at_the_screws_again() -> None:
    entries = [defined(1, 1), SEEN[0], refit(6, 6, screws=LOOSE), refit(7, 7, backlash=BACKLASH)]
    stands = calc("standing", {"entries": entries})
    assert stands["verdict"] == "rework"
    assert stands["reason"].startswith("Torque of the crown-wheel screws: 60.0 N·m")
    assert stands["reason"].endswith("Found on 2026-06-06, and not looked at again since.")
    entries.append(refit(8, 8, screws=TIGHT))
    assert calc("standing", {"entries": entries})["verdict"] == "go"
    # A rebuild opens the axle again: what was found before it says nothing of it.
    rebuilt = entry(9, "rebuild", {"note": "Set up.", "fitted": []}, at(9), seq=9)
    assert calc("standing", {"entries": [*entries[:4], rebuilt]})["parts"] == []


def test_plates_to_be_measured_again_are_not_called_bad() -> None:
    outing = entry(9, "outing", {"felt": [{"what": "judders"}]}, at(9), seq=9)

    def felt(*points: float) -> str:
        plates = [row | {"points_mm": [mm] * 3} for row, mm in zip(PLATES["plates"], points, strict=False)]
        check = entry(6, "plate_check", changed(PLATES, plates=plates), at(6), seq=6)
        [finding] = calc("standing", {"entries": [defined(1, 1), check, outing]})["findings"]
        return f"{finding['title']} | {finding['text']}"

    unsure = felt(PLATES["plates"][0]["minimum_mm"] + 0.001)
    assert "plates may not be good" in unsure
    assert "of its plates A2 is to be measured again, and may not be good" in unsure
    worn = felt(PLATES["plates"][0]["minimum_mm"] - 0.1, PLATES["plates"][1]["minimum_mm"] + 0.001)
    assert "of its plates A2 is not good; A3 is to be measured again, and may not be good" in worn
