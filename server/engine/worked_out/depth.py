"""The depth from the cover's face to the floor, where no gauge gets there: from a gap, a torque, or two builds.

The stack is one chain: depth = plates and rings + free height of the springs - crush. So whoever knows the crush knows
the depth.

References
----------
1. DIN EN 16984:2017: a disc's load over its deflection, turned round.
"""

import math
from typing import Any

from ..doubt.budget import TWO_SIDED_95
from ..request.errors import BadInput
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.marks import mark_of
from ..unit.pressing import PLATES_FRICTION_WITHIN
from ..unit.spring import Column, column_load, flat_at, load, rising_until
from .crossings import crossings
from .facts import Facts
from .form import given, reading
from .spread import Figure, Off, Untold, even, figure_of, normal
from .usual import GAP_INSTEAD, refuse_unusual

# Halvings of a crush between none and flat: as exact as its figures are.
HALVINGS = 60


def depth_from_gap(request: dict[str, Any], written_in: WrittenIn) -> tuple[Figure, str]:
    """The depth, and what it rests on in words: the gap under the loose cover is the crush itself."""
    facts = Facts(request, ("chain", "spring"), "The depth")
    typed = given(request, "gap", "the gap under the cover while it lies loose on the stack")
    gap = typed["gap_mm"]
    flat = facts.springs.nests * flat_at(facts.springs.disc)
    if gap >= flat:
        raise BadInput(
            "gap.gap_mm",
            f"The spring is flat at {say(flat, 'mm', written_in.mm)}, and over this gap the cover could not close: "
            "check the gap, and the spring's height and thickness.",
        )
    if typed["within_mm"] >= gap:
        raise BadInput("gap.within_mm", f"This must be smaller than the gap itself, {say(gap, 'mm', written_in.mm)}.")
    offs = [even("gap", "the gap as it was measured", typed["within_mm"]), facts.plates_off(), facts.height_off()]
    figure = figure_of(lambda off: facts.free(off) - gap - off.get("gap", 0.0), offs)
    return figure, f"a gap of {say(gap, 'mm', written_in.mm)}"


def friction_off(request: dict[str, Any], facts: Facts) -> tuple[float, Off]:
    """The friction that is taken as known, and how far off it may be.

    Raises
    ------
    BadInput
        A friction that was itself worked out with a depth: it would only give that depth back.
    """
    typed = request["friction"] or {"mu": None, "within": None}
    mu, within, own = typed["mu"], typed["within"], facts.definition["friction"]["mu"]
    taken: float = own if mu is None else mu
    if taken == own and mark_of(facts.definition, "mu") is not None:
        raise BadInput(
            "friction.mu",
            "This friction was worked out from a torque at the depth so far, and would only give that depth back: give "
            "a friction that is known otherwise.",
        )
    within = PLATES_FRICTION_WITHIN * taken if within is None else within
    if within >= taken:
        raise BadInput("friction.within", "This must be smaller than the friction itself.")
    return taken, even("friction", "friction of the plates", within)


def refuse_two(depths: list[float], crushes: list[float], mm: str) -> None:
    """Refuse a torque that two crushes give."""
    first, second = (say(depth, "mm", mm) for depth in depths)
    low, high = (say(crush, "mm", mm) for crush in crushes)
    raise BadInput(
        "torque.torque_nm",
        f"Two depths give this torque, {first} (crush {low}) and {second} (crush {high}), since the spring's load "
        f"peaks between them, and neither is taken. {GAP_INSTEAD}",
    )


def depth_from_torque(request: dict[str, Any], written_in: WrittenIn) -> tuple[Figure, str]:
    """The depth, and what it rests on in words: torque over friction is the preload, and the curve gives the crush."""
    facts = Facts(request, ("chain", "spring", "friction"), "The depth")
    typed = given(request, "torque", "the torque that was measured")
    torque, (mu, rubs) = typed["torque_nm"], friction_off(request, facts)
    u, nests, mm = reading(typed, "torque"), facts.springs.nests, written_in.mm

    def force(off: dict[str, float]) -> float:
        stated = facts.torque_per_newton(mu + off.get("friction", 0.0))
        return float((torque + off.get("torque", 0.0)) / stated / facts.springs.parallel / facts.strength(off))

    found = crossings(facts.springs.disc, force({}))
    if not found:
        most = facts.torque_per_newton(mu) * column_load(facts.springs, nests * rising_until(facts.springs.disc))
        raise BadInput(
            "torque.torque_nm",
            f"With this friction the spring gives {say(most, 'nm', written_in.nm)} at most: check the torque, how the "
            "unit was held, the friction and the spring.",
        )
    if len(found) > 1:
        refuse_two([facts.free({}) - nests * each for each in found], [nests * each for each in found], mm)
    refuse_unusual(found[0], facts, "torque.torque_nm", mm)

    def depth(off: dict[str, float]) -> float:
        met = crossings(facts.column(off).disc, force(off))
        if len(met) != 1:
            raise Untold
        return facts.free(off) - nests * met[0]

    offs = [normal("torque", "the torque as it was measured", u), rubs, facts.load_off()]
    try:
        # All of the force's doubt at once may reach where the curve is flat, though each cause alone does not.
        relative = math.sqrt(sum(part_of_force(force, off) ** 2 for off in offs))
        if len(crossings(facts.springs.disc, force({}) * (1.0 + TWO_SIDED_95 * relative))) != 1:
            raise Untold
        figure = figure_of(depth, offs + [facts.plates_off(), facts.height_off()])
    except Untold:
        raise BadInput(
            "torque.torque_nm",
            f"The crush would be {say(nests * found[0], 'mm', mm)}, but near there the spring's curve is flat: within "
            f"the doubt of torque, friction and spring nothing can be said of the depth. {GAP_INSTEAD}",
        ) from None
    return figure, f"{say(torque, 'nm', written_in.nm)} with a friction of {fixed(mu, 3)}"


def part_of_force(force: Any, off: Off) -> float:
    """What a cause brings to a force, as a share of it: one standard uncertainty."""
    ends = force({off.name: off.high}) - force({off.name: off.low})
    return float(abs(ends) / 2.0 / off.spread / force({}))


def crush_of_builds(column: Column, ratio: float, more: float) -> float:
    """Deflection of each disc in the first of two builds.

    Parameters
    ----------
    column : Column
        The springs.
    ratio : float
        Torque of the second build over that of the first.
    more : float
        By how much more each disc is squeezed in the second, mm; not 0.

    Notes
    -----
    Friction and strength of the spring drop out of the ratio. The logarithm of a disc's load is concave up to where it
    is flat, so what a given squeeze adds as a share falls steadily: there is one answer or none.

    Raises
    ------
    Untold
        No crush gives that ratio.
    """
    disc = column.disc
    if more < 0.0:
        return crush_of_builds(column, 1.0 / ratio, -more) - more
    low, high = 0.0, flat_at(disc) - more
    if high <= 0.0 or load(disc, flat_at(disc)) > ratio * load(disc, high):
        raise Untold
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if load(disc, middle + more) > ratio * load(disc, middle) else (low, middle)
    return 0.5 * (low + high)


def depth_from_builds(request: dict[str, Any], written_in: WrittenIn) -> tuple[Figure, str]:
    """The depth, and what it rests on in words: how much a known thickness adds says how far the spring is squeezed."""
    facts = Facts(request, ("chain", "spring"), "The depth")
    typed = given(request, "builds", "the torques of two builds")
    first, second, more, mm = typed["torque_nm"], typed["second_nm"], typed["thicker_mm"], written_in.mm
    nests, within = facts.springs.nests, typed["thicker_within_mm"]
    if typed["solids_mm"] is not None:
        facts.solids = typed["solids_mm"]
    if abs(more) <= 2.0 * within:
        raise BadInput(
            "builds.thicker_mm",
            f"The builds must differ by more than {say(2.0 * within, 'mm', mm)}, twice what this may be off by, to say "
            "anything.",
        )

    def each(off: dict[str, float]) -> float:
        ratio = (second + off.get("second", 0.0)) / (first + off.get("torque", 0.0))
        return crush_of_builds(facts.column(off), ratio, (more + off.get("added", 0.0)) / nests)

    try:
        least = each({})
    except Untold:
        raise BadInput(
            "builds.second_nm",
            "No crush of this spring fits these two torques: check them, how much thicker the second build was, and "
            "that both were measured alike.",
        ) from None
    for deflection in (least, least + more / nests):
        refuse_unusual(deflection, facts, "builds.second_nm", mm)
    offs = [
        normal("torque", "the first torque", reading(typed, "builds")),
        normal("second", "the second torque", reading(typed, "builds", ("second_nm", "second_expanded_nm"))),
        even("added", "how much thicker the second build was", within),
        facts.plates_off(),
        facts.height_off(),
    ]
    try:
        figure = figure_of(lambda off: facts.free(off) - nests * each(off), offs)
    except Untold:
        figure = None
    if figure is None or facts.free({}) - figure.high <= 0.0:
        raise BadInput(
            "builds.second_nm",
            f"The crush would be {say(nests * least, 'mm', mm)}, but within the doubt of both torques it could be "
            "anything: two builds that differ more, or surer readings, would tell.",
        )
    added = f"{say(abs(more), 'mm', mm)} {'more' if more > 0 else 'less'}"
    basis = f"{say(first, 'nm', written_in.nm)}, and {say(second, 'nm', written_in.nm)} with {added}"
    return figure, basis
