"""What was felt beside what was measured: which measured cause a complaint is linked to, and when it is not."""

from typing import Any

import pytest

from server.engine import calc

from ..checks import UNIT, changed
from .entries import check_near, entry


def at(day: int) -> str:
    return f"2026-05-{day:02d}T09:00:00+02:00"


TAKEN_IN = entry(1, "unit", changed(UNIT, service__oil_every_outings=2), at(1), seq=1)
ORDER: dict[str, Any] = UNIT["order"]


def felt(number: int, *what: str, when: str | None = "power", **body: Any) -> dict[str, Any]:
    rows = [{"what": name, **({"when": when} if when else {})} for name in what]
    return entry(
        number, "outing", {"where": "Airfield", **({"felt": rows} if rows else {}), **body}, at(number), seq=number
    )


def check(number: int, nm: float) -> dict[str, Any]:
    return entry(number, "torque_check", check_near(nm), at(number), seq=number)


def findings(*entries: dict[str, Any], today: str = "2026-05-20") -> Any:
    rows = calc("standing", {"entries": [TAKEN_IN, *entries], "today": today})["findings"]
    return {row["name"]: row for row in rows if row["name"].startswith("felt_")}


LOW, HIGH = ORDER["torque_nm"] * 0.6, ORDER["torque_nm"] * 1.3


def test_a_wheel_that_spins_goes_with_a_torque_below_the_order() -> None:
    [row] = findings(check(2, LOW), felt(3, "spins")).values()
    assert row["title"] == "Inside wheel spins: torque is below what was ordered"
    assert row["text"].startswith("Felt on 2026-05-03: inside wheel spins, on power. Measured: the torque is below ")
    assert "common practice, no source" in row["text"]
    assert row["verdict"] is None
    assert findings(check(2, ORDER["torque_nm"]), felt(3, "spins")) == {}
    assert findings(felt(3, "spins")) == {}


@pytest.mark.parametrize(
    ("what", "when", "torque", "linked"),
    [
        ("pushes", "entry", HIGH, True),
        ("pushes", "power", LOW, False),
        ("loose", "lift", LOW, True),
        ("loose", "power", LOW, False),
        ("hops", None, HIGH, True),
        ("pulls", None, LOW, False),
    ],
)
def test_which_complaint_goes_with_which_torque(what: str, when: str | None, torque: float, linked: bool) -> None:
    assert list(findings(check(2, torque), felt(3, what, when=when))) == ([f"felt_{what}"] if linked else [])


def test_only_what_was_felt_last_since_the_rebuild_counts() -> None:
    spun = (check(2, LOW), felt(3, "spins"))
    assert findings(*spun, felt(4))
    assert findings(*spun, felt(4, nothing_felt=True)) == {}
    assert list(findings(*spun, felt(4, "loose", when="lift"))) == ["felt_loose"]
    assert findings(*spun, entry(5, "rebuild", {"note": "Set up."}, at(5), seq=5), check(6, LOW)) == {}


def test_oil_that_is_due_goes_with_judder() -> None:
    oiled = entry(2, "service", {"oil_changed": True, "oil": "LS 90"}, at(2), seq=2)
    assert findings(oiled, felt(3, "judders")) == {}
    [row] = findings(oiled, felt(3), felt(4), felt(5, "judders")).values()
    assert row["title"] == "Judders or chatters: oil overdue"


def test_a_torque_in_doubt_at_both_ends_may_be_either_cause() -> None:
    narrow = entry(2, "unit", changed(UNIT, order={"torque_nm": 90, "tolerance_nm": 2}), at(2), seq=2)
    rows = findings(narrow, check(3, 90.0), felt(4, "spins", "pushes"))
    assert rows["felt_spins"]["title"].endswith(": torque may be below what was ordered")
    assert rows["felt_pushes"]["title"].endswith(": torque may be above what was ordered")
