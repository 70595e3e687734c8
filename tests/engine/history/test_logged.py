"""Oil and warmth as they were logged, in what is said of friction that changed."""

from typing import Any

import pytest

from server.engine import calc
from server.engine.history.logged import between, oil_at
from server.engine.history.order import placed

from ..checks import UNIT
from .entries import check_near, entry
from .test_change import LOG, found


def at(day: int, hour: int = 9) -> str:
    return f"2026-04-{day:02d}T{hour:02d}:00:00+02:00"


def service(number: int, day: int, **body: Any) -> dict[str, Any]:
    return entry(number, "service", {"oil_changed": True, **body}, at(day), seq=number)


def check(number: int, day: int, **circumstances: Any) -> dict[str, Any]:
    return entry(number, "torque_check", check_near(100, **circumstances), at(day), seq=number)


def oil(*entries: dict[str, Any]) -> str:
    """The oil at the last of them."""
    rows = placed(list(entries))
    return oil_at(rows, next(row for row in rows if row["id"] == entries[-1]["id"]))


def test_the_oil_is_the_checks_own_or_else_what_was_filled_in_last() -> None:
    filled = service(11, 3, oil="LS 90")
    assert oil(filled, check(12, 4, oil="75W-140")) == "75W-140"
    assert oil(filled, check(12, 4)) == "LS 90"
    assert oil(filled, service(13, 5, oil="LS 110"), check(12, 6)) == "LS 110"
    assert oil(filled, check(12, 2)) == ""
    # Filled in and not named: nobody knows what is in it now. Washing fills nothing in.
    assert oil(filled, entry(13, "rebuild", {"note": "Set up."}, at(5)), check(12, 6)) == ""
    washed = entry(13, "service", {"oil_changed": False, "washed": True}, at(5))
    assert oil(filled, washed, check(12, 6)) == "LS 90"
    # What was done on an earlier day was in it from then on, whenever it was written.
    assert oil(
        entry(11, "service", {"oil_changed": True, "oil": "LS 90", "day": "2026-04-02"}, at(8)), check(12, 4)
    ) == ("LS 90")


def test_fillings_and_the_hottest_outing_between_two_checks_are_told() -> None:
    first, last = check(11, 2), check(12, 20)
    runs = [
        entry(20 + day, "outing", {"where": "Airfield", **({"oil_c": heat} if heat else {})}, at(day), seq=20 + day)
        for day, heat in ((3, 128), (4, "141"), (5, 135), (6, None), (21, 180))
    ]
    rows = placed([first, last, *runs, service(13, 10, oil="LS 90"), service(14, 12)])
    earlier, later = (next(row for row in rows if row["id"] == name) for name in ("id-11", "id-12"))
    noted = between(rows, earlier, later)
    assert [row["name"] for row in noted] == ["oil", "oil", "heat"]
    assert noted[0]["text"] == "LS 90 was put in on 2026-04-10, with the service."
    assert noted[1]["text"] == "Oil was put in on 2026-04-12, with the service; nobody wrote which."
    assert "141 °C on 2026-04-04" in noted[2]["text"]
    assert between(rows, later, earlier) == noted
    assert between(placed([first, last, runs[0]]), earlier, later) == []


@pytest.mark.parametrize(
    ("before", "now", "words"),
    [
        ({}, {}, "glazed plates or the wrong oil"),
        ({"oil": "LS 90"}, {"oil": "ls  90"}, "glazed plates or the wrong oil"),
        ({"oil": "LS 90", "temperature": "cold"}, {"oil": "LS 90", "temperature": "cold"}, "in the same oil"),
        ({"oil": "LS 90"}, {"oil": "LS 140"}, "(then LS 90, now LS 140), and friction goes by the oil"),
        ({"temperature": "cold"}, {"temperature": "hot"}, "it was cold then and hot now, which alone changes friction"),
        (
            {"oil": "LS 90", "temperature": "cold"},
            {"oil": "LS 140", "temperature": "hot"},
            "now LS 140), and it was cold then and hot now",
        ),
    ],
)
def test_what_differs_in_the_log_comes_before_the_plates(before: Any, now: Any, words: str) -> None:
    sides = {"before": {"torque_nm": 100, **before}, "now": {"torque_nm": 70, **now}}
    same: dict[str, Any] = {"plates": [], "l0_mm": None}
    answer = calc("loss", {"unit": UNIT, **{name: {**same, **side} for name, side in sides.items()}})
    [friction] = [row for row in answer["shares"] if row["cause"] == "friction"]
    assert friction["text"].startswith("Friction down 30 %: ")
    assert words in friction["text"]


def test_two_checks_are_compared_with_the_oil_of_the_log() -> None:
    filled = entry(9, "service", {"oil_changed": True, "oil": "LS 140"}, "2026-04-01T09:00:00+02:00", seq=9)
    bare = [
        row if row["id"] != "id-4" else entry(4, "torque_check", check_near(80, outings=6), row["at"]) for row in LOG
    ]
    got = found([*bare, filled])
    assert [mark["name"] for mark in got["compared"]["marks"]] == ["oil"]
    assert got["compared"]["marks"][0]["text"].startswith("Other oil (then LS 90, now LS 140)")
    assert got["logged"] == [{"name": "oil", "text": "LS 140 was put in on 2026-04-01, with the service."}]
