"""Spring and builds that disagree: a finding of the unit, since a wrong spring or depth is a wrong vice force too.

A plan by the spring says so at each choice. Here the curve, brought to the last measured torque, is held against the
line through the unit's own builds at both ends of what was built.
"""

from typing import Any

from ..experience.torque_line import TorqueLine
from ..plan.outcome import Doubts, Outcome
from ..plan.places import micrometres
from ..request.errors import BadInput
from ..request.units import say
from ..request.written_in import WrittenIn
from ..unit.as_built import Built, built_of, crush_of, longest_crush, preload
from ..unit.known import PRELOAD, missing
from ..unit.marks import height_within
from ..unit.usual_limits import UNMEASURED_WITHIN_MM
from .builds import builds_in, figures_of


def builds_disagree(
    built: dict[str, Any] | None, live: list[dict[str, Any]], written_in: WrittenIn
) -> list[dict[str, Any]]:
    """Whether the builds in the log and the spring's curve differ beyond their doubt, as a finding.

    Parameters
    ----------
    built : dict or None
        The unit as it is built now, from `built_now`.
    live : list of dict
        The unit's entries that stand, by time, its checks as they are seen in hindsight.
    written_in : WrittenIn
        Units to write in.

    Returns
    -------
    list of dict
        At most one row: name, title, text; verdict None, since the torque itself was measured.
    """
    if built is None or built["measured"] is None or missing(built["unit"], PRELOAD):
        return []
    try:
        line = TorqueLine({"own": figures_of(builds_in(live, written_in)), "others": []}, written_in)
        unit = built_of(built["unit"], ring=False)
    except BadInput:
        # Too few builds for a line, or a definition that contradicts itself, which is said elsewhere.
        return []
    for thickness in (line.low, line.high):
        torque_nm = at_odds(built, unit, line, thickness)
        if torque_nm is not None:
            return [finding(line, thickness, torque_nm, written_in)]
    return []


def at_odds(built: dict[str, Any], unit: Built, line: TorqueLine, thickness: float) -> float | None:
    """What the spring's curve says of a stack of this thickness, N·m, where the builds' line says otherwise.

    None where both agree within their doubt, and where the curve says nothing: a stack that is loose or flat.
    """
    measured = built["measured"]
    now, then = crush_of(unit, unit.solids), crush_of(unit, thickness)
    if min(now, then) <= 0 or max(now, then) >= longest_crush(unit):
        return None
    each = measured["torque_nm"] / preload(unit, now)
    gauged = height_within(built["unit"], built["spring_within_mm"])
    outcome = Outcome(unit, each, micrometres(unit.solids), measured, gauged)
    # The depth stays; how thick stack and build were is known about as well as that of two plates.
    doubts = Doubts(UNMEASURED_WITHIN_MM**2 / 3, 0.0, UNMEASURED_WITHIN_MM**2 / 3, 0.0, UNMEASURED_WITHIN_MM)
    low, high = outcome.interval(micrometres(thickness), doubts)
    torque_nm, half = each * preload(unit, then), line.half(thickness)
    apart = torque_nm - line.torque(thickness)
    return torque_nm if apart**2 > half**2 + ((high - low) / 2) ** 2 else None


def finding(line: TorqueLine, thickness: float, torque_nm: float, written_in: WrittenIn) -> dict[str, Any]:
    """The same as a finding."""
    seen, half = line.torque(thickness), line.half(thickness)
    text = (
        f"{line.text}, {say(thickness, 'mm', written_in.mm)} of plates and rings gave "
        f"{say(seen, 'nm', written_in.nm)}, give or take {say(half, 'nm', written_in.nm)}; the spring's curve says "
        f"{say(torque_nm, 'nm', written_in.nm)}. Measure the spring's free height and the depth before you trust a "
        "plan or the force at the vice."
    )
    return {"name": "builds_disagree", "title": "Spring and builds disagree", "text": text, "verdict": None}
