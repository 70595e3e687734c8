"""Axles of many corners at once, with two torques of their wheels given: what both have grip left for, and when not.

How it is worked out, and after whom, is told in `test_independent_corner_shifts`.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

G = 9.80665
STEPS, HALVINGS = 60, 44
# Differences tried, and how far beyond its limit a wheel may be where one was found between two of them.
TRIED, SCANNED = 600, 1e-4
DRIVE, COAST = 1, -1

# Of numpy: a figure, or a yes or no, for every case.
Array = Any
Request = dict[str, Any]
Held = Callable[[Array], Array]


class Axle:
    """Both wheels of every case, the inner one first; torque and difference are of the whole axle."""

    def __init__(self, requests: list[Request]) -> None:
        def told(name: str) -> Array:
            return np.array([request[name] for request in requests])

        self.weight = told("mass_kg") * told("weight_share") * G
        self.radius, self.track, self.base = (told(name) / 1000 for name in ("tyre_mm", "track_mm", "wheelbase_mm"))
        height = told("cg_mm") / 1000
        rear = np.where(told("axle") == "rear", 1.0, -1.0)
        self.gains = rear * told("pitch") * height / self.base / self.radius
        self.turns = rear * told("yaw_balance") / self.base
        self.across = told("transfer_share") * told("mass_kg") * told("lateral_ms2") * height / self.track
        self.corner = self.weight / G * told("lateral_ms2")
        self.grip, self.falls = told("grip"), told("sensitivity")
        self.arm, self.stiffness = self.radius * told("along"), told("stiffness")
        self.tight = self.track / 2 / told("radius_m")
        self.preload, self.adds = told("preload_nm"), told("adds")
        turned = told("fitted") == "turned_over"
        ways = told("s_drive"), told("s_coast")
        self.ramps = {DRIVE: np.where(turned, ways[1], ways[0]), COAST: np.where(turned, ways[0], ways[1])}
        other = told("mass_kg") * G - self.weight
        self.tips = {flank: other / np.maximum(flank * self.gains, 1e-12) for flank in (DRIVE, COAST)}
        self.balanced = bool(told("yaw_balance").any())
        self.whole = self.full(np.zeros_like(self.grip)).sum(0)

    def held(self, flank: int, torque: Array) -> Array:
        """Difference that the plates can hold, N·m."""
        ramps = self.ramps[flank] * abs(torque)
        return np.where(self.adds, self.preload + ramps, np.maximum(self.preload, ramps))

    def loads(self, torque: Array) -> Array:
        """Loads of both wheels, N."""
        weight = np.maximum(self.weight + self.gains * torque, 0)
        inner = np.maximum(weight / 2 - self.across, 0)
        return np.stack([inner, weight - inner])

    def pushes(self, torque: Array) -> Array:
        """What both wheels can push, in all directions together, N: beyond the line's peak no less with more load."""
        peak = self.weight / 2 * (1 + self.falls) / (2 * np.maximum(self.falls, 1e-9))
        loads = np.minimum(self.loads(torque), peak)
        return loads * self.grip * (1 - self.falls * (2 * loads / self.weight - 1))

    def full(self, torque: Array) -> Array:
        """Torques that both wheels could put down without any side force, N·m."""
        return self.arm * self.pushes(torque)

    def moment(self, difference: Array) -> Array:
        """What turns the car further in, N·m: the wheel that pushes harder turns it away from itself."""
        return -difference / self.radius * self.track / 2

    def asked(self, difference: Array) -> Array:
        """Side force asked for, N: the rear axle holds against what turns the car in, the front one helps it less."""
        return self.corner + self.turns * self.moment(difference)

    def left(self, torque: Array, difference: Array) -> Array:
        """Torques that both wheels have grip left for, N·m."""
        use = abs(self.asked(difference)) / np.maximum(self.pushes(torque).sum(0), 1e-9)
        return self.full(torque) * np.sqrt(np.maximum(1 - use**2, 0))

    def runs_ahead(self, torque: Array, difference: Array, stiffness: Array) -> Array:
        """By how much the inner wheel turns faster than the outer one while neither slides, in parts of the car."""
        rise = np.maximum(self.radius * stiffness * self.loads(torque), 1e-9)
        inner, outer = (torque + difference) / 2 / rise[0], (torque - difference) / 2 / rise[1]
        return (1 - self.tight) * (1 + inner) - (1 + self.tight) * (1 + outer)

    def wanted(self, torque: Array, difference: Array) -> Array:
        """Difference at which both wheels turn at one speed, the yaw being that of another, N·m."""
        inner, outer = self.left(torque, difference)
        low = np.maximum(-2 * inner - torque, torque - 2 * outer)
        high = np.maximum(np.minimum(2 * inner - torque, torque + 2 * outer), low)
        at = [self.runs_ahead(torque, np.full_like(torque, here), self.stiffness) for here in (0.0, 1.0)]
        return np.clip(at[0] / (at[0] - at[1]), low, high)

    def differs(self, torque: Array, held: Array) -> Array:
        """Difference at which the axle rests, N·m, tried from the one with the least side force asked for."""
        if not self.balanced or not held.any():
            return np.clip(self.wanted(torque, 0 * torque), -held, held)
        far = np.minimum(held, 1.01 * self.full(torque).sum(0)) * np.where(self.turns < 0, -1, 1)

        def back(here: Array) -> Array:
            return (np.clip(self.wanted(torque, here), -held, held) - here) * far >= 0

        found, done, was, last = 0 * far, far == 0, np.zeros(len(far), bool), far
        for step in range(TRIED + 1):
            here = far * (1 - 2 * step / TRIED)
            now = back(here)
            crossed = now & ~was & ~done
            if crossed.any():
                low, high = here, last
                for _ in range(HALVINGS):
                    middle = (low + high) / 2
                    fits = back(middle)
                    low, high = np.where(fits, middle, low), np.where(fits, high, middle)
                found = np.where(crossed, low, found)
                done = done | crossed & self.carries(torque, low)
            was, last = now, here
        return found

    def carries(self, torque: Array, difference: Array, slack: float = 1e-8) -> Array:
        """Whether the axle holds its side force and both wheels have grip left for their shares."""
        inner, outer = self.left(torque, difference) + slack * self.whole
        holds = abs(self.asked(difference)) < self.pushes(torque).sum(0)
        return holds & (abs(torque + difference) <= 2 * inner) & (abs(torque - difference) <= 2 * outer)

    def most(self, flank: int, held: Held) -> Array:
        """The first torque of which a wheel's share is more than it has grip left for, once the axle is held, N·m."""

        def goes(size: Array) -> Array:
            return self.carries(flank * size, self.differs(flank * size, held(flank * size)))

        end = np.minimum(3 * self.whole + 2 * self.preload, self.tips[flank])
        return first_end(goes, np.zeros_like(self.grip), end, waits=True)

    def rests(self, torque: Array, held: Array) -> Array:
        """Whether there is a difference at which the axle rests and both wheels have grip left for their shares."""
        found = np.zeros(len(torque), bool)
        far = np.minimum(held, 1.01 * self.full(torque).sum(0))
        last, before = np.clip(self.wanted(torque, -far), -held, held) + far, -far
        found |= (last <= 1e-9 * far) & self.carries(torque, -far, SCANNED)
        for step in range(1, TRIED + 1):
            here = far * (2 * step / TRIED - 1)
            now = np.clip(self.wanted(torque, here), -held, held) - here
            crossed = (last > 0) & (now <= 0)
            at = before + (here - before) * np.where(crossed, last, 0) / np.where(crossed, last - now, 1)
            found |= crossed & self.carries(torque, at, SCANNED)
            last, before = now, here
        return found | (last >= -1e-9 * far) & self.carries(torque, far, SCANNED)

    def spare(self, torque: Array, difference: Array) -> Array:
        """Side force that both wheels have beside their torques, less what is asked for, N."""
        full, pushes = self.full(torque), self.pushes(torque)
        shares = abs(np.stack([torque + difference, torque - difference])) / 2 / np.maximum(full, 1e-9)
        return (pushes * np.sqrt(np.maximum(1 - shares**2, 0))).sum(0) - abs(self.asked(difference))

    def spun(self, flank: int, most: Array) -> Array:
        """Torque with which the inner wheel has all its grip along, N·m, from the most on, or that lifts an axle."""

        def takes(size: Array) -> Array:
            inner, outer = self.full(flank * size)
            return size <= inner + np.minimum(outer, inner + self.held(flank, flank * size))

        return first_end(takes, most, np.minimum(most + 4 * self.whole + 2 * self.preload, self.tips[flank]))

    def lifts(self, flank: int, torque: Array) -> Array:
        """Whether a torque has left no load on the other axle."""
        return torque >= self.tips[flank] * (1 - 1e-9)

    def gone(self, flank: int, most: Array, at_most: Array) -> Array:
        """The first torque at which the line is not held, N·m, after the most that it puts down with a difference.

        Nan where there is none, however fast a wheel spins.
        """
        together = self.outer_ends(flank * most, at_most)

        def goes(size: Array) -> Array:
            torque = flank * size
            # Not beyond where both use one share of their grip.
            pushes = self.pushes(torque)
            held = np.minimum(self.held(flank, torque), size * (pushes[1] - pushes[0]) / pushes.sum(0))
            return self.spare(torque, -flank * held) >= -1e-9 * self.pushes(torque).sum(0)

        spun = np.maximum(self.spun(flank, most) * (1 - 1e-9), most)
        last = first_end(goes, most, spun)
        ends = (last < spun * (1 - 1e-12)) | self.lifts(flank, spun)
        return np.where(together, most, np.where(ends, last, np.nan))

    def outer_ends(self, torque: Array, difference: Array) -> Array:
        """Whether the outer wheel has no grip left."""
        return abs(torque - difference) / 2 >= self.left(torque, difference)[1] - 1e-6 * self.whole

    def turning_point(self, stiffness: Array, end: Array) -> Array:
        """The least torque of which even halves no longer leave the outer wheel ahead, N·m."""

        def goes(size: Array) -> Array:
            return (self.runs_ahead(size, 0 * size, stiffness) < 0) & (self.loads(size)[0] > 0)

        return first_end(goes, 0 * end, end)


def first_end(goes: Callable[[Array], Array], start: Array, end: Array, waits: bool = False) -> Array:
    """Up to where it goes without a gap: from a start on, or with `waits` from where it first goes."""
    low, high, begun = start, start, goes(start)
    ended = ~begun & (not waits)
    for step in range(1, STEPS + 1):
        here = start + (end - start) * (step / STEPS) ** 2
        now = goes(here)
        high = np.where(ended, high, here)
        ended |= begun & ~now
        begun |= now
        low = np.where(ended, low, here)
    low, high = start + begun * (low - start), start + begun * (high - start)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        fits = goes(middle)
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return low
