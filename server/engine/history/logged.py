"""What the log tells of a unit beside its checks: the oil that is in it, and what changed friction between two."""

from typing import Any

from ..records.outing import FORM as OUTING_FORM
from ..request.errors import BadInput
from ..request.fields import is_empty
from ..request.letters import trimmed
from ..request.rounded import fixed
from ..request.sorting import in_order
from .timeline import of_kind
from .used import day_of, place_of

HEAT = OUTING_FORM.fields["oil_c"]

# Above it common gear oils age fast and faces may glaze; the oil's maker knows better: common practice, no source.
HOT_C = 130.0


def oil_at(live: list[dict[str, Any]], check: dict[str, Any]) -> str:
    """Which oil was in the unit at a check; empty where nobody wrote it.

    What the check itself says counts; else what was filled in last before it, by a service or a rebuild. One that does
    not name its oil leaves it unknown.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand.
    check : dict
        One of them.
    """
    noted = trimmed(str((check["body"].get("circumstances") or {}).get("oil") or ""))
    if noted:
        return noted
    filled = [entry for entry in live if is_filling(entry) and place_of(entry) < place_of(check)]
    return trimmed(str(max(filled, key=place_of)["body"].get("oil") or "")) if filled else ""


def is_filling(entry: dict[str, Any]) -> bool:
    """Whether it filled oil in: each rebuild does, and a service that changed it."""
    return bool(entry["kind"] == "rebuild" or (entry["kind"] == "service" and entry["body"].get("oil_changed")))


def between(live: list[dict[str, Any]], before: dict[str, Any], now: dict[str, Any]) -> list[dict[str, Any]]:
    """What was logged between two checks that changes friction.

    Parameters
    ----------
    live : list of dict
        The unit's entries that stand.
    before, now : dict
        Two torque checks among them.

    Returns
    -------
    list of dict
        name, `oil` or `heat`; text. The hottest outing alone is told, where its oil was hotter than `HOT_C`.
    """
    first, last = sorted((place_of(before), place_of(now)))
    rows = in_order((entry for entry in live if first < place_of(entry) < last), place_of)
    found = []
    for entry in rows:
        if is_filling(entry):
            oil = trimmed(str(entry["body"].get("oil") or ""))
            when = f"was put in on {day_of(entry)}, with the {entry['kind']}"
            found.append({"name": "oil", "text": f"{oil} {when}." if oil else f"Oil {when}; nobody wrote which."})
    hot = [(heat_of(outing), outing) for outing in of_kind(rows, "outing")]
    over = [(heat, outing) for heat, outing in hot if heat is not None and heat > HOT_C]
    if over:
        heat, outing = max(over, key=lambda row: row[0])
        found.append(
            {
                "name": "heat",
                "text": f"Its oil reached {fixed(heat, 0)} °C on {day_of(outing)}: heat ages oil and glazes faces "
                "(common practice, no source). Look at both.",
            }
        )
    return found


def heat_of(outing: dict[str, Any]) -> float | None:
    """How hot the oil became at an outing, degrees Celsius; None where it is not known."""
    typed = outing["body"].get("oil_c")
    if is_empty(typed):
        return None
    try:
        return float(HEAT.read(typed, "oil_c"))  # type: ignore[arg-type]
    except BadInput:
        # An entry that an older form accepted.
        return None
