"""How the two wheels share the torque: on a solid axle, and with a differential, which is that one clipped.

The difference is inner less outer torque. Without any slip of the plates both wheels turn at one speed, whatever the
torque; a differential is locked as long as its plates can hold that difference, and else holds as much as they can.

References
----------
1. H. B. Pacejka, Tire and Vehicle Dynamics: force along in proportion to slip until the tyre slides; from memory.
"""

import math
from typing import NamedTuple

from ..drive.lock import Lock, lock_at
from .axle import Wheels

OUTER_FASTER = "outer_faster"
INNER_FASTER = "inner_faster"
LOCKED = "locked"

STATES = {
    LOCKED: "locked: both wheels turn at one speed",
    OUTER_FASTER: "the outer wheel turns faster, as the corner has it",
    INNER_FASTER: "the inner wheel turns faster than the outer one",
}

Locks = NamedTuple(
    "Locks",
    [
        # The lock on drive and on engine braking.
        ("drive", Lock),
        ("coast", Lock),
    ],
)

OPEN = Locks(Lock(0.0, 0.0, False), Lock(0.0, 0.0, False))
SOLID = Locks(Lock(1e9, 1e9, True), Lock(1e9, 1e9, True))


def held_at(locks: Locks, torque: float) -> float:
    """Difference that the plates can hold at a torque, N·m, by the flank that it presses."""
    return lock_at(locks.drive, torque) if torque >= 0.0 else lock_at(locks.coast, -torque)


def solid_difference(wheels: Wheels, turning: float, torque: float) -> float:
    """Inner less outer torque of a solid axle, N·m.

    Parameters
    ----------
    wheels : Wheels
        Of the axle.
    turning : float
        Half of the track over the radius of the corner: the inner wheel's ground is slower by that share, the outer's
        faster.
    torque : float
        Torque at the axle, N·m. More than both wheels together can put down makes both slide.

    Notes
    -----
    With one speed for both, (1 - q)(1 + kappa_in) = (1 + q)(1 + kappa_out) and T_in + T_out = T give both torques as
    long as neither slides. A wheel that would slide carries what it can, and the other one the rest: both torques only
    rise with the common speed, so that the nearest that both can carry is the solution.
    """
    slow, fast = (1.0 - turning) * wheels.stiff_out, (1.0 + turning) * wheels.stiff_in
    if slow + fast <= 0.0:
        return 0.0
    if abs(torque) > wheels.left_in + wheels.left_out:
        # More goes to the wheel that has more grip: the outer one.
        return -math.copysign(wheels.left_out - wheels.left_in, torque)
    inner = (torque + (4.0 * turning * wheels.stiff_in * wheels.stiff_out - torque * (slow - fast)) / (slow + fast)) / 2
    inner = max(-wheels.left_in, torque - wheels.left_out, min(wheels.left_in, torque + wheels.left_out, inner))
    return 2.0 * inner - torque


def clipped(demand: float, held: float) -> float:
    """What the plates make of the difference that a solid axle would have, N·m."""
    return max(-held, min(held, demand))


def state_of(demand: float, held: float) -> str:
    """Which wheel turns faster, or that both turn at one speed."""
    if demand > held:
        return OUTER_FASTER
    return INNER_FASTER if demand < -held else LOCKED


def turns_at(wheels: Wheels, turning: float) -> float:
    """Torque from which the difference helps the car round instead of pushing its nose out, N·m.

    At most twice what the inner wheel can put down: there it slides, and the outer one carries more. The same for every
    lock.
    """
    most = 2.0 * min(wheels.left_in, wheels.left_out)
    slow, fast = (1.0 - turning) * wheels.stiff_out, (1.0 + turning) * wheels.stiff_in
    if slow <= fast:
        return most if turning > 0.0 else 0.0
    return min(most, 4.0 * turning * wheels.stiff_in * wheels.stiff_out / (slow - fast))
