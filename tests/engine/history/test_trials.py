"""A change to try from the complaint to the answer: chosen, made, run, answered; and what gets in its way."""

from typing import Any

from server.engine import calc

from ..checks import UNIT, changed
from .entries import entry

RAMPS = {"pin_radius_mm": 34, "drive_deg": 45, "coast_deg": 60, "mu": 0.1}
FELT = {"what": "pushes", "when": "power", "corners": "slow"}


def at(day: int, hour: int = 9) -> str:
    return f"2026-05-{day:02d}T{hour:02d}:00:00+02:00"


def unit(day: int = 1, **changes: Any) -> dict[str, Any]:
    return entry(1 if day == 1 else 100 + day, "unit", changed(UNIT, ramps=RAMPS, **changes), at(day), seq=day)


def outing(number: int, **body: Any) -> dict[str, Any]:
    return entry(number, "outing", {"where": "Airfield", **body}, at(number), seq=number)


def chosen(number: int, hour: int = 10, **body: Any) -> dict[str, Any]:
    full = {"lever": "preload", "torque_nm": 80, "complaint": FELT, "outing": "id-2", "reason": "It pushes.", **body}
    return entry(number, "trial", {name: full[name] for name in full if full[name] is not None}, at(number, hour))


def rebuild(number: int, **body: Any) -> dict[str, Any]:
    return entry(number, "rebuild", {"note": "Set up.", **body}, at(number), seq=number)


def standing(*entries: dict[str, Any], **more: Any) -> Any:
    return calc("standing", {"entries": list(entries), "today": "2026-05-30", **more})


BEGUN = [unit(), outing(2, felt=[FELT], conditions="wet"), chosen(3)]


def test_a_change_goes_from_chosen_to_answered() -> None:
    states = []
    log = list(BEGUN)
    for more in (
        [],
        [rebuild(4, trials=["id-3"])],
        [outing(5)],
        [outing(6, helped=[{"trial": "id-3", "answer": "better"}])],
    ):
        log += more
        [row] = standing(*log)["trials"]
        states.append((row["state"], row["asks"], row["outings"]))
    assert states == [("chosen", False, 0), ("made", True, 0), ("run", True, 1), ("answered", False, 2)]
    assert row["change"] == "breakaway torque 80.0 N·m"
    assert row["felt"] == "pushes wide at the front, on power, slow corners"
    assert row["made"] == {"id": "id-4", "at": at(4)}
    assert [answer["text"] for answer in row["answers"]] == ["it is better"]
    assert row["text"] == "Made with the rebuild of 2026-05-04. Did it help: it is better."
    assert row["stays"]
    # After the next rebuild it is history.
    [row] = standing(*log, rebuild(7))["trials"]
    assert not row["stays"]


def test_an_answer_from_before_it_was_made_is_told_and_not_counted() -> None:
    answered = [{"trial": "id-3", "answer": "better"}]
    [row] = standing(*BEGUN, outing(4, helped=answered))["trials"]
    assert (row["state"], row["answers"]) == ("chosen", [])
    assert row["notes"] == [
        "The outing of 2026-05-04 says whether it helped, and nothing says that it was made: correct the rebuild or "
        "the service that made it."
    ]
    [row] = standing(*BEGUN, outing(4, helped=answered), rebuild(5, trials=["id-3"]), outing(6))["trials"]
    assert (row["state"], row["asks"], row["answers"]) == ("run", True, [])
    assert row["notes"] == [
        "The outing of 2026-05-04 says whether it helped, before it was made: that answer is not counted."
    ]
    # Of two things of one day nobody may have said which came first.
    early = outing(5, helped=answered) | {"id": "id-8", "at": at(5, 8)}
    [row] = standing(*BEGUN, early, rebuild(5, trials=["id-3"]))["trials"]
    assert (row["state"], row["notes"]) == ("answered", [])


def test_a_rebuild_that_does_not_say_so_leaves_it_open() -> None:
    [row] = standing(*BEGUN, rebuild(4), outing(5))["trials"]
    assert (row["state"], row["asks"]) == ("chosen", False)
    assert row["notes"] == [
        "The unit was rebuilt on 2026-05-04, and that rebuild does not say that this was made. Correct it if it was; "
        "else look whether the complaint is still there."
    ]


def test_two_changes_at_once_share_one_answer() -> None:
    log = [*BEGUN, chosen(3, 11, lever="turned_over", torque_nm=None) | {"id": "id-9"}]
    rows = standing(*log, rebuild(4, trials=["id-3", "id-9"]))["trials"]
    assert {row["id"] for row in rows} == {"id-3", "id-9"}
    assert "Made together with: rings turned over." in next(row for row in rows if row["id"] == "id-3")["notes"][0]
    assert "Made together with: breakaway torque 80.0 N·m." in rows[0]["notes"][0]


def test_rings_with_other_plates_may_have_another_preload() -> None:
    log = [unit(), chosen(3, lever="drive_ramp", torque_nm=None, drive_deg=55)]
    fitted = [{"slot": "A2", "mm": 2.55}]
    [row] = standing(*log, rebuild(4, trials=["id-3"], fitted=fitted))["trials"]
    assert "Plates were exchanged with it" in row["notes"][0]


def test_a_change_that_was_made_waits_for_the_definition_to_follow() -> None:
    log = [*BEGUN, rebuild(4, trials=["id-3"])]
    assert not standing(*log)["trials"][0]["defined"]
    assert standing(*log, unit(5, order__torque_nm=80))["trials"][0]["defined"]
    ramp = [unit(), chosen(3, lever="drive_ramp", torque_nm=None, drive_deg=55), rebuild(4, trials=["id-3"])]
    assert not standing(*ramp)["trials"][0]["defined"]
    assert standing(*ramp, unit(5, ramps__drive_deg=55))["trials"][0]["defined"]


def test_oil_is_made_with_a_service() -> None:
    oil = chosen(3, lever="oil", torque_nm=None)
    served = entry(4, "service", {"oil_changed": True, "trials": ["id-3"]}, at(4))
    [row] = standing(unit(), oil, served, outing(5))["trials"]
    assert (row["state"], row["text"]) == ("run", "Made with the service of 2026-05-04, 1 outing since: did it help?")


def test_a_withdrawn_change_is_gone() -> None:
    note = entry(4, "note", {"text": "Withdrawn."}, at(4)) | {"replaces": "id-3"}
    assert standing(*BEGUN, note)["trials"] == []


def test_what_was_felt_says_whether_it_was_of_another_build() -> None:
    [row] = standing(*BEGUN)["felt"]
    assert (row["id"], row["conditions"], row["rebuilt"]) == ("id-2", "wet", None)
    assert row["felt"][0]["text"] == "pushes wide at the front, on power, slow corners"
    assert standing(*BEGUN, rebuild(4))["felt"][0]["rebuilt"] == at(4)


def test_the_torque_is_said_in_the_readers_unit() -> None:
    assert standing(*BEGUN, write_in="lbf_ft")["trials"][0]["change"] == "breakaway torque 59.0 lbf·ft"


def test_a_change_that_was_corrected_keeps_what_refers_to_it() -> None:
    log = [*BEGUN, rebuild(4, trials=["id-3"]), outing(5, helped=[{"trial": "id-3", "answer": "better"}])]
    again = chosen(6, reason="It pushes, in the wet.") | {"replaces": "id-3"}
    felt = outing(7, felt=[FELT], conditions="damp") | {"replaces": "id-2"}
    [row] = standing(*log, again, felt)["trials"]
    assert (row["id"], row["state"], row["asks"]) == ("id-6", "answered", False)
    assert row["made"] == {"id": "id-4", "at": at(4)}
    assert [answer["answer"] for answer in row["answers"]] == ["better"]
    # So does it name the outing as that stands now.
    assert row["outing"] == "id-7"


def test_other_faces_and_rings_turned_over_are_to_be_defined_too() -> None:
    fewer = [row for row in UNIT["chain"] if row["slot"] not in ("B4", "B5")]
    faces = [unit(), chosen(3, lever="faces", torque_nm=None, faces=6), rebuild(4, trials=["id-3"])]
    assert not standing(*faces)["trials"][0]["defined"]
    assert standing(*faces, unit(5, chain=fewer))["trials"][0]["defined"]
    over = [unit(), chosen(3, lever="turned_over", torque_nm=None), rebuild(4, trials=["id-3"])]
    assert not standing(*over)["trials"][0]["defined"]
    redefined = entry(105, "unit", changed(UNIT, ramps=RAMPS | {"drive_deg": 60, "coast_deg": 45}), at(5), seq=5)
    assert standing(*over, redefined)["trials"][0]["defined"]
