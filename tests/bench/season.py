"""An invented season of many workshops: when which phone delivers how much, the same for the same seed.

What it takes for granted is said here and is nobody's measurement: a workshop has a few phones, goes to most meetings
of a season, and brings home what it wrote there mostly on Sunday evening.
"""

import random
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

WORKSHOPS = 10_000
WEEKS = 26
DAY_S, WEEK_S = 86_400, 7 * 86_400
# A workshop goes to a meeting in this share of the weeks, with so many phones.
AT_A_MEETING = 0.6
PHONES = (2, 4)
# Entries that a phone brings home from a meeting, and on a working day: middle, and how far they scatter (of the
# logarithm); how many entries have a photo.
FROM_MEETING, FROM_DAY, SCATTER = 12, 3, 0.8
WITH_PHOTO = 0.15
# Deliveries of a phone on working days of a week.
DAYS_IN_SHOP = 2
MOST = 500
# Seconds of the week at which phones come home from a meeting: Sunday from 16 to 23, most of them at 19:30; the rest
# on Saturday evening.
SUNDAY = (6 * DAY_S + 16 * 3600, 6 * DAY_S + 23 * 3600, 6 * DAY_S + 19.5 * 3600)
SATURDAY = (5 * DAY_S + 17 * 3600, 5 * DAY_S + 23 * 3600, 5 * DAY_S + 20 * 3600)
ON_SUNDAY = 0.75


class Delivery(NamedTuple):
    """A phone that comes into reach and delivers what it has.

    Attributes
    ----------
    at_s : float
        Second of the season.
    workshop, phone : int
        Which one, from 0.
    entries, photos : int
        How much it brings.
    """

    at_s: float
    workshop: int
    phone: int
    entries: int
    photos: int


def season(workshops: int = WORKSHOPS, weeks: int = WEEKS, seed: int = 1) -> list[Delivery]:
    """Every delivery of a season, in the order of time."""
    chance = random.Random(seed)
    deliveries = []
    for workshop in range(workshops):
        phones = chance.randint(*PHONES)
        # Large workshops write more.
        size = chance.lognormvariate(0, 0.5)
        for week in range(weeks):
            at_meeting = chance.random() < AT_A_MEETING
            for phone in range(phones):
                for at_s, middle in moments(chance, at_meeting):
                    entries = min(MOST, max(1, round(size * middle * chance.lognormvariate(0, SCATTER))))
                    photos = int(entries * WITH_PHOTO + chance.random())
                    deliveries.append(Delivery(week * WEEK_S + at_s, workshop, phone, entries, photos))
    return sorted(deliveries)


def moments(chance: random.Random, at_meeting: bool) -> list[tuple[float, int]]:
    """When a phone delivers in a week, and how much it brings in the middle."""
    found = []
    if at_meeting:
        evening = SUNDAY if chance.random() < ON_SUNDAY else SATURDAY
        found.append((chance.triangular(*evening), FROM_MEETING))
    for _ in range(DAYS_IN_SHOP):
        found.append((chance.randrange(5) * DAY_S + chance.triangular(8 * 3600, 18 * 3600), FROM_DAY))
    return found


def busiest(deliveries: list[Delivery], length_s: float) -> list[Delivery]:
    """The deliveries of the time of this length in which most entries come, counted from full lengths."""
    entries: Counter[int] = Counter()
    for delivery in deliveries:
        entries[int(delivery.at_s // length_s)] += delivery.entries
    start_s = max(entries, key=lambda place: entries[place]) * length_s
    first = bisect_left(deliveries, start_s, key=lambda delivery: delivery.at_s)
    last = bisect_left(deliveries, start_s + length_s, key=lambda delivery: delivery.at_s)
    return [delivery._replace(at_s=delivery.at_s - start_s) for delivery in deliveries[first:last]]


class Amount(NamedTuple):
    """How much some deliveries bring in all."""

    deliveries: int
    entries: int
    photos: int


def amount(deliveries: Iterable[Delivery]) -> Amount:
    """How much some deliveries bring in all."""
    rows = list(deliveries)
    return Amount(len(rows), sum(row.entries for row in rows), sum(row.photos for row in rows))
