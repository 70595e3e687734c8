"""Friction of a plate pack: effective radius and torque.

References
----------
1. V. B. Bhandari, Design of Machine Elements, chapter 11: friction clutches.
"""


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


def pack_torque(faces: int, mu: float, radius: float, force: float) -> float:
    """Torque that a pack passes on, N·m.

    Parameters
    ----------
    faces : int
        Sliding faces, 0 or more.
    mu : float
        Coefficient of friction.
    radius : float
        Effective radius, mm.
    force : float
        Axial force, N.
    """
    return faces * mu * radius * force / 1000.0
