"""The verdict on a unit as it stands: the worst of what was judged; no go before all of it says that it may run."""

from typing import Any

from ..doubt.verdict import GO, worst
from ..request.units import unit_labels
from ..torque_check.breakaway import explain
from ..unit.held import ONE_OUTPUT_HELD, packs_in_torque

LIMITS_CHANGED = (
    "The limits have changed since the torque was last read, or other limits were used: check it against today's."
)

CONTRADICTS = "No go while its definition contradicts itself."


def outdated(check: dict[str, Any], unit: dict[str, Any]) -> bool:
    """Whether a check's limits are neither those of the order nor those between rebuilds in a definition.

    `check` and `unit` are their entries. Limits for another reading are others, whatever their figures; those that are
    stated for another way of holding the unit are the same where they come to the same torque.
    """
    defined, body, shown = unit["shown"].get("checked"), check["body"], check["shown"]
    if defined is None:
        return False
    if (defined.get("judged_on") or "steady") != (body.get("judged_on") or "steady"):
        return True
    stated, was = [row.get("stated_for") or ONE_OUTPUT_HELD for row in (defined, body)]
    share = packs_in_torque(stated) / packs_in_torque(was)
    low, high = [(shown.get(name) or 0.0) * share for name in ("low_nm", "high_nm")]
    bands = limits_of(defined).values()
    return not any(alike(low, band["low_nm"]) and alike(high, band["high_nm"]) for band in bands if band is not None)


def limits_of(defined: dict[str, Any]) -> dict[str, dict[str, Any] | None]:
    """The limits that a torque check may be judged against, from a definition in SI.

    `order` and `service`, each with low_nm and high_nm, which are None where there is none, and `running`, those that
    end a run: between rebuilds, else those of the order. Each None where nothing is limited.
    """
    order, service = defined.get("order"), defined.get("service") or {}
    bands: dict[str, dict[str, Any] | None] = {"order": None, "service": None}
    if order is not None:
        low, high = order["torque_nm"] - order["tolerance_nm"], order["torque_nm"] + order["tolerance_nm"]
        bands["order"] = {"low_nm": low, "high_nm": high}
    # 0 limits nothing.
    low, high = service.get("low_nm") or 0.0, service.get("high_nm") or None
    if low or high is not None:
        bands["service"] = {"low_nm": low, "high_nm": high}
    bands["running"] = bands["service"] or bands["order"]
    return bands


def alike(first: float | None, second: float | None) -> bool:
    """Whether two limits are the same but for rounding; 0 limits nothing."""
    return abs((first or 0.0) - (second or 0.0)) < 1e-6


def said_in(torque: dict[str, Any], unit: str | None) -> str:
    """Why a torque check was judged as it was, with torque and limits in the reader's unit.

    Parameters
    ----------
    torque : dict
        The row of the check, whose sentence is in the unit that it was read in.
    unit : str or None
        A unit of torque; None for the sentence as it was said. So is any sentence that says more than those two.
    """
    reason: str = torque["reason"]
    low, high = torque["low_nm"], torque["high_nm"]
    if unit is None or torque["value_nm"] is None or (low is None and high is None):
        return reason

    def sentence_in(written: str) -> str:
        return explain(torque["verdict"], torque["value_nm"], low, high, [], written)

    return sentence_in(unit) if any(sentence_in(written) == reason for written in unit_labels("nm")) else reason


def verdict_now(
    judged: list[dict[str, Any]],
    torque: dict[str, Any] | None,
    limits_changed: bool,
    rebuilt: dict[str, Any] | None,
    stripped: dict[str, Any] | None,
    fault: dict[str, str] | None,
) -> tuple[str | None, str]:
    """Verdict on a unit, and the reason.

    Parameters
    ----------
    judged : list of dict
        verdict and reason of the last torque check, of every part's last measurement, and of the unit itself.
    torque : dict or None
        The row of the last torque check since the rebuild.
    limits_changed : bool
        Whether its limits are none of today's: see `outdated`.
    rebuilt : dict or None
        The entry of the last rebuild.
    stripped : dict or None
        The strip after which the unit is still in parts.
    fault : dict or None
        Where its definition contradicts itself: see `contradiction`.

    Returns
    -------
    tuple
        The worst verdict, but None instead of go while it is in parts, before its torque was read, where the limits are
        others now, or where its definition contradicts itself; None too where nothing was judged.
    """
    if not judged:
        return None, "Not checked since the rebuild." if rebuilt else "Not checked yet."
    verdict = worst([row["verdict"] for row in judged])
    if verdict != GO:
        return verdict, next(row["reason"] for row in judged if row["verdict"] == verdict)
    if stripped is not None:
        # Good parts on a bench are no unit that may run.
        return None, "It is in parts; every measured part is inside its limits."
    if torque is None:
        when = "since the rebuild." if rebuilt else "yet."
        return None, f"Every measured part is inside its limits, but the torque was not read {when}"
    if limits_changed:
        return None, LIMITS_CHANGED
    if fault is not None:
        return None, f"{CONTRADICTS} {fault['text']}"
    return verdict, torque["reason"]
