"""What presses and locks a differential, from first principles: virtual work, vectors and sums over small rings.

Nothing of the engine is used here. Lengths in mm, forces in N, torques in N·m, angles in degrees.
"""

import math
from typing import Any

import numpy

# For sums over the width of a disc, by Gauss.
POINTS, WEIGHTS = numpy.polynomial.legendre.leggauss(40)


def ramp_and_ears(torque: float, angle: float, mu: float, pin: float, ear_mu: float, ear: float) -> float:
    """Axial force that one ring passes on while a torque goes into the case.

    The pin slides along the ramp by ds, the ring moves out by dz. The pin's work is what the ring gives to the pack,
    what the ramp's friction takes and what the ears' friction takes.
    """
    across = 1000.0 * torque / 2.0 / pin
    along, out = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    # The ramp's normal force from the ring's balance in the plane of rotation.
    normal = across / (out + mu * along)
    at_ears = 1000.0 * torque / 2.0 / ear
    if out * across == 0.0:
        return 0.0
    by_ramp = (across * along - mu * normal) / out
    return max(0.0, by_ramp) - ear_mu * at_ears


def gear_thrust(torque: float, pressure: float, cone: float, radius: float) -> float:
    """Axial force of one side gear of straight bevel teeth.

    A tooth that is moved along the shaft by dz and round it by dx keeps touching its pinion if it moves at right angles
    to the flank's normal. Without friction the work of both forces is nothing.
    """
    tilt, flank = math.radians(cone), math.radians(pressure)
    # Round the shaft, along it, away from it. The cone's surface is (0, cos, sin), square to it (0, sin, -cos).
    square = numpy.array([0.0, math.sin(tilt), -math.cos(tilt)])
    normal = math.cos(flank) * numpy.array([1.0, 0.0, 0.0]) + math.sin(flank) * square
    dz = 1.0
    dx = -normal[1] * dz / normal[0]
    around = 1000.0 * torque / 2.0 / radius
    return float(-around * dx / dz)


def ring_torque(mu: float, inner: float, outer: float, run_in: bool, rings: int = 2000) -> float:
    """Torque of one sliding face for each newton on it, N·m: the sum over thin rings of friction times radius.

    Run-in plates have worn until pressure times speed is even, new ones press evenly.
    """
    edges = numpy.linspace(inner, outer, rings + 1)
    middle, width = (edges[1:] + edges[:-1]) / 2.0, numpy.diff(edges)
    weight = width if run_in else width * middle
    return float(mu * (weight * middle).sum() / weight.sum() / 1000.0)


def disc_load(spring: dict[str, Any], s: float) -> float:
    """Load of one disc of steel without flats: the slope of its strain energy over the travel.

    Almen and Laszlo, Trans. ASME 58 (1936): the section turns without changing its shape about a point at which nothing
    is stretched, and every ring of it is stretched round about.
    """
    outer, inner, thick = spring["de_mm"] / 2.0, spring["di_mm"] / 2.0, spring["t_mm"]
    width = outer - inner
    neutral, cone = width / math.log(outer / inner), (spring["l0_mm"] - thick) / width
    x = neutral - (inner + width * (POINTS + 1.0) / 2.0)
    by_sinking = (WEIGHTS * width / 2.0 * x**2 / (neutral - x)).sum()
    # In full the sum of weights / (neutral - x), within 3 %: DIN EN 16984 takes one coefficient for both.
    by_turning = 12.0 * by_sinking / width**2

    def energy(travel: float) -> float:
        turned = travel / width
        sunk = turned * (cone - turned / 2.0)
        return float(
            math.pi * 206000.0 / (1 - 0.3**2) * (thick * sunk**2 * by_sinking + thick**3 / 12 * turned**2 * by_turning)
        )

    # Of a polynomial of the fourth degree this slope is exact.
    step = 0.05 * (spring["l0_mm"] - thick)
    near, far = energy(s + step) - energy(s - step), energy(s + 2 * step) - energy(s - 2 * step)
    return float((8.0 * near - far) / (12.0 * step))


def crush_of(unit: dict[str, Any], kelvin: float = 0.0, case: float = 0.0, stack: float = 0.0) -> float:
    """How far the closed cover squeezes, part by part, each grown by its own expansion."""
    spring = unit["spring"]
    free = spring["l0_mm"] + (spring.get("parallel", 1) - 1) * spring["t_mm"]
    lengths = [free * spring.get("series", 1) if part["part"] == "spring" else part["new_mm"] for part in unit["chain"]]
    grown = sum(length * (1.0 + 1e-6 * stack * kelvin) for length in lengths)
    return float(grown - unit["cavity_mm"] * (1.0 + 1e-6 * case * kelvin))


def sliding_faces(unit: dict[str, Any]) -> int:
    """Pairs of neighbours of which one turns with an output and the other with the case, cover and floor included."""
    turns = [False, *(part["part"] == "friction" for part in unit["chain"] if part["part"] != "spring"), False]
    return sum(turn != neighbour for turn, neighbour in zip(turns, turns[1:], strict=False))


def put_down(preload: float, slope: float, adds: bool, weak: float, strong: float) -> float:
    """Largest torque into the case for which both outputs can be fed, found by halving."""

    def can(torque: float) -> bool:
        held = preload + slope * torque if adds else max(preload, slope * torque)
        # The weak wheel takes what it can; the other needs the rest, and the packs have to hold the difference.
        rest = torque - min(weak, torque / 2.0)
        return rest <= strong and rest - min(weak, torque / 2.0) <= held + 1e-12

    low, high = 0.0, weak + strong
    if can(high):
        return high
    for _ in range(80):
        middle = (low + high) / 2.0
        low, high = (middle, high) if can(middle) else (low, middle)
    return low
