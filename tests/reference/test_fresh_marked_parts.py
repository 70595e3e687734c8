"""The life of marked parts beside a notebook with a page for every part: seasons of two or three units at random.

Source: first principles. A part is in a place from the rebuild that put it in, or from the beginning, up to the next
rebuild that says of that place that something was exchanged. What it ran is what that unit ran meanwhile. What stands
of it is what was found last, wherever it was. Who put it in and who took it out may name two parts: then each has it.
"""

import collections
import datetime
import math
import random
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
SPOTS = [("spring", "S1"), ("ring", "R1"), ("ring", "R2"), ("case", ""), ("screws", "")]
FEATURES: list[dict[str, Any]] = [
    {"name": "Cover screws", "part": "screws", "measure": "used", "most_uses": 3, "counted": "closing"},
    {"name": "Case cracks", "part": "case", "measure": "crack"},
    {"name": "Case bore", "part": "case", "measure": "surface"},
]
SPRING = {"de_mm": 100, "di_mm": 51, "t_mm": 3.5, "l0_mm": 6.3}
NAMES = ["Bramble", "Sorrel", "Heron"]
KINDS = ["outing"] * 6 + ["rebuild"] * 5 + ["spring_check"] * 2 + ["inspection"] * 2 + ["again"] * 3 + ["away"] * 2
RANK = ["go", "measure_again", "rework", "replace"]
CRACKS = {"none": "go", "unclear": "measure_again", "crack": "replace"}
Key = tuple[str, str]


def folded(mark: str) -> str:
    return " ".join(mark.split()).casefold()


class Notebook:
    """Pages of all units in the order of writing; each is what stands there now."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(f"marked {seed}")
        self.units = range(self.chance.choice([2, 3]))
        self.entries: dict[int, list[dict[str, Any]]] = {unit: [] for unit in self.units}
        self.pages: dict[int, list[dict[str, Any]]] = {unit: [] for unit in self.units}
        self.first: dict[int, dict[Key, str]] = {}
        self.hour, self.number = 0.0, 0
        for unit in self.units:
            rows: dict[Key, str] = {}
            for spot in SPOTS:
                mark = self.some_mark(spot[0])
                if self.chance.random() < 0.7 and (spot[0], folded(mark)) not in self.marks_of(rows):
                    rows[spot] = mark
            self.first[unit] = rows
            marked = [{"part": part, "place": place, "mark": mark} for (part, place), mark in rows.items()]
            self.add(unit, "unit", changed(UNIT, name=NAMES[unit], features=FEATURES, marked_parts=marked))
            self.page(unit, "outing", {"minutes": 30}, stays=True)
        for _ in range(self.chance.randrange(3, 25)):
            self.write(self.chance.choice(list(self.units)), self.chance.choice(KINDS))

    @staticmethod
    def marks_of(rows: dict[Key, str]) -> set[Key]:
        return {(part, folded(mark)) for (part, _), mark in rows.items()}

    def some_mark(self, part: str) -> str:
        """One of few, so that units get each other's parts; as somebody or other writes it."""
        number = self.chance.randrange(3 if part != "ring" else 5)
        return self.chance.choice(["{}a {}", "{}A {}", " {}a  {}"]).format(part[0], number)

    def add(self, unit: int, kind: str, body: dict[str, Any], **more: Any) -> str:
        self.hour += self.chance.choice([1.0, 5.0, 26.0])
        self.number += 1
        at = (START + datetime.timedelta(hours=self.hour)).isoformat()
        self.entries[unit].append(entry(self.number, kind, body, at, unit=f"u{unit}", seq=self.number, **more))
        return f"id-{self.number}"

    def page(self, unit: int, kind: str, body: dict[str, Any], stays: bool = False) -> None:
        name = self.add(unit, kind, body)
        self.pages[unit].append(
            {"kind": kind, "body": body, "id": name, "when": self.hour, "stands": True, "stays": stays}
        )

    def body_of(self, unit: int, kind: str) -> dict[str, Any]:
        chance = self.chance
        if kind == "outing":
            return {"minutes": chance.choice([10, 25, 40])} if chance.random() < 0.7 else {}
        if kind == "spring_check":
            height = chance.choice([6.29, 6.16, 5.9])
            spring = {"slot": "S1", "spring": SPRING, "points_mm": [height] * 3}
            return {"gauge": {"division_mm": 0.01, "deviation_mm": 0.03}, "springs": [spring]}
        if kind == "inspection":
            cracks = FEATURES[1] | {"crack": chance.choice(list(CRACKS))}
            bore = FEATURES[2] | {"marks": chance.choice(["none", "slight", "heavy"])}
            return {"features": chance.sample([cracks, bore], chance.choice([1, 2]))}
        return self.rebuild_of(unit)

    def rebuild_of(self, unit: int) -> dict[str, Any]:
        chance, rows = self.chance, []
        gone: set[Key] = set()
        body: dict[str, Any] = {"note": "Set up."}
        for spot in chance.sample(SPOTS, chance.randrange(4)):
            part, place = spot
            row: dict[str, Any] = {"part": part, "place": place}
            here = self.marks_in(unit, spot)
            if here and chance.random() < 0.75:
                row["out_mark"] = here[-1]
            elif chance.random() < 0.25:
                row["out_mark"] = self.some_mark(part)
            if chance.random() < 0.6:
                row["out_to"] = chance.choice(["stock", "scrap", "away"])
            if chance.random() < 0.8:
                row["mark"] = self.some_mark(part)
            keys = [(part, folded(row[name])) for name in ("mark", "out_mark") if name in row]
            # The form refuses a row without marks and a mark that stands twice.
            if not keys or gone & set(keys) or len(set(keys)) < len(keys):
                continue
            gone.update(keys)
            if part == "screws" and "mark" in row and chance.random() < 0.5:
                row["uses"] = chance.randrange(3)
            rows.append(row)
        if rows:
            body["marked_parts"] = rows
        if chance.random() < 0.15:
            body["replaced"] = ["Case cracks", "Case bore"]
        if chance.random() < 0.15 and not any(row["part"] == "spring" for row in rows):
            body["other_spring"] = True
        return body

    def write(self, unit: int, kind: str) -> None:
        if kind not in ("again", "away"):
            if kind == "rebuild":
                self.page(unit, "strip", {"done": ["held", "screws"], "guide": 2, "signed": "Ilse"}, stays=True)
            self.page(unit, kind, self.body_of(unit, kind))
            if kind == "rebuild":
                done = ["held", "started", "screws"]
                self.page(unit, "close", {"done": done, "guide": 2, "signed": "Ilse"}, stays=True)
            return
        pages = [page for page in self.pages[unit] if page["stands"] and not page["stays"]]
        if not pages:
            return
        page = self.chance.choice(pages)
        if kind == "away":
            page["stands"] = False
            self.add(unit, "note", {"text": "Withdrawn."}, replaces=page["id"])
            return
        page["body"] = self.body_of(unit, page["kind"])
        page["id"] = self.add(unit, page["kind"], page["body"], replaces=page["id"])

    def standing(self, unit: int) -> list[dict[str, Any]]:
        return sorted((page for page in self.pages[unit] if page["stands"]), key=lambda page: float(page["when"]))

    def exchanges(self, unit: int, spot: Key) -> list[tuple[dict[str, Any], dict[str, Any]]]:
        """Rebuilds that changed what is in a place, each with what it says of it."""
        part = spot[0]
        found = []
        for page in self.standing(unit):
            if page["kind"] != "rebuild":
                continue
            body = page["body"]
            rows = [row for row in body.get("marked_parts", []) if (row["part"], row["place"]) == spot]
            marked = any(row["part"] == part for row in body.get("marked_parts", []))
            other = (part == "spring" and body.get("other_spring")) or (part == "case" and "replaced" in body)
            if rows or (other and not marked):
                found.append((page, rows[0] if rows else {}))
        return found

    def marks_in(self, unit: int, spot: Key) -> list[str]:
        """The mark that is in a place now, as far as it is known."""
        changes = self.exchanges(unit, spot)
        mark = changes[-1][1].get("mark") if changes else self.first[unit].get(spot)
        return [mark] if mark else []

    def stays(self, unit: int, spot: Key) -> list[dict[str, Any]]:
        """The stays in a place."""
        changes = self.exchanges(unit, spot)
        found = []
        for number in range(len(changes) + 1):
            begin, row_in = changes[number - 1] if number else (None, {"mark": self.first[unit].get(spot)})
            end, row_out = changes[number] if number < len(changes) else (None, {})
            said_in, said_out = row_in.get("mark"), row_out.get("out_mark")
            marks = {folded(mark): mark for mark in (said_out, said_in) if mark}
            for key in marks:
                is_out = said_out is not None and key == folded(said_out)
                found.append(
                    {
                        "part": spot[0],
                        "key": key,
                        "unit": unit,
                        "place": spot[1],
                        "from": begin and begin["when"],
                        "to": end and end["when"],
                        "from_id": begin and begin["id"],
                        "to_id": end and end["id"],
                        # A row that does not name what came out says where that went all the same.
                        "went": row_out.get("out_to", "stock") if row_out and (is_out or not said_out) else None,
                        "says": len(marks) > 1,
                        **self.ran(unit, begin, end),
                        "found": self.looked_at(unit, spot[0], begin, end),
                        "before": row_in.get("uses", 0) if begin and said_in and key == folded(said_in) else 0,
                        "first": begin is None,
                    }
                )
        return found

    def between(self, unit: int, begin: Any, end: Any) -> list[dict[str, Any]]:
        pages = self.standing(unit)
        return pages[pages.index(begin) + 1 if begin else 0 : pages.index(end) if end else len(pages)]

    def ran(self, unit: int, begin: Any, end: Any) -> dict[str, Any]:
        """What a unit ran in some time, and whether each build in it says so."""
        pages = self.between(unit, begin, end)
        outings = [page["body"] for page in pages if page["kind"] == "outing"]
        builds = [0]
        for page in pages:
            builds[-1] += page["kind"] == "outing"
            builds += [0] * (page["kind"] == "rebuild")
        return {
            "outings": len(outings),
            "hours": sum(body.get("minutes", 0) for body in outings) / 60,
            "exact": all("minutes" in body for body in outings) and all(builds),
            "closed": sum(page["kind"] == "close" for page in pages),
        }

    def looked_at(self, unit: int, part: str, begin: Any, end: Any) -> list[tuple[str, str, float, str]]:
        """Feature, verdict, time and id of what was found of a part."""
        found = []
        for page in self.between(unit, begin, end):
            when, name = page["when"], page["id"]
            if part == "spring" and page["kind"] == "spring_check":
                height = page["body"]["springs"][0]["points_mm"][0]
                verdict = "go" if height > 6.2 else "measure_again" if height > 6.1 else "replace"
                found.append(("", verdict, when, name))
            elif part == "case" and page["kind"] == "inspection":
                for row in page["body"]["features"]:
                    marks = "replace" if row.get("marks") == "heavy" else "go"
                    found.append((row["name"], CRACKS[row["crack"]] if "crack" in row else marks, when, name))
        return found


def began(stay: dict[str, Any]) -> float:
    return -math.inf if stay["from"] is None else float(stay["from"])


def times_tightened(stays: list[dict[str, Any]]) -> int:
    """How often screws were, from stay to stay: what somebody says of before counts where it is more."""
    times = 0
    for stay in sorted(stays, key=lambda stay: (began(stay), stay["to"] or math.inf, NAMES[stay["unit"]])):
        times = max(times, stay["before"]) + stay["closed"] + stay["first"]
    return times


def whole_life(stays: list[dict[str, Any]]) -> dict[str, Any]:
    """What stands of a part, from its stays anywhere."""
    lasting = [stay for stay in stays if stay["to"] is None]
    # Of two that came out together, or were there from the beginning, one is as good as the other: that by name.
    now = max(
        lasting or stays,
        key=lambda s: (s["to"] or 0, not lasting and s["went"] is not None, began(s), NAMES[s["unit"]], s["place"]),
    )
    last: dict[str, tuple[str, str, float, int]] = {}
    for stay in stays:
        for name, verdict, when, _ in stay["found"]:
            if name not in last or when > last[name][2]:
                last[name] = (name, verdict, when, stay["unit"])
    worst = max(last.values(), key=lambda row: RANK.index(row[1]), default=None)
    total = sum(stay["outings"] for stay in stays)
    return {
        "where": "unit" if lasting else now["went"] or "unknown",
        "unit": f"u{now['unit']}" if lasting else None,
        "place": now["place"] if lasting else "",
        "outings": total or None,
        "hours": round(sum(stay["hours"] for stay in stays), 6),
        "exact": all(stay["exact"] for stay in stays),
        "verdict": worst and worst[1],
        "uses": times_tightened(stays) if stays[0]["part"] == "screws" else None,
        "bad": sorted((row[0], row[1]) for row in last.values() if row[1] != "go"),
        "said": sum(stay["says"] for stay in stays),
        "twice": any(overlap(later, earlier) for n, later in enumerate(stays) for earlier in stays[:n]),
        "stays": sorted((f"u{s['unit']}", s["place"], s["from_id"] or "", s["to_id"] or "", s["went"]) for s in stays),
        "looked": sorted((row[3], row[0], row[1]) for stay in stays for row in stay["found"]),
    }


def overlap(first: dict[str, Any], second: dict[str, Any]) -> bool:
    """Whether two stays have some time in common."""
    begin = max(began(first), began(second))
    # Two rebuilds of one day may be written down in either order.
    return bool(begin + 24 < min(stay["to"] or math.inf for stay in (first, second)))


def life_in(row: dict[str, Any]) -> dict[str, Any]:
    """The same of an answer."""
    twice = [text for text in row["says"] if "in two places at once" in text]
    return {name: row[name] for name in ("where", "unit", "place", "outings", "exact", "verdict", "uses")} | {
        "hours": round(row["hours"], 6),
        "bad": sorted((each.get("feature", ""), each["verdict"]) for each in row["for_rebuild"]["found"]),
        "said": len(row["says"]) - len(twice),
        "twice": bool(twice),
        "stays": sorted((s["unit"], s["place"], s["from_id"] or "", s["to_id"] or "", s["to"]) for s in row["stays"]),
        "looked": sorted((each["id"], each["name"], each["verdict"]) for s in row["stays"] for each in s["found"]),
    }


def marked_parts(book: Notebook) -> list[dict[str, Any]]:
    """Every marked part, as the engine has it."""
    stays = []
    for unit, entries in book.entries.items():
        shuffled = entries.copy()
        book.chance.shuffle(shuffled)
        found = calc("standing", {"entries": shuffled, "today": "2026-12-01"})["marked_parts"]["stays"]
        stays += [stay | {"unit": f"u{unit}", "unit_name": NAMES[unit]} for stay in found]
    book.chance.shuffle(stays)
    parts: list[dict[str, Any]] = calc("marked_parts", {"stays": stays})["parts"]
    return parts


def expected_of(book: Notebook) -> dict[Key, list[dict[str, Any]]]:
    """The stays of every part."""
    parts: dict[Key, list[dict[str, Any]]] = collections.defaultdict(list)
    for unit in book.units:
        for spot in SPOTS:
            for stay in book.stays(unit, spot):
                parts[stay["part"], stay["key"]].append(stay)
    return parts


def test_every_part_has_the_life_of_its_page_in_the_notebook(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(50 * rounds):
        book = Notebook(seed)
        found = {(row["part"], folded(row["key"])): row for row in marked_parts(book)}
        expected = expected_of(book)
        assert set(found) == set(expected), seed
        for key, stays in expected.items():
            life = whole_life(stays)
            assert life_in(found[key]) == life, (seed, key)
            seen.update([key[0], f"where {life['where']}", f"verdict {life['verdict']}", f"exact {life['exact']}"])
            seen["twice"] += life["twice"]
            seen["contradicts"] += life["said"] > 0
            seen["moved"] += len({stay["unit"] for stay in stays}) > 1
            seen["used more than ever said"] += bool(life["uses"]) and life["uses"] > stays[-1]["before"]
    print(dict(seen))
    wanted = ["twice", "contradicts", "moved", "used more than ever said", "exact True", "exact False"]
    wanted += [f"where {where}" for where in ("unit", "stock", "scrap", "away", "unknown")]
    wanted += [f"verdict {verdict}" for verdict in (None, "go", "measure_again", "replace")]
    assert all(seen[name] > 0 for name in wanted), seen


def test_screws_that_nobody_typed_the_uses_of_are_counted_on_from_the_other_unit() -> None:
    """Closed three times in one unit and twice in the next: five times, and not three."""
    stay: dict[str, Any] = {
        "part": "screws",
        "place": "",
        "mark": "K",
        "key": "K",
        "says": "",
        "outings": 1,
        "hours": 1.0,
    }
    stay |= {"untimed": 0, "untold": 0, "found": [], "brought": [], "to": None}
    here: dict[str, Any] = {
        "from_at": None,
        "from_s": None,
        "from_id": None,
        "uses": 3,
        "uses_before": 0,
        "to": "stock",
    }
    here |= {"to_at": "2026-03-05T08:00:00Z", "to_s": 1772697600.0, "to_id": "id-5", "unit": "a", "unit_name": "A"}
    there: dict[str, Any] = {
        "from_at": "2026-03-06T08:00:00Z",
        "from_s": 1772784000.0,
        "from_id": "id-9",
        "uses": 2,
        "uses_before": 0,
    }
    there |= {"to_at": None, "to_s": None, "to_id": None, "unit": "b", "unit_name": "B"}
    for before, in_all in ((0, 5), (3, 5), (4, 6)):
        last = there | {"uses": before + 2, "uses_before": before}
        (part,) = calc("marked_parts", {"stays": [stay | here, stay | last]})["parts"]
        assert part["uses"] == part["for_rebuild"]["uses"] == in_all
