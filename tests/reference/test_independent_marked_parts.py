"""Marked parts and screws beside a store-keeper's cards: seasons of three units at random.

Source: first principles. Each place of a unit has a card from one exchange to the next. Whoever reads the log in order
writes on all cards that lie in the unit; a card gets its name from what went in, or else from what came out, and where
both are said and differ it lies under both names. A correction is read where the page stood that it corrects.
Screws are counted from the season written as letters.
"""

import collections
import datetime
import random
import re
from typing import Any

from server.engine import calc
from tests.engine.checks import UNIT, changed
from tests.engine.history.entries import check_near, entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
PLACES = [("spring", "S1"), ("ring", "R1"), ("ring", "R2"), ("case", "")]
SCREWS: dict[str, Any] = {
    "name": "Cover screws",
    "part": "screws",
    "measure": "used",
    "most_uses": 3,
    "counted": "closing",
}
CRACKS: dict[str, Any] = {"name": "Case cracks", "part": "case", "measure": "crack"}
FEATURES: list[dict[str, Any]] = [SCREWS, CRACKS]
KINDS = ["outing"] * 7 + ["rebuild"] * 5 + ["spring_check", "ring_check", "inspection"] * 2
KINDS += ["torque_check", "strip", "close", "close", "again", "again", "away", "unit"]
GAUGE = {"division_mm": 0.01, "deviation_mm": 0.02}
HEIGHTS = {"replace": 5.9, "go": 6.3}
STEPS = {"replace": 0.4, "go": 0.0}
FOUND_CRACKS = {"go": "none", "measure_again": "unclear", "replace": "crack"}
TO = ["stock", "scrap", "away"]


def written(chance: random.Random, mark: str) -> str:
    """A mark as one or another writes it."""
    return chance.choice([mark, mark.lower(), f" {mark}"])


class Season:
    """Three units, and the pages of what was done with each, one after another."""

    def __init__(self, seed: int) -> None:
        self.chance = chance = random.Random(f"marked {seed}")
        self.hour = 0.0
        self.units = ["Bramble", "Sorrel", "Yarrow"]
        self.entries: dict[str, list[dict[str, Any]]] = {name: [] for name in self.units}
        self.pages: dict[str, list[dict[str, Any]]] = {name: [] for name in self.units}
        self.marks: dict[str, dict[tuple[str, str], str]] = {}
        self.number = 0
        for name in self.units:
            self.define(name)
        for _ in range(chance.randrange(4, 45)):
            self.hour += chance.choice([0.5, 2.0, 6.0, 20.0, 30.0, 80.0])
            self.write(chance.choice(self.units), chance.choice(KINDS))

    def define(self, name: str) -> None:
        chance = self.chance
        marks = {place: self.some_mark() for place in PLACES if chance.random() < 0.5}
        if marks.get(PLACES[1]) == marks.get(PLACES[2]):
            marks.pop(PLACES[2], None)
        rows = [{"part": part, "place": place, "mark": written(chance, marks[part, place])} for part, place in marks]
        self.marks[name] = marks
        self.add(name, "unit", changed(UNIT, name=name, features=FEATURES, marked_parts=rows))

    def some_mark(self) -> str:
        return f"A{self.chance.randrange(1, 6)}"

    def add(self, name: str, kind: str, body: dict[str, Any], **more: Any) -> str:
        self.number += 1
        at = (START + datetime.timedelta(hours=self.hour)).isoformat()
        self.entries[name].append(entry(self.number, kind, body, at, seq=self.number, **more))
        return f"id-{self.number}"

    def body_of(self, kind: str) -> dict[str, Any]:
        chance = self.chance
        if kind == "outing":
            return {"minutes": chance.choice([15, 30, 60])} if chance.random() < 0.7 else {}
        if kind == "rebuild":
            return self.rebuild()
        if kind == "spring_check":
            points = [HEIGHTS[chance.choice(list(HEIGHTS))]] * 3
            return {"gauge": GAUGE, "springs": [{"slot": "S1", "spring": UNIT["spring"], "points_mm": points}]}
        if kind == "ring_check":
            names = chance.sample(["R1", "R2"], chance.randrange(1, 3))
            rings: list[dict[str, Any]] = [
                {"slot": slot, "steps_mm": [STEPS[chance.choice(list(STEPS))]]} for slot in names
            ]
            return {"gauge": GAUGE, "rings": rings}
        if kind == "inspection":
            return {"features": [CRACKS | {"crack": FOUND_CRACKS[chance.choice(list(FOUND_CRACKS))]}]}
        if kind == "torque_check":
            return check_near(98)
        done = ["held", "started", "screws"] if kind == "close" else ["held", "screws"]
        return {"done": done, "guide": 2, "signed": "Ilse"}

    def rebuild(self) -> dict[str, Any]:
        chance = self.chance
        body: dict[str, Any] = {"note": "Set up."}
        rows: list[dict[str, Any]] = []
        for part, place in PLACES:
            if chance.random() < 0.3:
                row: dict[str, Any] = {"part": part, "out_to": chance.choice(TO)}
                # The unit has one spring, so its place may go unsaid.
                row |= {"place": place if part != "spring" or chance.random() < 0.5 else ""}
                ends = {name: self.some_mark() for name in ("mark", "out_mark") if chance.random() < 0.7}
                others = [other for other in rows if other["part"] == part]
                alike = any(other.get(name, "").strip().upper() == ends[name] for other in others for name in ends)
                if not ends or alike or ends.get("mark") == ends.get("out_mark"):
                    continue
                row |= {name: written(chance, ends[name]) for name in ends}
                if "mark" in ends and chance.random() < 0.3:
                    found = "Case cracks" if part == "case" else ""
                    row["found"] = [{"feature": found, "verdict": "replace", "reason": "Worn.", "unit_name": "Yarrow"}]
                rows.append(row)
        if rows:
            body["marked_parts"] = rows
        if chance.random() < 0.2:
            body["spring"] = "Another one."
        if chance.random() < 0.2:
            body["fitted"] = [{"slot": chance.choice(["R1", "R2"]), "mm": 18.0}]
        replaced = [feature["name"] for feature in FEATURES if chance.random() < 0.2]
        if replaced:
            body["replaced"] = replaced
        return body

    def write(self, name: str, kind: str) -> None:
        standing = [page for page in self.pages[name] if page["stands"]]
        if kind == "unit":
            self.define(name)
        elif kind in ("again", "away"):
            if not standing:
                return
            page = self.chance.choice(standing)
            if kind == "away":
                page["stands"] = False
                self.add(name, "note", {"text": "Withdrawn."}, replaces=page["id"])
                return
            page["body"] = self.body_of(page["kind"])
            page["id"] = self.add(name, page["kind"], page["body"], replaces=page["id"])
        else:
            body = self.body_of(kind)
            page = {"kind": kind, "body": body, "hour": self.hour, "stands": True}
            page["id"] = self.add(name, kind, body)
            self.pages[name].append(page)


def new_card(unit: str, place: tuple[str, str], mark: str, hour: float | None, found: Any) -> dict[str, Any]:
    card: dict[str, Any] = {
        "unit": unit,
        "place": place,
        "mark": mark,
        "hour": hour,
        "end": None,
        "out": "",
        "to": None,
    }
    return card | {"outings": 0, "minutes": 0, "untimed": 0, "silent": 0, "found": [], "brought": found}


def clean(mark: str) -> str:
    return mark.strip().upper()


def row_for(body: dict[str, Any], place: tuple[str, str]) -> dict[str, Any] | None:
    for row in body.get("marked_parts", []):
        if (row["part"], row["place"] or ("S1" if row["part"] == "spring" else "")) == place:
            return dict(row)
    return None


def exchanged(body: dict[str, Any], place: tuple[str, str]) -> bool:
    """Whether a rebuild put something else into a place."""
    if row_for(body, place):
        return True
    if place[0] == "spring":
        return "spring" in body
    if place[0] == "case":
        return "Case cracks" in body.get("replaced", [])
    return any(part["slot"] == place[1] for part in body.get("fitted", []))


def judged(page: dict[str, Any]) -> dict[tuple[str, str], str]:
    """What a page found of which place."""
    body = page["body"]
    if page["kind"] == "spring_check":
        return {PLACES[0]: next(v for v in HEIGHTS if HEIGHTS[v] == body["springs"][0]["points_mm"][0])}
    if page["kind"] == "ring_check":
        return {
            ("ring", row["slot"]): next(v for v in STEPS if STEPS[v] == row["steps_mm"][0]) for row in body["rings"]
        }
    if page["kind"] == "inspection":
        return {PLACES[3]: next(v for v in FOUND_CRACKS if FOUND_CRACKS[v] == body["features"][0]["crack"])}
    return {}


def cards_of(season: Season, unit: str) -> list[dict[str, Any]]:
    """The cards of a unit, written by reading its pages in order."""
    lying = {place: new_card(unit, place, season.marks[unit].get(place, ""), None, []) for place in PLACES}
    done: list[dict[str, Any]] = []
    ran = False
    for page in [page for page in season.pages[unit] if page["stands"]]:
        if page["kind"] == "outing":
            ran = True
            for card in lying.values():
                card["outings"] += 1
                card["minutes"] += page["body"].get("minutes", 0)
                card["untimed"] += "minutes" not in page["body"]
        if page["kind"] == "rebuild":
            for card in lying.values():
                card["silent"] += not ran
                card["told"] = card.get("told", False) or ran
            ran = False
            for place in PLACES:
                if exchanged(page["body"], place):
                    row = row_for(page["body"], place) or {}
                    card = lying[place]
                    card["end"], card["out"], card["to"] = (
                        page["hour"],
                        clean(row.get("out_mark", "")),
                        row.get("out_to"),
                    )
                    done.append(card)
                    lying[place] = new_card(unit, place, clean(row.get("mark", "")), page["hour"], row.get("found", []))
        for place, verdict in judged(page).items():
            lying[place]["found"].append((page["hour"], verdict, page["id"]))
    for card in lying.values():
        card["silent"] += not ran
        card["told"] = card.get("told", False) or ran
    return done + list(lying.values())


def expected_of(cards: list[dict[str, Any]], key: str) -> dict[str, Any]:
    """What the cards under one name say."""
    ever = float("inf")
    cards = sorted(
        cards, key=lambda card: (-ever if card["hour"] is None else card["hour"], card["unit"], card["place"])
    )
    here = [card for card in cards if card["end"] is None]

    def went_to(card: dict[str, Any]) -> str | None:
        """A card that lies under two names says where only that one went that came out."""
        return card["to"] if card["out"] in ("", key) else None

    latest = max((card["end"] for card in cards if not here), default=None)
    ended = [card for card in cards if card["end"] == latest]
    last = here[-1] if here else ([card for card in ended if went_to(card)] or ended)[-1]
    to = went_to(last)
    found = sorted(look for card in cards for look in card["found"])
    differ = {
        (card["unit"], card["place"][1], card["end"])
        for card in cards
        if card["mark"] and card["out"] not in ("", card["mark"])
    }
    twice = 0
    for number, card in enumerate(cards):
        for other in cards[number + 1 :]:
            start = max(-ever if each["hour"] is None else each["hour"] for each in (card, other))
            end = min(ever if each["end"] is None else each["end"] for each in (card, other))
            twice += end - start > 24.0 and (card["unit"], card["place"]) != (other["unit"], other["place"])
    return {
        "where": "unit" if here else to or "unknown",
        "unit": last["unit"] if here else None,
        "place": last["place"][1] if here else "",
        "outings": sum(card["outings"] for card in cards) if any(card["told"] for card in cards) else None,
        "minutes": sum(card["minutes"] for card in cards),
        "exact": not any(card["silent"] or card["untimed"] for card in cards),
        "verdict": found[-1][1] if found else None,
        "says": len(differ) + twice,
        "stays": len(cards),
        "found": len(found),
        "brought": [found[-1][1]] if found and found[-1][1] != "go" else [],
    }


def found_of(row: dict[str, Any]) -> dict[str, Any]:
    """The same of an answer."""
    same = {name: row[name] for name in ("where", "unit", "place", "outings", "exact", "verdict")}
    return same | {
        "minutes": round(60 * row["hours"]),
        "says": len(row["says"]),
        "stays": len(row["stays"]),
        "found": sum(len(stay["found"]) for stay in row["stays"]),
        "brought": [found["verdict"] for found in row["for_rebuild"]["found"]],
    }


def tightened(pages: list[dict[str, Any]]) -> tuple[int, bool, bool]:
    """How often the cover's screws were used, whether at least so often, and whether they are loose, from letters."""
    letters = {"rebuild": "R", "strip": "S", "close": "C", "outing": "E", "torque_check": "E"}
    new = [number for number, page in enumerate(pages) if "Cover screws" in page["body"].get("replaced", [])]
    season = "".join(letters.get(page["kind"], "") for page in pages[new[-1] if new else 0 :])
    # Strips before a rebuild are of the same opening, and so are strips one after another.
    opened = re.sub("S+", "P", re.sub("S*R", "O", season))
    count = len(re.findall("[OP]E+C?|[OP]C|O(?=[OP])|C", opened))
    added = not new and not season.startswith("C")
    return count + added, added, opened.endswith(("O", "P"))


def screws_of(pages: list[dict[str, Any]]) -> tuple[int, str | None, bool]:
    """Uses, verdict, and whether whoever closes it is told."""
    count, least, loose = tightened(pages)
    worn = count > 3 or (loose and count == 3)
    return count, "replace" if worn else None if least else "go", count >= 3


def test_marked_parts_are_followed_as_on_cards(rounds: int) -> None:
    seen: collections.Counter[str] = collections.Counter()
    for seed in range(30 * rounds):
        season = Season(seed)
        all_stays: list[dict[str, Any]] = []
        by_key: dict[tuple[str, str], list[dict[str, Any]]] = collections.defaultdict(list)
        for name in season.units:
            entries = season.entries[name].copy()
            season.chance.shuffle(entries)
            standing = calc("standing", {"entries": entries})
            all_stays += [stay | {"unit": name, "unit_name": name} for stay in standing["marked_parts"]["stays"]]
            cards = cards_of(season, name)
            for card in cards:
                for mark in {card["mark"], card["out"]} - {""}:
                    by_key[card["place"][0], mark].append(card)
            brought = [
                (*card["place"], row["verdict"])
                for card in cards
                if card["end"] is None and not card["found"]
                for row in card["brought"]
            ]
            rows = standing["marked_parts"]["brought"]
            assert sorted((row["part"], row["place"], row["verdict"]) for row in rows) == sorted(brought), (seed, name)
            assert not brought or standing["verdict"] == "replace"
            screws = standing["features"][0]
            pages = [page for page in season.pages[name] if page["stands"]]
            now = (screws["uses"], screws["verdict"], bool(screws["at_closing"]))
            assert now == screws_of(pages), (seed, name, [page["kind"] for page in pages])
            seen.update([f"screws {now[1]}", f"at closing {now[2]}", f"brought {bool(brought)}"])
        answer = {(row["part"], row["key"]): row for row in calc("marked_parts", {"stays": all_stays})["parts"]}
        assert set(answer) == set(by_key), seed
        for part, key in by_key:
            expected = expected_of(by_key[part, key], key)
            assert found_of(answer[part, key]) == expected, (seed, part, key)
            seen.update([f"where {expected['where']}", f"exact {expected['exact']}", f"verdict {expected['verdict']}"])
            seen.update([f"says {min(expected['says'], 2)}", f"stays {min(expected['stays'], 3)}"])
    print(dict(seen))
    wanted = [f"where {name}" for name in (*TO, "unit", "unknown")] + ["exact True", "exact False", "says 0", "says 2"]
    wanted += ["screws go", "screws None", "screws replace", "at closing True", "brought True", "stays 3"]
    assert all(seen[name] > 0 for name in wanted), seen
