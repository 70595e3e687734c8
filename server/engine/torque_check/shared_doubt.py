"""The doubt of a difference of two torque checks: what both share by one wrench, lever or holder cancels in it.

References
----------
1. JCGM 100:2008, 5.2.1, 5.2.2 and F.1.2: correlated inputs; the same instrument in both is correlated by 1.
"""

import math
from typing import Any, NamedTuple

from ..doubt.budget import INFINITE, Part
from ..doubt.coverage import half_width
from ..request.fields import Group, Listing, Number, Text, YesNo

PARTS = Listing(
    Group(
        {
            "name": Text(40, "short name of what may be off"),
            "u_nm": Number(0, 1e6, "nm", "its standard uncertainty"),
            "dof": Number(1, 1e6, "", "its degrees of freedom; infinite if empty", default=None),
            "even": YesNo("whether it may lie anywhere between two ends", default=False),
            "source": Text(2000, "what it comes from; two checks share what has the same source", default=""),
        },
        "one part of the doubt",
    ),
    0,
    20,
    "what the doubt is made of, as far as two checks may share it; its standard uncertainty alone if empty",
    default=None,
    nouns="parts",
)

# A part of the doubt of one or both checks: its standard uncertainty in each, signed alike.
Source = NamedTuple(
    "Source",
    [("name", str), ("before", float), ("now", float), ("dof", float), ("even", bool)],
)


def parts_given(side: dict[str, Any]) -> list[dict[str, Any]]:
    """The parts of one check; its whole doubt as one where it gives none."""
    given: list[dict[str, Any]] | None = side["parts"]
    whole = {"name": "whole", "u_nm": side["u_nm"], "dof": None, "even": False, "source": ""}
    return [whole] if given is None else given


def sources_of(before: dict[str, Any], now: dict[str, Any]) -> list[Source]:
    """Every part of the doubt of two checks, those of one source together."""
    sources, later = [], parts_given(now)
    taken = set()
    for part in parts_given(before):
        dof = INFINITE if part["dof"] is None else part["dof"]
        shared = [
            place
            for place, other in enumerate(later)
            if part["source"] and (other["name"], other["source"]) == (part["name"], part["source"])
        ]
        if shared:
            taken.add(shared[0])
        also = later[shared[0]]["u_nm"] if shared else 0.0
        sources.append(Source(part["name"], part["u_nm"], also, dof, part["even"]))
    for place, part in enumerate(later):
        if place not in taken:
            dof = INFINITE if part["dof"] is None else part["dof"]
            sources.append(Source(part["name"], 0.0, part["u_nm"], dof, part["even"]))
    return sources


def are_shared(before: dict[str, Any], now: dict[str, Any], name: str) -> bool:
    """Whether a part of this name comes from one source in both checks."""
    return any(source.name == name and source.before > 0.0 and source.now > 0.0 for source in sources_of(before, now))


def combined(sources: list[Source], slope_before: float, slope_now: float) -> tuple[float, float]:
    """Doubt of what goes with both torques.

    Parameters
    ----------
    sources : list of Source
        Parts of the doubt.
    slope_before, slope_now : float
        How fast it goes with the earlier and with the later torque.

    Returns
    -------
    tuple
        (standard uncertainty, half of the interval that holds 95 %).
    """
    parts: list[Part] = []
    evens: list[Part] = []
    for source in sources:
        u = abs(slope_before * source.before + slope_now * source.now)
        (evens if source.even else parts).append(Part(source.name, "", u, source.dof))
    return math.sqrt(sum(part.u**2 for part in parts + evens)), half_width(parts, evens)


def rounding_left(rounded_u: float, scatter: float) -> float:
    """What rounding leaves in a mean, from its standard uncertainty and from the scatter of single readings.

    Readings that all fall on one mark share what it rounds off. Those that scatter over several are rounded up about as
    often as down, and what that does shows in their scatter already.

    >>> rounding_left(0.5, 0.0), rounding_left(0.5, 0.3), rounding_left(0.5, 1.0)
    (0.5, 0.4, 0.0)
    """
    return math.sqrt(max(0.0, rounded_u**2 - scatter**2))
