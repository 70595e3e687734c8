"""Student's t distribution, for few readings: its tail and its quantiles, for whole degrees of freedom.

The phone has no statistics library, so the engine carries the one distribution that it needs.

References
----------
1. M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964): 26.7.3 and 26.7.4, the closed form for whole
   degrees of freedom; 26.7.5, the expansion for many.
"""

import math

# The two tails that verdicts use, worked out once.
KNOWN_NORMAL = {0.05: 1.6448536269514722, 0.025: 1.9599639845400545}
# What was worked out since, by tail and degrees of freedom: a check asks for the same few again and again.
KEPT: dict[tuple[float, int], float] = {}
# No degrees of freedom: the normal distribution.
NORMAL = 0
MOST_KEPT = 500

# From here on the expansion is good to 1e-9 for the tails used here, and faster than the closed form.
MANY = 120


def t_upper_tail(t: float, dof: int) -> float:
    """Probability that Student's t lies above `t`.

    Parameters
    ----------
    t : float
        At least 0.
    dof : int
        Degrees of freedom, 1 or more.

    Returns
    -------
    float
        Between 0 and 0.5.

    Examples
    --------
    >>> round(t_upper_tail(2.920, 2), 4)
    0.05
    """
    angle = math.atan(t / math.sqrt(dof))
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = dof % 2
    term = cosine if odd else 1.0
    total = term if dof > 1 else 0.0
    for k in range(3 if odd else 2, dof - 1, 2):
        term *= (k - 1) / k * cosine * cosine
        total += term
    inside = 2.0 / math.pi * (angle + sine * total) if odd else sine * total
    return 0.5 * (1.0 - inside)


def normal_quantile(tail: float) -> float:
    """Value that a standard normal exceeds with probability `tail`, 1e-9 to 0.5.

    >>> round(normal_quantile(0.05), 4)
    1.6449
    """
    # Newton's steps from the middle never pass the value, since the tail is convex; far out each gains little at first.
    z = 0.0
    for _ in range(40):
        density = math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
        z += (0.5 * math.erfc(z / math.sqrt(2.0)) - tail) / density
    return z


def expansion(z: float, dof: float) -> float:
    """Quantile of t from the normal one, for many degrees of freedom."""
    x = z * z
    return z * (
        1.0
        + (x + 1.0) / (4.0 * dof)
        + ((5.0 * x + 16.0) * x + 3.0) / (96.0 * dof**2)
        + (((3.0 * x + 19.0) * x + 17.0) * x - 15.0) / (384.0 * dof**3)
        + ((((79.0 * x + 776.0) * x + 1482.0) * x - 1920.0) * x - 945.0) / (92160.0 * dof**4)
    )


def t_quantile(tail: float, dof: float) -> float:
    """Value that Student's t exceeds with probability `tail`.

    Parameters
    ----------
    tail : float
        One-sided probability, 1e-6 to 0.5. Use 0.05 for a one-sided 95 % factor, 0.025 for a two-sided one.
    dof : float
        Degrees of freedom, 1 or more. Below `MANY` a fraction is cut off, which can only make the quantile larger;
        infinity gives the normal distribution.

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
    if dof >= MANY:
        return expansion(kept(tail, NORMAL), dof)
    return kept(tail, int(dof))


def kept(tail: float, whole: int) -> float:
    """The quantile for whole degrees of freedom below `MANY`, or the normal one: as kept, or worked out and kept."""
    if whole == NORMAL and tail in KNOWN_NORMAL:
        return KNOWN_NORMAL[tail]
    found = KEPT.get((tail, whole))
    if found is None:
        found = normal_quantile(tail) if whole == NORMAL else quantile_of_few(tail, whole)
        if len(KEPT) >= MOST_KEPT:
            KEPT.clear()
        KEPT[(tail, whole)] = found
    return found


def quantile_of_few(tail: float, whole: int) -> float:
    """See `t_quantile`, for fewer than `MANY` whole degrees of freedom, by Newton's steps."""
    if whole == 1:
        return 1.0 / math.tan(math.pi * tail)
    if whole == 2:
        return (1.0 - 2.0 * tail) / math.sqrt(2.0 * tail * (1.0 - tail))
    t = expansion(kept(tail, NORMAL), whole)
    constant = math.exp(math.lgamma(0.5 * (whole + 1)) - math.lgamma(0.5 * whole)) / math.sqrt(whole * math.pi)
    for _ in range(12):
        density = constant * (1.0 + t * t / whole) ** (-0.5 * (whole + 1))
        step = (t_upper_tail(t, whole) - tail) / density
        # Newton from the far side could throw t below 0 where the tail is long.
        t = max(0.5 * t, t + step)
        if abs(step) < 1e-12 * (1.0 + t):
            break
    return t
