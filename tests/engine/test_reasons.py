"""What is said about a verdict contradicts neither it nor the figures that it stands on, for all that judges."""

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.engine import CALCULATIONS, KINDS, calc
from server.engine.request.units import say

from .checks import BREAKAWAY, PLATES, UNIT, changed
from .samples import recorded, sample

GO, CANNOT_SAY = "go", "measure_again"
OUTSIDE = ("rework", "replace")

# What a sentence claims, by its words; a reason without any is the text of a finding that cannot be passed over.
CLAIMS = {
    "inside": r"inside (the|their) limits|above (its|their) limit|Good to run",
    "outside": r"outside the limits|below its limit|Too (low|high): re-set it",
    "cannot say": r"closer to a limit|[Tt]oo close to a limit|too close to its limit|calibration .* ran out on",
}
CLAIM_OF = {GO: "inside", CANNOT_SAY: "cannot say", "rework": "outside", "replace": "outside"}
DAY = "2026-05-09"
DUE = st.sampled_from([None, None, None, "2026-05-01"])
MARKS = st.sampled_from(["none", "none", "none", "slight", "heavy"])
LENGTHS = st.sampled_from(["mm", "thou"])
TORQUES = st.sampled_from(["nm", "lbf_ft"])


def claims(reason: str) -> set[str]:
    """What a sentence claims of a value and its limits."""
    return {claim for claim, words in CLAIMS.items() if re.search(words, reason)}


def judged(lowest: float, highest: float, low: float | None, high: float | None, guards: tuple[float, float]) -> str:
    """The claim that figures come to: ISO 14253-1, a guard band on either side of each limit."""
    inside_by = [] if low is None else [(lowest - low, guards[0])]
    inside_by += [] if high is None else [(high - highest, guards[1])]
    if any(room <= -guard for room, guard in inside_by):
        return "outside"
    return "inside" if all(room >= guard for room, guard in inside_by) else "cannot say"


def weighty(row: dict[str, Any]) -> list[str]:
    """The texts of findings that cannot be passed over."""
    return [finding["text"] for finding in row["findings"] if finding["weight"] == "doubt"]


def holds_together(row: dict[str, Any], by_figures: str, deciding: list[float], unit: tuple[str, str]) -> None:
    """A row's verdict and reason go with each other and with its figures.

    by_figures: what its figures claim; deciding: the values that may have decided; unit: SI, and the one written in.
    """
    verdict, reason, claimed = row["verdict"], row["reason"], claims(row["reason"])
    if not claimed:
        assert reason in weighty(row)
        assert verdict != GO
        return
    assert claimed == {CLAIM_OF[verdict]}, reason
    if "ran out on" in reason:
        assert by_figures == "inside" or reason in weighty(row)
    else:
        assert claimed == {by_figures}, reason
        assert any(say(value, *unit) in reason for value in deciding), reason


def part_holds_together(row: dict[str, Any], si: str, written: str) -> None:
    """The same for a row of a part check, whose figures end in their unit."""
    ending = "_" + si
    low = row["minimum_mm"] if "minimum_mm" in row else row["low" + ending]
    high, guard = row.get("high" + ending), row["guard" + ending]
    lowest = row["lowest" + ending]
    highest = row.get("highest" + ending, lowest)
    by_figures = judged(lowest, highest, low, high, (guard, guard))
    # Each end against its own limit, so that the sentence tells of the end that decided.
    ends = []
    if low is not None and judged(lowest, highest, low, None, (guard, guard)) == by_figures:
        ends.append(lowest)
    if high is not None and judged(lowest, highest, None, high, (guard, guard)) == by_figures:
        ends.append(highest)
    holds_together(row, by_figures, ends, (si, written))
    assert not (weighty(row) and row["verdict"] not in OUTSIDE), "a finding of this weight takes the part out"


def whole_holds_together(result: dict[str, Any], rows: list[dict[str, Any]]) -> None:
    """The whole is as bad as its worst part, and its reason is that part's, or names all parts that are as bad."""
    order = [GO, CANNOT_SAY, *OUTSIDE]
    worst = max((row["verdict"] for row in rows), key=order.index)
    assert result["verdict"] == worst
    bad = [row for row in rows if row["verdict"] == worst]
    reason = result["reason"]
    if worst == GO:
        assert claims(reason) == {"inside"}
    elif len(bad) == 1:
        assert reason.lower().endswith(bad[0]["reason"].lower())
    else:
        count, names = re.fullmatch(r"(\d+) .*: (.*)\.", reason).groups()  # type: ignore[union-attr]
        assert (int(count), names.split(", ")) == (len(bad), [row.get("slot") or row["name"] for row in bad])


@st.composite
def torque_checks(draw: st.DrawFn) -> dict[str, Any]:
    """Torque checks about their limits, with better and worse tools."""
    middle = draw(st.floats(60, 130))
    off = st.floats(-4, 4)
    low: float | None
    high: float | None
    if draw(st.booleans()):
        # About in the middle of a narrow band, which the guard bands of both limits just fill.
        gap = draw(st.floats(3, 12))
        low, high = middle - gap, middle + gap * draw(st.floats(1, 1.1))
        deviation, off = 100 * gap / middle * draw(st.floats(1.0, 1.06)), st.floats(-0.1, 0.1)
    else:
        low = draw(st.none() | st.floats(40, 120))
        high = draw(st.floats((low or 50) + 0.1, (low or 50) + 60)) if low is None or draw(st.booleans()) else None
        deviation = draw(st.floats(0, 15))
    return changed(
        BREAKAWAY,
        steady_nm={way: [middle + draw(off) for _ in range(3)] for way in ("forward", "reverse")},
        limits={"low_nm": low, "high_nm": high},
        wrench={**BREAKAWAY["wrench"], "high_nm": draw(st.sampled_from([200, 200, 1000])), "division_nm": 0.2},
        wrench__deviation_percent=deviation,
        wrench__calibration_due=draw(DUE),
        write_in=draw(TORQUES),
    )


def torque_check_holds_together(request: dict[str, Any], result: dict[str, Any]) -> None:
    """A torque check's reason goes with its verdict and figures, and so does the guard band that it states."""
    value, low, high, guard = (result[name] for name in ("value_nm", "low_nm", "high_nm", "guard_nm"))
    guards = (result["guard_low_nm"] or 0.0, result["guard_high_nm"] or 0.0)
    by_figures = judged(value, value, low, high, guards)
    written = ("nm", request.get("write_in", "nm"))
    if weighty(result):
        assert (result["verdict"], result["reason"]) == (CANNOT_SAY, weighty(result)[0])
        assert result["helps"] == []
        return
    holds_together(result, by_figures, [value], written)
    assert say(guard, *written) in result["why"]
    gaps = [abs(value - limit) for limit in (low, high) if limit is not None]
    if result["verdict"] == CANNOT_SAY:
        assert min(gaps) < guard
    else:
        assert result["helps"] == []
        assert min(gaps) >= guard
    if "Too low" in result["reason"]:
        assert value < low
    if "Too high" in result["reason"]:
        assert value > high


@settings(max_examples=150, derandomize=True)
@given(torque_checks())
def test_the_reason_of_a_torque_check_fits_its_verdict(request: dict[str, Any]) -> None:
    torque_check_holds_together(request, calc("breakaway", request))


def thicknesses(middle: float, spread: float, least: int = 3) -> st.SearchStrategy[list[float]]:
    """Points about a thickness: mostly even, at times far apart."""
    far = st.floats(-spread, spread).map(lambda off: middle + off)
    near = st.floats(-spread / 10, spread / 10).map(lambda off: middle + off)
    return st.lists(far, min_size=least, max_size=least) | st.lists(near, min_size=least, max_size=least)


def parts_hold_together(calculation: str, request: dict[str, Any], *tables: str) -> None:
    """The reason of each measured part goes with its figures, and that of the check with its parts."""
    result = calc(calculation, request)
    rows = [row for table in tables for row in result[table]]
    for row in rows:
        part_holds_together(row, "mm", request["write_in"])
    whole_holds_together(result, rows)


@st.composite
def plate_checks(draw: st.DrawFn) -> dict[str, Any]:
    """Two plates about their limits."""
    changes: dict[str, Any] = {"micrometer__calibration_due": draw(DUE), "write_in": draw(LENGTHS)}
    for place, middle in enumerate(draw(st.tuples(st.floats(2.27, 2.33), st.floats(1.35, 1.52)))):
        changes[f"plates__{place}__points_mm"] = draw(thicknesses(middle, 0.04))
        changes[f"plates__{place}__marks"] = draw(MARKS)
        changes[f"plates__{place}__gap_mm"] = draw(st.sampled_from([None, 0.05, 0.2]))
    return changed(PLATES, **changes)


@settings(max_examples=60, derandomize=True)
@given(plate_checks())
def test_reasons_of_plates_fit_their_verdicts(request: dict[str, Any]) -> None:
    parts_hold_together("plates", request, "plates")


@st.composite
def spring_checks(draw: st.DrawFn) -> dict[str, Any]:
    """Two discs about the tolerance of a new one."""
    disc = sample("spring_check", "good")["springs"][0]
    given_springs = [
        {**disc, "slot": slot, "points_mm": draw(thicknesses(draw(st.floats(4.6, 4.85)), 0.08)), "marks": draw(MARKS)}
        for slot in ("S1", "S2")
    ]
    return {"gauge": {"calibration_due": draw(DUE)}, "day": DAY, "write_in": draw(LENGTHS), "springs": given_springs}


@settings(max_examples=60, derandomize=True)
@given(spring_checks())
def test_reasons_of_springs_fit_their_verdicts(request: dict[str, Any]) -> None:
    parts_hold_together("spring_check", request, "springs")


@st.composite
def ring_checks(draw: st.DrawFn) -> dict[str, Any]:
    """Two rings and two pins about their limits."""
    depths = st.lists(st.floats(0, 0.09), min_size=1, max_size=4)
    rings = [{"slot": slot, "steps_mm": draw(depths), "marks": draw(MARKS)} for slot in ("R1", "R2")]
    ends = st.lists(st.floats(15.9, 16.01), min_size=2, max_size=2)
    pins = [{"slot": name, "new_mm": 16, "points_mm": draw(ends), "marks": draw(MARKS)} for name in ("pin 1", "pin 2")]
    tool = {"calibration_due": draw(DUE)}
    return {"gauge": tool, "day": DAY, "write_in": draw(LENGTHS), "rings": rings, "pins": pins}


@settings(max_examples=60, derandomize=True)
@given(ring_checks())
def test_reasons_of_rings_and_pins_fit_their_verdicts(request: dict[str, Any]) -> None:
    parts_hold_together("ring_check", request, "rings", "pins")


@st.composite
def inspections(draw: st.DrawFn) -> dict[str, Any]:
    """Features of other parts about their limits, with the gauges that they are measured with, and a crack test."""
    values = st.lists(st.floats(0.05, 0.35), min_size=1, max_size=3)
    rows = [
        {
            "name": f"play by {gauge}",
            "part": "splines",
            "measure": "play",
            "gauge": gauge,
            "low_mm": low,
            "high_mm": high,
            "usual_limits": draw(st.booleans()),
            "tool": {"calibration_due": draw(DUE)},
            "points_mm": draw(values),
        }
        for gauge, low, high in (("dial_gauge", 0.1, 0.3), ("feeler", None, 0.25), ("micrometer", 0.12, None))
    ]
    return {"day": DAY, "write_in": draw(LENGTHS), "features": rows}


@settings(max_examples=60, derandomize=True)
@given(inspections())
def test_reasons_of_an_inspection_fit_their_verdicts(request: dict[str, Any]) -> None:
    parts_hold_together("inspection", request, "features")


@st.composite
def refits(draw: st.DrawFn) -> dict[str, Any]:
    """What is checked when a unit goes back, about its limits."""
    request = changed(sample("refit", "all three"), day=DAY)
    request["backlash"]["points_mm"] = draw(st.lists(st.floats(0.07, 0.23), min_size=3, max_size=3))
    request["backlash"]["uneven_mm"] = draw(st.sampled_from([0.05, 0.5]))
    request["bearings"]["readings_nm"] = draw(st.lists(st.floats(1.3, 3.2), min_size=4, max_size=4))
    request["screws"]["readings_nm"] = draw(st.lists(st.floats(70, 110), min_size=2, max_size=2))
    for name, tool in (("backlash", "gauge"), ("bearings", "tool"), ("screws", "tool")):
        request[name][tool]["calibration_due"] = draw(DUE)
    return {**request, "write_in": draw(TORQUES), "write_lengths_in": draw(LENGTHS)}


@settings(max_examples=60, derandomize=True)
@given(refits())
def test_reasons_of_a_refit_fit_their_verdicts(request: dict[str, Any]) -> None:
    result = calc("refit", request)
    for row in result["checks"]:
        si, written = ("mm", "write_lengths_in") if row["name"] == "backlash" else ("nm", "write_in")
        part_holds_together(row, si, request[written])
    whole_holds_together(result, result["checks"])


@st.composite
def histories(draw: st.DrawFn) -> list[dict[str, Any]]:
    """Some checks of a unit, one a day."""
    strategies = {
        "torque_check": torque_checks(),
        "plate_check": plate_checks(),
        "spring_check": spring_checks(),
        "ring_check": ring_checks(),
        "inspection": inspections(),
        "refit": refits(),
    }
    bodies = [("unit", UNIT)] if draw(st.booleans()) else []
    for kind in draw(st.lists(st.sampled_from(sorted(strategies)), max_size=5)):
        bodies.append((kind, draw(strategies[kind])))
    return [
        {
            "id": f"id-{day}",
            "unit": "u",
            "kind": kind,
            "at": f"2026-05-{day:02d}T09:00:00Z",
            "body": body,
            "shown": calc(KINDS[kind].calculation, body),
        }
        for day, (kind, body) in enumerate(bodies, 1)
    ]


@settings(max_examples=60, derandomize=True)
@given(histories())
def test_the_reason_of_what_stands_fits_its_verdict(entries: list[dict[str, Any]]) -> None:
    result = calc("standing", {"entries": entries})
    rows = ([result["torque"]] if result["torque"] else []) + list(result["by_slot"].values()) + result["parts"]
    verdicts = {row["verdict"] for row in rows}
    if result["verdict"] is None:
        assert verdicts <= {GO}
        assert not claims(result["reason"]) - {"inside"}
        return
    whole = [GO, CANNOT_SAY, *OUTSIDE]
    assert result["verdict"] == max(verdicts, key=whole.index)
    assert result["reason"] in [row["reason"] for row in rows if row["verdict"] == result["verdict"]]


@settings(max_examples=60, derandomize=True)
@given(histories())
def test_reasons_of_what_a_strip_found_fit_their_verdicts(entries: list[dict[str, Any]]) -> None:
    strip: dict[str, Any] = {"id": "id-0", "unit": "u", "kind": "strip", "at": "2026-04-30T09:00:00Z"}
    strip["body"] = {"done": ["held", "screws", "relieved"], "guide": 2, "signed": "Jo"}
    strip["shown"] = calc("strip", strip["body"])
    result = calc("strip_found", {"entries": [strip, *entries]})
    states = {row["state"] for row in result["parts"]}
    judged_states = states & {GO, CANNOT_SAY, *OUTSIDE}
    whole = [GO, CANNOT_SAY, *OUTSIDE]
    worst = max(judged_states, key=whole.index) if judged_states else None
    assert result["verdict"] == (None if worst == GO and "unseen" in states else worst)
    for row in result["parts"]:
        if row["state"] in CLAIM_OF and claims(row["text"]):
            assert claims(row["text"]) == {CLAIM_OF[row["state"]]}
        assert row["asks"] == (row["state"] in (CANNOT_SAY, *OUTSIDE) and not row["answer"])


def test_every_calculation_that_judges_is_asked_here() -> None:
    judging = {name for name in CALCULATIONS if any(row.get("ok", {}).get("verdict") for row in recorded(name))}
    parts = {"plates", "spring_check", "ring_check", "inspection", "refit"}
    assert judging == parts | {"breakaway", "standing", "strip_found"}


@pytest.mark.parametrize(
    ("name", "rows"), [("plates", "plates"), ("spring_check", "springs"), ("ring_check", "rings"), ("refit", "checks")]
)
def test_the_reason_of_a_single_good_part_is_its_own(name: str, rows: str) -> None:
    single = {
        "plates": {**PLATES, "plates": PLATES["plates"][:1]},
        "spring_check": {**sample("spring_check", "good"), "springs": sample("spring_check", "good")["springs"][:1]},
        "ring_check": {**sample("ring_check", "good"), "rings": sample("ring_check", "good")["rings"][:1], "pins": []},
        "refit": {"screws": sample("refit", "all three")["screws"]},
    }
    result = calc(name, single[name])
    assert (result["verdict"], result["reason"]) == (GO, result[rows][0]["reason"])
