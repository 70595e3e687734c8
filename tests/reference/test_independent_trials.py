"""Changes to try beside the bookkeeping of somebody with a notebook: seasons at random.

Source: first principles. A change is made when a rebuild or service says so, the first that does; what was run since
is what stands after that page; an answer counts where its outing stands, unless its day is before that on which it was
made; a correction stands where the page stood that it corrects, and a note in place of a page takes it away. A page
that names another means what stands there now.
"""

import collections
import datetime
import random
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
RAMPS = {"pin_radius_mm": 34, "drive_deg": 45, "coast_deg": 60, "mu": 0.1}
KINDS = ["outing"] * 7 + ["trial"] * 4 + ["rebuild"] * 3 + ["service"] * 2 + ["again"] * 4 + ["away"] + ["unit"] * 2
FELT: list[dict[str, Any]] = [
    {"what": "pushes", "when": "power", "corners": "slow"},
    {"what": "spins"},
    {"what": "loose", "when": "lift"},
]
CHANGES: list[dict[str, Any]] = [
    {"lever": "preload", "torque_nm": 80},
    {"lever": "preload", "torque_nm": 120},
    {"lever": "drive_ramp", "drive_deg": 55},
    {"lever": "coast_ramp", "coast_deg": 45},
    {"lever": "faces", "faces": 6},
    {"lever": "turned_over"},
    {"lever": "pair", "pair": "40/40"},
    {"lever": "oil"},
]
OTHER_PAIR = {"name": "40/40", "drive_deg": 40, "coast_deg": 40}
FEWER = [row for row in UNIT["chain"] if row["slot"] not in ("B4", "B5")]
# What the definition may be changed to.
DEFINED: list[dict[str, Any]] = [
    {"order__torque_nm": 80},
    {"order__torque_nm": 120},
    {"ramps__drive_deg": 55},
    {"ramps__coast_deg": 45},
    {"ramps__drive_deg": 60, "ramps__coast_deg": 45},
    {"ramps__drive_deg": 40, "ramps__coast_deg": 40, "other_ramps": [OTHER_PAIR | {"name": "45/60"}]},
    {"chain": FEWER},
]
ANSWERS = ["gone", "better", "same", "worse", "unclear"]


class Notebook:
    """Pages in the order of writing; each is what stands there now, with the ids that it had."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(f"trials {seed}")
        self.entries = [
            entry(1, "unit", changed(UNIT, ramps=RAMPS, other_ramps=[OTHER_PAIR]), START.isoformat(), seq=1)
        ]
        self.pages: list[dict[str, Any]] = []
        self.unit: dict[str, Any] = self.entries[0]["body"]
        self.hour = 0.0
        self.definitions = [(self.hour, self.unit)]
        for _ in range(self.chance.randrange(2, 22)):
            self.hour += self.chance.choice([0.5, 2.0, 6.0, 20.0, 30.0, 80.0])
            self.write(self.chance.choice(KINDS))
        self.today = START + datetime.timedelta(hours=self.hour + 100)

    def done(self) -> datetime.datetime:
        return START + datetime.timedelta(hours=self.hour)

    def add(self, kind: str, body: dict[str, Any], **more: Any) -> str:
        number = len(self.entries) + 1
        self.entries.append(entry(number, kind, body, self.done().isoformat(), seq=number, **more))
        return f"id-{number}"

    def standing(self, *kinds: str) -> list[dict[str, Any]]:
        return [page for page in self.pages if page["kind"] in kinds and page["stands"]]

    def some_trials(self, most: int) -> list[str]:
        """Ids of changes as somebody who writes now sees them."""
        ids = [page["ids"][-1] for page in self.standing("trial")]
        return self.chance.sample(ids, min(len(ids), self.chance.randrange(most + 1)))

    def body_of(self, kind: str) -> dict[str, Any]:
        chance = self.chance
        body: dict[str, Any] = {}
        if kind == "trial":
            body = {**chance.choice(CHANGES), "reason": "To see."}
            if chance.random() < 0.6:
                body["complaint"] = chance.choice(FELT)
            outings = self.standing("outing")
            if outings and chance.random() < 0.5:
                body["outing"] = chance.choice(outings)["ids"][-1]
        elif kind == "outing":
            body["where"] = "Old airfield"
            if chance.random() < 0.5:
                body["felt"] = chance.sample(FELT, chance.randrange(1, 3))
            helped = self.some_trials(2)
            if helped:
                body["helped"] = [{"trial": trial, "answer": chance.choice(ANSWERS)} for trial in helped]
        elif kind in ("rebuild", "service"):
            body = {"note": "Set up."}
            trials = self.some_trials(2)
            if trials:
                body["trials"] = trials
        return body

    def write(self, kind: str) -> None:
        chance = self.chance
        if kind == "unit":
            self.unit = changed(self.unit, **chance.choice(DEFINED))
            self.definitions.append((self.hour, self.unit))
            self.add("unit", self.unit)
        elif kind in ("again", "away"):
            pages = self.standing("trial", "rebuild", "service", "outing")
            if not pages:
                return
            page = chance.choice(pages)
            if kind == "away":
                page["stands"] = False
                self.add("note", {"text": "Withdrawn."}, replaces=page["ids"][-1])
                return
            page["body"] = self.body_of(page["kind"]) | ({"day": page["day"]} if page["day"] else {})
            page["ids"].append(self.add(page["kind"], page["body"], replaces=page["ids"][-1]))
        else:
            body, day, when = self.body_of(kind), None, self.hour
            if kind == "outing" and chance.random() < 0.3:
                # Written down on a later day: it was the last of its own.
                date = self.done().date() - datetime.timedelta(days=chance.choice([0, 1, 2]))
                day = body["day"] = date.isoformat()
                if date != self.done().date():
                    midnight = datetime.datetime.combine(date, datetime.time(), datetime.UTC)
                    when = (midnight + datetime.timedelta(days=1) - START).total_seconds() / 3600 - 1e-3
                if when in [page["when"] for page in self.pages]:
                    # Which of two outings of such a day was the last nobody can tell.
                    return
            ids = [self.add(kind, body)]
            self.pages.append(
                {
                    "kind": kind,
                    "body": body,
                    "ids": ids,
                    "when": when,
                    "day": day,
                    "stands": True,
                    "first": len(self.entries),
                }
            )

    def now(self, name: str) -> str:
        """The id of what stands where a page was."""
        return next((page["ids"][-1] for page in self.pages if name in page["ids"] and page["stands"]), name)

    def in_order(self) -> list[dict[str, Any]]:
        """The pages that stand, in the order of what was done."""
        return sorted((page for page in self.pages if page["stands"]), key=lambda page: (page["when"], page["first"]))


def is_defined(change: dict[str, Any], now: dict[str, Any], then: dict[str, Any]) -> bool:
    """Whether the definition has a change; `then` is the one that stood when it was chosen."""
    lever, ramps = change["lever"], now["ramps"]
    if lever == "preload":
        return bool(now["order"]["torque_nm"] == change["torque_nm"])
    if lever == "faces":
        # Each friction plate of these stacks lies between two separators.
        return bool(2 * sum(row["part"] == "friction" for row in now["chain"]) == change["faces"])
    if lever == "pair":
        return all(pair["name"] != change["pair"] for pair in now["other_ramps"])
    if lever == "turned_over":
        alike = ramps["drive_deg"] == ramps["coast_deg"]
        return alike or any(ramps[way] != then["ramps"][way] for way in ("drive_deg", "coast_deg"))
    return lever == "oil" or all(ramps[way] == change[way] for way in ("drive_deg", "coast_deg") if way in change)


def date_of(page: dict[str, Any]) -> str:
    """The day that a page is about."""
    return page["day"] or (START + datetime.timedelta(hours=page["when"])).date().isoformat()


def names(page: dict[str, Any], ids: list[str]) -> bool:
    return bool(set(page["ids"]) & set(ids))


def expected_of(book: Notebook, pages: list[dict[str, Any]], trial: dict[str, Any]) -> dict[str, Any]:
    """What stands of a change."""
    makers = [page for page in pages if names(trial, page["body"].get("trials", []))]
    making = makers[0] if makers else None
    answers = [(page, row) for page in pages for row in page["body"].get("helped", []) if names(trial, [row["trial"]])]
    counted = [(page, row) for page, row in answers if making and date_of(page) >= date_of(making)]
    since = pages[pages.index(making) + 1 :] if making else []
    run = sum(page["kind"] == "outing" for page in since)
    state = "chosen" if making is None else "answered" if counted else "run" if run else "made"
    over = any(page["kind"] == "rebuild" for page in since)
    then = [unit for hour, unit in book.definitions if hour < trial["when"]][-1]
    with_it = [
        other
        for other in pages
        if making and other["kind"] == "trial" and other is not trial and names(other, making["body"]["trials"])
    ]
    passed = [page for page in pages[pages.index(trial) :] if page["kind"] == "rebuild"]
    return {
        "state": state,
        "asks": state in ("made", "run"),
        "made": making and making["ids"][-1],
        "outings": run,
        "answers": [(page["ids"][-1], row["answer"]) for page, row in counted],
        # It is history once it was answered and the unit rebuilt again.
        "stays": state != "answered" or not over,
        "defined": making is None or over or is_defined(trial["body"], book.unit, then),
        "notes": len(with_it[:1] if making else passed[:1]) + (len(counted) < len(answers)),
        "outing": book.now(trial["body"].get("outing", "")),
    }


def found_of(row: dict[str, Any]) -> dict[str, Any]:
    """The same of an answer."""
    answers = [(each["id"], each["answer"]) for each in row["answers"]]
    same = {name: row[name] for name in ("state", "asks", "outings", "stays", "defined", "outing")}
    return same | {"made": row["made"] and row["made"]["id"], "answers": answers, "notes": len(row["notes"])}


def test_changes_are_followed_as_a_notebook_follows_them(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        book = Notebook(seed)
        entries = book.entries.copy()
        book.chance.shuffle(entries)
        found = calc("standing", {"entries": entries, "today": book.today.date().isoformat()})
        pages = book.in_order()
        trials = [page for page in pages if page["kind"] == "trial"]
        assert [row["id"] for row in found["trials"]] == [page["ids"][-1] for page in reversed(trials)]
        for row, trial in zip(found["trials"], reversed(trials)):
            assert found_of(row) == expected_of(book, pages, trial), (seed, row["id"])
            assert row["lever"] == trial["body"]["lever"]
            seen.update([row["state"], f"defined {row['defined']}", f"stays {row['stays']}"])
            seen["corrected"] += len(trial["ids"]) > 1 and row["state"] == "answered"
        felt = [page for page in pages if page["kind"] == "outing" and page["body"].get("felt")]
        assert [row["id"] for row in found["felt"]] == [page["ids"][-1] for page in reversed(felt)][:5]
        for row, page in zip(found["felt"], reversed(felt)):
            later = [each for each in pages[pages.index(page) :] if each["kind"] == "rebuild"]
            assert [each["what"] for each in row["felt"]] == [each["what"] for each in page["body"]["felt"]]
            assert (row["rebuilt"] is None) == (not later)
            seen["felt"] += 1
    print(dict(seen))
    states = ("chosen", "made", "run", "answered", "corrected", "felt", "defined False", "stays False")
    assert all(seen[name] > 0 for name in states), seen
