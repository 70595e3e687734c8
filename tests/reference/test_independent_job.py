"""What comes next for a unit, what of the job is done, and what its next check starts with: stories at random, beside
the bookkeeping of somebody who stands at the bench.

Source: first principles. A spring that a vice alone holds comes before all else; what lies in parts has no torque to
read; what is bad is planned before it is built; and plates fresh from a rebuild will not find their torque again.
"""

import copy
import datetime
import random
from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import BREAKAWAY, PLATES, UNIT
from tests.engine.history.entries import entry

START = datetime.datetime(2026, 3, 1, 9, tzinfo=datetime.UTC)
STRIP = ["drained", "lifted", "caps", "out", "marked", "held", "screws", "relieved", "laid", "cleaned"]
CLOSE = ["clean", "inside", "oiled", "order", "cone", "cover", "held", "flush", "started", "screws", "opened", "turned"]
WORST = ["go", "measure_again", "rework", "replace"]
KINDS = ["torque_check"] * 4 + ["strip"] * 3 + ["close"] * 3 + ["plate_check"] * 3 + ["rebuild"] * 2 + ["planned"] * 2
KINDS += ["note", "undo"]


def in_doubt(check: dict[str, Any]) -> bool:
    """Whether a check read some 70 for the 100 N·m of the last one: as lbf·ft they are 100 again (NIST SP 811, B.8)."""
    body = check["body"]
    return body["steady_nm"]["forward"][0] in (71.0, 73.8) and "last_nm" in body


class Story:
    """What was done to a unit, a day or more apart, by one device."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.unit = copy.deepcopy(UNIT)
        for name in ("order", "service"):
            if chance.random() < 0.2:
                self.unit.pop(name)
        self.entries = [entry(1, "unit", self.unit, START.isoformat(), seq=1)]
        self.kept: list[dict[str, Any]] = []
        day = 0.0
        for number in range(2, chance.randrange(2, 14)):
            day += chance.uniform(1, 20)
            self.add(number, chance.choice(KINDS), (START + datetime.timedelta(days=day)).isoformat())

    def add(self, number: int, kind: str, at: str) -> None:
        """One more entry; an undone check is one that a note replaces."""
        chance, more = self.chance, {"seq": number}
        checks = [row for row in self.kept if row["kind"] == "torque_check"]
        if kind == "undo":
            kind = "note"
            if checks:
                more["replaces"] = checks[-1]["id"]
                self.kept.remove(checks[-1])
        body: dict[str, Any] = {"text": "Washed."}
        if kind == "torque_check":
            body = self.check()
        elif kind in ("strip", "close"):
            steps = STRIP if kind == "strip" else CLOSE
            count = len(steps) if chance.random() < 0.7 else chance.randrange(1, len(steps))
            body = {"done": steps[:count], "signed": "Ilse"}
        elif kind == "plate_check":
            body = copy.deepcopy(PLATES)
            body["plates"] = chance.sample(body["plates"], chance.choice([1, 2, 2]))
            for plate in body["plates"]:
                worn = plate["new_mm"] if chance.random() < 0.7 else plate["minimum_mm"] - 0.1
                plate["points_mm"] = [worn, worn - 0.01, worn]
        elif kind == "rebuild":
            new = [("A2", 2.5), ("A3", 2.0), ("A4", 2.5)]
            body = {"fitted": [{"slot": slot, "mm": mm} for slot, mm in chance.sample(new, chance.randrange(4))]}
            body["note"] = "Set up."
        elif kind == "planned":
            body = {"fitted": [{"slot": "A2", "part": "friction", "piece": "F1", "mm": 2.5}]}
        row = entry(number, kind, body, at, **more)
        self.entries.append(row)
        if "replaces" not in more:
            self.kept.append(row)

    def check(self) -> dict[str, Any]:
        """A torque check of some figure, perhaps with the outings until then."""
        chance, body = self.chance, copy.deepcopy(BREAKAWAY)
        value = chance.choice([100.0, 100.0, 95.0, 50.0, 71.0, 73.8])
        if chance.random() < 0.3:
            body["last_nm"] = 100.0
        body["steady_nm"] = {"forward": [value, value + 1, value], "reverse": [value, value + 1, value]}
        if chance.random() < 0.6:
            body["circumstances"] = {"outings": chance.choice([0, 0, 1, 4, 9])}
        return body

    def after(self, kind: str, *steps: str) -> list[dict[str, Any]]:
        """What was done after the newest of a kind, of those with all of these steps; all without one."""
        for place in range(len(self.kept) - 1, -1, -1):
            if self.kept[place]["kind"] == kind and set(steps) <= set(self.kept[place]["body"].get("done", [])):
                return self.kept[place + 1 :]
        return self.kept

    def checks(self, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
        """The torque checks among them."""
        return [row for row in rows if row["kind"] == "torque_check"]

    def in_vice(self) -> str:
        """The procedure that left the spring to a vice; empty where none did."""
        ended = [row for row in self.kept if row["kind"] in ("strip", "close", "torque_check")]
        if not ended or ended[-1]["kind"] == "torque_check":
            return ""
        kind, done = ended[-1]["kind"], ended[-1]["body"]["done"]
        return kind if "held" in done and ("relieved" if kind == "strip" else "screws") not in done else ""

    def in_parts(self) -> bool:
        """Whether its cover's screws were undone and neither tightened again nor a torque read."""
        state = False
        for row in self.kept:
            if row["kind"] == "torque_check":
                state = False
            elif row["kind"] in ("strip", "close") and "screws" in row["body"]["done"]:
                state = row["kind"] == "strip"
        return state

    def worn(self) -> list[str]:
        """Places of plates that are worn and were not replaced since."""
        found: dict[str, bool] = {}
        for row in self.kept:
            if row["kind"] == "plate_check":
                found |= {plate["slot"]: plate["verdict"] == "replace" for plate in row["shown"]["plates"]}
            elif row["kind"] == "rebuild":
                found |= {plate["slot"]: False for plate in row["body"]["fitted"]}
        return sorted(slot for slot, bad in found.items() if bad)

    def torque(self) -> dict[str, Any] | None:
        """What the newest check of this build showed."""
        since = self.checks(self.after("rebuild"))
        shown: dict[str, Any] | None = since[-1]["shown"] if since else None
        return shown

    def has_plan(self) -> bool:
        """Whether a plan was taken that knows all that was measured, and that no parts were fitted after."""
        state = False
        for row in self.kept:
            if row["kind"] in ("torque_check", "plate_check") or (row["kind"] == "rebuild" and row["body"]["fitted"]):
                state = False
            elif row["kind"] == "planned":
                state = True
        return state

    def next_step(self) -> str:
        """What somebody at the bench does next."""
        if self.in_vice():
            return self.in_vice()
        laid_out = [row["kind"] for row in self.after("strip", "screws")]
        if self.in_parts() and not {"plate_check", "rebuild"} & set(laid_out):
            return "plates"
        torque = self.torque()
        if self.worn() or (torque is not None and torque["verdict"] == "rework"):
            return "plan" if not self.has_plan() else "rebuild" if self.in_parts() else "strip"
        return "close" if self.in_parts() else "check"

    def text(self) -> str:
        """What somebody is told to do where that is more than the step's name; empty where it is not, or not known."""
        worn, torque, step = self.worn(), self.torque(), self.next_step()
        if self.in_vice():
            return "Finish it: a vice alone holds the spring"
        if step == "rebuild":
            return "Rebuild as planned"
        if step == "plan":
            return f"Replace {' and '.join(worn)}: plan the rebuild" if worn else "Rework: plan the rebuild"
        if step == "check" and torque is not None and torque["verdict"] == "go" and self.newest_is_fresh():
            return "Check again after the first outing"
        return ""

    def newest_is_fresh(self) -> bool:
        """Whether the newest check of this build was before its first outing."""
        newest = self.checks(self.after("rebuild"))[-1]
        return (newest["body"].get("circumstances") or {}).get("outings") == 0

    def done(self) -> set[str]:
        """Steps of the job that are done: what was left half done, or opened again, is not."""
        begun = {row["kind"] for row in self.after("torque_check")}
        steps = {"check"} if self.checks(self.kept) else set()
        steps |= {"plates"} if "plate_check" in begun else set()
        steps |= {"plan", "rebuild"} if "rebuild" in begun else set()
        steps |= {"plan"} if self.has_plan() else set()
        steps |= {"strip"} if "strip" in begun and self.in_vice() != "strip" else set()
        return steps | ({"close"} if "close" in begun and self.in_vice() != "close" and not self.in_parts() else set())

    def start(self) -> dict[str, Any]:
        """What the next check starts with."""
        every, since = self.checks(self.kept), self.checks(self.after("rebuild"))
        rebuilt = any(row["kind"] == "rebuild" for row in self.kept)
        noted = [(row["body"].get("circumstances") or {}).get("outings") for row in since]
        counted = [outings for outings in noted if outings is not None]
        limits = [name for name in ("order", "service") if name in self.unit]
        wanted = "order" if rebuilt and not since else "service"
        sure = [row for row in since if not in_doubt(row)]
        newest = sure[-1] if sure else None
        fresh = newest is None or (newest["body"].get("circumstances") or {}).get("outings") == 0
        return {
            "last": every[-1]["id"] if every else None,
            "last_nm": None if newest is None or fresh else newest["shown"]["value_nm"],
            "outings": max(counted) if counted else 0 if rebuilt and not since else None,
            "against": wanted if wanted in limits else limits[0] if limits else "service",
        }


def compare(seed: int) -> None:
    """Compare what stands after one story."""
    story = Story(random.Random(seed))
    shuffled = random.Random(seed).sample(story.entries, len(story.entries))
    found = calc("standing", {"entries": shuffled, "today": "2026-12-01"})
    assert found["start"] == story.start()
    job = found["job"]
    assert job["next"] == story.next_step()
    assert job["text"] == (story.text() or job["text"])
    assert {row["name"] for row in job["steps"] if row["done"]} == story.done()


@pytest.mark.parametrize("seed", range(60))
def test_the_job_goes_on_as_at_the_bench(seed: int) -> None:
    compare(seed)
