"""The two wheels of a driven axle in a steady corner: their loads, and the grip that the side force leaves.

Signs: torque above 0 drives and below 0 is engine braking, both at the axle.

References
----------
1. W. F. and D. L. Milliken, Race Car Vehicle Dynamics: load transfer, friction ellipse, load sensitivity; from memory.
2. T. D. Gillespie, Fundamentals of Vehicle Dynamics: load shifted by driving force; from memory.
3. H. B. Pacejka, Tire and Vehicle Dynamics: slip stiffness; from memory.
"""

import math
from typing import NamedTuple

from ..request.units import GRAVITY

# Force along for each newton of load at a slip of 1: most tyres lie between these. Common practice, no source.
STIFFNESS_LOW, STIFFNESS, STIFFNESS_HIGH = 15.0, 20.0, 30.0

# Share of the grip in use where there is none at all.
NO_GRIP = 1e6

Axle = NamedTuple(
    "Axle",
    [
        # Whether it is the rear one.
        ("rear", bool),
        # Mass of the whole car, kg, and the share of it on this axle.
        ("mass", float),
        ("share", float),
        # Share of the load transfer across the car that this axle carries.
        ("transfer", float),
        # Height of the centre of gravity, track, wheelbase and tyre radius, m.
        ("height", float),
        ("track", float),
        ("base", float),
        ("radius", float),
        # Coefficient of friction sideways at the standing load, and grip along as a share of it.
        ("grip", float),
        ("along", float),
        # How far the coefficient falls where the load doubles, as a share of it.
        ("sensitivity", float),
        # Force along for each newton of load at a slip of 1.
        ("stiffness", float),
        # Whether driving force shifts load along the car, and whether the other axle's side force balances the yaw.
        ("pitch", bool),
        ("balance", bool),
    ],
)

Wheels = NamedTuple(
    "Wheels",
    [
        # Load of the inner and the outer wheel, N.
        ("load_in", float),
        ("load_out", float),
        # Force that each has in all directions together, N.
        ("force_in", float),
        ("force_out", float),
        # Side force asked of the axle, N, below 0 outwards, and its share of the grip; from 1 up the axle slides.
        ("side", float),
        ("use", float),
        # Torque that each could put down straight ahead, and what is left of it beside the side force, N·m.
        ("full_in", float),
        ("full_out", float),
        ("left_in", float),
        ("left_out", float),
        # Torque of each for a slip of 1 before it slides, N·m.
        ("stiff_in", float),
        ("stiff_out", float),
    ],
)


def grip_at(axle: Axle, load: float) -> float:
    """Coefficient of friction of a wheel under a load, N: less where there is more of it."""
    standing = axle.share * axle.mass * GRAVITY / 2.0
    return axle.grip * (1.0 - axle.sensitivity * (load / standing - 1.0))


def mean_grip(axle: Axle, load: float, force: float) -> float:
    """The coefficient that a wheel's force, N, comes to under its load, N; a wheel in the air has that of no load."""
    return force / load if load > 0.0 else grip_at(axle, 0.0)


def force_at(axle: Axle, load: float) -> float:
    """What a wheel can push under a load, N, in all directions together.

    The straight line of `grip_at` has a peak of force, which only load that is driven onto an axle could pass; grip
    does not fall with more load, so the force stays there.
    """
    if axle.sensitivity > 0.0:
        standing = axle.share * axle.mass * GRAVITY / 2.0
        load = min(load, standing * (1.0 + axle.sensitivity) / (2.0 * axle.sensitivity))
    return grip_at(axle, load) * load


def yaw_moment(axle: Axle, difference: float) -> float:
    """Moment that turns the car further into the corner, N·m, by inner less outer torque."""
    return -difference * axle.track / (2.0 * axle.radius)


def wheels_at(axle: Axle, lateral: float, torque: float = 0.0, difference: float = 0.0) -> Wheels:
    """Loads and grip of both wheels.

    Parameters
    ----------
    axle : Axle
        The axle.
    lateral : float
        Lateral acceleration, m/s2, 0 or more.
    torque : float
        Torque at the axle, N·m; counts only with `pitch`.
    difference : float
        Inner less outer torque, N·m; counts only with `balance`.

    Notes
    -----
    One slip angle for both wheels: each uses the same share of its grip for the side force, and the ellipse leaves
    r e mu F sqrt(1 - u^2) along [1]_.
    """
    weight = axle.share * axle.mass * GRAVITY
    if axle.pitch:
        shifted = torque / axle.radius * axle.height / axle.base
        weight = max(0.0, weight + (shifted if axle.rear else -shifted))
    across = axle.transfer * axle.mass * lateral * axle.height / axle.track
    load_in = max(0.0, weight / 2.0 - across)
    load_out = weight - load_in
    force_in, force_out = force_at(axle, load_in), force_at(axle, load_out)
    side = axle.share * axle.mass * lateral
    if axle.balance:
        moved = yaw_moment(axle, difference) / axle.base
        side += moved if axle.rear else -moved
    both = force_in + force_out
    use = abs(side) / both if both > 0.0 else 0.0 if side == 0.0 else NO_GRIP
    left = math.sqrt(1.0 - use * use) if use < 1.0 else 0.0
    arm = axle.radius * axle.along
    return Wheels(
        load_in,
        load_out,
        force_in,
        force_out,
        side,
        use,
        arm * force_in,
        arm * force_out,
        arm * force_in * left,
        arm * force_out * left,
        axle.radius * axle.stiffness * load_in,
        axle.radius * axle.stiffness * load_out,
    )


def side_left(wheels: Wheels, torque_in: float, torque_out: float) -> float:
    """Side force that both wheels have beside these torques, less what the corner asks for, N."""
    total = 0.0
    for force, full, torque in (
        (wheels.force_in, wheels.full_in, torque_in),
        (wheels.force_out, wheels.full_out, torque_out),
    ):
        if full > 0.0 and abs(torque) < full:
            total += force * math.sqrt(1.0 - (torque / full) ** 2)
        elif torque == 0.0:
            total += force
    return total - abs(wheels.side)


StandingWheel = NamedTuple(
    "StandingWheel",
    [
        # Load, N, what it can push in all directions together, N, and torque that it can put down, N·m.
        ("load", float),
        ("force", float),
        ("full", float),
        # Torque for a slip of 1 before it slides, N·m.
        ("stiff", float),
    ],
)


def standing_wheel(load: float, grip: float, radius: float) -> StandingWheel:
    """A wheel whose load, N, and grip are known themselves, of a rolling radius, m."""
    return StandingWheel(load, load * grip, load * grip * radius, radius * STIFFNESS * load)


def without_side_force(inner: StandingWheel, outer: StandingWheel) -> Wheels:
    """Both wheels of an axle that goes straight ahead, or slowly: all their grip is left for torque."""
    return Wheels(
        inner.load,
        outer.load,
        inner.force,
        outer.force,
        0.0,
        0.0,
        inner.full,
        outer.full,
        inner.full,
        outer.full,
        inner.stiff,
        outer.stiff,
    )
