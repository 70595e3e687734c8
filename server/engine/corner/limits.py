"""How much torque an axle puts down: until the inner wheel slides, until the axle leaves its line, open and solid."""

from ..drive.lock import Lock, lock_at
from .axle import Wheels, side_left


def put_down(lock: Lock, weak: float, strong: float) -> float:
    """Largest torque into the case that both wheels put down, N·m.

    Parameters
    ----------
    lock : Lock
        The unit's lock.
    weak, strong : float
        Torque that each wheel can put down, N·m, weak <= strong.

    Returns
    -------
    float
        From 2 · weak, an open axle, to weak + strong, a solid one.

    Notes
    -----
    The weak wheel is at its limit and the other carries as much more as the packs hold: T = 2 weak + lock(T). In line,
    lock(T) = max(preload, S T), each of which gives its own T, and the larger counts; added, T = (2 weak + preload) /
    (1 - S). The strong wheel's own limit ends it.

    Examples
    --------
    >>> put_down(Lock(0.0, 0.5, False), 100.0, 900.0), put_down(Lock(0.0, 0.0, False), 100.0, 900.0)
    (400.0, 200.0)
    """
    solid = weak + strong
    if lock.ramp >= 1.0:
        # Locked by the ramps whatever the torque, also where one wheel has no grip at all.
        return solid
    if lock.adds:
        return min(solid, (2.0 * weak + lock.preload) / (1.0 - lock.ramp))
    return min(solid, max(2.0 * weak + lock.preload, 2.0 * weak / (1.0 - lock.ramp)))


def most_of(lock: Lock, wheels: Wheels) -> float:
    """Torque at which the inner wheel begins to slide, N·m; both do where the lock is strong."""
    weak, strong = min(wheels.left_in, wheels.left_out), max(wheels.left_in, wheels.left_out)
    return put_down(lock, weak, strong)


def even_lock(wheels: Wheels) -> float:
    """Locking value from which both wheels let go together, whatever the throttle.

    Ramps share the torque out as the grip is shared: then neither wheel has any left when the other one slides.
    """
    both = wheels.force_in + wheels.force_out
    return (wheels.force_out - wheels.force_in) / both if both > 0.0 else 0.0


def kept_at(lock: Lock, wheels: Wheels, torque: float) -> float:
    """Side force to spare at a torque once the outer wheel has taken over what the inner one has no grip left for, N.

    The plates shift torque to the outer wheel, no further than to where both use the same share of their grip.
    """
    shifted = min(lock_at(lock, torque), even_lock(wheels) * torque)
    return side_left(wheels, (torque - shifted) / 2.0, (torque + shifted) / 2.0)


# A wheel has no grip left within this share of it.
AT_LIMIT = 1e-6


def at_limit(torque: float, left: float) -> bool:
    """Whether a wheel that carries a torque, N·m, has no grip left of what is left for it, N·m."""
    return abs(torque) >= left * (1.0 - AT_LIMIT)


def lets_go_together(wheels: Wheels, most: float) -> bool:
    """Whether the outer wheel has no grip left either at the torque, N·m, at which the inner one begins to slide."""
    return at_limit(most - wheels.left_in, wheels.left_out)


def gone_at(lock: Lock, wheels: Wheels) -> float | None:
    """Torque at which the axle leaves its line, N·m: the side force of both wheels no longer holds it.

    None where it never does: a wheel that spins with all its grip along has no more to carry, and so the outer one gets
    no more either, however much the engine gives. With the side force that it has then the axle keeps its line.
    """
    low = most_of(lock, wheels)
    if lets_go_together(wheels, low):
        return low
    if spun_spare(lock, wheels) > 0.0:
        return None
    # No torque beyond a solid axle's most leaves both together the side force that the corner asks for.
    high = max(low, min(put_down(lock, wheels.full_in, wheels.full_out), wheels.left_in + wheels.left_out))
    for _ in range(ROUNDS):
        middle = (low + high) / 2.0
        if kept_at(lock, wheels, middle) >= 0.0:
            low = middle
        else:
            high = middle
    return low


# Halvings of an interval: the last is far below what anybody could measure.
ROUNDS = 50


def spun_spare(lock: Lock, wheels: Wheels) -> float:
    """Side force to spare with the inner wheel spinning, N: all its grip goes along, and the outer carries the rest."""
    inner = wheels.full_in
    torque = put_down(lock, inner, wheels.full_out)
    return side_left(wheels, max(inner, 0.0), torque - inner)
