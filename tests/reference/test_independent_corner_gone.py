"""Where a driven axle leaves its line in a corner, found by trying: torques and their split scanned and bisected.

Nothing of the engine's is used but what is asked, and its closed forms are not: how much the wheels put down is the
largest torque for which any split is left that grip and plates allow, and the line is held as long as any such split
leaves the side force that the corner asks for. How the wheels share a torque follows from the speeds of both.

The friction ellipse, the load that goes across and the grip that falls with load are those of W. F. and D. L.
Milliken, Race Car Vehicle Dynamics; force in proportion to slip, that of H. B. Pacejka, Tire and Vehicle Dynamics.
Without yaw balance and pitch a front axle differs from a rear one in nothing but what its moment does to the car.
"""

import random
from typing import Any, NamedTuple

import numpy as np
import pytest

from server.engine import calc

G = 9.80665
HOW_MANY = 2000
SEED = 177
STEPS = 200
HALVINGS = 50
# In parts of what both wheels have along or sideways: what is called the same, and the hair at a limit where a wheel is
# on either side of it.
WITHIN = 1e-6
HAIR = 1e-5
LEAVES = "leaves its line"
SLIDES, LOCKED, INNER, OUTER = "slides", "locked", "inner_faster", "outer_faster"

Array = np.ndarray[Any, np.dtype[Any]]
Request = dict[str, Any]


class Flank(NamedTuple):
    """What the plates hold when one flank is pressed, for every case."""

    preload: Array
    s: Array
    adds: Array

    def holds(self, torque: Array) -> Array:
        """Difference that the plates can hold at a torque, N·m."""
        ramps = self.s * abs(torque)
        holds: Array = np.where(self.adds, self.preload + ramps, np.maximum(self.preload, ramps))
        return holds


def kind_of_lock(dice: random.Random) -> Request:
    """Preload and locking values of a way to build a unit."""
    kind = dice.choice(["open", "preload", "ramps", "ramps", "mixed", "nearly", "solid"])
    adds = dice.random() < 0.5
    some, none = dice.uniform(5, 600), 0.0
    if kind == "open":
        return {"preload_nm": none, "s_drive": 0.0, "s_coast": 0.0, "adds": adds}
    if kind == "preload":
        return {"preload_nm": some, "s_drive": 0.0, "s_coast": 0.0, "adds": adds}
    if kind == "solid":
        return {"preload_nm": dice.choice([none, some]), "s_drive": 1e6, "s_coast": 1e6, "adds": adds}
    low, high = (0.85, 1.15) if kind == "nearly" else (0.03, 0.8)
    preload = some if kind == "mixed" else dice.choice([none, some])
    s_coast = 0.0 if kind == "mixed" else dice.uniform(low, high)
    return {"preload_nm": preload, "s_drive": dice.uniform(low, high), "s_coast": s_coast, "adds": adds}


def car_of(dice: random.Random) -> Request:
    """A car in a corner: its inner wheel loaded, light or in the air."""
    request: Request = {
        "axle": dice.choice(["front", "rear"]),
        "mass_kg": dice.uniform(500, 2200),
        "cg_mm": dice.choice([dice.uniform(250, 600), dice.uniform(600, 1100)]),
        "track_mm": dice.uniform(1200, 1700),
        "wheelbase_mm": dice.uniform(2000, 3200),
        "weight_share": dice.uniform(0.35, 0.65),
        "transfer_share": dice.choice([0.5, dice.uniform(0.2, 0.9)]),
        "tyre_mm": dice.uniform(250, 400),
        "grip": dice.choice([dice.uniform(0.1, 0.6), dice.uniform(0.8, 1.7)]),
        "along": dice.choice([1.0, dice.uniform(0.6, 1.3)]),
        "sensitivity": dice.choice([0.0, 0.1, dice.uniform(0, 1 / 3)]),
        "stiffness": dice.uniform(5, 60),
        "radius_m": dice.choice([dice.uniform(8, 30), dice.uniform(30, 150)]),
    }
    request["lateral_ms2"] = min(dice.choice([dice.uniform(0.01, 1.1), dice.uniform(0.7, 1)]) * request["grip"] * G, 40)
    return request


class Axle:
    """Both wheels of every case, the inner one first."""

    def __init__(self, requests: list[Request]) -> None:
        def told(name: str) -> Array:
            return np.array([request[name] for request in requests])

        weight = told("mass_kg") * told("weight_share") * G
        radius = told("tyre_mm") / 1000
        shifted = told("transfer_share") * told("mass_kg") * told("lateral_ms2") * told("cg_mm") / told("track_mm")
        self.loads = np.stack([np.maximum(weight / 2 - shifted, 0), np.minimum(weight / 2 + shifted, weight)])
        self.grip = told("grip") * (1 - told("sensitivity") * (2 * self.loads / weight - 1))
        self.push = self.grip * self.loads
        self.asked = weight / G * told("lateral_ms2")
        self.use = self.asked / self.push.sum(0)
        self.full = radius * told("along") * self.push
        self.left = self.full * np.sqrt(np.maximum(1 - self.use**2, 0))
        self.rise = radius * told("stiffness") * self.loads
        self.turning = told("track_mm") / 2000 / told("radius_m")
        self.drive = Flank(told("preload_nm"), told("s_drive"), told("adds"))
        self.coast = Flank(told("preload_nm"), told("s_coast"), told("adds"))

    def splits(self, flank: Flank, torque: Array, ends: Array) -> tuple[Array, Array]:
        """The least and the most that the inner wheel may carry of a torque: none is left where they cross."""
        holds = flank.holds(torque)
        low = np.maximum(np.maximum(-ends[0], torque - ends[1]), (torque - holds) / 2)
        high = np.minimum(np.minimum(ends[0], torque + ends[1]), (torque + holds) / 2)
        return low, high

    def most(self, flank: Flank, ends: Array) -> Array:
        """The largest torque for which a split is left, N·m."""

        def goes(torque: Array) -> Array:
            low, high = self.splits(flank, torque, ends)
            is_left: Array = low <= high + 1e-12 * self.full.sum(0)
            return is_left

        return furthest(goes, ends.sum(0))

    def side(self, inner: Array, outer: Array) -> Array:
        """Side force that both wheels have beside their torques, N."""
        pushes = [np.zeros(np.broadcast(inner, outer).shape)] * 2
        for place, torque in enumerate((inner, outer)):
            full = np.where(self.full[place] > 0, self.full[place], 1)
            pushes[place] = self.push[place] * np.sqrt(np.maximum(1 - (torque / full) ** 2, 0))
        return pushes[0] + pushes[1]

    def best_side(self, flank: Flank, torque: Array) -> Array:
        """The most side force of any split of a torque, N; less than nothing where none is left."""
        low, high = self.splits(flank, torque, self.full)
        none = low > high + 1e-12 * self.full.sum(0)
        for _ in range(HALVINGS):
            one, other = low + (high - low) * 0.382, low + (high - low) * 0.618
            rises = self.side(one, torque - one) < self.side(other, torque - other)
            low, high = np.where(rises, one, low), np.where(rises, high, other)
        return np.where(none, -1.0, self.side((low + high) / 2, torque - (low + high) / 2))

    def gone(self, flank: Flank) -> Array:
        """Torque at which the line is no longer held, N·m; nan where it is held at all that is put down."""
        all_of_it = self.most(flank, self.full)
        last = furthest(lambda torque: self.best_side(flank, torque) >= self.asked, all_of_it)
        return np.where(self.use >= 1, 0, np.where(last > all_of_it * (1 - 1e-9) - 1e-9, np.nan, last))

    def spun(self, flank: Flank) -> Array:
        """Side force to spare with the inner wheel's grip all along, N."""
        torque = self.most(flank, self.full)
        return self.side(self.full[0], torque - self.full[0]) - self.asked

    def at_speed(self, speed: Array, outer_gains: Array) -> Array:
        """Torques of both wheels at a speed over the car's, the outer one faster by a share of it."""
        slips = np.stack([speed / (1 - self.turning), (speed + outer_gains) / (1 + self.turning)]) - 1
        torques: Array = np.clip(self.rise * slips, -self.left, self.left)
        return torques

    def torques_at(self, torque: Array, outer_gains: Array) -> Array:
        """Torques of both wheels that come to a torque together."""
        low, high = -50 - abs(outer_gains), 50 + abs(outer_gains)
        for _ in range(70):
            middle = (low + high) / 2
            less = self.at_speed(middle, outer_gains).sum(0) < torque
            low, high = np.where(less, middle, low), np.where(less, high, middle)
        return self.at_speed(low, outer_gains)

    def shared(self, torque: Array) -> tuple[Array, Array]:
        """Torques of both wheels at a torque that they put down, and by how much the outer one gains on the inner."""
        holds = np.where(torque < 0, self.coast.holds(torque), self.drive.holds(torque))
        locked = self.torques_at(torque, 0 * torque)
        difference = locked[0] - locked[1]
        gains = np.where(difference > holds, 1.0, np.where(difference < -holds, -1.0, 0.0))
        wanted = gains * holds
        low, high = 0 * gains, 20 * gains
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            inner, outer = self.torques_at(torque, middle)
            more = (inner - outer - wanted) * gains > 0
            low, high = np.where(more, middle, low), np.where(more, high, middle)
        return self.torques_at(torque, low), low


def furthest(goes: Any, end: Array) -> Array:
    """The largest from 0 to an end for which it goes, where it goes at 0: the last of many steps, then halved."""
    last = np.zeros_like(end)
    for step in range(1, STEPS + 1):
        here = end * step / STEPS
        last = np.where(goes(here), here, last)
    low, high = last, np.minimum(last + end / STEPS, end)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        fits = goes(middle)
        low, high = np.where(fits, middle, low), np.where(fits, high, middle)
    return np.where(goes(high), high, low)


class Found(NamedTuple):
    """Every case, what was found by trying, and what is answered."""

    axle: Axle
    torque: Array
    beyond: Array
    most: Array
    gone: Array
    put_down: Array
    wheels: Array
    state: list[str]
    hair: Array
    answers: list[dict[str, Any]]

    def answered(self, field: str) -> Array:
        """A figure that is answered, nan where it is empty."""
        return np.array([np.nan if answer[field] is None else answer[field] for answer in self.answers])


def asked_for(dice: random.Random, most: float, gone: float, full: float) -> float:
    """A torque to try on one flank, N·m: most of them near where something changes."""
    marks = [dice.uniform(0, 1.3) * full, dice.uniform(0.9, 1.1) * most, dice.uniform(0, 1) * most]
    if np.isnan(gone):
        marks += [dice.uniform(most, 1.5 * full)] * 2
    else:
        marks += [dice.uniform(0.9, 1.1) * gone] + [dice.uniform(most, gone)] * 2
    return dice.choice(marks)


@pytest.fixture(scope="module")
def found() -> Found:
    """All cases, worked out once."""
    dice = random.Random(SEED)
    requests = [car_of(dice) | kind_of_lock(dice) for _ in range(HOW_MANY)]
    axle = Axle(requests)
    full = axle.full.sum(0)
    flanks = [(axle.most(flank, axle.left), axle.gone(flank)) for flank in (axle.drive, axle.coast)]
    ways = [dice.choice([1, 1, -1]) for _ in requests]
    back = np.array(ways) < 0
    most, gone = (np.where(back, flanks[1][place], flanks[0][place]) for place in (0, 1))
    torque = np.array([way * asked_for(dice, *at) for way, *at in zip(ways, most, gone, full, strict=True)])
    for request, asked in zip(requests, torque, strict=True):
        request["torque_nm"] = float(asked)
    beyond = abs(torque) > most
    put_down = np.sign(torque) * np.minimum(abs(torque), most)
    wheels, gains = axle.shared(put_down)
    # Both wheels slide at one speed where the plates hold what they differ by; else it is the inner one that is off.
    one_spins = beyond & (most < axle.left.sum(0) * (1 - 1e-9))
    gains = np.where(one_spins, np.where(back, 1, -1), gains)
    state = [
        SLIDES if use >= 1 else OUTER if gain > 0 else INNER if gain < 0 else LOCKED
        for use, gain in zip(axle.use, gains, strict=True)
    ]
    hair = abs(abs(torque) - most) < HAIR * full
    answers = [calc("corner", request) for request in requests]
    return Found(axle, torque, beyond, most, gone, put_down, wheels, state, hair, answers)


@pytest.mark.parametrize(("field", "flank"), [("gone_nm", "drive"), ("coast_gone_nm", "coast")])
def test_it_leaves_its_line_where_no_split_of_the_torque_holds_it(found: Found, field: str, flank: str) -> None:
    axle = found.axle
    ours, answered = axle.gone(getattr(axle, flank)), found.answered(field)
    most = axle.most(getattr(axle, flank), axle.left)
    assert list(np.isnan(answered)) == list(np.isnan(ours))
    assert (abs(answered - ours)[~np.isnan(ours)] <= WITHIN * axle.full.sum(0)[~np.isnan(ours)]).all()
    # Never, at once, and some way after the inner wheel has begun to slide.
    holds = axle.use < 1
    assert (np.isnan(ours) & holds).sum() > 200
    assert (ours > 1.001 * most).sum() > 150
    assert (holds & (ours <= 1.001 * most)).sum() > 500


def test_side_force_to_spare_with_the_inner_wheel_spinning(found: Found) -> None:
    ours = found.axle.spun(found.axle.drive)
    assert (abs(found.answered("spun_side_spare_n") - ours) <= WITHIN * found.axle.push.sum(0)).all()
    assert (ours > 0).sum() > 200


def test_both_wheels_put_down_the_most_that_grip_and_plates_allow(found: Found) -> None:
    full = found.axle.full.sum(0)
    for flank, field in ((found.axle.drive, "most_nm"), (found.axle.coast, "coast_most_nm")):
        assert (abs(found.answered(field) - found.axle.most(flank, found.axle.left)) <= WITHIN * full).all()
    for ours, field in zip((found.put_down, *found.wheels), ("put_down_nm", "inner_nm", "outer_nm"), strict=True):
        assert (abs(found.answered(field) - ours) <= WITHIN * full).all(), field


def test_which_wheel_is_faster_and_which_has_no_grip_left(found: Found) -> None:
    full = found.axle.full.sum(0)
    for place, answer in enumerate(found.answers):
        if found.hair[place]:
            continue
        assert answer["state"] == found.state[place], place
        for wheel, field in enumerate(("inner_at_limit", "outer_at_limit")):
            spare = (found.axle.left[wheel, place] - abs(found.wheels[wheel, place])) / full[place]
            if found.beyond[place] or not WITHIN < spare < HAIR:
                assert answer[field] == (spare <= WITHIN), (place, field)
    for state in (LOCKED, OUTER, INNER, SLIDES):
        assert found.state.count(state) > 150, state
    for way in (1, -1):
        spun = found.beyond & (found.torque * way > 0)
        assert sum(state in (INNER, OUTER) for state, seen in zip(found.state, spun, strict=True) if seen) > 100
    in_air = found.axle.loads[0] == 0
    assert in_air.sum() > 200
    assert (in_air & (found.put_down != 0)).sum() > 100


def test_the_sentence_says_so_where_the_torque_takes_it_off_its_line(found: Found) -> None:
    full = found.axle.full.sum(0)
    said = 0
    for place, answer in enumerate(found.answers):
        asked, gone = abs(found.torque[place]), found.gone[place]
        if abs(asked - gone) > HAIR * full[place] or np.isnan(gone):
            leaves = bool(asked > gone) and found.state[place] != SLIDES
            assert (LEAVES in answer["text"]) == leaves, (place, answer["text"])
            said += leaves
    assert 300 < said < 1000
