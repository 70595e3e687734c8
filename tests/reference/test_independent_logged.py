"""Which oil was in at a check, and what was logged between two, beside a notebook: seasons at random.

Source: first principles. The notebook is read backwards from a check: what the check says of its oil counts; else the
first filling that comes up, whatever was filled before it, since that was drained. Between two checks every filling is
read out, and of the outings that became too hot the hottest.
"""

import collections
import re
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT
from tests.engine.history.entries import check_near

from .notebook import Notebook, date_of

# Hotter oil than this is told.
TOO_HOT = 130
OILS = ["LS 90", "LS 140", "ls  90", " LS 140 ", "", "   "]
KINDS = ["torque_check"] * 5 + ["service"] * 5 + ["rebuild"] * 2 + ["outing"] * 5 + ["again"] * 4 + ["away"]
DATED = ("outing", "service")


class Logged(Notebook):
    """Checks, oil and outings."""

    def __init__(self, seed: int) -> None:
        super().__init__(f"logged {seed}", DATED)
        self.add("unit", UNIT)
        for _ in range(self.chance.randrange(4, 24)):
            self.hour += self.chance.choice([0.5, 2.0, 6.0, 20.0, 80.0])
            self.write(self.chance.choice(KINDS))
        while sum(page["kind"] == "torque_check" and page["stands"] for page in self.pages) < 2:
            self.hour += 2.0
            self.write("torque_check")

    def body_of(self, kind: str) -> dict[str, Any]:
        chance = self.chance
        if kind == "torque_check":
            body = check_near(float(chance.randrange(80, 120)))
            del body["day"]
            if chance.random() < 0.7:
                body["circumstances"] = {"oil": chance.choice([*OILS, "", ""]), "temperature": "warm"}
            return body
        if kind == "service":
            if chance.random() < 0.3:
                return {"washed": True}
            return {"oil_changed": True} | chance.choice([{}, {"oil": chance.choice(OILS)}])
        if kind == "rebuild":
            return {"note": "Set up."} | chance.choice([{}, {"oil": chance.choice(OILS)}])
        return {"where": "Old airfield"} | (
            {"oil_c": chance.choice([90, 130, 131, 141, 146])} if chance.random() < 0.7 else {}
        )


def filled(page: dict[str, Any]) -> bool:
    return bool(page["kind"] == "rebuild" or page["entry"]["body"].get("oil_changed"))


def oil_of(pages: list[dict[str, Any]], number: int) -> str:
    """The oil at the check of this number; blank where nobody can say."""
    typed = pages[number]["entry"]["body"].get("circumstances", {}).get("oil", "")
    if typed.strip():
        return str(typed)
    for page in reversed(pages[:number]):
        if filled(page):
            return str(page["entry"]["body"].get("oil", ""))
    return ""


def same_oil(first: str, two: str) -> bool:
    """Whether two names mean one oil, however they were typed."""
    return first.lower().split() == two.lower().split()


def expected_of(pages: list[dict[str, Any]], first: int, last: int) -> dict[str, Any]:
    between = pages[first + 1 : last]
    fillings = [
        (page["kind"], date_of(page), " ".join(page["entry"]["body"].get("oil", "").split()))
        for page in between
        if filled(page)
    ]
    hot = [(page["entry"]["body"].get("oil_c", 0), date_of(page)) for page in between if page["kind"] == "outing"]
    hottest = max([row[0] for row in hot], default=0)
    return {
        "mark": not same_oil(oil_of(pages, first), oil_of(pages, last)),
        "fillings": fillings,
        "hottest": f"{hottest:g}" if hottest > TOO_HOT else None,
        "days": {day for degrees, day in hot if degrees == hottest} if hottest > TOO_HOT else set(),
    }


def found_of(answer: dict[str, Any], days: set[str]) -> dict[str, Any]:
    """The same of an answer."""
    oils = [row["text"] for row in answer["logged"] if row["name"] == "oil"]
    heats = [row["text"] for row in answer["logged"] if row["name"] == "heat"]
    assert len(heats) <= 1
    assert len(oils) + len(heats) == len(answer["logged"])
    fillings = []
    for text in oils:
        filling = re.fullmatch(
            r"(.*) was put in on ([\d-]{10}), with the (rebuild|service)(; nobody wrote which)?\.", text
        )
        assert filling, text
        fillings.append((filling[3], filling[2], "" if filling[4] else " ".join(filling[1].split())))
    hottest = re.search(r"reached ([\d.]+) °C on (\d{4}-\d\d-\d\d)", heats[0]) if heats else None
    assert bool(hottest) == bool(heats)
    return {
        "mark": "oil" in [mark["name"] for mark in answer["compared"]["marks"]],
        "fillings": fillings,
        "hottest": hottest[1] if hottest else None,
        # Of outings that were equally hot either may be told.
        "days": days if hottest and hottest[2] in days else {hottest[2]} if hottest else set(),
    }


def test_oil_and_heat_are_those_of_the_notebook(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        book = Logged(seed)
        pages = book.in_order()
        checks = [number for number, page in enumerate(pages) if page["kind"] == "torque_check"]
        first, last = sorted(book.chance.sample(checks, 2))
        entries = book.entries.copy()
        book.chance.shuffle(entries)
        names = {"before": pages[first]["entry"]["id"], "now": pages[last]["entry"]["id"]}
        answer = calc("change", {"entries": entries, **names})
        assert [row["id"] for row in answer["checks"]] == [pages[number]["entry"]["id"] for number in checks]
        expected = expected_of(pages, first, last)
        assert found_of(answer, expected["days"]) == expected, seed
        seen.update([f"mark {expected['mark']}", f"hot {bool(expected['hottest'])}"])
        seen["fillings"] += len(expected["fillings"])
        seen["nameless"] += sum(not oil for _, _, oil in expected["fillings"])
        seen["cases"] += 1
    print(dict(seen))
    assert all(seen[name] for name in ("mark True", "mark False", "hot True", "hot False", "fillings", "nameless")), (
        seen
    )
