"""The friction of the plates from a torque, at a crush that is known.

References
----------
1. DIN EN 16984:2017: a disc's load at its deflection.
"""

from typing import Any

from ..request.errors import BadInput
from ..request.rounded import fixed
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.as_built import needs_preload
from ..unit.friction import friction_warning
from ..unit.known import TORQUE
from ..unit.marks import doubt_of, mark_of
from ..unit.spring import column_load, flat_at
from ..unit.spring_warnings import concern
from ..unit.usual_limits import CAVITY_WITHIN_MM
from .facts import Facts
from .form import given, reading
from .spread import Figure, Untold, even, figure_of, normal
from .usual import refuse_unusual

# What a definition takes for the friction of plates in oil.
LEAST_MU, MOST_MU = 0.02, 0.5


def refuse_circle(facts: Facts) -> None:
    """Refuse a depth that was itself worked out from a torque with a friction taken as known."""
    mark = mark_of(facts.definition, "cavity_mm")
    if mark is not None and mark["from"] == "depth_from_torque":
        raise BadInput(
            facts.path + ".cavity_mm",
            "This depth was worked out from a torque with a friction taken as known, and would only give that friction "
            "back: measure the depth, or the gap under the loose cover, first.",
        )


def friction_from_torque(request: dict[str, Any], written_in: WrittenIn) -> tuple[Figure, str, list[dict[str, Any]]]:
    """The friction, what it rests on in words, and what to know about it."""
    facts = Facts(request, TORQUE, "The friction")
    refuse_circle(facts)
    typed = given(request, "torque", "the torque that was measured")
    torque, nests, mm = typed["torque_nm"], facts.springs.nests, written_in.mm
    crush = facts.free({}) - facts.cavity
    needs_preload(facts.built, crush, facts.path + ".cavity_mm")
    refuse_unusual(crush / nests, facts, facts.path + ".cavity_mm", mm)

    def friction(off: dict[str, float]) -> float:
        springs = facts.column(off)
        squeeze = facts.free(off) - facts.cavity - off.get("depth", 0.0)
        if not 0.0 < squeeze < nests * flat_at(springs.disc):
            raise Untold
        force = facts.strength(off) * column_load(springs, squeeze)
        return float((torque + off.get("torque", 0.0)) / facts.torque_per_newton(1.0) / force)

    u = doubt_of(facts.definition, "cavity_mm")
    depth = "depth from cover face to floor"
    offs = [
        normal("torque", "the torque as it was measured", reading(typed, "torque")),
        facts.load_off(),
        facts.plates_off(),
        facts.height_off(),
        normal("depth", depth + ", itself worked out", u) if u > 0.0 else even("depth", depth, CAVITY_WITHIN_MM),
    ]
    try:
        figure = figure_of(friction, offs)
    except Untold:
        raise BadInput(
            facts.path + ".cavity_mm",
            f"The crush, {say(crush, 'mm', mm)}, is no larger than what depth, plates and spring may be off by: "
            "measure them more closely before the friction is worked out.",
        ) from None
    if not LEAST_MU <= figure.value <= MOST_MU:
        raise BadInput(
            "torque.torque_nm",
            f"That would be a friction of {fixed(figure.value, 3)}, which no plates in oil have: check the torque, how "
            "the unit was held, the depth, the thicknesses and the spring.",
        )
    warning = friction_warning(figure.value)
    concerns = [] if warning is None else [concern("friction", warning)]
    return figure, f"{say(torque, 'nm', written_in.nm)} at a crush of {say(crush, 'mm', mm)}", concerns
