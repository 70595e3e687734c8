"""Student's t distribution, for few readings: its distribution function and its quantiles.

The phone has no statistics library, so the engine carries the one distribution that it needs.

References
----------
1. NIST Digital Library of Mathematical Functions, 8.17: the incomplete beta function and its continued fraction.
2. M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 26.2.23 and 26.7.5: starting values.
"""

import math

# From here on t and the normal distribution differ by less than lgamma can resolve.
NORMAL_FROM = 1e7


def beta_fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of the incomplete beta function [1]_, 8.17.22, for x below (a + 1) / (a + b + 2)."""
    tiny = 1e-300
    upper, lower = 1.0, 1.0 - (a + b) * x / (a + 1)
    lower = 1.0 / (lower if abs(lower) > tiny else tiny)
    value = lower
    for m in range(1, 400):
        for term in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            lower = 1.0 + term * lower
            lower = 1.0 / (lower if abs(lower) > tiny else tiny)
            upper = 1.0 + term / upper
            upper = upper if abs(upper) > tiny else tiny
            value *= upper * lower
        if abs(upper * lower - 1.0) < 1e-15:
            break
    return value


def incomplete_beta(a: float, b: float, x: float) -> float:
    """Regularized incomplete beta function I_x(a, b), for a, b > 0 and 0 <= x <= 1."""
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log(1.0 - x))
    if x < (a + 1) / (a + b + 2):
        return front * beta_fraction(a, b, x) / a
    return 1.0 - front * beta_fraction(b, a, 1.0 - x) / b


def t_upper_tail(t: float, dof: float) -> float:
    """Probability that Student's t lies above `t` >= 0.

    Parameters
    ----------
    t : float
        At least 0.
    dof : float
        Degrees of freedom, above 0; need not be whole. Infinity gives the normal distribution.

    Returns
    -------
    float
        Between 0 and 0.5.

    Examples
    --------
    >>> round(t_upper_tail(2.920, 2), 4)
    0.05
    """
    if dof >= NORMAL_FROM:
        return 0.5 * math.erfc(t / math.sqrt(2.0))
    return 0.5 * incomplete_beta(0.5 * dof, 0.5, dof / (dof + t * t))


def normal_quantile(tail: float) -> float:
    """Value that a standard normal exceeds with probability `tail`, 0 < tail <= 0.5."""
    # [2] 26.2.23 is good to 4.5e-4; each Newton step doubles the figures.
    root = math.sqrt(-2.0 * math.log(tail))
    z = root - (2.515517 + root * (0.802853 + root * 0.010328)) / (
        1.0 + root * (1.432788 + root * (0.189269 + root * 0.001308))
    )
    for _ in range(3):
        density = math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
        z += (0.5 * math.erfc(z / math.sqrt(2.0)) - tail) / density
    return z


def t_quantile(tail: float, dof: float) -> float:
    """Value that Student's t exceeds with probability `tail`.

    Parameters
    ----------
    tail : float
        One-sided probability, 1e-6 to 0.5. Use 0.05 for a one-sided 95 % factor, 0.025 for a two-sided one.
    dof : float
        Degrees of freedom, 1 or more; need not be whole.

    Returns
    -------
    float
        At least 0.

    Examples
    --------
    The GUM's worked case: 19 degrees of freedom, 95 % two-sided [1]_.

    >>> round(t_quantile(0.025, 19), 2)
    2.09

    References
    ----------
    1. JCGM 100:2008, G.4.1.
    """
    z = normal_quantile(tail)
    if dof >= NORMAL_FROM:
        return z
    if dof < 1.5:
        # The expansion below fails here; a bracket does not.
        t = 1.0 / math.tan(math.pi * tail)
    else:
        # [2] 26.7.5, first three terms.
        z2 = z * z
        t = z * (
            1.0
            + (z2 + 1.0) / (4.0 * dof)
            + ((5.0 * z2 + 16.0) * z2 + 3.0) / (96.0 * dof * dof)
            + (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / (384.0 * dof * dof * dof)
        )
    log_constant = math.lgamma(0.5 * (dof + 1)) - math.lgamma(0.5 * dof) - 0.5 * math.log(dof * math.pi)
    for _ in range(40):
        density = math.exp(log_constant - 0.5 * (dof + 1) * math.log(1.0 + t * t / dof))
        error = (t_upper_tail(t, dof) - tail) / density
        # Halley's correction; the slope of the density is known in closed form.
        curve = 0.5 * (dof + 1) * t / (dof + t * t)
        step = error / (1.0 - max(-0.5, min(0.5, error * curve)))
        t = max(0.5 * t, t + step)
        if abs(step) <= 1e-13 * max(1.0, t):
            break
    return t
