"""Second opinion on whether a torque check was judged by limits that its unit still has, and on what is judged again.

From first principles, in exact fractions. A limit for torque is an amount for one way of holding the unit and for one
of the two readings, steady turning or the first move: the same figure for another way or reading is another limit.
With the case held both packs turn, and a wrench feels twice their mean. 0 limits nothing. A unit has up to two pairs of
limits: what was ordered, give or take, and those for running; a check shares none with a unit that has none. The
definition that was received last counts, though it corrects an earlier one; one taken back does not.

References
----------
1. NIST Special Publication 811 (2008), appendix B: the pound-force is 4.4482216152605 N, the foot 0.3048 m and the inch
   0.0254 m; standard gravity is 9.80665 m/s2, all exact.
"""

import copy
import datetime
import itertools
import random
from collections import Counter
from fractions import Fraction
from typing import Any

import pytest

from server.engine import ENGINE_VERSION, calc
from tests.engine.history.entries import entry

BATCHES, CASES = 20, 100
START = datetime.datetime(2026, 3, 2, 8, tzinfo=datetime.UTC)
FORCE, FOOT, INCH = Fraction("4.4482216152605"), Fraction("0.3048"), Fraction("0.0254")
SIZES = {"nm": Fraction(1), "lbf_ft": FORCE * FOOT, "lbf_in": FORCE * INCH, "kgf_m": Fraction("9.80665")}
# How many places are typed behind the point.
PLACES = {"nm": 1, "lbf_ft": 1, "lbf_in": 0, "kgf_m": 2}
WRENCH = {"name": "Dial", "kind": "dial", "high_nm": 4000, "division_nm": 1}

Pair = tuple[Fraction | None, Fraction | None]


class Typed:
    """A torque as somebody typed it: at most so many places in a unit."""

    def __init__(self, figure: str, unit: str) -> None:
        self.figure, self.unit = figure, unit

    @classmethod
    def near(cls, nm: float, unit: str) -> "Typed":
        """The figure in a unit nearest to a torque in N·m."""
        return cls(f"{nm / float(SIZES[unit]):.{PLACES[unit]}f}", unit)

    @property
    def exact(self) -> Fraction:
        """What it is in N·m."""
        return Fraction(self.figure) * SIZES[self.unit]

    def sent(self, chance: random.Random) -> Any:
        """As a request holds it: a number where it is N·m, or figure and unit."""
        if self.unit == "nm" and chance.random() < 0.5:
            return float(self.figure)
        return {"typed": self.figure, "unit": self.unit}


class Definition:
    """What a unit is judged by, each amount None where it is missing."""

    def __init__(self, chance: random.Random) -> None:
        self.unit = chance.choice(["nm", "nm", *SIZES])
        self.judged_on = chance.choice(["steady", "steady", "first_move"])
        self.stated_for = chance.choice(["one_output_held", "one_output_held", "case_held"])
        self.hub_ratio = chance.choice([1.0, 1.0, 2.5])
        torque = chance.uniform(60, 300)
        amounts = {
            "torque": torque,
            "tolerance": torque * chance.uniform(0.05, 0.3),
            "low": torque * chance.uniform(0.4, 0.9),
            "high": torque * chance.uniform(1.1, 2),
        }
        self.amounts: dict[str, Typed | None] = {name: Typed.near(nm, self.unit) for name, nm in amounts.items()}
        self.has_order, self.has_service = chance.choice([(True, True), (True, True), (True, False), (False, True)])
        if chance.random() < 0.1:
            self.has_order = self.has_service = False
        for name in ("low", "high"):
            if chance.random() < 0.15:
                self.amounts[name] = None if name == "high" else chance.choice([None, Typed("0", self.unit)])

    def amount(self, name: str) -> Typed:
        """An amount that is there."""
        found = self.amounts[name]
        assert found is not None
        return found

    def changed(self, chance: random.Random) -> "Definition":
        """The same but for one field, by a little or by much, up or down; or but for something that is no limit."""
        other = copy.deepcopy(self)
        field = chance.choice([*self.amounts, "judged_on", "stated_for", "twice", "order", "service", "hub", "nothing"])
        if field in ("judged_on", "stated_for"):
            ways = ["steady", "first_move"] if field == "judged_on" else ["one_output_held", "case_held"]
            setattr(other, field, next(way for way in ways if way != getattr(self, field)))
        elif field == "twice" and self.stated_for == "one_output_held":
            # The same limits, stated for the other way of holding.
            other.stated_for = "case_held"
            for name, amount in self.amounts.items():
                if amount is not None:
                    double = 2 * Fraction(amount.figure)
                    other.amounts[name] = Typed(f"{float(double):.{PLACES[amount.unit]}f}", amount.unit)
        elif field == "order":
            other.has_order = not self.has_order
        elif field == "service":
            other.has_service = not self.has_service
        elif field == "hub":
            other.hub_ratio = 3.5 - self.hub_ratio
        elif field in self.amounts:
            before = self.amounts[field]
            left_out = field in ("low", "high") and chance.random() < 0.25
            if before is None or not Fraction(before.figure) or left_out:
                other.amounts[field] = None
            else:
                step = Fraction(1, 10 ** PLACES[self.unit])
                by = step * chance.choice([-1, 1]) * chance.choice([1, 1, 3, 10])
                other.amounts[field] = Typed(f"{float(Fraction(before.figure) + by):.{PLACES[self.unit]}f}", self.unit)
        return other

    def body(self, chance: random.Random) -> dict[str, Any]:
        """As it is typed."""
        body: dict[str, Any] = {"name": chance.choice(["Bramble", "Rook"])}
        for name, default in (("judged_on", "steady"), ("stated_for", "one_output_held"), ("hub_ratio", 1.0)):
            if getattr(self, name) != default or chance.random() < 0.5:
                body[name] = getattr(self, name)
        if self.has_order:
            names = ("torque", "tolerance")
            body["order"] = {f"{name}_nm": self.amount(name).sent(chance) for name in names}
        if self.has_service:
            given = {f"{name}_nm": self.amounts[name] for name in ("low", "high")}
            body["service"] = {name: amount.sent(chance) for name, amount in given.items() if amount is not None}
            body["service"] |= chance.choice([{}, {"plates_every_days": 90}])
        return body

    def pairs(self) -> list[Pair]:
        """The limits that it has, N·m as they are stated."""
        found: list[Pair] = []
        if self.has_order:
            torque, off = self.amount("torque").exact, self.amount("tolerance").exact
            found.append((torque - off, torque + off))
        if self.has_service:
            low, high = (None if amount is None else amount.exact for amount in map(self.amounts.get, ("low", "high")))
            found.append((low or None, high or None))
        return [pair for pair in found if pair != (None, None)]


def is_one(first: Fraction | None, second: Fraction | None) -> bool:
    """Whether two limits are the same but for how a computer rounds."""
    if first is None or second is None:
        return first is second
    return abs(first - second) <= Fraction(1, 10**9) * max(first, second)


class Check:
    """A torque check by one pair of a definition's limits, or by other ones."""

    def __init__(self, chance: random.Random, by: Definition) -> None:
        self.judged_on, self.stated_for, self.hub_ratio = by.judged_on, by.stated_for, by.hub_ratio
        pairs = by.pairs() or [(Fraction(70), chance.choice([None, Fraction(130)]))]
        self.pair = chance.choice(pairs)
        if chance.random() < 0.15:
            place = chance.choice([place for place in (0, 1) if self.pair[place] is not None])
            new = [*self.pair]
            new[place] = (new[place] or 0) + Fraction(chance.choice([-1, 1]), chance.choice([2, 10, 100]))
            self.pair = (new[0], new[1])
        low, high = (None if limit is None else float(limit) for limit in self.pair)
        limits: dict[str, Any] = {"low_nm": low, "high_nm": high}
        if low is None:
            limits["low_nm"] = chance.choice([None, 0])
        limits = {name: limit for name, limit in limits.items() if limit is not None or chance.random() < 0.5}
        # Readings at an edge, between both, or beyond.
        edge = chance.choice([limit for limit in (low, high) if limit is not None])
        near = edge * chance.choice([1, 1, 0.999, 1.001, 0.9, 1.1, 0.5, 1.6])
        ways = {way: [round(near + off, 2) for off in (0, 0.2, -0.2)] for way in ("forward", "reverse")}
        if chance.random() < 0.2:
            del ways["reverse"]
        self.body: dict[str, Any] = {"held": "bench_output_held", "wrench": WRENCH, "limits": limits}
        self.body["steady_nm" if self.judged_on == "steady" else "first_nm"] = ways
        self.body |= {"judged_on": self.judged_on, "stated_for": self.stated_for, "hub_ratio": self.hub_ratio}
        if chance.random() < 0.3:
            self.body["write_in"] = chance.choice([*SIZES])

    def is_outdated(self, today: Definition | None) -> bool:
        """Whether the limits that it was judged by are none of today's."""
        if today is None:
            return False
        if today.judged_on != self.judged_on:
            return True
        packs = {"one_output_held": 1, "case_held": 2}
        share = Fraction(packs[today.stated_for], packs[self.stated_for])
        mine = [None if limit is None else limit * share for limit in self.pair]
        return not any(all(map(is_one, mine, pair)) for pair in today.pairs())


class Log:
    """A unit's definitions, some of them corrected or taken back, and one check among them."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.entries: list[dict[str, Any]] = []
        self.definitions: dict[str, Definition] = {}
        now = Definition(chance)
        if chance.random() < 0.95:
            self.define(now)
        self.check = Check(chance, now)
        self.checked = self.write("torque_check", self.check.body)
        for _ in range(chance.choice([0, 1, 1, 1, 2])):
            now = chance.choice(
                [now.changed(chance)] * 3 + [Definition(chance), now, now.changed(chance).changed(chance)]
            )
            wrong = chance.choice([*self.live(), ""]) if chance.random() < 0.3 else ""
            self.define(now, wrong)
        if self.live() and chance.random() < 0.2:
            self.write("note", {"text": "Taken back."}, replaces=chance.choice(self.live()))
        self.tamper()

    def define(self, what: Definition, wrong: str = "") -> None:
        """Write a definition down, perhaps as the correction of another one."""
        more = {"replaces": wrong} if wrong else {}
        self.definitions[self.write("unit", what.body(self.chance), **more)["id"]] = what

    def write(self, kind: str, body: dict[str, Any], **more: Any) -> dict[str, Any]:
        """One more entry of the log, by a clock that may be off by what the workshop found."""
        number = len(self.entries) + 1
        off = self.chance.choice([0, 0, 0, self.chance.randrange(-90000, 90000)])
        at = START + datetime.timedelta(hours=9 * number, seconds=-off)
        more |= {"clock_off_s": off} if off else {}
        row = entry(number, kind, body, at.isoformat(), seq=number, engine=ENGINE_VERSION, **more)
        self.entries.append(row)
        return row

    def tamper(self) -> None:
        """Let another engine have judged the check, as this one does or otherwise."""
        self.checked["engine"] = self.chance.choice([ENGINE_VERSION, ENGINE_VERSION, "1.3", "1.60", "99.1", ""])
        self.judged = self.checked["shown"]
        other: dict[str, Any] = {"verdict": self.chance.choice(["go", "measure_again", "rework"])}
        changes = self.chance.choice([{}, {}, other, {"value_nm": 1.1 * self.judged["value_nm"]}])
        self.checked["shown"] = self.judged | changes

    def today(self) -> Definition | None:
        """The definition that stands, the last one received that nothing replaces; None where none is left."""
        live = self.live()
        return self.definitions[live[-1]] if live else None

    def live(self) -> list[str]:
        """Definitions that nothing replaces, in the order in which the workshop received them."""
        replaced = {row.get("replaces") for row in self.entries}
        return [name for name in self.definitions if name not in replaced]

    def again(self) -> dict[str, Any] | None:
        """What is judged again, without its sentence: where an older engine judged it, and this one otherwise."""
        shown, judged = self.checked["shown"], self.judged
        if self.checked["engine"] not in ("1.3", "1.60"):
            return None
        if (shown["verdict"], shown["value_nm"]) == (judged["verdict"], judged["value_nm"]):
            return None
        row = {"id": self.checked["id"], "engine": self.checked["engine"]}
        return row | {name: judged[name] for name in ("verdict", "value_nm")}


@pytest.mark.parametrize("batch", range(BATCHES))
def test_a_check_by_limits_that_its_unit_no_longer_has(batch: int) -> None:
    seen: Counter[str] = Counter()
    for case in range(CASES):
        chance = random.Random(f"outdated {batch} {case}")
        log = Log(chance)
        entries = log.entries.copy()
        chance.shuffle(entries)
        for name in (log.checked["id"], *log.definitions, "id-99"):
            found = calc("judged_again", {"entries": entries, "id": name})
            if name != log.checked["id"]:
                assert found == {"again": None, "outdated": False}, (batch, case, name)
                continue
            today, about = log.today(), (batch, case, found, entries)
            outdated = log.check.is_outdated(today)
            assert found.keys() == {"again", "outdated"}
            assert found["outdated"] is outdated, about
            text = (found["again"] or {}).pop("text", "")
            again = log.again()
            assert found["again"] == again, about
            assert (log.checked["engine"] in text) if again else not text, about
            seen["judged again" if again else "judged alike"] += 1
            kind = "no definition" if today is None else "limits" if today.pairs() else "no limits"
            seen[f"{kind}, {'others' if outdated else 'the same'}"] += 1
    ways = ("limits, others", "limits, the same", "no limits, others", "no definition, the same")
    assert min(seen[way] for way in (*ways[:2], "judged alike")) >= 10, seen
    assert min(seen[way] for way in (*ways, "judged again")) >= 1, seen


def test_every_field_of_a_definition_is_told_apart() -> None:
    """One check by each pair, and a definition in which one field alone is another: its go no longer counts then."""
    body = {"name": "Rook", "order": {"torque_nm": 100, "tolerance_nm": 30}, "service": {"low_nm": 60, "high_nm": 140}}
    pairs = {"order": {"low_nm": 70, "high_nm": 130}, "service": body["service"]}
    changes: dict[str, tuple[dict[str, Any], set[str]]] = {
        "a name": ({"name": "Bramble"}, set()),
        "a hub": ({"hub_ratio": 2}, set()),
        "days": ({"service": {"low_nm": 60, "high_nm": 140, "plates_every_days": 90}}, set()),
        "order up": ({"order": {"torque_nm": 100.1, "tolerance_nm": 30}}, {"order"}),
        "order down": ({"order": {"torque_nm": 99.9, "tolerance_nm": 30}}, {"order"}),
        "wider": ({"order": {"torque_nm": 100, "tolerance_nm": 30.1}}, {"order"}),
        "no order": ({"order": None}, {"order"}),
        "low": ({"service": {"low_nm": 60.1, "high_nm": 140}}, {"service"}),
        "high": ({"service": {"low_nm": 60, "high_nm": 139.9}}, {"service"}),
        "no high": ({"service": {"low_nm": 60}}, {"service"}),
        "low of 0": ({"service": {"low_nm": 0, "high_nm": 140}}, {"service"}),
        "no service": ({"service": None}, {"service"}),
        "first move": ({"judged_on": "first_move"}, {"order", "service"}),
        "case held": ({"stated_for": "case_held"}, {"order", "service"}),
        "case held, twice as much": (
            {
                "stated_for": "case_held",
                "order": {"torque_nm": 200, "tolerance_nm": 60},
                "service": {"low_nm": 120, "high_nm": 280},
            },
            set(),
        ),
        "nothing left": ({"order": None, "service": None}, {"order", "service"}),
    }
    readings = {"forward": [100, 101, 100], "reverse": [100, 101, 100]}
    for (name, (change, wanted)), (pair, limits) in itertools.product(changes.items(), pairs.items()):
        wrench = WRENCH | {"high_nm": 200}
        check = {"held": "bench_output_held", "wrench": wrench, "steady_nm": readings, "limits": limits}
        entries = [
            entry(1, "unit", body, "2026-03-02T08:00:00Z", seq=1),
            entry(2, "torque_check", check, "2026-03-02T09:00:00Z", seq=2),
            entry(3, "unit", body | change, "2026-03-02T10:00:00Z", seq=3),
        ]
        found = calc("judged_again", {"entries": entries, "id": "id-2"})
        assert found == {"again": None, "outdated": pair in wanted}, (name, pair)
        assert entries[1]["shown"]["verdict"] == "go"
        assert calc("standing", {"entries": entries})["verdict"] == (None if pair in wanted else "go"), (name, pair)
