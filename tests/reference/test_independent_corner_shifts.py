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

Where all load has gone from the other axle nothing further is asked, neither of a limit nor of a line that is held: the
car stands on one axle and neither steers nor stays level. What plates hold is held against the difference that both
wheels take which slide with one share of their grip: they turn apart where it is more.

An axle that slides by the corner alone may be held by what its torque does: then the first torques that are held count.
Of several ways to rest the one with the least side force asked for counts.

Load transfer across and along, friction ellipse and load sensitivity are those of W. F. and D. L. Milliken, Race Car
Vehicle Dynamics, and T. D. Gillespie, Fundamentals of Vehicle Dynamics; force in proportion to slip that of H. B.
Pacejka, Tire and Vehicle Dynamics: all from memory. That tyres are 15 to 30 stiff is common practice, no source.
"""

import math
import random

import numpy as np
import pytest

from server.engine import calc

from .shifting_axle import COAST, DRIVE, Array, Axle, G, Held, Request

SEED = 178
SHIFTED, BALANCED, FAR = 600, 150, 50
# In parts of what both wheels have along or sideways: what is called the same, and how near a limit either may be said.
WITHIN, HAIR = 1e-5, 1e-4
STIFF = (15.0, 30.0)


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


def far_beyond(dice: random.Random, balanced: bool) -> Request:
    """A car of which far more is asked than its axle puts down: it tips, or slides with what its plates still hold."""
    request = case(dice, balanced)
    request["torque_nm"] *= 2
    if balanced and dice.random() < 0.7:
        near = {"axle": "rear", "lateral_ms2": request["grip"] * G * dice.uniform(0.97, 1)}
        request |= near | {"preload_nm": dice.choice([10000.0, dice.uniform(5, 250)]), "transfer_share": 0.5}
    else:
        request |= {"grip": dice.uniform(1.3, 1.8), "along": 1.0, "cg_mm": dice.uniform(700, 1000), "pitch": True}
        lifts = request["mass_kg"] * G * request["tyre_mm"] / 1000 * (1 if request["axle"] == "rear" else -1)
        request |= {"wheelbase_mm": dice.uniform(1400, 1900), "lateral_ms2": dice.uniform(0.5, 10)}
        request["torque_nm"] = lifts * dice.uniform(0.6, 3)
    return request


class Found:
    """All cases of a kind: what was found by trying, and what is answered."""

    def __init__(self, balanced: bool) -> None:
        dice = random.Random(SEED + balanced)
        self.requests = [case(dice, balanced) for _ in range(BALANCED if balanced else SHIFTED)]
        self.requests += [far_beyond(dice, balanced) for _ in range(FAR)]
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
            found.agrees(field, most)
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
        assert not (axle.rests(torque, held(torque)) & ~axle.lifts(flank, limit)).any(), field


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
    spare = axle.spare(spun, 2 * axle.full(spun)[0] - spun)
    found.agrees("spun_side_spare_n", np.where(axle.lifts(DRIVE, spun), np.nan, spare), HAIR)


def test_the_other_axle_leaves_the_ground(found: Found) -> None:
    axle, seen = found.axle, []
    for flank in (DRIVE, COAST):
        # Where the line is held right up to there, whether or not the inner wheel spins before.
        most = found.most[flank]
        last = axle.gone(flank, most, axle.differs(flank * most, axle.held(flank, flank * most)))
        asked = flank * found.torque
        near = abs(asked - axle.tips[flank]) < HAIR * axle.whole
        lifts = (last >= axle.tips[flank] * (1 - WITHIN)) & (asked > axle.tips[flank])
        for row in ((asked > 0) & ~near).nonzero()[0]:
            answer, other = found.answers[row], "front" if flank == DRIVE else "rear"
            assert answer.get("other_lifted", False) == lifts[row], (row, found.requests[row])
            assert answer["text"].startswith(f"The {other} wheels leave the ground") == lifts[row]
            seen.append(lifts[row])
    assert sum(seen) >= found.some
    pitched = np.array([request["pitch"] for request in found.requests])
    tips = np.minimum(axle.tips[DRIVE], axle.tips[COAST])
    for answer, shifts, lifting in zip(found.answers, pitched, tips, strict=True):
        assert answer.get("lifts_nm") == (pytest.approx(lifting) if shifts else None)


def test_where_it_turns_from_nose_to_tail(found: Found) -> None:
    axle = found.axle
    end = axle.most(DRIVE, np.zeros_like)
    low, high = np.minimum(axle.stiffness, STIFF[0]), np.maximum(axle.stiffness, STIFF[1])
    for field, stiffness in (("changes_at_nm", axle.stiffness), ("changes_low_nm", low), ("changes_high_nm", high)):
        found.agrees(field, axle.turning_point(stiffness, end))


def test_which_wheel_is_faster(found: Found) -> None:
    axle, torque, limit = found.axle, found.torque, found.limit
    wanted = axle.wanted(found.put_down, found.difference)
    short, hair = abs(wanted) - found.plates, HAIR * axle.whole
    # Plates that hold more than what both wheels take as they slide keep them together.
    pushes = axle.pushes(found.put_down)
    spare = found.plates - abs(found.put_down) * (pushes[1] - pushes[0]) / pushes.sum(0)
    ends = axle.outer_ends(found.put_down, found.difference)
    together = ends | (spare > hair)
    unclear = ~ends & (abs(spare) > 0) & (abs(spare) < hair) & (limit > hair)
    near = (abs(abs(torque) - limit) < hair) | (abs(short) > 0) & (abs(short) < hair) | unclear
    lifts = np.select([torque < 0], [axle.lifts(COAST, limit)], axle.lifts(DRIVE, limit))
    seen: list[str] = []
    for row in (~near).nonzero()[0]:
        if not found.held_there[row]:
            state = "slides"
        elif abs(torque[row]) > limit[row] and not lifts[row]:
            state = "locked" if together[row] else "inner_faster" if torque[row] > 0 else "outer_faster"
        else:
            state = "locked" if short[row] <= 0 else "outer_faster" if wanted[row] > 0 else "inner_faster"
        assert found.answers[row]["state"] == state, (row, found.requests[row])
        seen.append(state)
    assert min(seen.count(state) for state in ("locked", "outer_faster", "inner_faster", "slides")) >= found.some
