"""When plates are due: seasons at random, beside the bookkeeping of somebody who keeps a card for each plate.

Source: first principles. A plate is known from the day on which it was measured, or from the rebuild that fitted it,
whichever came last; one without a card entry from the last rebuild, which had it in hand. The card that is oldest
decides. An outing counts from the day that its last correction says. Once a season, 365 days: common practice, no
source.
"""

import datetime
import random
from typing import Any

import pytest

from server.engine import calc
from tests.engine.checks import chain
from tests.engine.history.entries import entry

START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
PLATES = [item for item in chain() if item["part"] in ("friction", "separator")]
KINDS = ["outing"] * 6 + ["plate_check"] * 3 + ["rebuild"] * 2 + ["correction"] * 2


class Cards:
    """A unit's season: its entries, a card for each plate, and the days on which it ran."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.every = {"outings": chance.randrange(1, 8)}
        if chance.random() < 0.5:
            self.every["days"] = chance.randrange(7, 90)
        given = {f"plates_every_{measure}": value for measure, value in self.every.items()}
        unit = {"name": "Bramble", "chain": chain(), "service": {"low_nm": 60, **given}}
        self.entries = [entry(1, "unit", unit, START.isoformat(), seq=1)]
        self.cards: dict[str, datetime.datetime] = {}
        self.rebuilt: datetime.datetime | None = None
        self.run: dict[str, datetime.datetime] = {}
        self.time = START
        for number in range(2, chance.randrange(3, 16)):
            self.time += datetime.timedelta(hours=chance.choice([1, 5, 30, 100]))
            self.write(number, chance.choice(KINDS))
        self.today = (self.time + datetime.timedelta(days=chance.choice([0, 3, 30, 400]))).date()

    def some(self) -> list[dict[str, Any]]:
        """All plates, or a few, or none."""
        return self.chance.sample(PLATES, self.chance.choice([0, 3, len(PLATES), len(PLATES)]))

    def write(self, number: int, kind: str) -> None:
        """One more thing that was done, and the entry that says so."""
        body: dict[str, Any] = {"where": "Old airfield"}
        more: dict[str, Any] = {}
        plates = self.some()
        if kind == "outing":
            self.run[f"id-{number}"] = self.time
        elif kind == "correction":
            if not self.run:
                return
            wrong = self.chance.choice(sorted(self.run))
            day = (self.time - datetime.timedelta(days=self.chance.randrange(1, 6))).replace(hour=23, minute=59)
            kind, more["replaces"], body["day"] = "outing", wrong, day.date().isoformat()
            del self.run[wrong]
            first = next(row for row in self.entries if row["id"] == self.first_of(wrong))
            written = datetime.datetime.fromisoformat(first["at"])
            # Said to be of the day on which it was first written, it is as good as written then.
            self.run[f"id-{number}"] = written if written.date() == day.date() else day
        elif kind == "rebuild":
            body = {"fitted": [{"slot": row["slot"], "mm": row["new_mm"]} for row in plates], "note": "Set up."}
            self.rebuilt = self.time
            self.cards.update({row["slot"]: self.time for row in plates})
        elif plates:
            rows = [{**row, "points_mm": [row["new_mm"] - 0.02] * 3} for row in plates]
            body = {"micrometer": {"division_mm": 0.01}, "plates": rows}
            self.cards.update({row["slot"]: self.time for row in plates})
        else:
            return
        self.entries.append(entry(number, kind, body, self.time.isoformat(), seq=number, **more))

    def first_of(self, name: str) -> str:
        """The entry with which a line of corrections began."""
        replaced: dict[str, str] = {row["id"]: row.get("replaces", "") for row in self.entries}
        while replaced[name]:
            name = replaced[name]
        return name

    def oldest(self) -> datetime.datetime | None:
        """Since when the plate that is known longest is known."""
        times = [self.cards.get(row["slot"], self.rebuilt) for row in PLATES]
        return min([time for time in times if time is not None], default=None)


@pytest.mark.parametrize("seed", range(60))
def test_plates_are_due_by_the_card_that_is_oldest(seed: int) -> None:
    cards = Cards(random.Random(seed))
    found = calc("standing", {"entries": cards.entries, "today": cards.today.isoformat()})
    rows = {row["name"]: row for row in found["upkeep"]}
    oldest = cards.oldest()
    due = {row["name"] for row in found["due"]}
    if oldest is None:
        assert (rows, found["plates_by"]) == ({}, None)
        assert "plates" in due
        return
    days = cards.every.get("days", 365)
    last = oldest.date() + datetime.timedelta(days=days)
    used = {
        "outings": sum(time > oldest for time in cards.run.values()),
        "days": (cards.today - oldest.date()).days,
    }
    row = rows["plates"]
    assert (row["since"], row["due_on"], found["plates_by"]) == (oldest.date().isoformat(), *[last.isoformat()] * 2)
    assert {each["measure"]: each["used"] for each in row["measures"]} == used
    assert row["due"] == (used["outings"] >= cards.every["outings"] or cards.today > last)
    assert row["due"] == ("plates" in due)
