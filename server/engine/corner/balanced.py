"""The axle at a torque, with what that torque itself does to it: load shifted along the car, and yaw that is balanced.

Both depend on the answer, so it is looked for. Without either, all this is one step.
"""

import math
from typing import Any, NamedTuple

from ..request.units import GRAVITY
from .axle import Axle, StandingWheel, Wheels, grip_at, side_left, wheels_at, without_side_force, yaw_moment
from .difference import Locks, clipped, held_at, solid_difference, turns_at
from .limits import ROUNDS, at_limit, even_lock, gone_at, most_of, spun_spare

Corner = NamedTuple(
    "Corner",
    [
        ("axle", Axle),
        # Lateral acceleration, m/s2.
        ("lateral", float),
        # Half of the track over the radius of the corner; 0 straight ahead.
        ("turning", float),
    ],
)

Shared = NamedTuple(
    "Shared",
    [
        ("wheels", Wheels),
        # Torque at the axle, what the plates can hold there, what a solid axle's difference would be, and what it is.
        ("torque", float),
        ("held", float),
        ("demand", float),
        ("difference", float),
    ],
)


def turned_by(corner: Corner, locks: Locks, torque: float, difference: float) -> Shared:
    """How the wheels would share a torque, N·m, while a difference, N·m, turns the car."""
    wheels, held = wheels_at(corner.axle, corner.lateral, torque, difference), held_at(locks, torque)
    demand = solid_difference(wheels, corner.turning, torque)
    return Shared(wheels, torque, held, demand, clipped(demand, held))


def carried_at(corner: Corner, locks: Locks, torque: float) -> Shared | None:
    """How both wheels carry a torque, N·m, with what it does to them; None where they do not.

    Near the limit an axle whose yaw is balanced can rest with several differences: told is the one that takes the most
    side force off it.
    """
    still = turned_by(corner, locks, torque, 0.0)
    if not corner.axle.balance:
        return still if is_carried(still) else None
    close, eases = 1e-9 * (still.wheels.full_in + still.wheels.full_out), 1.0 if corner.axle.rear else -1.0
    found = None
    for difference in possible_differences(corner, still):
        shared = turned_by(corner, locks, torque, difference)
        stays = abs(shared.difference - difference) <= close
        if stays and is_carried(shared) and (found is None or (shared.difference - found.difference) * eases > 0.0):
            found = shared
    return found


def possible_differences(corner: Corner, still: Shared) -> list[float]:
    """Differences, N·m, with which an axle whose yaw is balanced may rest, by how it shares its torque without yaw.

    The plates hold all they can, or neither wheel slides, or one is at the limit of the ellipse.
    """
    axle, wheels, torque = corner.axle, still.wheels, still.torque
    # A wheel that does not slide beside the side force would not do so without it either.
    straight = without_side_force(
        StandingWheel(wheels.load_in, wheels.force_in, wheels.full_in, wheels.stiff_in),
        StandingWheel(wheels.load_out, wheels.force_out, wheels.full_out, wheels.stiff_out),
    )
    rows = [still.held, -still.held, solid_difference(straight, corner.turning, torque)]
    both = wheels.force_in + wheels.force_out
    if both <= 0.0:
        return rows
    # Share of the grip for the side force, and by how much a difference of 1 N·m changes it.
    use = wheels.side / both
    change = (1.0 if axle.rear else -1.0) * yaw_moment(axle, 1.0) / axle.base / both
    for full, sign in ((wheels.full_in, 1.0), (wheels.full_out, -1.0)):
        # (torque + sign d)^2 / 4 = full^2 (1 - (use + change d)^2)
        square = 0.25 + (full * change) ** 2
        middle = -(0.25 * sign * torque + full**2 * use * change) / square
        rest = (0.25 * torque**2 - full**2 * (1.0 - use**2)) / square
        apart = math.sqrt(max(0.0, middle**2 - rest))
        rows += [middle - apart, middle + apart]
    return rows


def is_carried(shared: Shared) -> bool:
    """Whether the axle holds its side force and both wheels put down their shares."""
    wheels, torque, difference = shared.wheels, shared.torque, shared.difference
    # No more than figures are rounded by: with all grip along, a little more torque takes much side force.
    slack = ROUNDED * (abs(torque) + abs(difference))
    inner, outer = (torque + difference) / 2.0, (torque - difference) / 2.0
    return wheels.use < 1.0 and abs(inner) <= wheels.left_in + slack and abs(outer) <= wheels.left_out + slack


# Share by which a sum may be off.
ROUNDED = 4e-16


# Steps in which a torque is looked for where what is asked may change more than once on the way.
TORQUES = 64


def edge(holds: Any, inside: float, outside: float) -> float:
    """The last value at which something holds, from one where it does to one where it does not."""
    for _ in range(ROUNDS):
        middle = (inside + outside) / 2.0
        if holds(middle):
            inside = middle
        else:
            outside = middle
    return inside


def first_end(holds: Any, low: float, high: float) -> float:
    """The torque, N·m, at which something first ends to hold from `low` up; `high` where it holds all the way.

    Where it does not hold at `low` yet, the first stretch at which it does counts; `low` where it never does. It may
    hold again after that, so that halving alone would miss the end. Steps are shorter near `low`.
    """
    last, held = low, False
    for step in range(TORQUES + 1):
        here = low + (high - low) * (step / TORQUES) ** 2
        if holds(here):
            held = True
        elif held:
            return edge(holds, last, here)
        last = here
    return high if held else low


def is_simple(corner: Corner) -> bool:
    """Whether the torque changes nothing about the axle itself."""
    return not (corner.axle.pitch or corner.axle.balance)


def holds_together(shared: Shared) -> bool:
    """Whether the plates keep both wheels at one speed beyond the most torque that they put down.

    Either the outer one has no grip left there, or the plates could leave it more, and hold the difference with which
    both slide, each with the same share of its grip.
    """
    wheels, torque, difference = shared.wheels, shared.torque, shared.difference
    if at_limit((torque - difference) / 2.0, wheels.left_out):
        return True
    leave_all = torque * difference <= 0.0 and at_limit(difference, shared.held)
    return not leave_all and shared.held >= even_lock(wheels) * abs(torque)


def lifting_torque(axle: Axle) -> float:
    """Torque with which load shifted along the car has left none on the other axle, N·m."""
    return (1.0 - axle.share) * axle.mass * GRAVITY * axle.base / axle.height * axle.radius


def lifts_at(axle: Axle, sign: float) -> float | None:
    """The same on drive, or with `sign` below 0 on engine braking; None where torque lifts no other axle."""
    return lifting_torque(axle) if axle.pitch and (sign > 0.0 if axle.rear else sign < 0.0) else None


def beyond_of(corner: Corner, sign: float = 1.0) -> float:
    """A torque that no axle of this car puts down, N·m, or that lifts the other axle: on drive, or with -1 braking."""
    axle = corner.axle
    wheels, lifts = wheels_at(axle, 0.0), lifts_at(axle, sign)
    beyond = 4.0 * (wheels.full_in + wheels.full_out) + 1.0
    if lifts is None:
        return beyond
    # No more load than that of the whole car comes onto the axle.
    return min(lifts, max(beyond, 1.01 * axle.mass * GRAVITY * grip_at(axle, 0.0) * axle.along * axle.radius))


def most_at(corner: Corner, locks: Locks, sign: float = 1.0) -> float:
    """Torque beyond which not all is put down, N·m: on drive, or with `sign` -1 on engine braking."""
    if is_simple(corner):
        return most_of(locks.drive if sign > 0.0 else locks.coast, wheels_at(corner.axle, corner.lateral))
    return first_end(lambda torque: carried_at(corner, locks, sign * torque) is not None, 0.0, beyond_of(corner, sign))


def turning_point(corner: Corner) -> float:
    """Torque at which the axle turns from pushing the nose out to helping round, N·m."""
    wheels = wheels_at(corner.axle, corner.lateral)
    if not corner.axle.pitch:
        return turns_at(wheels, corner.turning)

    def pushes_out(torque: float) -> bool:
        at_torque = wheels_at(corner.axle, corner.lateral, torque)
        return at_torque.use < 1.0 and torque <= turns_at(at_torque, corner.turning)

    return first_end(pushes_out, 0.0, beyond_of(corner))


Beyond = NamedTuple(
    "Beyond",
    [
        # Torque at which the axle leaves its line, N·m; None where it keeps it however much the inner wheel spins.
        ("gone", Any),
        # Side force to spare with the inner wheel spinning, N: all its grip goes along. None where that lifts the car.
        ("spun_spare", Any),
    ],
)


def beyond_most(corner: Corner, locks: Locks, most: float, sign: float = 1.0) -> Beyond:
    """What comes of more torque than `most`, N·m, at which the inner wheel begins to slide: on drive, or with -1."""
    if is_simple(corner):
        lock, wheels = locks.drive if sign > 0.0 else locks.coast, wheels_at(corner.axle, corner.lateral)
        return Beyond(gone_at(lock, wheels), spun_spare(lock, wheels))

    def sliding(torque: float) -> Any:
        """The wheels at a torque, and what they carry: the plates shift no further than to the same share of grip."""
        wheels = wheels_at(corner.axle, corner.lateral, sign * torque)
        shifted = min(held_at(locks, sign * torque), even_lock(wheels) * torque)
        wheels = wheels_at(corner.axle, corner.lateral, sign * torque, -sign * shifted)
        return wheels, (torque - shifted) / 2.0, (torque + shifted) / 2.0

    def is_within(torque: float) -> bool:
        wheels, inner, outer = sliding(torque)
        return torque <= most or bool(inner <= wheels.full_in and outer <= wheels.full_out)

    def is_on_line(torque: float) -> bool:
        return torque <= most or side_left(*sliding(torque)) >= 0.0

    lifts = lifts_at(corner.axle, sign)
    spun = first_end(is_within, most, beyond_of(corner, sign))
    # With the other axle in the air the car holds no line, whatever this one has to spare.
    spare = None if lifts is not None and spun >= lifts else side_left(*sliding(spun))
    if side_left(*sliding(most)) < 0.0:
        return Beyond(most, spare)
    gone = first_end(is_on_line, most, spun)
    return Beyond(None if gone >= spun and spare is not None and spare > 0.0 else gone, spare)
