"""A shop whose plates move between a shelf and units, told at random, with the books as a clerk would keep them.

The clerk knows when everything truly happened. Phones write entries without always knowing one another, with clocks
that may be wrong, and hand them in late; what the engine makes of those entries has to be what stands in the books.
"""

import datetime
import random
from typing import Any

from server.engine import KINDS, calc

START = datetime.datetime(2026, 5, 1, 8, tzinfo=datetime.UTC).timestamp()
MINUTE, HOUR = 60.0, 3600.0
CLASSES = {"2.40": 2.4, "2.50": 2.5, "2.60": 2.6}
UNITS = ("Bramble", "Heron", "Teasel")
SLOTS = ("A2", "A4", "B2")


def text_of(seconds: float) -> str:
    """A time as a device writes it."""
    return datetime.datetime.fromtimestamp(seconds, datetime.UTC).isoformat(timespec="milliseconds")


class Device:
    """A phone with what it has of the log, and how far its clock is behind."""

    def __init__(self, name: str, slow: float) -> None:
        self.name, self.slow = name, slow
        self.has: dict[str, dict[str, Any]] = {}
        self.waiting: list[str] = []
        self.met: float | None = None

    def heads(self, entries: list[dict[str, Any]]) -> list[str]:
        """Those of some entries that no other of them was written after."""
        known = {name for row in entries for name in [*row["knows"], row.get("replaces")]}
        return sorted(row["id"] for row in entries if row["id"] not in known)


class Shop:
    """A season of a shop.

    Parameters
    ----------
    chance : random.Random
        Where the story comes from.
    wrong_clocks : bool
        Whether phones may be hours off.
    crowded : bool
        Whether things happen within minutes of each other, so that clocks alone cannot tell their order.
    """

    def __init__(self, chance: random.Random, wrong_clocks: bool, crowded: bool) -> None:
        self.chance, self.crowded = chance, crowded
        self.true = START
        self.log: dict[str, dict[str, Any]] = {}
        self.made: list[dict[str, Any]] = []
        self.devices = [Device("0", 0.0)]
        for number in (1, 2):
            slow = chance.choice([0.0, 7 * HOUR, -30 * HOUR]) if wrong_clocks else 0.0
            self.devices.append(Device(str(number), slow))
        for device in self.devices:
            self.sync(device)

    def tell(self, steps: int) -> None:
        """Let things happen."""
        acts = [self.count] * 3 + [self.rebuild] * 4 + [self.plan] * 2 + [self.correct, self.withdraw]
        self.count(self.devices[0])
        self.sync(self.devices[0])
        for _ in range(steps):
            self.true += self.chance.uniform(20, 300) if self.crowded else self.chance.uniform(20, 3000) * MINUTE
            device = self.chance.choice(self.devices)
            if self.chance.random() < 0.45:
                self.sync(device)
            self.chance.choice(acts)(device)
        for device in self.devices:
            self.true += 20 * MINUTE
            if self.chance.random() < 0.9:
                self.sync(device)

    def sync(self, device: Device) -> None:
        """A device meets the workshop's PC: both then have what either had."""
        for name in device.waiting:
            entry = {**device.has[name], "seq": len(self.log) + 1, "received": text_of(self.true)}
            entry.update({"clock_off_s": device.slow, "clock_checked": True, "clock_fell_s": 0.0})
            self.log[name] = entry
        device.waiting = []
        device.has = {name: dict(entry) for name, entry in self.log.items()}
        device.met = self.true

    def write(self, device: Device, kind: str, unit: str, body: dict[str, Any], replaces: str | None = None) -> None:
        """An entry is written on a device; the clerk notes beside it when that truly was."""
        own = [row for row in device.has.values() if row["unit"] == unit]
        knows = device.heads(own)
        counts = device.heads([row for row in device.has.values() if row["unit"] == ""])
        if kind in ("rebuild", "planned"):
            knows += counts
        if kind == "shelf":
            for other in UNITS:
                knows += device.heads([row for row in device.has.values() if row["unit"] == other])
        entry: dict[str, Any] = {
            "id": f"{len(self.made):04d}",
            "at": text_of(self.true - device.slow),
            "who": "Ada",
            "device": device.name,
            "unit": unit,
            "kind": kind,
            "body": body,
            "shown": calc(KINDS[kind].calculation, body),
            "knows": knows[:50],
            "clock": {
                "met": None if device.met is None else text_of(device.met - device.slow),
                "off_s": device.slow,
                "met_fell_s": 0.0,
                "fell_s": 0.0,
            },
        }
        if replaces:
            entry["replaces"] = replaces
        device.has[entry["id"]] = entry
        device.waiting.append(entry["id"])
        self.made.append({**entry, "true": self.true})

    def rows(self, names: list[str]) -> list[dict[str, Any]]:
        """Rows of a count."""
        return [
            {
                "name": name,
                "part": "friction",
                "mm": CLASSES[name],
                "count": self.chance.randrange(7),
                "lowest_stock": self.chance.choice([1, 2, 4]),
            }
            for name in names
        ]

    def count(self, device: Device) -> None:
        """Somebody counts the shelf, or a part of it."""
        names = [name for name in CLASSES if self.chance.random() < 0.7]
        body: dict[str, Any] = {"pieces": self.rows(names)}
        if names and self.chance.random() < 0.5:
            body["only_these"] = True
        self.write(device, "shelf", "", body)

    def work(self, unit: str) -> dict[str, Any]:
        """What a rebuild fits and what comes out."""
        fitted: list[dict[str, Any]] = []
        out: list[dict[str, Any]] = []
        for slot in self.chance.sample(SLOTS, self.chance.randrange(1, 4)):
            name = self.chance.choice([*CLASSES, *CLASSES, "never seen", ""])
            part = {"slot": slot, "mm": CLASSES.get(name, 2.45), "piece": name}
            if self.chance.random() < 0.15:
                part["bought"] = True
            fitted.append(part)
            where = self.chance.choice(["keep", "scrap", "again"])
            plate: dict[str, Any] = {"slot": slot, "part": "friction", "where": where}
            if where == "keep":
                mm = 2.3 + self.chance.randrange(4) / 100
                plate.update({"name": f"{unit} {mm:.2f}", "mm": mm, "new_mm": 2.5, "within_mm": 0.004})
                if plate["name"] in {row.get("name") for row in out}:
                    plate["where"] = "scrap"
            out.append(plate)
        shelf = self.chance.choice(["moves", "moves", "moves", "counted", None])
        body: dict[str, Any] = {"fitted": fitted, "came_out": out, "note": "Set up."}
        if shelf:
            body["shelf"] = shelf
        return body

    def rebuild(self, device: Device) -> None:
        """A unit is rebuilt."""
        unit = self.chance.choice(UNITS)
        self.write(device, "rebuild", unit, self.work(unit))

    def plan(self, device: Device) -> None:
        """A plan is taken."""
        fitted = [
            {"slot": slot, "part": "friction", "piece": name, "mm": CLASSES[name]}
            for slot, name in [
                (slot, self.chance.choice(list(CLASSES))) for slot in SLOTS[: self.chance.randrange(1, 4)]
            ]
        ]
        self.write(device, "planned", self.chance.choice(UNITS), {"fitted": fitted})

    def known_to(self, device: Device) -> list[dict[str, Any]]:
        """Entries that a device has and that nothing it has replaces."""
        replaced = {row.get("replaces") for row in device.has.values()}
        return [row for row in device.has.values() if row["id"] not in replaced and row["kind"] != "note"]

    def correct(self, device: Device) -> None:
        """Somebody says anew what an entry should have said."""
        rows = self.known_to(device)
        if not rows:
            return
        row = self.chance.choice(rows)
        body = row["body"]
        if row["kind"] == "rebuild":
            body = self.work(row["unit"])
        elif row["kind"] == "shelf":
            body = {**body, "pieces": self.rows([piece["name"] for piece in body["pieces"]])}
        self.write(device, row["kind"], row["unit"], body, row["id"])

    def withdraw(self, device: Device) -> None:
        """An entry is taken back."""
        rows = [row for row in self.known_to(device) if row["kind"] in ("rebuild", "planned")]
        if rows:
            row = self.chance.choice(rows)
            self.write(device, "note", row["unit"], {"text": "Not so."}, row["id"])


class Books:
    """The clerk's books over the entries that reached somebody, with the times at which things truly happened."""

    def __init__(self, shop: Shop, seen: list[dict[str, Any]]) -> None:
        true = {row["id"]: row["true"] for row in shop.made}
        by_id = {row["id"]: row for row in seen}
        replaced = {row["replaces"] for row in seen if row.get("replaces")}
        arrival = {row["id"]: (row.get("seq") or 10**9, row["id"]) for row in seen}
        standing: dict[str, tuple[tuple[int, str], dict[str, Any]]] = {}
        for row in seen:
            if row["id"] in replaced:
                continue
            first = row
            while first.get("replaces") in by_id:
                first = by_id[first["replaces"]]
            held = standing.get(first["id"])
            if held is None or arrival[row["id"]] > held[0]:
                standing[first["id"]] = (arrival[row["id"]], row)
        # What happened, in its true order, each as the correction that stands says it.
        happened = sorted((true[first], row) for first, (_, row) in standing.items())
        self.balance: dict[str, int] = {}
        self.lowest: dict[str, int] = {}
        self.plans: dict[str, list[str]] = {}
        for _, row in happened:
            self.post(row)

    def post(self, row: dict[str, Any]) -> None:
        """One line of the books."""
        body = row["body"]
        if row["kind"] == "shelf":
            if not body.get("only_these"):
                self.balance, self.lowest = {}, {}
            for piece in body["pieces"]:
                self.balance[piece["name"]] = piece["count"]
                self.lowest[piece["name"]] = piece["lowest_stock"]
        elif row["kind"] == "planned":
            self.plans[row["unit"]] = [part["piece"] for part in body["fitted"]]
        elif row["kind"] == "rebuild":
            self.plans.pop(row["unit"], None)
            if body.get("shelf") == "moves":
                for part in body["fitted"]:
                    if part["piece"] and not part.get("bought"):
                        self.balance[part["piece"]] = self.balance.get(part["piece"], 0) - 1
                for plate in body["came_out"]:
                    if plate["where"] == "keep":
                        self.balance[plate["name"]] = self.balance.get(plate["name"], 0) + 1

    def page(self) -> dict[str, tuple[int, int, int, int]]:
        """By name: how many there are, how many more were fitted than there were, planned, and to buy."""
        wanted: dict[str, int] = {}
        for names in self.plans.values():
            for name in names:
                wanted[name] = wanted.get(name, 0) + 1
        page = {}
        for name in sorted({*self.balance, *wanted}):
            now = self.balance.get(name, 0)
            lowest = self.lowest.get(name, 0)
            here, planned = max(now, 0), wanted.get(name, 0)
            line = (here, max(-now, 0), planned, max(0, planned + lowest - here))
            if any(line):
                page[name] = line
        return page


def shelf_of(entries: list[dict[str, Any]]) -> dict[str, Any]:
    """What the engine makes of the entries of a shop and its units."""
    kit = calc("kit_standing", {"entries": [entry for entry in entries if not entry["unit"]]})
    units = []
    for unit in {entry["unit"] for entry in entries if entry["unit"]}:
        found = calc("standing", {"entries": [entry for entry in entries if entry["unit"] == unit]})["shelf"]
        units.append({"unit": unit, "name": unit, "moves": found["moves"], "plan": found["plan"]})
    return calc("shelf_now", {"counts": kit["counts"], "count_ids": kit["count_ids"], "units": units})
