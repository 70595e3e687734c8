"""A workshop with many units, some at the ends of what is built; the same for the same seed, sent by the interface."""

import json
import random
import urllib.request
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

from tests.bench.workshop import Workshop, judged, season, vary

BATCH = 100
LONG_NAME = "Fourteen plates, for the long hill climb on narrow tyres"


def definition(name: str, side: list[tuple[str, float]]) -> dict[str, Any]:
    """A unit with these plates on each side, its cavity as deep as it takes."""
    base = next(body for kind, body in season() if kind == "unit")
    parts = [item for item in base["chain"] if item["part"] in ("spring", "ring")]
    before = sum(item.get("new_mm", 0.0) for item in base["chain"])
    plates = {
        pack: [
            {"slot": f"{pack}{place}", "part": part, "new_mm": mm, "minimum_mm": round(0.92 * mm, 2)}
            for place, (part, mm) in enumerate(side, 1)
        ]
        for pack in "AB"
    }
    chain = [parts[0], *plates["A"], *parts[1:], *plates["B"]]
    cavity = round(base["cavity_mm"] - before + sum(item.get("new_mm", 0.0) for item in chain), 3)
    return {**base, "name": name, "chain": chain, "cavity_mm": cavity}


FOURTEEN = [("separator", 2.5), ("friction", 2.5)] + [("separator", 1.5), ("friction", 2.5)] * 2 + [("separator", 2.5)]
SPECIAL = {LONG_NAME: FOURTEEN, "One a side": [("separator", 2.5), ("friction", 2.5), ("separator", 2.5)]}


def plates_of(unit: dict[str, Any], chance: random.Random, day: str) -> dict[str, Any]:
    """A plate check of every plate of a unit."""
    rows = [
        {**item, "points_mm": [f"{item['new_mm'] - chance.uniform(0, 0.09):.3f}" for _ in range(4)], "marks": "none"}
        for item in unit["chain"]
        if item["part"] in ("friction", "separator")
    ]
    return {"micrometer": {}, "day": day, "limits": unit["limits"], "plates": rows}


def two_years(workshop: Workshop, unit: str, now: datetime) -> Iterator[dict[str, Any]]:
    """A check every week and the plates every quarter, for two years."""
    chance = random.Random(7)
    bodies = {
        kind: [body for season_kind, body in season() if season_kind == kind]
        for kind in ("torque_check", "plate_check")
    }
    for week in range(104, 0, -1):
        at = now - timedelta(weeks=week)
        for kind in ("torque_check", "plate_check") if week % 13 == 0 else ("torque_check",):
            body = vary(kind, chance.choice(bodies[kind]), chance, at.date())
            yield workshop.entry(week, unit, judged(kind, body), at + timedelta(minutes=len(kind)))


def crowd(units: int, seed: int = 3) -> list[dict[str, Any]]:
    """Entries of `units` units with a short history each, of two special ones, and one with two years of checks."""
    workshop = Workshop(units, seed)
    now = datetime(2026, 11, 20, 9, tzinfo=UTC)
    entries = []
    for number, unit in enumerate(workshop.units):
        at = now - timedelta(days=300 - number % 250, seconds=number)
        entries.append(workshop.entry(number, unit, workshop.definition(number), at))
        entries += [workshop.entry(number, unit, workshop.drawn(), at + timedelta(days=day)) for day in range(3, 15, 4)]
    special = Workshop(len(SPECIAL), seed + 1)
    for unit, (name, side) in zip(special.units, SPECIAL.items(), strict=True):
        body = definition(name, side)
        at = now - timedelta(days=30)
        plates = plates_of(body, special.chance, at.date().isoformat())
        entries.append(special.entry(0, unit, judged("unit", body), at))
        entries.append(special.entry(1, unit, judged("plate_check", plates), at + timedelta(hours=1)))
    entries += two_years(workshop, workshop.units[0], now)
    return entries


def send(address: str, entries: list[dict[str, Any]]) -> None:
    """Write entries into a log by its interface; each has to be stored."""
    for start in range(0, len(entries), BATCH):
        body = json.dumps({"entries": entries[start : start + BATCH]}).encode()
        post = urllib.request.Request(f"{address}/api/log", body, {"Content-Type": "application/json"})
        with urllib.request.urlopen(post, timeout=60) as answer:
            answers = json.load(answer)["answers"]
        refused = [answer for answer in answers if answer["answer"] != "stored"]
        assert not refused, refused[:3]
