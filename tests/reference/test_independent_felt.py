"""What was felt beside what was measured, as somebody with a notebook links the two: seasons at random.

Source: the table below, common practice, no source, read off by hand: the notebook is read backwards to the first page
on which the driver said anything; each complaint gets the first cause on its line that was measured. Torques, guard
bands and verdicts of single measurements are taken as their entries show them.
"""

import collections
import datetime
import re
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import check_near

from .notebook import Notebook, date_of

# Complaint: its causes, the likeliest first.
TABLE = {
    "spins": ["low"],
    "loose": ["low"],
    "pushes": ["high"],
    "snaps": ["high"],
    "hops": ["high", "oil"],
    "judders": ["oil", "plates"],
    "bangs": ["refit"],
    "whines": ["refit"],
    "pulls": [],
}
WHEN = [None, None, "power", "lift", "braking", "entry", "straight"]
KINDS = ["torque_check"] * 4 + ["plate_check"] * 3 + ["refit"] * 2 + ["outing"] * 8 + ["rebuild"]
KINDS += ["service"] * 2 + ["again"] * 3 + ["away", "unit"]
POINTS = {"friction": [2.46, 2.46, 2.301, 2.1], "separator": [1.98, 1.98, 1.901, 1.8]}
BACKLASH = [[0.15] * 3, [0.15] * 3, [0.195] * 3, [0.05] * 3]
BEARINGS = [[2.2, 2.3, 2.2], [1.6, 1.7, 1.5], [0.7, 0.8, 0.75]]


class Felt(Notebook):
    """What was measured, done and felt."""

    def __init__(self, seed: int) -> None:
        super().__init__(f"felt {seed}", ("outing",))
        self.unit: dict[str, Any] = {}
        self.write("unit")
        for _ in range(self.chance.randrange(2, 20)):
            self.hour += self.chance.choice([0.5, 2.0, 6.0, 20.0, 80.0])
            self.write(self.chance.choice(KINDS))

    def defined(self) -> dict[str, Any]:
        chance = self.chance
        service = chance.choice([{"low_nm": 70, "high_nm": 130}, {"low_nm": 80}, {"high_nm": 120}, {}])
        if chance.random() < 0.6:
            service = service | {"oil_every_outings": chance.randrange(1, 5)}
        # Of the last, a reading may be below and above at once.
        orders = [None, {"torque_nm": 100, "tolerance_nm": 10}, {"torque_nm": 85, "tolerance_nm": 5}]
        order = chance.choice([*orders, {"torque_nm": 90, "tolerance_nm": 2}])
        if order is None and not set(service) & {"low_nm", "high_nm"}:
            service = {"low_nm": 70, "high_nm": 130} | service
        return changed(UNIT, order=order, service=service or None)

    def felt(self) -> dict[str, Any]:
        chance, rows = self.chance, {}
        if chance.random() < 0.3:
            return {}
        if chance.random() < 0.1:
            return {"nothing_felt": True}
        for _ in range(chance.randrange(1, 10)):
            row = {"what": chance.choice(list(TABLE)), "when": chance.choice(WHEN)}
            rows[row["what"]] = {name: value for name, value in row.items() if value}
        return {"felt": list(rows.values())}

    def body_of(self, kind: str) -> dict[str, Any]:
        chance = self.chance
        plates = [row for row in UNIT["chain"] if row["part"] in POINTS]
        if kind == "unit":
            return self.defined()
        if kind == "torque_check":
            body = check_near(chance.choice([60.0, 75.0, 80.0, 88.0, 92.0, 100.0, 108.0, 112.0, 130.0, 145.0]))
            del body["day"]
            return body
        if kind == "plate_check":
            seen = chance.sample(plates, chance.randrange(1, 4))
            lines = [row | {"points_mm": [chance.choice(POINTS[row["part"]])] * 3} for row in seen]
            return {"micrometer": {"division_mm": 0.01}, "plates": lines}
        if kind == "refit":
            backlash = {"points_mm": chance.choice(BACKLASH), "low_mm": 0.1, "high_mm": 0.2, "gauge": {}}
            tool = {"division_nm": 0.1}
            bearings = {"readings_nm": chance.choice(BEARINGS), "low_nm": 1.5, "high_nm": 3, "tool": tool}
            both = {"backlash": backlash, "bearings": bearings}
            return chance.choice([both, {"backlash": backlash}, {"bearings": bearings}])
        if kind == "service":
            return {"oil_changed": True} if chance.random() < 0.7 else {"washed": True}
        if kind == "rebuild":
            new = chance.sample(plates, chance.randrange(4))
            return {"note": "Set up.", "fitted": [{"slot": row["slot"], "mm": row["new_mm"]} for row in new]}
        return {"where": "Old airfield"} | self.felt()

    def write(self, kind: str) -> None:
        if kind == "unit":
            self.unit = self.body_of(kind)
            self.add(kind, self.unit)
            return
        super().write(kind)


def said_last(pages: list[dict[str, Any]]) -> tuple[str, list[dict[str, Any]]]:
    """The day of the newest outing since the rebuild of which anything was said, and the complaints."""
    for page in reversed(pages):
        body = page["entry"]["body"]
        if page["kind"] == "rebuild":
            break
        if page["kind"] == "outing" and (body.get("felt") or body.get("nothing_felt")):
            return date_of(page), body.get("felt", [])
    return "", []


def since(pages: list[dict[str, Any]], kind: str) -> dict[str, Any] | None:
    """The newest page of a kind since the last rebuild."""
    for page in reversed(pages):
        if page["kind"] in (kind, "rebuild"):
            return page if page["kind"] == kind else None
    return None


def off_limits(pages: list[dict[str, Any]], unit: dict[str, Any]) -> dict[str, str]:
    """How surely the torque is below or above: "is" or "may be"."""
    check = since(pages, "torque_check")
    if check is None:
        return {}
    value, guard = check["entry"]["shown"]["value_nm"], check["entry"]["shown"]["guard_nm"]
    order, service = unit.get("order"), unit.get("service") or {}
    low, high = service.get("low_nm"), service.get("high_nm")
    if order:
        low, high = order["torque_nm"] - order["tolerance_nm"], order["torque_nm"] + order["tolerance_nm"]
    off = {}
    if low is not None and value < low + guard:
        off["low"] = "is" if value < low - guard else "may be"
    if high is not None and value > high - guard:
        off["high"] = "is" if value > high + guard else "may be"
    return off


def oil_is_due(pages: list[dict[str, Any]], unit: dict[str, Any]) -> bool:
    every = (unit.get("service") or {}).get("oil_every_outings")
    run = 0
    for page in pages:
        if page["kind"] == "rebuild" or page["entry"]["body"].get("oil_changed"):
            run = 0
        run += page["kind"] == "outing"
    return every is not None and run >= every


def how_bad(verdicts: list[str]) -> str:
    """ "is" where one of them is bad, "may be" where one has to be read again, blank where all are good."""
    if any(verdict not in ("go", "measure_again") for verdict in verdicts):
        return "is"
    return "may be" if "measure_again" in verdicts else ""


def plates_in_it(pages: list[dict[str, Any]]) -> dict[str, str]:
    """How each plate that is still in was last found."""
    found: dict[str, str] = {}
    for page in pages:
        if page["kind"] == "plate_check":
            found.update({row["slot"]: row["verdict"] for row in page["entry"]["shown"]["plates"]})
        elif page["kind"] == "rebuild":
            found.update({row["slot"]: "go" for row in page["entry"]["body"]["fitted"]})
    return found


def refit_since(pages: list[dict[str, Any]]) -> dict[str, str]:
    """How each check of a refit was last found since the last rebuild, by whichever refit made it last."""
    found: dict[str, str] = {}
    for page in pages:
        if page["kind"] == "rebuild":
            found = {}
        elif page["kind"] == "refit":
            found.update({row["name"]: row["verdict"] for row in page["entry"]["shown"]["checks"]})
    return found


def expected_of(book: Felt) -> list[tuple[str, str, str]]:
    """Complaint, day and cause, as far as one was measured."""
    pages = book.in_order()
    day, complaints = said_last(pages)
    causes = off_limits(pages, book.unit)
    causes |= {"oil": "is"} if oil_is_due(pages, book.unit) else {}
    for cause, found in (("plates", plates_in_it(pages)), ("refit", refit_since(pages))):
        how = how_bad(list(found.values()))
        causes |= {cause: how} if how else {}
    rows = []
    for complaint in complaints:
        what = complaint["what"]
        fitting = [cause for cause in TABLE[what] if cause in causes]
        if fitting and not (what == "loose" and complaint.get("when") == "power"):
            rows.append((what, day, f"{causes[fitting[0]]} {fitting[0]}"))
    return rows


SAID = [
    (r"the torque (is|may be) (below|above) what (was ordered|its limits allow) \(", None),
    (r"its oil is due to be changed", "is oil"),
    (r"of its plates [^;]*(?:is|are) not good", "is plates"),
    (r"of its plates [^;]*(?:is|are) to be measured again, and may not be good", "may be plates"),
    (r"measured as it was put back into the axle is not good", "is refit"),
    (r"measured as it was put back into the axle is to be measured again, and may not be good", "may be refit"),
]


def day_in(text: str) -> str:
    """The one day that a sentence names."""
    [day] = re.findall(r"\d{4}-\d\d-\d\d", text)
    return str(day)


def cause_in(text: str) -> str:
    """The cause that a sentence names; exactly one."""
    found = [(re.search(pattern, text), cause) for pattern, cause in SAID]
    [(match, cause)] = [(match, cause) for match, cause in found if match]
    if cause:
        return cause
    return f"{match[1]} {'low' if match[2] == 'below' else 'high'}"


def test_complaints_are_linked_as_the_table_says(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        book = Felt(seed)
        entries = book.entries.copy()
        book.chance.shuffle(entries)
        today = (book.done() + datetime.timedelta(days=2)).date().isoformat()
        answer = calc("standing", {"entries": entries, "today": today})
        felt = [row for row in answer["findings"] if row["name"].startswith("felt_")]
        found = [(row["name"][5:], day_in(row["text"]), cause_in(row["text"])) for row in felt]
        expected = expected_of(book)
        assert found == expected, seed
        assert all(row["verdict"] is None for row in felt)
        ordered = ["what was ordered" in row["text"] for row in felt if "the torque" in row["text"]]
        assert all(by_order == bool(book.unit.get("order")) for by_order in ordered)
        plates = [slot for slot, verdict in plates_in_it(book.in_order()).items() if verdict != "go"]
        assert all(slot in row["text"] for row in felt if "of its plates" in row["text"] for slot in plates)
        seen.update(cause for _, _, cause in expected)
        seen["none"] += not expected
    print(dict(seen))
    wanted = ["is low", "may be low", "is high", "may be high", "is oil"]
    wanted += ["is plates", "may be plates", "is refit", "may be refit", "none"]
    assert all(seen[name] for name in wanted), seen
