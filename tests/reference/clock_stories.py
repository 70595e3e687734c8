"""Stories of several phones and a PC whose clocks jump, drift, fall back and are set right, made up at random.

Each device notes with its entries what a device can know; what truly happened stays with the story, under "done".
"""

import datetime
import functools
import random
from typing import Any

from server.engine import calc
from tests.engine.checks import BREAKAWAY, changed

START = datetime.datetime(2026, 6, 1, 8, tzinfo=datetime.UTC).timestamp()
HOUR, DAY = 3600.0, 86400.0
NEAR_S = 300.0
READINGS = {"go": 100, "measure_again": 71, "rework": 40}


@functools.cache
def check_of(verdict: str) -> tuple[dict[str, Any], dict[str, Any]]:
    """A torque check with this verdict: its body and result."""
    low = READINGS[verdict]
    body = changed(BREAKAWAY, steady_nm={way: [low, low + 1, low] for way in ("forward", "reverse")})
    shown = calc("breakaway", body)
    assert shown["verdict"] == verdict
    return body, shown


@functools.cache
def rebuild_of() -> tuple[dict[str, Any], dict[str, Any]]:
    """A rebuild: its body and result."""
    body = {"fitted": [{"slot": "A2", "mm": 2.5}], "note": "Set up."}
    return body, calc("rebuild", body)


def text_of(seconds: float, zone_h: float = 0.0) -> str:
    """A time as a device writes it."""
    zone = datetime.timezone(datetime.timedelta(hours=zone_h))
    return datetime.datetime.fromtimestamp(seconds, zone).isoformat(timespec="milliseconds")


class Clock:
    """A clock by which somebody goes, and what its device notices of it."""

    def __init__(self, rate: float = 0.0) -> None:
        self.slow, self.rate, self.since = 0.0, rate, START
        self.highest = float("-inf")
        self.fell = 0.0

    def shows(self, true: float) -> float:
        """What it shows at a true time."""
        return true - self.slow - self.rate * (true - self.since)

    def set_to(self, shown: float, true: float, noticed: bool) -> None:
        """Set it; a device that is awake notices by how much it fell."""
        before = self.shows(true)
        self.slow, self.since = true - shown, true
        if noticed and before - shown > 60:
            self.fell += before - shown
            self.highest = shown

    def look(self, true: float) -> float:
        """What it shows, and notice whether it shows less than it did before."""
        shown = self.shows(true)
        if shown < self.highest - 60:
            self.fell += self.highest - shown
            self.highest = shown
        self.highest = max(self.highest, shown)
        return shown


class Device:
    """A phone, or the browser at the PC, which shares the PC's clock."""

    def __init__(self, name: str, clock: Clock) -> None:
        self.name, self.clock = name, clock
        self.has: dict[str, dict[str, Any]] = {}
        self.waiting: list[str] = []
        self.met: dict[str, Any] | None = None
        self.zone = 0.0

    def heads(self) -> list[str]:
        """What it has that nothing else it has was written after."""
        known = {name for row in self.has.values() for name in row["knows"]}
        return sorted(set(self.has) - known)


class Story:
    """A season of one unit.

    Parameters
    ----------
    chance : random.Random
        Where the story comes from.
    awake : bool
        Whether every device is awake when its clock is set, and notices exactly by how much it fell.
    """

    def __init__(self, chance: random.Random, awake: bool) -> None:
        self.chance, self.awake = chance, awake
        self.true = START
        self.pc = Clock()
        self.devices = [Device("PC", self.pc)]
        for number in range(chance.randrange(1, 4)):
            clock = Clock(chance.choice([0.0, 0.0, chance.uniform(-2e-5, 2e-5)]))
            if chance.random() < 0.2:
                clock.set_to(chance.choice([0.0, START - 40 * DAY, START + 3 * HOUR]), START, False)
            self.devices.append(Device(f"P{number}", clock))
        self.log: dict[str, dict[str, Any]] = {}
        self.last_sound = START - DAY
        # A PC without a battery wakes up in the year 2000.
        self.pc_wrong = chance.random() < 0.1
        if self.pc_wrong:
            self.pc.set_to(datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC).timestamp(), START, False)
        self.rebuilds = 0

    def tell(self, steps: int) -> list[dict[str, Any]]:
        """Let things happen; returns every entry as it is known in the end, when all phones are home but some."""
        for _ in range(steps):
            self.true += self.chance.choice([60, 400, HOUR, 5 * HOUR, DAY]) * self.chance.uniform(0.5, 1.5)
            device = self.chance.choice(self.devices)
            happens = self.chance.random()
            if happens < 0.5:
                self.write(device)
            elif happens < 0.75:
                self.meet(device)
            elif happens < 0.92:
                self.set_clock(device)
            elif happens < 0.96:
                device.zone = self.chance.choice([-5.0, 0.0, 1.0, 2.0, 5.5])
            else:
                self.hand_over(device)
        for device in self.devices:
            if self.chance.random() < 0.8:
                self.true += HOUR
                self.meet(device)
        entries = dict(self.log)
        for device in self.devices:
            for name, row in device.has.items():
                entries.setdefault(name, row)
        return list(entries.values())

    def write(self, device: Device) -> None:
        """An entry is written on a device."""
        verdict = self.chance.choice(["go", "go", "measure_again", "rework"])
        kind, (body, shown) = "torque_check", check_of(verdict)
        if self.rebuilds < 2 and self.chance.random() < 0.15:
            self.rebuilds += 1
            kind, (body, shown) = "rebuild", rebuild_of()
        # Ids in no order of time.
        name = f"{self.chance.randrange(10**6):06d}-{len(self.log)}-{device.name}"
        showed = device.clock.look(self.true)
        clock: dict[str, Any] = {"fell_s": round(device.clock.fell)}
        if device.met:
            clock |= device.met
        row = {
            "id": name,
            "unit": "u",
            "kind": kind,
            "at": text_of(showed, device.zone),
            "who": device.name,
            "device": device.name,
            "body": body,
            "shown": shown,
            "knows": device.heads(),
            "clock": clock,
            "done": self.true,
        }
        device.has[name] = row
        device.waiting.append(name)

    def pc_time(self) -> tuple[float, bool]:
        """What the PC's clock shows, and whether it may be gone by: it has not been seen to fall."""
        shown = self.pc.look(self.true)
        sound = not self.pc_wrong and shown >= self.last_sound - 60
        return shown, sound

    def meet(self, device: Device) -> None:
        """A device delivers what waits, and reads the log."""
        here, sound = self.pc_time()
        sent = device.clock.look(self.true)
        off = round(here - sent)
        for name in device.waiting:
            row = dict(device.has[name], seq=len(self.log) + 1, received=text_of(here))
            if not sound:
                row["received_unsure"] = True
            elif row["device"] == device.name:
                row["clock_checked"] = True
                if abs(off) > NEAR_S:
                    row["clock_off_s"] = off
                fell = round(device.clock.fell) - row["clock"]["fell_s"]
                if fell > 0:
                    row["clock_fell_s"] = fell
            if name not in self.log:
                self.log[name] = row
            if sound:
                self.last_sound = here
        device.waiting = []
        device.has |= self.log
        if sound:
            fell = round(device.clock.fell)
            device.met = {"met": text_of(sent), "off_s": off, "met_fell_s": fell}

    def set_clock(self, device: Device) -> None:
        """A clock is set, or falls, or is set right."""
        clock = device.clock
        how = self.chance.choice(["back", "forward", "right", "right", "1970"])
        jump = self.chance.choice([HOUR, 2 * HOUR, DAY, 30 * DAY]) * self.chance.uniform(0.9, 1.1)
        shown = {
            "back": clock.shows(self.true) - jump,
            "forward": clock.shows(self.true) + jump,
            "right": self.true,
            "1970": 0.0,
        }[how]
        if clock is self.pc and abs(shown - clock.shows(self.true)) > 60:
            # A PC that runs notices that its clock was set, and that it was set right again.
            self.pc_wrong = abs(shown - self.true) > 60
        clock.set_to(max(0.0, shown), self.true, self.awake or clock is self.pc)

    def hand_over(self, device: Device) -> None:
        """What waits on one phone is carried to another in a file."""
        other = self.chance.choice(self.devices)
        for name in device.waiting if other is not device else []:
            if name not in other.has:
                other.has[name] = device.has[name]
                other.waiting.append(name)


def without_truth(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Entries as devices hold them."""
    return [{name: value for name, value in row.items() if name != "done"} for row in entries]
