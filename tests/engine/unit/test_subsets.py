"""A unit is what is known of it: every subset of a definition is answered, or refused in one sentence at a field.

And no number rests on a figure that nobody gave: what is answered without a section is what the whole definition gives
whatever that section holds.
"""

from itertools import combinations
from typing import Any

import pytest

from server.engine import BadInput, calc

from ..checks import BREAKAWAY, UNIT, changed
from ..history.entries import entry

WHOLE: dict[str, Any] = UNIT | {
    "ramps": {"pin_radius_mm": 40, "drive_deg": 45, "coast_deg": 60},
    "cover": {"screws": 8, "screw_mm": 8, "torque_nm": 25, "start_mm": 1.5},
}

# The same sections with other figures that make sense beside the rest.
OTHERWISE: dict[str, Any] = {
    "order": {"torque_nm": 95, "tolerance_nm": 12},
    "service": {"low_nm": 75, "high_nm": 140},
    "chain": changed({"chain": UNIT["chain"]}, chain__2__new_mm=2.6, chain__2__minimum_mm=2.4)["chain"],
    "spring": {"de_mm": 100, "di_mm": 51, "t_mm": 3.6, "l0_mm": 6.2},
    "cavity_mm": 62.7,
    "friction": {"inner_mm": 74, "outer_mm": 104, "mu": 0.12},
    "ramps": {"pin_radius_mm": 44, "drive_deg": 50, "coast_deg": 70},
    "cover": {"screws": 6, "screw_mm": 6, "torque_nm": 12, "start_mm": 2.5},
}
SECTIONS = tuple(OTHERWISE)

SHELF = [{"name": "class", "part": "friction", "mm": 2.55, "count": 4}]
SIDE = {"torque_nm": 90}
WHEELS = {side: {"load_kg": 300, "grip": 0.8} for side in ("left", "right")}


def check_of(definition: dict[str, Any]) -> dict[str, Any]:
    """A torque check of a unit, judged as its screen asks for it, with the limits that the unit has."""
    state = stands(definition)
    limits = (state["limits"] or {}).get("running")
    return BREAKAWAY | {"build": state["built"]["for_check"], "limits": limits or {}}


def stands(definition: dict[str, Any], *more: dict[str, Any]) -> dict[str, Any]:
    """What stands for a unit of this definition."""
    return calc("standing", {"entries": [entry(1, "unit", definition, "2026-03-01T09:00:00Z", seq=1), *more]})


def log_of(definition: dict[str, Any]) -> list[dict[str, Any]]:
    """A unit's entries: its definition, and three checks that were made whatever is known of it."""
    rows = [entry(1, "unit", definition, "2026-03-01T09:00:00Z", seq=1)]
    for number, torque in enumerate((100.0, 96.0, 93.0)):
        steady = {"forward": [torque, torque + 1, torque], "reverse": [torque, torque + 1, torque]}
        body = changed(BREAKAWAY, steady_nm=steady, circumstances={"outings": 2 * number})
        rows.append(entry(2 + number, "torque_check", body, f"2026-04-0{1 + number}T09:00:00Z", seq=2 + number))
    return rows


def built(definition: dict[str, Any]) -> dict[str, Any]:
    """The unit as it is built, as screens hand it on."""
    answer: dict[str, Any] = stands(definition)["built"]
    return answer


# How each calculation is asked about a unit.
QUESTIONS: dict[str, Any] = {
    "unit": lambda unit: unit,
    "closing": lambda unit: {"unit": unit},
    "breakaway": check_of,
    "plan": lambda unit: {"unit": unit, "shelf": SHELF, "alternatives": False, "buying": False},
    "ramps": lambda unit: {"built": built(unit), "points": 3},
    "traction": lambda unit: {"built": built(unit), "tyre_radius_mm": 300, **WHEELS},
    "loss": lambda unit: {"unit": unit, "before": {"torque_nm": 100}, "now": SIDE},
    "life": lambda unit: {
        "unit": unit,
        "stack": [{"use": use, "thickness_mm": 58.0 - 0.01 * use} for use in (0, 4, 8)],
        "limits": {"low_nm": 70},
    },
    "standing": lambda unit: {"entries": log_of(unit)},
    "change": lambda unit: {"entries": log_of(unit)},
    "outlook": lambda unit: {"entries": log_of(unit)},
    "judged_again": lambda unit: {"entries": log_of(unit), "id": "id-2"},
}

# A definition, an entry, or a text holds what was given, and not what was worked out.
GIVEN = ("checked", "unit", "strongest", "shown", "for_check", "places", "derived")


def subset(whole: dict[str, Any], hidden: tuple[str, ...]) -> dict[str, Any]:
    """A definition without some of its sections."""
    return {name: value for name, value in whole.items() if name not in hidden}


def answer_of(calculation: str, definition: dict[str, Any]) -> dict[str, Any] | BadInput:
    """The answer, or the refusal."""
    try:
        return calc(calculation, QUESTIONS[calculation](definition))
    except BadInput as refusal:
        return refusal


def numbers(answer: Any, path: str = "") -> dict[str, float]:
    """Every number of an answer by its path, and its verdicts; not what a request had in it, nor the way on."""
    if isinstance(answer, dict):
        rows = [(name, value) for name, value in answer.items() if name not in (*GIVEN, "opens", "lacks", "budget")]
    elif isinstance(answer, list):
        rows = [(str(place), value) for place, value in enumerate(answer)]
    else:
        is_number = isinstance(answer, int | float) and not isinstance(answer, bool)
        return {path: answer} if is_number else {}
    return {key: value for name, part in rows for key, value in numbers(part, f"{path}.{name}").items()}


def subsets() -> list[tuple[str, ...]]:
    """Every choice of sections to hide."""
    return [hidden for count in range(len(SECTIONS) + 1) for hidden in combinations(SECTIONS, count)]


@pytest.mark.parametrize("calculation", QUESTIONS)
def test_every_subset_is_answered_or_refused_in_one_sentence(calculation: str) -> None:
    for hidden in subsets():
        answer = answer_of(calculation, subset(WHOLE, hidden))
        if isinstance(answer, BadInput):
            assert hidden, f"{calculation} of the whole: {answer}"
            assert answer.field, hidden
            assert answer.reason.endswith("."), hidden
            assert ". " not in answer.reason or calculation == "breakaway", (hidden, answer.reason)


@pytest.mark.parametrize("calculation", QUESTIONS)
def test_no_number_rests_on_a_section_that_nobody_gave(calculation: str) -> None:
    for hidden in subsets():
        # Where one pair of limits is not given, the other counts, which is known.
        if ("order" in hidden) != ("service" in hidden):
            continue
        answer = answer_of(calculation, subset(WHOLE, hidden))
        if isinstance(answer, BadInput):
            continue
        kept = numbers(answer)
        # Each hidden section with other figures, and all of them at once.
        for other in [(name,) for name in hidden] + ([hidden] if len(hidden) > 1 else []):
            whole = answer_of(calculation, WHOLE | {name: OTHERWISE[name] for name in other})
            assert isinstance(whole, dict), (hidden, other, whole)
            given = numbers(whole)
            for path, value in kept.items():
                assert path in given, (calculation, hidden, path)
                assert value == pytest.approx(given[path], rel=1e-9, abs=1e-9), (calculation, hidden, other, path)


def test_what_is_missing_names_its_field_whichever_path_the_definition_has() -> None:
    bare = subset(WHOLE, ("spring", "cavity_mm"))
    for calculation, field in (
        ("plan", "unit.spring.de_mm"),
        ("ramps", "built.unit.spring.de_mm"),
        ("loss", "unit.spring.de_mm"),
    ):
        refusal = answer_of(calculation, bare)
        assert isinstance(refusal, BadInput)
        assert refusal.field == field
        assert refusal.reason.endswith(
            "the disc spring's sizes and the depth from cover face to floor: add them to the unit."
        )


def test_each_section_says_what_it_would_open_until_it_is_known() -> None:
    bare = stands({"name": "Test unit"})
    assert [row["name"] for row in bare["opens"]] == [
        "limits",
        "chain",
        "spring",
        "cavity_mm",
        "friction",
        "ramps",
        "cover",
    ]
    assert stands(WHOLE)["opens"] == []
    assert stands(WHOLE)["lacks"] == []
    # The entry itself keeps no sentences that its definition tells.
    assert {"opens", "lacks"} & set(calc("unit", WHOLE)) == set()
    two = subset(WHOLE, ("cavity_mm", "cover"))
    assert [(row["name"], row["at_once"]) for row in stands(two)["opens"]] == [
        ("cavity_mm", True),
        ("cover", False),
    ]
