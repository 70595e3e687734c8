"""A corner where the torque itself moves load along the car, or turns the car: found by trying, on drive and coast.

Everything follows from two torques, of the inner and the outer wheel. Their sum pushes the car and so shifts load
from axle to axle; their difference turns it, and where yaw is balanced the side forces of both axles hold against that.
Both wheels use one share of their grip for the side force, and the friction ellipse leaves the rest along. So with any
two torques given, loads, side force and limits are known at once, and what is asked is scanned for and bisected: the
difference at which both wheels turn at one speed, within what the plates hold; the first torque at which a wheel has
less grip left than it would carry; from there on, with all that the plates hold, the first torque at which both wheels
together push less sideways than the corner asks for, or at which the inner one spins or is dragged with all its grip
along, and so takes no more. Where yaw is balanced, the difference acts on itself: so the answer's own is held against
what follows from it, and torques around an answered limit are scanned for any difference at all that would carry them.

An axle that slides by the corner alone may be held by what its torque does: then the first torques that are held count.
Of several ways to rest the one with the least side force asked for counts.

Load transfer across and along, friction ellipse and load sensitivity are those of W. F. and D. L. Milliken, Race Car
Vehicle Dynamics, and T. D. Gillespie, Fundamentals of Vehicle Dynamics; force in proportion to slip that of H. B.
Pacejka, Tire and Vehicle Dynamics: all from memory. That tyres are 15 to 30 stiff is common practice, no source.
"""

import math
import random
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from server.engine import calc

G = 9.80665
SEED = 178
SHIFTED, BALANCED = 600, 150
STEPS, HALVINGS = 60, 44
# In parts of what both wheels have along or sideways: what is called the same, and how near a limit either may be said.
WITHIN, HAIR = 1e-5, 1e-4
# Differences tried, and how far beyond its limit a wheel may be where one was found between two of them.
TRIED, SCANNED = 600, 1e-4
DRIVE, COAST = 1, -1
STIFF = (15.0, 30.0)

# Of numpy: a figure, or a yes or no, for every case.
Array = Any
Request = dict[str, Any]
Held = Callable[[Array], Array]


def case(dice: random.Random, balanced: bool) -> Request:
    """A car in a corner, its unit, and a torque that its axle may or may not put down."""
    request: Request = {
        "axle": dice.choice(["front", "rear"]),
        "mass_kg": dice.uniform(450, 2200),
        "cg_mm": dice.uniform(250, 750),
        "track_mm": dice.uniform(1100, 1700),
        "wheelbase_mm": dice.uniform(1900, 3000),
        "weight_share": dice.uniform(0.35, 0.68),
        "transfer_share": dice.choice([0.5, dice.uniform(0.2, 0.8), dice.uniform(0, 1)]),
        "tyre_mm": dice.uniform(230, 420),
        "grip": dice.choice([dice.uniform(0.15, 0.5), dice.uniform(0.6, 1.1), dice.uniform(1.1, 1.7)]),
        "along": dice.choice([1.0, dice.uniform(0.6, 1.4)]),
        "sensitivity": dice.choice([0.0, 0.1, dice.uniform(0, 0.3)]),
        "stiffness": dice.choice([20.0, dice.uniform(8, 45)]),
        "radius_m": math.exp(dice.uniform(math.log(4), math.log(400))),
        "preload_nm": dice.choice([0.0, dice.uniform(5, 250)]),
        "s_drive": dice.choice([0.0, dice.uniform(0.05, 0.7), dice.uniform(0.05, 1.6)]),
        "s_coast": dice.choice([0.0, dice.uniform(0.05, 0.7), dice.uniform(0.05, 1.6)]),
        "adds": dice.random() < 0.3,
        "fitted": dice.choice(["as_is", "turned_over"]),
        "pitch": not balanced or dice.random() < 0.5,
        "yaw_balance": balanced,
    }
    push = request["mass_kg"] * request["weight_share"] * request["grip"] * G
    # Some slide by the corner alone, and are held, or not, by what their own torque does.
    request["lateral_ms2"] = request["grip"] * G * dice.choice([dice.uniform(0.02, 0.9), dice.uniform(0.5, 1.01)])
    full = push * request["along"] * request["tyre_mm"] / 1000
    request["torque_nm"] = dice.choice([1, -1]) * full * dice.choice([dice.uniform(0, 0.3), dice.uniform(0, 1.2)])
    return request


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

        return first_end(goes, np.zeros_like(self.grip), 3 * self.whole + 2 * self.preload, waits=True)

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
        """Torque with which the inner wheel has all its grip along, N·m, from the most that is put down on."""

        def takes(size: Array) -> Array:
            inner, outer = self.full(flank * size)
            return size <= inner + np.minimum(outer, inner + self.held(flank, flank * size))

        return first_end(takes, most, most + 4 * self.whole + 2 * self.preload)

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
        return np.where(together, most, np.where(last < spun * (1 - 1e-12), last, np.nan))

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


class Found:
    """All cases of a kind: what was found by trying, and what is answered."""

    def __init__(self, balanced: bool) -> None:
        dice = random.Random(SEED + balanced)
        self.requests = [case(dice, balanced) for _ in range(BALANCED if balanced else SHIFTED)]
        self.answers = [calc("corner", request) for request in self.requests]
        self.axle = axle = Axle(self.requests)
        self.torque = np.array([request["torque_nm"] for request in self.requests])
        self.some = 1 if balanced else 10
        self.most = {DRIVE: self.answered("most_nm"), COAST: self.answered("coast_most_nm")}
        if not balanced:
            self.most = {flank: axle.most(flank, self.held(flank)) for flank in (DRIVE, COAST)}
        self.limit = np.select([self.torque < 0], [self.most[COAST]], self.most[DRIVE])
        within = np.clip(self.torque, -self.limit, self.limit)
        plates = np.select([within < 0], [axle.held(COAST, within)], axle.held(DRIVE, within))
        # Close to a limit two ways to rest meet, too close for steps to tell.
        near = balanced & (abs(self.torque) > 0.99 * self.limit)
        difference = np.where(near, self.answered("difference_nm"), axle.differs(within, plates))
        # An axle that would be held by more torque alone slides with less.
        self.held_there = axle.carries(within, difference, HAIR)
        self.put_down = np.where(self.held_there, within, 0)
        on_coast = (self.torque < 0) & self.held_there
        plates = {flank: axle.held(flank, self.put_down) for flank in (DRIVE, COAST)}
        self.plates = np.select([on_coast], [plates[COAST]], plates[DRIVE])
        self.difference = np.where(self.held_there, difference, 0)

    def held(self, flank: int) -> Held:
        """What the plates hold when one flank is pressed."""
        return lambda torque: self.axle.held(flank, torque)

    def answered(self, field: str) -> Array:
        """A figure that is answered, nan where it is empty."""
        return np.array([np.nan if answer[field] is None else answer[field] for answer in self.answers])

    def agrees(self, field: str, ours: Array, within: float = WITHIN, where: Array = True) -> None:
        """Check a figure against ours, empty where ours is."""
        answered = self.answered(field)
        size = self.axle.whole if field.endswith("_nm") else self.axle.pushes(0 * ours).sum(0)
        off = abs(answered - ours) / (size if field.endswith(("_nm", "_n")) else 1)
        worse = where & np.where(np.isnan(ours), ~np.isnan(answered), ~(off <= within))
        assert not worse.any(), (field, [(int(row), answered[row], ours[row]) for row in worse.nonzero()[0]])


@pytest.fixture(scope="module", params=[False, True], ids=["load shifted", "yaw balanced"])
def found(request: pytest.FixtureRequest) -> Found:
    """All cases of a kind, worked out once."""
    return Found(request.param)


def test_what_both_wheels_put_down(found: Found) -> None:
    axle, put_down, difference = found.axle, found.put_down, found.difference
    if not axle.balanced:
        found.agrees("most_nm", found.most[DRIVE])
        found.agrees("coast_most_nm", found.most[COAST])
        for field, held in (("open_nm", 0.0), ("solid_nm", 1e9)):
            most = axle.most(DRIVE, lambda torque, held=held: np.full_like(torque, held))  # type: ignore[misc]
            # One that its own torque tips over puts down any.
            found.agrees(field, most, where=most < 3 * axle.whole)
    found.agrees("put_down_nm", put_down)
    found.agrees("lock_nm", found.plates)
    found.agrees("difference_nm", difference)
    found.agrees("inner_nm", (put_down + difference) / 2)
    found.agrees("outer_nm", (put_down - difference) / 2)
    found.agrees("yaw_side_n", axle.moment(difference) / axle.base)
    over = abs(found.torque) > found.limit
    for seen in (over & (found.torque > 0), over & (found.torque < 0), ~over & (found.torque < 0)):
        assert seen.sum() > found.some


def test_a_difference_that_acts_on_itself(found: Found) -> None:
    axle = found.axle
    follows = np.clip(axle.wanted(found.put_down, found.difference), -found.plates, found.plates)
    assert (abs(follows - found.difference) <= HAIR * axle.whole).all()
    assert (axle.carries(found.put_down, found.difference, HAIR) | (found.put_down == 0)).all()
    if not axle.balanced:
        return
    for field, flank, held in (
        ("most_nm", DRIVE, found.held(DRIVE)),
        ("coast_most_nm", COAST, found.held(COAST)),
        ("open_nm", DRIVE, np.zeros_like),
        ("solid_nm", DRIVE, lambda torque: np.full_like(torque, 1e9)),
    ):
        limit = found.answered(field)
        slides = ~axle.rests(0 * limit, held(0 * limit))
        for share in (0.0, 0.3, 0.7, 0.95):
            torque = flank * share * limit
            assert (axle.rests(torque, held(torque)) | slides).all(), (field, share)
        torque = flank * (limit + 0.01 * axle.whole)
        assert not axle.rests(torque, held(torque)).any(), field


def test_loads_and_the_grip_that_is_left(found: Found) -> None:
    axle, put_down = found.axle, found.put_down
    asked, pushes = axle.asked(found.difference), axle.pushes(put_down)
    left = axle.left(put_down, found.difference)
    found.agrees("use", abs(asked) / pushes.sum(0))
    for place, wheel in enumerate(("inner", "outer")):
        found.agrees(f"load_{wheel}_n", axle.loads(put_down)[place])
        found.agrees(f"side_{wheel}_n", np.clip(asked / pushes.sum(0), -1, 1) * pushes[place])
        found.agrees(f"left_{wheel}_nm", left[place])
    found.agrees("even_lock", (pushes[1] - pushes[0]) / pushes.sum(0))
    assert (axle.loads(put_down)[0] == 0).sum() > found.some


def test_where_it_leaves_its_line(found: Found) -> None:
    for flank, field in ((DRIVE, "gone_nm"), (COAST, "coast_gone_nm")):
        axle, most = found.axle, found.most[flank]
        at_most = axle.differs(flank * most, axle.held(flank, flank * most))
        gone = axle.gone(flank, most, at_most)
        found.agrees(field, gone, within=10 * WITHIN)
        assert np.isnan(gone).sum() > found.some
        assert (gone > 1.01 * most).sum() > found.some
        assert (gone <= most).sum() > found.some


def test_side_force_to_spare(found: Found) -> None:
    axle = found.axle
    spare = axle.spare(found.put_down, found.difference)
    found.agrees("side_spare_n", spare, HAIR)
    spun = axle.spun(DRIVE, found.most[DRIVE])
    found.agrees("spun_side_spare_n", axle.spare(spun, 2 * axle.full(spun)[0] - spun), HAIR)


def test_where_it_turns_from_nose_to_tail(found: Found) -> None:
    axle = found.axle
    end = axle.most(DRIVE, np.zeros_like)
    low, high = np.minimum(axle.stiffness, STIFF[0]), np.maximum(axle.stiffness, STIFF[1])
    for field, stiffness in (("changes_at_nm", axle.stiffness), ("changes_low_nm", low), ("changes_high_nm", high)):
        found.agrees(field, axle.turning_point(stiffness, end))


def test_which_wheel_is_faster(found: Found) -> None:
    axle, torque, limit = found.axle, found.torque, found.limit
    wanted = axle.wanted(found.put_down, found.difference)
    together = axle.outer_ends(found.put_down, found.difference)
    short, hair = abs(wanted) - found.plates, HAIR * axle.whole
    near = (abs(abs(torque) - limit) < hair) | (abs(short) > 0) & (abs(short) < hair)
    seen: list[str] = []
    for row in (~near).nonzero()[0]:
        if not found.held_there[row]:
            state = "slides"
        elif abs(torque[row]) > limit[row]:
            state = "locked" if together[row] else "inner_faster" if torque[row] > 0 else "outer_faster"
        else:
            state = "locked" if short[row] <= 0 else "outer_faster" if wanted[row] > 0 else "inner_faster"
        assert found.answers[row]["state"] == state, (row, found.requests[row])
        seen.append(state)
    assert min(seen.count(state) for state in ("locked", "outer_faster", "inner_faster", "slides")) >= found.some
