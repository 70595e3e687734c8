"""The axle at a torque, with what that torque itself does to it: load shifted along the car, and yaw that is balanced.

Both depend on the answer, so it is looked for by halving. Without either, all this is one step.
"""

from typing import Any, NamedTuple

from .axle import Axle, Wheels, side_left, wheels_at
from .difference import Locks, clipped, held_at, solid_difference, turns_at
from .limits import ROUNDS, even_lock, gone_at, most_of, spun_spare

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


def shared_at(corner: Corner, locks: Locks, torque: float) -> Shared:
    """How the wheels share a torque, N·m, that they can put down."""
    axle, lateral = corner.axle, corner.lateral
    held = held_at(locks, torque)

    def demand_at(difference: float) -> Any:
        wheels = wheels_at(axle, lateral, torque, difference)
        return wheels, solid_difference(wheels, corner.turning, torque)

    wheels, demand = demand_at(0.0)
    difference = clipped(demand, held)
    if axle.balance:
        # More difference pushes the nose out, and the demand for it falls or rises only slowly with that.
        low, high = -held, held
        if held > LARGE:
            low, high = -(wheels.full_in + wheels.full_out), wheels.full_in + wheels.full_out
        for _ in range(ROUNDS):
            difference = (low + high) / 2.0
            wheels, demand = demand_at(difference)
            if clipped(demand, held) > difference:
                low = difference
            else:
                high = difference
        difference = clipped(demand, held)
    return Shared(wheels, torque, held, demand, difference)


# A lock beyond any that plates could hold.
LARGE = 1e6


def is_carried(shared: Shared) -> bool:
    """Whether both wheels put down their shares."""
    wheels, slack = shared.wheels, 1e-9 * (1.0 + abs(shared.torque))
    inner, outer = (shared.torque + shared.difference) / 2.0, (shared.torque - shared.difference) / 2.0
    return abs(inner) <= wheels.left_in + slack and abs(outer) <= wheels.left_out + slack


def largest(holds: Any, beyond: float) -> float:
    """The largest torque from 0 to `beyond`, N·m, at which something holds that holds up to there and not after."""
    low, high = 0.0, beyond
    for _ in range(ROUNDS):
        middle = (low + high) / 2.0
        if holds(middle):
            low = middle
        else:
            high = middle
    return low


def is_simple(corner: Corner) -> bool:
    """Whether the torque changes nothing about the axle itself."""
    return not (corner.axle.pitch or corner.axle.balance)


def beyond_of(corner: Corner) -> float:
    """A torque that no axle of this car puts down, N·m."""
    wheels = wheels_at(corner.axle, 0.0)
    return 4.0 * (wheels.full_in + wheels.full_out) + 1.0


def most_at(corner: Corner, locks: Locks, sign: float = 1.0) -> float:
    """Torque at which the inner wheel begins to slide, N·m: on drive, or with `sign` -1 on engine braking."""
    if is_simple(corner):
        return most_of(locks.drive if sign > 0.0 else locks.coast, wheels_at(corner.axle, corner.lateral))
    return largest(lambda torque: is_carried(shared_at(corner, locks, sign * torque)), beyond_of(corner))


def turning_point(corner: Corner) -> float:
    """Torque at which the axle turns from pushing the nose out to helping round, N·m."""
    wheels = wheels_at(corner.axle, corner.lateral)
    if not corner.axle.pitch:
        return turns_at(wheels, corner.turning)

    def pushes_out(torque: float) -> bool:
        return torque <= turns_at(wheels_at(corner.axle, corner.lateral, torque), corner.turning)

    return largest(pushes_out, beyond_of(corner))


Beyond = NamedTuple(
    "Beyond",
    [
        # Torque at which the axle leaves its line, N·m; None where it keeps it however much the inner wheel spins.
        ("gone", Any),
        # Side force to spare with the inner wheel spinning, N: all its grip goes along.
        ("spun_spare", float),
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
        wheels, inner, _ = sliding(torque)
        return bool(inner <= wheels.full_in)

    def is_on_line(torque: float) -> bool:
        wheels, inner, outer = sliding(torque)
        return torque <= most or bool(outer <= wheels.full_out and side_left(wheels, inner, outer) >= 0.0)

    spun = max(most, largest(is_within, beyond_of(corner)))
    spare = side_left(*sliding(spun))
    if side_left(*sliding(most)) < 0.0:
        return Beyond(most, spare)
    if spare > 0.0 and is_on_line(spun):
        return Beyond(None, spare)
    return Beyond(max(most, largest(is_on_line, spun)), spare)
