"""The order of entries: what was written knowing another is later than it, whatever the clocks say.

Each entry names the entries that its device had when it was written, as far as no other that it had was written after
them. That order of causes always holds. Times are then as far from one another as clocks and causes allow, and two
entries that did not know each other are in a certain order only where their times do not overlap.

References
----------
1. L. Lamport, "Time, clocks, and the ordering of events in a distributed system", Communications of the ACM 21 (1978)
   558-565: the order of causes.
2. S. S. Kulkarni et al., "Logical physical clocks", OPODIS 2014: a time that never falls behind that of a cause.
"""

from typing import Any

from ..request.dates import instant, stamp_of
from ..request.sorting import in_order
from .clocks import BELIEVED, EVER, MEASURED, NEAR_S, claim_of, is_old, meetings_about, shown_time

# The number of entries on their way: they count as received last.
ON_ITS_WAY = 1 << 52

# As many entries as one names at most.
MOST_KNOWN = 50


class When:
    """The time of an entry.

    Attributes
    ----------
    shown : float
        What its device's clock showed, seconds since 1970.
    at : float
        When it was most likely made, seconds since 1970; never before an entry that it knew.
    count : int
        Its place among those that clocks put at the same time, by what they knew.
    first, last : float
        The earliest and the latest time at which it can have been made.
    text : str
        `at` in UTC, as `instant` writes it.
    believed : bool
        Whether what its clock showed is not contradicted by other entries.
    """

    def __init__(self, order: "Order", index: int) -> None:
        self.order = order
        self.index = index
        self.shown: float = order.shown[index]
        self.at = 0.0
        self.count = 0
        self.first, self.last = EVER
        self.text = ""
        self.believed = True

    def is_before(self, other: "When") -> bool:
        """Whether this one was certainly made before the other."""
        if self.last < other.first:
            return True
        return other.last >= self.first and other.knew(self)

    def knew(self, other: "When") -> bool:
        """Whether this one was written knowing the other, which also counts for old entries in their order."""
        order = self.order
        return self is not other and order is other.order and order.known[self.index] >> other.index & 1 == 1


class Order:
    """The order of the entries of one unit, or of the shop.

    Parameters
    ----------
    entries : list of dict
        In any order.

    Attributes
    ----------
    whens : list of When
        The time of each, in the order in which they were given.
    arrivals : list of (int, int)
        The place of each in the order of arrival, in which an entry too follows what it knew.
    """

    def __init__(self, entries: list[dict[str, Any]]) -> None:
        self.entries = entries
        self.shown = [shown_time(entry) for entry in entries]
        self.claims = [claim_of(entry, shown) for entry, shown in zip(entries, self.shown)]
        self.causes = causes_of(entries)
        self.parents = self.with_old_chain()
        self.line = in_line(self.parents)
        self.whens = [When(self, index) for index in range(len(entries))]
        # What each entry knew, and what those knew: a bit for each place.
        self.known = known_by(self.parents, self.line)
        self.bound()
        self.date()
        self.arrivals = self.number()

    def bound(self) -> None:
        """Set the earliest and latest time of each entry from what clocks say, the best known first."""
        self.narrow([meetings_about(entry) for entry in self.entries])
        for level in (MEASURED, BELIEVED):
            offered = [claim[:2] if claim and claim[2] == level else None for claim in self.claims]
            kept = self.narrow(offered)
            for index, span in enumerate(offered):
                if span is not None and kept[index] is None:
                    self.whens[index].believed = False

    def narrow(self, spans: list[Any]) -> list[Any]:
        """Narrow all times by spans; those that contradict what is known already, or one another, do not count."""
        whens = self.whens
        kept = [
            span if span is not None and span[0] <= when.last and span[1] >= when.first else None
            for span, when in zip(spans, whens)
        ]
        kept = [span if kept[index] is not None else None for index, span in enumerate(self.consistent(kept))]
        for when, span in zip(whens, kept):
            if span is not None:
                when.first, when.last = max(when.first, span[0]), min(when.last, span[1])
        for index in self.line:
            for parent in self.parents[index]:
                whens[index].first = max(whens[index].first, whens[parent].first)
        for index in reversed(self.line):
            for parent in self.parents[index]:
                whens[parent].last = min(whens[parent].last, whens[index].last)
        return kept

    def consistent(self, spans: list[Any]) -> list[Any]:
        """Those spans that contradict no other: none lies wholly after the span of an entry that knew it."""
        latest_first = [EVER[0]] * len(spans)
        earliest_last = [EVER[1]] * len(spans)
        for index in self.line:
            for parent in self.parents[index]:
                first = spans[parent][0] if spans[parent] else EVER[0]
                latest_first[index] = max(latest_first[index], latest_first[parent], first)
        for index in reversed(self.line):
            last = min(earliest_last[index], spans[index][1] if spans[index] else EVER[1])
            for parent in self.parents[index]:
                earliest_last[parent] = min(earliest_last[parent], last)
        return [
            span if span and span[1] >= latest_first[index] and span[0] <= earliest_last[index] else None
            for index, span in enumerate(spans)
        ]

    def date(self) -> None:
        """Set when each entry was most likely made, and its place among those of the same time."""
        for index in self.line:
            entry, when = self.entries[index], self.whens[index]
            when.at = min(max(self.likely_time(index), when.first), when.last)
            parents = [self.whens[parent] for parent in self.parents[index]]
            when.at = max([when.at] + [parent.at for parent in parents])
            when.count = max([0] + [parent.count + 1 for parent in parents if parent.at == when.at])
            unmoved = is_old(entry) and when.at == self.shown[index]
            when.text = instant(entry["at"], entry.get("clock_off_s") or 0.0) if unmoved else stamp_of(when.at)

    def likely_time(self, index: int) -> float:
        """When an entry was most likely made, before other entries are looked at, in seconds since 1970."""
        claim = self.claims[index]
        if claim is None or claim[0] == claim[1]:
            return self.shown[index]
        if claim[0] == EVER[0]:
            return claim[1] - NEAR_S
        return claim[0] + NEAR_S if claim[1] == EVER[1] else (claim[0] + claim[1]) / 2.0

    def with_old_chain(self) -> list[list[int]]:
        """The causes of each entry, where each old one follows the one before it by the clocks, as it always did."""
        parents = [list(row) for row in self.causes]
        entries, shown = self.entries, self.shown
        old = in_order((shown[place], entry["id"], place) for place, entry in enumerate(entries) if is_old(entry))
        for earlier, later in zip(old, old[1:]):
            parents[later[2]] = [earlier[2]]
        return parents

    def number(self) -> list[tuple[int, int]]:
        """The places in the order of arrival."""
        places = [(seq if seq is not None else ON_ITS_WAY, 0) for seq in (entry.get("seq") for entry in self.entries)]
        for index in self.line:
            for parent in self.causes[index]:
                if places[parent] >= places[index]:
                    places[index] = (places[parent][0], places[parent][1] + 1)
        return places

    def heads(self) -> list[str]:
        """What an entry that is written now knows: the ids of those that no other was written after."""
        parents = {parent for parents in self.parents for parent in parents}
        heads = [index for index in range(len(self.entries)) if index not in parents]
        keys = sorted((self.whens[index].at, self.whens[index].count, self.entries[index]["id"]) for index in heads)
        return [key[2] for key in keys[-MOST_KNOWN:]]


def causes_of(entries: list[dict[str, Any]]) -> list[list[int]]:
    """For each entry the places of those that it names as known, or corrects; old entries name none."""
    places = {entry["id"]: place for place, entry in enumerate(entries)}
    causes = []
    for entry in entries:
        names = [] if is_old(entry) else list(entry.get("knows") or []) + [entry.get("replaces")]
        causes.append([places[name] for name in names if name in places and name != entry["id"]])
    for index in in_circle(causes):
        # Nobody can have written this; the clocks have to do.
        causes[index] = []
    return causes


def in_line(parents: list[list[int]]) -> list[int]:
    """Places in an order in which each comes after all of its parents; those that go round in a circle are left out."""
    children: list[list[int]] = [[] for _ in parents]
    missing = [len(row) for row in parents]
    for index, row in enumerate(parents):
        for parent in row:
            children[parent].append(index)
    line = [index for index, count in enumerate(missing) if count == 0]
    for index in line:
        for child in children[index]:
            missing[child] -= 1
            if missing[child] == 0:
                line.append(child)
    return line


def known_by(parents: list[list[int]], line: list[int]) -> list[int]:
    """For each place a bit for each of its parents, and of all those before them; `line` is their order.

    >>> known_by([[], [0], [], [1, 2]], [0, 2, 1, 3])
    [0, 1, 0, 7]
    """
    known = [0] * len(parents)
    for index in line:
        for parent in parents[index]:
            known[index] |= known[parent] | 1 << parent
    return known


def in_circle(causes: list[list[int]]) -> set[int]:
    """Places whose causes lead back to themselves, or to such."""
    return set(range(len(causes))) - set(in_line(causes))


def placed(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The same entries with their time under "when" and their place of arrival under "arrived"."""
    if entries and isinstance(entries[0].get("when"), When):
        return entries
    order = Order(entries)
    copies = []
    for entry, when, arrived in zip(entries, order.whens, order.arrivals):
        copy = entry.copy()
        copy["when"], copy["arrived"] = when, arrived
        copies.append(copy)
    return copies


def heads_of(entries: list[dict[str, Any]]) -> list[str]:
    """What an entry that is written now knows, from placed entries."""
    return entries[0]["when"].order.heads() if entries else []
