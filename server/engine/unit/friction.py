"""Friction of a plate pack: effective radius and torque.

References
----------
1. V. B. Bhandari, Design of Machine Elements, chapter 11: friction clutches.
"""

from ..request.rounded import fixed


def uniform_wear_radius(inner: float, outer: float) -> float:
    """Effective radius of run-in plates, on which wear has become even, mm.

    Parameters
    ----------
    inner, outer : float
        Radii of the rubbing ring, mm, inner < outer.

    Examples
    --------
    Bhandari's example 11.1: 15 707.96 N, friction 0.2, radii 50 and 100 mm give 235 619.4 N·mm [1]_.

    >>> round(0.2 * 15707.96 * uniform_wear_radius(50, 100), 1)
    235619.4
    """
    return 0.5 * (inner + outer)


def uniform_pressure_radius(inner: float, outer: float) -> float:
    """Effective radius of new plates, on which the pressure is even, mm.

    Parameters
    ----------
    inner, outer : float
        Radii of the rubbing ring, mm, inner < outer.

    Examples
    --------
    Bhandari's example 11.2: 23 561.94 N, the same plates, 366 519.1 N·mm [1]_.

    >>> round(0.2 * 23561.94 * uniform_pressure_radius(50, 100), 1)
    366519.1
    """
    return 2.0 / 3.0 * (outer**3 - inner**3) / (outer**2 - inner**2)


def pack_torque(faces: float, mu: float, radius: float, force: float) -> float:
    """Torque that a pack passes on, N·m.

    Parameters
    ----------
    faces : float
        Sliding faces, 0 or more; the mean of two packs may be a half.
    mu : float
        Coefficient of friction.
    radius : float
        Effective radius, mm.
    force : float
        Axial force, N.
    """
    return faces * mu * radius * force / 1000.0


# Plates in oil lie between these: common practice, no source. Outside them one of the figures used is likely wrong.
LEAST_MU = 0.04
MOST_MU = 0.25


def apparent_friction(torque: float, faces: int, radius: float, force: float) -> float:
    """Coefficient of friction that a measured torque comes to, at a known force: the inverse of `pack_torque`.

    Parameters
    ----------
    torque : float
        Torque of the pack, or of several packs with all their faces, N·m.
    faces : int
        Sliding faces, 1 or more.
    radius : float
        Effective radius, mm, above 0.
    force : float
        Axial force, N, above 0.

    Examples
    --------
    >>> round(apparent_friction(119.2823, 8, 56.25, 2650.72), 4)
    0.1
    """
    return torque * 1000.0 / (faces * radius * force)


def friction_warning(mu: float) -> str | None:
    """What to check where an apparent friction is not to be believed; None where it is."""
    if LEAST_MU <= mu <= MOST_MU:
        return None
    side = "low" if mu < LEAST_MU else "high"
    return (
        f"The torque at this crush means a friction of {fixed(mu, 3)}, which is too {side} for plates in oil "
        f"({LEAST_MU} to {MOST_MU}): check how the unit was held, the thicknesses, the cavity and the spring."
    )
