"""What a strip found, beside the list of somebody who lays the parts out on a bench: strips at random.

Source: first principles. The sheet is ruled when the unit is stripped: one line for each part, in the order in which
they come out. What is looked at since goes into its line, the newest over what stood there. A line that is bad asks
until it is answered, and nobody can answer what was not yet found. Verdicts of single parts are taken as the entries
show them; what is made of them is worked out anew here.
"""

import collections
import datetime
import random
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT, chain, changed
from tests.engine.history.entries import check_near, entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
DISC = {"de_mm": 100, "di_mm": 51, "t_mm": 2.7, "l0_mm": 4.8}
# Each kind of part that is inspected, in the order in which a bench sees them; the first two hold the case closed.
COMES_OUT = ["screws", "cover", "*", "rings", "cross_pins", "bevel_gears", "thrust_washers", "splines", "journals"]
COMES_OUT += ["case", "other"]
WORST = ["replace", "rework", "measure_again", "go"]
STRIPPED = {"done": ["drained", "out", "held", "screws", "relieved"], "guide": 2, "signed": "Ilse"}
CLOSED = {"done": ["clean", "oiled", "order", "held", "flush", "screws", "opened", "turned"], "signed": "Ilse"}
KINDS = ["strip"] + ["plate_check"] * 6 + ["spring_check"] * 4 + ["ring_check"] * 2 + ["inspection"] * 8
KINDS += ["rebuild"] * 5 + ["close"] * 2 + ["again"] * 3 + ["away", "unit", "outing", "torque_check"]
# Marked parts that an inspection knows, each of which there is once.
MARKED = ["case", "cover", "screws", "journals"]
LEVELS = {"friction": [2.46, 2.46, 2.301, 2.1], "separator": [1.98, 1.98, 1.901, 1.8]}


class Bench:
    """Pages in the order of writing, each with what stands there now."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(f"strip found {seed}")
        self.entries: list[dict[str, Any]] = []
        self.pages: list[dict[str, Any]] = []
        self.hour = 0.0
        self.unit: dict[str, Any] = {}
        # Some units are as good as new, and whoever measures them leaves nothing out.
        self.is_good = self.chance.random() < 0.4
        self.write("unit")
        if self.chance.random() < 0.6:
            self.write("strip")
        for _ in range(self.chance.randrange(1, 18)):
            self.hour += self.chance.choice([0.5, 2.0, 20.0])
            self.write(self.chance.choice(KINDS))

    def defined(self) -> dict[str, Any]:
        chance = self.chance
        rows = chain(layout := chance.choice(["in_line", "between_rings", "two_springs", "two_springs"]))
        for row in rows:
            if row["part"] == "friction" and chance.random() < 0.4:
                row["new_mm"] = 2.6
        if chance.random() < 0.3:
            rows.insert(chance.choice([0, len(rows)]), {"slot": "H1", "part": "shim", "new_mm": 0.5})
        return changed(
            UNIT, layout=layout, chain=rows, cavity_mm=None, spring=None, friction=None, features=self.features()
        )

    def features(self) -> list[dict[str, Any]]:
        chance, rows = self.chance, []
        parts = [part for part in COMES_OUT if part != "*"]
        for number in range(chance.randrange(8)):
            part = chance.choice(parts)
            measure = chance.choice(["crack", "surface", "size"])
            row: dict[str, Any] = {"name": f"{part} {measure} {number}", "part": part, "measure": measure}
            if row["measure"] == "size" and chance.random() < 0.7:
                row["low_mm"] = 15.0
            if row["measure"] != "crack" and chance.random() < 0.5:
                row["outside"] = chance.choice(["rework", "replace"])
            rows.append(row)
        return rows

    def add(self, kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
        number = len(self.entries) + 1
        at = (START + datetime.timedelta(hours=self.hour)).isoformat()
        self.entries.append(entry(number, kind, body, at, seq=number, **more))
        return self.entries[-1]

    def look(self, feature: dict[str, Any]) -> dict[str, Any]:
        """An inspection's line about a feature."""
        how: dict[str, Any] = {"crack": {"crack": self.level(["none", "none", "unclear", "crack"])}}
        how["surface"] = {"marks": self.level(["none", "slight", "heavy"])}
        how["size"] = {"points_mm": [self.level([15.5, 15.5, 15.003, 14.5])]}
        found: dict[str, Any] = how[feature["measure"]]
        return feature | found

    def level(self, levels: list[Any]) -> Any:
        """One of some findings, of which the first is good."""
        return levels[0] if self.is_good else self.chance.choice(levels)

    def some(self, rows: list[Any]) -> list[Any]:
        """Some of them; at times all."""
        if not rows or self.is_good or self.chance.random() < 0.3:
            return rows
        return self.chance.sample(rows, self.chance.randrange(1, len(rows) + 1))

    def body_of(self, kind: str) -> dict[str, Any] | None:
        chance = self.chance
        if kind == "unit":
            return self.defined()
        rows = self.unit["chain"]
        of = {
            part: [row for row in rows if row["part"] == part] for part in ("spring", "ring", "friction", "separator")
        }
        if kind == "strip":
            return STRIPPED
        if kind == "plate_check":
            plates = self.some(of["friction"] + of["separator"])
            return {
                "micrometer": {"division_mm": 0.01},
                "plates": [
                    row
                    | {
                        "points_mm": [self.level(LEVELS[row["part"]])] * 3,
                        "marks": self.level(["none"] * 8 + ["heavy"]),
                    }
                    for row in plates
                ],
            }
        if kind == "spring_check":
            springs = self.some(of["spring"])
            heights = [[self.level([4.8, 4.8, 4.71, 4.5])] * 3 for _ in springs]
            lines = [
                {"slot": row["slot"], "spring": DISC, "points_mm": mm, "fitted_mm": 3.6}
                for row, mm in zip(springs, heights)
            ]
            return {"gauge": {}, "springs": lines}
        if kind == "ring_check":
            steps = [
                {"slot": row["slot"], "steps_mm": [self.level([0.01, 0.01, 0.05, 0.1])]}
                for row in self.some(of["ring"])
            ]
            pins = [{"slot": "pin 1", "new_mm": 16, "points_mm": [self.level([15.99, 15.95, 15.8])]}]
            return {"gauge": {}, "rings": steps, "pins": self.chance.choice([[], pins])}
        if kind == "inspection":
            features = self.some(self.unit["features"])
            return {"features": [self.look(row) for row in features]} if features else None
        if kind == "torque_check":
            return check_near(100.0)
        if kind == "outing":
            return {"where": "Old airfield"}
        names = [row["slot"] for row in rows] + [row["name"] for row in self.unit["features"]]
        if kind == "close":
            answers = [
                {"name": name} | chance.choice([{"answer": "put_right"}, {"answer": "left", "why": "one more outing"}])
                for name in self.some(names)
            ]
            return CLOSED | ({"answers": answers} if chance.random() < 0.6 else {})
        body: dict[str, Any] = {"note": "Set up."}
        if chance.random() < 0.7:
            plates = self.some(of["friction"] + of["separator"] + of["ring"])
            body["fitted"] = [{"slot": row["slot"], "mm": row["new_mm"]} for row in plates]
        if chance.random() < 0.4:
            body["spring"] = "What was done about it."
        if chance.random() < 0.4:
            body["other_spring"] = chance.choice([True, False])
        if chance.random() < 0.5 and self.unit["features"]:
            body["replaced"] = [row["name"] for row in self.some(self.unit["features"])]
        if chance.random() < 0.5 and body.get("other_spring") is not False:
            of_stack = chance.choice([of["spring"] + of["ring"] + of["friction"], of["spring"]])
            marked = [{"part": row["part"], "place": row["slot"], "mark": row["slot"]} for row in self.some(of_stack)]
            body["marked_parts"] = marked + [{"part": part, "mark": "15"} for part in chance.sample(MARKED, 2)]
        return body

    def write(self, kind: str) -> None:
        if kind in ("again", "away"):
            pages = [page for page in self.pages if page["stands"] and page["kind"] not in ("unit",)]
            if not pages:
                return
            page = self.chance.choice(pages)
            if kind == "away":
                page["stands"] = False
                self.add("note", {"text": "Withdrawn."}, replaces=page["entry"]["id"])
                return
            body = self.body_of(page["kind"])
            if body is not None:
                page["entry"] = self.add(page["kind"], body, replaces=page["entry"]["id"])
            return
        body = self.body_of(kind)
        if body is None:
            return
        if kind == "unit":
            self.unit = body
        page = {"kind": kind, "stands": True, "entry": self.add(kind, body)}
        page["signed"] = page["entry"]["at"]
        self.pages.append(page)


def lines_of(unit: dict[str, Any]) -> list[tuple[str, str]]:
    """Name and kind of each part, in the order in which they come out."""
    lines = []
    for part in COMES_OUT:
        if part == "*":
            lines += [(row["slot"], row["part"]) for row in unit["chain"] if row["part"] != "shim"]
        lines += [(row["name"], part) for row in unit["features"] if row["part"] == part]
    return lines


def at_the_foot(lines: list[tuple[str, str]], since: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """What was looked at though no line was ruled for it: it is written below, so that nothing found is lost."""
    ruled = {name for name, _ in lines}
    return [(name, "") for name in sorted({name for page in since for name in seen_in(page)} - ruled)]


def seen_in(page: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """What a page of measurements found, by part."""
    shown = page["entry"]["shown"]
    listing = {"plate_check": "plates", "spring_check": "springs", "ring_check": "rings", "inspection": "features"}
    if page["kind"] not in listing:
        return {}
    rows = shown[listing[page["kind"]]] + shown.get("pins", [])
    return {row.get("slot") or row["name"]: row for row in rows}


def is_answered(page: dict[str, Any], name: str, part: str) -> bool:
    """Whether a page says what became of a part."""
    body = page["entry"]["body"]
    if page["kind"] == "close":
        return any(row["name"] == name for row in body.get("answers", []))
    if page["kind"] != "rebuild":
        return False
    marked = body.get("marked_parts", [])
    if any(row["part"] == part and row.get("place", name) == name for row in marked):
        return True
    if part == "spring" and not any(row["part"] == "spring" for row in marked):
        other = body.get("other_spring")
        return bool(body.get("spring")) if other is None else bool(other)
    return name in [row["slot"] for row in body.get("fitted", [])] + body.get("replaced", [])


def expected_of(bench: Bench) -> dict[str, Any]:
    """The sheet as it stands, or nothing where the unit was never stripped."""
    pages = [page for page in bench.pages if page["stands"]]
    strips = [number for number, page in enumerate(pages) if page["kind"] == "strip"]
    since = pages[strips[-1] + 1 :] if strips else []
    lines, order, states = [], collections.defaultdict(list), []
    ruled = lines_of(bench.unit)
    for name, part in ruled + at_the_foot(ruled, since):
        line: dict[str, Any] = {"name": name, "state": "unseen", "id": None, "lowest_mm": None, "answered": False}
        for page in since:
            found = seen_in(page).get(name)
            if found:
                line["state"] = found["verdict"] or "noted"
                line["id"], line["lowest_mm"] = page["entry"]["id"], found["lowest_mm"]
                line["answered"] = False
            elif is_answered(page, name, part):
                line["answered"] = True
        bad = line["state"] in ("replace", "rework", "measure_again")
        line["asks"] = bad and not line["answered"]
        if line["asks"] and line["state"] == "replace":
            kind = next((row for row in bench.unit["chain"] if row["slot"] == name), None)
            # A feature is ordered by its own name; two places alike are two of one thing.
            order[(part, kind.get("new_mm")) if kind else name].append(name)
        line["answered"] = bad and line["answered"]
        lines.append(line)
        states.append(line["state"])
    found_bad = [state for state in WORST[:3] if state in states]
    whole = strips and "unseen" not in states and "go" in states
    return {
        "stripped": pages[strips[-1]]["signed"] if strips else None,
        # Every strip of these stories undid the screws; a closing tightened them, and so must who reads a torque.
        "open": bool(strips) and not {page["kind"] for page in since} & {"close", "torque_check"},
        "lines": lines[: len(ruled)],
        "foot": sorted(lines[len(ruled) :], key=lambda line: line["name"]),
        "order": sorted(sorted(names) for names in order.values()),
        "verdict": found_bad[0] if found_bad else "go" if whole else None,
    }


def found_of(answer: dict[str, Any], ruled: int) -> dict[str, Any]:
    """The same of an answer; below what is ruled the foot may be in any order."""
    lines = [
        {name: row[name] for name in ("name", "state", "id", "lowest_mm", "asks")} | {"answered": bool(row["answer"])}
        for row in answer["parts"]
    ]
    assert all(row["count"] == len(row["names"]) for row in answer["order"])
    order = [sorted(row["names"]) for row in answer["order"]]
    foot = sorted(lines[ruled:], key=lambda line: line["name"])
    same = {name: answer[name] for name in ("stripped", "open", "verdict")}
    return same | {"lines": lines[:ruled], "foot": foot, "order": sorted(order)}


def test_what_a_strip_found_is_what_the_bench_sheet_says(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        bench = Bench(seed)
        entries = bench.entries.copy()
        bench.chance.shuffle(entries)
        answer = calc("strip_found", {"entries": entries})
        expected = expected_of(bench)
        assert found_of(answer, len(expected["lines"])) == expected, seed
        seen[f"verdict {answer['verdict']}"] += 1
        for line in expected["lines"]:
            seen.update([line["state"], f"answered {line['answered']}"])
        seen["alike together"] += any(len(names) > 1 for names in expected["order"])
        seen[f"open {answer['open']}"] += 1
        seen["stripped twice"] += sum(page["kind"] == "strip" and page["stands"] for page in bench.pages) > 1
    print(dict(seen))
    wanted = ["go", "rework", "replace", "measure_again", "noted", "unseen", "answered True", "alike together"]
    assert all(
        seen[name] for name in [*wanted, "stripped twice", "verdict None", "verdict go", "open True", "open False"]
    ), seen
